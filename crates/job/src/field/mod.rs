//! Every value that a person can enter, by name: what it is called, what it takes, what it is now, and how to set it.
//!
//! Screens, edits and the command line all go through here, so a field has one label, one range and one set of words
//! for what went wrong.

mod access;
mod all;
mod road;
mod slot;
mod step;
mod stock;
mod truck;
mod way_in;
mod words;

use geometry::{Axis, Face};
use tape::Length;
use tape::survey::Corner;

pub use all::all;
pub(crate) use all::{check_all, named};
pub use road::RoadField;
pub use truck::TruckField;
pub use way_in::WayField;

use self::slot::{Otherwise, Slot};
use crate::evaluate::rivets;
use crate::{
    BracketsName, CapHeldName, Closing, ConstructionName, Design, Figure, HeldName, HoldDownName, Id, Job, PartSize,
    PlacesOf, assumed,
};

/// Why rivets are closer than usual.
const FROM_THE_LOAD: &str = "from the crash load";

/// Names one value of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(
    missing_docs,
    reason = "the label of each field says what it is; see `label` and `help`"
)]
pub enum Field {
    JobName,
    Truck,
    Revision,
    Notes,
    Units,
    DriveMin,
    DriveMax,
    DriveAbsolute,
    DrivePeak,
    DriveContinuous,
    ChargerMin,
    ChargerMax,
    WantedSeries,
    WantedParallel,
    Sigmas,
    TapeClass,
    ReadingSigma,
    Margin,
    Gap,
    Coating,
    Fraction,
    ShopClass,
    ShopLimits,
    Flatness,
    SheetLimits,
    CoatingLimits,
    LinerLimits,
    ModuleLimits,
    Shop,
    DrawnBy,
    PaperSize,
    Projection,
    Dummies,
    Material,
    Construction,
    BendRule,
    BendRadius,
    CornerGap,
    FrameLeg,
    FrameThickness,
    PanelsHeld,
    Rivet,
    RivetPitch,
    /// Which side rivets are set from.
    RivetHeads,
    /// The bead of sealant under riveted panels.
    Sealant,
    Wall,
    Floor,
    Lid,
    Corners,
    WeldSide,
    WeldLeg,
    Brackets,
    BracketSides,
    HoldDown,
    HoldDownBar,
    Dividers,
    Standoffs,
    StandoffsFixed,
    Clamps,
    LidStiffened,
    StiffenersFixed,
    FloorRails,
    FloorRailsFixed,
    PartSize(PartSize),
    Closing,
    FlangeOut,
    FlangeThickness,
    FlangeJoint,
    Screw,
    ScrewHead,
    ScrewBelow,
    ScrewPitch,
    CapOut,
    CapDeep,
    CapHeld,
    ToggleOut,
    Gasket,
    GasketSqueezed,
    Liner,
    /// What the liner is cut from.
    LinerMaterial,
    Fit,
    RoomOver,
    RoomEnds,
    Bay,
    Tiers,
    BoxesPerCavity,
    BoxKg,
    CuttingMethod,
    Kerf,
    EdgeTrim,
    Turning,
    SawKerf,
    SawTrim,
    KeepOffcut,
    /// The place of a piece is its index in the list of stock.
    StockForm(usize),
    StockMaterial(usize),
    StockThickness(usize),
    StockLength(usize),
    StockWidth(usize),
    StockOnHand(usize),
    StockPrice(usize),
    CavityName(Id),
    /// The place of a reading is its index in the cavity's list.
    ReadingLine(Id, usize),
    ReadingValue(Id, usize),
    ReadingTaken(Id, usize),
    ReadingDecided(Id, usize),
    ReadingNote(Id, usize),
    LaidOn(Id),
    /// The place of a statement is its index in the cavity's list.
    StatementWithin(Id, usize),
    KeepOutName(Id),
    KeepOutSource(Id),
    KeepOutShape(Id),
    KeepOutDiameter(Id),
    KeepOutMeasured(Id),
    KeepOutDistance(Id, Corner),
    KeepOutTravel(Id, Face),
    KeepOutFrom(Id, Axis),
    KeepOutTo(Id, Axis),
    KeepOutMargin(Id),
    KeepOutTaken(Id),
    KeepOutNote(Id),
    KindName(Id),
    KindText(Id),
    KindSize(Id, Axis),
    KindMass(Id),
    KindNominal(Id),
    KindAmpHours(Id),
    KindOnHand(Id),
    KindChemistry(Id),
    KindCellsSeries(Id),
    KindCellsParallel(Id),
    KindEmpty(Id),
    KindFull(Id),
    KindContinuous(Id),
    KindResistance(Id),
    KindPeak(Id),
    KindTerminals(Id),
    KindService(Id),
    KindStance(Id),
    KindStacked(Id),
    StackAlong(Id),
    StackFewest(Id),
    StackMost(Id),
    StackEndPlate(Id),
    StackRodEnd(Id),
    StackGrowth(Id),
    StackHeld(Id),
    BoxName(Id),
    BoxAt(Id, Axis),
    BoxBay(Id),
    BoxSize(Id),
    BoxFixed(Id, Axis),
    /// At which wall the step in the underside of a box is.
    BoxStep(Id),
    BoxStepRun(Id),
    BoxStepRise(Id),
    BoxBuilt(Id, Axis),
    /// The leg of a box's own brackets.
    BoxBracketLeg(Id),
    FittingWhat(Id),
    FittingWall(Id),
    FittingAlong(Id),
    FittingUp(Id),
    FittingHole(Id),
    FittingAcross(Id),
    FittingOut(Id),
    FittingInward(Id),
    PlacedAt(Id, Axis),
    PlacedCount(Id),
    KindCharge(Id),
    KindRestCurve(Id),
    KindPlus(Id, Axis),
    KindMinus(Id, Axis),
    Joined,
    LinkMadeOf,
    Cable,
    Figure(Figure),
    /// The place of a unit is its index in the list of tested units.
    UnitName(usize),
    UnitAmpHours(usize),
    UnitResistance(usize),
    UnitRestVolts(usize),
    UnitNote(usize),
    UnitSetAside(usize),
    UnitSeat(usize),
    /// What the ways in rest on.
    Way(WayField),
    /// A value of the truck on the road.
    OfRoad(RoadField),
    /// A value of the truck.
    OfTruck(TruckField),
    /// Where something goes in or on a box.
    BoxPlaces(Id, PlacesOf),
}

