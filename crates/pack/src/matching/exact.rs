//! Searching groupings whose sums all lie in a window: the largest unit that is left goes with every set of others that
//! keeps its group in the window, or is left out. Narrowing the window proves that nothing better exists.

use super::Proof;
use super::heuristic::{bettered, dealt};

type Grouping = Vec<Vec<usize>>;

/// What came of looking for a grouping.
enum Found {
    Yes(Grouping),
    No,
    /// The work ran out.
    Unknown,
}

/// What every group's sum must keep to.
#[derive(Clone, Copy)]
struct Window {
    low: i64,
    high: i64,
    /// How far sums may be apart, whatever they are.
    apart: i64,
}

pub(super) struct Search<'a> {
    units: &'a [i64],
    groups: usize,
    per_group: usize,
    /// All units, largest first.
    order: Vec<usize>,
    work: u64,
    spent: u64,
}

impl<'a> Search<'a> {
    pub(super) fn new(units: &'a [i64], groups: usize, per_group: usize, work: u64) -> Self {
        let mut order: Vec<usize> = (0..units.len()).collect();
        order.sort_by_key(|&i| (std::cmp::Reverse(units[i]), i));
        Self {
            units,
            groups,
            per_group,
            order,
            work,
            spent: 0,
        }
    }

    pub(super) const fn spent(&self) -> u64 {
        self.spent
    }

    fn places(&self) -> usize {
        self.groups * self.per_group
    }

    /// The weakest group as strong as can be, then the sums as alike as can be.
    pub(super) fn strongest(&mut self) -> (Grouping, Proof) {
        let places = self.places();
        // The strongest units: exchanging a used one for a stronger spare never weakens a group.
        let strong = self.order[..places].to_vec();
        let mut best = dealt(self.units, &strong, self.groups, self.per_group);
        let mut spares = self.order[places..].to_vec();
        if self.per_group > 2 {
            self.spent += bettered(self.units, &mut best, &mut spares, self.work / 4);
        }
        let total: i64 = strong.iter().map(|&i| self.units[i]).sum();
        let count = i64::try_from(self.groups).unwrap_or(i64::MAX);
        let mut at_most = total.div_euclid(count);
        if self.per_group == 2 {
            // Pairs are best by sorting.
            at_most = smallest(self.units, &best);
        }
        let mut known = smallest(self.units, &best);
        let mut sure = true;
        while known < at_most {
            // The bound itself first: with many units it is often reached.
            let tried = if sure && at_most - known > 2 {
                at_most
            } else {
                known + (at_most - known + 1) / 2
            };
            let window = Window {
                low: tried,
                high: total - tried * (count - 1),
                apart: i64::MAX,
            };
            match self.find(&strong, 0, window) {
                Found::Yes(grouping) => {
                    known = smallest(self.units, &grouping);
                    best = grouping;
                }
                Found::No => at_most = tried - 1,
                Found::Unknown => break,
            }
            sure = false;
        }
        if known < at_most {
            return (best, Proof::AtMost(at_most));
        }
        self.as_alike(best, known, total)
    }

    /// The same smallest sum with the largest as small as can be.
    fn as_alike(&mut self, mut best: Grouping, low: i64, total: i64) -> (Grouping, Proof) {
        let spares = self.units.len() - self.places();
        if self.per_group == 2 && spares == 0 {
            return (best, Proof::Proved);
        }
        let count = i64::try_from(self.groups).unwrap_or(i64::MAX);
        let all = self.order.clone();
        let mut high = largest(self.units, &best);
        // With nothing left out the mean is fixed, and the largest is at least that.
        let mut at_least = if spares == 0 { -(-total).div_euclid(count) } else { low };
        let mut first = true;
        while at_least < high {
            let tried = if first {
                at_least
            } else {
                at_least + (high - at_least) / 2
            };
            let window = Window {
                low,
                high: tried,
                apart: i64::MAX,
            };
            match self.find(&all, spares, window) {
                Found::Yes(grouping) => {
                    high = largest(self.units, &grouping);
                    best = grouping;
                }
                Found::No => at_least = tried + 1,
                Found::Unknown => return (best, Proof::FirstProved),
            }
            first = false;
        }
        (best, Proof::Proved)
    }

    /// The sums as alike as can be.
    pub(super) fn alike(&mut self) -> (Grouping, Proof) {
        let (mut best, _) = self.strongest();
        let spares = self.units.len() - self.places();
        let all = self.order.clone();
        let mut apart = largest(self.units, &best) - smallest(self.units, &best);
        let mut at_least = 0;
        // What the first goal spent is not charged to the second.
        self.work += self.spent;
        while at_least < apart {
            let tried = at_least + (apart - at_least) / 2;
            let window = Window {
                low: i64::MIN,
                high: i64::MAX,
                apart: tried,
            };
            match self.find(&all, spares, window) {
                Found::Yes(grouping) => {
                    apart = largest(self.units, &grouping) - smallest(self.units, &grouping);
                    best = grouping;
                }
                Found::No => at_least = tried + 1,
                Found::Unknown => {
                    let strongest: i64 = all[..self.places()].iter().map(|&i| self.units[i]).sum();
                    let count = i64::try_from(self.groups).unwrap_or(i64::MAX);
                    return (best, Proof::AtMost(strongest.div_euclid(count)));
                }
            }
        }
        (best, Proof::Proved)
    }

