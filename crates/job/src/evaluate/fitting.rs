//! Fittings in the walls of a box: their holes, and the space they take outside and inside.

use enclosure::strength::bolt::{BOLTS, Bolt, Pitch};
use enclosure::{BoxSpec, Purpose, Step, Wall, WallHole};
use geometry::fit::Rim;
use geometry::{Axis, Cuboid, Face, Faces, Point, Size};
use tape::{Area, Length};

use super::boxes::ModuleResult;
use crate::Id;
use crate::document::{BatteryBox, FittingName, FittingSizes, WallFitting, WallName};

/// A fitting in its place, in the cavity's frame.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FittingResult {
    /// Its number.
    pub id: Id,
    /// What it is.
    pub what: FittingName,
    /// What it is called: what it is, and where.
    pub label: String,
    /// The wall it is in; of one in the riser of a step the wall that the riser stands before.
    pub wall: Face,
    /// Whether it is in the riser.
    pub in_riser: bool,
    /// Its hole.
    pub hole: Length,
    /// Across its body.
    pub across: Length,
    /// Height of its middle in the cavity's frame; `None` when it is left out.
    pub middle_up: Option<Length>,
    /// Where the middle of its hole is, at the inside of the sheet; `None` when it is left out.
    pub middle: Option<Point>,
    /// What stands out from the coated wall; `None` when nothing does.
    pub outside: Option<Cuboid>,
    /// What reaches in from the liner; `None` when nothing does.
    pub inside: Option<Cuboid>,
    /// Why its hole cannot be made; it then takes no part in anything.
    pub fault: Option<String>,
    /// Modules and stacks that it meets inside, by name.
    pub meets: Vec<String>,
    /// What stands out round the wall where it is (flange, lid, skirt or clamps of a cap, the ring of a frame): its lower and upper
    /// edge over the inside of the floor. `None` where the wall is bare.
    pub at_band: Option<[Length; 2]>,
}

pub(crate) const fn wall_of(face: Face) -> Wall {
    match face {
        Face::Front => Wall::Front,
        Face::Rear => Wall::Rear,
        Face::Left => Wall::Left,
        Face::Right => Wall::Right,
        Face::Bottom => Wall::Floor,
        Face::Top => Wall::Lid,
    }
}

/// The wall of the box that something is let into.
pub(crate) const fn wall_named(wall: WallName) -> Wall {
    match wall.face() {
        Some(face) => wall_of(face),
        None => Wall::Riser,
    }
}

const fn purpose(what: FittingName) -> Purpose {
    match what {
        FittingName::Gland => Purpose::CableGland,
        FittingName::Breather => Purpose::Breather,
        FittingName::Drain => Purpose::Drain,
        FittingName::Disconnect => Purpose::Disconnect,
        FittingName::LiftingEye => Purpose::LiftingEye,
        FittingName::EarthStud => Purpose::EarthStud,
    }
}

/// Its hole through the sheet.
pub(super) fn hole_of(fitting: &WallFitting) -> WallHole {
    WallHole {
        wall: wall_named(fitting.wall),
        along: fitting.along.value(),
        up: fitting.up.value(),
        diameter: fitting.sizes().hole,
        purpose: purpose(fitting.what),
    }
}

/// Why no eye is let into a riser.
const EYE_IN_RISER: &str = "nothing is lifted by the riser of a step; it may be in one of the four walls or in the lid";

/// The holes that can be made, and of every fitting why its own can't, if it can't.
pub(super) fn holes(spec: &BoxSpec, told: &BatteryBox, units: tape::Units) -> (Vec<WallHole>, Vec<Option<String>>) {
    let mut made = Vec::new();
    let mut faults = Vec::new();
    for hole in told.fittings.iter().map(hole_of) {
        let checked = spec.check_hole(&hole, &made).map_err(|fault| fault.words(units));
        let checked = checked.and_then(|()| {
            let pulls_askew = hole.wall == Wall::Riser && hole.purpose == Purpose::LiftingEye;
            (!pulls_askew).then_some(()).ok_or_else(|| EYE_IN_RISER.to_owned())
        });
        made.extend(checked.is_ok().then_some(hole));
        faults.push(checked.err());
    }
    (made, faults)
}

