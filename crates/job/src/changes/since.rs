//! What changed since the shop got its papers.

use super::parts::{ShopChanges, compare};
use super::shop::given;
use crate::{Evaluation, Job};

/// What the shop has, and what differs from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Since {
    /// The letter of what it got last.
    pub revision: String,
    /// When.
    pub date: String,
    /// Whether the job still has that letter.
    pub same_letter: bool,
    /// What differs from it in the job as it is.
    pub changed: ShopChanges,
    /// Letter and date of every revision before, the first in front.
    pub earlier: Vec<[String; 2]>,
    /// What the last one changed of the one before; `None` when there is none before.
    pub by_it: Option<ShopChanges>,
}

/// What the shop has, when anything was issued.
pub(crate) fn since_issue(job: &Job, evaluation: &Evaluation) -> Option<Since> {
    let (last, earlier) = job.issued.split_last()?;
    let style = evaluation.style();
    Some(Since {
        revision: last.revision.clone(),
        date: last.date.clone(),
        same_letter: job.revision == last.revision,
        changed: compare(last, &given(job, evaluation), style),
        earlier: earlier
            .iter()
            .map(|issued| [issued.revision.clone(), issued.date.clone()])
            .collect(),
        by_it: earlier.last().map(|before| compare(before, last, style)),
    })
}
