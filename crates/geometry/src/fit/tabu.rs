//! A tabu search for many spots that do not overlap.
//!
//! It puts a piece on a free spot; without one, it swaps a piece in for the single one that blocks it, now and then for
//! two. What was just taken out stays out for a few moves.

use super::meter::{Dice, Meter};
use super::raster::Raster;

/// Spots looked at before a move is chosen.
const TRIES: usize = 24;
/// Moves without a gain before it starts again from the best.
const PATIENCE: u64 = 20_000;

/// Improves a layout of spots until `target` modules are reached or the work is done; the best found.
pub(super) fn improve(
    raster: &Raster,
    start: &[usize],
    caps: &[u32],
    target: u32,
    dice: &mut Dice,
    meter: &mut Meter,
) -> Vec<usize> {
    let mut search = Search::new(raster, caps);
    for &spot in start {
        if search.blockers[spot] == 0 && !search.is_in(spot) && search.room_for(spot) {
            search.put(spot);
        }
    }
    let mut best = search.members();
    let mut best_count = search.count;
    let mut last_gain = 0;
    while search.count < target && search.step(best_count, dice, meter) {
        if search.count > best_count {
            best_count = search.count;
            best = search.members();
            last_gain = search.moves;
            meter.tell_count(best_count);
        } else if search.moves - last_gain > PATIENCE {
            search.restart(&best, dice);
            last_gain = search.moves;
        }
    }
    best
}

/// Free spots, spots blocked by one, by two: each a list with places to find and remove quickly.
struct Search<'r> {
    raster: &'r Raster,
    caps: &'r [u32],
    chosen: Vec<u64>,
    /// Chosen spots that overlap each spot.
    blockers: Vec<u16>,
    lists: [Vec<usize>; 3],
    place: Vec<usize>,
    out_until: Vec<u64>,
    by_kind: Vec<u32>,
    count: u32,
    moves: u64,
    hit: Vec<usize>,
}

impl<'r> Search<'r> {
    fn new(raster: &'r Raster, caps: &'r [u32]) -> Self {
        let n = raster.spots.len();
        Self {
            raster,
            caps,
            chosen: vec![0; raster.words()],
            blockers: vec![0; n],
            lists: [(0..n).collect(), Vec::new(), Vec::new()],
            place: (0..n).collect(),
            out_until: vec![0; n],
            by_kind: vec![0; caps.len()],
            count: 0,
            moves: 0,
            hit: Vec::new(),
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

    fn room_for(&self, spot: usize) -> bool {
        let spot = &self.raster.spots[spot];
        self.by_kind[spot.kind] + spot.count <= self.caps[spot.kind]
    }

    fn unlist(&mut self, spot: usize) {
        if let Some(list) = self.lists.get_mut(usize::from(self.blockers[spot])) {
            let at = self.place[spot];
            list.swap_remove(at);
            if let Some(&moved) = list.get(at) {
                self.place[moved] = at;
            }
        }
    }

    fn list(&mut self, spot: usize) {
        if let Some(list) = self.lists.get_mut(usize::from(self.blockers[spot])) {
            self.place[spot] = list.len();
            list.push(spot);
        }
    }

    /// Puts a piece on a free spot.
    fn put(&mut self, spot: usize) {
        self.unlist(spot);
        self.chosen[spot / 64] |= 1 << (spot % 64);
        let raster = self.raster;
        raster.each_overlap(spot, |other| {
            if other != spot {
                self.unlist(other);
                self.blockers[other] += 1;
                self.list(other);
            }
        });
        let placed = &raster.spots[spot];
        self.by_kind[placed.kind] += placed.count;
        self.count += placed.count;
    }

    fn take(&mut self, spot: usize) {
        self.chosen[spot / 64] &= !(1 << (spot % 64));
        let raster = self.raster;
        raster.each_overlap(spot, |other| {
            if other != spot {
                self.unlist(other);
                self.blockers[other] -= 1;
                self.list(other);
            }
        });
        self.list(spot);
        let taken = &raster.spots[spot];
        self.by_kind[taken.kind] -= taken.count;
        self.count -= taken.count;
    }

    /// One move; whether there is work left.
    fn step(&mut self, best: u32, dice: &mut Dice, meter: &mut Meter) -> bool {
        self.moves += 1;
        if let Some(spot) = self.free_spot(best, dice) {
            self.put(spot);
        } else {
            let blocked = if dice.below(40) == 0 { [2, 1] } else { [1, 2] };
            let Some(spot) = blocked.iter().find_map(|&list| self.swap_spot(list, dice)) else {
                return meter.spend(8);
            };
            self.swap(spot, dice);
        }
        let cost = 1 + self.raster.words() / 24;
        meter.spend(u64::try_from(cost).unwrap_or(1))
    }

    fn free_spot(&self, best: u32, dice: &mut Dice) -> Option<usize> {
        let list = &self.lists[0];
        (0..TRIES.min(list.len() * 2))
            .map(|_| list[dice.below(list.len())])
            .find(|&spot| {
                let gains = self.count + self.raster.spots[spot].count > best;
                self.room_for(spot) && (gains || self.out_until[spot] <= self.moves)
            })
    }

    fn swap_spot(&self, list: usize, dice: &mut Dice) -> Option<usize> {
        let list = &self.lists[list];
        if list.is_empty() {
            return None;
        }
        (0..TRIES)
            .map(|_| list[dice.below(list.len())])
            .find(|&spot| self.out_until[spot] <= self.moves)
    }

    fn swap(&mut self, spot: usize, dice: &mut Dice) {
        let mut hit = std::mem::take(&mut self.hit);
        self.raster.overlaps_in(spot, &self.chosen, &mut hit);
        for &old in &hit {
            self.take(old);
            self.out_until[old] = self.moves + 4 + u64::try_from(dice.below(8)).unwrap_or(0);
        }
        self.hit = hit;
        if self.room_for(spot) {
            self.put(spot);
        }
    }

    /// Back to the best, with a few pieces taken out.
    fn restart(&mut self, best: &[usize], dice: &mut Dice) {
        for spot in self.members() {
            self.take(spot);
        }
        for &spot in best {
            if dice.below(6) != 0 {
                self.put(spot);
            }
        }
    }
}
