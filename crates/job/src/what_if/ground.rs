//! What every row of the table starts from.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use geometry::fit::{Request, Wanted};
use tape::Length;

use super::row::Outcome;
use crate::layout::{Aim, Question, question};
use crate::{Evaluation, Id, Job, assumed, evaluate};

/// The job as it is and the question for the wanted number.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    pub(super) job: Job,
    pub(super) aim: Aim,
    pub(super) evaluation: Evaluation,
    pub(super) wanted: u32,
    /// The cavities of the request, in its order.
    pub(super) cavities: Vec<Id>,
    /// The kind that is laid out.
    pub(super) kind: Id,
    pub(super) request: Request,
    /// For each keep-out, what taking it away brings, once it is known.
    pub(super) taken_away: BTreeMap<Id, OnceLock<Outcome>>,
}

impl Ground {
    pub(super) fn new(job: &Job, evaluation: &Evaluation, question: Question, wanted: u32) -> Self {
        let keep_outs = evaluation.cavities.iter().flat_map(|c| &c.keep_outs);
        Self {
            job: job.clone(),
            aim: question.aim,
            evaluation: evaluation.clone(),
            wanted,
            kind: question.kinds[0],
            request: for_number(question.request, wanted),
            taken_away: keep_outs.map(|k| (k.id, OnceLock::new())).collect(),
            cavities: question.cavities,
        }
    }

    /// The question for the wanted number that a changed job puts.
    pub(super) fn of_changed(&self, job: &Job) -> Option<Request> {
        let question = question(job, &evaluate(job), self.aim).ok()?;
        (question.kinds[0] == self.kind).then(|| for_number(question.request, self.wanted))
    }

    /// The longest side of one module, or of the shortest stack, with its gap: what one more can take at most.
    pub(super) fn one_more(&self) -> Length {
        let kind = &self.request.kinds[0];
        let mut size = kind.size;
        if let Some(stack) = kind.stack {
            size[stack.along] = stack.length(size[stack.along], stack.min);
        }
        size.0.into_iter().max().unwrap_or_default() + self.request.gap
    }

    pub(super) fn build(&self) -> assumed::Build {
        assumed::build(&self.job.design)
    }
}

/// The same question for exactly `number` modules, as if so many were on hand.
pub(super) fn for_number(mut request: Request, number: u32) -> Request {
    let others: Vec<u32> = request.kinds.iter().skip(1).map(|k| k.on_hand.unwrap_or(0)).collect();
    request.kinds[0].on_hand = Some(number);
    request.wanted = Wanted::Exactly(std::iter::once(number).chain(others).collect());
    request
}
