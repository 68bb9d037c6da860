//! The step in a box's underside: what it takes off the outside and off the inside.

use enclosure::Step;
use geometry::{Axis, Cuboid, Face, Point};

use super::BoxResult;
use super::fitting::wall_of;
use crate::document;

/// The step as told, as the box is built with it.
pub(super) fn told(step: &document::BoxStep) -> Step {
    Step {
        at: wall_of(step.at.face()),
        run: step.run.value(),
        rise: step.rise.value(),
    }
}

/// The block that a space of a stepped box lacks: the outside of its body, or the space inside its steel or liner.
pub(crate) fn lacking(step: &Step, space: &Cuboid) -> Cuboid {
    let [lo, hi] = step.block(space.size().0).map(Point);
    Cuboid::between(space.lo() + lo, space.lo() + hi)
}

/// What is there of a space that lacks that block: its part at full depth, then its upper part over the whole length.
pub(crate) fn parts(step: Option<&Step>, space: &Cuboid) -> Vec<Cuboid> {
    let Some(step) = step else { return vec![*space] };
    let block = lacking(step, space);
    let axis = if step.axis() == 0 { Axis::X } else { Axis::Y };
    let (mut deep_lo, mut deep_hi) = (space.lo(), space.hi());
    if step.is_high() {
        deep_hi[axis] = block.lo()[axis];
    } else {
        deep_lo[axis] = block.hi()[axis];
    }
    let mut upper_lo = space.lo();
    upper_lo[Axis::Z] = block.hi()[Axis::Z];
    vec![Cuboid::between(deep_lo, deep_hi), Cuboid::between(upper_lo, space.hi())]
}

/// The face of a box that a wall is; `None` of a riser.
pub(super) const fn face_of(wall: enclosure::Wall) -> Option<Face> {
    match wall {
        enclosure::Wall::Front => Some(Face::Front),
        enclosure::Wall::Rear => Some(Face::Rear),
        enclosure::Wall::Left => Some(Face::Left),
        enclosure::Wall::Right => Some(Face::Right),
        enclosure::Wall::Floor => Some(Face::Bottom),
        enclosure::Wall::Lid => Some(Face::Top),
        enclosure::Wall::Riser => None,
    }
}

impl BoxResult {
    /// The block inside the liner where the step of the underside is: no module can stand there.
    pub fn step_inside(&self) -> Option<Cuboid> {
        Some(lacking(self.step.as_ref()?, self.inside.as_ref()?))
    }

    /// The block under the step, which the body leaves free, before coating.
    pub fn step_under(&self) -> Option<Cuboid> {
        Some(lacking(self.step.as_ref()?, self.body.as_ref()?))
    }

    /// The body as solids, before coating: two where its underside has a step, the one at full depth first.
    pub fn body_solids(&self) -> Vec<Cuboid> {
        self.body
            .as_ref()
            .map_or_else(Vec::new, |body| parts(self.step.as_ref(), body))
    }

    /// The wall at which the step is.
    pub fn step_wall(&self) -> Option<Face> {
        self.step.and_then(|step| face_of(step.at))
    }
}
