//! Sharing out the room that a layout leaves.
//!
//! [`spread`] keeps the arrangement and moves things so that the smallest clearance, beyond what is asked, is as large
//! as it can be, and tells the [`Chain`] of things that limits it. It is exact, in whole nanometres.
//!
//! **What counts.** Every two things that must stay apart have a clearance: what is between them along one axis, less
//! what is asked. It is taken along the axis that leaves most of it. Counted are the clearances of boxes to walls,
//! keep-outs and other boxes, and of modules to the modules they share a box with; when bare, of modules to all of
//! these. What a box asks for inside it (fit, room, service, bay) is kept exactly and does not count.
//!
//! **How.** With the axis and the order settled for every two things, the axes do not disturb each other, and along
//! each the best places are those of a system of difference constraints (`system`). Then the ways are settled anew from
//! the places found (`ways`), until nothing gets better. With the ways settled the result is the best there is; a
//! quite different arrangement may be better still, and is what [`crate::fit`] looks for.

mod build;
mod chain;
mod scene;
mod system;
mod ways;

pub use chain::{Chain, Link};

use crate::Face;
use crate::fit::{Layout, Request, check};
use scene::{Moved, Scene};
use system::{Limit, settle, settle_least};
use tape::Length;
use ways::Ways;

/// The most times that the ways are settled anew.
const MOST_ROUNDS: usize = 24;

/// What moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Move {
    /// Each box as it is, with everything in it; what is inside is not looked at. Bare modules move one by one.
    Boxes,
    /// Modules too, and each box is made as large as its modules then need. A box that would get too heavy moves as
    /// one.
    Everything,
}

/// Something that has a clearance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Thing {
    /// A wall of a cavity.
    Wall {
        /// Index of the cavity.
        cavity: usize,
        /// Which wall.
        face: Face,
    },
    /// A keep-out of a cavity.
    KeepOut {
        /// Index of the cavity.
        cavity: usize,
        /// Index of the keep-out in it.
        index: usize,
    },
    /// A box of the layout, by its index.
    Box(usize),
    /// A module or a stack of the layout, by the index of its placement.
    Placement(usize),
}

/// A layout with its room shared out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spread {
    /// The layout. It keeps every rule when `least` is not negative (with [`Move::Boxes`]: if it does so inside the
    /// boxes).
    pub layout: Layout,
    /// The smallest clearance beyond what is asked; negative when there is not enough room. Zero for an empty layout.
    pub least: Length,
    /// The same before.
    pub before: Length,
    /// What limits it; `None` for an empty layout.
    pub chain: Option<Chain>,
}

/// A layout that does not belong to the request.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SpreadError {
    /// A placement names a cavity, a kind or a box that is not there.
    #[error("placement {0} names a cavity, a kind or a box that the request does not have")]
    Placement(usize),
    /// Nothing is in a box.
    #[error("box {0} has nothing in it")]
    EmptyBox(usize),
    /// Fewer placements than are pinned.
    #[error("the layout does not start with the {0} pinned modules of the request")]
    Pinned(usize),
}

/// Moves what `how` says so that the smallest clearance beyond what is asked is as large as it can be, then the next
/// smallest among what is still free, and so on; what is free then goes to the middle. The pinned stay.
///
/// # Errors
///
/// [`SpreadError`] when the layout does not belong to the request. That it breaks its rules is no error: spreading may
/// mend it.
pub fn spread(request: &Request, layout: &Layout, how: Move) -> Result<Spread, SpreadError> {
    let mut as_one = vec![false; layout.boxes.len()];
    loop {
        let spread = spread_with(request, layout, how, &as_one)?;
        let heavy = too_heavy(request, &spread.layout);
        let found = (0..as_one.len()).find(|&index| heavy[index] && !as_one[index] && how == Move::Everything);
        match found {
            Some(index) => as_one[index] = true,
            None => return Ok(spread),
        }
    }
}

fn spread_with(request: &Request, layout: &Layout, how: Move, as_one: &[bool]) -> Result<Spread, SpreadError> {
    let scene = Scene::new(request, layout, how, as_one)?;
    let floors = scene.floors();
    let free = vec![None; scene.nodes as usize];
    let mut moved = scene.at_rest();
    let mut ways = Ways::of(&scene, &moved);
    let mut quality = ways.quality(&moved);
    let before = ways.least;
    let mut limit: Option<(usize, Limit)> = None;
    for _ in 0..MOST_ROUNDS {
        let mut next: [Moved; 3] = Default::default();
        limit = None;
        for (k, ties) in ways.ties.iter().enumerate() {
            let settled = settle(scene.nodes, ties, if k == 2 { &floors } else { &free });
            next[k] = settled.moved;
            if let Some(new) = settled.limit
                && limit.as_ref().is_none_or(|(_, old)| new.over < old.over)
            {
                limit = Some((k, new));
            }
        }
        scene.draw_in(&mut next);
        if next == moved {
            break;
        }
        let next_ways = Ways::of(&scene, &next);
        let next_quality = next_ways.quality(&next);
        if next_quality <= quality {
            break;
        }
        (moved, ways, quality) = (next, next_ways, next_quality);
    }
    Ok(Spread {
        layout: scene.layout(&moved),
        least: Length::from_nm(ways.least.unwrap_or(0)),
        before: Length::from_nm(before.unwrap_or(0)),
        chain: limit.map(|(axis, limit)| Chain::of(&scene, axis, &limit)),
    })
}

/// The layout as the request now has it, moved just enough that it keeps every rule: modules of the size the request
/// gives them, boxes as large as those need. `None` when spreading does not mend it.
pub(crate) fn mended(request: &Request, layout: &Layout, how: Move) -> Option<Layout> {
    let layout = build::rebuilt(request, layout).ok()?;
    let keeps = |layout: &Layout| check(request, layout).is_ok();
    if keeps(&layout) {
        return Some(layout);
    }
    let scene = Scene::new(request, &layout, how, &vec![false; layout.boxes.len()]).ok()?;
    let mut moved = scene.at_rest();
    let mut ways = Ways::of(&scene, &moved);
    while ways.least < Some(0) {
        let mut next: [Moved; 3] = std::array::from_fn(|k| settle_least(scene.nodes, &ways.ties[k]).moved);
        scene.draw_in(&mut next);
        let next_ways = Ways::of(&scene, &next);
        if next_ways.least <= ways.least {
            return None;
        }
        (moved, ways) = (next, next_ways);
    }
    Some(scene.layout(&moved)).filter(keeps)
}

/// The layout as the request now has it, where it is.
pub(crate) fn as_it_stands(request: &Request, layout: &Layout) -> Option<Layout> {
    build::rebuilt(request, layout)
        .ok()
        .filter(|layout| check(request, layout).is_ok())
}

/// Which boxes are over the request's limit of mass.
fn too_heavy(request: &Request, layout: &Layout) -> Vec<bool> {
    let limit = request.boxes.as_ref().and_then(|rule| rule.most_g);
    let heavy = |(index, place): (usize, &crate::fit::BoxPlace)| {
        let mine = layout.placements.iter().filter(|p| p.in_box == Some(index));
        let modules: i64 = mine.map(|p| request.kinds[p.kind].mass_g * i64::from(p.count)).sum();
        limit.is_some_and(|most| modules + most.shell_g(place.body.size()) > most.limit_g)
    };
    layout.boxes.iter().enumerate().map(heavy).collect()
}
