//! Modules in boxes: how many to which box, and the boxes in their cavities.

use std::collections::BTreeMap;

use super::berth::{Berth, Obstacle, solids};
use super::boxing::{Boxed, Boxing, Loads};
use super::check::to_spare;
use super::fill::Effort;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::place::best_place;
use super::shape::{V3, point, shapes};
use super::share::share;
use super::{BoxPlace, BoxRule, Layout, MOST_LAYOUTS, Placement, Request};
use crate::{Cuboid, Size};
use tape::Length;

/// Ways of sharing out that are laid out.
const MOST_TRIED: usize = 10;

/// Layouts of boxes, best first.
pub(super) fn lay_out(
    request: &Request,
    rule: &BoxRule,
    goal: &Goal,
    dice: &mut Dice,
    meter: &mut Meter,
) -> Vec<Layout> {
    let shapes = shapes(request, &goal.caps);
    let boxing = Boxing {
        request,
        rule,
        shapes: &shapes,
    };
    let kinds: Vec<usize> = (0..goal.caps.len()).filter(|&kind| goal.caps[kind] > 0).collect();
    if rule.per_cavity == 0 || kinds.is_empty() {
        return Vec::new();
    }
    let berths = (0..request.cavities.len())
        .map(|cavity| Berth::whole(request, cavity))
        .collect();
    let sets = if let [kind] = kinds[..] {
        Sharing::new(boxing, kind, goal, berths, dice, meter).sets(meter)
    } else {
        mixed(boxing, goal, berths, dice, meter)
    };
    let mut layouts: Vec<Layout> = Vec::new();
    for boxes in sets {
        let layout = as_layout(boxing, boxes, meter);
        if goal.total(layout.count) == layout.count && !layouts.contains(&layout) {
            layouts.push(layout);
        }
        if layouts.len() == MOST_LAYOUTS {
            break;
        }
    }
    layouts
}

/// One kind shared out over berths.
struct Sharing<'a> {
    boxing: Boxing<'a>,
    kind: usize,
    goal: &'a Goal,
    berths: Vec<Berth>,
    loads: Vec<Loads>,
    /// The most modules that go into a box in each berth.
    most: Vec<u32>,
    known: BTreeMap<(usize, u32), Vec<Boxed>>,
}

impl<'a> Sharing<'a> {
    fn new(
        boxing: Boxing<'a>,
        kind: usize,
        goal: &'a Goal,
        berths: Vec<Berth>,
        dice: &mut Dice,
        meter: &mut Meter,
    ) -> Self {
        let mut sharing = Self {
            boxing,
            kind,
            goal,
            berths: Vec::new(),
            loads: Vec::new(),
            most: Vec::new(),
            known: BTreeMap::new(),
        };
        for berth in berths {
            sharing.add(berth, Effort::Construct, dice, meter);
        }
        if boxing.rule.per_cavity > 1 && sharing.held() < goal.most() {
            sharing.divide(dice, meter);
        }
        sharing
    }

    fn held(&self) -> u32 {
        self.most.iter().sum()
    }

    fn counts(&self, number: u32) -> Vec<u32> {
        let mut counts = vec![0; self.goal.caps.len()];
        counts[self.kind] = number;
        counts
    }

    fn add(&mut self, berth: Berth, effort: Effort, dice: &mut Dice, meter: &mut Meter) {
        let (loads, most) = self.hold(&berth, effort, dice, meter);
        self.berths.push(berth);
        self.loads.push(loads);
        self.most.push(most);
        meter.tell_count(self.goal.total(self.held()));
    }

    fn hold(&self, berth: &Berth, effort: Effort, dice: &mut Dice, meter: &mut Meter) -> (Loads, u32) {
        let loads = self.boxing.loads(berth, &self.goal.caps, effort, dice, meter);
        let mut most = loads.most();
        while most > 0 && !self.boxing.any_box(berth, &loads, &self.counts(most), meter) {
            most -= 1;
        }
        (loads, most)
    }

