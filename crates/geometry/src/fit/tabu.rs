//! A tabu search for many spots that do not overlap.
//!
//! It puts a piece on a free spot; without one, it swaps a piece in for the single one that blocks it, now and then for
//! two. What has been out longest goes in first, and what was just taken out stays out for a few moves.

use super::meter::{Dice, Meter};
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

/// The chosen spots, how many of them block each spot, and a list of the free ones.
struct Search<'r> {
    raster: &'r Raster,
    caps: &'r [u32],
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
            free: (0..n).collect(),
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
    fn put(&mut self, spot: usize) {
        self.unlist(spot);
        self.chosen[spot / 64] |= 1 << (spot % 64);
        let raster = self.raster;
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

    fn take(&mut self, spot: usize) {
        self.chosen[spot / 64] &= !(1 << (spot % 64));
        let raster = self.raster;
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

    /// One move; whether there is work left.
    fn step(&mut self, best: u32, dice: &mut Dice, meter: &mut Meter) -> bool {
        self.moves += 1;
        if let Some(spot) = self.free_spot(best, dice) {
            self.put(spot);
        } else {
            let blocked = if dice.below(RARELY) == 0 { [2, 1] } else { [1, 2] };
            let Some(spot) = blocked.iter().find_map(|&blockers| self.swap_spot(blockers, dice)) else {
                return meter.spend(8);
            };
            self.swap(spot, dice);
        }
        let cost = 1 + self.raster.words() / 16;
        meter.spend(u64::try_from(cost).unwrap_or(1))
    }

    fn free_spot(&self, best: u32, dice: &mut Dice) -> Option<usize> {
        let list = &self.free;
        (0..TRIES.min(list.len() * 2))
            .map(|_| list[dice.below(list.len())])
            .find(|&spot| {
                let gains = self.count + self.raster.spots[spot].count > best;
                self.room_for(spot) && (gains || self.out_until[spot] <= self.moves)
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

    fn swap(&mut self, spot: usize, dice: &mut Dice) {
        let mut hit = std::mem::take(&mut self.hit);
        self.raster.overlaps_in(spot, &self.chosen, &mut hit);
        for &old in &hit {
            self.take(old);
            self.out_until[old] = self.moves + 1 + u64::try_from(dice.below(3)).unwrap_or(0);
        }
        self.hit = hit;
        if self.room_for(spot) {
            self.put(spot);
        }
    }

    /// Back to the best without a share of its pieces, now few, now all.
    fn restart(&mut self, best: &[usize], dice: &mut Dice) {
        for spot in self.members() {
            self.take(spot);
        }
        let kept = [0, 1, 2, 5][dice.below(4)];
        for &spot in best {
            if dice.below(6) < kept {
                self.put(spot);
            }
        }
    }
}
