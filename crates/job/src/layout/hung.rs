//! Boxes hung on the webs of two rails, moved to the middle between them.

use std::borrow::Cow;

use geometry::fit::{Layout, Request, check, to_spare};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::reaches::bracket_faces;
use super::{Question, take_over};
use crate::evaluate::{BoxResult, DRAWN_UP, Near};
use crate::{BracketsName, Evaluation, Job, evaluate};

/// How finely a box is placed.
const STEP: Length = Length::tenths_mm(1);
/// How often the boxes are moved: where one stands may change what its brackets hang on.
const PASSES: usize = 2;

/// The question as it is put, where that was asked for, for boxes that stand in the middle between two rails in the end: what
/// is in their way on one side is as much in their way mirrored to the other.
pub(super) fn both_ways<'a>(job: &Job, evaluation: &Evaluation, question: &'a Question) -> Cow<'a, Request> {
    if !question.in_the_middle {
        return Cow::Borrowed(&question.request);
    }
    let mut request = question.request.clone();
    for (asked, id) in request.cavities.iter_mut().zip(&question.cavities) {
        let Some((cavity, space)) = evaluation.cavity(*id).and_then(|c| Some((c, c.space?))) else {
            continue;
        };
        let [low, high] = bracket_faces(job, cavity);
        let axis = low.axis();
        let held = |face: Face| (space.face(face) - asked.space.face(face)).abs();
        let more = held(high) - held(low);
        asked.wall_margin[low] += more.max(Length::ZERO);
        asked.wall_margin[high] += (-more).max(Length::ZERO);
        let mirrored = |cuboid: &Cuboid| {
            let (mut lo, mut hi) = (cuboid.lo(), cuboid.hi());
            let across = space.lo()[axis] + space.hi()[axis];
            (lo[axis], hi[axis]) = (across - cuboid.hi()[axis], across - cuboid.lo()[axis]);
            Cuboid::between(lo, hi)
        };
        let other_side: Vec<_> = asked
            .keep_outs
            .iter()
            .map(|keep_out| geometry::fit::KeepOut {
                cuboid: mirrored(&keep_out.cuboid),
                ..*keep_out
            })
            .collect();
        asked.keep_outs.extend(other_side);
    }
    Cow::Owned(request)
}

/// Whether boxes hang on rails, so that it matters that they stand in the middle: not with pinned modules, whose boxes stand where
/// they stand.
pub(super) fn are_hung(job: &Job, question: &Question) -> bool {
    job.design.carried() == BracketsName::Web && question.request.pinned.is_empty()
}

/// How many stops there are with a layout, and its least clearance for sure; `None` where it can't be taken over.
fn stands(job: &Job, question: &Question, layout: &Layout) -> Option<(usize, Length)> {
    let then = evaluate(&job.with(&take_over(job, question, layout)).ok()?);
    let tightest = then
        .headline
        .tightest
        .as_ref()
        .map(|tightest| tightest.clearance.sure());
    Some((then.headline.stops, tightest?))
}

/// How many stops there are with a layout; none where it can't be taken over.
pub(super) fn stops(job: &Job, question: &Question, layout: &Layout) -> usize {
    stands(job, question, layout).map_or(0, |(stops, _)| stops)
}

/// The layout with each of its boxes in the middle between what its brackets hang on: one length of leg is cut for both sides, so
/// a box aside of the middle would hang on one rail alone. Every rule of the question is kept; but it keeps room for legs all along
/// a box, and where that alone is broken a box is moved too, if that mends a stop and every clearance has `margin` for sure, or
/// what it had.
pub(super) fn in_the_middle(job: &Job, question: &Question, layout: &mut Layout, margin: Length) {
    if !are_hung(job, question) {
        return;
    }
    layout.to_spare = to_spare(&question.request, layout);
    for _ in 0..PASSES {
        let Ok(then) = job.with(&take_over(job, question, layout)) else {
            return;
        };
        let then = evaluate(&then);
        let mut is_moved = false;
        for index in 0..layout.boxes.len() {
            let place = &layout.boxes[index];
            let cavity = question.cavities[place.cavity];
            let stands_there = |b: &&BoxResult| {
                let level = [Axis::X, Axis::Y];
                let same = |body: &Cuboid| level.iter().all(|&axis| body.lo()[axis] == place.body.lo()[axis]);
                b.cavity == cavity && b.solids.first().is_some_and(same)
            };
            let Some(step) = then.boxes.iter().find(stands_there).and_then(towards_the_middle) else {
                continue;
            };
            let mut moved = moved(question, layout, index, step);
            let mut is_kept = check(&question.request, &moved).is_ok();
            if !is_kept
                && let Some((before, had)) = stands(job, question, layout)
                && let Some((after, has)) = stands(job, question, &moved)
            {
                is_kept = after < before && has >= margin.min(had);
                moved.to_spare = moved.to_spare.max(Length::ZERO);
            }
            if is_kept {
                *layout = moved;
                is_moved = true;
            }
        }
        if !is_moved {
            return;
        }
    }
}

/// The layout with one of its boxes moved by this.
fn moved(question: &Question, layout: &Layout, index: usize, step: Point) -> Layout {
    let mut moved = layout.clone();
    let place = &mut moved.boxes[index];
    (place.body, place.inside) = (place.body.moved(step), place.inside.moved(step));
    for placement in moved.placements.iter_mut().filter(|p| p.in_box == Some(index)) {
        placement.cuboid = placement.cuboid.moved(step);
    }
    moved.to_spare = to_spare(&question.request, &moved);
    moved
}

/// How far a box is from the middle between its two rails; `None` where that is less than its bolts draw up, or it hangs on
/// another box.
fn towards_the_middle(battery_box: &BoxResult) -> Option<Point> {
    let [one, other] = battery_box.added.seats.as_slice() else {
        return None;
    };
    let hangs = [one, other].iter().all(|seat| !matches!(seat.near, Near::Box(_)));
    let by = |gap: Length| gap.half_down().round_down_to(STEP);
    let apart = (one.gap - other.gap).abs();
    (hangs && apart > DRAWN_UP.half_down()).then(|| {
        let (farther, by) = if one.gap > other.gap {
            (one, by(apart))
        } else {
            (other, by(apart))
        };
        let by = if farther.face.is_high() { by } else { -by };
        Point::along(farther.face.axis(), by)
    })
}
