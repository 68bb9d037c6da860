//! Who and what is aboard: nobody, people, people and cargo, and each set of loads that was named.

use tape::Length;
use truck::TruckError;
use truck::mass::axle::AxleLoads;
use truck::mass::wheel::WheelLoads;
use truck::mass::{Item, Place};
use truck::rating::payload::laden;
use truck::rating::{Ratings, wheel_margins};

use super::{Aboard, Stated, Uncounted, entered_m, metres};
use crate::Job;
use crate::assumed::truck as usual;
use crate::document::{Carried, TruckFigure, Vehicle};

/// A load that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// What it is.
    pub name: String,
    /// The sets it is aboard in.
    pub sets: Vec<String>,
    /// What it weighs, kilograms.
    pub mass_kg: f64,
    /// Behind the front axle, metres.
    pub x_m: f64,
}

/// The loads that count.
pub(super) fn loads(vehicle: &Vehicle) -> Vec<Load> {
    let counts = |load: &Carried| {
        let sets: Vec<String> = load.in_sets().map(ToOwned::to_owned).collect();
        (!sets.is_empty()).then_some(Load {
            name: load.name.clone(),
            sets,
            mass_kg: load.mass_kg?.kg(),
            x_m: entered_m(load.along.as_ref())?,
        })
    };
    vehicle.carried.iter().filter_map(counts).collect()
}

/// The truck with nobody aboard, which all that is aboard is put on.
pub(super) struct Basis {
    pub(super) after: AxleLoads,
    pub(super) wheels: WheelLoads,
    /// Whether the loads rest on assumed values.
    pub(super) loads_assumed: bool,
}

/// The loads with each of them, against every limit.
pub(super) fn stated(
    job: &Job,
    ratings: &Ratings,
    basis: &Basis,
    wheelbase_m: f64,
    cargo_x_m: f64,
) -> Result<Vec<Stated>, TruckError> {
    let mut found = Vec::new();
    for (aboard, items, assumed) in states(job, cargo_x_m) {
        let with = laden(ratings, basis.after, wheelbase_m, &items)?;
        found.push(Stated {
            aboard,
            loads: with.loads,
            wheels: basis.wheels.with_axles(with.loads),
            margins: with.margins,
            of_wheels: wheel_margins(ratings, basis.wheels.with_axles(with.loads))?,
            assumed: basis.loads_assumed || assumed,
        });
    }
    Ok(found)
}

/// Who and what is aboard, with the masses, and whether one of them rests on a default.
fn states(job: &Job, cargo_x_m: f64) -> Vec<(Aboard, Vec<Item>, bool)> {
    let masses = &job.vehicle.masses;
    let figures = &job.vehicle.figures;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "rounded, and within 0 to 9 by the table"
    )]
    let people = figures.sure(TruckFigure::People).round() as u32;
    let seats = masses.seats_at.as_ref().map(crate::Len::value);
    let seats_x_m = metres(seats.or_else(|| usual::seats_at(&job.vehicle)).unwrap_or(Length::ZERO));
    let person_kg = masses.person_kg.unwrap_or(usual::PERSON).kg();
    let mut states = vec![(Aboard::Nobody, Vec::new(), false)];
    let mut aboard = Vec::new();
    let mut assumed = false;
    if people > 0 {
        aboard.push(along(person_kg * f64::from(people), seats_x_m));
        assumed = !figures.is_given(TruckFigure::People) || masses.person_kg.is_none() || masses.seats_at.is_none();
        states.push((Aboard::People(people), aboard.clone(), assumed));
    }
    if let Some(cargo) = masses.cargo_kg {
        aboard.push(along(cargo.kg(), cargo_x_m));
        states.push((Aboard::Cargo(people), aboard, assumed || masses.cargo_at.is_none()));
    }
    let loads = loads(&job.vehicle);
    states.extend(sets(&loads).into_iter().map(|name| {
        let of_set = loads.iter().filter(|load| load.sets.iter().any(|set| set == name));
        let items = of_set.map(|load| along(load.mass_kg, load.x_m)).collect();
        (Aboard::Set(name.to_owned()), items, false)
    }));
    states
}

/// The names of the sets, in the order they come up.
fn sets(loads: &[Load]) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for name in loads.iter().flat_map(|load| &load.sets) {
        if !names.contains(&name.as_str()) {
            names.push(name);
        }
    }
    names
}

fn along(mass_kg: f64, x_m: f64) -> Item {
    Item {
        mass_kg,
        at: Place {
            x_m,
            ..Place::default()
        },
    }
}

/// Loads that do not count, and why not.
pub(super) fn uncounted(vehicle: &Vehicle) -> impl Iterator<Item = Uncounted> + '_ {
    vehicle.carried.iter().filter_map(|load| {
        let why = match (load.mass_kg, &load.along, load.in_sets().next()) {
            (None, ..) => "its mass is not entered",
            (_, None, _) => "how far it is behind the front axle is not entered",
            (.., None) => "it is in no set of loads",
            _ => return None,
        };
        Some(Uncounted {
            name: load.name.clone(),
            why: why.to_owned(),
            fix: "open it on the Truck page and enter it",
            mass_kg: None,
        })
    })
}
