//! Which unit goes with which: units in parallel make a group, and the weakest group limits the pack.
//!
//! Groups of fixed size that are as strong as can be are balanced multi-way number partitioning: hard in general, but a
//! shop's numbers are small. [`match_groups`] proves its answer where it can within its budget, and else tells how much
//! stronger the weakest group could be at most.

mod check;
mod exact;
mod figures;
mod free;
mod heuristic;
mod join;
mod rough;

pub use check::{Outliers, outliers};
pub use figures::{
    CurrentShare, LotSpread, Weakest, current_share, label_order, lot_spread, mean_of_random, mean_of_random_strings,
    shuffled, smallest_sum, strings_sum, weakest_group,
};
pub use free::{Freely, divide_freely};
pub use join::{Joining, joining, settled_charge, widest};

use exact::Search;

/// What is wanted of the groups.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Goal {
    /// The weakest group as strong as can be; then all groups as alike as can be.
    #[default]
    Strongest,
    /// All groups as alike as can be, whatever that costs the weakest.
    Alike,
}

/// How sure an answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// No grouping is better in what was wanted, and none of those is more alike.
    Proved,
    /// The first thing wanted is proved, how alike the groups could be is not.
    FirstProved,
    /// No grouping is known to be better; the weakest group is at most so strong in any.
    AtMost(i64),
}

/// Units in groups.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matching {
    /// The units of each group, by their place in the list that was given.
    pub groups: Vec<Vec<usize>>,
    /// The capacity of each group.
    pub sums: Vec<i64>,
    /// Units in no group.
    pub left_out: Vec<usize>,
    /// What was wanted.
    pub goal: Goal,
    /// How sure it is.
    pub proof: Proof,
    /// Steps of search that it took.
    pub work: u64,
}

impl Matching {
    /// The capacity of the weakest group.
    pub fn smallest(&self) -> i64 {
        self.sums.iter().copied().min().unwrap_or(0)
    }

    /// What the pack has when these are groups in series: matched so, in the order given, and by chance on average.
    pub fn compared_as_groups(&self, units: &[i64]) -> [f64; 3] {
        let (groups, per_group) = self.shape();
        #[expect(clippy::cast_precision_loss, reason = "capacities are far below 2^53")]
        let number = |sum: i64| sum as f64;
        [
            number(self.smallest()),
            number(label_order(units, groups, per_group)),
            mean_of_random(units, groups, per_group, BY_CHANCE, 1),
        ]
    }

    /// What the pack has when these are strings side by side: matched so, in the order given, and by chance on average.
    pub fn compared_as_strings(&self, units: &[i64]) -> [f64; 3] {
        let (parallel, series) = self.shape();
        #[expect(clippy::cast_precision_loss, reason = "capacities are far below 2^53")]
        let number = |sum: i64| sum as f64;
        [
            number(self.sums.iter().sum()),
            number(strings_sum(units, series, parallel)),
            mean_of_random_strings(units, series, parallel, BY_CHANCE, 0),
        ]
    }

    /// How many groups or strings, and how many units in each.
    fn shape(&self) -> (usize, usize) {
        (self.groups.len(), self.groups.first().map_or(0, Vec::len))
    }

    /// How far the strongest group is above the weakest.
    pub fn spread(&self) -> i64 {
        self.sums.iter().copied().max().unwrap_or(0) - self.smallest()
    }
}

/// Steps of search that are enough for a shop's numbers, and take well under a second.
pub const WORK: u64 = 3_000_000;

/// Orders by chance that a mean is taken of.
pub const BY_CHANCE: u32 = 200;

/// The most units that are looked at.
pub const MOST_UNITS: usize = 4_096;

/// Puts `units` (capacities, in any whole unit) into `groups` groups of `per_group`, the rest left out.
///
/// `ohms`: the resistance of each unit where known, used to make groups alike in it where that costs nothing; empty for
/// none. `work`: steps of search at most. The same input gives the same answer.
///
/// `None` when there are too few units, none are asked for, or more than [`MOST_UNITS`].
pub fn match_groups(
    units: &[i64],
    ohms: &[Option<f64>],
    groups: usize,
    per_group: usize,
    goal: Goal,
    work: u64,
) -> Option<Matching> {
    let needed = groups.checked_mul(per_group)?;
    if needed == 0 || units.len() < needed || units.len() > MOST_UNITS {
        return None;
    }
    let mut search = Search::new(units, groups, per_group, work);
    let (mut grouping, proof) = match goal {
        Goal::Strongest => search.strongest(),
        Goal::Alike => search.alike(),
    };
    if ohms.iter().flatten().next().is_some() {
        rough::alike_in_ohms(units, ohms, &mut grouping);
    }
    Some(finished(units, grouping, goal, proof, search.spent()))
}

/// Puts units into strings: each string is as strong as its weakest unit, and the strings' amp-hours add up. Strongest
/// units first, string after string, is best: exchanging a unit of one string for a weaker one of a later string can
/// lower the first string's weakest and never raises the sum.
pub fn match_strings(units: &[i64], series: usize, parallel: usize) -> Option<Matching> {
    let needed = series.checked_mul(parallel)?;
    if needed == 0 || units.len() < needed || units.len() > MOST_UNITS {
        return None;
    }
    let mut order: Vec<usize> = (0..units.len()).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(units[i]), i));
    let strings: Vec<Vec<usize>> = order[..needed].chunks(series).map(<[usize]>::to_vec).collect();
    let sums = strings
        .iter()
        .map(|string| string.iter().map(|&i| units[i]).min().unwrap_or(0))
        .collect();
    let mut left_out = order[needed..].to_vec();
    left_out.sort_unstable();
    Some(Matching {
        groups: strings,
        sums,
        left_out,
        goal: Goal::Strongest,
        proof: Proof::Proved,
        work: 0,
    })
}

fn finished(units: &[i64], mut groups: Vec<Vec<usize>>, goal: Goal, proof: Proof, work: u64) -> Matching {
    for group in &mut groups {
        group.sort_unstable();
    }
    groups.sort_unstable();
    let sums = groups.iter().map(|g| g.iter().map(|&i| units[i]).sum()).collect();
    let mut used = vec![false; units.len()];
    groups.iter().flatten().for_each(|&i| used[i] = true);
    Matching {
        groups,
        sums,
        left_out: (0..units.len()).filter(|&i| !used[i]).collect(),
        goal,
        proof,
        work,
    }
}

#[cfg(test)]
mod tests;
