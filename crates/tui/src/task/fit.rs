//! The automatic layout on a worker: how far it is, and the best so far as a picture.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use geometry::fit::{Budget, Layout, Progress, Watch};
use job::layout::{Aim, NotYet, Question, propose, question, take_over};
use job::{Evaluation, Job, evaluate};

use super::{Found, Report};
use crate::model::Best;
use crate::term::Reports;

/// The screen takes a report no oftener than this; more would only be drawn over.
const BETWEEN_REPORTS: Duration = Duration::from_millis(50);

/// Lays out, telling how far it is, and evaluates what was found.
pub(super) fn run(
    job: &Arc<Job>,
    evaluation: &Evaluation,
    aim: Aim,
    reports: &Reports<Report>,
    stop: &AtomicBool,
) -> Result<Found, NotYet> {
    let mut watcher = Watcher {
        question: question(job, evaluation, aim)?,
        passes: Passes::new(most_passes(aim)),
        job,
        reports,
        stop,
        told: None,
        drawn: None,
        waiting: None,
    };
    let proposal = propose(job, evaluation, aim, Budget::default(), &mut watcher)?;
    let mut candidates = proposal.candidates(job);
    candidates.retain(|candidate| proposal.layout(candidate.index).is_some_and(|layout| layout.count > 0));
    Ok(Found { proposal, candidates })
}

/// The most layouts that are worked out one after another for one answer: with the margin asked for and with three
/// smaller ones, for a wanted number the same again with single modules, and four others to compare with.
const fn most_passes(aim: Aim) -> u64 {
    match aim {
        Aim::Whole => 8,
        Aim::Wanted(_) => 12,
        Aim::Fill(_) | Aim::Box(_) => 1,
    }
}

/// Several pieces of work one after another, counted as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Passes {
    most: u64,
    before: u64,
    last: u64,
}

impl Passes {
    const fn new(most: u64) -> Self {
        Self {
            most,
            before: 0,
            last: 0,
        }
    }

    /// Steps done of all that are allowed; never goes down.
    fn share(&mut self, progress: Progress) -> (u64, u64) {
        if progress.done < self.last {
            self.before = (self.before + 1).min(self.most - 1);
        }
        self.last = progress.done;
        (
            self.before * progress.of + progress.done.min(progress.of),
            self.most * progress.of,
        )
    }

    /// Whether the first is over.
    const fn is_later(self) -> bool {
        self.before > 0
    }
}

struct Watcher<'a> {
    job: &'a Arc<Job>,
    question: Question,
    passes: Passes,
    reports: &'a Reports<Report>,
    stop: &'a AtomicBool,
    /// When the last share was told.
    told: Option<Instant>,
    /// When the last picture was sent.
    drawn: Option<Instant>,
    /// The best layout so far, when it is not sent yet.
    waiting: Option<Layout>,
}

fn is_due(last: Option<Instant>) -> bool {
    last.is_none_or(|at| at.elapsed() >= BETWEEN_REPORTS)
}

impl Watcher<'_> {
    fn tell(&mut self, progress: Progress) {
        let (done, of) = self.passes.share(progress);
        if !is_due(self.told) {
            return;
        }
        self.told = Some(Instant::now());
        let job = || Arc::clone(self.job);
        // The screens may be gone already; then nobody wants to know.
        let _ = self.reports.send(Report::Share { job: job(), done, of });
        // Before the bound is worked out there is nothing to tell.
        if progress.upper_bound > 0 {
            let best = Best {
                count: progress.count,
                at_most: progress.upper_bound,
                narrower: self.passes.is_later(),
            };
            let _ = self.reports.send(Report::Best { job: job(), best });
        }
    }

    /// Sends the job as the best layout so far would make it: evaluated here, so that drawing never waits for it.
    fn picture(&mut self) {
        if !is_due(self.drawn) {
            return;
        }
        let Some(layout) = self.waiting.take() else { return };
        self.drawn = Some(Instant::now());
        if let Ok(then) = self.job.with(&take_over(self.job, &self.question, &layout)) {
            let _ = self.reports.send(Report::Better {
                job: Arc::clone(self.job),
                evaluation: Box::new(evaluate(&then)),
            });
        }
    }
}

impl Watch for Watcher<'_> {
    fn carry_on(&mut self, progress: Progress) -> bool {
        if self.stop.load(Ordering::Relaxed) {
            return false;
        }
        self.tell(progress);
        self.picture();
        true
    }

    fn better(&mut self, layout: &Layout) {
        self.waiting = Some(layout.clone());
        self.picture();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc;

    use geometry::fit::{self, Unwatched};

    use super::*;

    fn progress(done: u64) -> Progress {
        Progress {
            done,
            of: 100,
            count: 0,
            upper_bound: 0,
        }
    }

    #[test]
    fn work_over_several_margins_is_one_share_that_never_goes_down() {
        let mut passes = Passes::new(4);
        let shares = [0, 60, 100, 5, 70, 2, 100].map(|done| passes.share(progress(done)));
        assert_eq!(shares.map(|(done, _)| done), [0, 60, 100, 105, 170, 202, 300]);
        assert!(shares.iter().all(|(_, of)| *of == 400));
        assert!(passes.is_later());
    }

    #[test]
    fn more_passes_than_were_thought_of_do_not_go_beyond_the_whole() {
        let mut passes = Passes::new(1);
        assert_eq!(passes.share(progress(90)), (90, 100));
        assert_eq!(passes.share(progress(10)), (10, 100));
        assert!(!passes.is_later());
    }

    /// A better layout becomes a picture of the job with it; one that comes too soon waits, and the latest wins.
    #[test]
    fn the_latest_better_layout_is_sent_when_it_is_due() {
        let text = job::example("orchard-flatbed").unwrap().text;
        let job = Arc::new(job::load(text.as_bytes()).unwrap());
        let evaluation = evaluate(&job);
        let asked = question(&job, &evaluation, Aim::Whole).unwrap();
        let answer = fit::fit(&asked.request, Budget::default(), &mut Unwatched).unwrap();
        let layout = &answer.layouts[0];
        let (sender, receiver) = mpsc::channel();
        let stop = AtomicBool::new(false);
        let mut watcher = Watcher {
            job: &job,
            question: asked,
            passes: Passes::new(4),
            reports: &sender,
            stop: &stop,
            told: Some(Instant::now()),
            drawn: None,
            waiting: None,
        };
        let mut fewer = layout.clone();
        fewer.placements.truncate(1);
        watcher.better(&fewer);
        watcher.better(layout);
        let placed = |report: Report| match report {
            Report::Better { evaluation, .. } => evaluation.headline.placed,
            other => panic!("{other:?}"),
        };
        assert_eq!(receiver.try_iter().map(placed).collect::<Vec<_>>(), [1]);
        assert_eq!(watcher.waiting.as_ref().map(|l| l.count), Some(layout.count));
        watcher.drawn = None;
        assert!(watcher.carry_on(progress(1)));
        assert_eq!(receiver.try_iter().map(placed).collect::<Vec<_>>(), [layout.count]);
        stop.store(true, Ordering::Relaxed);
        assert!(!watcher.carry_on(progress(2)));
    }
}
