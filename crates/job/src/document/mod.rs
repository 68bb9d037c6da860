//! What the person decided or measured, and nothing derived: what a job file holds.

mod added;
pub(crate) mod boxes;
pub(crate) mod cavity;
pub(crate) mod electrics;
pub(crate) mod figures;
mod fitting;
mod issued;
pub(crate) mod kind;
mod line;
pub(crate) mod quantity;
pub(crate) mod settings;
mod sheets;
mod step;
pub(crate) mod stock;
pub(crate) mod thickness;
pub(crate) mod truck;
mod way_in;

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use tape::Units;

use crate::file::{FormatName, Version};

pub use added::{
    Added, BarName, BracketsName, ClampsName, DividersName, FixingName, FloorRailsName, HoldDownName, PartSize,
    PartSizes, Places, PlacesOf, SidesName, StandoffsName, StiffenersName,
};
pub use boxes::{AsBuilt, BatteryBox, Placed};
pub use cavity::{
    Cavity, Decided, FaceName, FromCorners, KeepOut, KeepOutShape, LaidOn, MeasuredFrom, Opening, Reading, Says,
    Source, Statement, Taken, Travel,
};
pub use electrics::{Electrics, Joined, Seat, SeatError, Unit, Wiring};
pub use figures::{Figure, Figures};
pub(crate) use fitting::FittingSizes;
pub use fitting::{FittingName, WallFitting, WallName};
pub use issued::{Issued, IssuedBox, IssuedNote, IssuedPart, IssuedPlace, IssuedSeam, IssuedStock};
pub use kind::{AxisName, ChemistryName, Kind, StackRule, Stance, Stands, Terminals};
pub use line::{Line, LineError};
pub use quantity::{Grams, Len, Milliohms, Price};
pub use settings::{
    CapHeldName, Charger, Closing, ConstructionName, CornersName, Design, Drive, FlatnessName, FractionName, HeldName,
    JointName, Limits, LinerName, MaterialName, RivetHeadsName, Settings, ShopClassName, Sigmas, TapeClassName,
    TiersName, Wanted, WeldSideName,
};
pub use sheets::{DummiesName, PaperName, ProjectionName, Sheets};
pub use step::BoxStep;
pub use stock::{CuttingName, Stock, StockForm, StockMaterialName, StockPiece, TurningName};
pub use thickness::{Gauge, Thickness};
pub use truck::{
    Amount, AmountUnit, Carried, Component, CutOutName, Distance, Ground, IsolatedName, KnownName, LowPoint, Masses,
    Measure, OfDistance, OfSpeed, PlaceName, RidesName, Road, RoadFigure, RoadFigures, Speed, TruckFigure,
    TruckFigures, TyreError, TyreLoad, TyreSortName, Vehicle, WayName, WheelReadings,
};
pub use way_in::{BedName, BedPart, BedRoomName, WayIn};

/// A number that names one cavity, kind, box, module or keep-out of a job for good.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Id(pub u32);

/// The largest number that a thing of a job may have.
pub(crate) const MOST_ID: u32 = 1_000_000;

/// The first number that a new cavity, kind, box, fitting or keep-out gets: the small ones are left to modules, which are
/// called by them.
const FIRST_ID: u32 = 1_001;

/// What a job is called that names itself nothing.
fn unnamed() -> String {
    "job".to_owned()
}

/// The units the person works in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub enum UnitsName {
    /// Inches.
    #[default]
    #[serde(rename = "in")]
    Inch,
    /// Millimetres.
    #[serde(rename = "mm")]
    Millimetre,
}

impl UnitsName {
    /// For parsing and printing.
    pub const fn units(self) -> Units {
        match self {
            Self::Inch => Units::Inch,
            Self::Millimetre => Units::Millimetre,
        }
    }
}

/// A whole job: what the person decided or measured.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Job {
    pub(crate) format: FormatName,
    pub(crate) version: Version,
    /// What the person calls the job.
    #[serde(default = "unnamed")]
    pub name: String,
    /// The truck, for the papers.
    #[serde(default)]
    pub truck: String,
    /// Revision letter, for the papers.
    #[serde(default)]
    pub revision: String,
    /// Remarks.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// The units the person works in.
    #[serde(default)]
    pub units: UnitsName,
    /// How readings are trusted and how much room is asked for.
    #[serde(default)]
    pub settings: Settings,
    /// The drive.
    #[serde(default)]
    pub drive: Drive,
    /// The charger.
    #[serde(default)]
    pub charger: Charger,
    /// What pack is wanted.
    #[serde(default)]
    pub wanted: Wanted,
    /// How boxes are built.
    #[serde(default)]
    pub design: Design,
    /// What a box may weigh.
    #[serde(default)]
    pub limits: Limits,
    /// What parts are cut from, and how.
    #[serde(default, skip_serializing_if = "Stock::is_open")]
    pub stock: Stock,
    /// How boxes are brought in.
    #[serde(default, skip_serializing_if = "WayIn::is_open")]
    pub way_in: WayIn,
    /// The measured hollows.
    #[serde(default)]
    pub cavities: Vec<Cavity>,
    /// The kinds of module.
    #[serde(default)]
    pub kinds: Vec<Kind>,
    /// The boxes with what is in them.
    #[serde(default)]
    pub boxes: Vec<BatteryBox>,
    /// How the pack is joined, conducted and protected.
    #[serde(default, skip_serializing_if = "Electrics::is_open")]
    pub electrics: Electrics,
    /// The order of the wiring.
    #[serde(default, skip_serializing_if = "Wiring::is_open")]
    pub wiring: Wiring,
    /// The units that were tested.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tested: Vec<Unit>,
    /// The truck that the boxes go into.
    #[serde(default, skip_serializing_if = "Vehicle::is_open")]
    pub vehicle: Vehicle,
    /// What the shop was given, the last at the end.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub issued: Vec<Issued>,
}

