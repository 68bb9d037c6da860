//! One kind of module shared out over the berths of all cavities, and laid out.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::boxed::Pool;
use super::boxing::Boxing;
use super::cavities::Cavities;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::offers::{Boxed, Offers, Places};
use super::shape::V3;
use super::share::{Lot, Way, choices, ways};

/// Ways of sharing out that are laid out; with many boxes fewer.
const MOST_WAYS: usize = 16;
/// Outside sizes tried for boxes that are to be equal.
const MOST_SIZES: usize = 12;

/// Boxes on offer for every berth and number of modules that was asked for.
pub(super) struct Sharing<'a> {
    boxing: Boxing<'a>,
    kind: usize,
    goal: &'a Goal,
    cavities: Cavities<'a>,
    offers: BTreeMap<(usize, u32), Rc<Offers>>,
    places: BTreeMap<usize, Places>,
}

impl<'a> Sharing<'a> {
    pub(super) fn new(boxing: Boxing<'a>, kind: usize, goal: &'a Goal, dice: &mut Dice, meter: &mut Meter) -> Self {
        Self {
            boxing,
            kind,
            goal,
            cavities: Cavities::new(boxing, kind, goal, dice, meter),
            offers: BTreeMap::new(),
            places: BTreeMap::new(),
        }
    }

    /// The most modules that all cavities hold together.
    pub(super) fn room(&self) -> u32 {
        self.cavities.room()
    }

    /// Lays out as many as go in of `at_most`; how many that are.
    pub(super) fn fill(&mut self, at_most: u32, pool: &mut Pool, meter: &mut Meter) -> u32 {
        let mut total = self.goal.total(at_most);
        while total > 0 && !self.lay_out(total, pool, meter) && !meter.stopped() {
            let less = self.goal.total(total - 1);
            if less == total {
                break;
            }
            total = less;
        }
        total
    }

    /// Lays out exactly `total` in all ways worth it; whether there is one.
    pub(super) fn lay_out(&mut self, total: u32, pool: &mut Pool, meter: &mut Meter) -> bool {
        let lot = Lot {
            total,
            string: self.goal.string(total),
            stack: self.boxing.request.kinds[self.kind].stack.map_or(1, |stack| stack.max),
        };
        let least: Vec<u32> = self.cavities.held.iter().map(|held| held.least).collect();
        let most: Vec<u32> = self.cavities.held.iter().map(|held| held.most).collect();
        let mut all: Vec<Way> = Vec::new();
        for choice in choices(&self.cavities.divided, total, lot.string) {
            for way in ways(lot, &choice.berths, &least, &most) {
                if !all.contains(&way) {
                    all.push(way);
                }
            }
        }
        all.sort_by_key(|way| way.rank);
        let mut laid_out = 0;
        for way in all {
            let most = if way.counts.len() > 6 { MOST_WAYS / 4 } else { MOST_WAYS };
            if laid_out > 0 && (laid_out >= most || !meter.goes_on()) || meter.stopped() {
                break;
            }
            if self.lay_out_way(&way, pool, meter) {
                laid_out += 1;
            }
        }
        laid_out > 0
    }

    fn lay_out_way(&mut self, way: &Way, pool: &mut Pool, meter: &mut Meter) -> bool {
        let mut offers: Vec<Rc<Offers>> = Vec::new();
        for &(berth, number) in &way.counts {
            let here = self.offers(berth, number, meter);
            if here.best.is_empty() {
                return false;
            }
            offers.push(here);
        }
        let of = |i: usize, j: usize| -> Boxed {
            let best = &offers[i].best;
            let cavity = self.cavities.held[way.counts[i].0].berth.cavity;
            Boxed {
                cavity,
                ..best[j.min(best.len() - 1)].clone()
            }
        };
        let first: Vec<Boxed> = (0..offers.len()).map(|i| of(i, 0)).collect();
        pool.add_set(first.clone(), meter);
        // The other offers: in all boxes together, then in one box at a time.
        let most = offers.iter().map(|offers| offers.best.len()).max().unwrap_or(0);
        let mut sets: Vec<Vec<Boxed>> = (1..most)
            .map(|j| (0..offers.len()).map(|i| of(i, j)).collect())
            .collect();
        if (2..=4).contains(&offers.len()) {
            for i in 0..offers.len() {
                for j in 1..offers[i].best.len() {
                    let mut set = first.clone();
                    set[i] = of(i, j);
                    sets.push(set);
                }
            }
        }
        for set in sets {
            pool.add_set(set, meter);
        }
        self.equal_boxes(way, &offers, &first, pool, meter);
        true
    }

