//! Bands and outcomes in, pictures out.
//!
//! A client looks for four seconds at a phone. Each picture carries one message, in its title,
//! which the caller writes. The crate knows nothing of lawns or of how its numbers were made.
//!
//! | picture | shows |
//! |---|---|
//! | [`overview()`] | stacked bands of each program under one time axis, and when the crew came |
//! | [`contrast()`] | the paired difference of two programs over time, with zero drawn |
//! | [`barrier()`] | how the barrier wears off, and the flush of crabgrass behind it |
//! | [`dots()`] | one outcome as countable dots, a row a program |
//! | [`scorecard()`] | outcomes beside cost and hours |
//! | [`months()`] | twelve months: bars, bands, single years as dots, spreads as whiskers |
//! | [`spans()`] | dates of the year: where they usually fall, and single years as dots |
//! | [`credit()`] | a difference shared out among practices, a bar each, zero drawn |
//! | [`knowing()`] | what it is worth to know each fact, beside how far it moves the lawn |
//! | [`sweep()`] | one outcome against one setting, the setting in use and those as good as the best |
//! | [`tradeoff()`] | cost against odds: programs that were tried, and those that no other beats |
//! | [`futures()`] | one quantity in single futures, beside the line that it must keep to |
//!
//! Each gives a [`Picture`]: SVG text, and PNG bytes of it on demand, in the same font. The same
//! input gives the same bytes.
//!
//! ```
//! use plots::{Better, Caption, DotRow, DotsPicture, Mark, ProgramStyle, dots, quantile_dots};
//!
//! let peaks: Vec<f64> = (0..1000).map(|i| f64::from(i) * 0.006).collect();
//! let values = quantile_dots(&peaks, 20);
//! let kept = values.iter().filter(|v| **v <= 5.0).count();
//! let picture = dots(&DotsPicture {
//!     caption: Caption {
//!         title: format!("Crabgrass stays under 5 % in {kept} of 20 futures"),
//!         alt: "Twenty dots, one a future, beside a line at 5 %.".to_owned(),
//!         ..Caption::default()
//!     },
//!     axis: "Crabgrass at its worst, % of the lawn".to_owned(),
//!     range: Some((0.0, 10.0)),
//!     line: Some(Mark { value: 5.0, label: "5 %".to_owned() }),
//!     better: Better::Lower,
//!     rows: vec![DotRow {
//!         style: ProgramStyle { name: "Barrier in two halves".to_owned(), short: None, place: 0 },
//!         values,
//!         count: format!("{kept} of 20"),
//!         remark: None,
//!     }],
//! })?;
//! assert!(picture.svg.starts_with("<svg"));
//! assert!(picture.png(2.0)?.starts_with(b"\x89PNG"));
//! # Ok::<(), plots::PlotError>(())
//! ```
//!
//! A member of the caller's ensemble is one simulated future. Futures are drawn as dots or as bands:
//! the median, the middle half of them (25 to 75 %) and nine in ten (5 to 95 %), day by day.

mod axis;
mod bands;
mod barrier;
mod canvas;
mod contrast;
mod credit;
mod dots;
mod error;
mod futures;
mod header;
mod input;
mod knowing;
mod labels;
mod months;
mod overview;
mod picture;
mod scorecard;
mod spans;
mod strips;
mod style;
mod sweep;
mod text;
mod tradeoff;

pub use barrier::{Application, BarrierPicture, BarrierProgram, barrier};
pub use contrast::{ContrastPanel, ContrastPicture, contrast};
pub use credit::{CreditBar, CreditPanel, CreditPicture, Tone, credit};
pub use dots::{Better, DotRow, DotsPicture, dots, quantile_dots};
pub use error::PlotError;
pub use futures::{FutureLine, FuturesPicture, futures};
pub use input::{BandSeries, Caption, Dates, Mark, ProgramStyle};
pub use knowing::{KnowingBar, KnowingPart, KnowingPicture, KnowingRow, knowing};
pub use months::{MonthPanel, MonthsPicture, Spread, months};
pub use overview::{Overview, Panel, Seen, overview};
pub use picture::Picture;
pub use scorecard::{ScoreCell, ScoreRow, Scorecard, scorecard};
pub use spans::{SpanRow, SpansPicture, spans};
pub use strips::PracticeTicks;
pub use sweep::{SweepPicture, SweepPoint, sweep};
pub use tradeoff::{NamedPrice, Priced, TradeoffPicture, tradeoff};
