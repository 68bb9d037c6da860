//! The bound by weights on points: the linear program of the grid model.
//!
//! Give every point of the hollow a weight of zero or more. If every spot has points worth at least its count in it, no
//! layout holds more modules than all weights come to, since no point lies in two modules. The best weights are the
//! dual of the linear relaxation of the set-packing model (one variable a spot, one row a grid point), which Letchford
//! and Amaral (2001) found to be the strongest of the usual bounds for flat loading. A kind of which only so many may be
//! placed adds a due for each of its modules, which costs that many times itself.
//!
//! The weights are found by the primal-dual gradient method of Chambolle and Pock (2011) with diagonal steps (Pock and
//! Chambolle 2011), mirrored and drawn back to where it last started (Halpern's iteration; sources from memory). It
//! works in floats. Whatever it comes to is rounded to whole numbers, and the bound is worked out from those exactly
//! (`proof`): poor weights give a poor bound, never a wrong one.

mod grid;
mod proof;

pub(super) use proof::Worth;

use super::raster::Raster;
use grid::{Cover, Grid};
use proof::Proof;

/// Steps of the method between two looks at the bound.
const STRIDE: u32 = 20;
/// A spot whose points are worth so much more than its count rests for so many steps.
const DEAR: f64 = -0.03;
const REST: u8 = 4;
/// Rounds without a gain after which the method has settled, and after which its weights are good enough to search by.
const STALE: u32 = 60;
const SLOW: u32 = 6;

/// The linear program of one raster, with the best weights so far.
pub(super) struct Weights {
    grid: Grid,
    items: Vec<Item>,
    /// The cap of each kind; `None` when there is none.
    caps: Vec<Option<u32>>,
    /// Where the method is, where its last gradient step led, and where it last started.
    now: State,
    next: State,
    anchor: State,
    steps_since_start: u32,
    steps: u32,
    /// How far the first gradient step since the start led, and the last one.
    first_move: f64,
    last_move: f64,
    /// How much larger steps of weights are than those of shares.
    balance: f64,
    /// Longest steps of each point's weight and of each kind's due.
    point_step: Vec<f64>,
    kind_step: Vec<f64>,
    /// For how many steps each item is still passed over.
    rests: Vec<u8>,
    sums: Vec<f64>,
    load: Vec<f64>,
    proof: Option<Proof>,
    /// Rounds since the bound last sank.
    stale: u32,
}

/// A spot in the program.
struct Item {
    kind: usize,
    count: f64,
    cover: Cover,
    /// Longest step of its share.
    step: f64,
}

/// Weights, dues and shares at one time.
#[derive(Clone)]
struct State {
    /// Of each point.
    weight: Vec<f64>,
    /// Per module of each kind with a cap.
    due: Vec<f64>,
    /// How much of each spot is taken.
    share: Vec<f64>,
}

impl Weights {
    /// The program for a raster, with a cap for each kind.
    pub(super) fn new(raster: &Raster, caps: &[Option<u32>]) -> Self {
        let grid = Grid::new(raster);
        let item = |spot| {
            let cover = grid.cover(spot);
            let count = f64::from(spot.count);
            let due = if caps[spot.kind].is_some() { count } else { 0.0 };
            Item {
                kind: spot.kind,
                count,
                step: 1.0 / (cover.points() + due),
                cover,
            }
        };
        let items: Vec<Item> = raster.spots.iter().map(item).collect();
        let mut load = vec![0.0; grid.cells()];
        let mut kind_step = vec![0.0; caps.len()];
        for item in &items {
            item.cover.load(&mut load, 1.0);
            kind_step[item.kind] += item.count;
        }
        grid.spread_loads(&mut load);
        let mut point_step = Vec::with_capacity(grid.points());
        grid.each_point(|cell| point_step.push(1.0 / load[cell].max(1.0)));
        let start = State {
            weight: vec![0.0; grid.points()],
            due: vec![0.0; caps.len()],
            share: vec![0.0; items.len()],
        };
        Self {
            caps: caps.to_vec(),
            now: start.clone(),
            next: start.clone(),
            anchor: start,
            steps_since_start: 0,
            steps: 0,
            first_move: f64::INFINITY,
            last_move: f64::INFINITY,
            balance: 1.0,
            point_step,
            kind_step: kind_step.into_iter().map(|count: f64| 1.0 / count.max(1.0)).collect(),
            rests: vec![0; items.len()],
            sums: vec![0.0; grid.cells()],
            load,
            proof: None,
            stale: 0,
            grid,
            items,
        }
    }

    /// No layout holds more than this.
    pub(super) fn bound(&self) -> u32 {
        self.proof.as_ref().map_or(u32::MAX, Proof::rounded_down)
    }

