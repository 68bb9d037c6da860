//! Sharing modules out over boxes: few boxes, whole strings, equal contents.

/// The most ways looked at.
const MOST_WAYS: usize = 400;

/// One way: modules for each berth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Way {
    pub(super) counts: Vec<u32>,
    /// Boxes, strings broken over boxes, and the difference between the fullest and the emptiest: less is better.
    pub(super) rank: (usize, u32, u32),
}

/// Ways to share `total` modules in strings of `string` over berths that hold `most` each, best first.
pub(super) fn share(total: u32, string: u32, most: &[u32]) -> Vec<Way> {
    let mut ways: Vec<Way> = Vec::new();
    let mut used: Vec<usize> = (0..most.len()).filter(|&i| most[i] > 0).collect();
    // More berths than this are never told apart one by one.
    used.sort_by_key(|&i| std::cmp::Reverse(most[i]));
    used.truncate(12);
    for boxes in 1..=used.len() {
        subsets(&used, boxes, &mut |subset| {
            if ways.len() >= MOST_WAYS || subset.iter().map(|&i| most[i]).fold(0, u32::saturating_add) < total {
                return;
            }
            for counts in [whole_strings(total, string, most, subset), level(total, most, subset)] {
                let rank = rank(&counts, string, subset, total);
                if counts.iter().sum::<u32>() == total && !ways.iter().any(|way| way.counts == counts) {
                    ways.push(Way { counts, rank });
                }
            }
        });
    }
    ways.sort_by_key(|way| way.rank);
    ways
}

fn rank(counts: &[u32], string: u32, subset: &[usize], total: u32) -> (usize, u32, u32) {
    let boxes = counts.iter().filter(|&&n| n > 0).count();
    let whole: u32 = counts.iter().map(|n| n / string).sum();
    let held = || subset.iter().map(|&i| counts[i]);
    (
        boxes,
        (total / string).saturating_sub(whole),
        held().max().unwrap_or(0) - held().min().unwrap_or(0),
    )
}

/// As level as the berths allow: one module at a time to the emptiest.
fn level(total: u32, most: &[u32], subset: &[usize]) -> Vec<u32> {
    let mut counts = vec![0; most.len()];
    deal(total, 1, most, subset, &mut counts);
    counts
}

/// Whole strings dealt out first, as level as can be, then the rest.
fn whole_strings(total: u32, string: u32, most: &[u32], subset: &[usize]) -> Vec<u32> {
    let mut counts = vec![0; most.len()];
    let rest = deal(total / string * string, string, most, subset, &mut counts) + total % string;
    deal(rest, 1, most, subset, &mut counts);
    counts
}

/// Deals `total` in portions to the emptiest berth with room; what is left over.
fn deal(total: u32, portion: u32, most: &[u32], subset: &[usize], counts: &mut [u32]) -> u32 {
    let mut left = total;
    while left >= portion && left > 0 {
        let open = subset.iter().copied().filter(|&i| counts[i] + portion <= most[i]);
        let Some(emptiest) = open.min_by_key(|&i| (counts[i], i)) else {
            break;
        };
        counts[emptiest] += portion;
        left -= portion;
    }
    left
}

fn subsets(of: &[usize], size: usize, each: &mut impl FnMut(&[usize])) {
    fn go(of: &[usize], size: usize, chosen: &mut Vec<usize>, each: &mut impl FnMut(&[usize])) {
        if size == 0 {
            each(chosen);
            return;
        }
        for (i, &next) in of.iter().enumerate().take((of.len() + 1).saturating_sub(size)) {
            chosen.push(next);
            go(&of[i + 1..], size - 1, chosen, each);
            chosen.pop();
        }
    }
    go(of, size, &mut Vec::new(), each);
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::a_string_each(10, 5, &[6, 6], &[5, 5])]
    #[case::both_in_one_when_they_go_in(10, 5, &[7, 10], &[0, 10])]
    #[case::one_string_whole_and_one_split(48, 24, &[36, 12], &[36, 12])]
    #[case::whole_before_level(12, 4, &[9, 9], &[8, 4])]
    #[case::level_without_strings(9, 1, &[6, 6], &[5, 4])]
    fn shares_out(#[case] total: u32, #[case] string: u32, #[case] most: &[u32], #[case] expected: &[u32]) {
        let ways = share(total, string, most);
        assert_eq!(ways[0].counts, expected);
    }
}
