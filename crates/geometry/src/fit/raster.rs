//! The places worth trying, and which of them disturb each other.
//!
//! Raster points: along each axis, `S` holds the sums of sizes from the low wall and the upper faces of blocks, `T` those
//! from the high wall and the lower faces. A piece of size `w` need only stand at `max { s in S : s <= X - w - t }` for `t`
//! in `T`: push a layout to the far side, then round every coordinate down into `S`; what was left of something stays
//! so, since `S` is closed under adding sizes and holds the block faces.

use super::folded::{Folded, Laid, Piece, sizes_along, sums};
use super::shape::V3;

/// One piece at one place worth trying.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) laid: Laid,
    pub(super) kind: usize,
    pub(super) count: u32,
    /// The low and the high corner.
    pub(super) lo: V3,
    pub(super) hi: V3,
    /// Along each axis, which of the raster's spans it takes.
    span: [usize; 3],
}

impl Spot {
    /// A piece at a place.
    pub(super) fn new(laid: Laid, piece: &Piece) -> Self {
        Self {
            laid,
            kind: piece.kind,
            count: piece.count,
            lo: laid.at,
            hi: std::array::from_fn(|k| laid.at[k] + piece.size[k]),
            span: [0; 3],
        }
    }
}

/// Spots, and which of them overlap each span along each axis, as bits.
pub(super) struct Raster {
    pub(super) spots: Vec<Spot>,
    words: usize,
    rows: [Vec<u64>; 3],
}

impl Raster {
    /// A raster of these spots, which are put in the order that [`Raster::find`] needs.
    pub(super) fn of(mut spots: Vec<Spot>) -> Self {
        spots.sort_by_key(|spot| (spot.laid.piece, spot.laid.at));
        let words = spots.len().div_ceil(64);
        let rows = std::array::from_fn(|k| {
            let mut spans: Vec<(i64, i64)> = spots.iter().map(|spot| (spot.lo[k], spot.hi[k])).collect();
            spans.sort_unstable();
            spans.dedup();
            for spot in &mut spots {
                spot.span[k] = spans.partition_point(|&span| span < (spot.lo[k], spot.hi[k]));
            }
            let mut rows = vec![0_u64; spans.len() * words];
            for (&(lo, hi), row) in spans.iter().zip(rows.chunks_mut(words.max(1))) {
                for (i, spot) in spots.iter().enumerate() {
                    if spot.lo[k] < hi && lo < spot.hi[k] {
                        row[i / 64] |= 1 << (i % 64);
                    }
                }
            }
            rows
        });
        Self { spots, words, rows }
    }

    /// Words of bits in a set of spots.
    pub(super) fn words(&self) -> usize {
        self.words
    }

    /// Calls `each` with every spot that overlaps spot `i`, itself included.
    pub(super) fn each_overlap(&self, i: usize, mut each: impl FnMut(usize)) {
        let [x, y, z] = self.rows_of(i);
        for word in 0..self.words {
            let mut bits = x[word] & y[word] & z[word];
            while bits != 0 {
                each(word * 64 + bits.trailing_zeros() as usize);
                bits &= bits - 1;
            }
        }
    }

    /// The members of `set` that overlap spot `i`.
    pub(super) fn overlaps_in(&self, i: usize, set: &[u64], out: &mut Vec<usize>) {
        out.clear();
        let [x, y, z] = self.rows_of(i);
        for word in 0..self.words {
            let mut bits = x[word] & y[word] & z[word] & set[word];
            while bits != 0 {
                out.push(word * 64 + bits.trailing_zeros() as usize);
                bits &= bits - 1;
            }
        }
    }

    fn rows_of(&self, i: usize) -> [&[u64]; 3] {
        let span = self.spots[i].span;
        std::array::from_fn(|k| &self.rows[k][span[k] * self.words..(span[k] + 1) * self.words])
    }

    /// The spot of a piece at a place.
    pub(super) fn find(&self, laid: &Laid) -> Option<usize> {
        self.spots
            .binary_search_by_key(&(laid.piece, laid.at), |spot| (spot.laid.piece, spot.laid.at))
            .ok()
    }
}

/// Spots sorted into parts that have nothing to do with each other: none reaches from one into another.
pub(super) fn parts(spots: Vec<Spot>) -> Vec<Vec<Spot>> {
    let mut parts = Vec::new();
    if spots.is_empty() {
        return parts;
    }
    let mut open = vec![(spots, 0)];
    while let Some((spots, axis)) = open.pop() {
        if axis == 3 {
            parts.push(spots);
            continue;
        }
        let slabs = slabs(spots, axis);
        // After a cut, the axes before may be cut again.
        let next = if slabs.len() > 1 { 0 } else { axis + 1 };
        open.extend(slabs.into_iter().rev().map(|slab| (slab, next)));
    }
    parts
}

