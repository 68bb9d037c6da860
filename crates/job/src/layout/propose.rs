//! The layout that is offered: with the margin asked for, else with the widest that gets most in.

use geometry::Faces;
use geometry::fit::{self, Answer, BoundBy, Budget, Ended, Request, RequestError, Wanted, Watch};
use tape::Length;

use super::{Aim, NotYet, Question, question, take_over};
use crate::{Edit, Evaluation, Id, Job};

/// A layout to offer: what was found, with which margin, and the edit that takes it over.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What was asked.
    pub question: Question,
    /// The answer, layouts best first; bound and proof hold for `margin`.
    pub answer: Answer,
    /// The margin that the answer keeps: the job's, or a smaller one where nothing (or less) goes in with that.
    pub margin: Length,
    /// Modules that go in with the job's own margin, when `margin` is smaller.
    pub with_asked_margin: Option<u32>,
}

impl Proposal {
    /// The edit that takes over the layout of this index.
    pub fn edit(&self, job: &Job, index: usize) -> Option<Edit> {
        Some(take_over(job, &self.question, self.answer.layouts.get(index)?))
    }

    /// What was found, in one sentence: how many, of how many at most, by what, and with which margin.
    pub fn words(&self, evaluation: &Evaluation) -> String {
        let answer = &self.answer;
        let count = answer.layouts.first().map_or(0, |l| l.count);
        let by = answer.bound_by.words();
        let how = match (answer.proved, answer.bound_by, answer.ended) {
            (true, BoundBy::OnHand, _) if self.question.aim == Aim::Whole => {
                "every whole string that the units on hand allow".to_owned()
            }
            (true, BoundBy::OnHand, _) => "every one on hand".to_owned(),
            (true, BoundBy::WholeStrings, _) => "proved: no further whole string goes in".to_owned(),
            (true, ..) => format!("proved by {by}: no more can go in"),
            (false, _, Ended::Stopped) => format!("stopped; at most {} by {by}", answer.upper_bound),
            (false, ..) => format!("best found; at most {} by {by}", answer.upper_bound),
        };
        match self.with_asked_margin {
            None => format!("{count} modules, {how}"),
            Some(asked) => {
                let margin = evaluation.down(self.margin);
                let asked_for = evaluation.down(evaluation.margin);
                // A proof for the narrower margin is none for the one asked for, so it is not spoken of.
                format!(
                    "{count} modules, but only with a margin of {margin}; with the {asked_for} asked for {asked} go in"
                )
            }
        }
    }
}

/// Works out a layout: with the margin asked for, and when that leaves wanted modules out, with smaller margins too,
/// keeping the widest one that gets most in. A small margin is said with the answer and stays a caution in the job.
///
/// # Errors
///
/// [`NotYet`] with what is missing.
pub fn propose(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let asked = question(job, evaluation, aim)?;
    let not_asked = |e: RequestError| NotYet { needs: e.to_string() };
    let answer = fit::fit(&asked.request, budget, watch).map_err(not_asked)?;
    let count = |answer: &Answer| answer.layouts.first().map_or(0, |l| l.count);
    let most = most_wanted(&asked.request);
    let mut best = Proposal {
        question: asked.clone(),
        answer,
        margin: evaluation.margin,
        with_asked_margin: None,
    };
    let with_asked = count(&best.answer);
    let step = match job.units {
        crate::UnitsName::Inch => Length::sixty_fourths(4),
        crate::UnitsName::Millimetre => Length::mm(1),
    };
    // Filling is asked with open eyes at the margin as it is; laying out wants the strings in, at some margin.
    for share in [3, 2, 1] {
        if aim != Aim::Whole || count(&best.answer) >= most || best.answer.ended == Ended::Stopped {
            break;
        }
        let margin = Length::from_nm(evaluation.margin.nm() * share / 4).round_down_to(step);
        let mut narrower = asked.clone();
        narrow(&mut narrower, job, evaluation, margin);
        let answer = fit::fit(&narrower.request, budget, watch).map_err(not_asked)?;
        if count(&answer) > count(&best.answer) {
            best = Proposal {
                question: narrower,
                answer,
                margin,
                with_asked_margin: Some(with_asked),
            };
        }
    }
    Ok(best)
}

/// The most modules that the question wants in.
fn most_wanted(request: &Request) -> u32 {
    let on_hand: u32 = request.kinds.iter().map(|k| k.on_hand.unwrap_or(u32::MAX / 4)).sum();
    match &request.wanted {
        Wanted::AsMany => on_hand,
        Wanted::Exactly(counts) => counts.iter().sum(),
        Wanted::Strings { series, parallel, .. } => series
            .iter()
            .map(|s| s * parallel.min(&(on_hand / s.max(&1))))
            .max()
            .unwrap_or(0),
    }
}

/// Takes the job's margin down to `to`; keep-outs with a margin of their own keep it.
fn narrow(question: &mut Question, job: &Job, evaluation: &Evaluation, to: Length) {
    let has_own = |id: Id| {
        let asked = job.cavities.iter().flat_map(|c| &c.keep_outs).find(|k| k.id == id);
        asked.is_some_and(|k| k.margin.is_some())
    };
    for (cavity, id) in question.request.cavities.iter_mut().zip(&question.cavities) {
        cavity.wall_margin = Faces::all(to);
        let told = evaluation
            .cavity(*id)
            .into_iter()
            .flat_map(|c| c.keep_outs.iter().filter(|k| k.counts));
        for (keep_out, _) in cavity
            .keep_outs
            .iter_mut()
            .zip(told)
            .filter(|(_, told)| !has_own(told.id))
        {
            keep_out.margin = to;
        }
    }
    if let Some(rule) = &mut question.request.boxes {
        rule.apart = to;
    }
}
