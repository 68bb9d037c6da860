//! What several tests of the job need.
#![allow(dead_code, unreachable_pub, reason = "each test program uses its own part of this")]

use job::{Evaluation, Job, example, load};

/// A built-in job.
pub fn built_in(name: &str) -> Job {
    load(example(name).expect("a built-in job").text.as_bytes()).expect("built-in jobs load")
}

/// A built-in job with its cavities taken as square and at their smallest readings, nothing held back: for tests of what
/// is laid out, whose figures are not to follow every change of what the tape is trusted with.
pub fn plain(name: &str) -> Job {
    let mut job = built_in(name);
    job.settings.sigmas = job::Sigmas::new(0.0);
    for cavity in &mut job.cavities {
        cavity.readings.retain(|r| r.line.dimension().is_some());
    }
    job
}

/// What must hold between the figures of any evaluation.
pub fn assert_consistent(job: &Job, evaluation: &Evaluation) {
    for battery_box in &evaluation.boxes {
        assert!(job.cavity(battery_box.cavity).is_some(), "a box stands in a cavity");
        for ledger in &battery_box.ledgers {
            let sum: tape::Length = ledger.entries.iter().map(|e| e.length).sum();
            assert_eq!(
                sum,
                ledger.total,
                "{} {}: entries and total",
                battery_box.name,
                ledger.axis.extent_name()
            );
            let space = evaluation.cavity(battery_box.cavity).and_then(|c| c.space);
            assert_eq!(
                Some(ledger.total),
                space.map(|s| s.size()[ledger.axis]),
                "{} {}: total and cavity",
                battery_box.name,
                ledger.axis.extent_name()
            );
        }
        let modules: u32 = battery_box.modules.iter().map(|m| m.count).sum();
        assert!(modules <= evaluation.headline.placed);
    }
    let stops = evaluation
        .findings
        .iter()
        .filter(|f| f.grave == job::Grave::Stop)
        .count();
    assert_eq!(stops, evaluation.headline.stops);
    assert!(evaluation.findings.is_sorted_by_key(|f| f.grave));
    for finding in &evaluation.findings {
        assert!(!finding.words.is_empty() && !finding.name.is_empty(), "{finding:?}");
    }
}

/// Numbers that are the same on every run: splitmix64, by its definition.
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 up to, but not, `n`; 0 for none.
    pub fn below(&mut self, n: usize) -> usize {
        if n == 0 {
            0
        } else {
            usize::try_from(self.next() % n as u64).expect("below a usize")
        }
    }
}
