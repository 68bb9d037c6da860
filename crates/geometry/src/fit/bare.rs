//! Bare modules in the cavities themselves.

use super::bounds::Bound;
use super::check::to_spare;
use super::goal::Goal;
use super::hollow::{Hollow, search};
use super::meter::{Dice, Meter};
use super::shape::{Hall, Put, Shape, as_blocks, modules, pinned_in, shapes, trim};
use super::{Layout, MOST_LAYOUTS, Placement, Request, pins};
use crate::Axis;
use tape::Length;

/// Layouts of bare modules, best first. Bounds proved on the way are put in place of weaker ones.
pub(super) fn lay_out(
    request: &Request,
    goal: &Goal,
    bounds: &mut [Bound],
    dice: &mut Dice,
    meter: &mut Meter,
) -> Vec<Layout> {
    let shapes = shapes(request, &goal.open());
    let pinned: u32 = request.pinned.iter().map(|placement| placement.count).sum();
    let mut found = fill_all(request, goal, &shapes, bounds, dice, meter);
    // Two orders matter only when kinds run out.
    if request.cavities.len() > 1 && goal.most() < u32::MAX {
        found.sort_by_key(|halls| std::cmp::Reverse(count(halls)));
    }
    let Some(best) = found.first().map(|halls| goal.total(pinned + count(halls))) else {
        return Vec::new();
    };
    let mut layouts: Vec<Layout> = Vec::new();
    for halls in found {
        let Some(halls) = cut_to(halls, goal, best - pinned, &shapes) else {
            continue;
        };
        let layout = as_layout(request, &halls);
        if !layouts.contains(&layout) && layouts.len() < MOST_LAYOUTS {
            layouts.push(layout);
        }
    }
    layouts.sort_by_key(|layout| (std::cmp::Reverse(layout.count), std::cmp::Reverse(layout.to_spare)));
    layouts
}

fn count(halls: &[Vec<Put>]) -> u32 {
    halls.iter().map(|puts| modules(puts)).sum()
}

/// Fillings of all cavities: the best of each together, then others put in for one cavity at a time.
fn fill_all(
    request: &Request,
    goal: &Goal,
    shapes: &[Shape],
    bounds: &mut [Bound],
    dice: &mut Dice,
    meter: &mut Meter,
) -> Vec<Vec<Vec<Put>>> {
    let pinned: u32 = request.pinned.iter().map(|placement| placement.count).sum();
    let open = goal.open();
    let halls = request.cavities.iter().enumerate().map(|(index, cavity)| {
        let mut hall = Hall::bare(cavity, request.gap.nm().max(0));
        hall.blocks
            .extend(as_blocks(&pinned_in(request, index, None), request.gap));
        hall
    });
    let mut choices: Vec<Vec<Vec<Put>>> = Vec::new();
    if request.kinds.len() > 1 && open.iter().any(|&cap| cap < u32::MAX) {
        // What one cavity takes is missing in the next, so they are filled in turn.
        let mut left = open.clone();
        for (index, hall) in halls.enumerate() {
            let wished = left.iter().copied().fold(0, u32::saturating_add);
            let share = meter.left() / u64::try_from(request.cavities.len() - index).unwrap_or(1);
            let mut hollow = [Hollow::new(&hall, shapes, &left, dice, meter)];
            meter.stage(share, |meter| search(&mut hollow, |count, _| count >= wished, meter));
            let [hollow] = hollow;
            bounds[index] = tighter(bounds[index], hollow.bound(), &left, &goal.caps);
            let found = hollow.into_found();
            for put in &found[0] {
                left[put.shape.kind] -= put.shape.count;
            }
            choices.push(found);
        }
    } else {
        let mut hollows: Vec<Hollow> = halls
            .map(|hall| Hollow::new(&hall, shapes, &open, dice, meter))
            .collect();
        search(
            &mut hollows,
            |count, bound| goal.total(pinned + count) >= goal.total(bound.saturating_add(pinned)),
            meter,
        );
        for (cavity, (hollow, bound)) in hollows.into_iter().zip(bounds).enumerate() {
            let here = request.pinned.iter().filter(|placement| placement.cavity == cavity);
            let Bound { count, by } = hollow.bound();
            let count = count.saturating_add(here.map(|placement| placement.count).sum());
            if count < bound.count {
                *bound = Bound { count, by };
            }
            choices.push(hollow.into_found());
        }
    }
    let best: Vec<Vec<Put>> = choices.iter().map(|found| found[0].clone()).collect();
    let mut all = vec![best.clone()];
    for (hall, found) in choices.iter().enumerate() {
        for other in found.iter().skip(1) {
            let mut halls = best.clone();
            halls[hall].clone_from(other);
            // Another mix of kinds here may leave too few for the cavities filled after it.
            if keeps_caps(&halls, &open) {
                all.push(halls);
            }
        }
    }
    all
}

