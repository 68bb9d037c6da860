//! Steps counted over many questions, and the watcher that is told of them.

use geometry::way_in::{Budget, Progress, Watch};

/// What is left of the work, and whether it was told to stop.
pub(super) struct Meter<'w> {
    watch: &'w mut dyn FnMut(u64) -> bool,
    of: u64,
    each: u64,
    done: u64,
    pub(super) stopped: bool,
}

impl<'w> Meter<'w> {
    pub(super) fn new(of: u64, watch: &'w mut dyn FnMut(u64) -> bool) -> Self {
        Self {
            watch,
            of,
            each: u64::MAX,
            done: 0,
            stopped: false,
        }
    }

    /// A budget for one question of at most so many steps.
    pub(super) fn budget(&self, most: u64) -> Budget {
        self.whole(most.min(self.each))
    }

    /// A budget for many questions at once.
    pub(super) fn whole(&self, most: u64) -> Budget {
        Budget {
            work: self.left().min(most),
        }
    }

    /// Steps left.
    pub(super) const fn left(&self) -> u64 {
        if self.stopped {
            0
        } else {
            self.of.saturating_sub(self.done)
        }
    }

    /// Runs `stage` with at most `work` of what is left, and `each` of it for one question.
    pub(super) fn stage<T>(&mut self, work: u64, each: u64, stage: impl FnOnce(&mut Self) -> T) -> T {
        let before = (self.of, self.each);
        self.of = self.of.min(self.done.saturating_add(work));
        self.each = self.each.min(each);
        let result = stage(self);
        (self.of, self.each) = before;
        result
    }

    /// Counts what a question took.
    pub(super) fn spent(&mut self, steps: u64) {
        self.done = self.done.saturating_add(steps);
        self.stopped = self.stopped || !(self.watch)(self.done.min(self.of));
    }

    pub(super) const fn done(&self) -> u64 {
        self.done
    }
}

impl Watch for Meter<'_> {
    fn carry_on(&mut self, progress: Progress) -> bool {
        let done = self.done.saturating_add(progress.done).min(self.of);
        self.stopped = self.stopped || !(self.watch)(done);
        !self.stopped
    }
}
