//! A part of a hollow that has nothing to do with the rest of it, and everything that is searched in it.

use super::exact::Exact;
use super::meter::Dice;
use super::raster::{Raster, Spot};
use super::shape::V3;
use super::tabu::Tabu;
use super::weights::Weights;

/// The search in one part, which can be left and taken up again.
pub(super) struct Part {
    pub(super) raster: Raster,
    /// Where equal parts stand, from this one; the first is zero.
    pub(super) copies: Vec<V3>,
    caps: Vec<u32>,
    tabu: Tabu,
    dice: Dice,
    weights: Weights,
    exact: Option<Exact>,
    /// Proved otherwise than by weights.
    proved: u32,
}

/// One thing to do in a part for a while.
pub(super) enum Task<'p> {
    Search {
        raster: &'p Raster,
        tabu: &'p mut Tabu,
        dice: &'p mut Dice,
        target: u32,
    },
    Weigh {
        weights: &'p mut Weights,
        count: u32,
    },
    Exact(&'p mut Exact),
}

impl Task<'_> {
    /// Works for about so many steps; the steps it took.
    pub(super) fn work(self, steps: u64) -> u64 {
        match self {
            Self::Search {
                raster,
                tabu,
                dice,
                target,
            } => tabu.search(raster, target, steps, dice),
            Self::Weigh { weights, count } => {
                let mut spent = 0;
                while spent < steps && !weights.settled() && weights.bound() > count {
                    spent += weights.round();
                }
                spent
            }
            Self::Exact(exact) => exact.search(steps),
        }
    }
}

impl Part {
    pub(super) fn new(spots: Vec<Spot>, copies: Vec<V3>, caps: &[u32], seed: u64) -> Self {
        let raster = Raster::of(spots);
        let binding: Vec<Option<u32>> = caps.iter().map(|&cap| (cap < u32::MAX).then_some(cap)).collect();
        let mut part = Self {
            tabu: Tabu::new(&raster, caps),
            weights: Weights::new(&raster, &binding),
            copies,
            caps: caps.to_vec(),
            dice: Dice::new(seed),
            exact: None,
            proved: u32::MAX,
            raster,
        };
        let greedy = first_fit(&part.raster, caps);
        part.tabu.start(&part.raster, &greedy);
        part
    }

    /// The best so far: indices into the raster's spots.
    pub(super) fn best(&self) -> &[usize] {
        self.tabu.best().0
    }

    /// Modules in the best so far.
    pub(super) fn count(&self) -> u32 {
        self.tabu.best().1
    }

    /// No layout of this part holds more.
    pub(super) fn bound(&self) -> u32 {
        self.weights.bound().min(self.proved)
    }

    pub(super) fn is_open(&self) -> bool {
        self.count() < self.bound()
    }

    /// Offers a layout found elsewhere.
    pub(super) fn offer(&mut self, spots: &[usize]) {
        let count: u32 = spots.iter().map(|&spot| self.raster.spots[spot].count).sum();
        if count > self.count() {
            self.tabu.start(&self.raster, spots);
        }
    }

    /// Takes in what the exact search came to, and starts the next one when the weights have settled.
    pub(super) fn take_stock(&mut self) {
        match self.exact.as_ref().and_then(|exact| Some((exact.outcome()?, exact.target(), exact.chosen()))) {
            Some((true, _, chosen)) => {
                self.offer(&chosen);
                self.exact = None;
            }
            Some((false, target, _)) => {
                self.proved = self.proved.min(target - 1);
                self.exact = None;
            }
            None => {}
        }
        if self.exact.is_none() && self.weights.settled() && self.is_open() {
            let bound = self.bound();
            let worth = self.weights.worth();
            self.exact = worth.map(|worth| Exact::new(&self.raster, &worth, &self.caps, bound));
        }
    }

    /// What can be done here at the same time.
    pub(super) fn tasks(&mut self) -> Vec<Task<'_>> {
        if !self.is_open() {
            return Vec::new();
        }
        let (count, bound) = (self.count(), self.bound());
        let mut tasks = vec![Task::Search {
            raster: &self.raster,
            tabu: &mut self.tabu,
            dice: &mut self.dice,
            target: bound,
        }];
        if !self.weights.settled() {
            tasks.push(Task::Weigh {
                weights: &mut self.weights,
                count,
            });
        }
        if let Some(exact) = &mut self.exact {
            tasks.push(Task::Exact(exact));
        }
        tasks
    }
}

/// Spots sorted into parts, equal ones told once with all their places.
pub(super) fn with_copies(parts: Vec<Vec<Spot>>) -> Vec<(Vec<Spot>, Vec<V3>)> {
    let mut known: Vec<(Vec<Spot>, V3, Vec<V3>)> = Vec::new();
    for mut spots in parts {
        spots.sort_by_key(|spot| (spot.laid.piece, spot.laid.at));
        let corner: V3 = std::array::from_fn(|k| spots.iter().map(|spot| spot.lo[k]).min().unwrap_or(0));
        let same = |(other, at, _): &&mut (Vec<Spot>, V3, Vec<V3>)| {
            other.len() == spots.len()
                && other.iter().zip(&spots).all(|(a, b)| {
                    a.laid.piece == b.laid.piece && (0..3).all(|k| a.lo[k] - at[k] == b.lo[k] - corner[k])
                })
        };
        if let Some((_, at, copies)) = known.iter_mut().find(same) {
            copies.push(std::array::from_fn(|k| corner[k] - at[k]));
        } else {
            known.push((spots, corner, vec![[0; 3]]));
        }
    }
    known.into_iter().map(|(spots, _, copies)| (spots, copies)).collect()
}

/// The best of a few first-fit orders: along each order of the axes, with and without preferring long pieces.
fn first_fit(raster: &Raster, caps: &[u32]) -> Vec<usize> {
    let mut best: Vec<usize> = Vec::new();
    let mut best_count = 0;
    for order in [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        for long_first in [false, true] {
            let mut spots: Vec<usize> = (0..raster.spots.len()).collect();
            spots.sort_by_key(|&i| {
                let spot = &raster.spots[i];
                let size = spot.hi[order[2]] - spot.lo[order[2]];
                let at = order.map(|k| spot.lo[k]);
                (if long_first { -size } else { 0 }, at, -size)
            });
            let (mut taken, mut by_kind) = (vec![false; spots.len()], vec![0; caps.len()]);
            let mut chosen = Vec::new();
            for i in spots {
                let spot = &raster.spots[i];
                if !taken[i] && by_kind[spot.kind] + spot.count <= caps[spot.kind] {
                    by_kind[spot.kind] += spot.count;
                    chosen.push(i);
                    raster.each_overlap(i, |other| taken[other] = true);
                }
            }
            let count = by_kind.iter().sum::<u32>();
            if count > best_count {
                (best, best_count) = (chosen, count);
            }
        }
    }
    best
}
