//! A tabu search for many spots that do not overlap.
//!
//! It puts a piece on a free spot; without one, it swaps a piece in for the single one that blocks it, now and then for
//! two. What has been out longest goes in first, and what was just taken out stays out for a few moves. The search can be
//! left and taken up again at any move.

use super::meter::Dice;
use super::raster::Raster;

/// Spots looked at before a move is chosen.
const TRIES: usize = 24;
/// Spots probed for a swap.
const PROBES: usize = 300;
/// Swaps compared: the piece that has been out longest goes in.
const COMPARED: usize = 10;
/// One swap in so many is for two pieces: oftener, and the search falls apart.
const RARELY: usize = 1000;
/// Moves without a gain before it starts again from the best.
const PATIENCE: u64 = 6_000;

/// The chosen spots, how many of them block each spot, and a list of the free ones.
pub(super) struct Tabu {
    caps: Vec<u32>,
    chosen: Vec<u64>,
    /// Chosen spots that overlap each spot.
    blockers: Vec<u16>,
    /// Spots that nothing blocks and that are not chosen, and where each stands in the list.
    free: Vec<usize>,
    place: Vec<usize>,
    out_until: Vec<u64>,
    by_kind: Vec<u32>,
    count: u32,
    moves: u64,
    last_gain: u64,
    hit: Vec<usize>,
    best: Vec<usize>,
    best_count: u32,
}

impl Tabu {
    pub(super) fn new(raster: &Raster, caps: &[u32]) -> Self {
        let n = raster.spots.len();
        Self {
            caps: caps.to_vec(),
            chosen: vec![0; raster.words()],
            blockers: vec![0; n],
            free: (0..n).collect(),
            place: (0..n).collect(),
            out_until: vec![0; n],
            by_kind: vec![0; caps.len()],
            count: 0,
            moves: 0,
            last_gain: 0,
            hit: Vec::new(),
            best: Vec::new(),
            best_count: 0,
        }
    }

    /// The best so far, and its modules.
    pub(super) fn best(&self) -> (&[usize], u32) {
        (&self.best, self.best_count)
    }

    /// Starts from these spots, as far as they go together, when they are the best so far.
    pub(super) fn start(&mut self, raster: &Raster, from: &[usize]) {
        for spot in self.members() {
            self.take(raster, spot);
        }
        for &spot in from {
            if self.blockers[spot] == 0 && !self.is_in(spot) && self.room_for(raster, spot) {
                self.put(raster, spot);
            }
        }
        self.note();
    }

    /// Searches for so many steps of work, or until it has `target` modules; the work done.
    pub(super) fn search(&mut self, raster: &Raster, target: u32, steps: u64, dice: &mut Dice) -> u64 {
        let cost = u64::try_from(1 + raster.words() / 16).unwrap_or(1);
        let mut spent = 0;
        while self.best_count < target && spent < steps {
            spent += if self.step(raster, dice) { cost } else { cost + 8 };
            if self.count > self.best_count {
                self.note();
            } else if self.moves - self.last_gain > PATIENCE {
                self.restart(raster, dice);
            }
        }
        spent
    }

    fn note(&mut self) {
        if self.count > self.best_count {
            self.best_count = self.count;
            self.best = self.members();
            self.last_gain = self.moves;
        }
    }

    fn is_in(&self, spot: usize) -> bool {
        self.chosen[spot / 64] >> (spot % 64) & 1 == 1
    }

    fn members(&self) -> Vec<usize> {
        let mut members = Vec::new();
        for (word, &bits) in self.chosen.iter().enumerate() {
            let mut bits = bits;
            while bits != 0 {
                members.push(word * 64 + bits.trailing_zeros() as usize);
                bits &= bits - 1;
            }
        }
        members
    }

    fn room_for(&self, raster: &Raster, spot: usize) -> bool {
        let spot = &raster.spots[spot];
        self.by_kind[spot.kind] + spot.count <= self.caps[spot.kind]
    }

    fn unlist(&mut self, spot: usize) {
        let at = self.place[spot];
        self.free.swap_remove(at);
        if let Some(&moved) = self.free.get(at) {
            self.place[moved] = at;
        }
    }

    fn list(&mut self, spot: usize) {
        self.place[spot] = self.free.len();
        self.free.push(spot);
    }

    /// Puts a piece on a free spot.
    fn put(&mut self, raster: &Raster, spot: usize) {
        self.unlist(spot);
        self.chosen[spot / 64] |= 1 << (spot % 64);
        raster.each_overlap(spot, |other| {
            self.blockers[other] += 1;
            if self.blockers[other] == 1 && other != spot {
                self.unlist(other);
            }
        });
        self.blockers[spot] = 0;
        let placed = &raster.spots[spot];
        self.by_kind[placed.kind] += placed.count;
        self.count += placed.count;
    }

    fn take(&mut self, raster: &Raster, spot: usize) {
        self.chosen[spot / 64] &= !(1 << (spot % 64));
        self.blockers[spot] = 1;
        raster.each_overlap(spot, |other| {
            self.blockers[other] -= 1;
            if self.blockers[other] == 0 {
                self.list(other);
            }
        });
        let taken = &raster.spots[spot];
        self.by_kind[taken.kind] -= taken.count;
        self.count -= taken.count;
    }

    /// One move; whether there was one.
    fn step(&mut self, raster: &Raster, dice: &mut Dice) -> bool {
        self.moves += 1;
        if let Some(spot) = self.free_spot(raster, dice) {
            self.put(raster, spot);
            return true;
        }
        let blocked = if dice.below(RARELY) == 0 { [2, 1] } else { [1, 2] };
        let Some(spot) = blocked.iter().find_map(|&blockers| self.swap_spot(blockers, dice)) else {
            return false;
        };
        self.swap(raster, spot, dice);
        true
    }

    fn free_spot(&self, raster: &Raster, dice: &mut Dice) -> Option<usize> {
        let list = &self.free;
        (0..TRIES.min(list.len() * 2))
            .map(|_| list[dice.below(list.len())])
            .find(|&spot| {
                let gains = self.count + raster.spots[spot].count > self.best_count;
                self.room_for(raster, spot) && (gains || self.out_until[spot] <= self.moves)
            })
    }

    /// A spot with so many blockers, by trying at random: they are many, and keeping a list of them costs more.
    fn swap_spot(&self, blockers: u16, dice: &mut Dice) -> Option<usize> {
        (0..PROBES)
            .map(|_| dice.below(self.blockers.len()))
            .filter(|&spot| self.blockers[spot] == blockers && self.out_until[spot] <= self.moves)
            .take(COMPARED)
            .min_by_key(|&spot| self.out_until[spot])
    }

    fn swap(&mut self, raster: &Raster, spot: usize, dice: &mut Dice) {
        let mut hit = std::mem::take(&mut self.hit);
        raster.overlaps_in(spot, &self.chosen, &mut hit);
        for &old in &hit {
            self.take(raster, old);
            self.out_until[old] = self.moves + 1 + u64::try_from(dice.below(3)).unwrap_or(0);
        }
        self.hit = hit;
        if self.room_for(raster, spot) {
            self.put(raster, spot);
        }
    }

    /// Back to the best without a share of its pieces, now few, now all.
    fn restart(&mut self, raster: &Raster, dice: &mut Dice) {
        for spot in self.members() {
            self.take(raster, spot);
        }
        let kept = [0, 1, 2, 5][dice.below(4)];
        for spot in self.best.clone() {
            if dice.below(6) < kept {
                self.put(raster, spot);
            }
        }
        self.last_gain = self.moves;
    }
}
