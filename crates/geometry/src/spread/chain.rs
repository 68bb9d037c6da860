//! The chain of things that limits a spread, told in order.

use super::Thing;
use super::scene::{Scene, Tie};
use super::system::Limit;
use crate::Axis;
use tape::Length;

/// One thing in a chain, and the distance asked for from it to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// The thing.
    pub thing: Thing,
    /// What it takes along the axis; zero for the walls at the ends and for a box that the chain goes into.
    pub extent: Length,
    /// The distance asked for from it to the next; zero for the last.
    pub asked: Length,
    /// Whether there is a clearance to the next that shares what is over; `false` for what is exactly as asked inside
    /// a box, and for the last.
    pub space: bool,
}

/// What limits the smallest clearance: things one behind the other along an axis between two that do not move.
///
/// The length between the first and the last is the extents, what is asked between them, and what is over; that is
/// shared by the spaces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain {
    /// The axis that it goes along.
    pub along: Axis,
    /// The things in order, from low to high.
    pub links: Vec<Link>,
    /// From the first thing to the last.
    pub length: Length,
    /// What is over in all, beyond what the things take and ask for; negative when it is too little.
    pub over: Length,
    /// How many clearances share it.
    pub spaces: u32,
}

impl Chain {
    pub(super) fn of(scene: &Scene, axis: usize, limit: &Limit) -> Self {
        let ties = &limit.ties;
        let mut links = Vec::new();
        for (index, tie) in ties.iter().enumerate() {
            let own = scene.things[tie.between[0] as usize];
            match index.checked_sub(1).map(|before| &ties[before]) {
                None => links.push(link(own, 0, tie.asked, tie.counts)),
                Some(before) => between(scene, axis, before, tie, &mut links),
            }
        }
        let last = ties.last().map(|tie| scene.things[tie.between[1] as usize]);
        links.extend(last.map(|thing| link(thing, 0, 0, false)));
        let spaces = links.iter().map(|link| u32::from(link.space)).sum();
        let taken: Length = links.iter().map(|link| link.extent + link.asked).sum();
        let length = match (ties.first(), ties.last()) {
            (Some(first), Some(last)) => Length::from_nm(last.to.at - first.from.at),
            _ => Length::ZERO,
        };
        Self {
            along: Axis::ALL[axis],
            links,
            length,
            over: length - taken,
            spaces,
        }
    }
}

/// What stands between two ties: one thing, or a box and the module that its face goes with.
fn between(scene: &Scene, axis: usize, before: &Tie, tie: &Tie, links: &mut Vec<Link>) {
    let (entered, left) = (before.between[1], tie.between[0]);
    let through = tie.from.at - before.to.at;
    let thing = scene.things[left as usize];
    if entered == left {
        links.push(link(thing, through, tie.asked, tie.counts));
    } else {
        let (first, second) = (extent(scene, axis, entered), extent(scene, axis, left));
        links.push(link(
            scene.things[entered as usize],
            first,
            through - first - second,
            false,
        ));
        links.push(link(thing, second, tie.asked, tie.counts));
    }
}

/// What a module takes along the axis; nothing for a box, which is round it.
fn extent(scene: &Scene, axis: usize, thing: u32) -> i64 {
    let is_module = matches!(scene.things[thing as usize], Thing::Placement(_));
    let solid = scene.solids.iter().find(|solid| is_module && solid.thing == thing);
    solid.map_or(0, |solid| solid.hi[axis].at - solid.lo[axis].at)
}

fn link(thing: Thing, extent: i64, asked: i64, space: bool) -> Link {
    Link {
        thing,
        extent: Length::from_nm(extent),
        asked: Length::from_nm(asked),
        space,
    }
}
