//! Units: text to SI and back. A leaf that everyone may use.
//!
//! A quantity is written with its unit ("3.25 in", "0.65 lb ai/ac", "25 $/h") and read by
//! [`parse`] for a [`Kind`], which also fixes the unit of the number that comes out.
//! [`show`] is the way back. [`rates`] holds the arithmetic of amounts that crews do by hand.

mod expression;
mod kind;
mod number;
mod parse;
pub mod rates;
mod show;
mod unit;

pub use kind::Kind;
pub use parse::{QuantityFault, parse, parse_any};
pub use show::{Units, show, show_number, shown};