/// The smaller bound, where the new one was proved for all that may be placed.
fn tighter(known: Bound, new: Bound, left: &[u32], caps: &[u32]) -> Bound {
    if left == caps && new.count < known.count {
        new
    } else {
        known
    }
}

/// Whether no kind is used oftener than it may be.
fn keeps_caps(halls: &[Vec<Put>], caps: &[u32]) -> bool {
    let used = |kind: usize| -> u32 {
        let puts = halls.iter().flatten().filter(|put| put.shape.kind == kind);
        puts.map(|put| put.shape.count).sum()
    };
    caps.iter().enumerate().all(|(kind, &cap)| used(kind) <= cap)
}

/// Exactly `total` modules of these, the last cavity's and the highest left out first; `None` when that cannot be had.
fn cut_to(mut halls: Vec<Vec<Put>>, goal: &Goal, total: u32, shapes: &[Shape]) -> Option<Vec<Vec<Put>>> {
    let mut over = count(&halls).checked_sub(total)?;
    for puts in halls.iter_mut().rev() {
        for kind in (0..goal.caps.len()).rev() {
            let here: u32 = puts
                .iter()
                .filter(|p| p.shape.kind == kind)
                .map(|p| p.shape.count)
                .sum();
            let mut caps = vec![u32::MAX; goal.caps.len()];
            caps[kind] = here - here.min(over);
            trim(puts, &caps, shapes);
            let now: u32 = puts
                .iter()
                .filter(|p| p.shape.kind == kind)
                .map(|p| p.shape.count)
                .sum();
            over = over.saturating_sub(here - now);
        }
    }
    (count(&halls) == total).then_some(halls)
}

fn as_layout(request: &Request, halls: &[Vec<Put>]) -> Layout {
    let mut layout = Layout {
        by_kind: pins::by_kind(request),
        count: request.pinned.iter().map(|placement| placement.count).sum(),
        placements: request.pinned.clone(),
        ..Layout::default()
    };
    for (cavity, puts) in halls.iter().enumerate() {
        for put in puts {
            layout.placements.push(Placement {
                cavity,
                in_box: None,
                kind: put.shape.kind,
                orientation: put.shape.orientation,
                cuboid: put.cuboid(),
                count: put.shape.count,
            });
            layout.count += put.shape.count;
            layout.by_kind[put.shape.kind] += put.shape.count;
        }
        if pinned_in(request, cavity, None).is_empty() {
            centre(request, &mut layout, cavity);
        }
    }
    layout.to_spare = to_spare(request, &layout);
    layout
}

/// Moves all modules of a cavity together to the middle between its walls, axis by axis, where nothing speaks against it.
fn centre(request: &Request, layout: &mut Layout, cavity: usize) {
    let space = request.cavities[cavity].space;
    for axis in [Axis::X, Axis::Y] {
        let mine: Vec<_> = layout
            .placements
            .iter()
            .filter(|p| p.cavity == cavity)
            .map(|p| p.cuboid)
            .collect();
        let Some(hull) = mine.into_iter().reduce(|a, b| a.hull(&b)) else {
            return;
        };
        let margin = request.cavities[cavity].wall_margin;
        let (low, high) = (crate::Face::low(axis), crate::Face::high(axis));
        let before = hull.lo()[axis] - space.lo()[axis] - margin[low];
        let behind = space.hi()[axis] - hull.hi()[axis] - margin[high];
        let step = crate::Point::along(axis, Length::from_nm((behind - before).nm().div_euclid(2)));
        let mut moved = layout.clone();
        for placement in moved.placements.iter_mut().filter(|p| p.cavity == cavity) {
            placement.cuboid = placement.cuboid.moved(step);
        }
        moved.to_spare = to_spare(request, &moved);
        let keeps = moved.to_spare >= to_spare(request, layout);
        if keeps && super::check::stands(request, &moved, cavity) {
            *layout = moved;
        }
    }
}
