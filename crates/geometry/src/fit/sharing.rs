//! One kind of module shared out over the berths of all cavities.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::BoxRule;
use super::berth::Berth;
use super::boxed::Pool;
use super::boxing::{Boxing, Loads};
use super::divide::{self, MOST_DIVISIONS, divisions, slabs};
use super::fill::Effort;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::offers::{Boxed, Offers, Places, any_box};
use super::shape::{V3, modules};
use super::share::{Divided, Division, Lot, Way, choices, ways};

/// Ways of sharing out that are laid out; with many boxes fewer.
const MOST_WAYS: usize = 16;
/// Outside sizes tried for boxes that are to be equal.
const MOST_SIZES: usize = 12;
/// Up to so many sorts of cavity, one more box than needed is thought of too.
const FEW_SORTS: usize = 3;
/// Boxes of the same cavity that are thought of beyond what is needed.
const MOST_PER_CAVITY: usize = 24;

/// A berth with what it holds.
struct Held {
    berth: Berth,
    loads: Rc<Loads>,
    least: u32,
    most: u32,
    /// The first berth that is the same but for its cavity.
    sort: usize,
}

pub(super) struct Sharing<'a> {
    boxing: Boxing<'a>,
    kind: usize,
    goal: &'a Goal,
    held: Vec<Held>,
    cavities: Vec<Divided>,
    offers: BTreeMap<(usize, u32), Rc<Offers>>,
    places: BTreeMap<usize, Places>,
}

impl<'a> Sharing<'a> {
    pub(super) fn new(boxing: Boxing<'a>, kind: usize, goal: &'a Goal, dice: &mut Dice, meter: &mut Meter) -> Self {
        let mut sharing = Self {
            boxing,
            kind,
            goal,
            held: Vec::new(),
            cavities: Vec::new(),
            offers: BTreeMap::new(),
            places: BTreeMap::new(),
        };
        let mut firsts = Vec::new();
        // Half of the work for whole cavities, the rest for their divisions and for the boxes.
        let cavities = u64::try_from(boxing.request.cavities.len()).unwrap_or(1);
        let share = meter.left() / (2 * cavities.max(1));
        for cavity in 0..boxing.request.cavities.len() {
            let ways = boxing.berths(cavity);
            let like = |first: &Vec<Vec<Berth>>| match (&first[0][..], &ways[0][..]) {
                ([one], [other]) => one.like(other),
                _ => false,
            };
            let sort = firsts.iter().position(like);
            let pinned = ways[0].iter().any(|berth| berth.pinned.is_some());
            firsts.push(ways.clone());
            let share = share / u64::try_from(ways.len()).unwrap_or(1);
            let divisions = ways
                .into_iter()
                .map(|berths| meter.stage(share, |meter| sharing.division(berths, Effort::Construct, dice, meter)))
                .collect();
            sharing.cavities.push(Divided {
                divisions,
                sort: sort.unwrap_or(cavity),
                pinned,
            });
            meter.tell_count(goal.total(sharing.room()));
        }
        sharing.divide(&firsts, dice, meter);
        sharing
    }

    /// The most modules that all cavities hold together.
    pub(super) fn room(&self) -> u32 {
        let most = |cavity: &Divided| cavity.divisions.iter().map(|division| division.room).max().unwrap_or(0);
        self.cavities.iter().map(most).fold(0, u32::saturating_add)
    }

    fn counts(&self, number: u32) -> Vec<u32> {
        let mut counts = vec![0; self.goal.caps.len()];
        counts[self.kind] = number;
        counts
    }

    /// Modules of a string, for a first guess before the total is known.
    fn string(&self) -> u32 {
        self.goal.string(self.goal.most())
    }

    fn division(&mut self, berths: Vec<Berth>, effort: Effort, dice: &mut Dice, meter: &mut Meter) -> Division {
        let string = self.string();
        let numbers: Vec<usize> = berths
            .into_iter()
            .map(|berth| self.hold(berth, effort, dice, meter))
            .collect();
        let most = || numbers.iter().map(|&i| self.held[i].most);
        Division {
            room: most().fold(0, u32::saturating_add),
            whole: most().map(|most| most / string).sum(),
            berths: numbers,
        }
    }

    /// Finds out what a berth holds; its number.
    fn hold(&mut self, berth: Berth, effort: Effort, dice: &mut Dice, meter: &mut Meter) -> usize {
        let number = self.held.len();
        let like = self.held.iter().position(|other| other.berth.like(&berth));
        let held = if let Some(like) = like {
            Held {
                berth,
                loads: Rc::clone(&self.held[like].loads),
                sort: self.held[like].sort,
                ..self.held[like]
            }
        } else {
            let (loads, least, most) = self.weigh(&berth, effort, dice, meter);
            Held {
                berth,
                loads: Rc::new(loads),
                least,
                most,
                sort: number,
            }
        };
        self.held.push(held);
        number
    }

    /// What goes into a berth at least (what is pinned) and at most.
    fn weigh(&self, berth: &Berth, effort: Effort, dice: &mut Dice, meter: &mut Meter) -> (Loads, u32, u32) {
        let loads = self.boxing.loads(berth, &self.goal.open(), effort, dice, meter);
        let least = berth.pinned.as_ref().map_or(0, |pinned| modules(&pinned.puts));
        let mut most = least + loads.most();
        while most > least && !any_box(self.boxing, berth, &loads, &self.counts(most), meter) {
            most -= 1;
        }
        (loads, least, most)
    }