impl Job {
    /// A job with nothing in it but one cavity and one kind of module to fill in.
    pub fn empty(units: UnitsName) -> Self {
        Self {
            name: "new job".to_owned(),
            revision: "A".to_owned(),
            units,
            cavities: vec![Cavity::named(Id(FIRST_ID), "cavity 1")],
            kinds: vec![Kind {
                id: Id(FIRST_ID + 1),
                name: "module".to_owned(),
                ..Kind::default()
            }],
            ..Self::default()
        }
    }

    /// The cavity with this number.
    pub fn cavity(&self, id: Id) -> Option<&Cavity> {
        self.cavities.iter().find(|c| c.id == id)
    }

    /// The kind with this number.
    pub fn kind(&self, id: Id) -> Option<&Kind> {
        self.kinds.iter().find(|k| k.id == id)
    }

    /// The box with this number.
    pub fn battery_box(&self, id: Id) -> Option<&BatteryBox> {
        self.boxes.iter().find(|b| b.id == id)
    }

    /// The keep-out with this number.
    pub fn keep_out(&self, id: Id) -> Option<&KeepOut> {
        self.cavities.iter().flat_map(|c| &c.keep_outs).find(|k| k.id == id)
    }

    /// The placed module or stack with this number, and its box.
    pub fn placed(&self, id: Id) -> Option<(&BatteryBox, &Placed)> {
        self.boxes
            .iter()
            .find_map(|b| b.modules.iter().find(|m| m.id == id).map(|m| (b, m)))
    }

    /// The fitting with this number.
    pub fn fitting(&self, id: Id) -> Option<&WallFitting> {
        self.boxes.iter().flat_map(|b| &b.fittings).find(|f| f.id == id)
    }

    /// Every number in use, in the order of the file.
    pub(crate) fn ids(&self) -> impl Iterator<Item = Id> {
        let cavities = self
            .cavities
            .iter()
            .flat_map(|c| std::iter::once(c.id).chain(c.keep_outs.iter().map(|k| k.id)));
        let kinds = self.kinds.iter().map(|k| k.id);
        let boxes = self
            .boxes
            .iter()
            .flat_map(|b| std::iter::once(b.id).chain(b.numbers_in_it()));
        cavities.chain(kinds).chain(boxes)
    }

    /// A number that is not in use, for anything but a module.
    pub(crate) fn next_id(&self) -> Id {
        self.free_ids().next().unwrap_or(Id(MOST_ID))
    }

    /// A number that is not in use, for a module or a stack.
    pub(crate) fn next_module_id(&self) -> Id {
        self.free_module_ids().next().unwrap_or(Id(MOST_ID))
    }

    /// Numbers that are not in use, for anything but modules: those above the largest first, then the gaps below it, so
    /// that a number that was given away is not soon given to something else.
    pub(crate) fn free_ids(&self) -> impl Iterator<Item = Id> + use<> {
        let largest = self.ids().map(|id| id.0).max().unwrap_or(0);
        self.free_above(largest.max(FIRST_ID - 1))
    }

    /// Numbers that are not in use, for modules: those above the largest of a module first, so that modules count from 1
    /// without holes where nothing else has their numbers.
    pub(crate) fn free_module_ids(&self) -> impl Iterator<Item = Id> + use<> {
        let modules = self.boxes.iter().flat_map(|b| &b.modules);
        self.free_above(modules.map(|m| m.id.0).max().unwrap_or(0))
    }

    fn free_above(&self, largest: u32) -> impl Iterator<Item = Id> + use<> {
        let used: BTreeSet<u32> = self.ids().map(|id| id.0).collect();
        (largest + 1..=MOST_ID)
            .chain(1..=largest)
            .filter(move |n| !used.contains(n))
            .map(Id)
    }
}

impl Cavity {
    /// The name with the word before it that says what it is, unless the name has it: `cavity left`, `cavity 1`.
    pub fn said(name: &str) -> String {
        let has_it = name.get(..6).is_some_and(|word| word.eq_ignore_ascii_case("cavity"));
        if has_it {
            name.to_owned()
        } else {
            format!("cavity {name}")
        }
    }

    /// A cavity without readings.
    pub fn named(id: Id, name: &str) -> Self {
        Self {
            id,
            name: name.to_owned(),
            place: None,
            readings: Vec::new(),
            out_of_reach: Vec::new(),
            laid_on: None,
            statements: Vec::new(),
            openings: Vec::new(),
            keep_outs: Vec::new(),
        }
    }
}
