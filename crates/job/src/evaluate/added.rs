//! What goes in and on a box beyond its shell and lid: where it goes by rule or by entry, what of it cannot be made, and
//! what it meets.

mod brackets;
mod held;
mod lining;
mod met;
mod past;
mod places;
mod rail;
pub(crate) mod under;

use enclosure::added::{Block, Clamp, Divider, FloorRails, Group, Joined, Standoffs, Stiffeners, least_stiffeners};
use enclosure::{Built, Role, Sheet};
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use super::Near;
use super::boxes::{BoxResult, ModuleResult, spec};
use super::cavity::CavityResult;
use super::fitting::FittingResult;
use super::kind::KindResult;
use super::strength::whole;
use crate::assumed::{self, Build};
use crate::document::{
    BatteryBox, DividersName, Figures, FixingName, FloorRailsName, Places, PlacesOf, StandoffsName, StiffenersName,
};
use crate::{Figure, Job, Kind, Len, PartSize};

pub use brackets::{BracketLeg, BracketMount, LegFrom};
pub(crate) use brackets::{DRAWN_UP, least_leg_on_sale, longest_leg_on_sale, marks, told_leg};
pub use held::{HeldDown, Lower};
pub use lining::LinerResult;
pub(super) use lining::line;
pub(crate) use lining::lining;
pub use past::Clash;
pub use rail::{FrameHole, RailSays};

/// What was added to a box.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AddedResult {
    /// Where things went that the person has not placed, from the inside of the sheet.
    pub by_rule: Vec<(PlacesOf, Vec<Length>)>,
    /// Mass of clamps that are on hand: in the box, and not on the cut list.
    pub on_hand_grams: f64,
    /// What cannot be made as told, and is left out.
    pub faults: Vec<String>,
    /// The space inside the steel, in the cavity's frame.
    pub steel: Option<Cuboid>,
    /// The brackets as solids, in the cavity's frame; both legs of each.
    pub brackets: Vec<Cuboid>,
    /// The brackets that carry the box, when there are any.
    pub mount: Option<BracketMount>,
    /// The leg of their angle, and why it is that long.
    pub bracket_leg: Option<BracketLeg>,
    /// Where their bolts go through them, in the cavity's frame: as many for each, in the order of their walls.
    pub mount_bolts: Vec<Point>,
    /// The wall that each bracket is at.
    pub bracket_walls: Vec<Face>,
    /// The bars over the modules, when there are any.
    pub held_down: Option<HeldDown>,
    /// How far the brackets of each of the two walls end from what stands before them.
    pub seats: Vec<BracketSeat>,
    /// The holes that bolts of brackets ask for in the frame.
    pub frame_holes: Vec<FrameHole>,
    /// What meets what, in words.
    pub meets: Vec<String>,
    /// Rivets, nuts and rivet nuts that want the place of something else.
    pub clashes: Vec<Clash>,
    /// Modules with a hold-down bar before the terminals that were entered, by name.
    pub over_terminals: Vec<String>,
    /// Modules with one before the face of their terminals, whose places on it nobody entered, by name.
    pub over_terminal_faces: Vec<String>,
    /// Modules in whose service space a divider stands, by name, with how deep.
    pub divider_in_service: Vec<(String, Length)>,
    /// How far the holes of the hold-down bars are from the end of bar and lug, when that is too little.
    pub near_the_end: Option<NearTheEnd>,
    /// Modules that stand on fewer than two strips, by name.
    pub badly_stood: Vec<String>,
    /// Gaps between rows that are too narrow for a divider.
    pub undivided: Vec<Length>,
    /// The rails under its floor, when there are any.
    pub floor_rails: Option<FloorRailsResult>,
    /// How far the lid gives with its stiffeners, when it is to be stiffened.
    pub lid: Option<LidResult>,
    /// What its liner asks for beyond its sheets.
    pub liner: LinerResult,
    /// Rivets that stand into modules: of the floor, and of the walls.
    pub rivets_met: Vec<RivetsMet>,
}

