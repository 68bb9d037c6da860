//! Fittings in the walls of a box: their holes, and the space they take outside and inside.

use enclosure::{BoxSpec, Purpose, Wall, WallHole};
use geometry::{Axis, Cuboid, Face, Point, Size};
use tape::Length;

use super::boxes::ModuleResult;
use crate::Id;
use crate::document::{BatteryBox, FittingName, FittingSizes, WallFitting};

/// A fitting in its place, in the cavity's frame.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FittingResult {
    /// Its number.
    pub id: Id,
    /// What it is.
    pub what: FittingName,
    /// What it is called: what it is, and where.
    pub label: String,
    /// The wall it is in.
    pub wall: Face,
    /// Its hole.
    pub hole: Length,
    /// Across its body.
    pub across: Length,
    /// What stands out from the coated wall; `None` when nothing does.
    pub outside: Option<Cuboid>,
    /// What reaches in from the liner; `None` when nothing does.
    pub inside: Option<Cuboid>,
    /// Why its hole cannot be made; it then takes no part in anything.
    pub fault: Option<String>,
    /// Modules and stacks that it meets inside, by name.
    pub meets: Vec<String>,
}

pub(super) const fn wall_of(face: Face) -> Wall {
    match face {
        Face::Front => Wall::Front,
        Face::Rear => Wall::Rear,
        Face::Left => Wall::Left,
        Face::Right => Wall::Right,
        Face::Bottom => Wall::Floor,
        Face::Top => Wall::Lid,
    }
}

const fn purpose(what: FittingName) -> Purpose {
    match what {
        FittingName::Gland => Purpose::CableGland,
        FittingName::Breather => Purpose::Breather,
        FittingName::Drain => Purpose::Drain,
        FittingName::Disconnect => Purpose::Disconnect,
        FittingName::LiftingEye => Purpose::LiftingEye,
    }
}

/// Its hole through the sheet.
pub(super) fn hole_of(fitting: &WallFitting) -> WallHole {
    WallHole {
        wall: wall_of(fitting.wall.face()),
        along: fitting.along.value(),
        up: fitting.up.value(),
        diameter: fitting.sizes().hole,
        purpose: purpose(fitting.what),
    }
}

/// The holes that can be made, and of every fitting why its own can't, if it can't.
pub(super) fn holes(spec: &BoxSpec, told: &BatteryBox) -> (Vec<WallHole>, Vec<Option<String>>) {
    let mut made = Vec::new();
    let mut faults = Vec::new();
    for hole in told.fittings.iter().map(hole_of) {
        let checked = spec.check_hole(&hole, &made);
        faults.push(checked.as_ref().err().map(ToString::to_string));
        made.extend(checked.is_ok().then_some(hole));
    }
    (made, faults)
}

/// Where the fittings are, and which modules they meet. `steel` is the space within the sheet, `liner` the one within the liner, `coated` the outside.
pub(super) fn placed(
    told: &BatteryBox,
    faults: Vec<Option<String>>,
    steel: &Cuboid,
    liner: &Cuboid,
    coated: &Cuboid,
    modules: &[ModuleResult],
) -> Vec<FittingResult> {
    let place = |(fitting, fault): (&WallFitting, Option<String>)| {
        let sizes = fitting.sizes();
        let wall = fitting.wall.face();
        let space = |from: &Cuboid, outward| {
            let deep = if outward {
                sizes.out
            } else {
                reach(steel, liner, wall, &sizes)
            };
            (fault.is_none() && deep > Length::ZERO).then(|| block(fitting, &sizes, steel, from, outward, deep))
        };
        let inside = space(liner, false);
        let meets = |module: &&ModuleResult| inside.is_some_and(|space| space.overlaps(&module.cuboid));
        FittingResult {
            id: fitting.id,
            what: fitting.what,
            label: format!("{}, {}", fitting.what.name(), wall_of(wall).name()),
            wall,
            hole: sizes.hole,
            across: sizes.across,
            outside: space(coated, true),
            inside,
            meets: modules.iter().filter(meets).map(|m| m.label.clone()).collect(),
            fault,
        }
    };
    told.fittings.iter().zip(faults).map(place).collect()
}

/// How far it reaches in beyond the liner.
fn reach(steel: &Cuboid, liner: &Cuboid, wall: Face, sizes: &FittingSizes) -> Length {
    sizes.inward - (at_face(steel, wall) - at_face(liner, wall)).abs()
}

fn at_face(cuboid: &Cuboid, face: Face) -> Length {
    if face.is_high() {
        cuboid.hi()[face.axis()]
    } else {
        cuboid.lo()[face.axis()]
    }
}

/// The block as wide as the body, `deep` out from the wall of `from`, or in from it.
fn block(
    fitting: &WallFitting,
    sizes: &FittingSizes,
    steel: &Cuboid,
    from: &Cuboid,
    outward: bool,
    deep: Length,
) -> Cuboid {
    let wall = fitting.wall.face();
    let through = wall.axis();
    let [first, second] = match through {
        Axis::X => [Axis::Y, Axis::Z],
        Axis::Y => [Axis::X, Axis::Z],
        Axis::Z => [Axis::X, Axis::Y],
    };
    let mut lo = Point::ZERO;
    let mut size = [Length::ZERO; 3];
    for (axis, at) in [(first, fitting.along.value()), (second, fitting.up.value())] {
        lo[axis] = steel.lo()[axis] + at - sizes.across.half_down();
        size[axis.index()] = sizes.across;
    }
    let face = at_face(from, wall);
    lo[through] = if wall.is_high() == outward { face } else { face - deep };
    size[through.index()] = deep;
    Cuboid::at(lo, Size(size))
}
