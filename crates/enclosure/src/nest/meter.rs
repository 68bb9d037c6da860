//! Work counted in steps, the watcher asked now and then, and even numbers in a fixed order.

/// How much work may be done: counted in steps, not seconds, so that the same request with the same budget gives the
/// same answer on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Steps of search; one step is about one place tried for one part.
    pub work: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self { work: 40_000_000 }
    }
}

/// What a running nest tells, now and then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Work done so far.
    pub done: u64,
    /// Work allowed.
    pub of: u64,
    /// Sheets (or bars) to buy for the best nest so far.
    pub sheets: u32,
    /// It cannot be fewer than so many.
    pub at_least: u32,
}

/// Watches a nest as it runs and may stop it.
pub trait Watch {
    /// Called often (at least every 10 ms of work); return `false` to stop with the best found so far.
    fn carry_on(&mut self, progress: Progress) -> bool;
}

/// Watches nothing and never stops.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn carry_on(&mut self, _: Progress) -> bool {
        true
    }
}

/// How a nest ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Nothing was left to try.
    Done,
    /// The budget was used up.
    Budget,
    /// The watcher said stop.
    Stopped,
}

/// Steps between two looks at the watcher: a few milliseconds of work.
const LOOK_EVERY: u64 = 50_000;

/// Counts the work of one nest.
pub(super) struct Meter<'w> {
    watch: &'w mut dyn Watch,
    of: u64,
    done: u64,
    ceiling: u64,
    next_look: u64,
    stopped: bool,
    sheets: u32,
    at_least: u32,
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
            sheets: u32::MAX,
            at_least: 0,
        }
    }

    /// Notes a bound that the watcher is told; never goes down.
    pub(super) fn tell_bound(&mut self, at_least: u32) {
        self.at_least = self.at_least.max(at_least);
    }

    /// Notes a count that the watcher is told; never goes up.
    pub(super) fn tell_count(&mut self, sheets: u32) {
        self.sheets = self.sheets.min(sheets);
    }

    /// Counts `steps` as done; whether to carry on.
    pub(super) fn spend(&mut self, steps: u64) -> bool {
        self.done += steps;
        if self.done >= self.next_look && !self.stopped {
            self.next_look = self.done + LOOK_EVERY;
            let progress = Progress {
                done: self.done.min(self.of),
                of: self.of,
                sheets: self.sheets.max(self.at_least),
                at_least: self.at_least,
            };
            self.stopped = !self.watch.carry_on(progress);
        }
        self.goes_on()
    }

    /// Whether neither the watcher nor the ceiling says stop.
    pub(super) fn goes_on(&self) -> bool {
        !self.stopped && self.done < self.ceiling
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

/// A small generator of even numbers in a fixed order (xorshift; Marsaglia 2003, from memory).
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new() -> Self {
        Self(0x9E37_79B9_7F4A_7C15)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below `n`, which must be above zero.
    pub(super) fn below(&mut self, n: usize) -> usize {
        let wide = u128::from(self.next()) * n as u128;
        usize::try_from(wide >> 64).unwrap_or(0)
    }
}
