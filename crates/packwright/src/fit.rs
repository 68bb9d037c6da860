//! `packwright fit`: the automatic layout.

mod progress;
mod show;

use std::path::Path;

use clap::Args;
use geometry::fit::Budget;
use job::layout::{Aim, NotYet, Proposal, propose};
use job::store::{self, Lock, SaveError};
use job::{Edit, Evaluation, Job, evaluate};

use crate::input::JobFile;
use crate::output;
use crate::trouble::{Trouble, Verdict};
use progress::Progress;

/// Lay the modules out by themselves
///
/// Whole strings that fit the drive, in all cavities, with the most room to spare; or one cavity filled. Says how many
/// modules go in, of how many at most, and shows the boxes. Nothing is saved without --write. Ends with 1 when nothing
/// goes in, or when the job so laid out has a stop.
#[derive(Debug, Args)]
pub(crate) struct FitArgs {
    #[command(flatten)]
    job: JobFile,
    /// Fill this cavity with as many modules as go in, whatever the strings; boxes elsewhere stay
    #[arg(long, value_name = "CAVITY-NAME")]
    fill: Option<String>,
    /// Take the layout over into the job file; the job before is kept with .bak behind its name
    #[arg(long)]
    write: bool,
    /// Print the layout as JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

/// A layout found, and the job as it is with it.
struct Found {
    proposal: Proposal,
    edit: Edit,
    /// The job's figures before.
    before: Evaluation,
    /// The job with the layout taken over.
    job: Job,
    /// Its figures.
    after: Evaluation,
}

impl Found {
    fn count(&self) -> u32 {
        self.proposal.answer.layouts.first().map_or(0, |layout| layout.count)
    }
}

pub(crate) fn run(args: &FitArgs) -> Result<Verdict, Trouble> {
    if args.write && args.job.is_standard_input() {
        return Err(Trouble::new(
            "standard input cannot be written to",
            "give the name of the job file, or leave out --write",
        ));
    }
    // Taken before reading, so that nobody else's work is written over.
    let _lock = if args.write {
        Some(Lock::take(args.job.path())?)
    } else {
        None
    };
    let found = find(&args.job.read()?, args.fill.as_deref(), args.job.path())?;
    let goes_in = found.count() > 0;
    let written = args.write && goes_in;
    if written {
        save(&found.job, args.job.path())?;
    }
    if args.json {
        output::json(&show::json(&found, written))?;
    } else {
        output::data(&show::text(&found))?;
    }
    if written {
        output::message(&format!(
            "{}: saved in {}",
            found.edit.words(&found.job),
            args.job.path().display()
        ));
    } else if args.write {
        output::message("nothing goes in, so the job file is left as it was");
    }
    Ok(if goes_in {
        Verdict::of(&found.after)
    } else {
        Verdict::Stop
    })
}

fn find(job: &Job, fill: Option<&str>, path: &Path) -> Result<Found, Trouble> {
    let aim = match fill {
        None => Aim::Whole,
        Some(name) => Aim::Fill(cavity(job, name)?),
    };
    let before = evaluate(job);
    let mut progress = Progress::new();
    let proposal = propose(job, &before, aim, Budget::default(), &mut progress);
    progress.clear();
    let see = || format!("packwright check {} tells what is still needed", path.display());
    let proposal = proposal.map_err(|not_yet: NotYet| Trouble::new(not_yet.to_string(), see()))?;
    let edit = proposal
        .edit(job, 0)
        .ok_or_else(|| Trouble::new("no layout was found", see()))?;
    let job = job
        .with(&edit)
        .map_err(|error| Trouble::new(error.to_string(), see()))?;
    let after = evaluate(&job);
    Ok(Found {
        proposal,
        edit,
        before,
        job,
        after,
    })
}

/// The cavity of this name; upper and lower case count only where names differ in nothing else.
fn cavity(job: &Job, name: &str) -> Result<job::Id, Trouble> {
    let with = |same: &dyn Fn(&str) -> bool| job.cavities.iter().find(|c| same(&c.name)).map(|c| c.id);
    with(&|n| n == name)
        .or_else(|| with(&|n| n.to_lowercase() == name.to_lowercase()))
        .ok_or_else(|| {
            let all: Vec<String> = job.cavities.iter().map(|c| format!("{:?}", c.name)).collect();
            let fix = if all.is_empty() {
                "add a cavity first".to_owned()
            } else {
                format!("use one of {}", all.join(", "))
            };
            Trouble::new(format!("no cavity has the name {name:?}"), fix)
        })
}

fn save(job: &Job, path: &Path) -> Result<(), Trouble> {
    match store::save(path, job::to_text(job).as_bytes()) {
        // It is saved all the same.
        Err(error @ SaveError::NotSettled(_)) => {
            output::message(&format!("caution: {error}\n  fix: {}", error.fix()));
            Ok(())
        }
        other => Ok(other?),
    }
}