    /// Cuts berths in two while more modules go in that way and the cavity may take another box.
    fn divide(&mut self, dice: &mut Dice, meter: &mut Meter) {
        let apart = self.boxing.rule.apart.nm().max(0);
        let mut at = 0;
        while at < self.berths.len() && self.held() < self.goal.most() {
            let cavity = self.berths[at].cavity;
            let boxes = self.berths.iter().filter(|berth| berth.cavity == cavity).count();
            let may = boxes < usize::try_from(self.boxing.rule.per_cavity).unwrap_or(usize::MAX);
            let best = if may {
                self.best_cut(at, apart, dice, meter)
            } else {
                None
            };
            if let Some([low, high]) = best {
                self.berths.remove(at);
                self.loads.remove(at);
                self.most.remove(at);
                self.add(low, Effort::Construct, dice, meter);
                self.add(high, Effort::Construct, dice, meter);
            } else {
                at += 1;
            }
        }
    }

    fn best_cut(&self, at: usize, apart: i64, dice: &mut Dice, meter: &mut Meter) -> Option<[Berth; 2]> {
        let (mut best, mut best_count) = (None, self.most[at]);
        for axis in 0..3 {
            for cut in self.berths[at].cuts(axis) {
                if !meter.goes_on() {
                    return best;
                }
                let halves = self.berths[at].split(axis, cut, apart);
                let counts = [0, 1].map(|i| self.hold(&halves[i], Effort::Quick, dice, meter).1);
                if counts.iter().sum::<u32>() > best_count && !counts.contains(&0) {
                    best_count = counts.iter().sum();
                    best = Some(halves);
                }
            }
        }
        best
    }

    /// Sets of boxes, best first.
    fn sets(mut self, meter: &mut Meter) -> Vec<Vec<Boxed>> {
        let mut total = self.goal.total(self.held());
        while total > 0 {
            let sets = self.sets_of(total, meter);
            if !sets.is_empty() {
                return sets;
            }
            total = self.goal.total(total - 1);
        }
        Vec::new()
    }

    fn sets_of(&mut self, total: u32, meter: &mut Meter) -> Vec<Vec<Boxed>> {
        let mut sets: Vec<((usize, u32, u32), Vec<Boxed>)> = Vec::new();
        let mut others = Vec::new();
        for way in share(total, self.goal.string(total), &self.most)
            .into_iter()
            .take(MOST_TRIED)
        {
            let variants: Option<Vec<Vec<Boxed>>> = way
                .counts
                .iter()
                .enumerate()
                .filter(|&(_, &number)| number > 0)
                .map(|(berth, &number)| Some(self.boxes(berth, number, meter)).filter(|boxes| !boxes.is_empty()))
                .collect();
            let Some(variants) = variants else { continue };
            sets.push((way.rank, variants.iter().map(|boxes| boxes[0].clone()).collect()));
            for (i, boxes) in variants.iter().enumerate() {
                for variant in boxes.iter().skip(1) {
                    let mut set: Vec<Boxed> = variants.iter().map(|boxes| boxes[0].clone()).collect();
                    set[i] = variant.clone();
                    others.push((way.rank, set));
                }
            }
        }
        let ragged = |set: &[Boxed]| set.iter().filter(|one| one.ragged).count();
        let spare = |set: &[Boxed]| std::cmp::Reverse(set.iter().map(|one| one.spare).min());
        sets.extend(others);
        sets.sort_by_key(|(rank, set)| (*rank, ragged(set), spare(set)));
        sets.into_iter().map(|(_, set)| set).collect()
    }

    fn boxes(&mut self, berth: usize, number: u32, meter: &mut Meter) -> Vec<Boxed> {
        if let Some(known) = self.known.get(&(berth, number)) {
            return known.clone();
        }
        let counts = self.counts(number);
        let boxes = self
            .boxing
            .boxes(&self.berths[berth], &self.loads[berth], &counts, meter);
        self.known.insert((berth, number), boxes.clone());
        boxes
    }
}

