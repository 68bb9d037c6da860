//! Moving what is laid out apart, so that the smallest clearance is as large as it can be.

mod chain;
mod kept;

use std::collections::BTreeMap;

use geometry::spread::{self, Move};
use tape::Length;

use super::question::Beside;
use super::reaches::Legs;
use super::{Aim, NotYet, needs};
use crate::{Edit, Evaluation, Grave, Id, Job, evaluate};
use kept::Kept;

/// What is moved apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The modules of one box, the box along with them; everything else stays.
    Modules(Id),
    /// The boxes of one cavity, each with its modules as they stand in it.
    Boxes(Id),
    /// All boxes of all cavities, each with its modules as they stand in it.
    AllBoxes,
}

impl Which {
    /// What was done, in words.
    pub fn words(self, job: &Job) -> String {
        match self {
            Self::Modules(id) => {
                let name = job.battery_box(id).map_or("a box", |b| b.name.as_str());
                format!("spread the modules of {name}")
            }
            Self::Boxes(id) => {
                let name = job.cavity(id).map_or("a cavity", |c| c.name.as_str());
                format!("spread the boxes of {name}")
            }
            Self::AllBoxes => "spread all boxes".to_owned(),
        }
    }

    /// What a layout of the same things would aim at.
    const fn aim(self) -> Aim {
        match self {
            Self::Modules(id) => Aim::Box(id),
            Self::Boxes(id) => Aim::Fill(id),
            Self::AllBoxes => Aim::Whole,
        }
    }
}

/// The same layout with the most room to spare.
#[derive(Clone, Debug, PartialEq)]
pub struct Spreading {
    /// The edit that takes it over.
    pub edit: Edit,
    /// What limits it, from wall to wall: "front wall, 6 modules, 5 gaps, rear wall", and what they share; then which boxes
    /// stay as they stand, and why.
    pub words: String,
    /// The least that any clearance had beyond what is asked for; negative where less than asked was kept.
    pub before: Length,
    /// The least that any clearance has then.
    pub after: Length,
}

impl Spreading {
    /// Whether anything is gained.
    pub fn helps(&self) -> bool {
        self.after > self.before
    }
}

/// Moves what is laid out apart, each thing staying among its neighbours; what is pinned stays where it is.
///
/// Room is kept for what reaches out of the boxes and for what the bed sweeps, as the automatic layout keeps it. That takes
/// every fitting to be as large as its wall, so where things stand closer already it asks too much: then the boxes alone
/// are moved apart. No way is taken that gives a stop that is not there now; when none is left everything stays.
///
/// # Errors
///
/// [`NotYet`] with what is missing: a box with modules in a measured cavity. One with a step in its underside is not moved.
pub fn spread(job: &Job, evaluation: &Evaluation, which: Which) -> Result<Spreading, NotYet> {
    let mut spreading = with_no_new_stop(job, evaluation, which)?;
    if let Some(staying) = kept::staying(evaluation, which) {
        spreading.words = format!("{}; {staying}", spreading.words);
    }
    Ok(spreading)
}

fn with_no_new_stop(job: &Job, evaluation: &Evaluation, which: Which) -> Result<Spreading, NotYet> {
    let now = stops(evaluation);
    let is_worse = |spreading: &Spreading| {
        let then = job.with(&spreading.edit).map(|job| stops(&evaluate(&job)));
        then.map_or(true, |then| {
            then.iter()
                .any(|(stop, count)| now.get(stop).is_none_or(|now| now < count))
        })
    };
    let mut spreading = spread_beside(job, evaluation, which, Beside::Kept(Legs::AsTold))?;
    if spreading.helps() && !is_worse(&spreading) {
        return Ok(spreading);
    }
    if spreading.before.is_negative() {
        spreading = spread_beside(job, evaluation, which, Beside::Ignored)?;
        if spreading.helps() && !is_worse(&spreading) {
            return Ok(spreading);
        }
    }
    if spreading.helps() {
        "a stop that is not there now, which every way of moving them apart would give"
            .clone_into(&mut spreading.words);
    }
    Ok(Spreading {
        edit: Edit::Spread {
            which,
            boxes: job.boxes.clone(),
        },
        after: spreading.before,
        ..spreading
    })
}

/// The stops there are, told by what they are of and their words without the figures, and how many of each.
fn stops(evaluation: &Evaluation) -> BTreeMap<(String, String), usize> {
    let mut found = BTreeMap::new();
    for stop in evaluation.findings.iter().filter(|f| f.grave == Grave::Stop) {
        let is_figure = |c: char| c.is_ascii_digit() || " ./'\"-".contains(c);
        let words = stop.words.replace(is_figure, "");
        *found.entry((stop.name.clone(), words)).or_default() += 1;
    }
    found
}

fn spread_beside(job: &Job, evaluation: &Evaluation, which: Which, beside: Beside) -> Result<Spreading, NotYet> {
    let kept = Kept::of(job, evaluation, which, beside)?;
    let how = match which {
        Which::Modules(_) => Move::Everything,
        Which::Boxes(_) | Which::AllBoxes => Move::Boxes,
    };
    let spread = spread::spread(&kept.request, &kept.layout, how).map_err(|e| needs(e.to_string()))?;
    let edit = Edit::Spread {
        which,
        boxes: kept.boxes(job, &spread),
    };
    let words = spread
        .chain
        .as_ref()
        .map_or_else(String::new, |chain| chain::words(chain, &kept, evaluation));
    Ok(Spreading {
        edit,
        words,
        before: spread.before,
        after: spread.least,
    })
}
