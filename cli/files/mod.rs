//! The tables and records that `play` writes: a contract, since other programs read them.

pub mod bands;
pub mod contrasts;
pub mod ledger;
pub mod missed;
pub mod outcomes;
pub mod run;
pub mod spread;
pub mod table;
pub mod timing;
pub mod tracks;
pub mod work;