/// Rivets that stand in from the floor, or from the walls, into modules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RivetsMet {
    /// Whether they are of the floor.
    pub is_floor: bool,
    /// The modules that they reach into, by name.
    pub modules: Vec<String>,
    /// How far they stand in from the steel.
    pub needs: Length,
    /// How far the nearest module is off it.
    pub has: Length,
}

/// Holes of hold-down bars that are too near the end of bar and lug.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NearTheEnd {
    /// From the middle of the hole to the end.
    pub has: Length,
    /// What it should be at least.
    pub wants: Length,
    /// The least leg of the lugs that gives it.
    pub lug: Option<Length>,
}

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
pub(super) struct Before {
    cuboid: Cuboid,
    near: Near,
    name: String,
}

impl Before {
    pub(super) fn of(cuboid: Cuboid, near: Near, name: &str) -> Self {
        let name = name.to_owned();
        Self { cuboid, near, name }
    }
}

/// A stiffened lid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LidResult {
    /// Angles across it.
    pub stiffeners: u32,
    /// How far each field gives in its middle, in millimetres.
    pub gives_mm: f64,
    /// How far it may.
    pub most: Length,
    /// The load on it.
    pub load_kg: f64,
}

/// The rails under a floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorRailsResult {
    /// How many.
    pub count: u32,
    /// The middle of each on the other level axis, from the inside of the wall, in order.
    pub places: Vec<Length>,
    /// The axis they lie along.
    pub along: Axis,
    /// Leg and thickness of the angle.
    pub angle: [Length; 2],
    /// The widest span of the floor across them: from the middle of one to that of the next, or to the wall.
    pub span: Length,
    /// The most floor that one of them bears, across it: half of the span on each of its sides.
    pub bears: Length,
    /// From wall to wall along them.
    pub length: Length,
}

/// What the sorts of addition are made from.
struct Site<'a> {
    job: &'a Job,
    build: &'a Build,
    places: &'a Places,
    spec: enclosure::BoxSpec,
    /// The space inside the steel, in the cavity's frame.
    steel: Cuboid,
    modules: &'a [ModuleResult],
    kinds: &'a [KindResult],
    /// The cavity that it stands in.
    cavity: Option<&'a CavityResult>,
    /// The leg of its brackets, where the person entered one for this box.
    leg: Option<&'a Len>,
    /// The longer level axis of the box.
    long: Axis,
}

impl Site<'_> {
    /// How lengths are printed.
    fn style(&self) -> tape::show::Style {
        let fraction = self.job.settings.fraction.unwrap_or(assumed::FRACTION);
        super::style(self.job.units.units(), fraction)
    }

    fn fixed_by(&self, fixing: Option<FixingName>) -> Joined {
        self.job.design.fixed_by(fixing, self.build.rivet_pitch)
    }

    fn size(&self, size: PartSize) -> Length {
        self.job.design.added.sizes.sure(size)
    }

    fn figures(&self) -> &Figures {
        &self.job.electrics.figures
    }

    fn sheet(&self, thickness: Length) -> Sheet {
        Sheet {
            material: self.build.material,
            thickness,
        }
    }

    /// A cuboid of the cavity, from the corner of the space inside the steel.
    fn block(&self, cuboid: &Cuboid) -> Block {
        let from = self.steel.lo();
        Block {
            lo: (cuboid.lo() - from).0,
            hi: (cuboid.hi() - from).0,
        }
    }

    fn cuboid(&self, block: &Block) -> Cuboid {
        let from = self.steel.lo();
        Cuboid::between(from + Point(block.lo), from + Point(block.hi))
    }

    /// Where modules stand along the long axis, from the inside of the steel, each range once.
    fn ranges(&self) -> Vec<[Length; 2]> {
        let range = |m: &ModuleResult| {
            let from = self.steel.lo()[self.long];
            [m.cuboid.lo()[self.long] - from, m.cuboid.hi()[self.long] - from]
        };
        let mut ranges: Vec<[Length; 2]> = self.modules.iter().map(range).collect();
        ranges.sort_unstable();
        ranges.dedup();
        ranges
    }

    /// Top of the highest module above the floor.
    fn highest(&self) -> Option<Length> {
        let top = |m: &ModuleResult| m.cuboid.hi()[Axis::Z] - self.steel.lo()[Axis::Z];
        self.modules.iter().map(top).max()
    }
}

