//! What is known of a box and of the modules in it.

use enclosure::build::Built;
use enclosure::weld::WeldMap;
use enclosure::{SpecError, Step};
use geometry::{Axis, Cuboid, Face, Orientation, Point};
use tape::Length;

use crate::Id;
use crate::evaluate::added::AddedResult;
use crate::evaluate::chance::FitChance;
use crate::evaluate::fitting::FittingResult;
use crate::evaluate::ledger::Ledger;
use crate::evaluate::neighbours::SixClearances;
use crate::evaluate::reach::LidReach;
use crate::evaluate::strength::BoxStrength;
use crate::evaluate::tools::NoRoom;
use crate::evaluate::welds::CornerMet;

/// A box as built and placed. Cuboids are in the cavity's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxResult {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The cavity it stands in.
    pub cavity: Id,
    /// Whether its inside size is fixed by the person.
    pub fixed: bool,
    /// Which side the bay is on, when there is one.
    pub bay: Option<Face>,
    /// The space inside the liner; `None` for an empty box that wraps nothing.
    pub inside: Option<Cuboid>,
    /// The step in its underside, if it has one.
    pub step: Option<Step>,
    /// The outside of the body before coating: from under the floor to the top of the lid; with a step the block round
    /// it all, as if there were none.
    pub body: Option<Cuboid>,
    /// The middle of its mass without modules, of a box with a step: from its parts; of any other it is taken at the middle
    /// of the body.
    pub empty_middle: Option<Point>,
    /// The same as the body with its coating.
    pub coated: Option<Cuboid>,
    /// Everything that takes part in clearances, coating on: the body first (with a step as two, see [`BoxResult::body_solids`]),
    /// then flange or cap, screw heads, fittings.
    pub solids: Vec<Cuboid>,
    /// Parts, sizes and mass; `None` when it cannot be built as told.
    pub built: Option<Built>,
    /// Why it cannot be built.
    pub fault: Option<SpecError>,
    /// Its clearances in the cavity.
    pub around: Option<SixClearances>,
    /// The modules and stacks in it.
    pub modules: Vec<ModuleResult>,
    /// Every millimetre along length, width and height.
    pub ledgers: Vec<Ledger>,
    /// How likely it goes in, and its modules into it.
    pub fit: FitChance,
    /// Where it would have the most room between the walls of its surveyed cavity, keep-outs and other boxes aside.
    pub roomiest: Option<Roomiest>,
    /// The outside as drawn, coating on, where the person taped what was built.
    pub drawn: Option<Cuboid>,
    /// What is let into its walls.
    pub fittings: Vec<FittingResult>,
    /// What it weighs.
    pub mass: BoxMass,
    /// First-order sums of what holds it, carries its modules and seals it; `None` when it cannot be built as told.
    pub strength: Option<BoxStrength>,
    /// Its seams; `None` when it cannot be built as told.
    pub welds: Option<WeldMap>,
    /// What its making may take off the inside.
    pub losses: Losses,
    /// What is in the way of its lid's screws; `None` where no lid is screwed.
    pub reach: Option<LidReach>,
    /// Where other tools have no room: mount bolts, hold-down nuts, glands, the disconnect.
    pub tools: Vec<NoRoom>,
    /// What goes in and on it beyond shell and lid.
    pub added: AddedResult,
    /// Where a square edge of a module meets the weld bead or bend in a corner of the box.
    pub corners_met: Vec<CornerMet>,
}

impl BoxResult {
    /// All of it, coating on, down to the lowest of its brackets; at the sides without them: they are set against what
    /// carries them.
    pub(in crate::evaluate) fn overall(&self) -> Option<Cuboid> {
        let all = self.solids.iter().copied().reduce(|a, b| a.hull(&b))?;
        let mut lo = all.lo();
        lo[Axis::Z] -= self.hanging();
        Some(Cuboid::between(lo, all.hi()))
    }

    /// How far its brackets hang below everything else of it.
    pub(in crate::evaluate) fn hanging(&self) -> Length {
        let lowest = |solids: &[Cuboid]| solids.iter().map(|solid| solid.lo()[Axis::Z]).min();
        match (lowest(&self.solids), lowest(&self.added.brackets)) {
            (Some(own), Some(brackets)) => (own - brackets).max(Length::ZERO),
            _ => Length::ZERO,
        }
    }
}

/// The place where a box has the most room between leaning walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Roomiest {
    /// What its tightest side has there for sure.
    pub room: Length,
    /// What its tightest side to a wall has for sure where it stands.
    pub now: Length,
    /// How far it is from where it stands: rearward, to the right, up.
    pub away: Point,
}

/// The most that making a box may take off its inside, along length, width and height, as its sizes are cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Losses {
    /// Welds that draw in, when no sheet is cut larger for it; nothing once the shop was told what to hold.
    pub welds: [Length; 3],
    /// Sizes rounded down when they are marked out.
    pub rounding: [Length; 3],
}

/// What a box weighs, in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BoxMass {
    /// The steel or aluminium of shell, lid and frame.
    pub shell_g: i64,
    /// What goes in and on it beyond those: brackets, hold-down bars, end plates, the liner and the like.
    pub added_g: i64,
    /// The modules.
    pub modules_g: i64,
}

impl BoxMass {
    /// The box without modules.
    pub const fn empty_g(self) -> i64 {
        self.shell_g + self.added_g
    }

    /// Box and modules.
    pub const fn total_g(self) -> i64 {
        self.empty_g() + self.modules_g
    }
}

/// A module or a stack in its place, in the cavity's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct ModuleResult {
    /// Its number.
    pub id: Id,
    /// M and its number, or S for a stack.
    pub label: String,
    /// Its kind.
    pub kind: Id,
    /// Modules in it.
    pub count: u32,
    /// Whether it stays where it is when the rest is laid out anew.
    pub pinned: bool,
    /// How it stands.
    pub stands: Orientation,
    /// The space it takes.
    pub cuboid: Cuboid,
    /// Towards which faces its terminals point.
    pub terminals: Vec<Face>,
    /// The service space in front of them.
    pub service: Vec<Cuboid>,
    /// Its clearances inside the box.
    pub around: Option<SixClearances>,
    /// What blocks its service space, by name.
    pub blocked_by: Option<String>,
}
