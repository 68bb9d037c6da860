//! What one more module would take, worked out on two threads; rows are told as they are ready.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use geometry::fit::{Budget, Progress, Watch};
use job::layout::{Aim, NotYet};
use job::what_if::{Asked, Gain, GainTask, Goal, Row, RowTask, ask, gain_tasks, tolerances};
use job::{Evaluation, Job};

use super::{Report, Told};
use crate::term::Reports;

/// Steps for each layout that is tried: many are tried, and most are told apart by the bound.
const STEPS: u64 = 50_000;

/// Stops when told to, and watches nothing else.
#[derive(Clone, Copy)]
struct Until<'a>(&'a AtomicBool);

impl Until<'_> {
    fn is_now(self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

impl Watch for Until<'_> {
    fn carry_on(&mut self, _: Progress) -> bool {
        !self.is_now()
    }
}

/// One thing to find out.
enum Piece<'a> {
    Figure(&'a RowTask),
    KeepOut(&'a GainTask),
}

/// What is known so far.
#[derive(Default)]
struct Known {
    done: u64,
    rows: Vec<Row>,
    gains: Vec<Gain>,
}

/// Works it out, figure by figure.
pub(super) fn run(
    job: &Arc<Job>,
    evaluation: &Evaluation,
    aim: Aim,
    reports: &Reports<Report>,
    stop: &AtomicBool,
) -> Result<(), NotYet> {
    let budget = Budget {
        work: STEPS,
        ..Budget::default()
    };
    let mut until = Until(stop);
    let all = Pieces { job, reports, until };
    all.tell(Told::Tolerances(tolerances(job, evaluation)));
    let asked = ask(job, evaluation, aim, Goal::OneMore, budget, &mut until)?;
    if until.is_now() {
        return Ok(());
    }
    all.tell(Told::WhatIf(asked.with_rows(Vec::new())));
    let gains = gain_tasks(job, evaluation, aim, budget, &mut until)?;
    let figures = asked.tasks.iter().map(Piece::Figure);
    let pieces: Vec<Piece<'_>> = figures.chain(gains.iter().map(Piece::KeepOut)).collect();
    let (next, known) = (AtomicUsize::new(0), Mutex::new(Known::default()));
    let work = || {
        while let Some(piece) = pieces.get(next.fetch_add(1, Ordering::Relaxed)) {
            if until.is_now() {
                break;
            }
            all.work_out(&asked, piece, budget, pieces.len(), &known);
        }
    };
    thread::scope(|scope| {
        scope.spawn(work);
        work();
    });
    Ok(())
}

/// Where what is found goes.
#[derive(Clone, Copy)]
struct Pieces<'a> {
    job: &'a Arc<Job>,
    reports: &'a Reports<Report>,
    until: Until<'a>,
}

impl Pieces<'_> {
    fn tell(self, told: Told) {
        let job = Arc::clone(self.job);
        // The screens may be gone already; then nobody wants to know.
        let _ = self.reports.send(Report::Takes { job, told });
    }

    /// Finds one thing out. What was stopped in the middle says nothing, so it is not told.
    fn work_out(self, asked: &Asked, piece: &Piece<'_>, budget: Budget, of: usize, known: &Mutex<Known>) {
        let mut until = self.until;
        let (row, gain) = match piece {
            Piece::Figure(task) => (Some(task.run(budget, &mut until)), None),
            Piece::KeepOut(task) => (None, Some(task.run(budget, &mut until))),
        };
        if self.until.is_now() {
            return;
        }
        // Told while it is held, so that what is told last is all that is known.
        let mut known = known.lock().unwrap_or_else(PoisonError::into_inner);
        known.done += 1;
        if let Some(row) = row {
            known.rows.push(row);
            self.tell(Told::WhatIf(asked.with_rows(known.rows.clone())));
        }
        if let Some(gain) = gain {
            known.gains.push(gain);
            known
                .gains
                .sort_by_key(|gain| (std::cmp::Reverse(gain.modules()), gain.keep_out));
            self.tell(Told::Gains(known.gains.clone()));
        }
        let _ = self.reports.send(Report::Share {
            job: Arc::clone(self.job),
            done: known.done,
            of: of as u64,
        });
    }
}