/// Adds to a box what its design asks for, and spaces rivets and screws past it. `steel` is the space inside the sheet, where
/// it was built, and `drawn` what its sheets were cut for.
pub(super) fn add(
    job: &Job,
    (build, drawn): (&Build, &enclosure::BoxSpec),
    kinds: &[KindResult],
    (told, cavity): (&BatteryBox, Option<&CavityResult>),
    steel: &Cuboid,
    (modules, fittings): (&[ModuleResult], &[FittingResult]),
    made: &mut Built,
) -> AddedResult {
    let size = steel.size();
    let here = Site {
        job,
        build,
        places: &told.places,
        spec: enclosure::BoxSpec {
            step: made.step,
            ..spec(build, size.0)
        },
        steel: *steel,
        modules,
        kinds,
        cavity,
        leg: told.bracket_leg.as_ref(),
        long: if size[Axis::Y] > size[Axis::X] {
            Axis::Y
        } else {
            Axis::X
        },
    };
    let mut result = AddedResult {
        steel: Some(*steel),
        ..AddedResult::default()
    };
    standoffs(&here, made, &mut result);
    dividers(&here, made, &mut result);
    held::hold_down(&here, made, &mut result);
    clamps(&here, made, &mut result);
    stiffeners(&here, made, &mut result);
    floor_rails(&here, made, &mut result);
    brackets::brackets(&here, made, &mut result);
    past::space(&here, drawn, fittings, made, &mut result);
    under::rivets(&here, drawn, made, &mut result);
    met::all(&here, fittings, made, &mut result);
    result
}

/// Puts a group in, or notes why it cannot be made; tells whether it went in.
fn put(
    here: &Site<'_>,
    made: &mut Built,
    result: &mut AddedResult,
    group: Result<Group, enclosure::added::AddedError>,
) -> bool {
    match group {
        Ok(group) if made.meets_step(&group) => {
            let what = group.parts.first().map_or("what was added", |part| part.role.name());
            result.faults.push(format!(
                "{what}: it would stand in the step of the underside; it may stand beside it: place it elsewhere, leave it \
                 out, or take the step out"
            ));
            false
        }
        Ok(mut group) => {
            let units = here.job.units.units();
            let bought = group.fixings.iter().map(|fixing| {
                let holds = format!("{}s", fixing.role.name());
                let what = crate::fixings::blind_rivets((fixing.hole, fixing.heads), fixing.grip, units, &holds);
                (what, fixing.rivets)
            });
            group.fasteners.extend(bought.collect::<Vec<_>>());
            made.add_to(&here.spec, group);
            true
        }
        Err(fault) => {
            result.faults.push(fault.to_string());
            false
        }
    }
}

/// Notes where something went, unless the person placed it.
fn ruled(here: &Site<'_>, result: &mut AddedResult, which: PlacesOf, places: &[Length]) {
    if here.places.of(which).is_empty() && !places.is_empty() {
        result.by_rule.push((which, places.to_vec()));
    }
}

fn standoffs(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    if here.job.design.added.standoffs != Some(StandoffsName::Strips) || here.modules.is_empty() {
        return;
    }
    let width = here.size(PartSize::StandoffWidth);
    let side = here.steel.size()[here.long];
    let places = places::under_each(&here.ranges(), width, side);
    let strips = Standoffs {
        along: 1 - here.long.index(),
        places,
        width,
        ends: here.build.liner,
        sheet: here.sheet(here.size(PartSize::StandoffHeight)),
        joined: here.fixed_by(here.job.design.added.standoffs_fixed),
    };
    if put(here, made, result, strips.group(&here.spec)) {
        let stood = |range: &[Length; 2]| places::on_at_least_two(*range, &strips.places, width);
        let floor = here.steel.lo()[Axis::Z] + strips.sheet.thickness;
        let from = here.steel.lo()[here.long];
        let badly = |m: &&ModuleResult| {
            let range = [m.cuboid.lo()[here.long] - from, m.cuboid.hi()[here.long] - from];
            m.cuboid.lo()[Axis::Z] == floor && !stood(&range)
        };
        result.badly_stood = here.modules.iter().filter(badly).map(|m| m.label.clone()).collect();
    }
}

