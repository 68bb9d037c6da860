//! Which unit goes where.

use pack::matching::{self, Goal, Proof};

use crate::document::{Joined, Seat};
use crate::evaluate::electric::Chain;
use crate::{Evaluation, Id, Job};

/// Units matched to the modules of a layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Matching {
    /// Where each unit of the job's list goes: what the edit takes over.
    pub seats: Vec<Option<Seat>>,
    /// How sure it is.
    pub proof: Proof,
    /// Amp-hours of the pack matched so, and in the order of the labels; and by chance, on average.
    pub amp_hours: [f64; 3],
    /// Units left over.
    pub spares: Vec<String>,
    /// Units that could not be used for want of measured amp-hours.
    pub unmeasured: usize,
}

/// Puts the tested units of a kind where they make the strongest pack. Units that are set aside or were not measured are
/// left out.
///
/// # Errors
///
/// What is missing, and how to mend it.
pub fn matching(job: &Job, evaluation: &Evaluation, kind: Id, goal: Goal) -> Result<Matching, (String, &'static str)> {
    let pack = evaluation.packs.iter().find(|p| p.kind == kind).ok_or_else(|| {
        (
            "nothing is known of the modules' volts and amp-hours".to_owned(),
            "fill in the Modules page",
        )
    })?;
    let wiring = pack.electric.as_ref().and_then(|e| e.wiring.as_ref()).ok_or_else(|| {
        (
            "the pack is not laid out whole".to_owned(),
            "place all modules of the pack first",
        )
    })?;
    let usable: Vec<usize> = (0..job.tested.len())
        .filter(|&i| job.tested[i].kind == kind && !job.tested[i].set_aside && job.tested[i].amp_hours.is_some())
        .collect();
    let unmeasured = job
        .tested
        .iter()
        .filter(|u| u.kind == kind && !u.set_aside && u.amp_hours.is_none())
        .count();
    let (series, parallel) = (wiring.series as usize, wiring.parallel as usize);
    let capacities: Vec<i64> = usable
        .iter()
        .filter_map(|&i| job.tested[i].amp_hours.map(pack::AmpHours::milli))
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "micro-ohms of a module")]
    let ohms: Vec<Option<f64>> = usable
        .iter()
        .map(|&i| job.tested[i].resistance_mohm.map(|r| r.0 as f64))
        .collect();
    let joined = crate::assumed::joined(&job.electrics);
    let found = match joined {
        Joined::Groups => matching::match_groups(&capacities, &ohms, series, parallel, goal, matching::WORK),
        Joined::Strings => matching::match_strings(&capacities, series, parallel),
    }
    .ok_or_else(|| {
        let words = format!(
            "{} measured units are fewer than the {} modules that are placed",
            usable.len(),
            series * parallel
        );
        (words, "measure more units, or take modules out of the layout")
    })?;
    let mut seats = vec![None; job.tested.len()];
    for (i, unit) in job.tested.iter().enumerate() {
        if unit.kind != kind {
            seats[i] = unit.seat;
        }
    }
    for (group, chunk) in found.groups.iter().zip(wiring.seats.chunks(match joined {
        Joined::Groups => parallel,
        Joined::Strings => series,
    })) {
        for (&unit, seat) in group.iter().zip(chunk) {
            seats[usable[unit]] = Some(seat.seat);
        }
    }
    let compared = match joined {
        Joined::Groups => found.compared_as_groups(&capacities),
        Joined::Strings => found.compared_as_strings(&capacities),
    };
    Ok(Matching {
        seats,
        proof: found.proof,
        amp_hours: compared.map(|milli| milli / 1000.0),
        spares: found
            .left_out
            .iter()
            .map(|&i| job.tested[usable[i]].name.clone())
            .collect(),
        unmeasured,
    })
}

/// An order of the wiring worked out for a job's kind, as an edit takes it over.
pub(crate) fn chain_of(job: &Job, evaluation: &Evaluation, kind: Id) -> Option<Chain> {
    let pack = evaluation.packs.iter().find(|p| p.kind == kind)?;
    pack.electric.as_ref()?.wiring.as_ref()?;
    Chain::of(job, evaluation.kind(kind)?, &evaluation.boxes, pack.arrangement?)
}
