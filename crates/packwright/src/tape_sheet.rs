//! `packwright tape-sheet`: a sheet to print and fill in under the truck.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::input::JobFile;
use crate::trouble::{Trouble, Verdict};
use crate::{date, output};

/// Print the sheet to fill in by pencil under the truck, or write it to a file
///
/// One page of HTML that a browser prints on A4 or Letter: for each cavity the lines to tape in walking order with room
/// for two readings, what was taped so far, keep-outs and remarks. The job needs no readings for it.
#[derive(Debug, Args)]
pub(crate) struct TapeSheetArgs {
    #[command(flatten)]
    job: JobFile,
    /// A blank sheet for a cavity of this name instead, which need not be in the job
    #[arg(long, value_name = "NAME")]
    blank: Option<String>,
    /// Write it to this file (.html)
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

pub(crate) fn run(args: &TapeSheetArgs) -> Result<Verdict, Trouble> {
    let job = args.job.read()?;
    let text = match &args.blank {
        Some(cavity) => papers::blank_tape_sheet_html(&job, cavity, &date::today()),
        None => papers::tape_sheet_html(&job, &date::today()),
    };
    match &args.to {
        None => output::data(&text)?,
        Some(path) => {
            html(path)?;
            output::not_over_the_job(path, args.job.path())?;
            output::file(path, &text)?;
            output::message(&format!("tape sheet written to {}", path.display()));
        }
    }
    Ok(Verdict::Fine)
}

/// The sheet is a page of HTML, and a name that says otherwise would mislead whatever opens it.
fn html(path: &Path) -> Result<(), Trouble> {
    let ending = path
        .extension()
        .map(|ending| ending.to_string_lossy().to_ascii_lowercase());
    match ending.as_deref() {
        None | Some("html" | "htm") => Ok(()),
        Some(other) => Err(Trouble::new(
            format!(
                "--to: the tape sheet is a page of HTML, and {} ends in .{other}",
                path.display()
            ),
            "let the name end in .html; a browser prints it, also to PDF",
        )),
    }
}
