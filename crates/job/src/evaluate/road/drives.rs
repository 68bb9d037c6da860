//! What the truck takes at a steady speed and on the drives of the regulations, and how far it goes.

use truck::cycle::{Band, Energy, energy, mixed_wh_per_mile, range};
use truck::cycles::{ALL, Known};
use truck::road::{Steady, Vehicle};
use truck::units::M_PER_MILE;

use super::Notes;
use super::given::Given;
use crate::document::RoadFigure;
use crate::{Field, RoadField};

/// The truck driven. Energies are from the pack, without the loss of the charger.
#[derive(Clone, Debug, PartialEq)]
pub struct Driven {
    /// The mass it is told for, kilograms.
    pub mass_kg: f64,
    /// Where the mass is from.
    pub mass_from: String,
    /// The grade that steady speeds are told for, rise over run.
    pub grade: f64,
    /// Steady speeds on that grade, in summer.
    pub curve: Vec<SpeedRow>,
    /// At the cruising speed on that grade, in summer and in winter.
    pub cruise: [SpeedRow; 2],
    /// At the top speed on that grade, in summer.
    pub top: SpeedRow,
    /// The drives of the regulations.
    pub drives: Vec<DriveRow>,
    /// City and country mixed by miles, watt-hours a mile, in summer and in winter.
    pub mixed_wh_per_mile: [f64; 2],
    /// Usable energy, kWh, in summer and in winter; `None` while no pack is known.
    pub usable_kwh: Option<[f64; 2]>,
    /// Mixed range with the reserve kept back; `None` while no pack is known.
    pub range: Option<Ranges>,
    /// Power that is asked for and is not there.
    pub over: Vec<OverPower>,
}

/// Ranges in summer and in winter, metres, each as a band: as in everyday use, and as on the drives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranges {
    /// A warm day.
    pub summer: Band,
    /// A cold day with the heater on. Its lower end counts some of the cold twice: the factor for everyday use has
    /// winters in it.
    pub winter: Band,
}

/// A steady speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedRow {
    /// Metres a second.
    pub speed_mps: f64,
    /// At the wheels, watts.
    pub wheel_w: f64,
    /// From the pack, watts.
    pub pack_w: f64,
    /// From the pack, watt-hours a mile.
    pub wh_per_mile: f64,
    /// How far that goes with the reserve kept back, metres; `None` while no pack is known.
    pub range_m: Option<f64>,
}

/// A drive of the regulations.
#[derive(Clone, Debug, PartialEq)]
pub struct DriveRow {
    /// Its name.
    pub name: &'static str,
    /// What it is.
    pub words: &'static str,
    /// Where it is from.
    pub source: String,
    /// How long it is, metres.
    pub distance_m: f64,
    /// From the pack, watt-hours a mile, in summer and in winter.
    pub wh_per_mile: [f64; 2],
    /// The most power at the wheels, watts.
    pub peak_wheel_w: f64,
    /// The most power from the pack, watts.
    pub peak_pack_w: f64,
    /// How far it goes, in summer and in winter, the reserve kept back; `None` while no pack is known.
    pub range: Option<[Band; 2]>,
}

/// Power that something asks for and that is not there.
#[derive(Clone, Debug, PartialEq)]
pub struct OverPower {
    /// What asks for it, as `US06, hard driving` or `65 mph on the level`, `65 mph up 3 %`.
    pub asks: String,
    /// Whether it is everyday driving rather than hard driving.
    pub is_everyday: bool,
    /// What does not give it: `motor` or `pack`.
    pub of: &'static str,
    /// What is asked for, watts.
    pub asked_w: f64,
    /// What there is, watts.
    pub there_is_w: f64,
}

