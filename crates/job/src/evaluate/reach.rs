//! Whether the lid comes off with the box in its place: room for a tool over every screw, and for fingers at its nut.
//!
//! How high a tool is and what fingers need is common practice, known by: memory.

use enclosure::strength::bolt::{BOLTS, Bolt};
use enclosure::{Built, HolePattern, Wall, WallHole};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::boxes::BoxResult;
use super::cavity::CavityResult;
use crate::assumed::Build;
use crate::document::{CapHeldName, Closing};

/// Socket and ratchet over a screw head.
const TOOL: Length = Length::mm(60);
/// What a hand with a spanner needs beside the flange to get at the nuts under it.
const FINGERS: Length = Length::mm(50);

/// What is in the way of the lid's screws.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LidReach {
    /// What closes it: `screws`, `toggle clamps`.
    pub what: &'static str,
    /// What has to get where: `a spanner over`, `a driver beside`, `a hand beside`.
    pub tool: &'static str,
    /// Whether that comes from above, as to the screws of a flat lid; what holds a cap is beside it.
    pub from_above: bool,
    /// Screws or clamps of the lid.
    pub screws: u32,
    /// What stands where a tool has to go at a screw, and at how many.
    pub over: Vec<(String, u32)>,
    /// The sides of the flange beside which there is too little for fingers, with what there is for sure.
    pub beside: Vec<(Face, Length)>,
}

impl LidReach {
    /// What socket and ratchet take over a screw head.
    pub const fn tool() -> Length {
        TOOL
    }

    /// What fingers need beside the flange.
    pub const fn fingers() -> Length {
        FINGERS
    }
}

/// The smallest spanner head that goes over this thread; twice the thread beyond the list.
pub(super) fn ring(thread: Length) -> Length {
    let fits = |bolt: &&Bolt| bolt.diameter >= thread;
    BOLTS
        .iter()
        .filter(fits)
        .map(|bolt| bolt.ring_head)
        .min()
        .unwrap_or(thread * 2)
}

/// What is in the way of each box's lid screws; `None` where no lid is screwed.
pub(super) fn of(boxes: &[BoxResult], cavities: &[CavityResult], build: &Build) -> Vec<Option<LidReach>> {
    let across = ring(build.screw);
    let (what, tool) = match (build.closing, build.cap_held) {
        (Closing::Cap, CapHeldName::Toggles) => ("toggle clamps", "a hand beside"),
        (Closing::Cap, _) => ("screws", "a driver beside"),
        _ => ("screws", "a spanner over"),
    };
    let one = |battery_box: &BoxResult| {
        let cavity = cavities.iter().find(|c| c.id == battery_box.cavity)?;
        let over = tools(battery_box, across);
        let from_above = over.is_some();
        let tools = over.or_else(|| beside(battery_box, build, across))?;
        let others = boxes
            .iter()
            .filter(|b| b.cavity == battery_box.cavity && b.id != battery_box.id);
        let mut solids: Vec<(&str, &Cuboid)> = others
            .flat_map(|b| b.solids.iter().map(move |solid| (b.name.as_str(), solid)))
            .collect();
        let keep_outs = cavity.keep_outs.iter().filter(|k| k.counts);
        solids.extend(keep_outs.map(|k| (k.name.as_str(), &k.cuboid)));
        let mut over: Vec<(String, u32)> = Vec::new();
        for tool in &tools {
            let meets = solids.iter().find(|(_, solid)| tool.overlaps(solid));
            let space = cavity.usable.as_ref();
            let wall = || beyond(space?, tool).map(|face| format!("{} wall of the cavity", face.name()));
            if let Some(name) = meets.map(|(name, _)| (*name).to_owned()).or_else(wall) {
                match over.iter_mut().find(|(known, _)| *known == name) {
                    Some((_, count)) => *count += 1,
                    None => over.push((name, 1)),
                }
            }
        }
        let sides = [Face::Front, Face::Rear, Face::Left, Face::Right];
        let beside = battery_box.around.iter().flat_map(|around| {
            let room = |face: Face| (face, around.faces[face.index()].sure());
            let tight = move |(_, room): &(Face, Length)| from_above && *room < FINGERS;
            sides.map(room).into_iter().filter(tight)
        });
        Some(LidReach {
            what,
            tool,
            from_above,
            screws: u32::try_from(tools.len()).unwrap_or(u32::MAX),
            over,
            beside: beside.collect(),
        })
    };
    boxes.iter().map(one).collect()
}

