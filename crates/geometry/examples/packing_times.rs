//! Prints how the automatic layout does on the packing cases: count, bound, what proved it, milliseconds by the clock
//! and of processor time, and the longest time without a look at the watcher.
//!
//! `cargo run --release -p geometry --example packing_times [-- NAME-PART]`

#[path = "../tests/common/mod.rs"]
mod common;

use std::time::{Duration, Instant};

use geometry::fit::{Budget, Progress, Watch, fit};

/// Notes when the best count was first there, and the longest time without a look.
struct Clock {
    start: Instant,
    count: u32,
    at: Duration,
    last: Instant,
    silence: Duration,
}

impl Watch for Clock {
    fn carry_on(&mut self, progress: Progress) -> bool {
        self.silence = self.silence.max(self.last.elapsed());
        self.last = Instant::now();
        if progress.count > self.count {
            self.count = progress.count;
            self.at = self.start.elapsed();
        }
        true
    }
}

/// Processor time that this program has used, all threads together.
fn processor() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ProcessCPUTime);
    let nanoseconds = u32::try_from(time.tv_nsec).expect("below a second");
    Duration::new(u64::try_from(time.tv_sec).expect("not before the start"), nanoseconds)
}

#[expect(clippy::print_stdout, reason = "a program that prints")]
fn main() {
    let part = std::env::args().nth(1).unwrap_or_default();
    println!(
        "{:<34} {:>5} {:>5} {:>11} {:>6} {:>9} {:>9} {:>8} {:>8} {:>8}  by",
        "case", "count", "bound", "known", "proved", "best ms", "end ms", "cpu ms", "k steps", "silence"
    );
    for case in common::packing_cases().iter().filter(|case| case.name.contains(&part)) {
        let mut clock = Clock {
            start: Instant::now(),
            count: 0,
            at: Duration::ZERO,
            last: Instant::now(),
            silence: Duration::ZERO,
        };
        let before = processor();
        let answer = fit(&case.request, Budget::default(), &mut clock).expect("the cases are sound");
        clock.silence = clock.silence.max(clock.last.elapsed());
        let count = answer.layouts[0].count;
        let short = if count < case.best_known { " SHORT" } else { "" };
        println!(
            "{:<34} {count:>5} {:>5} {:>4}..{:<5} {:>6} {:>9.2} {:>9.2} {:>8.2} {:>8} {:>8.2}  {}{short}",
            case.name,
            answer.upper_bound,
            case.best_known,
            case.upper_bound,
            if answer.proved { "yes" } else { "-" },
            clock.at.as_secs_f64() * 1e3,
            clock.start.elapsed().as_secs_f64() * 1e3,
            processor().saturating_sub(before).as_secs_f64() * 1e3,
            answer.work / 1000,
            clock.silence.as_secs_f64() * 1e3,
            answer.bound_by.words(),
        );
    }
}