/// The walls that fittings are told from.
pub(super) struct Walls {
    /// The space within the sheet.
    pub(super) steel: Cuboid,
    /// The one within the liner.
    pub(super) liner: Cuboid,
    /// The outside.
    pub(super) coated: Cuboid,
    /// What all three lack at the floor.
    pub(super) step: Option<Step>,
    /// What stands out round the outside and is solid all round.
    pub(super) rims: Vec<Rim>,
}

impl Walls {
    /// The way out through a fitting's wall: of a riser, towards the wall that it stands before.
    fn face(&self, fitting: &WallFitting) -> Face {
        let at_step = || self.step.and_then(|step| super::step::face_of(step.at));
        fitting.wall.face().or_else(at_step).unwrap_or(Face::Front)
    }

    /// With floor and walls where they are at a fitting: the floor raised over a step, the wall at a step at the riser.
    fn at(&self, fitting: &WallFitting) -> [Cuboid; 3] {
        let all = [self.steel, self.liner, self.coated];
        let Some(step) = self.step else { return all };
        match fitting.wall {
            WallName::Riser => {
                let mut run = Faces::all(Length::ZERO);
                run[self.face(fitting)] = -step.run;
                return all.map(|space| space.grown(run).unwrap_or(space));
            }
            WallName::Bottom => {}
            _ => return all,
        }
        let axis = step.axis();
        let at = [&fitting.along, &fitting.up][axis].value();
        let side = self.steel.size().0[axis];
        let from_wall = if step.is_high() { side - at } else { at };
        if from_wall > step.run {
            return all;
        }
        let mut rise = Faces::all(Length::ZERO);
        rise[Face::Bottom] = -step.rise;
        all.map(|space| space.grown(rise).unwrap_or(space))
    }
}

/// The space that a fitting takes, in the frame of the cuboids it was worked out from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Spaces {
    /// What stands out from the coated wall; `None` when nothing does.
    pub(crate) outside: Option<Cuboid>,
    /// What reaches in from the liner; `None` when nothing does.
    pub(crate) inside: Option<Cuboid>,
}

/// The space that a fitting takes, which goes out through this face. `steel` is the space within the sheet, `liner` the one within the liner, `coated` the
/// outside.
pub(crate) fn spaces(fitting: &WallFitting, wall: Face, steel: &Cuboid, liner: &Cuboid, coated: &Cuboid) -> Spaces {
    let sizes = fitting.sizes();
    let space = |from: &Cuboid, outward, deep: Length| {
        (deep > Length::ZERO).then(|| block((fitting, wall), &sizes, steel, from, outward, deep))
    };
    Spaces {
        outside: space(coated, true, sizes.out),
        inside: space(liner, false, reach(steel, liner, wall, &sizes)),
    }
}

/// Where the fittings are, and which modules they meet.
pub(super) fn placed(
    told: &BatteryBox,
    faults: Vec<Option<String>>,
    walls: &Walls,
    modules: &[ModuleResult],
) -> Vec<FittingResult> {
    let place = |(fitting, fault): (&WallFitting, Option<String>)| {
        let sizes = fitting.sizes();
        let wall = walls.face(fitting);
        let [steel, liner, coated] = &walls.at(fitting);
        let taken = if fault.is_none() {
            spaces(fitting, wall, steel, liner, coated)
        } else {
            Spaces::default()
        };
        let inside = taken.inside;
        let meets = |module: &&ModuleResult| inside.is_some_and(|space| space.overlaps(&module.cuboid));
        FittingResult {
            id: fitting.id,
            what: fitting.what,
            label: label(fitting, &sizes),
            wall,
            in_riser: fitting.wall == WallName::Riser,
            hole: sizes.hole,
            across: sizes.across,
            middle_up: fault.is_none().then(|| match wall {
                Face::Bottom | Face::Top => at_face(steel, wall),
                _ => steel.lo()[Axis::Z] + fitting.up.value(),
            }),
            middle: fault.is_none().then(|| middle(fitting, wall, steel)),
            outside: taken.outside,
            inside,
            meets: modules.iter().filter(meets).map(|m| m.label.clone()).collect(),
            at_band: fault.is_none().then(|| band_at(fitting, wall, walls)).flatten(),
            fault,
        }
    };
    told.fittings.iter().zip(faults).map(place).collect()
}

