//! The job: what the person decided or measured, its file, its edits with undo, and `evaluate`, which derives every
//! figure from it.
//!
//! The flow is one straight line: an [`Edit`] changes a [`Job`], [`evaluate`] turns the job into an [`Evaluation`], and
//! screens, papers and checks read that and compute nothing.

mod assumed;
pub mod changes;
mod document;
mod edit;
mod evaluate;
mod example;
pub mod field;
mod file;
mod file_kinds;
mod finding;
mod fixings;
pub mod glands;
mod history;
pub mod layout;
pub mod nesting;
mod offered;
mod on_sale;
mod schema;
pub mod shopping;
pub mod store;
pub mod units;
pub mod way_in;
pub mod what_if;
mod whole;
pub mod wiring;

pub use ::truck::mass::wheel::Wheel;
pub use document::*;
pub use edit::{BedEdit, Edit, EditError, StockEdit, TruckEdit, UnitsEdit, WiringEdit};
pub use enclosure::strength::FIRST_ORDER;
pub use evaluate::SheetResult;
pub use evaluate::{
    Aboard, AxleRow, Axles, BedAtStop, BedTail, BoxLift, BoxMove, Counted, FrontShare, GroundFigures, GroundResult,
    GroundRow, Half, HeightConflict, HoistRoom, Low, LowestBox, Of, OffBy, Outline, RampCorner, Reweighed, SideBox,
    Stated, Sunk, TruckFact, TruckLoad, TruckResult, Uncounted, box_kg_words, box_words, degrees_words, hands_limits,
    kg_words, left_words, lift_limit_words, lift_words, mass_words,
};
pub use evaluate::{
    Above, BoxMass, BoxResult, CableExit, Cause, CavityResult, CentreHeight, ClearanceResult, Crossing, Cut, Dimension,
    Evaluation, FitChance, FittingResult, Headline, Heaviest, InBox, KeepOutResult, KindResult, Ledger, LedgerEntry,
    Losses, ModuleResult, NOT_IN_CHANCE, Near, Next, OutOfSquare, PackResult, ReadingResult, Room, Roomiest, Share,
    SixClearances, Standing, StatementResult, Survey, Surveyed, Suspect, Tightest, Unknown, Unplaced, Unused,
    UsableShare, Used, Why, evaluate, evaluate_after, give_or_take, percent,
};
pub use evaluate::{
    AddedResult, BracketLeg, BracketMount, BracketSeat, Clash, EyePlateResult, FloorRailsResult, FrameHole, HeldDown,
    LegFrom, LidResult, LinerResult, Lower, RailSays, RivetsMet,
};
pub use evaluate::{
    Apart, ChargeRow, Circuit, DriveRow, Driven, Drives, Entry, GearRow, Gears, Isolation, Missing, OpenVolts,
    OverPower, PanelReach, PanelRoom, Pull, Ranges, RoadResult, RoadTable, SpeedRow, Step, Sun, SunMonth, SunSeason,
    distance_words, grade_words, per_distance_words, speed_words,
};
pub use evaluate::{
    BarLength, Charging, Check, Cruise, CurvePoint, Disconnect, Electric, End, Energy, Fitting, FittingStep, Group,
    JoinLimit, LinkKind, LinkResult, Load, LoadRow, Loaded, Matched, Neighbour, OrderFrom, Rated, Resistances,
    SeatResult, Tap, UnitResult, Verdict, Warmth, Window, WiringResult, figures_in_words,
};
pub use evaluate::{BoxStrength, CornerMet, LidReach, Lift, NoRoom, StrengthCheck, Sum, ToolAt, Trapped, known_words};
pub use example::{EXAMPLES, Example, example};
pub use field::{Field, FieldError, RoadField, Shown, State, TruckField, WayField};
pub use file::{FORMAT, LoadError, VERSION, load, to_text};
pub use finding::{Assumption, Finding, Grave, Subject, Touches};
pub use history::History;
pub use on_sale::on_sale;
pub use schema::schema_text;
pub use tape::survey::Corner;
pub use whole::Fault;
