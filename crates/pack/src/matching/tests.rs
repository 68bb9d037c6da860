use proptest::prelude::*;

use super::*;

/// Is shown how many units each group has, and their sum.
type Seen<'a> = &'a mut dyn FnMut(&[(usize, i64)]);

/// The best smallest sum, the best spread at it, and the best spread, by trying all groupings.
fn all_ways(units: &[i64], groups: usize, per_group: usize) -> (i64, i64, i64) {
    fn go(units: &[i64], sizes: &mut Vec<(usize, i64)>, per_group: usize, spares: usize, seen: Seen<'_>) {
        let Some((&unit, rest)) = units.split_first() else {
            if sizes.iter().all(|(n, _)| *n == per_group) {
                seen(sizes);
            }
            return;
        };
        if spares > 0 {
            go(rest, sizes, per_group, spares - 1, seen);
        }
        for i in 0..sizes.len() {
            if sizes[i].0 < per_group {
                sizes[i].0 += 1;
                sizes[i].1 += unit;
                go(rest, sizes, per_group, spares, seen);
                sizes[i].0 -= 1;
                sizes[i].1 -= unit;
                if sizes[i].0 == 0 {
                    break;
                }
            }
        }
    }
    let mut best = (i64::MIN, i64::MAX, i64::MAX);
    let spares = units.len() - groups * per_group;
    go(units, &mut vec![(0, 0); groups], per_group, spares, &mut |sums| {
        let low = sums.iter().map(|s| s.1).min().unwrap();
        let spread = sums.iter().map(|s| s.1).max().unwrap() - low;
        best.2 = best.2.min(spread);
        if low > best.0 {
            (best.0, best.1) = (low, spread);
        } else if low == best.0 {
            best.1 = best.1.min(spread);
        }
    });
    best
}

fn is_whole(units: &[i64], matching: &Matching, groups: usize, per_group: usize) {
    assert_eq!(matching.groups.len(), groups);
    assert!(matching.groups.iter().all(|g| g.len() == per_group));
    let mut all: Vec<usize> = matching
        .groups
        .iter()
        .flatten()
        .chain(&matching.left_out)
        .copied()
        .collect();
    all.sort_unstable();
    assert_eq!(all, (0..units.len()).collect::<Vec<_>>());
    for (group, sum) in matching.groups.iter().zip(&matching.sums) {
        assert_eq!(group.iter().map(|&i| units[i]).sum::<i64>(), *sum);
    }
}

proptest! {
    #[test]
    fn small_lots_are_matched_as_well_as_can_be(
        (groups, per_group, units) in (1..4_usize, 1..4_usize, 0..3_usize).prop_flat_map(|(g, p, spares)| {
            (Just(g), Just(p), proptest::collection::vec(400..460_i64, g * p + spares))
        }),
    ) {
        let (strongest, spread_at_it, least_spread) = all_ways(&units, groups, per_group);
        let found = match_groups(&units, &[], groups, per_group, Goal::Strongest, WORK).unwrap();
        is_whole(&units, &found, groups, per_group);
        prop_assert_eq!((found.smallest(), found.spread(), found.proof), (strongest, spread_at_it, Proof::Proved));
        let alike = match_groups(&units, &[], groups, per_group, Goal::Alike, WORK).unwrap();
        is_whole(&units, &alike, groups, per_group);
        prop_assert_eq!((alike.spread(), alike.proof), (least_spread, Proof::Proved));
    }

    #[test]
    fn with_little_work_it_still_answers_and_its_bound_holds(
        units in proptest::collection::vec(40_000..60_000_i64, 24..40), per_group in 3..5_usize, work in 0..200_u64,
    ) {
        let groups = units.len() / per_group;
        let little = match_groups(&units, &[], groups, per_group, Goal::Strongest, work).unwrap();
        is_whole(&units, &little, groups, per_group);
        let much = match_groups(&units, &[], groups, per_group, Goal::Strongest, 100_000).unwrap();
        prop_assert!(much.smallest() >= little.smallest());
        if let Proof::AtMost(most) = little.proof {
            prop_assert!(much.smallest() <= most);
        } else {
            prop_assert_eq!(much.smallest(), little.smallest());
        }
    }

    #[test]
    fn strings_in_order_of_strength_are_best(
        (series, parallel, units) in (1..4_usize, 1..4_usize, 0..2_usize).prop_flat_map(|(s, p, spares)| {
            (Just(s), Just(p), proptest::collection::vec(400..460_i64, s * p + spares))
        }),
    ) {
        let found = match_strings(&units, series, parallel).unwrap();
        prop_assert_eq!(found.sums.iter().sum::<i64>(), best_strings(&units, series, parallel));
    }

    #[test]
    fn alike_in_ohms_costs_no_capacity(
        units in proptest::collection::vec(400..406_i64, 12), ohms in proptest::collection::vec(5.0..15.0_f64, 12),
    ) {
        let known: Vec<Option<f64>> = ohms.iter().copied().map(Some).collect();
        let without = match_groups(&units, &[], 4, 3, Goal::Strongest, WORK).unwrap();
        let with = match_groups(&units, &known, 4, 3, Goal::Strongest, WORK).unwrap();
        let sorted = |m: &Matching| { let mut s = m.sums.clone(); s.sort_unstable(); s };
        prop_assert_eq!(sorted(&without), sorted(&with));
        let unlike = |m: &Matching| -> f64 {
            m.groups.iter().map(|g| g.iter().map(|&i| 1.0 / ohms[i]).sum::<f64>().powi(2)).sum()
        };
        prop_assert!(unlike(&with) <= unlike(&without) + 1e-9);
    }
}

/// The largest sum of the strings' weakest units, by trying all ways.
fn best_strings(units: &[i64], series: usize, parallel: usize) -> i64 {
    fn go(units: &[i64], strings: &mut Vec<Vec<i64>>, series: usize, spares: usize) -> i64 {
        let Some((&unit, rest)) = units.split_first() else {
            let full = strings.iter().all(|s| s.len() == series);
            return if full {
                strings.iter().map(|s| s.iter().min().copied().unwrap_or(0)).sum()
            } else {
                i64::MIN
            };
        };
        let mut best = i64::MIN;
        if spares > 0 {
            best = go(rest, strings, series, spares - 1);
        }
        for i in 0..strings.len() {
            if strings[i].len() < series {
                strings[i].push(unit);
                best = best.max(go(rest, strings, series, spares));
                strings[i].pop();
                if strings[i].is_empty() {
                    break;
                }
            }
        }
        best
    }
    go(
        units,
        &mut vec![Vec::new(); parallel],
        series,
        units.len() - series * parallel,
    )
}

#[test]
fn too_few_units_or_no_groups_give_nothing() {
    assert_eq!(match_groups(&[1, 2, 3], &[], 2, 2, Goal::Strongest, WORK), None);
    assert_eq!(match_groups(&[1, 2, 3], &[], 0, 2, Goal::Strongest, WORK), None);
    assert_eq!(match_strings(&[1, 2, 3], 2, 2), None);
}

/// One unit far off among eight even ones.
#[test]
fn an_outlier_is_named() {
    let values = [55.1, 53.8, 56.0, 54.2, 54.4, 52.9, 55.6, 44.0];
    assert_eq!(outliers(&values).unwrap().units, [7]);
    assert_eq!(outliers(&values[..4]), None);
    assert_eq!(outliers(&[50.0; 6]).unwrap().units, Vec::<usize>::new());
}
