//! The bound by weights on points: the linear program of the grid model.
//!
//! Give every point of the hollow a weight of zero or more. If every spot has points worth at least its count in it, no
//! layout holds more modules than all weights come to, since no point lies in two modules. The best weights are the
//! dual of the linear relaxation of the set-packing model (one variable a spot, one row a grid point), which Letchford
//! and Amaral (2001) found to be the strongest of the usual bounds for flat loading.
//!
//! The weights are found by a primal-dual gradient method (Chambolle and Pock 2011, with diagonal steps and restarts from
//! averages), in floats. Whatever that comes to is rounded to whole numbers, and the bound is worked out from those
//! exactly: poor weights give a poor bound, never a wrong one.

use super::raster::Raster;

/// Steps of the method between two looks at the bound.
const STRIDE: u32 = 20;
/// A spot whose points are worth so much more than its count rests for so many steps.
const DEAR: f64 = -0.03;
const REST: u8 = 4;
/// Rounds without a gain after which the method has settled.
const STALE: u32 = 60;
/// A weight of one, as a whole number.
const ONE: f64 = 1_048_576.0;

/// The linear program of one raster, with the best weights so far.
pub(super) struct Weights {
    points: V3U,
    spots: Vec<Cover>,
    /// The cap of each kind; `None` when it cannot bind.
    caps: Vec<Option<u32>>,
    now: State,
    next: State,
    anchor: State,
    since_restart: u32,
    steps_done: u32,
    /// How far `now` and `next` were apart in the first step since the restart, and in the last.
    first_error: f64,
    last_error: f64,
    balance: f64,
    /// Reciprocals of the number of spots that cover each point.
    point_step: Vec<f64>,
    /// Steps for which a spot is passed over.
    rests: Vec<u8>,
    kind_step: Vec<f64>,
    prefix: Vec<f64>,
    load: Vec<f64>,
    best: u32,
    /// The least bound before rounding down, and rounds since it last sank.
    least: f64,
    stale: u32,
    proof: Option<Proof>,
}

type V3U = [usize; 3];

/// Which points a spot covers.
#[derive(Clone, Copy)]
struct Cover {
    kind: usize,
    count: f64,
    /// The eight corners in the grid of sums: those to add, then those to take.
    plus: [u32; 4],
    minus: [u32; 4],
    step: f64,
    /// The points along each axis: from, to.
    range: [(usize, usize); 3],
}

/// Weights and shares at one time.
#[derive(Clone)]
struct State {
    /// Of each point.
    weight: Vec<f64>,
    /// Per module of each kind with a cap.
    due: Vec<f64>,
    /// How much of each spot is taken.
    share: Vec<f64>,
}

impl State {
    fn zero(points: usize, kinds: usize, spots: usize) -> Self {
        Self {
            weight: vec![0.0; points],
            due: vec![0.0; kinds],
            share: vec![0.0; spots],
        }
    }
}

impl Weights {
    /// The program for a raster; kinds with a cap count no more than that.
    pub(super) fn new(raster: &Raster, caps: &[Option<u32>]) -> Self {
        let axes: [Vec<i64>; 3] = std::array::from_fn(|k| maximal_points(raster, k));
        let points = [0, 1, 2].map(|k| axes[k].len());
        let grid = |at: V3U| u32::try_from((at[0] * (points[1] + 1) + at[1]) * (points[2] + 1) + at[2]).unwrap_or(0);
        let spots: Vec<Cover> = raster
            .spots
            .iter()
            .map(|spot| {
                let range = |k: usize| {
                    let before = |at: i64| axes[k].partition_point(|&p| p < at);
                    (before(spot.lo[k]), before(spot.hi[k]))
                };
                let [x, y, z] = [0, 1, 2].map(range);
                Cover {
                    kind: spot.kind,
                    count: f64::from(spot.count),
                    plus: [
                        grid([x.1, y.1, z.1]),
                        grid([x.0, y.0, z.1]),
                        grid([x.0, y.1, z.0]),
                        grid([x.1, y.0, z.0]),
                    ],
                    minus: [
                        grid([x.0, y.1, z.1]),
                        grid([x.1, y.0, z.1]),
                        grid([x.1, y.1, z.0]),
                        grid([x.0, y.0, z.0]),
                    ],
                    range: [x, y, z],
                    step: to_f64((x.1 - x.0) * (y.1 - y.0) * (z.1 - z.0)),
                }
            })
            .collect();
        let number: usize = points.iter().product();
        let cells: usize = points.iter().map(|n| n + 1).product();
        let state = State::zero(number, caps.len(), spots.len());
        let mut this = Self {
            points,
            caps: caps.to_vec(),
            next: state.clone(),
            anchor: state.clone(),
            now: state,
            since_restart: 0,
            steps_done: 0,
            first_error: f64::INFINITY,
            last_error: f64::INFINITY,
            balance: 1.0,
            point_step: vec![0.0; number],
            rests: vec![0; spots.len()],
            kind_step: vec![0.0; caps.len()],
            prefix: vec![0.0; cells],
            load: vec![0.0; cells],
            best: u32::MAX,
            least: f64::INFINITY,
            stale: 0,
            proof: None,
            spots,
        };
        this.set_steps();
        this
    }

