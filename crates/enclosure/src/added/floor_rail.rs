//! Angles under the floor that keep it from giving.

use tape::Length;

use super::joined::{Joined, Lying, fillet};
use super::{AddedError, Group, Piece, above_zero, apart, around, level, within};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Construction, Part, Role, Sheet, Wall};

/// Pieces of equal angle under the floor from wall to wall, one leg flat against it and the other hanging down.
///
/// In a frame of angle they lie between the legs that are turned in under the floor. With a step they are under the deep
/// floor alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorRails {
    /// The axis they lie along: 0 length, 1 width.
    pub along: usize,
    /// The middle of each on the other level axis, from the inside of the wall.
    pub places: Vec<Length>,
    /// Leg of the angle.
    pub leg: Length,
    /// Material and thickness of the angle.
    pub sheet: Sheet,
    /// How they are held to the floor.
    pub joined: Joined,
}

impl FloorRails {
    /// From where to where the floor that they are under reaches inside the walls, by axis.
    pub fn floor(spec: &BoxSpec) -> [[Length; 2]; 2] {
        let mut floor = [0, 1].map(|axis| [Length::ZERO, spec.inside[axis]]);
        if let Some(step) = spec.step {
            let range = &mut floor[step.axis()];
            if step.is_high() {
                range[1] -= step.run;
            } else {
                range[0] += step.run;
            }
        }
        floor
    }

    /// How far inside the walls the flat underside ends: beyond them below zero.
    fn inset(spec: &BoxSpec) -> Length {
        let wall = spec.wall.thickness;
        match (spec.construction, spec.frame) {
            (Construction::Framed(skeleton), _) => skeleton.leg - skeleton.thickness - skeleton.held.line() - wall,
            // The bend between floor and wall.
            (Construction::Folded(folding), _) => folding.radius,
            (Construction::Welded, Some(frame)) => frame.leg - frame.thickness - wall,
            (Construction::Welded, None) => -wall,
        }
    }

    /// From where to where they and the places they may have reach, along themselves and across; at a riser they end
    /// inside it.
    fn free(&self, spec: &BoxSpec) -> [[Length; 2]; 2] {
        let inset = Self::inset(spec);
        let floor = Self::floor(spec);
        [self.along, 1 - self.along].map(|axis| {
            let [lo, hi] = floor[axis];
            let at_riser = |high: bool| {
                spec.step
                    .is_some_and(|step| step.axis() == axis && step.is_high() == high)
            };
            let end = |high: bool| if at_riser(high) { inset.max(Length::ZERO) } else { inset };
            [lo + end(false), hi - end(true)]
        })
    }

    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for an angle without size, one beyond the flat of the floor or on another.
    pub fn group(&self, spec: &BoxSpec) -> Result<Group, AddedError> {
        let t = self.sheet.thickness;
        above_zero("floor rails, thickness", t)?;
        let range = [t + Length::from_nm(1), super::MOST];
        within("floor rails, leg", self.leg, range, "take a wider angle")?;
        let [along, across] = self.free(spec);
        let half = self.leg.half_down();
        let room = [across[0] + half, across[1] - (self.leg - half)];
        for &place in &self.places {
            within(
                "floor rails, place",
                place,
                room,
                "they lie under the flat of the floor; in a frame between its feet",
            )?;
        }
        let what = "floor rails, from the middle of one to the next";
        apart(what, &self.places, self.leg)?;
        let length = along[1] - along[0];
        above_zero("floor rails, length", length)?;
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let under = -spec.floor.thickness;
        let mut pieces = Vec::new();
        for &place in &self.places {
            let lies = around(place, self.leg);
            let legs = [
                (lies, [under - t, under], 2),
                ([lies[0], lies[0] + t], [under - self.leg, under - t], 1 - self.along),
            ];
            pieces.extend(legs.map(|(across, up, thin)| Piece {
                part: 0,
                role: Role::FloorRail,
                block: level(self.along, along, across, up),
                thin,
            }));
        }
        let mut group = Group {
            parts: vec![Part::angle(Role::FloorRail, count, self.sheet, [length, self.leg])],
            pieces,
            coat_area: length * (self.leg * 4) * i64::from(count),
            ..Group::default()
        };
        let seam = fillet(
            spec,
            (Role::FloorRail, t),
            (Wall::Floor, Side::Outside),
            (At::FloorRail, Form::Lap, "along both edges of the flat leg"),
            (length, 2),
        );
        let starts: Vec<Length> = self.places.iter().map(|&place| around(place, self.leg)[0]).collect();
        let lying = Lying {
            wall: Wall::Floor,
            side: Side::Outside,
            along: (self.along, along),
            starts: &starts,
            line: t + (self.leg - t).half_down(),
            flat: self.leg - t,
        };
        self.joined.hold(&mut group, spec, &lying, seam)?;
        Ok(group)
    }
}
