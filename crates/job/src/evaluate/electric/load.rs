//! Energy, resistance, volts and power under load, heat, charging.

use pack::arithmetic::{units_resistance, usable_energy};
use pack::arrangement::{Arrangement, Figures};
use pack::load::{self, MostPower, Regen};
use pack::ocv::OcvCurve;
use pack::thermal;
use pack::{Amps, Ohms, Volts};

use crate::document::Figure;
use crate::evaluate::kind::KindResult;
use crate::{Job, assumed, document};

pub use pack::load::Loaded;

/// What a pack holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Energy {
    /// By the amp-hours entered for a module, kWh.
    pub sticker_kwh: f64,
    /// What is left of it, kWh: by the units that are built in where all were measured, else by the state of health.
    pub worn_kwh: f64,
    /// Of that, what is used between the two states of charge, kWh.
    pub usable_kwh: f64,
    /// What is left as a share.
    pub health: f64,
    /// States of charge used between, shares.
    pub used: [f64; 2],
    /// Whether it follows from measured units.
    pub measured: bool,
}

/// What resists between the ends of the leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Resistances {
    /// The modules, at room temperature, as measured where they were; `None` while not known.
    pub modules: Option<Ohms>,
    /// Whether it is of tested units that are built in.
    pub measured: bool,
    /// The modules in a short circuit: the least of what was measured and what was entered.
    pub in_a_short: Option<Ohms>,
    /// Links, their joints, and cables between boxes.
    pub links: Ohms,
    /// Both leads to the drive.
    pub leads: Ohms,
    /// All of it; `None` while the modules' is not known.
    pub total: Option<Ohms>,
}

/// A pack at rest and under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadRow {
    /// When: `full`, `half full`, `empty`, `cold, half full`.
    pub name: &'static str,
    /// Volts at rest.
    pub rest: Volts,
    /// At the drive's continuous amps, if known.
    pub continuous: Option<Loaded>,
    /// At its peak amps, if known.
    pub peak: Option<Loaded>,
    /// Whether the peak takes it below the drive's least volts.
    pub cuts_out: bool,
}

/// Cruising.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cruise {
    /// Power drawn, kW.
    pub kw: f64,
    /// The pack then, half full.
    pub at: Loaded,
    /// Amps over amp-hours.
    pub c_rate: f64,
}

/// How modules warm when no heat leaves them: an upper end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    /// Heat in one module at cruise and at the continuous amps, watts.
    pub module_w: [Option<f64>; 2],
    /// Kelvin in an hour, at cruise and at the continuous amps.
    pub hour_k: [Option<f64>; 2],
    /// Kelvin in a minute at the peak.
    pub peak_minute_k: Option<f64>,
    /// Heat that a kilogram is taken to hold, J/(kg K).
    pub specific_heat: f64,
}

/// Volts, power and heat under load.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// Full, half full, empty, cold.
    pub rows: Vec<LoadRow>,
    /// The most power half full, empty, and cold half full, within the drive's least volts and the amps known.
    pub most: [Option<MostPower>; 3],
    /// Cruising, half full; `None` when the pack cannot give it.
    pub cruise: Option<Cruise>,
    /// What may be returned at the charge that is charged up to, and full.
    /// `None` while neither the modules' nor the drive's amps for it are known.
    pub regen: Option<[Regen; 2]>,
    /// How modules warm.
    pub warmth: Warmth,
}

/// A point of the volts over state of charge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// State of charge, 0 to 1.
    pub charge: f64,
    /// Volts at rest.
    pub rest: Volts,
    /// Volts at the drive's peak amps, while both are known.
    pub loaded: Option<Volts>,
}

/// What the volts have to stay within.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Whose it is.
    pub name: &'static str,
    /// The least volts.
    pub least: Option<Volts>,
    /// The most volts.
    pub most: Option<Volts>,
}

/// Charging from the line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charging {
    /// Drawn from the line, kW.
    pub line_kw: f64,
    /// Into the pack, kW.
    pub pack_kw: f64,
    /// What holds it back: the line or the charger.
    pub held_by: &'static str,
    /// Amps into the pack at nominal volts.
    pub amps: f64,
    /// Amps over worn amp-hours.
    pub c_rate: f64,
    /// Hours from the one state of charge to the other; the slow end is not counted.
    pub hours: f64,
}

/// Points of the plot.
const POINTS: u32 = 20;