fn dividers(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let loose = match here.job.design.added.dividers.unwrap_or(DividersName::None) {
        DividersName::None => return,
        DividersName::Rows => false,
        DividersName::Loose => true,
    };
    let thickness = here.size(PartSize::DividerThickness);
    let own = here.places.of(PlacesOf::Dividers);
    let places = if own.is_empty() {
        let (places, narrow) = places::between_rows(&here.ranges(), thickness);
        result.undivided = narrow;
        places
    } else {
        own
    };
    // What comes out again stands on the liner and between its sheets.
    let liner = if loose { here.build.liner } else { Length::ZERO };
    let entered = here.job.design.added.sizes.get(PartSize::DividerHeight);
    let height = entered.or(here.highest().map(|top| top - liner));
    let Some(height) = height.filter(|_| !places.is_empty()) else {
        return;
    };
    let divider = Divider {
        across: here.long.index(),
        places,
        height,
        sheet: here.sheet(thickness),
        loose,
        liner,
    };
    if put(here, made, result, divider.group(&here.spec)) {
        ruled(here, result, PlacesOf::Dividers, &divider.places);
    }
}

fn clamps(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let are_cut = here.job.design.are_clamps_cut();
    for module in here.modules {
        let rule = here.job.kind(module.kind).and_then(|kind: &Kind| kind.stack.as_ref());
        let kind = here.kinds.iter().find(|kind| kind.id == module.kind);
        let (Some(rule), Some(stack)) = (rule, kind.and_then(|kind| kind.stack)) else {
            continue;
        };
        let thickness = rule.end_plate.value();
        if thickness <= Length::ZERO {
            continue;
        }
        let clamp = Clamp {
            stack: here.block(&module.cuboid),
            along: module.stands.world_face(Face::low(stack.along)).axis().index(),
            plate: here.sheet(thickness),
            rod_end: rule.rod_end.value(),
            rods: whole(here.figures().sure(Figure::TieRods)),
            thread: here.size(PartSize::TieRod),
            inset: here.size(PartSize::TieInset),
        };
        match clamp.group() {
            Ok(group) if are_cut => made.add(group),
            // Those on hand are not cut, but they are in the box.
            Ok(group) => {
                let grams = |part: &enclosure::Part| part.grams() * f64::from(part.quantity);
                result.on_hand_grams += group.parts.iter().map(grams).sum::<f64>();
            }
            Err(fault) => result.faults.push(format!("{}: {fault}", module.label)),
        }
    }
}

