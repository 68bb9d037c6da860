//! Sheets filled one after the other, and a few of them filled anew until fewer do.

use super::Cutting;
use super::fitting::{Rule, fill};
use super::job::{Job, Laid, area};
use super::offcuts::left;
use super::tree::Rect;
use crate::nest::cover::Counts;
use crate::nest::meter::{Dice, Meter};

/// Sheets, and what is on none of them.
#[derive(Clone)]
pub(super) struct Found {
    pub(super) sheets: Vec<Laid>,
    /// Of each class, what no sheet was there for.
    pub(super) over: Counts,
}

impl Found {
    /// Whether it leaves out less, buys fewer sheets, or has them fuller.
    pub(super) fn is_better(&self, other: &Self, job: &Job) -> bool {
        let first = |found: &Self| (job.content(&found.over), job.bought(&found.sheets));
        (first(self), -worth(job, &self.sheets)) < (first(other), -worth(job, &other.sheets))
    }
}

/// How well filled sheets are: the more uneven, the nearer one of them is to being empty. Sheets on hand weigh most.
fn worth(job: &Job, sheets: &[Laid]) -> i128 {
    // In square micrometres, so that squares of it are small enough.
    let each = sheets.iter().map(|laid| {
        let content = job.content(&laid.counts) / 1_000_000_000;
        if job.kinds[laid.kind].bought {
            content * content
        } else {
            content * 1_000_000_000_000
        }
    });
    each.sum()
}

/// What pieces are ordered by, largest first.
#[derive(Clone, Copy)]
enum By {
    Area,
    Longer,
    Shorter,
    Girth,
}

const ORDERS: [By; 4] = [By::Area, By::Longer, By::Shorter, By::Girth];

/// The pieces in an order; `noise` is by how many hundredths each class may seem larger.
fn ordered(job: &Job, pieces: &mut [usize], by: By, noise: usize, dice: &mut Dice) {
    let keys: Vec<i128> = job
        .classes
        .iter()
        .map(|class| {
            let [a, b] = class.sides;
            let key = match by {
                By::Area => class.area(),
                By::Longer => i128::from(a.max(b)),
                By::Shorter => i128::from(a.min(b)),
                By::Girth => i128::from(a + b),
            };
            let more = if noise == 0 { 0 } else { dice.below(noise) };
            key * (100 + i128::try_from(more).unwrap_or(0))
        })
        .collect();
    pieces.sort_by_key(|&class| (std::cmp::Reverse(keys[class]), class));
}

fn pieces(counts: &[u16]) -> Vec<usize> {
    (0..counts.len())
        .flat_map(|class| std::iter::repeat_n(class, usize::from(counts[class])))
        .collect()
}

/// The best of filling sheets by every rule in every order.
pub(super) fn first(job: &Job, cutting: Cutting, meter: &mut Meter<'_>) -> Found {
    let mut dice = Dice::new();
    let mut best: Option<Found> = None;
    for by in ORDERS {
        for rule in Rule::all() {
            let mut order = pieces(&job.counts);
            ordered(job, &mut order, by, 0, &mut dice);
            let found = fill_all(job, cutting, order, rule, &mut dice, meter);
            if best.as_ref().is_none_or(|best| found.is_better(best, job)) {
                best = Some(found);
            }
            if !meter.goes_on() {
                break;
            }
        }
    }
    best.unwrap_or(Found {
        sheets: Vec::new(),
        over: job.counts.clone(),
    })
}

/// Fills sheets until every piece that fits one lies on one: those on hand first, smallest first.
fn fill_all(
    job: &Job,
    cutting: Cutting,
    mut pieces: Vec<usize>,
    rule: Rule,
    dice: &mut Dice,
    meter: &mut Meter<'_>,
) -> Found {
    let mut sheets = Vec::new();
    let mut own: Vec<usize> = (0..job.kinds.len()).filter(|&kind| !job.kinds[kind].bought).collect();
    own.sort_by_key(|&kind| area(job.kinds[kind].sides));
    for kind in own {
        for _ in 0..job.kinds[kind].on_hand {
            let filled = fill(job, kind, &pieces, cutting, rule, dice);
            meter.spend(filled.steps);
            if filled.laid.spots.is_empty() {
                break;
            }
            pieces = filled.over;
            sheets.push(filled.laid);
        }
    }
    let largest = job.largest_bought();
    let mut over = vec![0; job.classes.len()];
    while let Some(&class) = pieces.first() {
        let takes = |&kind: &usize| job.classes[class].ways.iter().any(|way| job.kinds[kind].takes(way));
        let Some(kind) = largest.iter().copied().find(takes) else {
            over[class] += 1;
            pieces.remove(0);
            continue;
        };
        let filled = fill(job, kind, &pieces, cutting, rule, dice);
        meter.spend(filled.steps);
        pieces = filled.over;
        sheets.push(filled.laid);
    }
    Found { sheets, over }
}

/// Tries on each sheet that is filled anew.
const TRIES: usize = 4;

