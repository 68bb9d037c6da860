//! Tasks that take a while, on a worker: they report as they go, can be stopped, and what they find comes back as an
//! edit that the person accepts.

mod fit;
pub(crate) mod papers;
mod take_in;
mod takes;

use std::panic::AssertUnwindSafe;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use job::layout::{Aim, Candidate, NotYet, Proposal, Spreading, Which, spread};
use job::nesting::{self, Nesting, nest, question};
use job::units::{Matching, matching};
use job::way_in::{self, WaysIn};
use job::what_if::{Gain, Tolerance, WhatIf};
use job::wiring::{Ordered, orders};
use job::{Evaluation, Id, Job, evaluate};
use pack::matching::Goal;
use pack::wiring::WORK;

pub(crate) use take_in::{show_offer, take_in};

use crate::model::Best;
use crate::pages::papers::Made;
use crate::term::{Reports, take_worker_panic};

/// Something that takes a while.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// The automatic layout.
    Fit(Aim),
    /// Moving what is laid out apart.
    Spread(Which),
    /// What one more module would take, what keep-outs cost, and how wrong readings may be.
    Takes(Aim),
    /// Which tested unit goes where, for a kind.
    Match(Id),
    /// The order of the wiring, for a kind.
    Order(Id),
    /// What is cut from which sheet and bar.
    Nest,
    /// Which way each box goes in.
    Ways,
}

impl Task {
    /// What is going on, for the message line.
    pub const fn doing(self) -> &'static str {
        match self {
            Self::Fit(_) => "laying out",
            Self::Spread(_) => "spreading",
            Self::Takes(_) => "working out what it would take",
            Self::Match(_) => "matching units",
            Self::Order(_) => "working out the wiring order",
            Self::Nest => "laying parts on sheets and bars",
            Self::Ways => "looking for ways in",
        }
    }
}

/// Layouts that were found, with what each would make of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The answer.
    pub proposal: Proposal,
    /// Its layouts, best first; those of them that hold anything.
    pub candidates: Vec<Candidate>,
}

/// What a worker reports. `job` is always the state of the job that it works on.
#[derive(Clone, Debug, PartialEq)]
pub enum Report {
    /// How far it is, in steps of the work allowed.
    Share {
        /// Of which job.
        job: Arc<Job>,
        /// Steps done.
        done: u64,
        /// Steps allowed.
        of: u64,
    },
    /// What is known of the best layout so far.
    Best {
        /// Of which job.
        job: Arc<Job>,
        /// How many are placed, and at most.
        best: Best,
    },
    /// The job as the best layout so far would make it.
    Better {
        /// Of which job.
        job: Arc<Job>,
        /// Its figures then.
        evaluation: Box<Evaluation>,
    },
    /// The automatic layout is finished, or was stopped with what it had.
    Finished {
        /// Of which job.
        job: Arc<Job>,
        /// The layouts, or what is missing for one.
        result: Box<Result<Found, NotYet>>,
    },
    /// The same layout with the most room to spare.
    Spread {
        /// Of which job.
        job: Arc<Job>,
        /// Where everything goes, or what is missing for that.
        result: Box<Result<Spreading, NotYet>>,
    },
    /// Some more of what one more module would take.
    Takes {
        /// Of which job.
        job: Arc<Job>,
        /// What is known now.
        told: Told,
    },
    /// Where each tested unit goes, or what is missing for that.
    Matched {
        /// Of which job.
        job: Arc<Job>,
        /// The answer.
        result: Box<Result<Matching, (String, &'static str)>>,
    },
    /// Orders of the wiring; none when the pack is not laid out whole.
    Ordered {
        /// Of which job.
        job: Arc<Job>,
        /// The answer.
        result: Option<Box<[Ordered; 2]>>,
    },
    /// What is cut from which sheet and bar.
    Nested {
        /// Of which job.
        job: Arc<Job>,
        /// The answer, or the best so far when it was stopped.
        nesting: Box<Nesting>,
    },
    /// Which way each box goes in.
    Ways {
        /// Of which job.
        job: Arc<Job>,
        /// The answer, or what is known when it was stopped.
        found: Box<WaysIn>,
    },
    /// All papers of a job.
    Papers(Arc<Made>),
    /// They could not be made, which is a fault of the program.
    NoPapers {
        /// Of which job.
        job: Arc<Job>,
        /// Why.
        why: String,
    },
    /// It failed, which is a fault of the program.
    Failed {
        /// Of which job.
        job: Arc<Job>,
        /// Why.
        why: String,
    },
}

/// Something that became known of what one more module would take.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// How wrong each reading may be.
    Tolerances(Vec<Tolerance>),
    /// The figures that are worked out so far.
    WhatIf(WhatIf),
    /// The keep-outs that are worked out so far.
    Gains(Vec<Gain>),
    /// Nothing more follows: all is worked out, or it was stopped, or something is missing.
    End(Result<(), NotYet>),
}