pub(super) fn evaluate(given: &Given<'_>, notes: &mut Notes) -> Option<Driven> {
    let Some(mass) = &given.mass else {
        notes.miss(
            "what the truck takes and how far it goes",
            Field::OfRoad(RoadField::Mass),
        );
        return None;
    };
    let vehicles = notes.take(given.vehicles(mass.kg))?;
    let kept = 1.0 - given.share(RoadFigure::Reserve);
    let usable_kwh = given
        .usable_kwh()
        .map(|kwh| [kwh, kwh * given.share(RoadFigure::ColdLeft)]);
    if usable_kwh.is_none() {
        notes.miss("range", Field::OfRoad(RoadField::Figure(RoadFigure::UsableKwh)));
    }
    let drivable = usable_kwh.map(|both| both.map(|kwh| kwh * kept));
    let grade = given.share(RoadFigure::Grade);
    let at = |vehicle: &Vehicle, season: usize, speed_mps: f64| {
        vehicle
            .steady(speed_mps, grade)
            .map(|steady| speed_row(&steady, drivable.map(|both| both[season])))
    };
    let curve: Result<Vec<SpeedRow>, _> = given.speeds_mps().into_iter().map(|v| at(&vehicles[0], 0, v)).collect();
    let curve = notes.take(curve)?;
    let cruise = [
        notes.take(at(&vehicles[0], 0, given.cruise_mps()))?,
        notes.take(at(&vehicles[1], 1, given.cruise_mps()))?,
    ];
    let top = notes.take(at(&vehicles[0], 0, given.top_mps()))?;
    let mut drives = Vec::with_capacity(ALL.len());
    let mut energies = Vec::with_capacity(ALL.len());
    for known in ALL {
        let both = [
            notes.take(energy(&vehicles[0], known.cycle()))?,
            notes.take(energy(&vehicles[1], known.cycle()))?,
        ];
        drives.push(drive_row(given, known, &both, usable_kwh, notes));
        energies.push((known, both));
    }
    let of = |wanted: Known, season: usize| {
        energies
            .iter()
            .find(|(known, _)| *known == wanted)
            .map(|(_, both)| both[season])
            .unwrap_or_default()
    };
    let city_share = given.share(RoadFigure::CityShare);
    let mixed = |season| mixed_wh_per_mile(&of(Known::Udds, season), &of(Known::Hwfet, season), city_share);
    let mixed = [notes.take(mixed(0))?, notes.take(mixed(1))?];
    let band = |season: usize, kwh: f64| Band::of_cycle(kwh * 1_000.0 / mixed[season] * M_PER_MILE);
    let range = drivable
        .filter(|_| mixed.iter().all(|wh| *wh > 0.0))
        .map(|[summer, winter]| Ranges {
            summer: band(0, summer),
            winter: band(1, winter),
        });
    let over = over_power(given, &drives, &top);
    Some(Driven {
        mass_kg: mass.kg,
        mass_from: mass.from.clone(),
        grade,
        curve,
        cruise,
        top,
        drives,
        mixed_wh_per_mile: mixed,
        usable_kwh,
        range,
        over,
    })
}

fn speed_row(steady: &Steady, drivable_kwh: Option<f64>) -> SpeedRow {
    SpeedRow {
        speed_mps: steady.speed_mps,
        wheel_w: steady.wheel_w,
        pack_w: steady.pack_w,
        wh_per_mile: steady.wh_per_mile(),
        range_m: drivable_kwh.and_then(|kwh| steady.range_m(kwh)),
    }
}

fn drive_row(
    given: &Given<'_>,
    known: Known,
    both: &[Energy; 2],
    usable_kwh: Option<[f64; 2]>,
    notes: &mut Notes,
) -> DriveRow {
    let reserve = given.share(RoadFigure::Reserve);
    let range = usable_kwh.and_then(|[summer, winter]| {
        Some([
            notes.take(range(summer, reserve, &both[0]))?,
            notes.take(range(winter, reserve, &both[1]))?,
        ])
    });
    DriveRow {
        name: known.name(),
        words: known.words(),
        source: known.source().words(),
        distance_m: both[0].distance_m,
        wh_per_mile: [both[0].wh_per_mile(), both[1].wh_per_mile()],
        peak_wheel_w: both[0].peak_wheel_w,
        peak_pack_w: both[0].peak_pack_w,
        range,
    }
}

/// Everything that asks for more than the motor or the pack gives.
fn over_power(given: &Given<'_>, drives: &[DriveRow], top: &SpeedRow) -> Vec<OverPower> {
    let motor_w = given.entered(RoadFigure::MotorKw).map(|kw| kw * 1_000.0);
    // At nominal volts, without the sag that the amps cause: what the drive draws for a short time at the most.
    let pack_w = given
        .pack
        .zip(given.drive_peak_a)
        .map(|(pack, amps)| pack.nominal_v * amps);
    let hard = Known::Us06.name();
    let asked = drives
        .iter()
        .map(|drive| {
            let asks = format!("{}, {}", drive.name, drive.words);
            (asks, drive.name != hard, drive.peak_wheel_w, drive.peak_pack_w)
        })
        .chain(std::iter::once((
            format!(
                "{} {}",
                super::speed_words(given.units, top.speed_mps),
                super::grade_words(given.share(RoadFigure::Grade))
            ),
            true,
            top.wheel_w,
            top.pack_w,
        )));
    let mut over = Vec::new();
    for (asks, is_everyday, wheel_w, from_pack_w) in asked {
        for (of, asked_w, limit_w) in [("motor", wheel_w, motor_w), ("pack", from_pack_w, pack_w)] {
            if let Some(there_is_w) = limit_w.filter(|limit| asked_w > *limit) {
                over.push(OverPower {
                    asks: asks.clone(),
                    is_everyday,
                    of,
                    asked_w,
                    there_is_w,
                });
            }
        }
    }
    over
}
