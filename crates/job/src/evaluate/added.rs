//! What goes in and on a box beyond its shell and lid: where it goes by rule or by entry, what of it cannot be made, and
//! what it meets.

mod brackets;
mod eyes;
mod held;
mod lining;
mod met;
mod past;
mod places;
mod rail;
mod rows;
mod seats;
mod stiff;
pub(crate) mod under;

use enclosure::added::{Block, Group, Joined};
use enclosure::{Built, Sheet};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::boxes::{ModuleResult, spec};
use super::cavity::CavityResult;
use super::fitting::FittingResult;
use super::kind::KindResult;
use crate::assumed::{self, Build};
use crate::document::{BatteryBox, Figures, FixingName, Places, PlacesOf};
use crate::{Job, Len, PartSize};

pub use brackets::{BracketLeg, BracketMount, LegFrom};
pub(crate) use brackets::{DRAWN_UP, least_leg_on_sale, longest_leg_on_sale, marks, told_leg};
pub use eyes::EyePlateResult;
pub use held::{HeldDown, Lower};
pub use lining::LinerResult;
pub(super) use lining::line;
pub(crate) use lining::lining;
pub use past::Clash;
pub use rail::{FrameHole, RailSays};
pub use seats::BracketSeat;
pub(crate) use seats::is_seat;
pub(super) use seats::{Before, seats};
pub(super) use stiff::outside;
pub use stiff::{FloorRailsResult, LidResult};

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
    /// The backing plates under its lifting eyes.
    pub eye_plates: Vec<EyePlateResult>,
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
        self.job.design.fixed_by(fixing)
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
    rows::standoffs(&here, made, &mut result);
    rows::dividers(&here, made, &mut result);
    held::hold_down(&here, made, &mut result);
    rows::clamps(&here, made, &mut result);
    stiff::stiffeners(&here, made, &mut result);
    stiff::floor_rails(&here, made, &mut result);
    brackets::brackets(&here, made, &mut result);
    eyes::plates(&here, (told, fittings), made, &mut result);
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
            result.faults.push(fault.words(here.job.units.units()));
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
