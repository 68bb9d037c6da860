//! Groups alike in resistance, where that costs no capacity.

/// Units that are exchanged at most this many are looked at in pairs.
const MOST: usize = 512;

/// Exchanges units of equal capacity between groups as long as the groups' resistances get more alike.
pub(super) fn alike_in_ohms(units: &[i64], ohms: &[Option<f64>], grouping: &mut [Vec<usize>]) {
    let known: Vec<f64> = ohms.iter().flatten().copied().filter(|r| *r > 0.0).collect();
    let places: Vec<(usize, usize)> = grouping
        .iter()
        .enumerate()
        .flat_map(|(g, group)| (0..group.len()).map(move |i| (g, i)))
        .collect();
    if known.is_empty() || places.len() > MOST {
        return;
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of units")]
    let mean = known.iter().sum::<f64>() / known.len() as f64;
    // A unit that was not measured counts as the mean.
    let siemens = |unit: usize| 1.0 / ohms.get(unit).copied().flatten().filter(|r| *r > 0.0).unwrap_or(mean);
    let mut sums: Vec<f64> = grouping.iter().map(|g| g.iter().map(|&i| siemens(i)).sum()).collect();
    // Each exchange lowers the sum of squares, so this ends; the rounds are bounded all the same.
    for _ in 0..64 {
        let mut changed = false;
        for (at, &(g, i)) in places.iter().enumerate() {
            for &(h, j) in &places[at + 1..] {
                let (a, b) = (grouping[g][i], grouping[h][j]);
                if g == h || units[a] != units[b] {
                    continue;
                }
                let change = siemens(b) - siemens(a);
                let gain = sums[g].powi(2) + sums[h].powi(2) - (sums[g] + change).powi(2) - (sums[h] - change).powi(2);
                if gain > 1e-12 * sums[g].powi(2) {
                    (grouping[g][i], grouping[h][j]) = (b, a);
                    sums[g] += change;
                    sums[h] -= change;
                    changed = true;
                }
            }
        }
        if !changed {
            break;
        }
    }
}
