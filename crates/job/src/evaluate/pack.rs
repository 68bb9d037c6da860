//! The pack: what the units on hand allow, and what is laid out.

use pack::arrangement::{self, Arrangement, Choice, Figures, Objection};
use pack::hazard::{Current, VoltageClass, voltage_class};
use pack::window::{ChargerWindow, ConverterWindow, DriveWindow, Suits};
use pack::{Amps, Volts};

use super::boxes::BoxResult;
use super::electric::{self, Electric};
use super::kind::KindResult;
use super::strings::{self, Crossing};
use crate::document::{Drive, Figure};
use crate::{Id, Job};

/// The pack made of one kind of module.
#[derive(Clone, Debug, PartialEq)]
pub struct PackResult {
    /// The kind.
    pub kind: Id,
    /// Its name.
    pub name: String,
    /// Units on hand as entered, which may be fewer than are placed; those placed when nothing was entered.
    pub on_hand: u32,
    /// Modules placed.
    pub placed: u32,
    /// Every series and parallel that the units on hand allow, best first.
    pub choices: Vec<Choice>,
    /// The fewest and the most in series that fit the drive, when the drive is known and any fits.
    pub fits: Option<(u32, u32)>,
    /// What no choice could be held against, and what to enter for it; `None` once the drive's window is known.
    pub unknown: Option<Unknown>,
    /// What is wanted, given or chosen: the best choice for the units on hand.
    pub wanted: Option<Arrangement>,
    /// Whole strings as laid out; with too few modules for one string, the string that is being built.
    pub arrangement: Option<Arrangement>,
    /// Modules that are still missing from the string that is being built.
    pub missing: u32,
    /// Modules placed that belong to no whole string.
    pub left_over: u32,
    /// Whole strings that have to run from box to box; `None` when each can stand in one.
    pub crossing: Option<Crossing>,
    /// Figures of the pack as laid out (of the whole string when one is being built).
    pub figures: Option<Figures>,
    /// What speaks against it.
    pub objections: Vec<Objection>,
    /// How it is joined, conducted and protected; `None` while nothing is laid out.
    pub electric: Option<Electric>,
}

/// What a choice could not be held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// What is not known, in words.
    pub what: &'static str,
    /// What to enter.
    pub fix: &'static str,
}

/// What of the drive's window is not known.
const fn unknown(drive: &Drive) -> Option<Unknown> {
    let (what, fix) = match (drive.min_volts.is_some(), drive.max_volts.is_some()) {
        (true, true) => return None,
        (false, false) => (
            "the drive's volts are not known",
            "enter the drive's least and most volts",
        ),
        (false, true) => ("the drive's least volts are not known", "enter the drive's least volts"),
        (true, false) => ("the drive's most volts are not known", "enter the drive's most volts"),
    };
    Some(Unknown { what, fix })
}

impl PackResult {
    /// Nominal energy of the strings as laid out, without the modules that are missing from the first, kWh.
    pub fn placed_kwh(&self) -> Option<f64> {
        let (figures, strings) = self.figures.as_ref().zip(self.arrangement)?;
        let modules = strings.modules().max(1);
        let there = f64::from(modules.saturating_sub(self.missing)) / f64::from(modules);
        Some(figures.energy.kwh() * there)
    }

    /// The voltage class of the pack fully charged, once it is known what is laid out.
    pub fn voltage_class(&self) -> Option<VoltageClass> {
        let full = self.figures.as_ref()?.volts.full;
        Some(voltage_class(full, Current::Dc))
    }
}

pub(super) fn evaluate(job: &Job, kinds: &[KindResult], boxes: &[BoxResult]) -> Vec<PackResult> {
    let mut packs: Vec<PackResult> = kinds.iter().filter_map(|kind| of_kind(job, kind, boxes)).collect();
    packs.sort_by_key(|p| std::cmp::Reverse(p.placed));
    packs
}

/// The drive's window, once both ends are known.
pub(crate) fn drive(drive: &Drive) -> Option<DriveWindow> {
    Some(DriveWindow {
        min: drive.min_volts?,
        max: drive.max_volts?,
        absolute_max: drive.absolute_max_volts,
        peak: drive.peak_amps,
        continuous: drive.continuous_amps,
        returns: None,
    })
}

