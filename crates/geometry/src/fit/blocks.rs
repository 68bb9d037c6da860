//! The most pieces in an empty box by recursive blocks: grids, cuts right through, and five blocks round a middle.
//!
//! The five-block pattern is the classic recursion of flat pallet loading, here tried in each of the three planes with
//! the full depth; cuts right through give layers of any heights. Lengths are rounded down to sums of sizes, so that
//! equal questions are asked once.

use std::collections::HashMap;

use super::folded::{Laid, Piece, others, sizes_along, sums};
use super::meter::Meter;
use super::shape::V3;

/// The most sums kept along one axis.
const MOST_SUMS: usize = 1500;
/// Five blocks are tried only where their number of trials stays below this.
const MOST_FIVES: usize = 1_500_000;

/// How a box is filled.
#[derive(Clone, Copy, Debug)]
enum Pattern {
    Nothing,
    Grid(usize),
    Cut {
        axis: usize,
        at: i64,
    },
    Five {
        across: usize,
        u: (i64, i64),
        v: (i64, i64),
    },
}

/// Remembers the best filling for every box asked about.
pub(super) struct Blocks<'p> {
    pieces: &'p [Piece],
    sums: [Vec<i64>; 3],
    memo: HashMap<V3, (u32, Pattern)>,
    /// Least volume per module.
    per_module: f64,
    grids_only: bool,
}

impl<'p> Blocks<'p> {
    /// For boxes up to `dims`; `grids_only` gives the quick and plain answer.
    pub(super) fn new(pieces: &'p [Piece], dims: V3, grids_only: bool) -> Self {
        let per_module = pieces
            .iter()
            .map(|p| volume(p.size) / f64::from(p.count))
            .fold(f64::INFINITY, f64::min);
        let sums = std::array::from_fn(|k| {
            if grids_only {
                Vec::new()
            } else {
                sums(&[0], &sizes_along(pieces, k), dims[k].max(0), MOST_SUMS)
            }
        });
        Self {
            pieces,
            sums,
            memo: HashMap::new(),
            per_module,
            grids_only,
        }
    }

