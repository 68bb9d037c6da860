//! Bars filled one after the other, each as full as can be (minimum bin slack).

use super::{Job, Pattern};
use crate::nest::cover::{Counts, subtract};
use crate::nest::meter::{Dice, Meter};

/// Bars, and what is on none of them.
pub(super) struct Found {
    pub(super) bars: Vec<Pattern>,
    /// Of each class, what no bar was there for.
    pub(super) over: Counts,
}

impl Found {
    /// Whether it leaves out less, or buys fewer bars.
    pub(super) fn is_better(&self, other: &Self, job: &Job) -> bool {
        let key = |found: &Self| {
            let over: u64 = found.over.iter().map(|&n| u64::from(n)).sum();
            (over, job.count_bought(&found.bars), found.bars.len())
        };
        key(self) < key(other)
    }
}

/// Steps for filling one bar.
const FOR_FILL: u32 = 3_000;

/// Fills bars in the given order of classes, longest first.
pub(super) fn first(job: &Job) -> Found {
    let order: Vec<usize> = (0..job.each.len()).collect();
    let on_hand_first = fill_all(job, &order, true).0;
    let bought_first = fill_all(job, &order, false).0;
    if bought_first.is_better(&on_hand_first, job) {
        bought_first
    } else {
        on_hand_first
    }
}

/// Fills bars with classes in an order that is longest first but for some luck.
pub(super) fn round(job: &Job, dice: &mut Dice, meter: &mut Meter<'_>) -> Found {
    let mut order: Vec<usize> = (0..job.each.len()).collect();
    let swaps = 1 + dice.below(order.len());
    for _ in 0..swaps {
        let (at, by) = (dice.below(order.len()), dice.below(5));
        let other = (at + by).min(order.len() - 1);
        order.swap(at, other);
    }
    let (found, steps) = fill_all(job, &order, dice.below(4) > 0);
    meter.spend(steps);
    found
}

fn fill_all(job: &Job, order: &[usize], on_hand_first: bool) -> (Found, u64) {
    let mut left = job.counts.clone();
    let mut available = job.on_hand.clone();
    let mut bars: Vec<Pattern> = Vec::new();
    let mut work = 0_u64;
    // Shortest on hand first; a bar bought is the longest there is.
    let mut own: Vec<usize> = (0..job.stock.len()).filter(|&kind| !job.bought[kind]).collect();
    own.sort_by_key(|&kind| job.stock[kind]);
    let bought = job.longest_bought();
    let mut over = vec![0; left.len()];
    if on_hand_first {
        for &kind in &own {
            while available[kind] > 0 {
                let fill = fill(job, order, &left, kind, false, &mut work);
                if fill.iter().all(|&n| n == 0) {
                    break;
                }
                available[kind] -= 1;
                subtract(&mut left, &fill);
                bars.push((kind, fill));
            }
        }
    }
    while let Some(&pivot) = order.iter().find(|&&class| left[class] > 0) {
        let kind = bought.filter(|&kind| job.stock[kind] >= job.each[pivot]).or_else(|| {
            own.iter()
                .copied()
                .find(|&kind| available[kind] > 0 && job.stock[kind] >= job.each[pivot])
        });
        let Some(kind) = kind else {
            over[pivot] = left[pivot];
            left[pivot] = 0;
            continue;
        };
        if !job.bought[kind] {
            available[kind] -= 1;
        }
        let fill = fill(job, order, &left, kind, true, &mut work);
        subtract(&mut left, &fill);
        bars.push((kind, fill));
    }
    if !on_hand_first {
        move_to_own(job, &own, &mut available, &mut bars);
    }
    (Found { bars, over }, work)
}

/// Moves what is on the emptiest bought bars to bars on hand that hold it as it is.
fn move_to_own(job: &Job, own: &[usize], available: &mut Counts, bars: &mut [Pattern]) {
    for (kind, counts) in bars.iter_mut().rev().filter(|(kind, _)| job.bought[*kind]) {
        let needed: i64 = counts.iter().zip(&job.each).map(|(&n, each)| i64::from(n) * each).sum();
        let own = own
            .iter()
            .copied()
            .find(|&own| available[own] > 0 && job.stock[own] >= needed);
        if let Some(own) = own {
            available[own] -= 1;
            *kind = own;
        }
    }
}

/// What fills one bar best; `with_first`: the first class in the order that is left is on it.
fn fill(job: &Job, order: &[usize], left: &Counts, kind: usize, with_first: bool, work: &mut u64) -> Counts {
    let classes: Vec<usize> = order.iter().copied().filter(|&class| left[class] > 0).collect();
    let mut now = vec![0; left.len()];
    let mut room = job.stock[kind];
    if let (true, Some(&first)) = (with_first, classes.first()) {
        now[first] = 1;
        room -= job.each[first];
    }
    let mut fill = Fill {
        job,
        left,
        classes: &classes,
        best: now.clone(),
        best_room: room,
        now,
        steps: 0,
    };
    fill.from(0, room);
    *work += u64::from(fill.steps);
    fill.best
}

struct Fill<'a> {
    job: &'a Job,
    left: &'a Counts,
    classes: &'a [usize],
    now: Counts,
    best: Counts,
    best_room: i64,
    steps: u32,
}

impl Fill<'_> {
    fn from(&mut self, at: usize, room: i64) {
        self.steps += 1;
        if room < self.best_room {
            self.best_room = room;
            self.best.clone_from(&self.now);
        }
        for next in at..self.classes.len() {
            if self.best_room == 0 || self.steps >= FOR_FILL {
                return;
            }
            let class = self.classes[next];
            if self.job.each[class] <= room && self.now[class] < self.left[class] {
                self.now[class] += 1;
                self.from(next, room - self.job.each[class]);
                self.now[class] -= 1;
            }
        }
    }
}
