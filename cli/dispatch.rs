//! From arguments to a command, and from its end to an exit code.

use std::process::ExitCode;

use clap::Parser;

use crate::args::{Cli, Command, PlayArgs};
use crate::failure::Failure;
use crate::{
    climate, credit, diary, facts, init, lawns, lesson, measure_first, merge, play, sheet,
    terminal, thrift, vet, when,
};

/// Runs the program on the process's arguments.
pub fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // A closed pipe behind `--help` is no fault of the person who typed it.
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    match run(cli) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            terminal::complain(&failure);
            ExitCode::from(failure.exit_code())
        }
    }
}

fn run(cli: Cli) -> Result<(), Failure> {
    match cli.command {
        None => play::run(&PlayArgs::example(cli.example)),
        Some(Command::Play(args)) => play::run(&args),
        Some(Command::Merge(args)) => merge::run(&args),
        Some(Command::Lawns(args)) => lawns::run(&args),
        Some(Command::Vet(args)) => vet::run(&args),
        Some(Command::Init(args)) => init::run(&args),
        Some(Command::Facts(args)) => facts::run(&args),
        Some(Command::Climate(args)) => climate::run(&args),
        Some(Command::Diary(args)) => diary::run(&args),
        Some(Command::Lesson(args)) => lesson::run(&args),
        Some(Command::When(args)) => when::run(&args),
        Some(Command::Credit(args)) => credit::run(&args),
        Some(Command::Sheet(args)) => sheet::run(&args),
        Some(Command::Thrift(args)) => thrift::run(&args),
        Some(Command::MeasureFirst(args)) => measure_first::run(&args),
    }
}
