//! `packwright truck`: what the boxes do to the truck.

use clap::Args;

use crate::input::JobFile;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Say what the boxes do to the truck: axle loads, limits, ground clearance, how each box is lifted
///
/// Loads of each axle before, out, in, after and laden, against plate, tyres and rims; payload left; clearance and ramp
/// angles; hands or hoist for each box, and which way it goes in. What is not entered is named. Ends with 1 when the job has a stop.
#[derive(Debug, Args)]
pub(crate) struct TruckArgs {
    #[command(flatten)]
    job: JobFile,
    /// Print the figures as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &TruckArgs) -> Result<Verdict, Trouble> {
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let ways = job::way_in::ways_in(&job, &evaluation);
    let evaluation = evaluation.with_findings(ways.findings());
    if args.json {
        let mut data = papers::truck_json(&evaluation);
        data["ways_in"] = papers::ways_json(&ways);
        output::json(&data)?;
    } else {
        output::data(&papers::truck_text(&evaluation, &ways))?;
    }
    Ok(Verdict::of(&evaluation))
}
