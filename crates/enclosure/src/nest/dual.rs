//! Dual feasible functions: other measures of length, in which parts that lie side by side still fit.
//!
//! Each of them is superadditive and never falls, so that parts side by side within some length `c` come to no more
//! than the measure of `c`, whatever `c` is. Hence the total of all parts in a measure, over the measure of the stock,
//! is a bound on how much stock is needed, and the product of two measures is a bound for rectangles.
//!
//! Source: Martello and Toth 1990 (`L2`), Fekete and Schepers 2001 (`u`), Carlier, Clautiaux and Moukrim 2007 (`f1`);
//! all from memory, and tried on random lengths for being superadditive.

/// A measure of lengths up to `whole`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Measure {
    /// The length itself.
    Plain,
    /// What is below `cut` counts nothing, and what leaves less than `cut` counts as the whole.
    Cut { whole: i64, cut: i64 },
    /// How many of `step` there is room for beside it, doubled.
    Room { whole: i64, step: i64 },
    /// Rounded down to parts of `1 / steps`, unless it is a whole number of parts of `1 / (steps + 1)`.
    Rounded { whole: i64, steps: i64 },
}

impl Measure {
    /// The measure of a length, `0..=whole`.
    pub(super) fn of(self, x: i64) -> i128 {
        match self {
            Self::Cut { whole, cut } if x > whole - cut => i128::from(whole),
            Self::Cut { cut, .. } if x < cut => 0,
            Self::Plain | Self::Cut { .. } => i128::from(x),
            Self::Room { whole, step } => i128::from(match (2 * x).cmp(&whole) {
                std::cmp::Ordering::Less => 2 * (x / step),
                std::cmp::Ordering::Equal => whole / step,
                std::cmp::Ordering::Greater => 2 * (whole / step - (whole - x) / step),
            }),
            Self::Rounded { whole, steps } => {
                let (x, whole, steps) = (i128::from(x), i128::from(whole), i128::from(steps));
                if (steps + 1) * x % whole == 0 {
                    x * steps
                } else {
                    (steps + 1) * x / whole * whole
                }
            }
        }
    }
}

/// The measures worth trying for some lengths within `whole`: those whose steps are at the lengths themselves.
///
/// `lengths`: all above zero and at most `whole`.
pub(super) fn measures(lengths: &[i64], whole: i64, finest: i64) -> Vec<Measure> {
    let mut cuts: Vec<i64> = lengths
        .iter()
        .flat_map(|&x| [x, x + 1, whole - x, whole - x + 1])
        .filter(|&cut| cut > 0 && 2 * cut <= whole)
        .collect();
    cuts.sort_unstable();
    cuts.dedup();
    let mut steps: Vec<i64> = cuts.clone();
    steps.extend(lengths.iter().filter(|&&x| 2 * x <= whole));
    steps.sort_unstable();
    steps.dedup();
    let mut all = vec![Measure::Plain];
    all.extend(cuts.iter().map(|&cut| Measure::Cut { whole, cut }));
    all.extend(steps.iter().map(|&step| Measure::Room { whole, step }));
    all.extend((1..=finest).map(|steps| Measure::Rounded { whole, steps }));
    all
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn every_measure_is_superadditive_and_never_falls(
            whole in 2..400_i64, lengths in proptest::collection::vec(1..400_i64, 1..5), x in 0..400_i64, y in 0..400_i64
        ) {
            let (x, y) = (x % (whole + 1), y % (whole + 1));
            let lengths: Vec<i64> = lengths.into_iter().map(|l| 1 + l % whole).collect();
            for measure in measures(&lengths, whole, 6) {
                if x + y <= whole {
                    prop_assert!(measure.of(x) + measure.of(y) <= measure.of(x + y), "{measure:?}");
                }
                prop_assert!(x > y || measure.of(x) <= measure.of(y), "{measure:?}");
            }
        }
    }
}
