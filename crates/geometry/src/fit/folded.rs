//! The plain question: boxes that must not overlap, in a box with blocks, with every gap and margin folded away.
//!
//! Each piece is grown by the gap on its upper faces, the hollow by the gap at its upper walls, each block by its
//! margins and less by the gap at its lower faces. Then nothing but plain non-overlap is left. A plate thinner than the
//! gap turns inside out that way; it still keeps modules on its two sides apart, so it is never dropped: a piece at `q`
//! of size `e` meets a block when `q < hi` and `q + e > lo` along every axis.
//!
//! Where nothing may stand over anything else, a piece takes the whole height of the hollow, and stands at its bottom.

use super::shape::{Hall, Put, Shape, V3, faces};
use crate::Face;

/// A shape grown by what it keeps free at its upper faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// Index into the shapes folded.
    pub(super) shape: usize,
    pub(super) kind: usize,
    pub(super) size: V3,
    pub(super) count: u32,
}

/// A piece at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Laid {
    /// Index into the pieces.
    pub(super) piece: usize,
    pub(super) at: V3,
}

/// The folded question.
#[derive(Clone, Debug)]
pub(super) struct Folded {
    pub(super) origin: V3,
    pub(super) dims: V3,
    /// Low and high corners; a low coordinate may lie above the high one.
    pub(super) blocks: Vec<(V3, V3)>,
    pub(super) pieces: Vec<Piece>,
}

impl Folded {
    /// Folds `members` (indices into `shapes`) and the hall. Where service spaces differ between members, the largest
    /// counts for all, which is on the safe side.
    pub(super) fn new(hall: &Hall, shapes: &[Shape], members: &[usize]) -> Self {
        let most = |value: &dyn Fn(&Shape) -> i64| members.iter().map(|&m| value(&shapes[m])).max().unwrap_or(0);
        let wall = Face::ALL.map(|face| most(&|s| hall.to_wall(s, face)));
        let service: [i64; 6] = std::array::from_fn(|f| most(&|s| s.service[f]));
        let pad: V3 = std::array::from_fn(|k| {
            let (low, high) = faces(k);
            hall.gap.max(service[low]).max(service[high])
        });
        let origin: V3 = std::array::from_fn(|k| hall.lo[k] + wall[faces(k).0]);
        let dims: V3 = std::array::from_fn(|k| hall.hi[k] - wall[faces(k).1] - origin[k] + pad[k]);
        let blocks = hall
            .blocks
            .iter()
            .map(|block| {
                let lo: V3 = std::array::from_fn(|k| {
                    let (low, high) = faces(k);
                    block.lo[k] - block.margin[low].max(service[high]) + pad[k] - origin[k]
                });
                let hi: V3 = std::array::from_fn(|k| {
                    let (low, high) = faces(k);
                    block.hi[k] + block.margin[high].max(service[low]) - origin[k]
                });
                (lo, hi)
            })
            .filter(|(lo, hi)| (0..3).all(|k| hi[k] > 0 && lo[k] < dims[k]))
            .collect();
        let mut pieces: Vec<Piece> = Vec::new();
        for &m in members {
            let s = &shapes[m];
            let mut size: V3 = std::array::from_fn(|k| s.extent[k] + pad[k]);
            if hall.one_tier {
                size[2] = size[2].max(dims[2]);
            }
            let known = pieces
                .iter()
                .any(|p| p.kind == s.kind && p.size == size && p.count == s.count);
            if !known && (0..3).all(|k| size[k] <= dims[k]) {
                pieces.push(Piece {
                    shape: m,
                    kind: s.kind,
                    size,
                    count: s.count,
                });
            }
        }
        Self {
            origin,
            dims,
            blocks,
            pieces,
        }
    }

    /// The kinds that have a piece, in order.
    pub(super) fn kinds(&self) -> Vec<usize> {
        let mut kinds: Vec<usize> = self.pieces.iter().map(|piece| piece.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    }

    /// Whether pieces go in behind, beside and above each other.
    pub(super) fn is_deep(&self) -> bool {
        (0..3).all(|k| self.pieces.iter().any(|piece| 2 * piece.size[k] <= self.dims[k]))
    }

    /// Whether a piece of `size` at `at` meets a block.
    pub(super) fn blocked(&self, at: V3, size: V3) -> bool {
        self.blocks
            .iter()
            .any(|(lo, hi)| (0..3).all(|k| at[k] < hi[k] && at[k] + size[k] > lo[k]))
    }

    /// Back to shapes in the hall's coordinates.
    pub(super) fn unfold(&self, laid: &[Laid], shapes: &[Shape]) -> Vec<Put> {
        laid.iter()
            .map(|l| Put {
                shape: shapes[self.pieces[l.piece].shape],
                at: std::array::from_fn(|k| l.at[k] + self.origin[k]),
            })
            .collect()
    }
}

/// The groups of shapes worth folding together: each service pattern on its own, then all.
pub(super) fn groups(shapes: &[Shape]) -> Vec<Vec<usize>> {
    let mut patterns: Vec<[i64; 6]> = Vec::new();
    for shape in shapes {
        if !patterns.contains(&shape.service) {
            patterns.push(shape.service);
        }
    }
    let all = || (0..shapes.len()).collect::<Vec<_>>();
    if patterns.len() == 1 {
        return vec![all()];
    }
    let alone = |pattern: &[i64; 6]| {
        (0..shapes.len())
            .filter(|&i| shapes[i].service == *pattern)
            .collect::<Vec<_>>()
    };
    patterns.iter().map(alone).chain(std::iter::once(all())).collect()
}

/// Every sum of `steps` from the starts, up to `top`, in rising order; the smallest `most` of them.
pub(super) fn sums(starts: &[i64], steps: &[i64], top: i64, most: usize) -> Vec<i64> {
    let mut found: std::collections::BTreeSet<i64> =
        starts.iter().copied().filter(|&s| (0..=top).contains(&s)).collect();
    let mut from = found.first().copied();
    while let Some(at) = from {
        if found.len() > most {
            break;
        }
        found.extend(steps.iter().map(|step| at + step).filter(|&sum| sum <= top));
        from = found.range(at + 1..).next().copied();
    }
    found.into_iter().collect()
}

/// The different sizes of the pieces along axis `k`, in rising order.
pub(super) fn sizes_along(pieces: &[Piece], k: usize) -> Vec<i64> {
    let mut sizes: Vec<i64> = pieces.iter().map(|piece| piece.size[k]).collect();
    sizes.sort_unstable();
    sizes.dedup();
    sizes
}

/// The other two axes of `k`.
pub(super) const fn others(k: usize) -> (usize, usize) {
    match k {
        0 => (1, 2),
        1 => (0, 2),
        _ => (0, 1),
    }
}
