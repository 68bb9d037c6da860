//! What goes in and on a box beyond its shell and lid: brackets, hold-down bars, dividers, standoffs, clamps, lid
//! stiffeners, floor rails.

mod places;
mod sizes;

use enclosure::added::Reach;
use serde::{Deserialize, Serialize};

use super::settings::{named, optional_fields};

pub use places::{Places, PlacesOf};
pub use sizes::{PartSize, PartSizes};

named! {
    /// How brackets carry a box on the frame.
    BracketsName {
        /// No brackets are drawn.
        None = "none" / "none",
        /// Bolted through the web of the rail beside the box.
        Web = "web" / "to the web of a rail",
        /// Standing out from the wall, bolted down on a rail of one's own.
        OwnRail = "own rail" / "down on a rail of your own",
        /// Standing out from the wall, lying on a flange of the frame.
        Flange = "flange" / "down on the frame's flange",
    }
}

impl BracketsName {
    /// How they reach out; `None` without brackets.
    pub const fn reach(self) -> Option<Reach> {
        match self {
            Self::None => None,
            Self::Web => Some(Reach::Web),
            Self::OwnRail | Self::Flange => Some(Reach::Foot),
        }
    }
}

named! {
    /// Which two walls of a box.
    SidesName {
        /// The long ones.
        Long = "long" / "long sides",
        /// The short ones.
        Short = "short" / "ends",
    }
}

named! {
    /// What holds modules down.
    HoldDownName {
        /// Nothing that is drawn.
        None = "none" / "none",
        /// Bars bolted to lugs on the walls.
        Lugs = "lugs" / "bars on lugs at the walls",
        /// Bars on threaded rods from the floor.
        Rods = "rods" / "bars on rods from the floor",
    }
}

named! {
    /// The section of a bar.
    BarName {
        /// Flat bar.
        Flat = "flat" / "flat bar",
        /// Equal angle.
        Angle = "angle" / "angle",
    }
}

named! {
    /// Walls between modules.
    DividersName {
        /// None.
        None = "none" / "none",
        /// One across the box between every two rows along it, welded to floor and walls.
        Rows = "rows" / "between rows",
        /// The same, not welded.
        Loose = "rows loose" / "between rows, set in loose",
    }
}

named! {
    /// How what lies flat on a sheet is held to it.
    FixingName {
        /// By seams.
        Welded = "welded" / "welded",
        /// By rivets, drilled in place.
        Riveted = "riveted" / "riveted",
        /// By glue.
        Bonded = "bonded" / "bonded",
    }
}

named! {
    /// What modules stand on.
    StandoffsName {
        /// The floor.
        None = "none" / "none",
        /// Strips of flat bar from wall to wall.
        Strips = "strips" / "strips across the floor",
    }
}

named! {
    /// Where end plates and tie rods of clamped stacks come from.
    ClampsName {
        /// They are cut with the box.
        Cut = "cut" / "cut with the box",
        /// They are there already.
        OnHand = "on hand" / "on hand",
    }
}

named! {
    /// What keeps a lid from giving.
    StiffenersName {
        /// Nothing.
        None = "none" / "none",
        /// Angles under it.
        Under = "under" / "angles under it",
        /// Angles over it.
        Over = "over" / "angles over it",
    }
}

named! {
    /// What keeps a floor from giving.
    FloorRailsName {
        /// Nothing that is drawn.
        None = "none" / "none",
        /// Angles under it, across the box.
        Across = "across" / "angles across under it",
        /// Angles under it, along the box.
        Along = "along" / "angles along under it",
    }
}

optional_fields! {
    /// What goes in and on every box beyond its shell and lid. `None` means that the stated default holds.
    pub struct Added {
        /// Brackets.
        pub brackets: BracketsName,
        /// The walls that brackets are on.
        pub bracket_sides: SidesName,
        /// Hold-down bars.
        pub hold_down: HoldDownName,
        /// Their section.
        pub bar: BarName,
        /// Walls between modules.
        pub dividers: DividersName,
        /// What modules stand on.
        pub standoffs: StandoffsName,
        /// How strips are held to the floor.
        pub standoffs_fixed: FixingName,
        /// End plates and tie rods.
        pub clamps: ClampsName,
        /// What stiffens the lid.
        pub stiffeners: StiffenersName,
        /// How stiffeners are held to the lid.
        pub stiffeners_fixed: FixingName,
        /// Rails under the floor.
        pub floor_rails: FloorRailsName,
        /// How they are held to it.
        pub floor_rails_fixed: FixingName,
        ;
        /// Their sizes.
        #[serde(skip_serializing_if = "PartSizes::is_open")]
        pub sizes: PartSizes,
    }
}

impl Added {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}
