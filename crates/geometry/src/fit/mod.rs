//! The automatic layout.
//!
//! [`fit`] answers a [`Request`] with layouts and an honest bound; [`check`] tells whether a layout keeps every rule.
//!
//! How a request goes through: `goal` reads what is wanted; `bounds` proves what could go in at most; bare modules go
//! through `bare`, boxed ones through `boxed`. Both fill hollows with `hollow`: gaps and margins are folded away
//! (`folded`), `regions` cuts the hollow along keep-outs, `blocks` fills the empty parts, `raster` tells the places worth
//! trying, and each `part` of them that stands alone is searched: `weights` prove a bound, `tabu` improves, `skyline`
//! settles flat layers, `exact` the rest; `spaces` fills what has too many places. `place` finds the place with the most to
//! spare for a box.

mod assemble;
mod bare;
mod berth;
mod blocks;
mod bounds;
mod boxed;
mod boxing;
mod cavities;
mod check;
mod contents;
mod divide;
mod exact;
mod fill;
mod folded;
mod goal;
mod hollow;
mod least;
mod meter;
mod mixed;
mod offers;
mod part;
mod pins;
mod place;
mod rank;
mod raster;
mod regions;
mod request;
mod shape;
mod share;
mod sharing;
mod skyline;
mod spaces;
mod tabu;
mod weights;

pub(crate) use check::service;
pub use check::{Flaw, check, to_spare};
pub use least::{Hold, LeastChange, least_change, tolerance};
pub use request::{
    Answer, BoundBy, BoxPlace, BoxRule, Budget, Cavity, EmptyMass, Ended, KeepOut, Kind, Layout, MassLimit, Placement,
    Progress, Request, RequestError, Rim, Stack, Unwatched, Wanted, Watch,
};

use goal::Goal;
use meter::{Dice, Meter};

/// The most work put into weights when boxes do not hold all that the cheap bounds allow.
const FOR_WEIGHTS: u64 = 300_000;
/// The most layouts given back.
const MOST_LAYOUTS: usize = 4;

/// Lays out what is asked for: layouts that keep every rule, best first, and a proved bound.
///
/// The same request with the same budget gives the same answer, unless the watcher stops it; then the best so far is
/// given. Gaps and service spaces below zero count as zero.
///
/// # Errors
///
/// [`RequestError`] when the request cannot be worked on at all; that nothing fits is an answer, not an error.
pub fn fit(request: &Request, budget: Budget, watch: &mut dyn Watch) -> Result<Answer, RequestError> {
    goal::validate(request)?;
    let goal = Goal::of(request);
    let mut meter = Meter::new(budget, watch);
    let mut dice = Dice::new(budget.seed);
    let mut each = bounds::bounds(request, &goal);
    let bound = bounds::total(&each, &goal);
    meter.tell_bound(bound.count);
    let mut layouts = match &request.boxes {
        None => bare::lay_out(request, &goal, &mut each, &mut dice, &mut meter),
        Some(rule) => boxed::lay_out(request, rule, &goal, &mut dice, &mut meter),
    };
    let mut bound = bounds::total(&each, &goal);
    let open = layouts.first().is_none_or(|best| best.count < bound.count);
    if request.boxes.is_some() && open && meter.goes_on() {
        meter.stage(FOR_WEIGHTS, |meter| bounds::weigh(request, &goal, &mut each, meter));
        bound = bounds::total(&each, &goal);
    }
    // Whatever the search does, nothing leaves that breaks a rule; while developing, that is a fault. Pinned modules
    // alone may stand in a box whose rims only more modules would lift out of the way: that is none.
    for layout in layouts.iter().filter(|l| l.placements.len() > request.pinned.len()) {
        debug_assert_eq!(check(request, layout), Ok(()));
    }
    layouts.retain(|layout| check(request, layout).is_ok());
    layouts.truncate(MOST_LAYOUTS);
    if layouts.is_empty() {
        layouts.push(Layout {
            by_kind: vec![0; request.kinds.len()],
            ..Layout::default()
        });
    }
    let proved = layouts[0].count == bound.count;
    let ended = if proved && !meter.stopped() {
        Ended::Done
    } else {
        meter.ended()
    };
    Ok(Answer {
        layouts,
        upper_bound: bound.count,
        proved,
        bound_by: bound.by,
        ended,
        work: meter.done(),
    })
}