    /// At most this many modules by volume.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small count, saturating"
    )]
    pub(super) fn most(&self, dims: V3) -> u32 {
        (volume(dims) / self.per_module + 1e-6) as u32
    }

    /// The most modules found for a box of `dims`.
    pub(super) fn best(&mut self, dims: V3, meter: &mut Meter) -> u32 {
        let dims = self.rounded(dims);
        if dims.contains(&0) {
            return 0;
        }
        if let Some(&(count, _)) = self.memo.get(&dims) {
            return count;
        }
        let (mut count, mut pattern) = self.grid(dims);
        let most = self.most(dims);
        if !self.grids_only {
            self.cuts(dims, most, &mut count, &mut pattern, meter);
            self.fives(dims, most, &mut count, &mut pattern, meter);
        }
        self.memo.insert(dims, (count, pattern));
        count
    }

    /// Lays out what [`Blocks::best`] counted, with its low corner at `at`.
    pub(super) fn lay(&self, dims: V3, at: V3, laid: &mut Vec<Laid>) {
        let dims = self.rounded(dims);
        let Some(&(_, pattern)) = self.memo.get(&dims) else {
            return;
        };
        match pattern {
            Pattern::Nothing => {}
            Pattern::Grid(piece) => self.lay_grid(piece, dims, at, laid),
            Pattern::Cut { axis, at: cut } => {
                let (low, high, step) = halves(dims, axis, cut);
                self.lay(low, at, laid);
                self.lay(high, moved(at, step), laid);
            }
            Pattern::Five { across, u, v } => {
                for (size, step) in five(dims, across, u, v) {
                    self.lay(size, moved(at, step), laid);
                }
            }
        }
    }

    fn rounded(&self, dims: V3) -> V3 {
        if self.grids_only {
            return dims.map(|d| d.max(0));
        }
        std::array::from_fn(|k| {
            let sums = &self.sums[k];
            sums.partition_point(|&s| s <= dims[k])
                .checked_sub(1)
                .map_or(0, |i| sums[i])
        })
    }

    fn grid(&self, dims: V3) -> (u32, Pattern) {
        let mut best = (0, Pattern::Nothing);
        for (i, piece) in self.pieces.iter().enumerate() {
            let number: i64 = (0..3).map(|k| dims[k] / piece.size[k]).product();
            let count = u32::try_from(number).unwrap_or(u32::MAX).saturating_mul(piece.count);
            if count > best.0 {
                best = (count, Pattern::Grid(i));
            }
        }
        best
    }

    fn lay_grid(&self, piece: usize, dims: V3, at: V3, laid: &mut Vec<Laid>) {
        let size = self.pieces[piece].size;
        for z in 0..dims[2] / size[2] {
            for y in 0..dims[1] / size[1] {
                for x in 0..dims[0] / size[0] {
                    laid.push(Laid {
                        piece,
                        at: moved(at, [x * size[0], y * size[1], z * size[2]]),
                    });
                }
            }
        }
    }

    fn cuts(&mut self, dims: V3, most: u32, count: &mut u32, pattern: &mut Pattern, meter: &mut Meter) {
        for axis in 0..3 {
            for at in self.inner_sums(axis, dims[axis]) {
                if at > dims[axis] / 2 {
                    break;
                }
                if *count >= most || !meter.spend(1) {
                    return;
                }
                let (low, high, _) = halves(dims, axis, at);
                let (low, high) = (self.rounded(low), self.rounded(high));
                if self.most(low) + self.most(high) <= *count {
                    continue;
                }
                let low = self.best(low, meter);
                if low + self.most(high) > *count {
                    let both = low + self.best(high, meter);
                    if both > *count {
                        *count = both;
                        *pattern = Pattern::Cut { axis, at };
                    }
                }
            }
        }
    }

    fn fives(&mut self, dims: V3, most: u32, count: &mut u32, pattern: &mut Pattern, meter: &mut Meter) {
        for across in [2, 1, 0] {
            let (u, v) = others(across);
            let us = self.inner_sums(u, dims[u]);
            let vs = self.inner_sums(v, dims[v]);
            if us.len() * us.len() / 2 * (vs.len() * vs.len() / 2) > MOST_FIVES {
                continue;
            }
            for (i, &u1) in us.iter().enumerate() {
                for &u2 in &us[i + 1..] {
                    if *count >= most || !meter.spend(1 + whole(vs.len() * vs.len() / 40)) {
                        return;
                    }
                    for (j, &v1) in vs.iter().enumerate() {
                        for &v2 in &vs[j + 1..] {
                            if let Some(more) = self.five_count(dims, across, (u1, u2), (v1, v2), *count, meter) {
                                *count = more;
                                *pattern = Pattern::Five {
                                    across,
                                    u: (u1, u2),
                                    v: (v1, v2),
                                };
                            }
                        }
                    }
                }
            }
        }
    }

    /// Where a length may be cut: sums strictly inside it, of which no larger one leaves as much beyond it.
    fn inner_sums(&self, k: usize, length: i64) -> Vec<i64> {
        let sums = &self.sums[k];
        let reach = |length: i64| sums[sums.partition_point(|&s| s <= length) - 1];
        let inner = sums.iter().copied().filter(|&s| s > 0 && s < length);
        inner.filter(|&s| s == reach(length - reach(length - s))).collect()
    }

    /// The count of one five-block pattern if it beats `beat`.
    fn five_count(
        &mut self,
        dims: V3,
        across: usize,
        u: (i64, i64),
        v: (i64, i64),
        beat: u32,
        meter: &mut Meter,
    ) -> Option<u32> {
        let parts = five(dims, across, u, v);
        // Estimates by volume first: nearly all patterns end here.
        let mut hope = parts.iter().map(|&(size, _)| self.most(size)).sum::<u32>();
        for (size, _) in parts {
            if hope <= beat {
                return None;
            }
            hope = hope - self.most(size) + self.best(size, meter);
        }
        (hope > beat).then_some(hope)
    }
}

#[expect(clippy::cast_precision_loss, reason = "an estimate to prune by")]
fn volume(size: V3) -> f64 {
    size[0].max(0) as f64 * size[1].max(0) as f64 * size[2].max(0) as f64
}

fn whole(n: usize) -> u64 {
    u64::try_from(n).unwrap_or(u64::MAX)
}

pub(super) fn moved(at: V3, by: V3) -> V3 {
    std::array::from_fn(|k| at[k] + by[k])
}

/// Both parts of a box cut across `axis`, and the step to the second.
fn halves(dims: V3, axis: usize, at: i64) -> (V3, V3, V3) {
    let (mut low, mut high, mut step) = (dims, dims, [0; 3]);
    low[axis] = at;
    high[axis] -= at;
    step[axis] = at;
    (low, high, step)
}

/// Four blocks turning round a fifth: sizes and low corners.
fn five(dims: V3, across: usize, (u1, u2): (i64, i64), (v1, v2): (i64, i64)) -> [(V3, V3); 5] {
    let (u, v) = others(across);
    let (du, dv) = (dims[u], dims[v]);
    let block = |u_lo: i64, u_hi: i64, v_lo: i64, v_hi: i64| {
        let (mut size, mut step) = (dims, [0; 3]);
        size[u] = u_hi - u_lo;
        size[v] = v_hi - v_lo;
        step[u] = u_lo;
        step[v] = v_lo;
        (size, step)
    };
    [
        block(0, u2, 0, v1),
        block(u2, du, 0, v2),
        block(u1, du, v2, dv),
        block(0, u1, v1, dv),
        block(u1, u2, v1, v2),
    ]
}