/// Several kinds: one box after another takes as many as it can of what is left.
fn mixed(boxing: Boxing, goal: &Goal, berths: Vec<Berth>, dice: &mut Dice, meter: &mut Meter) -> Vec<Vec<Boxed>> {
    let mut left = goal.caps.clone();
    let mut set = Vec::new();
    let mut open = berths;
    while !open.is_empty() {
        let share = meter.left() / u64::try_from(open.len() + 1).unwrap_or(1);
        let loads: Vec<Loads> = open
            .iter()
            .map(|berth| meter.stage(share, |meter| boxing.loads(berth, &left, Effort::Search, dice, meter)))
            .collect();
        let Some(fullest) = (0..open.len()).max_by_key(|&i| (loads[i].most(), std::cmp::Reverse(i))) else {
            break;
        };
        let berth = open.remove(fullest);
        let mut counts = loads[fullest].by_kind(left.len());
        // Too heavy or too large after all: one less of the last kind, until it goes.
        while counts.iter().any(|&n| n > 0) {
            if let Some(first) = boxing.boxes(&berth, &loads[fullest], &counts, meter).into_iter().next() {
                for put in &first.puts {
                    left[put.shape.kind] -= put.shape.count;
                }
                set.push(first);
                break;
            }
            if let Some(last) = counts.iter().rposition(|&n| n > 0) {
                counts[last] -= 1;
            }
        }
        meter.tell_count(
            set.iter()
                .flat_map(|one: &Boxed| &one.puts)
                .map(|put| put.shape.count)
                .sum(),
        );
    }
    vec![set]
}

fn as_layout(boxing: Boxing, mut set: Vec<Boxed>, meter: &mut Meter) -> Layout {
    set.sort_by_key(|one| one.cavity);
    spread(boxing, &mut set, meter);
    let request = boxing.request;
    let mut layout = Layout {
        by_kind: vec![0; request.kinds.len()],
        ..Layout::default()
    };
    for one in &set {
        let body = Cuboid::at(point(one.at), Size(one.body.map(Length::from_nm)));
        let inward = crate::Faces(boxing.rule.shell.0.map(|thick| -thick));
        let inside = body.grown(inward).unwrap_or(body);
        for put in &one.puts {
            layout.placements.push(Placement {
                cavity: one.cavity,
                in_box: Some(layout.boxes.len()),
                kind: put.shape.kind,
                orientation: put.shape.orientation,
                cuboid: put.cuboid(),
                count: put.shape.count,
            });
            layout.count += put.shape.count;
            layout.by_kind[put.shape.kind] += put.shape.count;
        }
        layout.boxes.push(BoxPlace {
            cavity: one.cavity,
            body,
            inside,
            bay: one.bay,
        });
    }
    layout.to_spare = to_spare(request, &layout);
    layout
}

/// Where a cavity holds several boxes, gives each the best place beside the others, twice over.
fn spread(boxing: Boxing, set: &mut [Boxed], meter: &mut Meter) {
    let rims = &boxing.rule.rims;
    for i in (0..set.len()).chain(0..set.len()) {
        let beside = |j: &usize| *j != i && set[*j].cavity == set[i].cavity;
        let neighbours: Vec<usize> = (0..set.len()).filter(beside).collect();
        if neighbours.is_empty() {
            continue;
        }
        let mut berth = Berth::whole(boxing.request, set[i].cavity);
        for j in neighbours {
            berth
                .obstacles
                .extend(solids(set[j].body, rims).into_iter().map(|(lo, hi)| Obstacle {
                    lo: shifted(lo, set[j].at),
                    hi: shifted(hi, set[j].at),
                    margin: boxing.rule.apart.nm().max(0),
                    spares: false,
                }));
        }
        if let Some(standing) = best_place(&berth, set[i].body, rims, meter).filter(|s| s.spare >= set[i].spare) {
            set[i] = set[i].moved_to(standing.at);
            set[i].spare = standing.spare;
        }
    }
}

fn shifted(at: V3, by: V3) -> V3 {
    std::array::from_fn(|k| at[k] + by[k])
}
