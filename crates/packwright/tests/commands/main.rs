//! Every command of the built program, on the built-in jobs and on input that is none.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod changes;
mod check;
mod example;
mod fit;
mod glands;
mod length;
mod nest;
mod no_terminal;
mod output;
mod pack;
mod papers_and_cutlist;
mod road;
mod self_description;
mod shop;
mod step;
mod survey;
mod tape_sheet;
mod truck;
mod way_in;