/// The wall that a tool reaches into on a level axis: above, a cavity is open once the bed is off.
pub(super) fn beyond(space: &Cuboid, tool: &Cuboid) -> Option<Face> {
    let is_beyond = |face: &Face| {
        let [own, wall] = [tool, space].map(|cuboid| cuboid.face(*face));
        if face.is_high() { own > wall } else { own < wall }
    };
    [Face::Front, Face::Rear, Face::Left, Face::Right]
        .into_iter()
        .find(is_beyond)
}

/// The room that a driver takes beside each screw of a cap, or a hand beside each clamp; `None` where neither holds it.
fn beside(battery_box: &BoxResult, build: &Build, across: Length) -> Option<Vec<Cuboid>> {
    let (outside, made) = (battery_box.body.as_ref()?, battery_box.built.as_ref()?);
    let skirt = made.rims.first()?.out;
    let (places, out, reach) = match build.cap_held {
        CapHeldName::Screws if build.closing == Closing::Cap => (&made.side_screws, build.screw_head, TOOL),
        CapHeldName::Toggles if build.closing == Closing::Cap => (&made.clamps, build.toggle_out, FINGERS),
        _ => return None,
    };
    let inside = [made.beside, made.beside, made.under];
    let half = across.half_down();
    let tool = |hole: &WallHole| {
        // The hole, from the body's own corner.
        let (along_axis, out_axis) = match hole.wall {
            Wall::Front | Wall::Rear => (Axis::Y, Axis::X),
            _ => (Axis::X, Axis::Y),
        };
        let mut lo = outside.lo();
        lo[along_axis] += inside[along_axis.index()] + hole.along;
        lo[Axis::Z] += inside[2] + hole.up;
        let mut hi = lo;
        for axis in [along_axis, Axis::Z] {
            lo[axis] -= half;
            hi[axis] += half;
        }
        if matches!(hole.wall, Wall::Rear | Wall::Right) {
            lo[out_axis] = outside.hi()[out_axis] + skirt + out;
            hi[out_axis] = lo[out_axis] + reach;
        } else {
            hi[out_axis] = outside.lo()[out_axis] - skirt - out;
            lo[out_axis] = hi[out_axis] - reach;
        }
        Cuboid::between(lo, hi)
    };
    Some(places.iter().map(tool).collect())
}

/// The room that a tool takes over each screw of the lid of a box by itself; none where no lid is screwed. `steel` is the
/// space inside the sheet.
pub(super) fn over_screws(made: &Built, steel: &Cuboid, screw: Length) -> Vec<Cuboid> {
    let top = steel.hi()[Axis::Z] + made.above_rim;
    let pattern = made.lid_holes.as_ref();
    pattern.map_or_else(Vec::new, |pattern| over(pattern, steel, top, ring(screw)))
}

/// The room that a tool takes over each screw of the lid.
fn tools(battery_box: &BoxResult, across: Length) -> Option<Vec<Cuboid>> {
    let body = battery_box.body.as_ref()?;
    let pattern = battery_box.built.as_ref()?.lid_holes.as_ref()?;
    Some(over(pattern, body, body.hi()[Axis::Z], across))
}

/// The room over each hole of a pattern in the middle of a body, from its top.
fn over(pattern: &HolePattern, body: &Cuboid, top: Length, across: Length) -> Vec<Cuboid> {
    let size = body.size();
    let (long, short) = if size[Axis::Y] > size[Axis::X] {
        (Axis::Y, Axis::X)
    } else {
        (Axis::X, Axis::Y)
    };
    let middle = |axis: Axis| (body.lo()[axis] + body.hi()[axis]).half_down();
    let around = |[along, sideways]: [Length; 2]| {
        let mut at = Point([Length::ZERO; 3]);
        at[long] = middle(long) - pattern.line_length.half_down() + along;
        at[short] = middle(short) - pattern.line_width.half_down() + sideways;
        at[Axis::Z] = top;
        room_over(at, across, TOOL)
    };
    pattern.places().map(around).collect()
}

/// The room as wide as a tool, this high over a place.
pub(super) fn room_over(at: Point, across: Length, high: Length) -> Cuboid {
    let half = across.half_down();
    let (mut lo, mut hi) = (at, at);
    for axis in [Axis::X, Axis::Y] {
        lo[axis] -= half;
        hi[axis] += half;
    }
    hi[Axis::Z] += high;
    Cuboid::between(lo, hi)
}