fn stiffeners(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let how = here.job.design.added.stiffeners.unwrap_or(StiffenersName::None);
    if how == StiffenersName::None {
        return;
    }
    let sides = [here.steel.size()[Axis::X], here.steel.size()[Axis::Y]];
    let lid = here.sheet(here.build.lid);
    let load_kg = here.figures().sure(Figure::LidLoad);
    let most = here
        .job
        .design
        .added
        .sizes
        .get(PartSize::LidGives)
        .unwrap_or(here.build.lid.half_down());
    let own = here.places.of(PlacesOf::Stiffeners);
    let asked = here.figures().get(Figure::LidStiffeners).map(whole);
    let by_rule = || least_stiffeners(sides, lid, load_kg, most);
    let Some(count) = u32::try_from(own.len())
        .ok()
        .filter(|&n| n > 0)
        .or(asked)
        .or_else(by_rule)
    else {
        result.faults.push(format!(
            "lid stiffeners: 16 of them still let the lid give more than {:.1} mm under {load_kg} kg: take a thicker lid",
            most.as_mm()
        ));
        return;
    };
    let length = here.steel.size()[here.long];
    let places = if own.is_empty() {
        places::fields(count, length)
    } else {
        own
    };
    let gives_mm = places::widest_field(&places, length)
        .and_then(|field| enclosure::added::field_gives_mm([field, sides[0].min(sides[1])], sides, lid, load_kg));
    let angles = Stiffeners {
        places,
        over: how == StiffenersName::Over,
        leg: here.size(PartSize::StiffenerLeg),
        sheet: here.sheet(here.size(PartSize::StiffenerThickness)),
        play: assumed::PLAY + here.build.liner,
        joined: here.fixed_by(here.job.design.added.stiffeners_fixed),
    };
    ruled(here, result, PlacesOf::Stiffeners, &angles.places);
    let went_in = count == 0 || put(here, made, result, angles.group(&here.spec, made));
    if let Some(gives_mm) = gives_mm.filter(|_| went_in) {
        result.lid = Some(LidResult {
            stiffeners: count,
            gives_mm,
            most,
            load_kg,
        });
    }
}

fn floor_rails(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let along = match here.job.design.added.floor_rails.unwrap_or(FloorRailsName::None) {
        FloorRailsName::None => return,
        FloorRailsName::Across => 1 - here.long.index(),
        FloorRailsName::Along => here.long.index(),
    };
    let floor = FloorRails::floor(&here.spec);
    let [from, to] = floor[1 - along];
    let own = here.places.of(PlacesOf::FloorRails);
    let places = if own.is_empty() {
        let count = whole(here.figures().sure(Figure::FloorRails));
        places::fields(count, to - from)
            .into_iter()
            .map(|at| from + at)
            .collect()
    } else {
        own
    };
    let rails = FloorRails {
        along,
        places,
        leg: here.size(PartSize::FloorRailLeg),
        sheet: here.sheet(here.size(PartSize::FloorRailThickness)),
        joined: here.fixed_by(here.job.design.added.floor_rails_fixed),
    };
    if !put(here, made, result, rails.group(&here.spec)) {
        return;
    }
    ruled(here, result, PlacesOf::FloorRails, &rails.places);
    let mut lines = rails.places.clone();
    lines.sort_unstable();
    lines.insert(0, from);
    lines.push(to);
    let spans = lines.windows(2).map(|pair| pair[1] - pair[0]);
    let bears = lines.windows(3).map(|three| (three[2] - three[0]).half_down());
    result.floor_rails = Some(FloorRailsResult {
        count: u32::try_from(rails.places.len()).unwrap_or(u32::MAX),
        places: lines[1..lines.len() - 1].to_vec(),
        along: Axis::ALL[along],
        angle: [rails.leg, rails.sheet.thickness],
        span: spans.max().unwrap_or(to - from),
        bears: bears.max().unwrap_or(to - from),
        length: floor[along][1] - floor[along][0],
    });
}

/// The solids that the box has outside beyond its body and rim, but for its brackets: stiffeners over the lid and rails
/// under the floor, coated.
pub(super) fn outside(made: &Built, steel: &Cuboid, coating: Length) -> Vec<Cuboid> {
    let rim = steel.size()[Axis::Z] + made.above_rim;
    let from = steel.lo();
    made.added
        .iter()
        .filter(|piece| (piece.role == Role::Stiffener && piece.block.hi[2] > rim) || piece.role == Role::FloorRail)
        .map(|piece| Cuboid::between(from + Point(piece.block.lo), from + Point(piece.block.hi)))
        .map(|solid| solid.grown(Faces::all(coating)).unwrap_or(solid))
        .collect()
}

/// How far brackets at each wall end from what is before them: a wall of the cavity, a keep-out or another box.
pub(super) fn seats(result: &BoxResult, space: Cuboid, things: &[Before]) -> Vec<BracketSeat> {
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
        let wall = (
            out(space.face(face)),
            Near::Wall(face),
            super::boxes::wall_name(face).to_owned(),
        );
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
