//! `packwright check`: every figure of a job, and what is wrong with it.

use clap::Args;

use crate::input::JobFile;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Work out a job and say what is wrong with it
///
/// Cavities, modules, pack, boxes, clearances, and every stop, caution and note with what would fix it. Ends with 1
/// when there is a stop.
#[derive(Debug, Args)]
pub(crate) struct CheckArgs {
    #[command(flatten)]
    job: JobFile,
    /// Print all figures as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &CheckArgs) -> Result<Verdict, Trouble> {
    let evaluation = job::evaluate(&args.job.read()?);
    if args.json {
        output::json(&papers::evaluation_json(&evaluation))?;
    } else {
        output::data(&papers::check_text(&evaluation))?;
    }
    Ok(Verdict::of(&evaluation))
}