    /// No layout holds more than this.
    pub(super) fn bound(&self) -> u32 {
        self.best
    }

    /// Whether more steps would hardly lower the bound.
    pub(super) fn settled(&self) -> bool {
        self.stale >= STALE
    }

    /// The bound before rounding down.
    pub(super) fn least(&self) -> f64 {
        self.least
    }

    /// Whether the weights are good enough to search by.
    pub(super) fn ready(&self) -> bool {
        self.stale >= 6 || self.least - self.best_possible() < 0.5
    }

    /// How much of each spot the linear program takes.
    pub(super) fn shares(&self) -> &[f64] {
        &self.next.share
    }

    /// A round of steps; the work that it counts for.
    pub(super) fn round(&mut self) -> u64 {
        for _ in 0..STRIDE {
            self.step();
        }
        let least_before = self.least;
        let weight = std::mem::take(&mut self.next.weight);
        self.prove(&weight);
        self.next.weight = weight;
        self.best = self.best.min(whole(self.least));
        self.stale = if self.least < least_before - 1e-4 {
            0
        } else {
            self.stale + 1
        };
        let cost = 1 + self.spots.len() / 12 + self.point_step.len() / 60;
        u64::from(STRIDE) * u64::try_from(cost).unwrap_or(u64::MAX)
    }

    /// What all shares come to: what the bound can sink to is about this.
    fn best_possible(&self) -> f64 {
        self.spots.iter().zip(&self.next.share).map(|(s, x)| s.count * x).sum()
    }

    /// Starts anew from where the method is.
    fn restart(&mut self) {
        let distance = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt();
        let (dual, primal) = (
            distance(&self.next.weight, &self.anchor.weight),
            distance(&self.next.share, &self.anchor.share),
        );
        if dual > 1e-9 && primal > 1e-9 {
            self.balance = (self.balance * dual / primal).sqrt();
        }
        self.now = self.next.clone();
        self.anchor = self.next.clone();
        self.since_restart = 0;
        self.first_error = f64::INFINITY;
        self.last_error = f64::INFINITY;
        self.rests.fill(0);
    }

    fn set_steps(&mut self) {
        self.load.fill(0.0);
        for (i, spot) in self.spots.iter().enumerate() {
            let _ = i;
            scatter(&mut self.load, spot, 1.0);
        }
        accumulate(&mut self.load, self.points);
        let mut at = 0;
        each_point(self.points, |cell| {
            self.point_step[at] = 1.0 / self.load[cell].max(1.0);
            at += 1;
        });
        for spot in &mut self.spots {
            let capped = self.caps[spot.kind].is_some();
            if capped {
                self.kind_step[spot.kind] += spot.count;
            }
            spot.step = 1.0 / (spot.step + if capped { spot.count } else { 0.0 });
        }
        for step in &mut self.kind_step {
            *step = 1.0 / step.max(1.0);
        }
    }

