//! What the berths of all cavities hold, of one kind of module, and how cavities are divided for more boxes.

use std::rc::Rc;

use super::BoxRule;
use super::berth::Berth;
use super::boxing::{Boxing, Loads};
use super::divide::{self, MOST_DIVISIONS, divisions, slabs};
use super::fill::Effort;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::offers::any_box;
use super::shape::modules;
use super::share::{Divided, Division};

/// Up to so many sorts of cavity, one more box than needed is thought of too.
const FEW_SORTS: usize = 3;
/// Boxes of one cavity, at most.
const MOST_PER_CAVITY: usize = 24;

/// A berth with what it holds.
pub(super) struct Held {
    pub(super) berth: Berth,
    pub(super) loads: Rc<Loads>,
    pub(super) least: u32,
    pub(super) most: u32,
    /// The first berth that is the same but for its cavity.
    pub(super) sort: usize,
}

/// The berths of all cavities, and how each cavity may be divided into them.
pub(super) struct Cavities<'a> {
    boxing: Boxing<'a>,
    kind: usize,
    goal: &'a Goal,
    pub(super) held: Vec<Held>,
    pub(super) divided: Vec<Divided>,
}

impl<'a> Cavities<'a> {
    pub(super) fn new(boxing: Boxing<'a>, kind: usize, goal: &'a Goal, dice: &mut Dice, meter: &mut Meter) -> Self {
        let mut all = Self {
            boxing,
            kind,
            goal,
            held: Vec::new(),
            divided: Vec::new(),
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
                .map(|berths| meter.stage(share, |meter| all.division(berths, Effort::Construct, dice, meter)))
                .collect();
            all.divided.push(Divided {
                divisions,
                sort: sort.unwrap_or(cavity),
                pinned,
            });
            meter.tell_count(goal.total(all.room()));
        }
        all.divide(&firsts, dice, meter);
        all
    }

    /// The most modules that all cavities hold together.
    pub(super) fn room(&self) -> u32 {
        let most = |cavity: &Divided| cavity.divisions.iter().map(|division| division.room).max().unwrap_or(0);
        self.divided.iter().map(most).fold(0, u32::saturating_add)
    }

    /// So many of the kind, and none of others.
    pub(super) fn counts(&self, number: u32) -> Vec<u32> {
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
            most = if meter.stopped() { least } else { most - 1 };
        }
        (loads, least, most)
    }

    /// Divides cavities for more boxes, while more modules go in that way or one box more is worth a thought.
    fn divide(&mut self, firsts: &[Vec<Vec<Berth>>], dice: &mut Dice, meter: &mut Meter) {
        let may = usize::try_from(self.boxing.rule.per_cavity).unwrap_or(usize::MAX);
        let mut sorts: Vec<usize> = self.divided.iter().map(|cavity| cavity.sort).collect();
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
                    for cavity in 0..self.divided.len() {
                        if self.divided[cavity].sort != sort {
                            continue;
                        }
                        let here = berths
                            .iter()
                            .map(|berth| Berth {
                                cavity,
                                ..berth.clone()
                            })
                            .collect();
                        let effort = if enough { Effort::Quick } else { Effort::Construct };
                        let division = meter.stage(share / 8, |meter| self.division(here, effort, dice, meter));
                        self.divided[cavity].divisions.push(division);
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
        let rooms = self.divided[cavity].divisions.iter().map(|division| division.room);
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
}
