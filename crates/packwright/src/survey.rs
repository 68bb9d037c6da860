//! `packwright survey`: what the readings of each cavity are good for.

use clap::Args;

use crate::input::JobFile;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Say what the tape readings are good for: which look wrong, what to tape next, what is left to use
///
/// For each cavity: every reading with what the adjusted shape gives in its place, readings that the others speak
/// against and what they probably should have been, the usable cuboid, and which line to tape next.
#[derive(Debug, Args)]
pub(crate) struct SurveyArgs {
    #[command(flatten)]
    job: JobFile,
    /// Only this cavity, by its name; may be given more than once
    #[arg(long, value_name = "NAME")]
    cavity: Vec<String>,
    /// Also how much of each reading the others check, and how far off it is over what is usual
    #[arg(long)]
    details: bool,
    /// Print all of it as JSON, the corners with their covariance too
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &SurveyArgs) -> Result<Verdict, Trouble> {
    let evaluation = job::evaluate(&args.job.read()?);
    for name in &args.cavity {
        if !evaluation.cavities.iter().any(|c| c.name == *name) {
            let names: Vec<&str> = evaluation.cavities.iter().map(|c| c.name.as_str()).collect();
            return Err(Trouble::new(
                format!("--cavity: the job has no cavity named {name:?}"),
                format!("choose one of: {}", names.join("; ")),
            ));
        }
    }
    if args.json {
        output::json(&papers::survey_json(&evaluation, &args.cavity))?;
    } else {
        let details = if args.details {
            papers::Details::Full
        } else {
            papers::Details::Plain
        };
        output::data(&papers::survey_text(&evaluation, &args.cavity, details))?;
    }
    Ok(Verdict::of(&evaluation))
}
