//! Angles that keep lid and floor of a box from giving.

use enclosure::added::{FloorRails, Stiffeners, least_stiffeners};
use enclosure::{Built, Role};
use geometry::{Axis, Cuboid, Faces, Point};
use tape::Length;

use super::super::strength::whole;
use super::{AddedResult, Site, places, put, ruled};
use crate::assumed;
use crate::document::{FloorRailsName, PlacesOf, StiffenersName};
use crate::{Figure, PartSize};

/// A stiffened lid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LidResult {
    /// Angles across it.
    pub stiffeners: u32,
    /// How far each field gives in its middle, in millimetres.
    pub gives_mm: f64,
    /// How far it may.
    pub most: Length,
    /// The load on it.
    pub load_kg: f64,
}

/// The rails under a floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorRailsResult {
    /// How many.
    pub count: u32,
    /// The middle of each on the other level axis, from the inside of the wall, in order.
    pub places: Vec<Length>,
    /// The axis they lie along.
    pub along: Axis,
    /// Leg and thickness of the angle.
    pub angle: [Length; 2],
    /// The widest span of the floor across them: from the middle of one to that of the next, or to the wall.
    pub span: Length,
    /// The most floor that one of them bears, across it: half of the span on each of its sides.
    pub bears: Length,
    /// From wall to wall along them.
    pub length: Length,
}

pub(super) fn stiffeners(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let how = here.job.design.added.stiffeners.unwrap_or(StiffenersName::None);
    if how == StiffenersName::None {
        return;
    }
    let sides = [here.steel.size()[Axis::X], here.steel.size()[Axis::Y]];
    let lid = here.sheet(here.build.lid);
    let load_kg = here.figures().sure(Figure::LidLoad);
    let most = here
        .job
        .design
        .added
        .sizes
        .get(PartSize::LidGives)
        .unwrap_or(here.build.lid.half_down());
    let own = here.places.of(PlacesOf::Stiffeners);
    let asked = here.figures().get(Figure::LidStiffeners).map(whole);
    let by_rule = || least_stiffeners(sides, lid, load_kg, most);
    let Some(count) = u32::try_from(own.len())
        .ok()
        .filter(|&n| n > 0)
        .or(asked)
        .or_else(by_rule)
    else {
        result.faults.push(format!(
            "lid stiffeners: 16 of them still let the lid give more than {} under {load_kg} kg: take a thicker lid",
            tape::show::caliper(most, here.job.units.units())
        ));
        return;
    };
    let length = here.steel.size()[here.long];
    let places = if own.is_empty() {
        places::fields(count, length)
    } else {
        own
    };
    let gives_mm = places::widest_field(&places, length)
        .and_then(|field| enclosure::added::field_gives_mm([field, sides[0].min(sides[1])], sides, lid, load_kg));
    let angles = Stiffeners {
        places,
        over: how == StiffenersName::Over,
        leg: here.size(PartSize::StiffenerLeg),
        sheet: here.sheet(here.size(PartSize::StiffenerThickness)),
        play: assumed::PLAY + here.build.liner,
        joined: here.fixed_by(here.job.design.added.stiffeners_fixed),
    };
    ruled(here, result, PlacesOf::Stiffeners, &angles.places);
    let went_in = count == 0 || put(here, made, result, angles.group(&here.spec, made));
    if let Some(gives_mm) = gives_mm.filter(|_| went_in) {
        result.lid = Some(LidResult {
            stiffeners: count,
            gives_mm,
            most,
            load_kg,
        });
    }
}

pub(super) fn floor_rails(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let along = match here.job.design.added.floor_rails.unwrap_or(FloorRailsName::None) {
        FloorRailsName::None => return,
        FloorRailsName::Across => 1 - here.long.index(),
        FloorRailsName::Along => here.long.index(),
    };
    let floor = FloorRails::floor(&here.spec);
    let [from, to] = floor[1 - along];
    let own = here.places.of(PlacesOf::FloorRails);
    let places = if own.is_empty() {
        let count = whole(here.figures().sure(Figure::FloorRails));
        places::fields(count, to - from)
            .into_iter()
            .map(|at| from + at)
            .collect()
    } else {
        own
    };
    let rails = FloorRails {
        along,
        places,
        leg: here.size(PartSize::FloorRailLeg),
        sheet: here.sheet(here.size(PartSize::FloorRailThickness)),
        joined: here.fixed_by(here.job.design.added.floor_rails_fixed),
    };
    if !put(here, made, result, rails.group(&here.spec)) {
        return;
    }
    ruled(here, result, PlacesOf::FloorRails, &rails.places);
    let mut lines = rails.places.clone();
    lines.sort_unstable();
    lines.insert(0, from);
    lines.push(to);
    let spans = lines.windows(2).map(|pair| pair[1] - pair[0]);
    let bears = lines.windows(3).map(|three| (three[2] - three[0]).half_down());
    result.floor_rails = Some(FloorRailsResult {
        count: u32::try_from(rails.places.len()).unwrap_or(u32::MAX),
        places: lines[1..lines.len() - 1].to_vec(),
        along: Axis::ALL[along],
        angle: [rails.leg, rails.sheet.thickness],
        span: spans.max().unwrap_or(to - from),
        bears: bears.max().unwrap_or(to - from),
        length: floor[along][1] - floor[along][0],
    });
}

/// The solids that the box has outside beyond its body and rim, but for its brackets: stiffeners over the lid and rails
/// under the floor, coated.
pub(in crate::evaluate) fn outside(made: &Built, steel: &Cuboid, coating: Length) -> Vec<Cuboid> {
    let rim = steel.size()[Axis::Z] + made.above_rim;
    let from = steel.lo();
    made.added
        .iter()
        .filter(|piece| (piece.role == Role::Stiffener && piece.block.hi[2] > rim) || piece.role == Role::FloorRail)
        .map(|piece| Cuboid::between(from + Point(piece.block.lo), from + Point(piece.block.hi)))
        .map(|solid| solid.grown(Faces::all(coating)).unwrap_or(solid))
        .collect()
}