    /// One step: where the primal-dual gradient step leads from `now` is `next`; `now` then goes to its mirror image
    /// beyond `next`, drawn back to the anchor the less the more steps there were.
    fn step(&mut self) {
        sums(&mut self.prefix, &self.now.weight, self.points);
        self.load.fill(0.0);
        let mut taken = vec![0.0; self.caps.len()];
        let pull = 1.0 / f64::from(self.since_restart + 2);
        let mut error = 0.0;
        for (i, spot) in self.spots.iter().enumerate() {
            // Most spots are far too dear for long; looking at them now and then is enough.
            if self.rests[i] > 0 {
                self.rests[i] -= 1;
                continue;
            }
            let due = self.now.due[spot.kind] * spot.count;
            let lacks = spot.count - gather(&self.prefix, spot) - due;
            let old = self.now.share[i];
            let new = (old + spot.step / self.balance * lacks).clamp(0.0, 1.0);
            let ahead = 2.0 * new - old;
            if ahead != 0.0 {
                scatter(&mut self.load, spot, ahead);
                taken[spot.kind] += ahead * spot.count;
            } else if lacks < DEAR && self.anchor.share[i] == 0.0 {
                self.rests[i] = REST;
            }
            error += (new - old) * (new - old) * self.balance / spot.step;
            self.next.share[i] = new;
            self.now.share[i] = ahead + pull * (self.anchor.share[i] - ahead);
        }
        accumulate(&mut self.load, self.points);
        let mut at = 0;
        let (now, next, anchor) = (&mut self.now, &mut self.next, &self.anchor);
        each_point(self.points, |cell| {
            let step = self.point_step[at] * self.balance;
            let old = now.weight[at];
            let new = (old + step * (self.load[cell] - 1.0)).max(0.0);
            error += (new - old) * (new - old) / step;
            next.weight[at] = new;
            let ahead = 2.0 * new - old;
            now.weight[at] = ahead + pull * (anchor.weight[at] - ahead);
            at += 1;
        });
        for (kind, cap) in self.caps.iter().enumerate() {
            if let Some(cap) = cap {
                let step = self.kind_step[kind] * self.balance;
                let old = now.due[kind];
                let new = (old + step * (taken[kind] - f64::from(*cap))).max(0.0);
                error += (new - old) * (new - old) / step;
                next.due[kind] = new;
                let ahead = 2.0 * new - old;
                now.due[kind] = ahead + pull * (anchor.due[kind] - ahead);
            }
        }
        self.since_restart += 1;
        self.steps_done += 1;
        let error = error.sqrt();
        if self.since_restart == 1 {
            self.first_error = error;
        }
        let enough = error <= 0.2 * self.first_error;
        let turning = error <= 0.8 * self.first_error && error > self.last_error;
        let long = self.since_restart > 20 && f64::from(self.since_restart) >= 0.36 * f64::from(self.steps_done);
        self.last_error = error;
        if enough || turning || long {
            self.restart();
        }
    }

    /// The bound that these weights prove, not yet rounded down; worked out in whole numbers, and kept when it is the least.
    fn prove(&mut self, weight: &[f64]) -> f64 {
        // Floats hold whole numbers up to 2^53 exactly, so sums of these are exact, and a quotient never sinks below a
        // whole number that the true one reaches.
        let whole: Vec<f64> = weight.iter().map(|w| (w * ONE).floor()).collect();
        let all: f64 = whole.iter().sum();
        sums(&mut self.prefix, &whole, self.points);
        let mut least = vec![f64::INFINITY; self.caps.len()];
        for spot in &self.spots {
            let of_one = (gather(&self.prefix, spot) / spot.count).floor();
            least[spot.kind] = least[spot.kind].min(of_one);
        }
        let uncapped = (0..self.caps.len())
            .filter(|&k| self.caps[k].is_none())
            .map(|k| least[k])
            .fold(f64::INFINITY, f64::min);
        let mut bound = f64::INFINITY;
        // Every module is worth `each` if dues make up what the points of a kind lack; each cap then costs that times it.
        for kind in 0..self.caps.len() {
            let each = least[kind].min(uncapped);
            if each <= 0.0 || !each.is_finite() {
                continue;
            }
            let dues: Vec<f64> = least.iter().map(|l| (each - l).max(0.0)).collect();
            let capped = dues
                .iter()
                .zip(&self.caps)
                .map(|(due, cap)| due * cap.map_or(0.0, f64::from));
            let all = all + capped.sum::<f64>();
            bound = bound.min(all / each);
            if all / each < self.least {
                self.least = all / each;
                self.proof = Some(Proof {
                    weight: whole.clone(),
                    dues,
                    each,
                    all,
                });
            }
        }
        bound
    }

    /// What spots and points are worth by the weights that gave the bound; `None` before there are any.
    pub(super) fn worth(&mut self) -> Option<Worth> {
        let proof = self.proof.take()?;
        sums(&mut self.prefix, &proof.weight, self.points);
        let spots = self.spots.iter().zip(&self.next.share).map(|(spot, &share)| SpotWorth {
            worth: exact(gather(&self.prefix, spot) + spot.count * proof.dues[spot.kind]),
            share,
        });
        let worth = Worth {
            all: exact(proof.all),
            each: exact(proof.each),
            spots: spots.collect(),
            points: self.weighty(&proof.weight),
        };
        self.proof = Some(proof);
        Some(worth)
    }

    /// Every point with a weight, and the spots that cover it.
    fn weighty(&self, weight: &[f64]) -> Vec<(i64, Vec<u32>)> {
        let mut points: Vec<(i64, Vec<u32>)> = weight.iter().map(|&w| (exact(w), Vec::new())).collect();
        for (i, spot) in (0..).zip(&self.spots) {
            let [x, y, z] = spot.range;
            for x in x.0..x.1 {
                for y in y.0..y.1 {
                    for z in z.0..z.1 {
                        let (weight, spots) = &mut points[(x * self.points[1] + y) * self.points[2] + z];
                        if *weight > 0 {
                            spots.push(i);
                        }
                    }
                }
            }
        }
        points.retain(|(weight, _)| *weight > 0);
        points
    }
}

