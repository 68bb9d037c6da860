//! The best filling of one hollow: constructions first, then the search over spots.

use super::folded::{Folded, Laid, groups};
use super::meter::{Dice, Meter};
use super::raster::Raster;
use super::regions::cut_and_fill;
use super::shape::{Hall, Put, Shape, modules, trim};
use super::skyline::Flat;
use super::tabu;

/// The most spots searched over.
const MOST_SPOTS: usize = 12_000;

/// How hard to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Effort {
    /// Grids in regions.
    Quick,
    /// Blocks in regions.
    Construct,
    /// Blocks in regions, then the search.
    Search,
}

/// What to fill a hollow with.
#[derive(Clone, Copy)]
pub(super) struct Wish<'a> {
    pub(super) shapes: &'a [Shape],
    /// The most of each kind.
    pub(super) caps: &'a [u32],
    /// Enough is enough.
    pub(super) target: u32,
    pub(super) effort: Effort,
}

/// What came of filling a hollow.
pub(super) struct Filled {
    /// Fillings that differ, best first; the first may be empty.
    pub(super) found: Vec<Vec<Put>>,
    /// The most that can go in whatever the caps, if that was proved.
    pub(super) at_most: Option<u32>,
}

/// Fills the hall.
pub(super) fn fill(hall: &Hall, wish: Wish, dice: &mut Dice, meter: &mut Meter) -> Filled {
    let mut filled = Filled {
        found: vec![Vec::new()],
        at_most: None,
    };
    let groups = groups(wish.shapes);
    for group in &groups {
        let folded = Folded::new(hall, wish.shapes, group);
        if folded.pieces.is_empty() {
            continue;
        }
        let mut starts = construct(&folded, wish, meter);
        for start in &starts {
            keep(&mut filled.found, folded.unfold(start, wish.shapes), wish);
        }
        if wish.effort != Effort::Search || modules(&filled.found[0]) >= wish.target {
            continue;
        }
        if let Some(flat) = Flat::new(&folded) {
            let have = flat.per_layer(starts.first().map_or(0, |laid| folded.modules(laid)));
            let share = meter.left() * 2 / 3;
            let (better, at_most) = meter.stage(share, |meter| flat.improve(have, dice, meter));
            // Service spaces are folded in on the safe side, which is no proof.
            if groups.len() == 1 && wish.shapes.iter().all(|shape| shape.service == [0; 6]) {
                filled.at_most = at_most;
            }
            if let Some(laid) = better {
                keep(&mut filled.found, folded.unfold(&laid, wish.shapes), wish);
                starts.insert(0, laid);
            }
        }
        let target = wish.target.min(filled.at_most.unwrap_or(u32::MAX));
        if modules(&filled.found[0]) < target {
            for laid in search(&folded, &starts, Wish { target, ..wish }, dice, meter) {
                keep(&mut filled.found, folded.unfold(&laid, wish.shapes), wish);
            }
        }
        if modules(&filled.found[0]) >= target {
            break;
        }
    }
    filled
}

/// Adds a filling in its place; equal ones are kept once.
fn keep(found: &mut Vec<Vec<Put>>, mut puts: Vec<Put>, wish: Wish) {
    trim(&mut puts, wish.caps, wish.shapes);
    if puts.is_empty() || found.contains(&puts) {
        return;
    }
    let at = found.partition_point(|other| modules(other) >= modules(&puts));
    found.insert(at, puts);
    found.truncate(6);
}

/// One construction for each kind alone, and for each piece alone where that differs.
fn construct(folded: &Folded, wish: Wish, meter: &mut Meter) -> Vec<Vec<Laid>> {
    let mut starts = Vec::new();
    let kinds = folded.kinds();
    let flat = wish.effort == Effort::Search && Flat::new(folded).is_some();
    let share = meter.left() / if flat { 8 } else { 3 } / u64::try_from(kinds.len()).unwrap_or(1);
    for &kind in &kinds {
        let only = folded.only(kind);
        let index: Vec<usize> = (0..folded.pieces.len())
            .filter(|&i| folded.pieces[i].kind == kind)
            .collect();
        let mut add = |folded: &Folded, index: &[usize], grids_only: bool, meter: &mut Meter| {
            let mut laid = cut_and_fill(folded, grids_only, meter);
            for l in &mut laid {
                l.piece = index[l.piece];
            }
            starts.push(laid);
        };
        add(&only, &index, true, meter);
        if wish.effort != Effort::Quick {
            meter.stage(share, |meter| add(&only, &index, false, meter));
        }
        if only.pieces.len() > 1 && only.pieces.len() <= 6 {
            for (i, &piece) in index.iter().enumerate() {
                let mut alone = only.clone();
                alone.pieces = vec![only.pieces[i]];
                add(&alone, &[piece], true, meter);
            }
        }
    }
    starts.sort_by_key(|laid| std::cmp::Reverse(folded.modules(laid)));
    starts
}

fn search(folded: &Folded, starts: &[Vec<Laid>], wish: Wish, dice: &mut Dice, meter: &mut Meter) -> Vec<Vec<Laid>> {
    let Some(raster) = Raster::new(folded, MOST_SPOTS, meter) else {
        return Vec::new();
    };
    let start = starts.first().map(|laid| raster.snap(folded, laid)).unwrap_or_default();
    let greedy = first_fit(&raster, folded, wish.caps, meter);
    let count = |spots: &[usize]| spots.iter().map(|&s| raster.spots[s].count).sum::<u32>();
    let lay = |spots: &[usize]| spots.iter().map(|&s| raster.spots[s].laid).collect::<Vec<_>>();
    let from = if count(&greedy) > count(&start) {
        &greedy
    } else {
        &start
    };
    let best = tabu::improve(&raster, from, wish.caps, wish.target, dice, meter);
    vec![lay(&best), lay(&greedy)]
}

/// The best of a few first-fit orders: along each order of the axes, with and without preferring long pieces.
fn first_fit(raster: &Raster, folded: &Folded, caps: &[u32], meter: &mut Meter) -> Vec<usize> {
    let mut best: Vec<usize> = Vec::new();
    let mut best_count = 0;
    for order in [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        for long_first in [false, true] {
            let mut spots: Vec<usize> = (0..raster.spots.len()).collect();
            spots.sort_by_key(|&i| {
                let laid = raster.spots[i].laid;
                let size = folded.pieces[laid.piece].size[order[2]];
                let at = order.map(|k| laid.at[k]);
                (if long_first { -size } else { 0 }, at, -size)
            });
            let (mut taken, mut by_kind) = (vec![false; spots.len()], vec![0; caps.len()]);
            let mut chosen = Vec::new();
            for i in spots {
                let spot = &raster.spots[i];
                if !taken[i] && by_kind[spot.kind] + spot.count <= caps[spot.kind] {
                    by_kind[spot.kind] += spot.count;
                    chosen.push(i);
                    raster.each_overlap(i, |other| taken[other] = true);
                }
            }
            let count = by_kind.iter().sum::<u32>();
            if count > best_count {
                (best, best_count) = (chosen, count);
            }
            if !meter.spend(u64::try_from(raster.spots.len() / 4).unwrap_or(0)) {
                return best;
            }
        }
    }
    best
}