impl Field {
    /// The values of a fitting, in the order they are asked for.
    pub const fn of_fitting(id: Id) -> [Self; 8] {
        [
            Self::FittingWhat(id),
            Self::FittingWall(id),
            Self::FittingAlong(id),
            Self::FittingUp(id),
            Self::FittingHole(id),
            Self::FittingAcross(id),
            Self::FittingOut(id),
            Self::FittingInward(id),
        ]
    }

    /// The fitting that the value is of, if it is of one.
    pub const fn fitting(self) -> Option<Id> {
        match self {
            Self::FittingWhat(id)
            | Self::FittingWall(id)
            | Self::FittingAlong(id)
            | Self::FittingUp(id)
            | Self::FittingHole(id)
            | Self::FittingAcross(id)
            | Self::FittingOut(id)
            | Self::FittingInward(id) => Some(id),
            _ => None,
        }
    }
}

/// Whether a value was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// The person entered or confirmed it.
    Given,
    /// The stated default holds until the person confirms it.
    Assumed,
    /// It is needed, and not there.
    Missing,
    /// It is not there and nothing rests on it.
    Open,
}

/// A field as it is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// What the field is called.
    pub label: &'static str,
    /// The value as text: as written, or the default; empty when missing or open.
    pub text: String,
    /// Whether it was given.
    pub state: State,
    /// The words to choose from, when the field is a choice.
    pub options: Vec<&'static str>,
    /// What the text comes to, where it does not say so itself, a gauge in millimetres and inches; or why a default is another
    /// than usual; else empty.
    pub beside: String,
    /// The nearest mark of an inch, in a job in inches, to a length that the program worked out and that lies on none.
    pub mark: Option<String>,
}

