//! Making all papers of a job, beside whatever else runs.

use std::panic::AssertUnwindSafe;
use std::sync::Arc;

use job::nesting::{Nesting, nested};
use job::shopping::ToBuy;
use job::{Job, evaluate};
use papers::{all, catalog, glance};

use super::Report;
use crate::pages::papers::Made;
use crate::term::{Reports, take_worker_panic};

/// What papers are made of.
#[derive(Clone, Debug)]
pub(crate) struct Order {
    /// The job.
    pub(crate) job: Arc<Job>,
    /// What is cut from which sheet and bar, when that is known.
    pub(crate) nesting: Option<Nesting>,
    /// The date that stands on them.
    pub(crate) date: String,
}

/// Makes them on a thread, which ends by itself.
pub(crate) fn start(order: Order, reports: Reports<Report>) {
    std::thread::spawn(move || {
        let job = Arc::clone(&order.job);
        let made = std::panic::catch_unwind(AssertUnwindSafe(|| make(order)));
        // The screens may be gone already; then nobody wants to know.
        let _ = reports.send(match made {
            Ok(made) => Report::Papers(Arc::new(made)),
            Err(_) => Report::NoPapers {
                job,
                why: take_worker_panic().unwrap_or_else(|| "no reason given".to_owned()),
            },
        });
    });
}

/// Makes them.
pub(crate) fn make(order: Order) -> Made {
    let job = order.job;
    let evaluation = evaluate(&job);
    let nesting = order.nesting.unwrap_or_else(|| nested(&job, &evaluation));
    let to_buy = ToBuy::of(&job, &evaluation, nesting);
    let papers = all(&job, &evaluation, &to_buy, &order.date);
    Made {
        glances: papers.iter().map(glance).collect(),
        entries: catalog(&papers),
        nesting: to_buy.nesting,
        papers,
        job,
    }
}
