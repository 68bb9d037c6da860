//! `packwright check`: every figure of a job, and what is wrong with it.

use clap::Args;

use crate::input::JobFile;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Work out a job and say what is wrong with it
///
/// Cavities, modules, pack, boxes, clearances, whether each box goes in, and every stop, caution and note with what would fix
/// it. Ends with 1 when there is a stop.
#[derive(Debug, Args)]
pub(crate) struct CheckArgs {
    #[command(flatten)]
    job: JobFile,
    /// Print all figures as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &CheckArgs) -> Result<Verdict, Trouble> {
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let ways = job::way_in::ways_in(&job, &evaluation);
    let evaluation = evaluation.with_findings(ways.findings());
    if args.json {
        let mut data = papers::evaluation_json(&evaluation);
        data["ways_in"] = papers::ways_json(&ways);
        output::json(&data)?;
    } else {
        output::data(&papers::check_text(&evaluation))?;
        output::data(&format!("\nways in: {}\n", ways.summary()))?;
    }
    Ok(Verdict::of(&evaluation))
}