impl Shown {
    /// The value as it is read: `8 7/8" (226 mm)` of a length that lies on no mark of the person's inches, else the text.
    pub fn read_text(&self) -> String {
        match &self.mark {
            Some(mark) => format!("{mark} ({})", to_a_tenth(&self.text)),
            None => self.text.clone(),
        }
    }
}

/// A field that cannot be set so: which field, what was given, what is wrong, how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{label}: {problem}")]
pub struct FieldError {
    /// What the field is called.
    pub label: &'static str,
    /// What was given.
    pub given: String,
    /// What is wrong with it, with what is allowed.
    pub problem: String,
    /// How to mend it, as an instruction.
    pub mend: String,
    /// Where in what was given the trouble is (characters from the start), if that is known.
    pub at: Option<usize>,
}

impl Field {
    /// Whether a box of this design asks for this field. Fields that are not of the design are always asked for.
    pub fn is_asked(self, design: &Design) -> bool {
        let (made, closing) = (design.made(), design.closed_by());
        match self {
            // A tray is one sheet.
            Self::Floor => made != ConstructionName::Folded,
            Self::Corners => made == ConstructionName::Welded,
            // In a frame only the angle is welded, outside the panels.
            Self::WeldSide | Self::Closing => made != ConstructionName::Framed,
            Self::BendRule | Self::BendRadius | Self::CornerGap => made == ConstructionName::Folded,
            Self::FrameLeg | Self::FrameThickness | Self::PanelsHeld => made == ConstructionName::Framed,
            Self::Rivet | Self::RivetPitch | Self::RivetHeads => {
                let panels = made == ConstructionName::Framed && design.panels_held() == HeldName::Riveted;
                panels || design.is_added_riveted()
            }
            Self::Sealant => made == ConstructionName::Framed && design.panels_held() == HeldName::Riveted,
            Self::StandoffsFixed => design.added.standoffs.is_some_and(|s| s != crate::StandoffsName::None),
            Self::StiffenersFixed => design.is_lid_stiffened(),
            Self::FloorRailsFixed | Self::BoxPlaces(_, PlacesOf::FloorRails) | Self::Figure(Figure::FloorRails) => {
                design.is_floor_railed()
            }
            // A frame's ring is the flange, and a tray's lips are of its own sheet.
            Self::FlangeOut => closing == Closing::Flange && made != ConstructionName::Framed,
            Self::FlangeThickness => closing == Closing::Flange && made == ConstructionName::Welded,
            Self::FlangeJoint => closing == Closing::Flange && made != ConstructionName::Folded,
            Self::Screw | Self::ScrewHead | Self::ScrewBelow => match closing {
                Closing::Flange => true,
                Closing::Cap => design.cap_held_by() == CapHeldName::Screws,
                Closing::Flat => false,
            },
            Self::ScrewPitch => match closing {
                Closing::Flange => true,
                Closing::Cap => design.cap_held_by() != CapHeldName::Nothing,
                Closing::Flat => false,
            },
            Self::ToggleOut => closing == Closing::Cap && design.cap_held_by() == CapHeldName::Toggles,
            Self::BracketSides
            | Self::BoxBracketLeg(_)
            | Self::BoxPlaces(_, PlacesOf::BracketsLow | PlacesOf::BracketsHigh)
            | Self::Figure(Figure::BracketsPerSide | Figure::BracketBolts) => design.carried() != BracketsName::None,
            Self::BoxPlaces(_, PlacesOf::HolesLow | PlacesOf::HolesHigh) => design.carried() == BracketsName::Web,
            Self::HoldDownBar
            | Self::BoxPlaces(_, PlacesOf::Bars)
            | Self::Figure(Figure::HoldDownBars | Figure::HoldDownClass) => design.held_down() != HoldDownName::None,
            Self::BoxPlaces(_, PlacesOf::Dividers) => design.is_divided(),
            Self::BoxPlaces(_, PlacesOf::Stiffeners) | Self::Figure(Figure::LidLoad | Figure::LidStiffeners) => {
                design.is_lid_stiffened()
            }
            Self::Figure(Figure::RivetBears) => {
                made == ConstructionName::Framed && design.panels_held() == HeldName::Riveted
            }
            Self::Figure(Figure::BondBears) => {
                made == ConstructionName::Framed && design.panels_held() == HeldName::Bonded
            }
            Self::Figure(Figure::TieRods) => design.are_clamps_cut(),
            Self::PartSize(size) => size.is_asked(&design.added),
            Self::LinerMaterial => design.is_lined(),
            Self::CapOut | Self::CapDeep | Self::CapHeld => closing == Closing::Cap,
            _ => true,
        }
    }

