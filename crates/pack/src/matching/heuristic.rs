//! Groupings that are good at once: dealt out, then bettered by exchanging units.

/// Deals units, largest first, each to the lightest group that has room; `order` holds the units to deal, largest
/// first, as many as there are places.
pub(super) fn dealt(units: &[i64], order: &[usize], groups: usize, per_group: usize) -> Vec<Vec<usize>> {
    if per_group == 2 {
        // The smallest with the largest: best for the weakest and for the strongest group.
        let last = order.len() - 1;
        return (0..groups).map(|i| vec![order[i], order[last - i]]).collect();
    }
    let mut dealt: Vec<(i64, Vec<usize>)> = vec![(0, Vec::with_capacity(per_group)); groups];
    for &unit in order {
        let lightest = dealt
            .iter_mut()
            .filter(|(_, group)| group.len() < per_group)
            .min_by_key(|(sum, _)| *sum);
        if let Some((sum, group)) = lightest {
            *sum += units[unit];
            group.push(unit);
        }
    }
    dealt.into_iter().map(|(_, group)| group).collect()
}

/// The smallest sum, minus the spread, minus how many groups are at the smallest: larger is better.
type Rank = (i64, i64, i64);

/// Betters a grouping by exchanging one unit of the weakest or of the strongest group for one of another group or one
/// left out, as long as the weakest group gets stronger, or the spread smaller with the weakest as strong. Returns the
/// steps it took.
pub(super) fn bettered(units: &[i64], grouping: &mut [Vec<usize>], spares: &mut [usize], most: u64) -> u64 {
    let mut sums: Vec<i64> = grouping.iter().map(|g| g.iter().map(|&i| units[i]).sum()).collect();
    let mut spent = 0;
    while spent < most {
        let rank = |sums: &[i64]| {
            let low = sums.iter().copied().min().unwrap_or(0);
            let high = sums.iter().copied().max().unwrap_or(0);
            // How many are at the lowest counts too: two weakest groups take two exchanges.
            (
                low,
                -(high - low),
                -sums.iter().filter(|&&s| s == low).map(|_| 1_i64).sum::<i64>(),
            )
        };
        let now = rank(&sums);
        let worst = [
            (0..sums.len()).min_by_key(|&g| sums[g]),
            (0..sums.len()).max_by_key(|&g| sums[g]),
        ];
        let mut best: Option<(Rank, usize, usize, usize, usize)> = None;
        for a in worst.into_iter().flatten() {
            for i in 0..grouping[a].len() {
                for b in 0..=grouping.len() {
                    let others = grouping.get(b).map_or(spares.len(), Vec::len);
                    if b == a {
                        continue;
                    }
                    for j in 0..others {
                        spent += 1;
                        let there = grouping.get(b).map_or_else(|| spares[j], |group| group[j]);
                        let change = units[there] - units[grouping[a][i]];
                        if change == 0 {
                            continue;
                        }
                        sums[a] += change;
                        if b < sums.len() {
                            sums[b] -= change;
                        }
                        let then = rank(&sums);
                        sums[a] -= change;
                        if b < sums.len() {
                            sums[b] += change;
                        }
                        if then > now && best.is_none_or(|(known, ..)| then > known) {
                            best = Some((then, a, i, b, j));
                        }
                    }
                }
            }
        }
        let Some((_, a, i, b, j)) = best else { break };
        let mine = grouping[a][i];
        let theirs = if b < grouping.len() {
            std::mem::replace(&mut grouping[b][j], mine)
        } else {
            std::mem::replace(&mut spares[j], mine)
        };
        grouping[a][i] = theirs;
        let change = units[theirs] - units[mine];
        sums[a] += change;
        if b < sums.len() {
            sums[b] -= change;
        }
    }
    spent
}