/// Cuts spots across an axis wherever none reaches over the cut.
fn slabs(mut spots: Vec<Spot>, k: usize) -> Vec<Vec<Spot>> {
    spots.sort_by_key(|spot| spot.lo[k]);
    let mut slabs: Vec<Vec<Spot>> = Vec::new();
    let mut end = i64::MIN;
    for spot in spots {
        match slabs.last_mut() {
            Some(slab) if spot.lo[k] < end => slab.push(spot),
            _ => slabs.push(vec![spot]),
        }
        end = end.max(spot.hi[k]);
    }
    slabs
}

/// The places worth trying along each axis: for each size, in rising order.
pub(super) struct Places([Vec<(i64, Vec<i64>)>; 3]);

impl Places {
    /// `None` when there are far more than can be searched with `most` spots.
    pub(super) fn new(folded: &Folded, most: usize) -> Option<Self> {
        let mut axes: [Vec<(i64, Vec<i64>)>; 3] = std::array::from_fn(|_| Vec::new());
        for (k, axis) in axes.iter_mut().enumerate() {
            *axis = along(folded, k, most)?;
        }
        let this = Self(axes);
        let total: usize = folded
            .pieces
            .iter()
            .map(|p| (0..3).map(|k| this.along(k, p.size[k]).len()).product::<usize>())
            .fold(0, usize::saturating_add);
        (total <= most * 8).then_some(this)
    }

    fn along(&self, k: usize, size: i64) -> &[i64] {
        let of = self.0[k].iter().find(|(s, _)| *s == size);
        of.map_or(&[], |(_, places)| places)
    }

    /// Pushes a layout of `folded` to the far side, moves it by `by`, and rounds it down to these places.
    pub(super) fn snap(&self, folded: &Folded, by: V3, laid: &mut [Laid]) {
        push_far(folded, laid);
        for l in laid {
            let size = folded.pieces[l.piece].size;
            l.at = std::array::from_fn(|k| {
                let far = l.at[k] + by[k];
                let places = self.along(k, size[k]);
                let at = places.partition_point(|&p| p <= far).checked_sub(1);
                at.map_or(far, |at| places[at])
            });
        }
    }
}

/// Sizes and their places along axis `k`.
fn along(folded: &Folded, k: usize, most: usize) -> Option<Vec<(i64, Vec<i64>)>> {
    let top = folded.dims[k].max(0);
    let sizes = sizes_along(&folded.pieces, k);
    let starts = |face: &dyn Fn(&(V3, V3)) -> i64| -> Vec<i64> {
        std::iter::once(0).chain(folded.blocks.iter().map(face)).collect()
    };
    let near = sums(&starts(&|(_, hi)| hi[k]), &sizes, top, most);
    let far = sums(&starts(&|(lo, _)| top - lo[k]), &sizes, top, most);
    if near.len() > most || far.len() > most {
        return None;
    }
    let of = |size: i64| {
        let mut places: Vec<i64> = far
            .iter()
            .map(|t| top - size - t)
            .filter(|&at| at >= 0)
            .map(|at| near[near.partition_point(|&s| s <= at) - 1])
            .collect();
        places.sort_unstable();
        places.dedup();
        (size, places)
    };
    Some(sizes.into_iter().map(of).collect())
}

/// Every piece at each of its places that no block is in; `None` with more than `most`.
pub(super) fn spots(folded: &Folded, places: &Places, most: usize) -> Option<Vec<Spot>> {
    let mut spots = Vec::new();
    for (piece, p) in folded.pieces.iter().enumerate() {
        for &x in places.along(0, p.size[0]) {
            for &y in places.along(1, p.size[1]) {
                for &z in places.along(2, p.size[2]) {
                    let at = [x, y, z];
                    if folded.blocked(at, p.size) {
                        continue;
                    }
                    if spots.len() == most {
                        return None;
                    }
                    spots.push(Spot::new(Laid { piece, at }, p));
                }
            }
        }
    }
    Some(spots)
}

/// Pushes every piece as far to the high side as the others, the blocks and the walls let it.
fn push_far(folded: &Folded, laid: &mut [Laid]) {
    let size = |l: &Laid| folded.pieces[l.piece].size;
    let mut moving = true;
    while moving {
        moving = false;
        for i in 0..laid.len() {
            let (at, extent) = (laid[i].at, size(&laid[i]));
            for k in 0..3 {
                let beside = |lo: V3, hi: V3| (0..3).all(|j| j == k || (at[j] < hi[j] && at[j] + extent[j] > lo[j]));
                let mut far = folded.dims[k];
                for (lo, hi) in &folded.blocks {
                    if beside(*lo, *hi) && hi[k] > at[k] {
                        far = far.min(lo[k]);
                    }
                }
                for (j, other) in laid.iter().enumerate() {
                    let lo = other.at;
                    let hi = std::array::from_fn(|a| lo[a] + size(other)[a]);
                    if j != i && beside(lo, hi) && hi[k] > at[k] {
                        far = far.min(lo[k]);
                    }
                }
                if far - extent[k] > at[k] {
                    laid[i].at[k] = far - extent[k];
                    moving = true;
                    break;
                }
            }
        }
    }
}
