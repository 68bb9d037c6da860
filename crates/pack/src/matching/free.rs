//! Groups of any size, for a handful of numbers: all ways are tried.

/// The best that groups of any size can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Freely {
    /// The smallest that the largest group can be.
    pub largest: i64,
    /// The largest that the smallest group can be.
    pub smallest: i64,
    /// The smallest that the two can be apart.
    pub spread: i64,
}

/// The most numbers that are tried all ways.
const MOST: usize = 12;

/// What `groups` groups of any size can do with `numbers`; `None` for more than 12 numbers, or no groups.
pub fn divide_freely(numbers: &[i64], groups: usize) -> Option<Freely> {
    if groups == 0 || numbers.len() > MOST {
        return None;
    }
    let mut best = Freely {
        largest: i64::MAX,
        smallest: i64::MIN,
        spread: i64::MAX,
    };
    put(numbers, &mut vec![0; groups], 0, &mut best);
    Some(best)
}

/// Puts the next number into each group in turn; of the groups that are still empty only the first.
fn put(left: &[i64], sums: &mut Vec<i64>, used: usize, best: &mut Freely) {
    let Some((&number, rest)) = left.split_first() else {
        let high = sums.iter().copied().max().unwrap_or(0);
        let low = sums.iter().copied().min().unwrap_or(0);
        best.largest = best.largest.min(high);
        best.smallest = best.smallest.max(low);
        best.spread = best.spread.min(high - low);
        return;
    };
    for at in 0..sums.len().min(used + 1) {
        sums[at] += number;
        put(rest, sums, used.max(at + 1), best);
        sums[at] -= number;
    }
}
