//! The truck on the road: what it takes and how far it goes, its gears, how long it charges, and what panels add.
//!
//! Pure functions from the entries and the figures of the pack to results; a whole road takes some tens of microseconds,
//! so it is worked out with everything else. What cannot be told for want of an entry is `None`, and [`RoadResult::missing`]
//! says which entry.

mod charge;
mod drives;
pub(super) mod entries;
mod gears;
pub(super) mod given;
mod open_volts;
mod packs;
mod sources;
mod sun;
mod table;

pub use charge::ChargeRow;
pub use drives::{DriveRow, Driven, OverPower, Ranges, SpeedRow};
pub use entries::Entry;
pub use gears::{GearRow, Gears, Pull};
pub use open_volts::{OpenVolts, Reach as PanelReach};
pub use packs::{Apart, Drives};
pub use sun::{Isolation, PanelRoom, Step, Sun, SunMonth, SunSeason};
pub use table::{RoadTable, distance_words, grade_words, per_distance_words, speed_words};

use given::{Given, MassGiven};
use tape::Units;

use super::pack::PackResult;
use super::vehicle::{Aboard, TruckResult};
use crate::{Field, Job};

/// Everything about the truck on the road.
#[derive(Clone, Debug, PartialEq)]
pub struct RoadResult {
    /// The units the person works in: miles go with inches, kilometres with millimetres.
    pub units: Units,
    /// Whether the mass, the gears or panels are known, so that it is worth showing.
    pub is_asked: bool,
    /// Every entry with its source, as far as it is used.
    pub entries: Vec<Entry>,
    /// What it takes and how far it goes; `None` while the mass is not known.
    pub driven: Option<Driven>,
    /// The speed that gears are chosen for, metres a second.
    pub cruise_mps: f64,
    /// The highest speed asked for, metres a second.
    pub top_mps: f64,
    /// How far it has to go in a day, metres.
    pub wanted_m: Option<f64>,
    /// Its gears; `None` while something for them is missing.
    pub gears: Option<Gears>,
    /// Charging from common supplies, then from the person's own; empty while no pack is known.
    pub charging: Vec<ChargeRow>,
    /// What the charge line is rated for and what is drawn from it for hours, amps, when its breaker is known.
    pub circuit: Option<Circuit>,
    /// What panels add; `None` while their watts are not entered.
    pub sun: Option<Sun>,
    /// How much of the charge is driven on; `None` while no pack is known.
    pub share: Option<UsableShare>,
    /// The packs whose energy counts.
    pub drives: Vec<Drives>,
    /// The packs that do not count, with why not.
    pub apart: Vec<Apart>,
    /// What cannot be told, and which entry it waits for.
    pub missing: Vec<Missing>,
    /// Entries that contradict each other, in words.
    pub troubles: Vec<String>,
}

impl RoadResult {
    /// Whether usable energy was entered, and so is not that of the packs.
    fn is_energy_entered(&self) -> bool {
        let field = Field::OfRoad(crate::RoadField::Figure(crate::RoadFigure::UsableKwh));
        self.entries
            .iter()
            .any(|entry| entry.field == field && entry.source == entries::YOURS)
    }

    /// Whether the packs' energy is what range and charging rest on.
    pub fn rests_on_packs(&self) -> bool {
        self.is_asked && !self.drives.is_empty() && !self.is_energy_entered()
    }
}

/// How the states of charge used between and the reserve join to what is driven on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsableShare {
    /// The states of charge used between, each of the whole; `None` where usable energy was entered, which has them in it.
    pub between: Option<[f64; 2]>,
    /// What of that is kept in reserve, of the usable energy.
    pub reserve: f64,
}

impl UsableShare {
    /// What is driven on: of the whole charge, or of the usable energy as entered.
    pub fn driven(&self) -> f64 {
        self.between.map_or(1.0, |[low, high]| (high - low).max(0.0)) * (1.0 - self.reserve)
    }

    /// In words: `72 % of the charge: 10 to 90 %, less 10 % in reserve`.
    pub fn words(&self) -> String {
        let [driven, reserve] = [self.driven(), self.reserve].map(|share| share * 100.0);
        match self.between {
            Some(both) => {
                let [low, high] = both.map(|share| share * 100.0);
                format!("{driven:.0} % of the charge: {low:.0} to {high:.0} %, less {reserve:.0} % in reserve")
            }
            None => format!("{driven:.0} % of the usable energy entered, less {reserve:.0} % in reserve"),
        }
    }
}

