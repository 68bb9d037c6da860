//! Layouts that give something up for something, to be compared with the best one.

use geometry::fit::{Budget, Ended, Layout, Progress, Request, Wanted, Watch};
use tape::Length;

use super::hung::both_ways;
use super::propose::{lay_out, margins, narrow};
use super::{NotYet, Proposal, Question, take_over};
use crate::{Evaluation, Job, evaluate};

/// Another layout worth a look.
#[derive(Clone, Debug, PartialEq)]
pub struct Other {
    /// What was asked.
    pub question: Question,
    /// The layout.
    pub layout: Layout,
    /// The margin that it keeps.
    pub margin: Length,
}

/// What can be had besides the best: the strings whole in their boxes for a narrower margin, and fewer boxes for one
/// string fewer. Only what really gives something is told.
pub(super) fn others(
    job: &Job,
    evaluation: &Evaluation,
    best: &Proposal,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Vec<Other>, NotYet> {
    let Some(layout) = best.answer.layouts.first().filter(|layout| layout.count > 0) else {
        return Ok(Vec::new());
    };
    if !best.question.aim.is_everything() || best.answer.ended == Ended::Stopped {
        return Ok(Vec::new());
    }
    let mut aside = Aside { watch, best };
    let mut others = Vec::new();
    others.extend(whole_strings(job, evaluation, best, layout, budget, &mut aside)?);
    others.extend(one_string_fewer((job, evaluation), best, layout, budget, &mut aside)?);
    Ok(others)
}

/// The widest narrower margin with which as many modules go in and fewer strings cross boxes.
fn whole_strings(
    job: &Job,
    evaluation: &Evaluation,
    best: &Proposal,
    layout: &Layout,
    budget: Budget,
    watch: &mut Aside,
) -> Result<Option<Other>, NotYet> {
    let crossing = |question: &Question, layout: &Layout| {
        let job = job.with(&take_over(job, question, layout)).ok()?;
        Some(evaluate(&job).headline.crossing)
    };
    let now = crossing(&best.question, layout).unwrap_or(0);
    for margin in margins(job, evaluation).filter(|&margin| margin < best.margin && now > 0) {
        let mut question = best.question.clone();
        narrow(&mut question, job, evaluation, margin);
        let answer = lay_out(&both_ways(job, evaluation, &question), budget, watch)?;
        let better = |other: &&Layout| {
            other.count >= layout.count && crossing(&question, other).is_some_and(|crossing| crossing < now)
        };
        if let Some(layout) = answer.layouts.iter().find(better).cloned() {
            return Ok(Some(Other {
                question,
                layout,
                margin,
            }));
        }
    }
    Ok(None)
}

/// One string fewer, when that takes fewer boxes.
fn one_string_fewer(
    (job, evaluation): (&Job, &Evaluation),
    best: &Proposal,
    layout: &Layout,
    budget: Budget,
    watch: &mut Aside,
) -> Result<Option<Other>, NotYet> {
    let mut question = best.question.clone();
    let Some(wanted) = fewer(&question.request, layout.count) else {
        return Ok(None);
    };
    question.request.wanted = wanted;
    let answer = lay_out(&both_ways(job, evaluation, &question), budget, watch)?;
    let known = |other: &Layout| {
        let same = |known: &Other| (known.layout.count, known.layout.boxes.len()) == (other.count, other.boxes.len());
        best.others.iter().any(same)
    };
    let better = |other: &&Layout| other.count > 0 && other.boxes.len() < layout.boxes.len() && !known(other);
    Ok(answer.layouts.iter().find(better).cloned().map(|layout| Other {
        question,
        layout,
        margin: best.margin,
    }))
}

/// The question for one string fewer than `count` modules make; `None` when that leaves none.
fn fewer(request: &Request, count: u32) -> Option<Wanted> {
    let Wanted::Strings { kind, series, parallel } = &request.wanted else {
        return None;
    };
    let whole = |&&s: &&u32| count.is_multiple_of(s) && count / s <= *parallel;
    let series = *series.iter().find(whole)?;
    (count / series > 1).then(|| Wanted::Strings {
        kind: *kind,
        series: vec![series],
        parallel: count / series - 1,
    })
}

/// Watches for whom the best is known already: nothing found now is better.
pub(super) struct Aside<'w> {
    pub(super) watch: &'w mut dyn Watch,
    pub(super) best: &'w Proposal,
}

impl Watch for Aside<'_> {
    fn carry_on(&mut self, progress: Progress) -> bool {
        self.watch.carry_on(Progress {
            count: self.best.count(),
            upper_bound: self.best.answer.upper_bound,
            ..progress
        })
    }
}
