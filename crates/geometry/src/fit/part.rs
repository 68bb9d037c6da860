//! A part of a hollow that has nothing to do with the rest of it, and everything that is searched in it.

use std::sync::Arc;

use super::BoundBy;
use super::exact::{Exact, Quest};
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

/// The exact search is not started on more spots than this.
const MOST_CANDIDATES: usize = 4_000;

/// The search in one part, which can be left and taken up again.
pub(super) struct Part {
    raster: Raster,
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
    bound: u32,
    bound_by: BoundBy,
    best: Vec<Laid>,
    count: u32,
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
        /// Whether it works for a quarter of the steps only.
        aside: bool,
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
                aside,
            } => tabu.search(raster, target, if aside { steps / 4 } else { steps }, dice),
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
        meter: &mut Meter,
    ) -> Self {
        // Looks at the watcher in between, since large parts take a while.
        let look = u64::try_from(spots.len() / 8).unwrap_or(0);
        let raster = Raster::of(spots);
        meter.spend(look);
        let empty = EmptyBox::of(folded, &raster.spots);
        let mut part = Self {
            tabu: Tabu::new(&raster, caps),
            weights: Weights::new(&raster, &binding(caps)),
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
            bound: u32::MAX,
            bound_by: BoundBy::Weights,
            best: Vec::new(),
            count: 0,
            raster,
        };
        meter.spend(look);
        let greedy = first_fit(&part.raster, caps, meter);
        part.offer(&greedy);
        part
    }

    /// The best so far.
    pub(super) fn best(&self) -> &[Laid] {
        &self.best
    }

    /// Modules in the best so far.
    pub(super) fn count(&self) -> u32 {
        self.count
    }

    /// No layout of this part holds more.
    pub(super) fn bound(&self) -> u32 {
        self.bound
    }

    /// What gave the bound.
    pub(super) fn bound_by(&self) -> BoundBy {
        self.bound_by
    }

    pub(super) fn is_open(&self) -> bool {
        self.count < self.bound
    }

    /// Offers a layout found elsewhere.
    pub(super) fn offer_laid(&mut self, laid: &[Laid]) {
        let spots: Vec<usize> = laid.iter().filter_map(|one| self.raster.find(one)).collect();
        self.offer(&spots);
    }

    fn offer(&mut self, spots: &[usize]) {
        let count: u32 = spots.iter().map(|&spot| self.raster.spots[spot].count).sum();
        if count > self.count {
            self.tabu.start(&self.raster, spots);
            self.take_best();
        }
    }

    fn take_best(&mut self) {
        let (spots, count) = self.tabu.best();
        if count > self.count {
            self.count = count;
            self.best = spots.iter().map(|&spot| self.raster.spots[spot].laid).collect();
        }
    }

    /// Takes in what the tasks came to, and decides what is worth doing next.
    pub(super) fn take_stock(&mut self) {
        self.take_best();
        self.take_skyline();
        self.take_exact();
        if self.is_open() && !self.weights.settled() {
            let rounded = self.rounded();
            self.offer(&rounded);
        }
        self.prove(self.weights.bound(), BoundBy::Weights);
        if self.is_open() && self.weights.ready() {
            self.start_exact();
        }
    }

    /// Takes a proof in. It may speak of layouts better than the best only, since all else may have been left out.
    fn prove(&mut self, most: u32, by: BoundBy) {
        let most = most.max(self.count);
        if most < self.bound {
            self.bound = most;
            self.bound_by = by;
        }
    }

    fn take_skyline(&mut self) {
        let Some(skyline) = &self.skyline else { return };
        match skyline.outcome() {
            Some(true) => {
                if let (Some(empty), mut laid) = (&self.empty, skyline.laid()) {
                    self.places.snap(&empty.folded, empty.lo, &mut laid);
                    self.offer_laid(&laid);
                }
            }
            Some(false) => self.prove(skyline.target() - 1, BoundBy::Search),
            None => {}
        }
    }

    fn take_exact(&mut self) {
        let Some(exact) = &self.exact else { return };
        match exact.outcome() {
            Some(true) => {
                let chosen = exact.chosen();
                self.exact = None;
                self.offer(&chosen);
            }
            Some(false) => {
                let most = exact.target() - 1;
                self.exact = None;
                self.prove(most, BoundBy::Search);
            }
            None => {}
        }
    }

    /// Starts the exact search, or starts it anew when the weights have become much better or it has long come to
    /// nothing.
    fn start_exact(&mut self) {
        let budget = self.weights.least() - f64::from(self.bound);
        // A tighter budget cuts so much off the search that starting anew pays.
        let tighter = budget < 0.6 * self.exact_budget;
        let tired = self.exact.as_ref().is_some_and(|exact| exact.spent() > self.patience);
        if self.exact.is_some() && !tighter && !tired {
            return;
        }
        if tired {
            self.attempts += 1;
            self.patience = PATIENCE << (self.attempts / 3).min(20);
            self.narrow();
        }
        self.exact_budget = budget;
        self.exact = None;
        let Some(worth) = self.weights.worth() else { return };
        if worth.affordable(&self.raster, self.bound).len() > MOST_CANDIDATES {
            return;
        }
        let quest = Quest {
            raster: &self.raster,
            worth: &worth,
            caps: &self.caps,
            target: self.bound,
            whim: if self.attempts == 0 { 0.0 } else { 0.4 },
            probing: self.attempts == 1,
        };
        self.exact = Some(Exact::new(&quest, &mut self.dice));
    }

    /// Leaves out every spot that no better layout than the best can have, when those are many: the rest is searched
    /// much faster, and the bound by weights comes out lower.
    fn narrow(&mut self) {
        let alive = match &self.exact {
            Some(exact) if self.bound == self.count + 1 => exact.alive(),
            _ => None,
        };
        let alive = alive.or_else(|| Some(self.weights.worth()?.affordable(&self.raster, self.count + 1)));
        let Some(alive) = alive else { return };
        if alive.is_empty() {
            self.prove(self.count, BoundBy::Search);
            return;
        }
        if alive.len() * 10 > self.raster.spots.len() * 8 {
            return;
        }
        let spots = alive.into_iter().map(|i| self.raster.spots[i]).collect();
        self.raster = Raster::of(spots);
        self.weights = Weights::new(&self.raster, &binding(&self.caps));
        self.tabu = Tabu::new(&self.raster, &self.caps);
        self.exact = None;
        self.exact_budget = f64::INFINITY;
    }

    /// The spots that the linear program takes most of, as far as they go together.
    fn rounded(&mut self) -> Vec<usize> {
        let shares = self.weights.shares().iter().enumerate();
        let mut order: Vec<(f64, usize)> = shares
            .map(|(spot, share)| (share * self.dice.between(1.0, 1.3), spot))
            .collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        together(&self.raster, order.into_iter().map(|(_, spot)| spot), &self.caps)
    }

    /// Fills the part by recursive blocks of each kind, if it is an empty box.
    pub(super) fn build_blocks(&mut self, meter: &mut Meter) {
        let Some(empty) = &self.empty else { return };
        let mut found = of_each_kind(&empty.folded, meter);
        for laid in &mut found {
            self.places.snap(&empty.folded, empty.lo, laid);
        }
        for laid in &found {
            self.offer_laid(laid);
        }
    }

    /// What can be done here at the same time.
    pub(super) fn tasks(&mut self) -> Vec<Task<'_>> {
        if !self.is_open() {
            return Vec::new();
        }
        let (count, bound) = (self.count, self.bound);
        let fork = Dice::new(self.dice.next());
        let mut tasks = vec![Task::Search {
            raster: &self.raster,
            tabu: &mut self.tabu,
            dice: &mut self.dice,
            target: bound,
            // In a flat layer the search over the skyline is far better.
            aside: self.skyline.is_some(),
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

/// The caps that may bind.
fn binding(caps: &[u32]) -> Vec<Option<u32>> {
    caps.iter().map(|&cap| (cap < u32::MAX).then_some(cap)).collect()
}

/// Those of the spots, taken in order, that do not overlap one taken before.
fn together(raster: &Raster, spots: impl Iterator<Item = usize>, caps: &[u32]) -> Vec<usize> {
    let (mut taken, mut by_kind) = (vec![false; raster.spots.len()], vec![0; caps.len()]);
    let mut chosen = Vec::new();
    for i in spots {
        let spot = &raster.spots[i];
        if !taken[i] && by_kind[spot.kind] + spot.count <= caps[spot.kind] {
            by_kind[spot.kind] += spot.count;
            chosen.push(i);
            raster.each_overlap(i, |other| taken[other] = true);
        }
    }
    chosen
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
fn first_fit(raster: &Raster, caps: &[u32], meter: &mut Meter) -> Vec<usize> {
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
            let chosen = together(raster, spots.into_iter(), caps);
            let count = chosen.iter().map(|&i| raster.spots[i].count).sum::<u32>();
            if count > best_count {
                (best, best_count) = (chosen, count);
            }
            if !meter.spend(u64::try_from(raster.spots.len() / 16).unwrap_or(0)) {
                return best;
            }
        }
    }
    best
}