    /// What the field is called.
    pub fn label(self) -> &'static str {
        words::label(self)
    }

    /// What it is for and what it takes, in one sentence.
    pub fn help(self) -> &'static str {
        words::help(self)
    }
}

/// Millimetres with more decimals than anybody types, to a tenth; any other text as it is.
fn to_a_tenth(text: &str) -> String {
    let number = text.strip_suffix(" mm");
    let decimals = number
        .and_then(|n| n.split_once('.'))
        .map_or(0, |(_, decimals)| decimals.len());
    match number.and_then(|n| n.parse::<f64>().ok()) {
        Some(mm) if decimals > 3 => format!("{mm:.1} mm"),
        _ => text.to_owned(),
    }
}

/// The fields as they are now, in the order asked; a field whose subject is gone is left out.
///
/// Reading goes through the same access as writing, so that the two cannot disagree; it works on a copy of the job.
pub fn show(job: &Job, fields: &[Field]) -> Vec<(Field, Shown)> {
    show_riveted(job, fields, || rivets::of_job(job))
}

/// The same, told where to get the pitch of rivets that the load asks for, which takes all boxes to know.
pub(crate) fn show_riveted(job: &Job, fields: &[Field], asked: impl Fn() -> Option<Length>) -> Vec<(Field, Shown)> {
    let mut copy = job.clone();
    fields
        .iter()
        .filter_map(|&field| {
            let mut slot = access::slot(&mut copy, field)?;
            if let (Field::RivetPitch, Slot::Length { otherwise, .. }) = (field, &mut slot)
                && let Some(pitch) = asked()
            {
                *otherwise = Otherwise::Because(assumed::text(pitch, job.units.units()), FROM_THE_LOAD);
            }
            let mut shown = slot.shown(field.label(), job.units.units());
            // A typed length is shown as it was typed; a layout writes these places, and proposals write fittings, too.
            let is_worked_out = shown.state == State::Assumed
                || matches!(field, Field::BoxAt(..) | Field::PlacedAt(..))
                || to_a_tenth(&shown.text) != shown.text;
            shown.mark = shown.mark.filter(|_| is_worked_out);
            Some((field, shown))
        })
        .collect()
}

/// Sets a field from what a person typed.
///
/// An empty text takes an optional value away, so that its default holds again.
///
/// # Errors
///
/// [`FieldError`] when the subject is gone or the text is not a value that the field takes; the job is then unchanged.
pub(crate) fn set(job: &mut Job, field: Field, text: &str) -> Result<(), FieldError> {
    let units = job.units.units();
    let label = field.label();
    let slot = access::slot(job, field).ok_or_else(|| FieldError {
        label,
        given: text.to_owned(),
        problem: "what it belongs to is no longer in the job".to_owned(),
        mend: "undo, or choose another entry".to_owned(),
        at: None,
    })?;
    slot.set(label, text, units)
}
