//! The room of a box in its cavity.

use geometry::{Axis, Cuboid, Face};
use tape::Length;

use super::room::{Cause, Off, Room, room, sigma_of};
use crate::Id;
use crate::evaluate::{BoxResult, CavityResult, ClearanceResult, Near};

/// What the rooms of a box follow from.
pub(in crate::evaluate) struct Look<'a> {
    pub(in crate::evaluate) cavity: &'a CavityResult,
    /// What the outside of each box of the job may be off.
    pub(in crate::evaluate) built: &'a [(Id, [Vec<Off>; 3])],
}

impl Look<'_> {
    /// What the outside of a box may be off along an axis.
    fn built(&self, id: Id, axis: Axis) -> &[Off] {
        let found = self.built.iter().find(|(of, _)| *of == id);
        found.map_or(&[], |(_, built)| &built[axis.index()])
    }
}

/// The rooms of a box along length, width and height; empty while it has no clearances.
pub(in crate::evaluate) fn rooms(look: &Look<'_>, result: &BoxResult) -> Vec<Room> {
    let (Some(around), Some(overall)) = (&result.around, result.overall()) else {
        return Vec::new();
    };
    let one = |axis: Axis| {
        let sides = [Face::low(axis), Face::high(axis)].map(|face| &around.faces[face.index()]);
        let mut offs = taped(look, sides, &overall, axis);
        offs.extend(look.built(result.id, axis));
        let between_faces = sides[0].distance + sides[1].distance;
        let free = match &look.cavity.survey.shape {
            // The walls as they lean, where nothing between the corners is nearer.
            Some(shape) if between_walls(sides) && look.cavity.cap_sigma(axis).is_none() => {
                shape.slack(&overall, axis).distance
            }
            _ => between_faces,
        };
        room(axis, free, sides[0].asked + sides[1].asked, &offs)
    };
    Axis::ALL.into_iter().map(one).collect()
}

/// Whether a box has a wall of the cavity at both sides.
fn between_walls(sides: [&ClearanceResult; 2]) -> bool {
    sides.iter().all(|side| matches!(side.near, Near::Wall(_)))
}

/// Notes the standard uncertainty of each clearance of a box in its cavity: what the tape may be off at that side, and
/// half of what the box may be off, which comes out at both.
pub(in crate::evaluate) fn give_or_take_of_sides(look: &Look<'_>, result: &mut BoxResult) {
    let Some(overall) = result.overall() else {
        return;
    };
    let Some(around) = &mut result.around else { return };
    for clearance in around.faces.iter_mut().chain([&mut around.nearest]) {
        let taped = side(look, &overall, clearance).map_or(0.0, |off| off.sigma_mm());
        let half = sigma_of(look.built(result.id, clearance.face.axis())) / 2.0;
        clearance.sigma = Length::from_mm_up(taped.hypot(half));
    }
}

/// What the tape may be off at both sides.
fn taped(look: &Look<'_>, sides: [&ClearanceResult; 2], overall: &Cuboid, axis: Axis) -> Vec<Off> {
    if let Some(sigma) = look.cavity.cap_sigma(axis).filter(|_| between_walls(sides)) {
        return vec![Off::sigma(Cause::Tape, sigma.as_mm())];
    }
    if let (true, Some(shape)) = (between_walls(sides), &look.cavity.survey.shape) {
        // What one wall takes the other may give: with the whole covariance.
        return vec![Off::sigma(Cause::Tape, shape.slack(overall, axis).sigma.as_mm())];
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
        Near::Box(id) => {
            let built = look.built(id, clearance.face.axis());
            Some(Off::half(Cause::Neighbour, built))
        }
        Near::Liner(_) | Near::Step | Near::Module(_) => None,
    }
}

/// Standard uncertainty of where a wall is next to a box, in mm.
fn wall_sigma(look: &Look<'_>, overall: &Cuboid, face: Face) -> f64 {
    // A reading between the corners that caps the space moves both walls by half.
    if let Some(sigma) = look.cavity.cap_sigma(face.axis()) {
        return sigma.as_mm() / 2.0;
    }
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