/// Weights in whole numbers, and what they prove.
struct Proof {
    weight: Vec<f64>,
    dues: Vec<f64>,
    /// What every module is worth at least.
    each: f64,
    /// What all points and caps are worth.
    all: f64,
}

/// What everything is worth by the weights that gave a bound, in whole numbers.
pub(super) struct Worth {
    /// All points and caps together.
    pub(super) all: i64,
    /// Every module at least.
    pub(super) each: i64,
    /// The spots of the raster, in order.
    pub(super) spots: Vec<SpotWorth>,
    /// Each point with a weight: that, and the spots that cover it.
    pub(super) points: Vec<(i64, Vec<u32>)>,
}

impl Worth {
    /// The spots that a layout of `target` modules can have: the others cost more than is left then.
    pub(super) fn affordable(&self, raster: &Raster, target: u32) -> Vec<usize> {
        let budget = self.all - i64::from(target) * self.each;
        let costs = self.spots.iter().zip(&raster.spots);
        let costs = costs.map(|(own, spot)| own.worth - i64::from(spot.count) * self.each);
        costs
            .enumerate()
            .filter(|&(_, cost)| cost <= budget)
            .map(|(i, _)| i)
            .collect()
    }
}

/// A spot by the weights.
pub(super) struct SpotWorth {
    /// Its points and what is due for its modules.
    pub(super) worth: i64,
    /// How much of it the linear program takes.
    pub(super) share: f64,
}

#[expect(clippy::cast_possible_truncation, reason = "whole and far below 2^53")]
fn exact(whole: f64) -> i64 {
    whole as i64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded down; above zero, and what is too large becomes the largest"
)]
fn whole(bound: f64) -> u32 {
    bound.floor() as u32
}

fn to_f64(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

fn gather(prefix: &[f64], spot: &Cover) -> f64 {
    let at = |i: u32| prefix[i as usize];
    spot.plus.iter().map(|&i| at(i)).sum::<f64>() - spot.minus.iter().map(|&i| at(i)).sum::<f64>()
}

fn scatter(load: &mut [f64], spot: &Cover, amount: f64) {
    for &i in &spot.plus {
        load[i as usize] -= amount;
    }
    for &i in &spot.minus {
        load[i as usize] += amount;
    }
}

fn each_point(points: V3U, mut each: impl FnMut(usize)) {
    for x in 0..points[0] {
        for y in 0..points[1] {
            let row = (x * (points[1] + 1) + y) * (points[2] + 1);
            for z in 0..points[2] {
                each(row + z);
            }
        }
    }
}

/// Sums of `weight` below each cell of the grid.
fn sums(prefix: &mut [f64], weight: &[f64], points: V3U) {
    let (row, plane) = (points[2] + 1, (points[1] + 1) * (points[2] + 1));
    let mut at = 0;
    for x in 0..points[0] {
        for y in 0..points[1] {
            let here = (x + 1) * plane + (y + 1) * row;
            let mut line = 0.0;
            for z in 0..points[2] {
                line += weight[at];
                at += 1;
                let cell = here + z + 1;
                prefix[cell] = line + prefix[cell - row] + prefix[cell - plane] - prefix[cell - row - plane];
            }
        }
    }
}

/// Turns the marks at corners into loads of cells.
fn accumulate(load: &mut [f64], points: V3U) {
    let (row, plane) = (points[2] + 1, (points[1] + 1) * (points[2] + 1));
    for start in (0..load.len()).step_by(row) {
        for z in start + 1..start + row {
            load[z] += load[z - 1];
        }
    }
    for x in 0..=points[0] {
        for y in 1..=points[1] {
            let here = x * plane + y * row;
            for z in here..here + row {
                load[z] += load[z - row];
            }
        }
    }
    for z in plane..load.len() {
        load[z] += load[z - plane];
    }
}

/// The places along axis `k` whose spots are not all among those of another place.
fn maximal_points(raster: &Raster, k: usize) -> Vec<i64> {
    let mut spans: Vec<(i64, i64)> = raster.spots.iter().map(|spot| (spot.lo[k], spot.hi[k])).collect();
    spans.sort_unstable();
    spans.dedup();
    let mut starts: Vec<i64> = spans.iter().map(|span| span.0).collect();
    starts.dedup();
    // A start is dropped when nothing ends between it and the next start: the next has all its spots.
    let mut ends: Vec<i64> = spans.iter().map(|span| span.1).collect();
    ends.sort_unstable();
    let kept = |i: usize| {
        starts.get(i + 1).is_none_or(|&next| {
            let first = ends.partition_point(|&end| end <= starts[i]);
            ends.get(first).is_some_and(|&end| end <= next)
        })
    };
    (0..starts.len()).filter(|&i| kept(i)).map(|i| starts[i]).collect()
}