    /// The bound before rounding down.
    pub(super) fn least(&self) -> f64 {
        self.proof.as_ref().map_or(f64::INFINITY, Proof::bound)
    }

    /// Whether more steps would hardly lower the bound.
    pub(super) fn settled(&self) -> bool {
        self.stale >= STALE
    }

    /// Whether the weights are good enough to search by.
    pub(super) fn ready(&self) -> bool {
        // What all shares come to is about what the bound can sink to.
        let shares: f64 = self.items.iter().zip(&self.next.share).map(|(i, x)| i.count * x).sum();
        self.stale >= SLOW || self.least() - shares < 0.5
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
        let before = self.least();
        self.prove();
        self.stale = if self.least() < before - 1e-4 {
            0
        } else {
            self.stale + 1
        };
        let cost = 1 + self.items.len() / 12 + self.point_step.len() / 60;
        u64::from(STRIDE) * u64::try_from(cost).unwrap_or(u64::MAX)
    }

    /// One step: `next` is where the gradient leads from `now`; `now` then goes to its mirror image beyond `next`, drawn
    /// back to the anchor, the less the more steps there were.
    fn step(&mut self) {
        let pull = 1.0 / f64::from(self.steps_since_start + 2);
        let beyond = |old: f64, new: f64, anchor: f64| (2.0 * new - old) * (1.0 - pull) + anchor * pull;
        let mut moved = 0.0;
        let mut note = |old: f64, new: f64, step: f64| moved += (new - old) * (new - old) / step;
        let Self { now, next, anchor, .. } = self;
        self.grid.sums(&now.weight, &mut self.sums);
        self.load.fill(0.0);
        let mut taken = vec![0.0; self.caps.len()];
        for (i, item) in self.items.iter().enumerate() {
            // Most spots are far too dear for long; looking at them now and then is enough.
            if self.rests[i] > 0 {
                self.rests[i] -= 1;
                continue;
            }
            let lacks = item.count - item.cover.weight(&self.sums) - now.due[item.kind] * item.count;
            let step = item.step / self.balance;
            let old = now.share[i];
            let new = (old + step * lacks).clamp(0.0, 1.0);
            let ahead = 2.0 * new - old;
            if ahead != 0.0 {
                item.cover.load(&mut self.load, ahead);
                taken[item.kind] += ahead * item.count;
            } else if lacks < DEAR && anchor.share[i] == 0.0 {
                self.rests[i] = REST;
            }
            note(old, new, step);
            next.share[i] = new;
            now.share[i] = beyond(old, new, anchor.share[i]);
        }
        self.grid.spread_loads(&mut self.load);
        let mut at = 0;
        self.grid.each_point(|cell| {
            let step = self.point_step[at] * self.balance;
            let old = now.weight[at];
            let new = (old + step * (self.load[cell] - 1.0)).max(0.0);
            note(old, new, step);
            next.weight[at] = new;
            now.weight[at] = beyond(old, new, anchor.weight[at]);
            at += 1;
        });
        for (kind, cap) in self.caps.iter().enumerate() {
            let Some(cap) = cap else { continue };
            let step = self.kind_step[kind] * self.balance;
            let old = now.due[kind];
            let new = (old + step * (taken[kind] - f64::from(*cap))).max(0.0);
            note(old, new, step);
            next.due[kind] = new;
            now.due[kind] = beyond(old, new, anchor.due[kind]);
        }
        self.after_step(moved.sqrt());
    }

    /// Starts anew from where the method is when it has come near enough, begins to circle, or has long gone on.
    fn after_step(&mut self, moved: f64) {
        self.steps_since_start += 1;
        self.steps += 1;
        if self.steps_since_start == 1 {
            self.first_move = moved;
        }
        let near = moved <= 0.2 * self.first_move;
        let circling = moved <= 0.8 * self.first_move && moved > self.last_move;
        let long = self.steps_since_start > 20 && f64::from(self.steps_since_start) >= 0.36 * f64::from(self.steps);
        self.last_move = moved;
        if near || circling || long {
            self.start_anew();
        }
    }

    fn start_anew(&mut self) {
        let distance = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt();
        let weights = distance(&self.next.weight, &self.anchor.weight);
        let shares = distance(&self.next.share, &self.anchor.share);
        if weights > 1e-9 && shares > 1e-9 {
            self.balance = (self.balance * weights / shares).sqrt();
        }
        self.now = self.next.clone();
        self.anchor = self.next.clone();
        self.steps_since_start = 0;
        self.last_move = f64::INFINITY;
        self.rests.fill(0);
    }
}