    /// Divides cavities for more boxes, while more modules go in that way or one box more is worth a thought.
    fn divide(&mut self, firsts: &[Vec<Vec<Berth>>], dice: &mut Dice, meter: &mut Meter) {
        let may = usize::try_from(self.boxing.rule.per_cavity).unwrap_or(usize::MAX);
        let mut sorts: Vec<usize> = self.cavities.iter().map(|cavity| cavity.sort).collect();
        sorts.sort_unstable();
        sorts.dedup();
        let few = sorts.len() <= FEW_SORTS;
        let mut boxes = vec![0; firsts.len()];
        let mut last: Vec<Vec<Vec<Berth>>> = firsts.to_vec();
        for &sort in &sorts {
            boxes[sort] = firsts[sort][0].len();
        }
        let sort_count = u64::try_from(sorts.len()).unwrap_or(1).max(1);
        loop {
            let share = meter.left() / (2 * sort_count);
            let enough = self.room() >= self.goal.most();
            let mut grown = false;
            for &sort in &sorts {
                let next = boxes[sort] + 1;
                let wanted = !enough || (few && next == firsts[sort][0].len() + 1);
                if next > may.min(MOST_PER_CAVITY) || !wanted || last[sort].is_empty() || !meter.goes_on() {
                    continue;
                }
                let before = self.most_of(sort);
                let (best, found) = meter.stage(share, |meter| {
                    self.more_berths(&firsts[sort][0], &last[sort], next, dice, meter)
                });
                boxes[sort] = next;
                for berths in &best {
                    for cavity in 0..self.cavities.len() {
                        if self.cavities[cavity].sort != sort {
                            continue;
                        }
                        let here = berths
                            .iter()
                            .map(|berth| Berth {
                                cavity,
                                ..berth.clone()
                            })
                            .collect();
                        let division = self.division(here, Effort::Quick, dice, meter);
                        self.cavities[cavity].divisions.push(division);
                    }
                }
                // Where two halves hold no more than the whole, quarters may; but not for long.
                grown |= self.most_of(sort) > before || next <= firsts[sort][0].len() + 1;
                last[sort] = found;
                meter.tell_count(self.goal.total(self.room()));
            }
            if !grown || self.room() >= self.goal.most() && enough {
                return;
            }
        }
    }

    fn most_of(&self, cavity: usize) -> u32 {
        let rooms = self.cavities[cavity].divisions.iter().map(|division| division.room);
        rooms.max().unwrap_or(0)
    }

    /// The best divisions of a cavity into `number` berths, out of those into one less; and all that are worth dividing
    /// further.
    fn more_berths(
        &self,
        first: &[Berth],
        last: &[Vec<Berth>],
        number: usize,
        dice: &mut Dice,
        meter: &mut Meter,
    ) -> (Vec<Vec<Berth>>, Vec<Vec<Berth>>) {
        let string = self.string();
        let light = self.boxing.light(&self.goal.open());
        let any_mass = self.boxing.rule.most_g.map(|_| BoxRule {
            most_g: None,
            ..self.boxing.rule.clone()
        });
        let mut known: Vec<(Berth, divide::Held)> = Vec::new();
        let mut hold = |berth: &Berth, meter: &mut Meter| {
            if let Some((_, held)) = known.iter().find(|(other, _)| other == berth) {
                return *held;
            }
            let (loads, _, most) = self.weigh(berth, Effort::Quick, dice, meter);
            let ample = match &any_mass {
                // Only where its mass limit filled the box may there be more room.
                Some(rule) if loads.most() >= light => {
                    let any = Boxing { rule, ..self.boxing };
                    any.loads(berth, &self.goal.open(), Effort::Quick, dice, meter).most()
                }
                _ => loads.most(),
            };
            let held = divide::Held {
                most,
                whole: most / string,
                ample,
            };
            known.push((berth.clone(), held));
            held
        };
        let per_cavity = usize::try_from(self.boxing.rule.per_cavity).unwrap_or(usize::MAX);
        let more = u32::try_from(per_cavity.saturating_sub(number)).unwrap_or(u32::MAX);
        let aim = (self.goal.most(), more);
        let share = meter.left() * 2 / 3;
        let mut found = meter.stage(share, |meter| divisions(self.boxing, last, aim, &mut hold, meter));
        let mut best: Vec<Vec<Berth>> = found.iter().take(MOST_DIVISIONS).cloned().collect();
        if let ([whole], Ok(parts)) = (first, i64::try_from(number)) {
            let slabs = slabs(self.boxing, whole, parts, &mut hold, meter);
            for slabs in slabs.into_iter().take(MOST_DIVISIONS) {
                if !found.contains(&slabs) {
                    best.push(slabs.clone());
                    found.push(slabs);
                }
            }
        }
        (best, found)
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
        let least: Vec<u32> = self.held.iter().map(|held| held.least).collect();
        let most: Vec<u32> = self.held.iter().map(|held| held.most).collect();
        let mut all: Vec<Way> = Vec::new();
        for choice in choices(&self.cavities, total, lot.string) {
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
            let cavity = self.held[way.counts[i].0].berth.cavity;
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
                    let held = &self.held[way.counts[i].0];
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
        let held = &self.held[berth];
        if let Some(known) = self.offers.get(&(held.sort, number)) {
            return Rc::clone(known);
        }
        let counts = self.counts(number);
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
