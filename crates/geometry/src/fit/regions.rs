//! A hollow with blocks, cut along the blocks' faces into empty regions.

use std::collections::HashMap;

use super::blocks::Blocks;
use super::folded::{Folded, Laid};
use super::meter::Meter;
use super::shape::V3;

/// Cuts beyond this depth are given up.
const DEEPEST: usize = 12;

/// A region from its low to its high corner.
type Region = (V3, V3);

#[derive(Clone, Copy, Debug)]
enum Plan {
    Nothing,
    Free,
    Cut { axis: usize, at: i64 },
}

/// The best found by cutting at block faces and filling the empty regions.
fn cut_and_fill(folded: &Folded, grids_only: bool, meter: &mut Meter) -> Vec<Laid> {
    if folded.pieces.is_empty() {
        return Vec::new();
    }
    let mut cutter = Cutter {
        folded,
        blocks: Blocks::new(&folded.pieces, folded.dims, grids_only),
        memo: HashMap::new(),
    };
    let whole = ([0; 3], folded.dims);
    cutter.best(whole, DEEPEST, meter);
    let mut laid = Vec::new();
    cutter.lay(whole, &mut laid);
    laid
}

/// The best by recursive blocks of each kind alone.
pub(super) fn of_each_kind(folded: &Folded, meter: &mut Meter) -> Vec<Vec<Laid>> {
    let kinds = folded.kinds().into_iter();
    kinds
        .map(|kind| alone(folded, &of_kind(folded, kind), false, meter))
        .collect()
}

/// The best grids of each kind, and of each of its largest pieces alone.
pub(super) fn grids(folded: &Folded, meter: &mut Meter) -> Vec<Vec<Laid>> {
    let mut grids = Vec::new();
    for kind in folded.kinds() {
        let index = of_kind(folded, kind);
        grids.push(alone(folded, &index, true, meter));
        let largest = index.iter().map(|&i| folded.pieces[i].count).max();
        let largest: Vec<usize> = index
            .iter()
            .copied()
            .filter(|&i| Some(folded.pieces[i].count) == largest)
            .collect();
        if index.len() > 1 {
            grids.extend(largest.iter().map(|&piece| alone(folded, &[piece], true, meter)));
        }
    }
    grids
}

fn of_kind(folded: &Folded, kind: usize) -> Vec<usize> {
    (0..folded.pieces.len())
        .filter(|&i| folded.pieces[i].kind == kind)
        .collect()
}

/// The best with some of the pieces only.
fn alone(folded: &Folded, index: &[usize], grids_only: bool, meter: &mut Meter) -> Vec<Laid> {
    let mut only = folded.clone();
    only.pieces = index.iter().map(|&i| folded.pieces[i]).collect();
    let mut laid = cut_and_fill(&only, grids_only, meter);
    for one in &mut laid {
        one.piece = index[one.piece];
    }
    laid
}

struct Cutter<'f> {
    folded: &'f Folded,
    blocks: Blocks<'f>,
    memo: HashMap<Region, (u32, Plan)>,
}

impl Cutter<'_> {
    fn best(&mut self, region: Region, depth: usize, meter: &mut Meter) -> u32 {
        let size = size(region);
        if !self
            .folded
            .pieces
            .iter()
            .any(|piece| (0..3).all(|k| piece.size[k] <= size[k]))
        {
            return 0;
        }
        if let Some(&(count, _)) = self.memo.get(&region) {
            return count;
        }
        let cuts = self.cuts(region);
        let (mut count, mut plan) = (0, Plan::Nothing);
        if let Some(cuts) = cuts {
            for (axis, at) in cuts {
                if depth == 0 || (!meter.spend(1) && count > 0) {
                    break;
                }
                let (low, high) = split(region, axis, at);
                if self.blocks.most(self::size(low)) + self.blocks.most(self::size(high)) <= count {
                    continue;
                }
                let both = self.best(low, depth - 1, meter) + self.best(high, depth - 1, meter);
                if both > count {
                    count = both;
                    plan = Plan::Cut { axis, at };
                }
            }
        } else {
            (count, plan) = (self.blocks.best(size, meter), Plan::Free);
        }
        self.memo.insert(region, (count, plan));
        count
    }

    /// Where the region may be cut; `None` when no block is in it.
    fn cuts(&self, (lo, hi): Region) -> Option<Vec<(usize, i64)>> {
        let mut within = false;
        let mut cuts = Vec::new();
        for (block_lo, block_hi) in &self.folded.blocks {
            if (0..3).any(|k| lo[k] >= block_hi[k] || hi[k] <= block_lo[k]) {
                continue;
            }
            within = true;
            for k in 0..3 {
                cuts.extend(
                    [block_lo[k], block_hi[k]]
                        .iter()
                        .filter(|&&at| lo[k] < at && at < hi[k])
                        .map(|&at| (k, at)),
                );
            }
        }
        cuts.sort_unstable();
        cuts.dedup();
        within.then_some(cuts)
    }

    fn lay(&self, region: Region, laid: &mut Vec<Laid>) {
        match self.memo.get(&region) {
            Some(&(_, Plan::Cut { axis, at })) => {
                let (low, high) = split(region, axis, at);
                self.lay(low, laid);
                self.lay(high, laid);
            }
            Some((_, Plan::Free)) => self.blocks.lay(size(region), region.0, laid),
            Some((_, Plan::Nothing)) | None => {}
        }
    }
}

fn size((lo, hi): Region) -> V3 {
    std::array::from_fn(|k| hi[k] - lo[k])
}

fn split((lo, hi): Region, axis: usize, at: i64) -> (Region, Region) {
    let (mut low_hi, mut high_lo) = (hi, lo);
    low_hi[axis] = at;
    high_lo[axis] = at;
    ((lo, low_hi), (high_lo, hi))
}
