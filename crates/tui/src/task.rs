//! The automatic layout on a worker: it reports as it goes, can be stopped, and its result comes back as an edit that
//! the person accepts.

use std::panic::AssertUnwindSafe;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use geometry::fit::{Budget, Progress, Watch};
use job::layout::{Aim, NotYet, Proposal, propose};
use job::{Job, evaluate};

use crate::model::{Model, Offer, Overlay};
use crate::term::{Reports, take_worker_panic};

/// What a worker reports.
#[derive(Clone, Debug, PartialEq)]
pub enum Report {
    /// How far it is.
    Progress(Progress),
    /// It is finished (or was stopped with what it had).
    Finished {
        /// The state of the job that it worked on.
        job: Arc<Job>,
        /// The layout, or what is missing for one.
        result: Box<Result<Proposal, NotYet>>,
    },
    /// It failed, which is a fault of the program.
    Failed(String),
}

/// A running worker.
#[derive(Debug)]
pub(crate) struct Worker {
    stop: Arc<AtomicBool>,
}

/// The screen takes a report no oftener than this; more would only be drawn over.
const BETWEEN_REPORTS: Duration = Duration::from_millis(50);

struct Watcher {
    stop: Arc<AtomicBool>,
    reports: Reports<Report>,
    last: Option<Instant>,
}

impl Watch for Watcher {
    fn carry_on(&mut self, progress: Progress) -> bool {
        if self.last.is_none_or(|at| at.elapsed() >= BETWEEN_REPORTS) {
            self.last = Some(Instant::now());
            // The screens may be gone already; then nobody wants to know.
            let _ = self.reports.send(Report::Progress(progress));
        }
        !self.stop.load(Ordering::Relaxed)
    }
}

impl Worker {
    /// Starts the automatic layout on a copy of the job.
    pub(crate) fn start(job: Arc<Job>, aim: Aim, reports: Reports<Report>) -> Self {
        let stop = Arc::new(AtomicBool::new(false));
        let mut watcher = Watcher {
            stop: Arc::clone(&stop),
            reports: reports.clone(),
            last: None,
        };
        std::thread::spawn(move || {
            let work = AssertUnwindSafe(|| {
                let evaluation = evaluate(&job);
                propose(&job, &evaluation, aim, Budget::default(), &mut watcher)
            });
            let report = match std::panic::catch_unwind(work) {
                Ok(result) => Report::Finished {
                    job,
                    result: Box::new(result),
                },
                Err(_) => Report::Failed(take_worker_panic().unwrap_or_else(|| "no reason given".to_owned())),
            };
            let _ = reports.send(report);
        });
        Self { stop }
    }

    /// Asks it to stop; it reports what it has.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// Takes a report into the model. A result for a job that has changed since is dropped, and said so.
pub(crate) fn take_in(model: &mut Model, report: Report) {
    match report {
        Report::Progress(progress) => {
            if let Some(running) = &mut model.running {
                running.done = (progress.done, progress.of);
                running.count = (progress.count, progress.upper_bound);
            }
        }
        Report::Failed(why) => {
            model.running = None;
            model.refuse(format!("the automatic layout failed ({why}); the job is as it was"));
        }
        Report::Finished { job, result } => {
            // A worker that was stopped with its job may still report; it is none of this job's business.
            let Some(running) = model.running.take_if(|running| Arc::ptr_eq(&running.job, &job)) else {
                return;
            };
            if !Arc::ptr_eq(&running.job, &model.history.shared()) {
                model.tell("the job changed while it was laid out, so that layout was dropped; f lays out again");
                return;
            }
            let typing = model.form().is_some_and(|form| form.typing.is_some());
            if model.overlay.is_some() || typing {
                // An offer must not take the keys from what the person is at.
                model.tell("a layout is ready, but was dropped for what you are at; f lays out again");
                return;
            }
            match *result {
                Err(not_yet) => model.refuse(not_yet.to_string()),
                Ok(proposal) => offer(model, proposal, running.first),
            }
        }
    }
}

/// Takes the first layout of a job over at once, and offers every later one.
fn offer(model: &mut Model, proposal: Proposal, first: bool) {
    let words = proposal.words(&model.evaluation);
    let count = proposal.answer.layouts.first().map_or(0, |l| l.count);
    let edit = proposal.edit(model.job(), 0);
    let Some(edit) = edit.filter(|_| count > 0) else {
        model.refuse(format!("nothing goes in: {words}"));
        return;
    };
    let preview = model.job().with(&edit).map(|job| evaluate(&job));
    match (first, preview) {
        (true, _) => {
            if model.apply(edit).is_ok() {
                model.tell(format!("laid out {words}; u undoes"));
            }
        }
        (false, Ok(preview)) => {
            model.overlay = Some(Overlay::Offer(Box::new(Offer {
                proposal,
                shown: 0,
                preview,
            })));
        }
        (false, Err(refused)) => model.refuse(format!("{refused}; {}", refused.mend())),
    }
}