/// What it is and where; of an earth stud its thread, too, as its hole lets through.
fn label(fitting: &WallFitting, sizes: &FittingSizes) -> String {
    let wall = wall_named(fitting.wall).name();
    match thread(fitting.what, sizes.hole) {
        Some(bolt) => format!("{} {}, {wall}", bolt.name, fitting.what.name()),
        None => format!("{}, {wall}", fitting.what.name()),
    }
}

/// The metric thread that goes through the hole of an earth stud; `None` of anything else, and of a hole too small.
pub(crate) fn thread(what: FittingName, hole: Length) -> Option<&'static Bolt> {
    let goes = |bolt: &&Bolt| matches!(bolt.pitch, Pitch::Metric(_)) && bolt.hole <= hole;
    (what == FittingName::EarthStud).then(|| BOLTS.iter().rfind(goes))?
}

impl FittingResult {
    /// The bare metal round an earth stud; `None` of anything else.
    pub fn bare(&self) -> Option<Length> {
        (self.what == FittingName::EarthStud && self.fault.is_none()).then_some(self.across)
    }
}

/// What of the outside of a box stays free of paint: a round face for each earth stud.
pub(super) fn masked(fittings: &[FittingResult]) -> Area {
    let round = |across: Length| {
        // pi / 4 of the square, to a millionth.
        let side = Length::from_mm(across.as_mm() * std::f64::consts::FRAC_PI_4.sqrt());
        side * side
    };
    fittings.iter().filter_map(FittingResult::bare).map(round).sum()
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

/// The band round the box that a fitting in an upright wall runs into, or sits behind, from its lower to its upper edge over the
/// inside of the floor.
fn band_at(fitting: &WallFitting, wall: Face, walls: &Walls) -> Option<[Length; 2]> {
    let from = walls.steel.lo()[Axis::Z];
    let band = band_met(fitting, wall, from, walls.coated.hi()[Axis::Z], &walls.rims)?;
    Some(band.map(|edge| edge - from))
}

/// That band with its heights in the frame of `floor`, the inside of the floor, and `top`, the top of the coated box.
pub(crate) fn band_met(
    fitting: &WallFitting,
    wall: Face,
    floor: Length,
    top: Length,
    rims: &[Rim],
) -> Option<[Length; 2]> {
    if wall.axis() == Axis::Z {
        return None;
    }
    let sizes = fitting.sizes();
    let across = sizes.across.max(sizes.hole);
    let low = floor + fitting.up.value() - across.half_down();
    let met = |band: &[Length; 2]| low < band[1] && band[0] < low + across;
    let out = rims.iter().filter(|rim| rim.out > Length::ZERO);
    let bands = out.map(|rim| [top - rim.below_top, top + rim.above_top]).filter(met);
    bands.reduce(|one, other| [one[0].min(other[0]), one[1].max(other[1])])
}

/// The two axes that a place on a wall is told along.
const fn across(wall: Face) -> [Axis; 2] {
    match wall.axis() {
        Axis::X => [Axis::Y, Axis::Z],
        Axis::Y => [Axis::X, Axis::Z],
        Axis::Z => [Axis::X, Axis::Y],
    }
}

fn middle(fitting: &WallFitting, wall: Face, steel: &Cuboid) -> Point {
    let mut at = Point::ZERO;
    let [first, second] = across(wall);
    at[wall.axis()] = at_face(steel, wall);
    at[first] = steel.lo()[first] + fitting.along.value();
    at[second] = steel.lo()[second] + fitting.up.value();
    at
}

/// The block as wide as the body, `deep` out from the wall of `from`, or in from it.
fn block(
    (fitting, wall): (&WallFitting, Face),
    sizes: &FittingSizes,
    steel: &Cuboid,
    from: &Cuboid,
    outward: bool,
    deep: Length,
) -> Cuboid {
    let through = wall.axis();
    let [first, second] = across(wall);
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