    /// A grouping of `order` (largest first) with every sum in the window and at most `spares` left out.
    fn find(&mut self, order: &[usize], spares: usize, window: Window) -> Found {
        if window.low > window.high {
            return Found::No;
        }
        let mut made = Vec::with_capacity(self.groups);
        match self.next_group(&mut order.to_vec(), spares, window, &mut made) {
            Some(true) => Found::Yes(made),
            Some(false) => Found::No,
            None => Found::Unknown,
        }
    }

    /// Makes the group of the largest unit left, or leaves it out; `None` when the work ran out.
    fn next_group(
        &mut self,
        left: &mut Vec<usize>,
        spares: usize,
        window: Window,
        made: &mut Grouping,
    ) -> Option<bool> {
        let more = self.groups - made.len();
        if more == 0 {
            return Some(true);
        }
        let places = more * self.per_group;
        if !self.may_fill(left, more, places, window) {
            return Some(false);
        }
        let first = left.remove(0);
        let mut chosen = vec![first];
        let found = self.complete(left, 0, &mut chosen, self.units[first], spares, window, made);
        if found != Some(false) {
            return found;
        }
        let mut result = Some(false);
        if spares > 0 {
            result = self.next_group(left, spares - 1, window, made);
        }
        if result != Some(true) {
            left.insert(0, first);
        }
        result
    }

    /// Whether what is left could fill the groups at all, by its sum.
    fn may_fill(&self, left: &[usize], more: usize, places: usize, window: Window) -> bool {
        if left.len() < places {
            return false;
        }
        let sum = |part: &[usize]| -> i128 { part.iter().map(|&i| i128::from(self.units[i])).sum() };
        let more = more as i128;
        let most = sum(&left[..places]);
        let least = sum(&left[left.len() - places..]);
        most >= more * i128::from(window.low) && least <= more * i128::from(window.high)
    }

    /// Adds units from `from` on to the group begun, largest first, and goes on with the next group once it is full.
    #[expect(clippy::too_many_arguments, reason = "one step of a recursion: its whole state")]
    fn complete(
        &mut self,
        left: &mut Vec<usize>,
        from: usize,
        chosen: &mut Vec<usize>,
        sum: i64,
        spares: usize,
        window: Window,
        made: &mut Grouping,
    ) -> Option<bool> {
        self.spent += 1;
        if self.spent > self.work {
            return None;
        }
        let need = self.per_group - chosen.len();
        if need == 0 {
            if sum < window.low || sum > window.high {
                return Some(false);
            }
            let narrower = Window {
                low: window.low.max(sum.saturating_sub(window.apart)),
                high: window.high.min(sum.saturating_add(window.apart)),
                apart: window.apart,
            };
            made.push(chosen.clone());
            let found = self.next_group(left, spares, narrower, made);
            if found != Some(true) {
                made.pop();
            }
            return found;
        }
        if left.len() < from + need {
            return Some(false);
        }
        let mut before = None;
        for at in from..=left.len() - need {
            let unit = left[at];
            let value = self.units[unit];
            if before == Some(value) {
                continue;
            }
            before = Some(value);
            // The most and the least that the group can come to with this unit next.
            let most: i64 = left[at..at + need].iter().map(|&i| self.units[i]).sum();
            if sum + most < window.low {
                break;
            }
            let least: i64 = value
                + left[left.len() - (need - 1)..]
                    .iter()
                    .map(|&i| self.units[i])
                    .sum::<i64>();
            if sum + least > window.high {
                continue;
            }
            left.remove(at);
            chosen.push(unit);
            let found = self.complete(left, at, chosen, sum + value, spares, window, made);
            if found != Some(false) {
                return found;
            }
            chosen.pop();
            left.insert(at, unit);
        }
        Some(false)
    }
}

fn sums(units: &[i64], grouping: &[Vec<usize>]) -> Vec<i64> {
    grouping.iter().map(|g| g.iter().map(|&i| units[i]).sum()).collect()
}

fn smallest(units: &[i64], grouping: &[Vec<usize>]) -> i64 {
    sums(units, grouping).into_iter().min().unwrap_or(0)
}

fn largest(units: &[i64], grouping: &[Vec<usize>]) -> i64 {
    sums(units, grouping).into_iter().max().unwrap_or(0)
}
