//! Several kinds: one box after another takes as many as it can of what is left.

use super::berth::{Berth, Obstacle};
use super::boxing::{Boxing, Loads};
use super::fill::Effort;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::offers::{Boxed, Offers, Places};

/// One set of boxes; those with something pinned first.
pub(super) fn mixed(boxing: Boxing, goal: &Goal, berths: Vec<Berth>, dice: &mut Dice, meter: &mut Meter) -> Vec<Boxed> {
    let mut left = goal.open();
    let mut set: Vec<Boxed> = Vec::new();
    let mut open = berths;
    while !open.is_empty() && !meter.stopped() {
        let share = meter.left() / u64::try_from(open.len() + 1).unwrap_or(1);
        let loads: Vec<Loads> = open
            .iter()
            .map(|berth| meter.stage(share, |meter| boxing.loads(berth, &left, Effort::Search, dice, meter)))
            .collect();
        let first = (0..open.len()).max_by_key(|&i| (open[i].pinned.is_some(), loads[i].most(), std::cmp::Reverse(i)));
        let Some(first) = first else { break };
        let berth = open.remove(first);
        if let Some(one) = fullest(boxing, &berth, &loads[first], left.len(), meter) {
            let pinned = berth.pinned.as_ref().map_or(0, |pinned| pinned.puts.len());
            for put in &one.puts[pinned..] {
                left[put.shape.kind] -= put.shape.count;
            }
            set.push(one);
            open.extend(beside(boxing, &berth, &set));
        }
        meter.tell_count(set.iter().flat_map(|one| &one.puts).map(|put| put.shape.count).sum());
    }
    set
}

/// The box that holds most of what was laid out for the berth.
fn fullest(boxing: Boxing, berth: &Berth, loads: &Loads, kinds: usize, meter: &mut Meter) -> Option<Boxed> {
    let pinned = berth.pinned.as_ref().map_or(&[][..], |pinned| &pinned.puts);
    let mut counts = loads.by_kind(kinds);
    loop {
        let mut all = counts.clone();
        for put in pinned {
            all[put.shape.kind] += put.shape.count;
        }
        if all.iter().any(|&n| n > 0) {
            let offers = Offers::new(boxing, berth, loads, &all, &mut Places::new(), meter);
            if let Some(best) = offers.best.into_iter().next() {
                return Some(best);
            }
        }
        // Too heavy or too large after all: one less of the last kind.
        let last = counts.iter().rposition(|&n| n > 0)?;
        counts[last] -= 1;
    }
}

/// What the last box leaves of its berth, when the cavity may take another one.
fn beside(boxing: Boxing, berth: &Berth, set: &[Boxed]) -> Option<Berth> {
    let here = set.iter().filter(|one| one.cavity == berth.cavity).count();
    let last = set.last()?;
    let may = here < usize::try_from(boxing.rule.per_cavity).unwrap_or(usize::MAX);
    may.then(|| {
        let mut rest = berth.clone();
        rest.pinned = None;
        rest.obstacles.extend(Obstacle::of_box(last.at, last.body, boxing.rule));
        rest
    })
}
