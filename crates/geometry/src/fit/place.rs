//! The place with the most to spare for a box of a given size.
//!
//! Seen from the low corner of the body, every obstacle forbids an open box of places and every wall bounds them, each
//! grown by what is to be spared. If any place is free then so is one that cannot be moved lower along any axis: each of
//! its coordinates is the low end of the range or the upper face of a forbidden box. That makes the question finite and
//! exact for a given spare length, which is then bisected in whole nanometres.

use super::Rim;
use super::berth::{Berth, solids};
use super::meter::Meter;
use super::shape::{V3, faces};

/// Where a body stands, and what it spares on all sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Standing {
    /// The low corner of the body.
    pub(super) at: V3,
    pub(super) spare: i64,
}

/// The place with the largest smallest clearance beyond the margins, in the middle where it is free; `None` when the box
/// does not go in.
pub(super) fn best_place(berth: &Berth, body: V3, rims: &[Rim], meter: &mut Meter) -> Option<Standing> {
    let solids = solids(body, rims);
    let spots = |spare: i64, meter: &mut Meter| {
        let config = Config::new(berth, &solids, spare);
        meter.spend(1 + config.work() / 64);
        config
    };
    if !spots(0, meter).any() {
        return None;
    }
    let most = Config::new(berth, &solids, 0).slack() / 2;
    let (mut spare, mut beyond) = (0, most + 1);
    // Where nothing but the walls is in the way, they decide.
    if spots(most, meter).any() {
        spare = most;
    }
    while beyond - spare > 1 {
        let middle = spare + (beyond - spare) / 2;
        if spots(middle, meter).any() {
            spare = middle;
        } else {
            beyond = middle;
        }
    }
    let config = Config::new(berth, &solids, spare);
    let at = config
        .corners()
        .into_iter()
        .map(|corner| config.centred(corner))
        .max_by_key(|at| {
            let room: i64 = (0..3).map(|k| config.free_along(*at, k)).map(|(lo, hi)| hi - lo).sum();
            (room, std::cmp::Reverse((at[2], at[0], at[1])))
        })?;
    Some(Standing { at, spare })
}

/// What a box spares that stands at a given place; `None` when it must not stand there.
pub(super) fn spare_at(berth: &Berth, at: V3, body: V3, rims: &[Rim]) -> Option<i64> {
    let mut spare = i64::MAX;
    for (lo, hi) in solids(body, rims) {
        for k in 0..3 {
            let (low, high) = faces(k);
            let before = at[k] + lo[k] - berth.lo[k] - berth.margin[low];
            let behind = berth.hi[k] - berth.margin[high] - at[k] - hi[k];
            spare = spare.min(before).min(behind);
        }
        for o in &berth.obstacles {
            let along = |k: usize| (o.lo[k] - at[k] - hi[k]).max(at[k] + lo[k] - o.hi[k]);
            let beyond = (0..3).map(along).max().unwrap_or(0) - o.margin;
            if o.spares || beyond < 0 {
                spare = spare.min(beyond);
            }
        }
    }
    (spare >= 0).then_some(spare)
}

/// Whether a box goes in at all.
pub(super) fn goes_in(berth: &Berth, body: V3, rims: &[Rim], meter: &mut Meter) -> bool {
    let config = Config::new(berth, &solids(body, rims), 0);
    meter.spend(1 + config.work() / 64);
    config.any()
}

/// The places of the low corner of the body.
struct Config {
    lo: V3,
    hi: V3,
    /// Open boxes of places not allowed.
    forbidden: Vec<(V3, V3)>,
}

impl Config {
    fn new(berth: &Berth, solids: &[(V3, V3)], spare: i64) -> Self {
        let lo: V3 = std::array::from_fn(|k| {
            let reach = solids.iter().map(|(lo, _)| lo[k]).min().unwrap_or(0);
            berth.lo[k] + berth.margin[faces(k).0] + spare - reach
        });
        let hi: V3 = std::array::from_fn(|k| {
            let reach = solids.iter().map(|(_, hi)| hi[k]).max().unwrap_or(0);
            berth.hi[k] - berth.margin[faces(k).1] - spare - reach
        });
        let mut forbidden = Vec::new();
        for o in &berth.obstacles {
            let margin = o.margin + if o.spares { spare } else { 0 };
            for solid in solids {
                let from: V3 = std::array::from_fn(|k| o.lo[k] - margin - solid.1[k]);
                let to: V3 = std::array::from_fn(|k| o.hi[k] + margin - solid.0[k]);
                if (0..3).all(|k| from[k] < hi[k] && to[k] > lo[k] && from[k] < to[k]) {
                    forbidden.push((from, to));
                } else if (0..3).all(|k| from[k] < to[k] && from[k] <= hi[k] && to[k] >= lo[k] && lo[k] == hi[k]) {
                    // A range of a single place along each axis.
                    forbidden.push((from, to));
                }
            }
        }
        Self { lo, hi, forbidden }
    }

    /// The shortest range of the three; below zero when the box is too large.
    fn slack(&self) -> i64 {
        (0..3).map(|k| self.hi[k] - self.lo[k]).min().unwrap_or(0)
    }

    fn free(&self, at: V3) -> bool {
        !self
            .forbidden
            .iter()
            .any(|(lo, hi)| (0..3).all(|k| lo[k] < at[k] && at[k] < hi[k]))
    }

    fn candidates(&self, k: usize) -> Vec<i64> {
        let mut candidates = vec![self.lo[k]];
        candidates.extend(
            self.forbidden
                .iter()
                .map(|(_, hi)| hi[k])
                .filter(|&at| self.lo[k] < at && at <= self.hi[k]),
        );
        candidates.sort_unstable();
        candidates.dedup();
        candidates
    }

    fn work(&self) -> u64 {
        let n = u64::try_from(self.forbidden.len()).unwrap_or(0) + 1;
        n * n * n
    }

    fn any(&self) -> bool {
        self.slack() >= 0 && self.first_corners(1).len() == 1
    }

    fn corners(&self) -> Vec<V3> {
        self.first_corners(256)
    }

    fn first_corners(&self, most: usize) -> Vec<V3> {
        let mut corners = Vec::new();
        let [xs, ys, zs] = std::array::from_fn(|k| self.candidates(k));
        for &z in &zs {
            for &y in &ys {
                for &x in &xs {
                    if self.free([x, y, z]) {
                        corners.push([x, y, z]);
                        if corners.len() == most {
                            return corners;
                        }
                    }
                }
            }
        }
        corners
    }

    /// How far a free place can be moved along one axis: the lowest and the highest coordinate.
    fn free_along(&self, at: V3, k: usize) -> (i64, i64) {
        let (mut lo, mut hi) = (self.lo[k], self.hi[k]);
        for (from, to) in &self.forbidden {
            if (0..3).all(|j| j == k || (from[j] < at[j] && at[j] < to[j])) {
                if to[k] <= at[k] {
                    lo = lo.max(to[k]);
                } else {
                    hi = hi.min(from[k]);
                }
            }
        }
        (lo, hi)
    }

    /// The place moved to the middle of what is free along each axis, twice over.
    fn centred(&self, mut at: V3) -> V3 {
        for k in [0, 1, 2, 0, 1, 2] {
            let (lo, hi) = self.free_along(at, k);
            at[k] = lo + (hi - lo).div_euclid(2);
        }
        at
    }
}
