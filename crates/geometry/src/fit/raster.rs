//! The places worth trying, and which of them disturb each other.
//!
//! Raster points: along each axis, `S` holds the sums of sizes from the low wall and the upper faces of blocks, `T` those
//! from the high wall and the lower faces. A piece of size `w` need only stand at `max { s in S : s <= X - w - t }` for `t`
//! in `T`: push a layout to the far side, then round every coordinate down into `S`; what was left of something stays
//! so, since `S` is closed under adding sizes and holds the block faces.

use super::folded::{Folded, Laid, sizes_along, sums};
use super::meter::Meter;
use super::shape::V3;

/// One piece at one place worth trying.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) laid: Laid,
    pub(super) kind: usize,
    pub(super) count: u32,
    /// Along each axis, which of its intervals the spot takes.
    class: [usize; 3],
}

/// All spots, and the spots that overlap each interval along each axis, as bits.
pub(super) struct Raster {
    pub(super) spots: Vec<Spot>,
    words: usize,
    rows: [Vec<u64>; 3],
    sums: [Vec<i64>; 3],
}

impl Raster {
    /// The raster of a folded question; `None` with more than `most` spots.
    pub(super) fn new(folded: &Folded, most: usize, meter: &mut Meter) -> Option<Self> {
        let axes: [Axis; 3] = std::array::from_fn(|k| Axis::new(folded, k, most));
        let total: usize = folded
            .pieces
            .iter()
            .map(|p| (0..3).map(|k| axes[k].places(p.size[k]).len()).product::<usize>())
            .fold(0, usize::saturating_add);
        if total == 0 || total > most * 8 || axes.iter().any(|axis| axis.sums.len() > most) {
            return None;
        }
        let spots = spots(folded, &axes, most)?;
        meter.spend(u64::try_from(total / 4).unwrap_or(0));
        let words = spots.len().div_ceil(64);
        let rows = std::array::from_fn(|k| axes[k].rows(&spots, folded, k, words));
        let [x, y, z] = axes;
        (!spots.is_empty()).then_some(Self {
            spots,
            words,
            rows,
            sums: [x.sums, y.sums, z.sums],
        })
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
        let class = self.spots[i].class;
        std::array::from_fn(|k| &self.rows[k][class[k] * self.words..(class[k] + 1) * self.words])
    }

    /// The spots of a given layout, after pushing it to the far side and rounding it down; what has no spot is left out.
    pub(super) fn snap(&self, folded: &Folded, laid: &[Laid]) -> Vec<usize> {
        let mut pushed = laid.to_vec();
        push_far(folded, &mut pushed);
        for l in &mut pushed {
            for k in 0..3 {
                let sums = &self.sums[k];
                l.at[k] = sums[sums.partition_point(|&s| s <= l.at[k]).saturating_sub(1)];
            }
        }
        pushed
            .iter()
            .filter_map(|l| {
                self.spots
                    .binary_search_by_key(&(l.piece, l.at), |spot| (spot.laid.piece, spot.laid.at))
                    .ok()
            })
            .collect()
    }
}

/// The raster along one axis.
struct Axis {
    sums: Vec<i64>,
    /// Size and its places.
    places: Vec<(i64, Vec<i64>)>,
}

impl Axis {
    fn new(folded: &Folded, k: usize, most: usize) -> Self {
        let top = folded.dims[k].max(0);
        let sizes = sizes_along(&folded.pieces, k);
        let starts = |face: &dyn Fn(&(V3, V3)) -> i64| -> Vec<i64> {
            std::iter::once(0).chain(folded.blocks.iter().map(face)).collect()
        };
        let near = sums(&starts(&|(_, hi)| hi[k]), &sizes, top, most);
        let far = sums(&starts(&|(lo, _)| top - lo[k]), &sizes, top, most);
        let places = sizes
            .iter()
            .map(|&size| {
                let mut places: Vec<i64> = far
                    .iter()
                    .map(|t| top - size - t)
                    .filter(|&at| at >= 0)
                    .map(|at| near[near.partition_point(|&s| s <= at) - 1])
                    .collect();
                places.sort_unstable();
                places.dedup();
                (size, places)
            })
            .collect();
        Self { sums: near, places }
    }

    fn places(&self, size: i64) -> &[i64] {
        self.places
            .iter()
            .find(|(s, _)| *s == size)
            .map_or(&[], |(_, places)| places)
    }

    /// Numbers the intervals: sizes in order, places in order within.
    fn class(&self, size: i64, at: i64) -> usize {
        let mut before = 0;
        for (s, places) in &self.places {
            if *s == size {
                return before + places.partition_point(|&p| p < at);
            }
            before += places.len();
        }
        before
    }

    fn rows(&self, spots: &[Spot], folded: &Folded, k: usize, words: usize) -> Vec<u64> {
        let intervals: Vec<(i64, i64)> = self
            .places
            .iter()
            .flat_map(|(size, places)| places.iter().map(move |&at| (at, at + size)))
            .collect();
        let mut rows = vec![0_u64; intervals.len() * words];
        for (class, &(lo, hi)) in intervals.iter().enumerate() {
            let row = &mut rows[class * words..(class + 1) * words];
            for (i, spot) in spots.iter().enumerate() {
                let at = spot.laid.at[k];
                if at < hi && lo < at + folded.pieces[spot.laid.piece].size[k] {
                    row[i / 64] |= 1 << (i % 64);
                }
            }
        }
        rows
    }
}

fn spots(folded: &Folded, axes: &[Axis; 3], most: usize) -> Option<Vec<Spot>> {
    let mut spots = Vec::new();
    for (piece, p) in folded.pieces.iter().enumerate() {
        for &x in axes[0].places(p.size[0]) {
            for &y in axes[1].places(p.size[1]) {
                for &z in axes[2].places(p.size[2]) {
                    let at = [x, y, z];
                    if folded.blocked(at, p.size) {
                        continue;
                    }
                    if spots.len() == most {
                        return None;
                    }
                    let class = std::array::from_fn(|k| axes[k].class(p.size[k], at[k]));
                    spots.push(Spot {
                        laid: Laid { piece, at },
                        kind: p.kind,
                        count: p.count,
                        class,
                    });
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
