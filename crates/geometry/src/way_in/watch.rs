//! Work counted in steps, and the watcher of a running search.

use crate::fit::{Ended, Unwatched};

/// Steps between two looks at the watcher: about a millisecond of work.
const LOOK_EVERY: u64 = 100_000;

/// How much work may be done, in steps and not in seconds, so that the same question gives the same answer on every
/// machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// One step is one obstacle compared with one part of the moved thing along one line: some 10 ns.
    pub work: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self { work: 60_000_000 }
    }
}

/// What a running search tells, now and then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Work done so far.
    pub done: u64,
    /// Work allowed.
    pub of: u64,
}

/// Watches a search as it runs and may stop it.
pub trait Watch {
    /// Called often; return `false` to stop with what is known so far.
    fn carry_on(&mut self, progress: Progress) -> bool;
}

impl Watch for Unwatched {
    fn carry_on(&mut self, _: Progress) -> bool {
        true
    }
}

/// Counts the work of one question.
pub(super) struct Meter<'w> {
    watch: &'w mut dyn Watch,
    of: u64,
    done: u64,
    ceiling: u64,
    next_look: u64,
    stopped: bool,
}

impl<'w> Meter<'w> {
    pub(super) fn new(budget: Budget, watch: &'w mut dyn Watch) -> Self {
        Self {
            watch,
            of: budget.work,
            done: 0,
            ceiling: budget.work,
            next_look: 0,
            stopped: false,
        }
    }

    /// Counts `steps` as done; whether to carry on.
    pub(super) fn spend(&mut self, steps: u64) -> bool {
        self.done = self.done.saturating_add(steps);
        if self.done >= self.next_look && !self.stopped {
            self.next_look = self.done.saturating_add(LOOK_EVERY);
            let progress = Progress {
                done: self.done.min(self.of),
                of: self.of,
            };
            self.stopped = !self.watch.carry_on(progress);
        }
        !self.stopped && self.done <= self.ceiling
    }

    /// Steps left of the stage at hand.
    pub(super) fn left(&self) -> u64 {
        if self.stopped {
            0
        } else {
            self.ceiling.saturating_sub(self.done)
        }
    }

    /// Runs `stage` with at most `steps` of what is left.
    pub(super) fn stage<T>(&mut self, steps: u64, stage: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.ceiling;
        self.ceiling = before.min(self.done.saturating_add(steps));
        let result = stage(self);
        self.ceiling = before;
        result
    }

    pub(super) fn stopped(&self) -> bool {
        self.stopped
    }

    pub(super) fn done(&self) -> u64 {
        self.done.min(self.of)
    }

    /// Why a search that did not come to an answer ended.
    pub(super) fn ended(&self) -> Ended {
        if self.stopped { Ended::Stopped } else { Ended::Budget }
    }
}
