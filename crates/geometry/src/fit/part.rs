//! A part of a hollow that has nothing to do with the rest of it, and everything that is searched in it.

use std::sync::Arc;

use super::exact::Exact;
use super::folded::{Folded, Laid};
use super::meter::{Dice, Meter};
use super::raster::{Places, Raster, Spot};
use super::regions::of_each_kind;
use super::shape::V3;
use super::skyline::Skyline;
use super::tabu::Tabu;
use super::weights::Weights;

/// Steps of exact search before it starts again with other likings.
const PATIENCE: u64 = 20_000;

/// The search in one part, which can be left and taken up again.
pub(super) struct Part {
    pub(super) raster: Raster,
    /// Where equal parts stand, from this one; the first is zero.
    pub(super) copies: Vec<V3>,
    places: Arc<Places>,
    empty: Option<EmptyBox>,
    caps: Vec<u32>,
    tabu: Tabu,
    dice: Dice,
    weights: Weights,
    skyline: Option<Skyline>,
    exact: Option<Exact>,
    exact_budget: f64,
    attempts: u32,
    patience: u64,
    /// Proved otherwise than by weights.
    proved: u32,
}

/// A part without blocks in it.
struct EmptyBox {
    /// The question of this part alone.
    folded: Folded,
    /// Its low corner in the hollow.
    lo: V3,
}

impl EmptyBox {
    fn of(folded: &Folded, spots: &[Spot]) -> Option<Self> {
        let lo: V3 = std::array::from_fn(|k| spots.iter().map(|spot| spot.lo[k]).min().unwrap_or(0));
        let hi: V3 = std::array::from_fn(|k| spots.iter().map(|spot| spot.hi[k]).max().unwrap_or(0));
        let apart = |(from, to): &(V3, V3)| (0..3).any(|k| from[k] >= hi[k] || to[k] <= lo[k]);
        folded.blocks.iter().all(apart).then(|| Self {
            folded: Folded {
                dims: std::array::from_fn(|k| hi[k] - lo[k]),
                blocks: Vec::new(),
                ..folded.clone()
            },
            lo,
        })
    }
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
    Skyline(&'p mut Skyline, Dice),
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
            Self::Skyline(skyline, mut dice) => skyline.search(steps, &mut dice),
        }
    }
}

impl Part {
    pub(super) fn new(
        folded: &Folded,
        places: Arc<Places>,
        (spots, copies): (Vec<Spot>, Vec<V3>),
        caps: &[u32],
        seed: u64,
    ) -> Self {
        let raster = Raster::of(spots);
        let empty = EmptyBox::of(folded, &raster.spots);
        let binding: Vec<Option<u32>> = caps.iter().map(|&cap| (cap < u32::MAX).then_some(cap)).collect();
        let mut part = Self {
            tabu: Tabu::new(&raster, caps),
            weights: Weights::new(&raster, &binding),
            copies,
            caps: caps.to_vec(),
            dice: Dice::new(seed),
            skyline: empty.as_ref().and_then(|empty| Skyline::new(&empty.folded)),
            empty,
            places,
            exact: None,
            exact_budget: f64::INFINITY,
            attempts: 0,
            patience: PATIENCE,
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

    pub(super) fn trace(&self) -> String { format!("bound {} {} exact {:?}", self.bound(), self.weights.trace(), self.exact.as_ref().map(|e| e.trace())) }
    /// Offers a layout found elsewhere.
    pub(super) fn offer(&mut self, spots: &[usize]) {
        let count: u32 = spots.iter().map(|&spot| self.raster.spots[spot].count).sum();
        if count > self.count() {
            self.tabu.start(&self.raster, spots);
        }
    }

    /// Takes in what the exact search came to, and starts the next one when the weights have settled.
    pub(super) fn take_stock(&mut self) {
        match self.skyline.as_ref().map(|skyline| (skyline.outcome(), skyline.target())) {
            Some((Some(true), _)) => {
                let laid = self.skyline.as_ref().map(Skyline::laid).unwrap_or_default();
                self.offer_laid(laid);
            }
            Some((Some(false), target)) => self.proved = self.proved.min(target - 1),
            _ => {}
        }
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
        if self.is_open() && !self.weights.settled() {
            let rounded = self.rounded();
            self.offer(&rounded);
        }
        if !self.is_open() || !self.weights.ready() {
            return;
        }
        // A tighter budget cuts so much off the search that starting anew pays.
        let budget = self.weights.least() - f64::from(self.bound());
        let tighter = budget < 0.6 * self.exact_budget;
        if self.exact.as_ref().is_none_or(|exact| tighter || exact.spent() > self.patience) {
            if self.exact.is_some() && !tighter {
                self.attempts += 1;
                self.patience = PATIENCE << (self.attempts / 3).min(20);
            }
            let bound = self.bound();
            self.exact_budget = budget;
            let worth = self.weights.worth();
            self.exact = worth.map(|worth| Exact::new(&self.raster, &worth, &self.caps, bound, self.attempts, &mut self.dice));
        }
    }

    /// The spots that the linear program takes most of, as far as they go together.
    fn rounded(&mut self) -> Vec<usize> {
        let mut order: Vec<(f64, usize)> = self
            .weights
            .shares()
            .iter()
            .enumerate()
            .map(|(spot, share)| (share * (1.0 + 0.001 * self.dice.below(300) as f64), spot))
            .collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let (mut taken, mut by_kind) = (vec![false; order.len()], vec![0; self.caps.len()]);
        let mut chosen = Vec::new();
        for (_, i) in order {
            let spot = &self.raster.spots[i];
            if !taken[i] && by_kind[spot.kind] + spot.count <= self.caps[spot.kind] {
                by_kind[spot.kind] += spot.count;
                chosen.push(i);
                self.raster.each_overlap(i, |other| taken[other] = true);
            }
        }
        chosen
    }

    /// Fills the part by recursive blocks of each kind, if it is an empty box.
    pub(super) fn build_blocks(&mut self, meter: &mut Meter) {
        let Some(empty) = &self.empty else { return };
        for laid in of_each_kind(&empty.folded, meter) {
            self.offer_laid(laid);
        }
    }

    /// Offers a layout seen from the low corner of the empty box.
    fn offer_laid(&mut self, mut laid: Vec<Laid>) {
        let Some(empty) = &self.empty else { return };
        self.places.snap(&empty.folded, empty.lo, &mut laid);
        let spots: Vec<usize> = laid.iter().filter_map(|one| self.raster.find(one)).collect();
        self.offer(&spots);
    }

    /// What can be done here at the same time.
    pub(super) fn tasks(&mut self) -> Vec<Task<'_>> {
        if !self.is_open() {
            return Vec::new();
        }
        let (count, bound) = (self.count(), self.bound());
        let fork = Dice::new(self.dice.next());
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
        if let Some(skyline) = &mut self.skyline {
            skyline.look_for(count + 1);
            tasks.push(Task::Skyline(skyline, fork));
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