/// The curve of one module of the kind, with where it comes from: as entered; else typical for its family; else, when
/// the module's volts are not those of so many cells of the family, a straight line from empty to full.
pub(super) fn curve(job: &Job, kind: &KindResult) -> Option<(OcvCurve, String)> {
    let entered = job.kind(kind.id)?;
    let module = kind.module?;
    if let Some(text) = &entered.rest_curve
        && let Ok(points) = document::electrics::rest_curve(text)
        && let Ok(curve) = OcvCurve::new(points.into_iter().map(|(percent, v)| (percent / 100.0, v)).collect())
    {
        return Some((curve, "your entry for the module".to_owned()));
    }
    let family = assumed::chemistry(entered);
    match family.ocv().for_module(&module.volts, module.cells_series) {
        Ok(curve) => Some((curve, format!("typical for {}: {}", family.name(), family.ocv_source()))),
        Err(why) => {
            let line = OcvCurve::new(vec![(0.0, module.volts.empty.get()), (1.0, module.volts.full.get())]).ok()?;
            Some((line, format!("a straight line, for {why}")))
        }
    }
}

/// Volts of a string of `series` at a state of charge within 0 to 1.
fn volts_at(curve: &OcvCurve, charge: f64, series: u32) -> Volts {
    curve.volts_at(charge.clamp(0.0, 1.0)).unwrap_or_default() * series
}

/// Points from empty to full.
pub(super) fn points(curve: &OcvCurve, series: u32, resistance: Option<Ohms>, peak: Option<Amps>) -> Vec<CurvePoint> {
    (0..=POINTS)
        .map(|i| {
            let charge = f64::from(i) / f64::from(POINTS);
            let rest = volts_at(curve, charge, series);
            CurvePoint {
                charge,
                rest,
                loaded: resistance.zip(peak).map(|(r, i)| load::loaded(rest, r, i.get()).volts),
            }
        })
        .collect()
}

pub(super) fn windows(job: &Job) -> Vec<Window> {
    let figures = &job.electrics.figures;
    let volts = |figure| figures.get(figure).map(Volts::nearest);
    [
        Window {
            name: "drive",
            least: job.drive.min_volts,
            most: job.drive.max_volts,
        },
        Window {
            name: "charger",
            least: job.charger.min_volts,
            most: job.charger.max_volts,
        },
        Window {
            name: "12 V converter",
            least: volts(Figure::ConverterMin),
            most: volts(Figure::ConverterMax),
        },
    ]
    .into_iter()
    .filter(|w| w.least.is_some() || w.most.is_some())
    .collect()
}

fn share(job: &Job, figure: Figure) -> f64 {
    job.electrics.figures.sure(figure) / 100.0
}

/// States of charge used between; nothing when they are entered the wrong way round.
pub(super) fn used(job: &Job) -> [f64; 2] {
    let (low, high) = (share(job, Figure::SocLow), share(job, Figure::SocHigh));
    [low, high.max(low)]
}

/// Energy, with the amp-hours of the units that are built in where all were measured.
pub(super) fn energy(job: &Job, figures: &Figures, measured_ah: Option<f64>) -> Energy {
    let sticker_kwh = figures.energy.kwh();
    let sticker_ah = figures.capacity.get();
    let health = match measured_ah {
        Some(ah) if sticker_ah > 0.0 => ah / sticker_ah,
        _ => share(job, Figure::Health),
    };
    let used = used(job);
    Energy {
        sticker_kwh,
        worn_kwh: sticker_kwh * health,
        usable_kwh: usable_energy(figures.energy, health, used[0], used[1]).kwh(),
        health,
        used,
        measured: measured_ah.is_some(),
    }
}

/// The resistance of the modules in their arrangement.
pub(super) fn modules(kind: &KindResult, arrangement: Arrangement) -> Option<Ohms> {
    kind.resistance.map(|each| units_resistance(each, arrangement))
}

/// What a load is worked out from.
pub(super) struct Given<'a> {
    pub(super) job: &'a Job,
    pub(super) kind: &'a KindResult,
    pub(super) arrangement: Arrangement,
    pub(super) figures: &'a Figures,
    pub(super) curve: &'a OcvCurve,
    pub(super) resistances: Resistances,
}

