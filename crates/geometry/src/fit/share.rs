//! Sharing modules out over berths: few boxes, whole strings, equal contents.

/// What one way of dividing a cavity holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Division {
    /// Berths, by number.
    pub(super) berths: Vec<usize>,
    /// Modules that go in at most.
    pub(super) room: u32,
    /// Whole strings that go in at most.
    pub(super) whole: u32,
}

/// A cavity with its divisions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Divided {
    pub(super) divisions: Vec<Division>,
    /// Cavities of one sort are the same in all.
    pub(super) sort: usize,
    /// Whether something in it is pinned.
    pub(super) pinned: bool,
}

/// Berths that are used together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Choice {
    pub(super) berths: Vec<usize>,
    room: u32,
    whole: u32,
    /// Sort and division of each cavity used.
    used: Vec<(usize, usize)>,
}

/// The most choices kept for one number of boxes.
const MOST_KEPT: usize = 40;

/// Choices of berths with room for `total` modules in strings of `string`: those with the fewest boxes, and those with
/// one more.
pub(super) fn choices(cavities: &[Divided], total: u32, string: u32) -> Vec<Choice> {
    let strings = total / string;
    let mut open = vec![Choice::default()];
    for cavity in cavities {
        let mut next = if cavity.pinned { Vec::new() } else { open.clone() };
        for choice in &open {
            for (index, division) in cavity.divisions.iter().enumerate() {
                let mut with = choice.clone();
                with.berths.extend(&division.berths);
                with.room = with.room.saturating_add(division.room);
                with.whole = with.whole.saturating_add(division.whole);
                with.used.push((cavity.sort, index));
                with.used.sort_unstable();
                next.push(with);
            }
        }
        next.sort_by_key(|choice| (choice.berths.len(), std::cmp::Reverse(choice.room)));
        open = kept(next, strings);
    }
    open.retain(|choice| choice.room >= total && !choice.berths.is_empty());
    let Some(fewest) = open.iter().map(|choice| choice.berths.len()).min() else {
        return Vec::new();
    };
    open.retain(|choice| choice.berths.len() <= fewest + 1);
    let split = |choice: &Choice| strings.saturating_sub(choice.whole);
    open.sort_by_key(|choice| (choice.berths.len(), split(choice), std::cmp::Reverse(choice.room)));
    open
}

/// For each number of boxes those with the most room and those with the most whole strings; of equal ones the first.
fn kept(choices: Vec<Choice>, strings: u32) -> Vec<Choice> {
    let mut kept: Vec<Choice> = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    let mut start = 0;
    let choices: Vec<Choice> = choices
        .into_iter()
        .filter(|choice| seen.insert(choice.used.clone()))
        .collect();
    while start < choices.len() {
        let boxes = choices[start].berths.len();
        let end = choices.partition_point(|choice| choice.berths.len() <= boxes);
        let same = &choices[start..end];
        kept.extend(same.iter().take(MOST_KEPT).cloned());
        let mut rest: Vec<&Choice> = same.iter().skip(MOST_KEPT).collect();
        rest.sort_by_key(|choice| std::cmp::Reverse(choice.whole.min(strings)));
        kept.extend(rest.into_iter().take(MOST_KEPT / 2).cloned());
        start = end;
    }
    kept
}

/// How much goes into each berth of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Way {
    /// Berth and modules, of the berths used.
    pub(super) counts: Vec<(usize, u32)>,
    /// Boxes, strings split over boxes, and the difference between the fullest and the emptiest: less is better.
    pub(super) rank: (usize, u32, u32),
}

/// What is to be shared out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lot {
    pub(super) total: u32,
    /// Modules of a string, 1 without strings.
    pub(super) string: u32,
    /// Modules of a full stack, 1 without stacks.
    pub(super) stack: u32,
}

/// Ways to share a lot out over berths that hold at least `least` and at most `most` each.
pub(super) fn ways(lot: Lot, berths: &[usize], least: &[u32], most: &[u32]) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::new();
    let held: u32 = berths.iter().map(|&i| least[i]).sum();
    let Some(open) = lot.total.checked_sub(held) else {
        return ways;
    };
    for portion in [lot.string, lot.stack, 1] {
        for next in [Next::Emptiest, Next::Fullest] {
            let mut counts: Vec<u32> = berths.iter().map(|&i| least[i]).collect();
            let most: Vec<u32> = berths.iter().map(|&i| most[i]).collect();
            let mut left = open;
            for portion in [portion, lot.stack, 1] {
                left = deal(left, portion, &most, next, &mut counts);
            }
            let counts: Vec<(usize, u32)> = berths.iter().copied().zip(counts).filter(|&(_, n)| n > 0).collect();
            if left == 0 && !ways.iter().any(|way| way.counts == counts) {
                let rank = rank(&counts, lot);
                ways.push(Way { counts, rank });
            }
        }
    }
    ways.sort_by_key(|way| way.rank);
    ways
}

fn rank(counts: &[(usize, u32)], lot: Lot) -> (usize, u32, u32) {
    let held = || counts.iter().map(|&(_, n)| n);
    let whole: u32 = held().map(|n| n / lot.string).sum();
    (
        counts.len(),
        (lot.total / lot.string).saturating_sub(whole),
        held().max().unwrap_or(0) - held().min().unwrap_or(0),
    )
}

/// Which berth gets the next portion.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Next {
    /// The emptiest, so that all hold about as much.
    Emptiest,
    /// The fullest with room, so that few are in use; at first the one with the most room.
    Fullest,
}

/// Deals `total` in portions to berths with room; what is left over.
fn deal(total: u32, portion: u32, most: &[u32], next: Next, counts: &mut [u32]) -> u32 {
    let mut left = total;
    while left >= portion && left > 0 {
        let open = (0..counts.len()).filter(|&i| counts[i] + portion <= most[i]);
        let chosen = match next {
            Next::Emptiest => open.min_by_key(|&i| (counts[i], i)),
            Next::Fullest => open.max_by_key(|&i| (counts[i], most[i], std::cmp::Reverse(i))),
        };
        let Some(chosen) = chosen else { break };
        counts[chosen] += portion;
        left -= portion;
    }
    left
}

#[cfg(test)]
mod tests;
