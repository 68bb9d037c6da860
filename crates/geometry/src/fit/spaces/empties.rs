//! The maximal empty cuboids of a hollow.

use super::V3;

/// From the low to the high corner.
pub(super) type Space = (V3, V3);

/// The most spaces kept; beyond that the smallest are given up.
const MOST_SPACES: usize = 400;

/// Every cuboid that is empty and cannot be made longer along any axis, less those too small to be of use.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Empties(pub(super) Vec<Space>);

impl Empties {
    /// Of a hollow of `dims` with blocks in it; `useful` tells which sizes are worth keeping.
    pub(super) fn new(dims: V3, blocks: &[Space], useful: impl Fn(V3) -> bool) -> Self {
        let mut empties = Self(Vec::new());
        if useful(dims) {
            empties.0.push(([0; 3], dims));
        }
        for block in blocks {
            empties.cut(block, &useful);
        }
        empties
    }

    /// Takes a block out. It may be inside out along an axis, as in the folded question: what may stay is whatever lies
    /// above its high or below its low face along some axis.
    pub(super) fn cut(&mut self, block: &Space, useful: impl Fn(V3) -> bool) {
        let mut pieces: Vec<Space> = Vec::new();
        self.0.retain(|space| {
            let met = meet(space, block);
            if met {
                pieces.extend(around(space, block).filter(|piece| useful(size(piece))));
            }
            !met
        });
        let kept = self.0.len();
        for (i, piece) in pieces.iter().enumerate() {
            // Of equal ones the first stays.
            let within = |(j, other): (usize, &Space)| j != i && holds(other, piece) && (other != piece || j < i);
            if !self.0[..kept].iter().any(|other| holds(other, piece)) && !pieces.iter().enumerate().any(within) {
                self.0.push(*piece);
            }
        }
        if self.0.len() > MOST_SPACES {
            self.0
                .sort_by(|a, b| super::volume(size(b)).total_cmp(&super::volume(size(a))));
            self.0.truncate(MOST_SPACES);
        }
    }
}

/// The extents of a space.
pub(super) fn size((lo, hi): &Space) -> V3 {
    std::array::from_fn(|k| hi[k] - lo[k])
}

/// Whether something in the space could meet the block.
fn meet((lo, hi): &Space, (block_lo, block_hi): &Space) -> bool {
    (0..3).all(|k| lo[k] < block_hi[k] && hi[k] > block_lo[k])
}

/// What is left of a space on the six sides of a block.
fn around(&(lo, hi): &Space, &(block_lo, block_hi): &Space) -> impl Iterator<Item = Space> {
    (0..3).flat_map(move |k| {
        let (mut below, mut above) = ((lo, hi), (lo, hi));
        below.1[k] = hi[k].min(block_lo[k]);
        above.0[k] = lo[k].max(block_hi[k]);
        [below, above].into_iter().filter(move |(lo, hi)| lo[k] < hi[k])
    })
}

/// Whether the first space holds all of the second.
fn holds(outer: &Space, inner: &Space) -> bool {
    (0..3).all(|k| outer.0[k] <= inner.0[k] && inner.1[k] <= outer.1[k])
}
