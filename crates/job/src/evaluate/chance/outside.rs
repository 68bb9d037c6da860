//! The room of a box in its cavity.

use geometry::{Axis, Cuboid, Face};
use tape::Length;
use tape::reading::{self, limits_sigma};

use super::room::{Cause, Off, Room, room};
use crate::assumed::{Limits, Trust};
use crate::document::BatteryBox;
use crate::evaluate::{BoxResult, CavityResult, ClearanceResult, Near};

/// What the rooms of a box follow from.
pub(in crate::evaluate) struct Look<'a> {
    pub(in crate::evaluate) cavity: &'a CavityResult,
    pub(in crate::evaluate) trust: &'a Trust,
    pub(in crate::evaluate) limits: &'a Limits,
    pub(in crate::evaluate) coating: Length,
}

/// The rooms of a box along length, width and height; empty while it has no clearances.
pub(in crate::evaluate) fn rooms(look: &Look<'_>, told: &BatteryBox, result: &BoxResult) -> Vec<Room> {
    let (Some(around), Some(overall)) = (&result.around, result.solids.iter().copied().reduce(|a, b| a.hull(&b)))
    else {
        return Vec::new();
    };
    let one = |axis: Axis| {
        let sides = [Face::low(axis), Face::high(axis)].map(|face| &around.faces[face.index()]);
        let mut offs = taped(look, sides, &overall, axis);
        offs.extend(built(look, told, result, axis));
        let free = sides[0].distance + sides[1].distance;
        room(axis, free, sides[0].asked + sides[1].asked, &offs)
    };
    Axis::ALL.into_iter().map(one).collect()
}

/// Notes the standard uncertainty of each clearance of a box in its cavity: what the tape may be off at that side, and
/// half of what the box may be off, which comes out at both.
pub(in crate::evaluate) fn give_or_take_of_sides(look: &Look<'_>, result: &mut BoxResult) {
    let Some(overall) = result.solids.iter().copied().reduce(|a, b| a.hull(&b)) else {
        return;
    };
    let of_box: Vec<f64> = result.fit.outside.iter().map(built_sigma).collect();
    let Some(around) = &mut result.around else { return };
    for clearance in around.faces.iter_mut().chain([&mut around.nearest]) {
        let taped = side(look, &overall, clearance).map_or(0.0, |off| off.sigma_mm());
        let half = of_box
            .get(clearance.face.axis().index())
            .map_or(0.0, |sigma| sigma / 2.0);
        clearance.sigma = Length::from_mm_up(taped.hypot(half));
    }
}

/// What of a room's sigma is the box's own.
fn built_sigma(room: &Room) -> f64 {
    let own = room
        .shares
        .iter()
        .filter(|s| !matches!(s.cause, Cause::Tape | Cause::KeepOut));
    own.map(|share| share.sigma.as_mm().powi(2)).sum::<f64>().sqrt()
}

/// What the tape may be off at both sides.
fn taped(look: &Look<'_>, sides: [&ClearanceResult; 2], overall: &Cuboid, axis: Axis) -> Vec<Off> {
    let walls = sides.iter().all(|side| matches!(side.near, Near::Wall(_)));
    if let (true, Some(shape)) = (walls, &look.cavity.survey.shape) {
        // What one wall takes the other may give: with the whole covariance.
        let sigma = shape.sigma_mm(&shape.slack_slopes(overall, axis));
        return vec![Off::sigma(Cause::Tape, sigma)];
    }
    sides
        .iter()
        .filter_map(|clearance| side(look, overall, clearance))
        .collect()
}

/// What the tape may be off at one side of a box, or another box there.
fn side(look: &Look<'_>, overall: &Cuboid, clearance: &ClearanceResult) -> Option<Off> {
    match clearance.near {
        Near::Wall(face) => Some(Off::sigma(Cause::Tape, wall_sigma(look, overall, face))),
        Near::KeepOut(id) => {
            let keep_out = look.cavity.keep_outs.iter().find(|k| k.id == id)?;
            let sigma = keep_out.sigmas[clearance.face.opposite()].as_mm();
            Some(Off::sigma(Cause::KeepOut, sigma))
        }
        // Half of what another box is off comes out at each of its sides.
        Near::Box(_) => {
            let size = overall.size()[clearance.face.axis()];
            let shop = look.limits.shop.unwrap_or_else(|| look.limits.class.limits(size));
            Some(Off::limits(Cause::Shop, Length::from_nm(shop.nm() / 2), 1))
        }
        Near::Liner(_) | Near::Module(_) => None,
    }
}

/// Standard uncertainty of where a wall is next to a box, in mm.
fn wall_sigma(look: &Look<'_>, overall: &Cuboid, face: Face) -> f64 {
    if let Some(shape) = &look.cavity.survey.shape {
        return shape.clearances(overall)[face.index()].sigma.as_mm();
    }
    let dimension = &look.cavity.dimensions[face.axis().index()];
    match dimension {
        // Taken as square, the low wall is where measuring starts.
        Some(dimension) if face.is_high() => {
            let places = &dimension.usable.places;
            places
                .get(dimension.usable.limiting)
                .map_or(0.0, |place| place.sigma.as_mm())
        }
        _ => 0.0,
    }
}

/// What the box itself may be off along an axis.
fn built(look: &Look<'_>, told: &BatteryBox, result: &BoxResult, axis: Axis) -> Vec<Off> {
    let Some(body) = &result.body else { return Vec::new() };
    let size = body.size();
    let mut offs = Vec::new();
    if let Some(taped) = told.as_built.along(axis) {
        let tape = reading::Tape {
            class: look.trust.tape_class,
            ..reading::Tape::of(taped.written().units())
        };
        let sigma = taped
            .plus_minus()
            .map_or_else(|| reading::default_sigma(taped.value(), &tape), limits_sigma);
        offs.push(Off::sigma(Cause::AsBuilt, sigma.as_mm()));
    } else {
        let shop = look.limits.shop.unwrap_or_else(|| look.limits.class.limits(size[axis]));
        offs.push(Off::limits(Cause::Shop, shop, 1));
        if look.coating > Length::ZERO {
            offs.push(Off::limits(Cause::Coating, look.limits.coating.min(look.coating), 2));
        }
    }
    let across = Axis::ALL.into_iter().filter(|&a| a != axis).map(|a| size[a]).max();
    let flat = look.limits.flatness.limits(across.unwrap_or(size[axis]));
    offs.push(Off::limits(Cause::Flatness, flat, 2));
    offs
}
