//! Runs check values from outside the project against the crates.
//!
//! [`run`] takes files of checks, in the shape of those in `tests/cases`, and gives a [`Report`]: for each [`Case`] what
//! was expected, what the crates give, where the expected value comes from, and a [`Verdict`].
//!
//! A file is read by what it holds, never by its name: each of its sections is known by its own name, and a check
//! within by its kind. So a file with other numbers, more cases or fewer sections runs as well. What is not a case is passed over: words for people (`read_me`, `conventions`, `rules`,
//! `guidance`, the `reference` entries that nothing can be computed from) and single rules without a number. Tables of
//! the electrical file are cases: `cell_limits` one for each row, every other table one.
//!
//! What no crate can work out yet is [`Verdict::NotYet`]: told with what is missing, counted, never passed.

mod boxes;
mod case;
mod chance;
mod compare;
mod electrical;
mod fabrication;
mod inputs;
mod packing;
mod question;
mod read;
mod report;
mod survey;
mod vehicle;

pub use case::{Case, Placed, Verdict};
pub use packing::rules;
pub use read::Unreadable;
pub use report::Report;

use std::path::Path;

use geometry::fit::Budget;

/// How the checks are run.
#[derive(Clone, Copy, Debug, Default)]
pub struct Options {
    /// The work that each automatic layout may take.
    pub budget: Budget,
}

/// Runs every check of these files.
///
/// # Errors
///
/// [`Unreadable`] for the first file that cannot be read or holds no checks; nothing is run then.
pub fn run<P: AsRef<Path>>(paths: &[P], options: Options) -> Result<Report, Unreadable> {
    let mut files = Vec::with_capacity(paths.len());
    for path in paths {
        let name = path.as_ref().display().to_string();
        files.push((name, read::file(path.as_ref())?));
    }
    let mut questions = Vec::new();
    for (name, file) in &files {
        let found = read::questions(name, file, options)?;
        questions.extend(found);
    }
    Ok(Report {
        cases: question::answer_all(questions),
    })
}

/// Runs every check of one file that is already read; `name` is what the cases say they come from.
///
/// # Errors
///
/// [`Unreadable`] when it holds no checks.
pub fn run_value(name: &str, file: &serde_json::Value, options: Options) -> Result<Report, Unreadable> {
    Ok(Report {
        cases: question::answer_all(read::questions(name, file, options)?),
    })
}
