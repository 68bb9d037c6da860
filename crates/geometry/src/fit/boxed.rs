//! Modules in boxes: how many to which box, and the boxes in their cavities.
//!
//! `cavities` finds what one box in each cavity holds (`boxing` fills the largest bodies of a `berth`) and divides
//! cavities for more boxes (`divide`). `share` chooses the berths to use and deals the modules out; `sharing` lays that
//! out with the boxes that `offers` makes of `contents`, each in the best `place`, and tries boxes of one size. Several
//! kinds go through `mixed`. `assemble` makes a layout of each set of boxes, and `rank` says which are best and which are
//! as good as the same. What is pinned (`pins`) stands in its berth from the start; everything is laid around it.

use super::assemble::as_layout;
use super::berth::Berth;
use super::boxing::Boxing;
use super::check::check;
use super::goal::Goal;
use super::meter::{Dice, Meter};
use super::mixed::mixed;
use super::offers::Boxed;
use super::pins;
use super::rank::{Candidate, Rank, Signature, truly_different};
use super::shape::shapes;
use super::sharing::Sharing;
use super::{BoxRule, Layout, MOST_LAYOUTS, Request};

/// Layouts of boxes, best first.
pub(super) fn lay_out(
    request: &Request,
    rule: &BoxRule,
    goal: &Goal,
    dice: &mut Dice,
    meter: &mut Meter,
) -> Vec<Layout> {
    let shapes = shapes(request, &goal.open());
    let boxing = Boxing {
        request,
        rule,
        shapes: &shapes,
    };
    let mut pool = Pool::new(boxing, goal);
    let kinds: Vec<usize> = (0..goal.caps.len()).filter(|&kind| goal.caps[kind] > 0).collect();
    if rule.per_cavity == 0 || kinds.is_empty() {
        return pool.layouts();
    }
    if let [kind] = kinds[..] {
        let mut sharing = Sharing::new(boxing, kind, goal, dice, meter);
        let most = sharing.room();
        let best = sharing.fill(most, &mut pool, meter);
        for total in goal.other_totals(best) {
            if meter.goes_on() {
                sharing.lay_out(total, &mut pool, meter);
            }
        }
    } else {
        let first = (0..request.cavities.len()).flat_map(|cavity| boxing.berths(cavity).swap_remove(0));
        let berths: Vec<Berth> = first.collect();
        let set = mixed(boxing, goal, berths, dice, meter);
        pool.add_set(set, meter);
    }
    pool.layouts()
}

/// The layouts found so far.
pub(super) struct Pool<'a> {
    boxing: Boxing<'a>,
    goal: &'a Goal,
    ranked: Vec<Candidate>,
    best: Option<Rank>,
}

impl<'a> Pool<'a> {
    fn new(boxing: Boxing<'a>, goal: &'a Goal) -> Self {
        Self {
            boxing,
            goal,
            ranked: Vec::new(),
            best: None,
        }
    }

    /// Adds a set of boxes, each in its place; several in one cavity are given room from each other.
    pub(super) fn add_set(&mut self, set: Vec<Boxed>, meter: &mut Meter) {
        if let Some(layout) = as_layout(self.boxing, set, meter) {
            self.add(layout, meter);
        }
    }

    fn add(&mut self, layout: Layout, meter: &mut Meter) {
        if self.goal.total(layout.count) != layout.count {
            return;
        }
        let request = self.boxing.request;
        let rank = Rank::of(request, self.goal, &layout);
        let signature = Signature::of(request, &layout);
        // Of near-copies only the best is of use.
        let copy = self.ranked.iter().position(|(_, other, _)| *other == signature);
        if copy.is_some_and(|copy| self.ranked[copy].0 <= rank) {
            return;
        }
        if self.best.as_ref().is_none_or(|best| rank < *best) {
            if check(request, &layout).is_err() {
                return;
            }
            meter.tell_count(layout.count);
            meter.better(&layout);
            self.best = Some(rank.clone());
        }
        match copy {
            Some(copy) => self.ranked[copy] = (rank, signature, layout),
            None => self.ranked.push((rank, signature, layout)),
        }
    }

    /// The best that truly differ; what is pinned by itself when nothing holds it with others.
    fn layouts(self) -> Vec<Layout> {
        let pinned = &self.boxing.request.pinned;
        if self.ranked.is_empty() && !pinned.is_empty() {
            return vec![pins::alone(self.boxing.request)];
        }
        truly_different(self.ranked, MOST_LAYOUTS)
    }
}