/// Everything that a pack of this kind has to suit.
fn suits(job: &Job, kind: &KindResult) -> Suits {
    let figures = &job.electrics.figures;
    let amps = |figure| figures.get(figure).map(Amps::nearest);
    let volts = |figure| figures.get(figure).map(Volts::nearest);
    Suits {
        drive: drive(&job.drive).map(|drive| DriveWindow {
            returns: amps(Figure::DriveRegen),
            ..drive
        }),
        charger: job.charger.max_volts.map(|max| ChargerWindow {
            min: job.charger.min_volts,
            max,
            amps: amps(Figure::ChargerAmps),
        }),
        converter: volts(Figure::ConverterMin)
            .zip(volts(Figure::ConverterMax))
            .map(|(min, max)| ConverterWindow { min, max }),
        module: kind.resistance,
        cold_times: figures.sure(Figure::ColdTimes),
    }
}

fn of_kind(job: &Job, kind: &KindResult, boxes: &[BoxResult]) -> Option<PackResult> {
    let module = kind.module?;
    let suits = suits(job, kind);
    let on_hand = kind.on_hand.unwrap_or(kind.placed);
    let choices = arrangement::choices(&module, on_hand, &suits);
    let fits = suits.drive.and_then(|d| arrangement::series_that_fit(&module, &d));
    let wanted = wanted(job, &choices);
    let (laid_out, missing, left_over) = laid_out(job, kind.placed, wanted, fits);
    let figures = laid_out.map(|a| arrangement::figures(&module, a));
    let whole = laid_out.filter(|_| missing == 0);
    let crossing = whole.and_then(|a| strings::crossing(kind.id, a, boxes));
    let electric = figures
        .as_ref()
        .zip(laid_out)
        .and_then(|(f, a)| electric::evaluate(job, kind, boxes, a, f, whole.is_some() && left_over == 0));
    // What is laid out sags by its tested units; the choices go by what was entered for the kind.
    let built = Suits {
        module: electric
            .as_ref()
            .zip(laid_out)
            .and_then(|(e, a)| Some((e.resistances.modules? * a.parallel).shared_by(a.series)))
            .or(suits.module),
        ..suits
    };
    let objections = figures
        .as_ref()
        .zip(laid_out)
        .map_or(Vec::new(), |(f, a)| arrangement::objections(f, a, &built));
    Some(PackResult {
        kind: kind.id,
        name: kind.name.clone(),
        on_hand,
        placed: kind.placed,
        choices,
        fits,
        unknown: unknown(&job.drive),
        wanted,
        arrangement: laid_out,
        missing,
        left_over,
        crossing,
        figures,
        objections,
        electric,
    })
}

/// What is wanted: the person's numbers where given, else the best choice that keeps to them.
fn wanted(job: &Job, choices: &[Choice]) -> Option<Arrangement> {
    let keeps = |c: &&Choice| {
        job.wanted.series.is_none_or(|s| c.arrangement.series == s)
            && job.wanted.parallel.is_none_or(|p| c.arrangement.parallel <= p)
    };
    let best = choices
        .iter()
        .find(|c| keeps(c) && c.fits())
        .or_else(|| choices.iter().find(keeps));
    best.map(|c| c.arrangement).or_else(|| {
        job.wanted.series.map(|series| Arrangement {
            series,
            parallel: job.wanted.parallel.unwrap_or(1),
        })
    })
}

/// The pack as laid out: whole strings, what is missing from the first, what is left over.
fn laid_out(
    job: &Job,
    placed: u32,
    wanted: Option<Arrangement>,
    fits: Option<(u32, u32)>,
) -> (Option<Arrangement>, u32, u32) {
    if placed == 0 {
        return (None, 0, 0);
    }
    // Of the series counts that may be, the one that uses most of what is placed; the wanted one wins a tie.
    let may: Vec<u32> = match (job.wanted.series, wanted, fits) {
        (Some(series), ..) => vec![series],
        (None, Some(w), Some((least, most))) => std::iter::once(w.series).chain(least..=most.min(placed)).collect(),
        (None, Some(w), None) => vec![w.series],
        (None, None, _) => vec![placed],
    };
    let used = |series: u32| (placed / series) * series;
    let mut series = may[0];
    for &other in &may {
        if used(other) > used(series) {
            series = other;
        }
    }
    let parallel = placed / series;
    if parallel == 0 {
        return (Some(Arrangement { series, parallel: 1 }), series - placed, 0);
    }
    (Some(Arrangement { series, parallel }), 0, placed - series * parallel)
}