fn share(given: &Given<'_>) -> Option<UsableShare> {
    given.usable_kwh()?;
    let is_entered = given.entered(crate::RoadFigure::UsableKwh).is_some();
    Some(UsableShare {
        between: (!is_entered).then(|| given.window()),
        reserve: given.share(crate::RoadFigure::Reserve),
    })
}

/// A circuit and what is drawn from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// Rating of its breaker, amps.
    pub rated_a: f64,
    /// What it gives for hours, amps.
    pub for_hours_a: f64,
    /// What the charger draws, amps.
    pub drawn_a: f64,
}

/// A result that waits for an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Missing {
    /// What cannot be told.
    pub what: &'static str,
    /// The entry it waits for.
    pub field: Field,
}

/// What is collected on the way.
#[derive(Default)]
struct Notes {
    missing: Vec<Missing>,
    troubles: Vec<String>,
}

impl Notes {
    fn miss(&mut self, what: &'static str, field: Field) {
        self.missing.push(Missing { what, field });
    }

    /// The value, or a note of what is wrong.
    fn take<T>(&mut self, found: Result<T, truck::TruckError>) -> Option<T> {
        found.map_err(|error| self.troubles.push(error.to_string())).ok()
    }
}

/// What the truck weighs on the road by its axles, when they are known: with its people aboard, without cargo, and with
/// what goes in though it has no place yet. `assumed_masses` tells whether masses of boxes rest on assumed values.
pub(super) fn weighed(vehicle: &TruckResult, assumed_masses: bool) -> Option<MassGiven> {
    let axles = vehicle.axles.as_ref()?;
    let people = axles
        .stated
        .iter()
        .find(|stated| matches!(stated.aboard, Aboard::People(_)));
    let (loads, aboard, is_assumed) = people.map_or((&axles.after, &Aboard::Nobody, axles.loads_assumed), |stated| {
        (&stated.loads, &stated.aboard, stated.assumed)
    });
    let without_place: Vec<(&str, f64)> = vehicle
        .uncounted
        .iter()
        .filter_map(|one| Some((one.name.as_str(), one.mass_kg?)))
        .collect();
    let each: Vec<String> = without_place
        .iter()
        .map(|(name, kg)| format!("{name} {kg:+.0} kg"))
        .collect();
    let and = if each.is_empty() {
        String::new()
    } else {
        format!("; counted without a place in the truck: {}", each.join(", "))
    };
    Some(MassGiven {
        kg: loads.total_kg() + without_place.iter().map(|(_, kg)| kg).sum::<f64>(),
        from: format!(
            "its axle loads after the work{}, {}{and}",
            if axles.is_weighed { " as weighed" } else { "" },
            aboard.words()
        ),
        is_assumed: is_assumed || (assumed_masses && !without_place.is_empty()),
    })
}

/// Works it all out.
pub(super) fn evaluate(job: &Job, packs: &[PackResult], weighed: Option<MassGiven>) -> RoadResult {
    let given = &Given::of(job, packs, weighed);
    let mut notes = Notes::default();
    let driven = drives::evaluate(given, &mut notes);
    let gears = gears::evaluate(given, &mut notes);
    let (charging, circuit) = charge::evaluate(given, driven.as_ref(), &mut notes);
    let sun = sun::evaluate(given, driven.as_ref(), &mut notes);
    let is_asked = driven.is_some() || gears.is_some() || sun.is_some();
    RoadResult {
        units: given.units,
        is_asked,
        entries: if is_asked {
            entries::list(job, given)
        } else {
            Vec::new()
        },
        driven,
        cruise_mps: given.cruise_mps(),
        top_mps: given.top_mps(),
        wanted_m: given.road.a_day.map(crate::Distance::si),
        gears,
        charging,
        circuit,
        sun,
        share: share(given),
        drives: given.packs.count.clone(),
        apart: given.packs.apart.clone(),
        missing: notes.missing,
        troubles: notes.troubles,
    }
}