/// Fills two or three sheets at a time anew, keeping what is no worse, until no more than `at_least` are bought.
pub(super) fn improve(job: &Job, cutting: Cutting, best: &mut Found, at_least: u32, meter: &mut Meter<'_>) {
    let mut dice = Dice::new();
    while job.bought(&best.sheets) > at_least && meter.goes_on() {
        meter.tell_count(job.bought(&best.sheets));
        if best.sheets.len() == 1 {
            // One sheet is bought though none need be: only another order of all could help.
            let mut order = pieces(&job.counts);
            let by = ORDERS[dice.below(ORDERS.len())];
            ordered(job, &mut order, by, 60, &mut dice);
            let rule = Rule::any(&mut dice);
            let found = fill_all(job, cutting, order, rule, &mut dice, meter);
            if found.is_better(best, job) {
                *best = found;
            }
            continue;
        }
        let chosen = choose(job, &best.sheets, &mut dice);
        let before: Vec<Laid> = chosen.iter().map(|&at| best.sheets[at].clone()).collect();
        let Some(after) = refill(job, cutting, &before, &mut dice, meter) else {
            continue;
        };
        if worth(job, &after) >= worth(job, &before) {
            let mut sheets = chosen;
            sheets.sort_unstable_by(|a, b| b.cmp(a));
            for at in sheets {
                best.sheets.swap_remove(at);
            }
            best.sheets.extend(after);
        }
    }
}

/// Two or three sheets, one of which is often the emptiest of those bought.
fn choose(job: &Job, sheets: &[Laid], dice: &mut Dice) -> Vec<usize> {
    let mut chosen = Vec::new();
    if dice.below(3) > 0 {
        let bought = (0..sheets.len()).filter(|&at| job.kinds[sheets[at].kind].bought);
        chosen.extend(bought.min_by_key(|&at| job.content(&sheets[at].counts)));
    }
    let n = (2 + dice.below(2)).min(sheets.len());
    while chosen.len() < n {
        let at = dice.below(sheets.len());
        if !chosen.contains(&at) {
            chosen.push(at);
        }
    }
    chosen
}

/// The parts of some sheets on the same sheets anew, on fewer if that does; `None` when they do not go.
fn refill(job: &Job, cutting: Cutting, sheets: &[Laid], dice: &mut Dice, meter: &mut Meter<'_>) -> Option<Vec<Laid>> {
    let mut kinds: Vec<usize> = sheets.iter().map(|laid| laid.kind).collect();
    kinds.sort_by_key(|&kind| (job.kinds[kind].bought, std::cmp::Reverse(area(job.kinds[kind].sides))));
    let mut order: Vec<usize> = sheets.iter().flat_map(|laid| pieces(&laid.counts)).collect();
    let by = ORDERS[dice.below(ORDERS.len())];
    let noise = [0, 15, 40, 120][dice.below(4)];
    let mut after = Vec::with_capacity(kinds.len());
    for kind in kinds {
        if order.is_empty() {
            break;
        }
        let mut best = None;
        for _ in 0..TRIES {
            ordered(job, &mut order, by, noise, dice);
            let rule = Rule::any(dice);
            let filled = fill(job, kind, &order, cutting, rule, dice);
            meter.spend(filled.steps);
            let content = job.content(&filled.laid.counts);
            if best.as_ref().is_none_or(|(known, _)| content > *known) {
                best = Some((content, filled));
            }
        }
        let (_, filled) = best?;
        order = filled.over;
        if !filled.laid.spots.is_empty() {
            after.push(filled.laid);
        }
    }
    order.is_empty().then_some(after)
}

/// Makes bought sheets smaller where another kind holds the same parts, and the largest rectangle that is left larger.
pub(super) fn finish(job: &Job, cutting: Cutting, best: &mut Found) {
    let mut dice = Dice::new();
    let mut kinds: Vec<usize> = (0..job.kinds.len()).filter(|&kind| job.kinds[kind].bought).collect();
    kinds.sort_by_key(|&kind| area(job.kinds[kind].sides));
    for laid in best.sheets.iter_mut().filter(|laid| job.kinds[laid.kind].bought) {
        let now = area(job.kinds[laid.kind].sides);
        let mut smaller = kinds.iter().copied().filter(|&kind| area(job.kinds[kind].sides) < now);
        let found = smaller.find_map(|kind| largest_offcut(job, kind, cutting, &laid.counts, &mut dice));
        if let Some((_, found)) = found {
            *laid = found;
        }
    }
    for laid in &mut best.sheets {
        let found = largest_offcut(job, laid.kind, cutting, &laid.counts, &mut dice);
        if let Some((_, found)) = found.filter(|(left, _)| *left > largest_left(job, laid, cutting)) {
            *laid = found;
        }
    }
}

/// The filling of one sheet with all these parts that leaves the largest rectangle, with its area.
fn largest_offcut(job: &Job, kind: usize, cutting: Cutting, counts: &Counts, dice: &mut Dice) -> Option<(i128, Laid)> {
    if job.content(counts) > area(job.kinds[kind].sides) {
        return None;
    }
    let mut best: Option<(i128, Laid)> = None;
    for by in ORDERS {
        for rule in Rule::all() {
            let mut order = pieces(counts);
            ordered(job, &mut order, by, 0, dice);
            let filled = fill(job, kind, &order, cutting, rule, dice);
            if !filled.over.is_empty() {
                continue;
            }
            let left = largest_left(job, &filled.laid, cutting);
            if best.as_ref().is_none_or(|(known, _)| left > *known) {
                best = Some((left, filled.laid));
            }
        }
    }
    best
}

fn largest_left(job: &Job, laid: &Laid, cutting: Cutting) -> i128 {
    let [w, h] = job.kinds[laid.kind].sides;
    let whole = Rect { x: 0, y: 0, w, h };
    let rects = left(whole, laid, cutting, &|_| true);
    rects.iter().map(|rect| area([rect.w, rect.h])).max().unwrap_or(0)
}
