//! `packwright changes`: what differs between two jobs, or since the shop got its papers.

use std::path::{Path, PathBuf};

use clap::Args;
use job::changes::{changes, to_buy};
use job::shopping;
use job::{Evaluation, Job};

use crate::input::{self, is_standard_input};
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Tell what differs between two jobs, or since the shop got its papers
///
/// With NEW: parts, boxes, mass, welds, what to buy, modules, wiring and entries that differ. Without: what the shop would
/// cut otherwise than it was issued. Ends with 1 when the newer job has a stop, whether anything differs or not.
#[derive(Debug, Args)]
pub(crate) struct ChangesArgs {
    /// The older job, or the only one; - reads standard input
    #[arg(value_name = "OLD")]
    old: PathBuf,
    /// The newer job; the job in OLD against what was issued of it when left out
    #[arg(value_name = "NEW")]
    new: Option<PathBuf>,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &ChangesArgs) -> Result<Verdict, Trouble> {
    let Some(new) = &args.new else {
        return since(args);
    };
    if is_standard_input(&args.old) && is_standard_input(new) {
        return Err(Trouble::new(
            "standard input can be read once",
            "give the name of one of the two jobs",
        ));
    }
    let (old_job, old) = read(&args.old)?;
    let (new_job, evaluation) = read(new)?;
    let found = changes(&old_job, &old, &new_job, &evaluation);
    let buy = to_buy(
        &shopping::to_buy(&old_job, &old),
        &shopping::to_buy(&new_job, &evaluation),
    );
    if args.json {
        output::json(&papers::changes_json(&found, &buy))?;
    } else {
        let name = |path: &Path, e: &Evaluation| format!("{}, revision {} ({})", e.name, e.revision, path.display());
        let names = [name(&args.old, &old), name(new, &evaluation)];
        output::data(&papers::changes_text(
            names.each_ref().map(String::as_str),
            &found,
            &buy,
        ))?;
    }
    Ok(Verdict::of(&evaluation))
}

fn read(path: &Path) -> Result<(Job, Evaluation), Trouble> {
    let job = input::read(path)?;
    let evaluation = job::evaluate(&job);
    Ok((job, evaluation))
}

fn since(args: &ChangesArgs) -> Result<Verdict, Trouble> {
    let (_, evaluation) = read(&args.old)?;
    let Some(since) = &evaluation.issued else {
        return Err(Trouble::new(
            format!("{}: nothing was issued of this job", args.old.display()),
            "name two jobs, or note what the shop gets with: packwright issue",
        ));
    };
    if args.json {
        output::json(&papers::since_json(since))?;
    } else {
        output::data(&papers::since_text(&evaluation, since))?;
    }
    Ok(Verdict::of(&evaluation))
}
