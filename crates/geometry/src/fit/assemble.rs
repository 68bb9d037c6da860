//! From boxes in their places to a layout.

use super::berth::{Berth, Obstacle};
use super::boxing::Boxing;
use super::check::{check, to_spare};
use super::meter::Meter;
use super::offers::Boxed;
use super::place::best_place;
use super::{Layout, Placement};
use crate::spread::{Move, spread};

/// More boxes than this are not moved together.
const MOST_MOVED: usize = 40;

/// The layout of a set of boxes; `None` when a box with something pinned is missing.
pub(super) fn as_layout(boxing: Boxing, mut set: Vec<Boxed>, meter: &mut Meter) -> Option<Layout> {
    // Boxes with something pinned come first, in the order of their numbers.
    set.sort_by_key(|one| {
        (
            one.number.is_none(),
            one.number,
            one.cavity,
            one.at[0],
            one.at[1],
            one.at[2],
        )
    });
    let request = boxing.request;
    let numbers: Vec<usize> = set.iter().map_while(|one| one.number).collect();
    if !numbers.iter().copied().eq(0..super::pins::boxes(request)) {
        return None;
    }
    one_by_one(boxing, &mut set, meter);
    let mut layout = Layout {
        placements: request.pinned.clone(),
        by_kind: super::pins::by_kind(request),
        ..Layout::default()
    };
    for (index, one) in set.iter().enumerate() {
        let pinned = request
            .pinned
            .iter()
            .filter(|p| one.number.is_some() && p.in_box == one.number);
        for put in &one.puts[pinned.count()..] {
            layout.placements.push(Placement {
                cavity: one.cavity,
                in_box: Some(index),
                kind: put.shape.kind,
                orientation: put.shape.orientation,
                cuboid: put.cuboid(),
                count: put.shape.count,
            });
            layout.by_kind[put.shape.kind] += put.shape.count;
        }
        layout
            .boxes
            .push(boxing.box_place(one.cavity, one.at, one.body, one.bay));
    }
    layout.count = layout.by_kind.iter().sum();
    layout.to_spare = to_spare(request, &layout);
    Some(apart(boxing, layout))
}

/// The boxes of shared cavities moved apart together, where that leaves more than placing one after another did.
fn apart(boxing: Boxing, layout: Layout) -> Layout {
    let cavities: Vec<usize> = layout.boxes.iter().map(|place| place.cavity).collect();
    let shared = cavities
        .iter()
        .enumerate()
        .any(|(i, cavity)| cavities[..i].contains(cavity));
    if !shared || cavities.len() > MOST_MOVED {
        return layout;
    }
    match spread(boxing.request, &layout, Move::Boxes) {
        Ok(moved) if moved.layout.to_spare > layout.to_spare && check(boxing.request, &moved.layout).is_ok() => {
            moved.layout
        }
        _ => layout,
    }
}

/// Where a cavity holds several boxes, gives each the best place beside the others, twice over.
fn one_by_one(boxing: Boxing, set: &mut [Boxed], meter: &mut Meter) {
    let rule = boxing.rule;
    for i in (0..set.len()).chain(0..set.len()) {
        let beside = |j: &usize| *j != i && set[*j].cavity == set[i].cavity;
        let neighbours: Vec<usize> = (0..set.len()).filter(beside).collect();
        if neighbours.is_empty() || set[i].number.is_some() {
            continue;
        }
        let mut berth = Berth::whole(boxing.request, set[i].cavity);
        for j in neighbours {
            berth.obstacles.extend(Obstacle::of_box(set[j].at, set[j].body, rule));
        }
        if let Some(standing) = best_place(&berth, set[i].body, &rule.rims, meter).filter(|s| s.spare >= set[i].spare) {
            set[i] = set[i].moved_to(standing.at);
            set[i].spare = standing.spare;
        }
    }
}
