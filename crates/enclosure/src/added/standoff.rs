//! Strips on the floor that modules stand on.

use tape::Length;

use super::joined::{Joined, Lying, fillet};
use super::{AddedError, Group, Piece, above_zero, apart, around, level, within};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Part, Role, Sheet, Wall};

/// Strips of flat bar, lying on the floor from side to side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standoffs {
    /// The axis they lie along: 0 length, 1 width.
    pub along: usize,
    /// The middle of each, on the other level axis.
    pub places: Vec<Length>,
    /// Width of the bar.
    pub width: Length,
    /// What is left free at each end: the liner of the walls.
    pub ends: Length,
    /// Material, and thickness: how high modules stand.
    pub sheet: Sheet,
    /// How they are held to the floor.
    pub joined: Joined,
}

impl Standoffs {
    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for strips without size, outside the box or over each other.
    pub fn group(&self, spec: &BoxSpec) -> Result<Group, AddedError> {
        above_zero("standoffs, height", self.sheet.thickness)?;
        above_zero("standoffs, width", self.width)?;
        let across = 1 - self.along;
        let length = spec.inside[self.along] - self.ends * 2;
        above_zero("standoffs, length", length)?;
        let half = self.width.half_down();
        let room = [half, spec.inside[across] - (self.width - half)];
        for &place in &self.places {
            within("standoffs, place", place, room, "they lie inside the box")?;
        }
        apart("standoffs, from one to the next", &self.places, self.width)?;
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let piece = |&place: &Length| Piece {
            part: 0,
            role: Role::Standoff,
            block: level(
                self.along,
                [self.ends, self.ends + length],
                around(place, self.width),
                [Length::ZERO, self.sheet.thickness],
            ),
            thin: 2,
        };
        let mut group = Group {
            pieces: self.places.iter().map(piece).collect(),
            parts: vec![Part::bar(Role::Standoff, count, self.sheet, [length, self.width])],
            ..Group::default()
        };
        let along = fillet(
            spec,
            (Role::Standoff, self.sheet.thickness),
            (Wall::Floor, Side::Inside),
            (At::Standoff, Form::Lap, "along both edges"),
            (length, 2),
        );
        let starts: Vec<Length> = self.places.iter().map(|&place| around(place, self.width)[0]).collect();
        let lying = Lying {
            wall: Wall::Floor,
            side: Side::Inside,
            along: (self.along, [self.ends, self.ends + length]),
            starts: &starts,
            line: self.width.half_down(),
            flat: self.width,
        };
        self.joined.hold(&mut group, spec, &lying, along)?;
        Ok(group)
    }
}
