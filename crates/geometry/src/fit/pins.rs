//! What is pinned, by itself: the layout that holds nothing else.

use super::berth::{Berth, Obstacle};
use super::boxing::Boxing;
use super::check::to_spare;
use super::place::spare_at;
use super::shape::{V3, pinned_in};
use super::{BoxPlace, BoxRule, Flaw, Layout, Placement, Request};
use crate::{Cuboid, Face, Size};
use tape::Length;

/// Pinned modules of each kind.
pub(super) fn by_kind(request: &Request) -> Vec<u32> {
    let mut counts = vec![0_u32; request.kinds.len()];
    for pinned in &request.pinned {
        if let Some(count) = counts.get_mut(pinned.kind) {
            *count = count.saturating_add(pinned.count);
        }
    }
    counts
}

/// How many boxes hold something pinned.
pub(super) fn boxes(request: &Request) -> usize {
    request
        .pinned
        .iter()
        .filter_map(|p| p.in_box)
        .max()
        .map_or(0, |last| last.saturating_add(1))
}

/// The cavity of a box with something pinned.
pub(super) fn cavity_of(request: &Request, number: usize) -> Option<usize> {
    request
        .pinned
        .iter()
        .find(|p| p.in_box == Some(number))
        .map(|p| p.cavity)
}

/// The layout of nothing but what is pinned, in the smallest boxes round it.
///
/// Where the rules leave no place for a box, its bay is on the side asked for; [`super::check`] then says what is wrong.
pub(super) fn alone(request: &Request) -> Layout {
    let by_kind = by_kind(request);
    let mut layout = Layout {
        boxes: Vec::new(),
        placements: request.pinned.clone(),
        count: by_kind.iter().copied().fold(0, u32::saturating_add),
        by_kind,
        to_spare: Length::ZERO,
    };
    if let Some(rule) = &request.boxes {
        layout.boxes = smallest_boxes(request, rule);
    }
    layout.to_spare = to_spare(request, &layout);
    layout
}

fn smallest_boxes(request: &Request, rule: &BoxRule) -> Vec<BoxPlace> {
    let boxing = Boxing {
        request,
        rule,
        shapes: &[],
    };
    let around: Vec<Vec<BoxPlace>> = (0..boxes(request))
        .filter_map(|number| Some((number, cavity_of(request, number)?)))
        .map(|(number, cavity)| {
            let puts = pinned_in(request, cavity, Some(number));
            let place = |bay: Option<Face>| {
                let (lo, size) = boxing.wrapped(&puts, bay);
                boxing.box_place(cavity, lo, size, bay)
            };
            boxing.bays().into_iter().map(place).collect()
        })
        .collect();
    let mut chosen = Vec::new();
    if !choose(request, rule, &around, &mut chosen) {
        chosen = around.iter().filter_map(|places| places.first().copied()).collect();
    }
    chosen
}

/// Chooses one of the places for each box, so that all keep clear of walls, keep-outs and each other.
fn choose(request: &Request, rule: &BoxRule, around: &[Vec<BoxPlace>], chosen: &mut Vec<BoxPlace>) -> bool {
    let Some(places) = around.get(chosen.len()) else {
        return true;
    };
    for place in places {
        let mut berth = Berth::whole(request, place.cavity);
        for other in chosen.iter().filter(|other| other.cavity == place.cavity) {
            berth
                .obstacles
                .extend(Obstacle::of_box(corner(&other.body), size(&other.body), rule));
        }
        if spare_at(&berth, corner(&place.body), size(&place.body), &rule.rims).is_some() {
            chosen.push(*place);
            if choose(request, rule, around, chosen) {
                return true;
            }
            chosen.pop();
        }
    }
    false
}

fn corner(body: &Cuboid) -> V3 {
    body.lo().0.map(Length::nm)
}

fn size(body: &Cuboid) -> V3 {
    let Size(size) = body.size();
    size.map(Length::nm)
}

/// Which pinned one a flaw in the layout of the pinned ones is about.
pub(super) fn who(request: &Request, flaw: Flaw) -> usize {
    let first = |of: &dyn Fn(&Placement) -> bool| request.pinned.iter().position(of).unwrap_or(0);
    match flaw {
        Flaw::Index { index, of_box: false }
        | Flaw::Orientation { placement: index }
        | Flaw::Size { placement: index }
        | Flaw::StackCount { placement: index }
        | Flaw::ModuleToWall { placement: index, .. }
        | Flaw::ModuleToKeepOut { placement: index, .. }
        | Flaw::Gap { first: index, .. }
        | Flaw::Tiers { first: index, .. }
        | Flaw::Service { placement: index, .. }
        | Flaw::Pinned { pinned: index } => index,
        Flaw::Index { index, of_box: true }
        | Flaw::Body { index }
        | Flaw::TooLow { index }
        | Flaw::BoxToWall { index, .. }
        | Flaw::BoxToKeepOut { index, .. }
        | Flaw::Apart { first: index, .. }
        | Flaw::Mass { index } => first(&|p| p.in_box == Some(index)),
        Flaw::Boxes { cavity } => first(&|p| p.cavity == cavity),
        Flaw::TooMany { kind } => first(&|p| p.kind == kind),
        Flaw::Boxing | Flaw::Count | Flaw::BrokenString | Flaw::ToSpare => 0,
    }
}
