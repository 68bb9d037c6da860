//! The best filling of one hollow: constructions first, then the search over spots.

use super::folded::{Folded, Laid, groups};
use super::hollow::Hollow;
use super::meter::{Dice, Meter};
use super::regions::cut_and_fill;
use super::shape::{Hall, Put, Shape, modules, trim};

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
        let starts = construct(&folded, wish, meter);
        for start in &starts {
            keep(&mut filled.found, folded.unfold(start, wish.shapes), wish);
        }
        if wish.effort != Effort::Search || modules(&filled.found[0]) >= wish.target {
            continue;
        }
        let Some(mut hollow) = Hollow::new(&folded, wish.caps, dice) else { continue };
        for start in &starts { hollow.offer(&folded, start); }
        hollow.search(wish.target, meter);
        keep(&mut filled.found, folded.unfold(&hollow.best(), wish.shapes), wish);
        if groups.len() == 1 && wish.shapes.iter().all(|shape| shape.service == [0; 6]) {
            filled.at_most = Some(hollow.bound());
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
    let share = meter.left() / 100 / u64::try_from(kinds.len()).unwrap_or(1);
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

