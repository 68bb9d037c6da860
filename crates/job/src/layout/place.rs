//! Places for one more module or box by hand.

use geometry::{Axis, Face, Point, Size};
use tape::Length;

use crate::assumed;
use crate::evaluate::{allowances, least_leg_on_sale, told_leg};
use crate::layout::reaches::brackets_below;
use crate::{Evaluation, Id, Job};

/// A datum for a new box at the front-left-bottom corner of a cavity, so that its first module keeps the margin with
/// everything that comes round it, and its brackets have room beside and below it.
pub fn start_corner(job: &Job, evaluation: &Evaluation) -> Point {
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    let allowances = allowances(&build, &trust);
    let service = job.kinds.iter().map(assumed::service).max().unwrap_or(Length::ZERO);
    let rim = match build.closing {
        crate::Closing::Flange => build.flange_out,
        crate::Closing::Cap => build.cap_out,
        crate::Closing::Flat => Length::ZERO,
    };
    // Brackets are welded to the bare wall. Which of its sides is the longer is not known of a box that is empty yet.
    let beside = trust.margin + rim + allowances.coating;
    let is_hung = job.design.carried().reach().is_some();
    let leg = is_hung.then(|| told_leg(job, None).map_or_else(|| least_leg_on_sale(job), |leg| leg.length));
    let beside = leg.map_or(beside, |leg| beside.max(leg));
    // A leg that was not entered follows the box to where it stands.
    let hang = leg.map_or(Length::ZERO, |_| {
        brackets_below(job, evaluation, told_leg(job, None).map_or(beside, |leg| leg.length))
    });
    let shell = beside + build.angle() + build.wall + build.liner + build.fit;
    let under = build.below_body() + allowances.coating + build.angle();
    let floor = trust.margin + hang + under + build.floor + build.liner + build.under_modules;
    Point([
        shell + build.room_ends.max(service) + allowances.bay,
        shell + service,
        floor,
    ])
}

/// A place for one more module in a box, from the box's datum: beside or behind those in it, else on top of them, with
/// the gap kept, without overlap, growing the box least.
///
/// `None` when the kind's size is not known.
pub fn next_place(
    evaluation: &Evaluation,
    into: Id,
    kind: Id,
    count: u32,
    datum: Point,
) -> Option<(Point, geometry::Orientation)> {
    let battery_box = evaluation.battery_box(into)?;
    let kind = evaluation.kind(kind)?;
    let stands = battery_box
        .modules
        .iter()
        .rev()
        .find(|m| m.kind == kind.id)
        .map_or_else(
            || {
                kind.orientations
                    .first()
                    .copied()
                    .unwrap_or(geometry::Orientation::UPRIGHT)
            },
            |m| m.stands,
        );
    let size: Size = stands.extents(kind.own_size(count)?);
    let Some(all) = battery_box.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b)) else {
        return Some((Point::ZERO, stands));
    };
    let gap = evaluation.gap;
    let room = kind.service_towards(stands);
    let apart = |face: Face| gap.max(room[face]).max(room[face.opposite()]);
    let free = |corner: Point| {
        let here = geometry::Cuboid::at(corner, size);
        battery_box.modules.iter().all(|m| {
            Axis::ALL
                .into_iter()
                .any(|axis| here.gap_along(&m.cuboid, axis) >= apart(Face::high(axis)))
        })
    };
    let beside = battery_box.modules.iter().flat_map(|m| {
        Axis::ALL.into_iter().map(move |axis| {
            let mut corner = m.cuboid.lo();
            corner[axis] = m.cuboid.hi()[axis] + apart(Face::high(axis));
            corner
        })
    });
    let space = evaluation.cavity(battery_box.cavity).and_then(|c| c.usable);
    let cost = |corner: &Point| {
        let here = geometry::Cuboid::at(*corner, size);
        let outside = space.is_some_and(|s| !s.contains(&here));
        let over = battery_box.modules.iter().any(|m| here.shares_floor(&m.cuboid));
        (outside, over, all.hull(&here).size().volume())
    };
    beside
        .filter(|&corner| free(corner))
        .min_by_key(cost)
        .map(|corner| (corner - datum, stands))
}
