//! The door: arguments in, files and words out; no science.
//!
//! [`args`] is what a person types, [`dispatch`] sends it to one file a command, [`engine`] is the
//! only place that calls the model, [`outdir`] and [`outfile`] are the only places that write, [`input`] the only
//! one that reads. Results go to files and stdout, progress and complaints to stderr.
#![deny(rustdoc::broken_intra_doc_links)]

pub mod again;
pub mod args;
pub mod carried;
pub mod climate;
pub mod credit;
pub mod diagnostic;
pub mod diary;
pub mod dispatch;
pub mod drawing;
pub mod engine;
pub mod facts;
pub mod failure;
pub mod files;
pub mod init;
pub mod input;
pub mod inputs;
pub mod interrupt;
pub mod lawns;
pub mod lesson;
pub mod measure_first;
pub mod merge;
pub mod outdir;
pub mod outfile;
pub mod parts;
pub mod pictures;
pub mod play;
pub mod progress;
pub mod report;
pub mod round;
pub mod scenario_source;
pub mod sheet;
pub mod station;
pub mod terminal;
pub mod thrift;
pub mod units;
pub mod vet;
pub mod when;
pub mod words;

pub use dispatch::main;
