//! The exact search against trying every set of spots.

use super::super::folded::{Folded, Piece};
use super::super::part::binding;
use super::super::raster::{Places, spots};
use super::super::weights::Weights;
use super::*;

/// More sets than this are not tried.
const MOST_TRIED: u32 = 200_000;

/// The most modules on the allowed spots, by trying all sets that could be better; `None` when they are too many.
fn most(raster: &Raster, caps: &[u32], allowed: &[usize]) -> Option<u32> {
    fn go(raster: &Raster, open: &[usize], left: &mut [u32], have: u32, best: &mut u32, tried: &mut u32) {
        *tried += 1;
        *best = have.max(*best);
        let Some((&first, rest)) = open.split_first() else {
            return;
        };
        if *tried > MOST_TRIED || have + cover(raster, open) <= *best {
            return;
        }
        let kind = raster.spots[first].kind;
        if left[kind] > 0 {
            let mut blocked = vec![false; raster.spots.len()];
            raster.each_overlap(first, |other| blocked[other] = true);
            let free: Vec<usize> = rest.iter().copied().filter(|&i| !blocked[i]).collect();
            left[kind] -= 1;
            go(raster, &free, left, have + 1, best, tried);
            left[kind] += 1;
        }
        go(raster, rest, left, have, best, tried);
    }
    let (mut best, mut tried) = (0, 0);
    go(raster, allowed, &mut caps.to_vec(), 0, &mut best, &mut tried);
    (tried <= MOST_TRIED).then_some(best)
}

/// How many corners are needed so that every spot holds one: no more spots go together.
fn cover(raster: &Raster, open: &[usize]) -> u32 {
    let mut rest = open.to_vec();
    let mut corners = 0;
    while let Some(&first) = rest.first() {
        let corner = raster.spots[first].lo;
        let holds =
            |i: &usize| (0..3).all(|k| raster.spots[*i].lo[k] <= corner[k] && corner[k] < raster.spots[*i].hi[k]);
        rest.retain(|i| !holds(i));
        corners += 1;
    }
    corners
}

/// A small flat question of one kind, or of two of which few are on hand.
fn question(seed: u64, two: bool) -> (Folded, Vec<u32>) {
    let mut dice = Dice::new(seed);
    let mut between = |low: i64, high: i64| {
        let range = usize::try_from(high - low + 1).unwrap();
        low + i64::try_from(dice.below(range)).unwrap()
    };
    let dims = [between(5, 9), between(5, 8), 1];
    let lo = [between(0, 7), between(0, 7), 0];
    let blocks = vec![(lo, [lo[0] + between(1, 3), lo[1] + between(1, 3), 1])];
    let mut pieces: Vec<Piece> = Vec::new();
    for kind in 0..=usize::from(two) {
        let (long, wide) = (between(2, 5), between(1, 3));
        for size in [[long, wide, 1], [wide, long, 1]] {
            let known = pieces.iter().any(|p| p.kind == kind && p.size == size);
            if !known && (0..3).all(|k| size[k] <= dims[k]) {
                pieces.push(Piece {
                    shape: 0,
                    kind,
                    size,
                    count: 1,
                });
            }
        }
    }
    let few = u32::try_from(between(1, 4)).unwrap();
    let folded = Folded {
        origin: [0; 3],
        dims,
        blocks,
        pieces,
    };
    (folded, vec![u32::MAX, few])
}

/// What can be had is never called impossible, what is found has the count, and no spot is left out that a layout with
/// the count needs, whenever the search is left.
#[test]
fn what_can_be_had_is_found() {
    let mut searched = 0;
    for seed in 0..400 {
        let (folded, caps) = question(seed, seed % 2 == 0);
        let places = Places::new(&folded, 1000).unwrap();
        let all = spots(&folded, &places, 1000).unwrap();
        if all.is_empty() || all.len() > 50 {
            continue;
        }
        let raster = Raster::of(all);
        let Some(best) = most(&raster, &caps, &(0..raster.spots.len()).collect::<Vec<_>>()) else {
            continue;
        };
        let mut weights = Weights::new(&raster, &binding(&caps));
        for round in 0..6 {
            weights.round();
            assert!(weights.bound() >= best, "{seed}");
            let Some(worth) = weights.worth().filter(|_| round % 3 == 2) else {
                continue;
            };
            for (whim, probing) in [(0.0, false), (0.4, true), (3.0, false)] {
                let quest = Quest {
                    raster: &raster,
                    worth: &worth,
                    caps: &caps,
                    target: best,
                    whim,
                    probing,
                };
                let mut exact = Exact::new(&quest, &mut Dice::new(seed));
                for _ in 0..2_000 {
                    if exact.outcome().is_some() {
                        break;
                    }
                    exact.search(1);
                    if let Some(alive) = exact.alive().filter(|alive| alive.len() < raster.spots.len()) {
                        assert_eq!(
                            most(&raster, &caps, &alive),
                            Some(best),
                            "{seed}: a spot too many is left out"
                        );
                    }
                }
                assert_ne!(exact.outcome(), Some(false), "{seed}: {best} can be had");
                if exact.outcome() == Some(true) {
                    let chosen: u32 = exact.chosen().iter().map(|&i| raster.spots[i].count).sum();
                    assert!(chosen >= best, "{seed}");
                }
                searched += 1;
            }
        }
    }
    assert!(searched > 500, "only {searched} searches");
}