    /// Tries boxes of one outside size: for all together, and for all that hold the same number.
    fn equal_boxes(&mut self, way: &Way, offers: &[Rc<Offers>], first: &[Boxed], pool: &mut Pool, meter: &mut Meter) {
        if offers.len() < 2 {
            return;
        }
        let everyone: Vec<usize> = (0..offers.len()).collect();
        let mut groups = vec![everyone];
        let mut numbers: Vec<u32> = way.counts.iter().map(|&(_, n)| n).collect();
        numbers.sort_unstable();
        numbers.dedup();
        if numbers.len() > 1 {
            let of = |number: u32| (0..offers.len()).filter(|&i| way.counts[i].1 == number).collect();
            groups.extend(numbers.into_iter().map(of));
        }
        let mut best = first.to_vec();
        for group in groups.into_iter().filter(|group| group.len() > 1) {
            let sets = self.of_one_size(way, offers, &group, meter);
            for set in &sets {
                let mut whole = first.to_vec();
                for (&i, one) in group.iter().zip(set) {
                    whole[i] = one.clone();
                }
                pool.add_set(whole, meter);
            }
            if let Some(set) = sets.into_iter().next() {
                for (&i, one) in group.iter().zip(set) {
                    best[i] = one;
                }
            }
        }
        pool.add_set(best, meter);
    }

    /// Boxes of one outside size for a group of berths, those that spare most first.
    fn of_one_size(&mut self, way: &Way, offers: &[Rc<Offers>], group: &[usize], meter: &mut Meter) -> Vec<Vec<Boxed>> {
        let sizes: Vec<BTreeMap<V3, i64>> = group.iter().map(|&i| offers[i].sizes()).collect();
        let mut common: Vec<(i64, V3)> = sizes[0]
            .keys()
            .filter_map(|size| {
                let spares: Option<Vec<i64>> = sizes.iter().map(|of| of.get(size).copied()).collect();
                Some((spares?.into_iter().min()?, *size))
            })
            .collect();
        common.sort_by_key(|&(spare, size)| (std::cmp::Reverse(spare), size));
        let mut sets: Vec<(i64, Vec<Boxed>)> = Vec::new();
        for (at_most, size) in common.into_iter().take(MOST_SIZES) {
            if sets.iter().any(|(spare, _)| *spare >= at_most) && sets.len() > 2 {
                break;
            }
            let set: Option<Vec<Boxed>> = group
                .iter()
                .map(|&i| {
                    let held = &self.cavities.held[way.counts[i].0];
                    let places = self.places.entry(held.sort).or_default();
                    let mut one = offers[i].of_size(self.boxing, &held.berth, size, places, meter)?;
                    one.cavity = held.berth.cavity;
                    Some(one)
                })
                .collect();
            if let Some(set) = set {
                sets.push((set.iter().map(|one| one.spare).min().unwrap_or(0), set));
            }
        }
        sets.sort_by_key(|(spare, _)| std::cmp::Reverse(*spare));
        sets.into_iter().map(|(_, set)| set).collect()
    }

    fn offers(&mut self, berth: usize, number: u32, meter: &mut Meter) -> Rc<Offers> {
        let held = &self.cavities.held[berth];
        if let Some(known) = self.offers.get(&(held.sort, number)) {
            return Rc::clone(known);
        }
        let counts = self.cavities.counts(number);
        let places = self.places.entry(held.sort).or_default();
        let offers = Rc::new(Offers::new(
            self.boxing,
            &held.berth,
            &held.loads,
            &counts,
            places,
            meter,
        ));
        self.offers.insert((held.sort, number), Rc::clone(&offers));
        offers
    }
}