/// A running worker.
#[derive(Debug)]
pub(crate) struct Worker {
    stop: Arc<AtomicBool>,
}

impl Worker {
    /// Starts a task on a copy of the job.
    pub(crate) fn start(task: Task, job: Arc<Job>, reports: Reports<Report>) -> Self {
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        std::thread::spawn(move || {
            let work = AssertUnwindSafe(|| work(task, &job, &reports, &stopped));
            if std::panic::catch_unwind(work).is_err() {
                let why = take_worker_panic().unwrap_or_else(|| "no reason given".to_owned());
                // The screens may be gone already; then nobody wants to know.
                let _ = reports.send(Report::Failed { job, why });
            }
        });
        Self { stop }
    }

    /// Asks it to stop; it reports what it has.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// Does a task to its end, or until `stop` is set. The last report is the one that ends it.
pub(crate) fn work(task: Task, job: &Arc<Job>, reports: &Reports<Report>, stop: &AtomicBool) {
    let evaluation = evaluate(job);
    let last = match task {
        Task::Fit(aim) => Report::Finished {
            job: Arc::clone(job),
            result: Box::new(fit::run(job, &evaluation, aim, reports, stop)),
        },
        Task::Spread(which) => Report::Spread {
            job: Arc::clone(job),
            result: Box::new(spread(job, &evaluation, which)),
        },
        Task::Match(kind) => Report::Matched {
            job: Arc::clone(job),
            result: Box::new(matching(job, &evaluation, kind, Goal::Strongest)),
        },
        Task::Order(kind) => Report::Ordered {
            job: Arc::clone(job),
            result: orders(job, &evaluation, kind, WORK, &mut |done| {
                let _ = reports.send(Report::Share {
                    job: Arc::clone(job),
                    done: done.min(WORK),
                    of: WORK,
                });
                !stop.load(Ordering::Relaxed)
            })
            .map(Box::new),
        },
        Task::Nest => Report::Nested {
            job: Arc::clone(job),
            nesting: Box::new(nest(question(job, &evaluation), nesting::WORK, &mut |progress| {
                let _ = reports.send(Report::Share {
                    job: Arc::clone(job),
                    done: progress.done,
                    of: progress.work,
                });
                !stop.load(Ordering::Relaxed)
            })),
        },
        Task::Ways => {
            let question = way_in::question(job, &evaluation);
            let of = question.work(way_in::WORK);
            Report::Ways {
                job: Arc::clone(job),
                found: Box::new(way_in::answer(question, way_in::WORK, &mut |done| {
                    let _ = reports.send(Report::Share {
                        job: Arc::clone(job),
                        done,
                        of,
                    });
                    !stop.load(Ordering::Relaxed)
                })),
            }
        }
        Task::Takes(aim) => Report::Takes {
            job: Arc::clone(job),
            told: Told::End(takes::run(job, &evaluation, aim, reports, stop)),
        },
    };
    // The screens may be gone already; then nobody wants to know.
    let _ = reports.send(last);
}
