//! Works the layout out that the arguments ask for.

use geometry::fit::Budget;
use job::layout::{Aim, Candidate, CountError, NotYet, Proposal, counts, propose, propose_any};
use job::{Evaluation, Id, Job, evaluate};

use super::FitArgs;
use super::progress::Progress;
use crate::number;
use crate::trouble::Trouble;

/// What was found, and the job as it is with the layout that is taken.
pub(super) struct Found {
    pub(super) proposal: Proposal,
    pub(super) candidates: Vec<Candidate>,
    /// Which candidate is taken.
    take: usize,
    /// The job's figures before.
    pub(super) before: Evaluation,
    /// The job with the layout taken over.
    pub(super) job: Job,
}

impl Found {
    pub(super) fn chosen(&self) -> &Candidate {
        &self.candidates[self.take]
    }

    /// What there is to say of the layout taken.
    pub(super) fn words(&self) -> String {
        let words = self.proposal.words_of(self.chosen().index, &self.before);
        match self.take {
            0 => words,
            _ => format!("layout {} of {}: {words}", self.take + 1, self.candidates.len()),
        }
    }

    /// Modules that the layout taken holds.
    pub(super) fn count(&self) -> u32 {
        self.proposal
            .layout(self.chosen().index)
            .map_or(0, |layout| layout.count)
    }
}

pub(super) fn find(job: &Job, args: &FitArgs) -> Result<Found, Trouble> {
    let before = evaluate(job);
    let budget = args.steps()?.map_or(Budget::default(), |work| Budget {
        work,
        ..Budget::default()
    });
    let mut progress = Progress::new();
    let proposal = match &args.wanted {
        None => propose(job, &before, aim(job, args)?, budget, &mut progress),
        Some(text) => {
            let counts = counts(text).map_err(|error: CountError| {
                let mend = error.mend();
                Trouble::new(format!("--wanted: {error}"), mend)
            })?;
            propose_any(job, &before, &counts, budget, &mut progress)
        }
    };
    progress.clear();
    let proposal = proposal.map_err(|why| not_yet(&why, args))?;
    let candidates = proposal.candidates(job);
    let take = number::whole(&args.take).and_then(|number| usize::try_from(number).ok()?.checked_sub(1));
    let Some((take, chosen)) = take.and_then(|take| Some((take, candidates.get(take)?))) else {
        let (given, found) = (&args.take, candidates.len());
        let fix = match found {
            0 | 1 => "leave out --take".to_owned(),
            _ => format!("use 1 to {found}; --candidates shows them"),
        };
        let many = if found == 1 { "layout was" } else { "layouts were" };
        return Err(Trouble::new(
            format!("--take: {given} is no layout; {found} {many} found"),
            fix,
        ));
    };
    let job = job
        .with(&chosen.edit)
        .map_err(|error| Trouble::new(error.to_string(), error.mend()))?;
    Ok(Found {
        proposal,
        candidates,
        take,
        before,
        job,
    })
}

/// What is laid out, by --fill and --box.
pub(super) fn aim(job: &Job, args: &FitArgs) -> Result<Aim, Trouble> {
    Ok(match (&args.fill, &args.box_name) {
        (Some(name), _) => Aim::Fill(cavity(job, name)?),
        (_, Some(name)) => Aim::Box(battery_box(job, name)?),
        (None, None) => Aim::Whole,
    })
}

/// Why nothing can be laid out yet.
pub(super) fn not_yet(why: &NotYet, args: &FitArgs) -> Trouble {
    let path = args.job.path().display();
    if args.wanted.is_some() {
        let fix = "ask for a number that the modules on hand make up, or enter more of them";
        return Trouble::new(format!("--wanted: {why}"), fix);
    }
    Trouble::new(
        why.to_string(),
        format!("packwright check {path} tells what is still needed"),
    )
}

pub(super) fn cavity(job: &Job, name: &str) -> Result<Id, Trouble> {
    let all = job.cavities.iter().map(|c| (c.id, c.name.as_str()));
    named("cavity", &all.collect::<Vec<_>>(), name)
}

pub(super) fn battery_box(job: &Job, name: &str) -> Result<Id, Trouble> {
    let all = job.boxes.iter().map(|b| (b.id, b.name.as_str()));
    named("box", &all.collect::<Vec<_>>(), name)
}

/// The thing of this name; upper and lower case count only where names differ in nothing else.
fn named(what: &str, all: &[(Id, &str)], name: &str) -> Result<Id, Trouble> {
    let with = |same: &dyn Fn(&str) -> bool| all.iter().find(|(_, n)| same(n)).map(|(id, _)| *id);
    with(&|n| n == name)
        .or_else(|| with(&|n| n.to_lowercase() == name.to_lowercase()))
        .ok_or_else(|| {
            let names: Vec<String> = all.iter().map(|(_, name)| format!("{name:?}")).collect();
            let fix = if names.is_empty() {
                format!("add a {what} first")
            } else {
                format!("use one of {}", names.join(", "))
            };
            Trouble::new(format!("no {what} has the name {name:?}"), fix)
        })
}
