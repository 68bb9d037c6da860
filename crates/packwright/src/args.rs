//! What can be typed after `packwright`.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

use crate::{
    changes_command, check, completions, cutlist, example, fit, glands, issue, length, match_units, nest, pack_command,
    papers_command, survey, tape_sheet, truck_command, way_in,
};

const AFTER_HELP: &str = "\
Try it with a built-in job:
  packwright example orchard-flatbed --open      look round in the screens
  packwright example orchard-flatbed --to truck.json
  packwright survey truck.json                   which readings look wrong, what to tape next
  packwright fit truck.json --write              lay the modules out
  packwright check truck.json                    volts, kWh, mass, clearances, what is wrong
  packwright pack truck.json                     volts under load, links, fuses, wiring order
  packwright match units.csv --parallel 2        which tested unit goes with which
  packwright cutlist truck.json --to cuts.html   what to cut, what to buy
  packwright nest truck.json                     what is cut from which sheet and bar
  packwright glands truck.json                   glands for the cables that leave boxes
  packwright way-in truck.json                   which way each box goes in, and in which order
  packwright truck truck.json                    axle loads, limits, clearance, lifting
  packwright issue truck.json                    note what the shop gets, raise the letter
  packwright changes truck.json                  what changed since it got that

A FILE of - is read from standard input.
Ends with 0 when all is fine, 1 when the job has a stop, 2 when it cannot be read or was asked wrongly.

High-voltage dc kills, modules burn, boxes are heavy. The figures are arithmetic on what was entered; local
vehicle codes and licensed practice decide. Try the boxes in cardboard before steel is cut.";

/// Packs salvaged battery modules into steel boxes under an old truck: tape readings in, cut list out.
///
/// Without a command it opens the screens, with the job in FILE or with the start page.
#[derive(Debug, Parser)]
#[command(version, after_help = AFTER_HELP, args_conflicts_with_subcommands = true)]
#[command(disable_help_subcommand = true)]
pub(crate) struct Args {
    /// The job to open in the screens
    pub(crate) file: Option<PathBuf>,
    /// Draw with plain characters only, for terminals without line drawing
    #[arg(long)]
    pub(crate) ascii: bool,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    Example(example::ExampleArgs),
    Survey(survey::SurveyArgs),
    Check(check::CheckArgs),
    Fit(fit::FitArgs),
    Pack(pack_command::PackArgs),
    Match(match_units::MatchArgs),
    Cutlist(cutlist::CutlistArgs),
    Nest(nest::NestArgs),
    Glands(glands::GlandsArgs),
    WayIn(way_in::WayInArgs),
    Truck(truck_command::TruckArgs),
    TapeSheet(tape_sheet::TapeSheetArgs),
    Papers(papers_command::PapersArgs),
    Issue(issue::IssueArgs),
    Changes(changes_command::ChangesArgs),
    Length(length::LengthArgs),
    /// Print the JSON Schema of the job file, for editors and other programs
    Schema,
    Completions(completions::CompletionsArgs),
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_arguments_do_not_contradict_each_other() {
        Args::command().debug_assert();
    }
}
