//! Work counted in steps, and the watcher asked now and then.

use super::{Budget, Ended, Progress, Watch};

/// Steps between two looks at the watcher: well under 5 ms of work.
const LOOK_EVERY: u64 = 500;

/// Counts the work of one fit.
pub(super) struct Meter<'w> {
    watch: &'w mut dyn Watch,
    of: u64,
    done: u64,
    ceiling: u64,
    next_look: u64,
    stopped: bool,
    count: u32,
    bound: u32,
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
            count: 0,
            bound: 0,
        }
    }

    /// Notes the bound that the watcher is told.
    pub(super) fn tell_bound(&mut self, bound: u32) {
        self.bound = bound;
    }

    /// Notes the best count so far that the watcher is told; never goes down.
    pub(super) fn tell_count(&mut self, count: u32) {
        self.count = self.count.max(count);
    }

    /// Counts `steps` as done; whether to carry on.
    pub(super) fn spend(&mut self, steps: u64) -> bool {
        self.done += steps;
        if self.done >= self.next_look && !self.stopped {
            self.next_look = self.done + LOOK_EVERY;
            let progress = Progress {
                done: self.done.min(self.of),
                of: self.of,
                count: self.count.min(self.bound),
                upper_bound: self.bound,
            };
            self.stopped = !self.watch.carry_on(progress);
        }
        self.goes_on()
    }

    /// Whether neither the watcher nor the ceiling says stop.
    pub(super) fn goes_on(&self) -> bool {
        !self.stopped && self.done < self.ceiling
    }

    /// Whether the watcher said stop.
    pub(super) fn stopped(&self) -> bool {
        self.stopped
    }

    /// Steps left of the stage at hand.
    pub(super) fn left(&self) -> u64 {
        self.ceiling.saturating_sub(self.done)
    }

    /// Runs `stage` with at most `steps` of the budget.
    pub(super) fn stage<T>(&mut self, steps: u64, stage: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.ceiling;
        self.ceiling = before.min(self.done.saturating_add(steps));
        let result = stage(self);
        self.ceiling = before;
        result
    }

    pub(super) fn done(&self) -> u64 {
        self.done.min(self.of)
    }

    pub(super) fn ended(&self) -> Ended {
        if self.stopped {
            Ended::Stopped
        } else if self.done >= self.of {
            Ended::Budget
        } else {
            Ended::Done
        }
    }
}

/// A small generator of even numbers in a fixed order for a seed (splitmix64; Steele, Lea and Flood 2014, from memory).
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `n`, which must be above zero.
    pub(super) fn below(&mut self, n: usize) -> usize {
        let n = u128::try_from(n).unwrap_or(1);
        usize::try_from((u128::from(self.next()) * n) >> 64).unwrap_or(0)
    }

    /// A number between two others.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        // The upper 32 bits are as even as the rest.
        let share = f64::from(u32::try_from(self.next() >> 32).unwrap_or(0)) / f64::from(u32::MAX);
        low + (high - low) * share
    }
}
