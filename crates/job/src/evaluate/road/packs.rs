//! The packs that drive the truck: of every kind that goes on the drive, reckoned together.
//!
//! Each kind is a pack of its own, joined to the drive by its own contactor. Two that both suit its window are used side by
//! side or one after the other: either way their energy adds up.

use pack::arrangement::Objection;

use super::super::pack::{PackResult, drive};
use super::given::PackGiven;
use crate::Job;

/// A pack that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Drives {
    /// The name of its kind.
    pub name: String,
    /// Its usable energy, kWh.
    pub usable_kwh: f64,
    /// Modules still missing from the string that it is told for.
    pub missing: u32,
}

/// A pack that does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Apart {
    /// The name of its kind.
    pub name: String,
    /// Why not, in words.
    pub why: String,
}

/// The packs of a truck, told apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Packs {
    /// All that count, as one; `None` while nothing is laid out.
    pub(super) whole: Option<PackGiven>,
    pub(super) count: Vec<Drives>,
    pub(super) apart: Vec<Apart>,
}

/// Tells them apart; the packs come with the most modules placed first.
pub(super) fn of(job: &Job, packs: &[PackResult]) -> Packs {
    let is_known = drive(&job.drive).is_some();
    let laid_out: Vec<(&PackResult, PackGiven)> = packs
        .iter()
        .filter(|pack| pack.placed > 0)
        .filter_map(|pack| Some((pack, given(pack)?)))
        .collect();
    let suits = |pack: &PackResult| pack.missing == 0 && misfit(pack).is_none();
    // While nothing suits, the largest is what is being built, and range is told for it.
    let Some(main) = laid_out
        .iter()
        .position(|(pack, _)| suits(pack))
        .or((!laid_out.is_empty()).then_some(0))
    else {
        return Packs::default();
    };
    let mut found = Packs::default();
    for (at, (pack, given)) in laid_out.iter().enumerate() {
        let why = match (at == main, pack.missing, misfit(pack)) {
            (true, ..) => None,
            (_, missing @ 1.., _) => Some(format!("{missing} short of a string")),
            (_, _, Some(why)) => Some(why),
            _ if is_known => None,
            _ => apart_from(given, &laid_out[main]),
        };
        match why {
            None => {
                found.count.push(Drives {
                    name: pack.name.clone(),
                    usable_kwh: given.usable_kwh,
                    missing: pack.missing,
                });
                found.whole = Some(found.whole.map_or(*given, |whole| together(whole, *given)));
            }
            Some(why) => found.apart.push(Apart {
                name: pack.name.clone(),
                why,
            }),
        }
    }
    found
}

/// Why its volts do not go on the drive; `None` when they do, or the drive's window is not known.
fn misfit(pack: &PackResult) -> Option<String> {
    let is_of_window = |objection: &&Objection| {
        matches!(
            objection,
            Objection::FullAboveDrive { .. } | Objection::FullAboveAbsolute { .. } | Objection::EmptyBelowDrive { .. }
        )
    };
    pack.objections.iter().find(is_of_window).map(Objection::words)
}

/// Why it does not go with the main pack while the drive's window is not known.
fn apart_from(given: &PackGiven, (main, of_main): &(&PackResult, PackGiven)) -> Option<String> {
    let goes = (of_main.empty_v..=of_main.full_v).contains(&given.nominal_v);
    (!goes).then(|| {
        format!(
            "{:.1} V nominal is outside the {:.1} to {:.1} V of {}, and the drive's window is not known",
            given.nominal_v, of_main.empty_v, of_main.full_v, main.name
        )
    })
}

/// Two as one: energies add up, and of the volts the widest hold.
fn together(a: PackGiven, b: PackGiven) -> PackGiven {
    PackGiven {
        worn_kwh: a.worn_kwh + b.worn_kwh,
        usable_kwh: a.usable_kwh + b.usable_kwh,
        empty_v: a.empty_v.min(b.empty_v),
        nominal_v: a.nominal_v.min(b.nominal_v),
        full_v: a.full_v.max(b.full_v),
    }
}

fn given(pack: &PackResult) -> Option<PackGiven> {
    let (figures, electric) = (pack.figures.as_ref()?, pack.electric.as_ref()?);
    Some(PackGiven {
        worn_kwh: electric.energy.worn_kwh,
        usable_kwh: electric.energy.usable_kwh,
        empty_v: figures.volts.empty.get(),
        nominal_v: figures.volts.nominal.get(),
        full_v: figures.volts.full.get(),
    })
}
