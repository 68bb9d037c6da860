//! How fast the motor turns in each gear, and which gear to use.

use truck::gear::tyre::{ROLLING_FACTOR, Tyre, UNNAMED_ASPECT_PCT};
use truck::gear::{Gearing, Suits};

use super::Notes;
use super::given::Given;
use crate::document::RoadFigure;
use crate::document::truck::road::gears;
use crate::{Field, RoadField};

/// The gears that are kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Gears {
    /// How far the truck goes for one turn of the wheel, metres.
    pub rolling_m: f64,
    /// Where that is from.
    pub rolling_from: String,
    /// Turns of the propshaft for one of the wheel.
    pub final_drive: f64,
    /// What the motor may turn, revolutions a minute.
    pub limit_rpm: f64,
    /// The speeds that the rows tell, metres a second.
    pub speeds_mps: Vec<f64>,
    /// Gear by gear.
    pub rows: Vec<GearRow>,
    /// The gear for the cruising speed, as its place in the rows; `None` when none suits.
    pub best: Option<usize>,
    /// Why that one.
    pub best_why: &'static str,
}

/// One gear.
#[derive(Clone, Debug, PartialEq)]
pub struct GearRow {
    /// 1 for the first.
    pub number: usize,
    /// Turns of the motor for one of the propshaft.
    pub ratio: f64,
    /// Revolutions a minute at each speed.
    pub rpm: Vec<f64>,
    /// Revolutions a minute at the cruising speed, and how that suits.
    pub at_cruise: (f64, Suits),
    /// The same at the top speed asked for.
    pub at_top: (f64, Suits),
    /// The speed at the motor's limit, metres a second.
    pub top_mps: f64,
    /// What it pulls with the motor's peak torque; `None` while that is not entered.
    pub pull: Option<Pull>,
}

/// What the truck pulls in a gear with the motor's peak torque, up to the motor's base speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// At the wheels, newtons.
    pub force_n: f64,
    /// The steepest grade that it moves off on, rise over run, and no steeper than 1 in 1; `None` while the mass is not known.
    pub climb: Option<f64>,
}

impl Pull {
    /// The steepest grade in words, rounded down: `23 %`, or `-` while the mass is not known.
    pub fn climb_words(&self) -> String {
        match self.climb {
            None => "-".to_owned(),
            Some(climb) if climb >= 1.0 => "100 % and more".to_owned(),
            Some(climb) => format!("{:.0} %", (climb * 100.0 + 1e-9).floor()),
        }
    }
}

pub(super) fn evaluate(given: &Given<'_>, notes: &mut Notes) -> Option<Gears> {
    let gearing = gearing(given, notes);
    let (gearing, rolling_from) = gearing?;
    let cruise = notes.take(gearing.table(given.cruise_mps()))?;
    let top = notes.take(gearing.table(given.top_mps()))?;
    let speeds_mps = given.speeds_mps();
    let vehicle = given.mass.as_ref().and_then(|mass| given.vehicles(mass.kg).ok());
    let pull = |ratio: f64| {
        let force_n = gearing.pull_n(
            ratio,
            given.entered(RoadFigure::MotorNm)?,
            given.share(RoadFigure::DriveEfficiency),
        );
        let climb = vehicle.and_then(|[summer, _]| summer.climb(force_n).ok());
        Some(Pull { force_n, climb })
    };
    let rows: Vec<GearRow> = cruise
        .iter()
        .zip(&top)
        .enumerate()
        .map(|(place, (cruise, top))| GearRow {
            number: place + 1,
            ratio: cruise.ratio,
            rpm: speeds_mps
                .iter()
                .map(|speed| gearing.motor_rpm(cruise.ratio, *speed))
                .collect(),
            at_cruise: (cruise.motor_rpm, cruise.suits),
            at_top: (top.motor_rpm, top.suits),
            top_mps: cruise.top_mps,
            pull: pull(cruise.ratio),
        })
        .collect();
    let (best, best_why) = best(given, &rows);
    Some(Gears {
        rolling_m: gearing.rolling_m,
        rolling_from,
        final_drive: gearing.final_drive,
        limit_rpm: gearing.limit_rpm,
        speeds_mps,
        rows,
        best,
        best_why,
    })
}

/// What is between motor and road, with where the circumference is from. Nothing is missed while no gear was entered.
fn gearing(given: &Given<'_>, notes: &mut Notes) -> Option<(Gearing, String)> {
    const WHAT: &str = "motor speed in each gear";
    let entered = given.road.gears.as_deref().and_then(|text| gears::read(text).ok());
    let rolling = rolling(given, notes);
    let limit_rpm = given.entered(RoadFigure::LimitRpm);
    let final_drive = given.entered(RoadFigure::FinalDrive);
    let waits = [
        (entered.is_none(), RoadField::Gears),
        (rolling.is_none(), RoadField::Tyre),
        (final_drive.is_none(), RoadField::Figure(RoadFigure::FinalDrive)),
        (limit_rpm.is_none(), RoadField::Figure(RoadFigure::LimitRpm)),
    ];
    for (_, field) in waits.into_iter().filter(|(is_missing, _)| *is_missing) {
        notes.miss(WHAT, Field::OfRoad(field));
    }
    let (rolling_m, rolling_from) = rolling?;
    let gearing = Gearing {
        rolling_m,
        final_drive: final_drive?,
        gears: entered?,
        limit_rpm: limit_rpm?,
        base_rpm: given.entered(RoadFigure::BaseRpm),
    };
    Some((gearing, rolling_from))
}

/// The circumference as rolled out, else as the tyre's size has it.
fn rolling(given: &Given<'_>, notes: &mut Notes) -> Option<(f64, String)> {
    if let Some(rolled) = &given.road.rolled {
        return Some((rolled.value().as_mm() / 1_000.0, "rolled out on the floor".to_owned()));
    }
    let text = given.road.tyre.as_deref()?;
    let tyre: Tyre = text.parse().ok()?;
    let rolling_m = notes.take(tyre.size.rolling_m(ROLLING_FACTOR.value))?;
    let height = if tyre.is_unnamed {
        format!(
            "; its side wall taken as {:.0} % of its width: {}",
            UNNAMED_ASPECT_PCT.value,
            UNNAMED_ASPECT_PCT.source.words()
        )
    } else {
        String::new()
    };
    let from = format!(
        "{} diameters of a {text}; {}{height}",
        ROLLING_FACTOR.value,
        ROLLING_FACTOR.source.words()
    );
    Some((rolling_m, from))
}

/// Of the gears that suit the cruising speed: the one in which the motor turns nearest to its best speed; without one,
/// the one in which it turns slowest.
fn best(given: &Given<'_>, rows: &[GearRow]) -> (Option<usize>, &'static str) {
    let suiting = rows
        .iter()
        .enumerate()
        .filter(|(_, row)| row.at_cruise.1 == Suits::Well);
    let (key, why): (Box<dyn Fn(f64) -> f64>, _) = match given.entered(RoadFigure::BestRpm) {
        Some(best) => (
            Box::new(move |rpm: f64| (rpm - best).abs()),
            "nearest to the motor's best speed",
        ),
        None => (Box::new(|rpm| rpm), "the slowest that the motor may turn there"),
    };
    let best = suiting.min_by(|(_, a), (_, b)| key(a.at_cruise.0).total_cmp(&key(b.at_cruise.0)));
    match best {
        Some((place, _)) => (Some(place), why),
        None => (
            None,
            "no gear keeps the motor between its base speed and its limit there",
        ),
    }
}
