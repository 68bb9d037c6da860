//! What the boxes do to the truck: axle and wheel loads against what they may be, ground clearance, and how each box is
//! lifted. Figures are in kilograms and metres, in the frame of the truck.

mod axles;
mod bed;
mod counted;
mod faults;
mod ground;
mod halves;
mod height;
mod laden;
mod lift;
mod scale;
mod words;

pub use axles::{Aboard, Axles, BoxMove, FrontShare, OffBy, Reweighed, Stated};
pub use bed::{BedAtStop, HoistRoom, Tail as BedTail};
pub(in crate::evaluate) use counted::centre as centre_of_box;
pub use counted::{Counted, Of, Uncounted};
pub use ground::{Corner, GroundFigures, GroundResult, Low, LowestBox, Outline, SideBox, Sunk};
pub use halves::Half;
pub use height::HeightConflict;
pub use laden::Load;
pub use lift::{BoxLift, hands_limits};
pub(in crate::evaluate) use words::down;
pub use words::{
    GroundRow, LoadRow as AxleRow, TruckFact, box_kg_words, box_words, degrees_words, kg_words, left_words,
    lift_limit_words, lift_words, mass_words,
};

use truck::mass::Axle;

use super::boxes::BoxResult;
use super::kind::KindResult;
use crate::assumed::FRACTION;
use crate::document::Vehicle;
use crate::finding::Touches;
use crate::{Job, Len};

/// What follows for the truck.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TruckResult {
    /// Whether anything of a truck was entered that has no default.
    pub entered: bool,
    /// What comes out and goes in with mass and place: components first, then boxes.
    pub counted: Vec<Counted>,
    /// What does not count, and why not.
    pub uncounted: Vec<Uncounted>,
    /// The loads that count, with the sets they are aboard in.
    pub carried: Vec<Load>,
    /// Axle loads and what follows; `None` while wheelbase or an axle's load before the work is not entered.
    pub axles: Option<Axles>,
    /// Entries that do not count while another is open.
    pub halves: Vec<Half>,
    /// What is still needed for the axle loads.
    pub needed: Vec<&'static str>,
    /// Readings of an axle and of its wheels that contradict each other.
    pub conflicts: Vec<String>,
    /// Why an entry cannot be worked with.
    pub faults: Vec<String>,
    /// What is under the truck; `None` without a wheelbase.
    pub ground: Option<GroundResult>,
    /// The bed at its stop; `None` without hinge, tilt and parts.
    pub bed: Option<BedAtStop>,
    /// How each box is lifted.
    pub lifts: Vec<BoxLift>,
}

impl TruckResult {
    /// The counted box of this number.
    pub fn counted_box(&self, id: crate::Id) -> Option<&Counted> {
        self.counted.iter().find(|counted| counted.of == Of::Box(id))
    }
}

/// Works it out; `assumed` are the job's figures that rest on assumed values.
pub(super) fn evaluate(job: &Job, boxes: &[BoxResult], kinds: &[KindResult], assumed: Touches) -> TruckResult {
    let mut result = TruckResult {
        entered: job.vehicle.is_told(),
        bed: bed::evaluate(job, boxes),
        lifts: lift::list(boxes, kinds),
        ..TruckResult::default()
    };
    (result.counted, result.uncounted) = counted::list(job, boxes, kinds);
    result.uncounted.extend(laden::uncounted(&job.vehicle));
    result.carried = laden::loads(&job.vehicle);
    result.halves = halves::list(job);
    result.conflicts = scale::conflicts(job);
    result.needed = needed(&job.vehicle);
    let style = super::style(job.units.units(), job.settings.fraction.unwrap_or(FRACTION));
    match axles::evaluate(job, &result.counted, boxes, assumed) {
        Ok(axles) => {
            result.faults.extend(
                axles
                    .as_ref()
                    .and_then(|a| Some(faults::words(a.height_fault.as_ref()?, style))),
            );
            result.axles = axles;
        }
        Err(error) => result
            .faults
            .push(faults::of_axles(job, &result.counted, &error, style)),
    }
    if result.axles.as_ref().is_some_and(|axles| axles.is_weighed) {
        // The scale has what was put on and not what was taken off, wherever it is.
        result.uncounted.iter_mut().for_each(|one| one.mass_kg = None);
    }
    match ground::evaluate(job, boxes, result.axles.as_ref()) {
        Ok(ground) => result.ground = ground,
        Err(error) => result.faults.push(faults::words(&error, style)),
    }
    result
}

/// What the axle loads cannot do without.
fn needed(vehicle: &Vehicle) -> Vec<&'static str> {
    let masses = &vehicle.masses;
    let is_missing = |axle| scale::of_axle(masses, scale::When::Before, axle).is_none();
    [
        (masses.wheelbase.is_none(), "the wheelbase"),
        (is_missing(Axle::Front), "the front axle before the work"),
        (is_missing(Axle::Rear), "the rear axle before the work"),
    ]
    .into_iter()
    .filter_map(|(is_missing, what)| is_missing.then_some(what))
    .collect()
}

/// Metres of a length.
fn metres(length: tape::Length) -> f64 {
    length.as_mm() / 1_000.0
}

/// Metres of a length as entered.
fn entered_m(length: Option<&Len>) -> Option<f64> {
    length.map(|length| metres(length.value()))
}

/// A length of so many metres, to the nearest nanometre.
fn length(metres: f64) -> tape::Length {
    tape::Length::from_mm(metres * 1_000.0)
}
