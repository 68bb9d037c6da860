//! Layouts side by side: what each would make of the job.

use pack::CellVolts;
use pack::arrangement::Arrangement;
use tape::Length;

use super::Proposal;
use crate::evaluate::{CentreHeight, Heaviest, Tightest};
use crate::{Edit, Evaluation, Grams, Job, evaluate};

/// One layout that is offered, with the job's figures as they would be with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Its place among the layouts that were found, from 0.
    pub index: usize,
    /// The margin that was asked for to lay it out: the job's, or a narrower one.
    pub margin: Length,
    /// The edit that takes it over.
    pub edit: Edit,
    /// All figures of the job with it.
    pub evaluation: Evaluation,
    /// The figures by which layouts are compared.
    pub figures: Figures,
}

/// The figures by which layouts are compared, all out of the evaluation of the job with the layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Modules in the whole job.
    pub count: u32,
    /// Series and parallel.
    pub arrangement: Option<Arrangement>,
    /// Modules missing from the first string: then there is no pack.
    pub missing: u32,
    /// Volts empty, nominal and full; `None` while there is no pack.
    pub volts: Option<CellVolts>,
    /// Nominal energy of the modules in strings, kWh.
    pub energy_kwh: Option<f64>,
    /// Boxes.
    pub boxes: usize,
    /// The tightest clearance of a box, and where.
    pub tightest: Option<Tightest>,
    /// The heaviest box.
    pub heaviest: Option<Heaviest>,
    /// Strings that cannot stand whole in one box, at least.
    pub crossing: u32,
    /// How high the modules' common centre of mass is.
    pub centre: Option<CentreHeight>,
    /// Stops among the findings.
    pub stops: usize,
}

impl Figures {
    /// The figures of a layout out of the evaluation of the job with it.
    pub fn of(evaluation: &Evaluation) -> Self {
        let headline = &evaluation.headline;
        let missing = evaluation.laid_out().next().map_or(0, |pack| pack.missing);
        Self {
            count: headline.placed,
            arrangement: headline.arrangement,
            missing,
            volts: headline.volts.filter(|_| missing == 0),
            energy_kwh: headline.energy_kwh,
            boxes: evaluation.boxes.iter().filter(|b| !b.modules.is_empty()).count(),
            tightest: headline.tightest.clone(),
            heaviest: headline.heaviest.clone(),
            crossing: headline.crossing,
            centre: headline.centre,
            stops: headline.stops,
        }
    }
}

/// The figures that read the same wherever layouts stand side by side; `None` where there is none.
impl Figures {
    /// Series and parallel, as 24s2p; what there is of the first string while that is not whole, as `6 of 8s`.
    pub fn strings(&self) -> Option<String> {
        self.arrangement.map(|a| match self.missing {
            0 => format!("{}s{}p", a.series, a.parallel),
            missing => format!("{} of {}s", a.series.saturating_sub(missing), a.series),
        })
    }

    /// Nominal energy of the whole strings in kWh, to two places.
    pub fn energy(&self) -> Option<String> {
        self.energy_kwh.map(|kwh| format!("{kwh:.2}"))
    }

    /// The mass of the heaviest box, to the kilogram.
    pub fn heaviest_box(&self) -> Option<String> {
        let heaviest = self.heaviest.as_ref()?;
        Some(format!("{:.0} kg", Grams(heaviest.mass_g).kg()))
    }

    /// How high the modules' common centre of mass is, and over what.
    pub fn centre_over(&self, evaluation: &Evaluation) -> Option<String> {
        let centre = self.centre?;
        Some(format!(
            "{} over {}",
            evaluation.near(centre.height),
            centre.above.name()
        ))
    }
}

impl Proposal {
    /// The layouts that were found, best first, each with what it would make of `job`, the job that was asked about.
    ///
    /// Each costs one evaluation, so call it once for an answer and keep the result.
    pub fn candidates(&self, job: &Job) -> Vec<Candidate> {
        let one = |index: usize| {
            let edit = self.edit(job, index)?;
            let evaluation = evaluate(&job.with(&edit).ok()?);
            Some(Candidate {
                index,
                margin: self.margin_of(index),
                edit,
                figures: Figures::of(&evaluation),
                evaluation,
            })
        };
        (0..self.offered()).filter_map(one).collect()
    }
}