pub(super) fn load(given: &Given<'_>) -> Option<Load> {
    let Given {
        job,
        kind,
        arrangement,
        figures,
        curve,
        resistances,
    } = *given;
    let total = resistances.total?;
    let modules = resistances.modules?;
    let (continuous, peak) = (job.drive.continuous_amps, job.drive.peak_amps);
    let least = job.drive.min_volts.unwrap_or_default();
    let half = volts_at(curve, 0.5, arrangement.series);
    // Only the cells stiffen in the cold.
    let cold =
        Ohms::nearest_milliohms(modules.milliohms() * (job.electrics.figures.sure(Figure::ColdTimes) - 1.0)) + total;
    let row = |name, rest, resistance| {
        let at = |amps: Option<Amps>| amps.map(|amps| load::loaded(rest, resistance, amps.get()));
        let peak = at(peak);
        LoadRow {
            name,
            rest,
            continuous: at(continuous),
            peak,
            cuts_out: peak.is_some_and(|at| at.volts < least),
        }
    };
    let rows = vec![
        row("full", figures.volts.full, total),
        row("half full", half, total),
        row("empty", figures.volts.empty, total),
        row("cold, half full", half, cold),
    ];
    let limit = [peak.or(continuous), figures.peak.or(figures.continuous)]
        .into_iter()
        .flatten()
        .min();
    let most = |rest, resistance| load::most_power(rest, resistance, least, load::most_amps(limit));
    let kw = job.electrics.figures.sure(Figure::CruiseKw);
    let cruise = load::at_power(half, total, kw * 1000.0).map(|at| Cruise {
        kw,
        at,
        c_rate: at.amps / figures.capacity.get().max(f64::MIN_POSITIVE),
    });
    let top = job
        .drive
        .max_volts
        .map_or(figures.volts.full, |max| max.min(figures.volts.full));
    let returned = [
        figures.charge,
        job.electrics.figures.get(Figure::DriveRegen).map(Amps::nearest),
    ];
    let takes = returned.into_iter().flatten().min().map(Amps::get);
    let charged = volts_at(curve, used(job)[1], arrangement.series);
    Some(Load {
        most: [most(half, total), most(figures.volts.empty, total), most(half, cold)],
        cruise,
        regen: takes.map(|takes| [charged, figures.volts.full].map(|rest| load::regen(rest, total, top, takes))),
        warmth: warmth(given, modules, cruise.map(|c| c.at.amps)),
        rows,
    })
    .filter(|_| kind.module.is_some())
}

fn warmth(given: &Given<'_>, modules: Ohms, cruise: Option<f64>) -> Warmth {
    let Given {
        job, kind, arrangement, ..
    } = *given;
    let count = f64::from(arrangement.modules().max(1));
    #[expect(clippy::cast_precision_loss, reason = "grams of one module")]
    let mass_kg = kind.mass_g.map(|g| g as f64 / 1000.0);
    let specific_heat = job
        .kind(kind.id)
        .map_or(1000.0, |k| assumed::chemistry(k).specific_heat().value);
    let heat = |amps: f64| amps * amps * modules.milliohms() / 1000.0 / count;
    let rise = |amps: f64, seconds| thermal::warming(heat(amps), mass_kg?, specific_heat, seconds);
    let continuous = job.drive.continuous_amps.map(Amps::get);
    let peak = job.drive.peak_amps.map(Amps::get);
    Warmth {
        module_w: [cruise.map(heat), continuous.map(heat)],
        hour_k: [
            cruise.and_then(|a| rise(a, 3600.0)),
            continuous.and_then(|a| rise(a, 3600.0)),
        ],
        peak_minute_k: peak.and_then(|a| rise(a, 60.0)),
        specific_heat,
    }
}

pub(super) fn charging(job: &Job, figures: &Figures, energy: &Energy) -> Option<Charging> {
    let entered = &job.electrics.figures;
    let line_kw = entered.sure(Figure::LineVolts) * entered.sure(Figure::LineAmps) / 1000.0;
    let efficiency = share(job, Figure::ChargerPercent);
    let nominal = figures.volts.nominal.get();
    let from_line = line_kw * efficiency;
    let charger = entered.get(Figure::ChargerAmps).map(|amps| amps * nominal / 1000.0);
    let (pack_kw, held_by) = match charger {
        Some(kw) if kw < from_line => (kw, "the charger"),
        _ => (from_line, "the line"),
    };
    if pack_kw <= 0.0 || nominal <= 0.0 {
        return None;
    }
    let time = load::charge_at_power(figures.energy, energy.health, energy.used, pack_kw * 1000.0, 1.0)?;
    Some(Charging {
        line_kw: pack_kw / efficiency,
        pack_kw,
        held_by,
        amps: pack_kw * 1000.0 / nominal,
        c_rate: time.c_rate,
        hours: time.hours,
    })
}
