//! The command line: parses arguments, calls the library, prints.
//!
//! Data goes to standard output, messages to standard error. The program ends with 0 when all is fine, 1 when the job
//! has a stop, 2 when it was used wrongly or cannot read its input.

mod args;
mod changes_command;
mod check;
mod command_name;
mod completions;
mod cutlist;
mod date;
mod example;
mod fit;
mod glands;
mod input;
mod issue;
mod length;
mod match_units;
mod nest;
mod number;
mod output;
mod pack_command;
mod papers_command;
mod schema;
mod screens;
mod state_dir;
mod store;
mod survey;
mod tape_sheet;
mod trouble;
mod truck_command;
mod usage;
mod way_in;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
use trouble::{Trouble, Verdict};

/// Every key press makes the whole evaluation anew, many small pieces: taking and freeing them was a third of its time with the
/// system's own.
#[global_allocator]
static HEAP: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let words: Vec<_> = std::env::args_os().skip(1).collect();
    let ended = match command_name::mistyped(&words) {
        Some(trouble) => Err(trouble),
        None => match Args::try_parse() {
            Ok(args) => run(args),
            Err(error) => usage::told(&error).map(|()| Verdict::Fine),
        },
    };
    match ended {
        Ok(verdict) => verdict.exit_code(),
        Err(trouble) => {
            output::message(&trouble.to_string());
            Trouble::exit_code()
        }
    }
}

fn run(args: Args) -> Result<Verdict, Trouble> {
    match args.command {
        None => screens::open_at_start(args.file, args.ascii),
        Some(Command::Example(args)) => example::run(&args),
        Some(Command::Survey(args)) => survey::run(&args),
        Some(Command::Check(args)) => check::run(&args),
        Some(Command::Fit(args)) => fit::run(&args),
        Some(Command::Pack(args)) => pack_command::run(&args),
        Some(Command::Match(args)) => match_units::run(&args),
        Some(Command::Cutlist(args)) => cutlist::run(&args),
        Some(Command::Nest(args)) => nest::run(&args),
        Some(Command::Glands(args)) => glands::run(&args),
        Some(Command::WayIn(args)) => way_in::run(&args),
        Some(Command::Truck(args)) => truck_command::run(&args),
        Some(Command::TapeSheet(args)) => tape_sheet::run(&args),
        Some(Command::Papers(args)) => papers_command::run(&args),
        Some(Command::Issue(args)) => issue::run(&args),
        Some(Command::Changes(args)) => changes_command::run(&args),
        Some(Command::Length(args)) => length::run(&args),
        Some(Command::Schema) => schema::run(),
        Some(Command::Completions(args)) => completions::run(&args),
    }
}
