//! What the pack's electrics take, each line with the figure it follows from.

mod conductors;
mod list;
mod switching;

use super::{Item, tenth_up, whole_up};
use crate::document::Figures;
use crate::{Electric, Evaluation, Job, PackResult};
use conductors::glands;
use list::{List, Spare};
use switching::LetIn;

/// Said of a disconnect that is let into a wall beyond those that the chains take.
const NO_PLACE: &str = "let into a wall; the wiring has no place for it";

/// The lines, like ones of several packs together.
pub(super) fn items(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let mut list = List::default();
    let mut let_in = LetIn::all(evaluation);
    for (pack, electric) in evaluation.electrics() {
        let of = Of::new(job, evaluation, pack, electric);
        if let Some(wiring) = &electric.wiring {
            of.cables(wiring, &mut list);
            of.bars(wiring, &mut list);
            of.caps(wiring, &mut list);
        }
        of.fuses(&mut list);
        of.contactors(&mut list);
        of.precharge(&mut list);
        if let Some(wiring) = &electric.wiring {
            of.disconnects(wiring, &mut let_in, &mut list);
        }
    }
    for one in let_in {
        list.pieces(one.words(job), 1, Spare::None, false, NO_PLACE.to_owned());
    }
    glands(evaluation, &mut list);
    list.0
}

/// One pack and what its parts follow from.
struct Of<'a> {
    job: &'a Job,
    evaluation: &'a Evaluation,
    electric: &'a Electric,
    entered: &'a Figures,
    /// Strings side by side.
    strings: u32,
    /// Full volts.
    full_v: f64,
    /// Amps of the drive, and whether it draws them for long; else for a short time.
    amps: Option<(f64, bool)>,
    is_link_entered: bool,
    /// Whether the pack's volts rest on a value that nobody entered.
    are_volts_assumed: bool,
}

impl<'a> Of<'a> {
    fn new(job: &'a Job, evaluation: &'a Evaluation, pack: &PackResult, electric: &'a Electric) -> Self {
        let long = job.drive.continuous_amps.map(|amps| (amps.get(), true));
        let short = job.drive.peak_amps.map(|amps| (amps.get(), false));
        Self {
            job,
            evaluation,
            electric,
            entered: &job.electrics.figures,
            strings: electric
                .joined
                .strings(pack.arrangement.map_or(1, |a| a.parallel).max(1)),
            full_v: pack.figures.map_or(0.0, |figures| figures.volts.full.get()),
            amps: long.or(short),
            is_link_entered: job.electrics.link.is_some(),
            are_volts_assumed: evaluation.headline.assumed.volts,
        }
    }

    /// `full 403.2 V dc`, rounded up: what parts have to stand.
    fn volts(&self) -> String {
        format!("full {}{:.1} V dc", mark(self.are_volts_assumed), tenth_up(self.full_v))
    }

    /// `200 A for long`, of a share of the drive's amps, rounded up: what parts have to carry.
    fn amps_words(&self, share: f64) -> String {
        match self.amps {
            Some((amps, true)) => format!("{:.0} A for long", whole_up(amps * share)),
            Some((amps, false)) => format!(
                "{:.0} A for a short time (its amps for long are not entered)",
                whole_up(amps * share)
            ),
            None => "the drive's amps, which are not entered".to_owned(),
        }
    }
}

/// What stands before a figure that rests on a value nobody entered.
const fn mark(assumed: bool) -> &'static str {
    if assumed { "~" } else { "" }
}
