//! How far the brackets of a box end from what stands before them.

use geometry::{Axis, Cuboid, Face};
use tape::Length;

use super::super::Near;
use super::super::boxes::{BoxResult, wall_name};

/// How far the brackets at a wall end from what stands before them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BracketSeat {
    /// The wall of the box.
    pub face: Face,
    /// From the far face of the brackets to what is before them; below zero when they reach into it.
    pub gap: Length,
    /// What that is.
    pub near: Near,
    /// Its name.
    pub to: String,
}

/// Something that brackets may end before: a keep-out or a solid of another box.
pub(in crate::evaluate) struct Before {
    cuboid: Cuboid,
    near: Near,
    name: String,
}

impl Before {
    pub(in crate::evaluate) fn of(cuboid: Cuboid, near: Near, name: &str) -> Self {
        let name = name.to_owned();
        Self { cuboid, near, name }
    }
}

/// How far brackets at each wall end from what is before them: a wall of the cavity, a keep-out or another box.
pub(in crate::evaluate) fn seats(result: &BoxResult, space: Cuboid, things: &[Before]) -> Vec<BracketSeat> {
    let Some(body) = result.body else { return Vec::new() };
    let mut seats = Vec::new();
    for face in Face::ALL.into_iter().filter(|face| face.axis() != Axis::Z) {
        let at: Vec<Cuboid> = result
            .added
            .brackets
            .iter()
            .copied()
            .filter(|solid| {
                if face.is_high() {
                    solid.face(face) > body.face(face)
                } else {
                    solid.face(face) < body.face(face)
                }
            })
            .collect();
        let Some(far) = at.iter().copied().reduce(|a, b| a.hull(&b)) else {
            continue;
        };
        let out = |to: Length| {
            if face.is_high() {
                to - far.face(face)
            } else {
                far.face(face) - to
            }
        };
        let wall = (out(space.face(face)), Near::Wall(face), wall_name(face).to_owned());
        let before = |thing: &&Before| {
            let others = Axis::ALL.into_iter().filter(|&axis| axis != face.axis());
            let beyond = out(thing.cuboid.face(face)) > Length::ZERO;
            beyond
                && at.iter().any(|solid| {
                    others
                        .clone()
                        .all(|axis| solid.gap_along(&thing.cuboid, axis) < Length::ZERO)
                })
        };
        let things = things
            .iter()
            .filter(before)
            .map(|thing| (out(thing.cuboid.face(face.opposite())), thing.near, thing.name.clone()));
        let nearest = things.fold(wall, |best, one| if one.0 < best.0 { one } else { best });
        seats.push(BracketSeat {
            face,
            gap: nearest.0,
            near: nearest.1,
            to: nearest.2,
        });
    }
    seats
}

/// Whether the brackets of a box are on this face.
pub(crate) fn is_seat(result: &BoxResult, face: Face) -> bool {
    result.added.seats.iter().any(|seat| seat.face == face)
}
