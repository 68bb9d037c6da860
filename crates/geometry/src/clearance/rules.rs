//! What must not be: overlaps, things outside, blocked service space; and the distance that margins are judged by.

use tape::Length;

use super::sweep::Row;
use super::{Neighbour, Scene};
use crate::{Cuboid, Face};

/// Every two things that overlap, the lower number first, each pair once, sorted. Touching is no overlap.
pub fn overlaps(scene: &Scene<'_>) -> Vec<(usize, usize)> {
    let row = Row::new(scene);
    let mut pairs = Vec::new();
    for (place, solid) in row.solids.iter().enumerate() {
        let end = solid.cuboid.hi()[row.axis];
        let beside = row.solids[place + 1..]
            .iter()
            .take_while(|other| other.cuboid.lo()[row.axis] < end);
        pairs.extend(
            beside
                .filter(|other| other.thing != solid.thing && other.cuboid.overlaps(&solid.cuboid))
                .map(|other| (solid.thing.min(other.thing), solid.thing.max(other.thing))),
        );
    }
    pairs.sort_unstable();
    pairs.dedup();
    pairs
}

/// The things that stick out of the space, each once, sorted. Touching a wall from inside is within.
pub fn outside(scene: &Scene<'_>) -> Vec<usize> {
    let out = scene.solids.iter().filter(|solid| !scene.space.contains(&solid.cuboid));
    let mut things: Vec<usize> = out.map(|solid| solid.thing).collect();
    things.sort_unstable();
    things.dedup();
    things
}

/// The distance between two things made of cuboids that a margin or a gap is compared with: the least
/// [`Cuboid::separation`] of any two. Negative when they overlap; the largest length there is when either is empty.
pub fn separation(a: &[Cuboid], b: &[Cuboid]) -> Length {
    a.iter()
        .flat_map(|one| b.iter().map(|other| one.separation(other)))
        .min()
        .unwrap_or(Length::from_nm(i64::MAX))
}

/// The service spaces that are not free: each with its owner's number and what is in it, sorted, without repeats.
///
/// `service` is the room in front of a terminal face, with the number of the thing it belongs to. Rooms may overlap
/// each other and their owner's own solids, but no solid of another thing, and they may not reach out of the space.
pub fn blocked_service(scene: &Scene<'_>, service: &[(usize, Cuboid)]) -> Vec<(usize, Neighbour)> {
    let mut blocked = Vec::new();
    for &(owner, room) in service {
        let walls = Face::ALL
            .into_iter()
            .filter(|&face| sticks_out(&scene.space, &room, face));
        blocked.extend(walls.map(|face| (owner, Neighbour::Wall(face))));
        let solids = scene
            .solids
            .iter()
            .filter(|solid| solid.thing != owner && solid.cuboid.overlaps(&room));
        blocked.extend(solids.map(|solid| (owner, Neighbour::Thing(solid.thing))));
    }
    blocked.sort_unstable();
    blocked.dedup();
    blocked
}

fn sticks_out(space: &Cuboid, room: &Cuboid, face: Face) -> bool {
    if face.is_high() {
        room.face(face) > space.face(face)
    } else {
        room.face(face) < space.face(face)
    }
}
