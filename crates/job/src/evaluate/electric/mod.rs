//! The pack as it is joined, conducted and protected: what follows from the arrangement, the layout and the entries.

mod chain;
mod load;
mod matched;
mod protect;
pub(super) mod seats;
mod wiring;
mod words;

use pack::Ohms;
use pack::arrangement::{Arrangement, Figures};

use super::boxes::BoxResult;
use super::kind::KindResult;
use crate::document::{Figure, Joined};
use crate::finding::Grave;
use crate::{Job, assumed};

pub(crate) use chain::Chain;
pub use load::{Charging, Cruise, CurvePoint, Energy, Load, LoadRow, Loaded, Resistances, Warmth, Window};
pub use matched::{Group, JoinLimit, Matched, UnitResult};
pub use seats::SeatResult;
pub use wiring::{
    BarLength, Disconnect, End, Fitting, FittingStep, LinkKind, LinkResult, Neighbour, OrderFrom, Tap, WiringResult,
};
pub use words::figures_in_words;

/// The electrics of a pack.
#[derive(Clone, Debug, PartialEq)]
pub struct Electric {
    /// How more than one in parallel are joined.
    pub joined: Joined,
    /// Energy: sticker, worn and usable.
    pub energy: Energy,
    /// What resists.
    pub resistances: Resistances,
    /// Volts, power and heat under load; `None` while no module's resistance is known.
    pub load: Option<Load>,
    /// Open-circuit and loaded volts over state of charge.
    pub curve: Vec<CurvePoint>,
    /// Where the volts over state of charge come from.
    pub curve_source: String,
    /// What the volts have to stay within.
    pub windows: Vec<Window>,
    /// Charging from the line; `None` while nothing says how much the pack takes.
    pub charging: Option<Charging>,
    /// The order of the wiring, its links and what is met while they are fitted; `None` while modules are missing.
    pub wiring: Option<WiringResult>,
    /// What was checked against which limit.
    pub checks: Vec<Check>,
    /// The tested units of this kind; `None` while there are none.
    pub matched: Option<Matched>,
    /// Ratings as entered.
    pub rated: Rated,
}

/// Ratings of parts, as far as they were entered.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rated {
    /// The main fuse, amps.
    pub main_fuse_a: Option<f64>,
    /// The fuse in each string, amps.
    pub string_fuse_a: Option<f64>,
    /// The contactors, amps.
    pub contactor_a: Option<f64>,
    /// The pre-charge resistor, ohms.
    pub precharge_ohms: Option<f64>,
}

/// How a check came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Within the limit.
    Met,
    /// Not within it.
    NotMet(Grave),
    /// Not to be told while something is not entered.
    Open,
    /// A figure to go by; there is nothing to be within.
    Figure,
}

impl Verdict {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::NotMet(_) => "not met",
            Self::Open => "open",
            Self::Figure => "figure",
        }
    }

    /// The mark before a line, two characters wide.
    pub const fn mark(self) -> &'static str {
        match self {
            Self::Met => "ok",
            Self::NotMet(Grave::Stop) => "!!",
            Self::NotMet(_) => "! ",
            Self::Open => "? ",
            Self::Figure => "  ",
        }
    }
}

/// One thing that was checked, with its limit and where that comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// What it is about, as `main fuse`.
    pub topic: &'static str,
    /// What there is, with the figure.
    pub words: String,
    /// The limit, in words; empty for a mere figure.
    pub limit: String,
    /// How it came out.
    pub verdict: Verdict,
    /// Where the limit comes from, and how that is known.
    pub source: String,
    /// What would put it right or is to be entered; empty when nothing is.
    pub fix: String,
}

impl Check {
    /// What there is and the limit, in one line.
    pub fn line(&self) -> String {
        let limit = if self.limit.is_empty() {
            String::new()
        } else {
            format!("; {}", self.limit)
        };
        format!("{}: {}{limit}", self.topic, self.words)
    }
}

/// The electrics of a pack in this arrangement; `whole` when all its modules are placed.
pub(super) fn evaluate(
    job: &Job,
    kind: &KindResult,
    boxes: &[BoxResult],
    arrangement: Arrangement,
    figures: &Figures,
    whole: bool,
) -> Option<Electric> {
    let module = kind.module?;
    let (curve, curve_source) = load::curve(job, kind)?;
    let joined = assumed::joined(&job.electrics);
    let chain = whole.then(|| Chain::of(job, kind, boxes, arrangement)).flatten();
    let wired = chain
        .as_ref()
        .map(|chain| chain::wire(job, chain, module.volts.full, module.volts.nominal));
    let (wiring, [links, leads]) = match wired {
        Some((wiring, resistance)) => (Some(wiring), resistance),
        None => (None, [Ohms::default(); 2]),
    };
    let matched = matched::evaluate(job, kind, joined, arrangement, wiring.as_ref());
    let entered = load::modules(kind, arrangement);
    let measured = matched.as_ref().and_then(|m| m.resistance);
    let modules = measured.or(entered);
    let resistances = Resistances {
        modules,
        measured: measured.is_some(),
        // A meter at the terminals may read too much; a fuse has to break what good modules drive.
        in_a_short: measured.into_iter().chain(entered).min(),
        links,
        leads,
        total: modules.map(|modules| modules + links + leads),
    };
    let energy = load::energy(job, figures, matched.as_ref().and_then(|m| m.amp_hours));
    let given = load::Given {
        job,
        kind,
        arrangement,
        figures,
        curve: &curve,
        resistances,
    };
    let mut electric = Electric {
        joined,
        energy,
        resistances,
        load: load::load(&given),
        curve: load::points(&curve, arrangement.series, resistances.total, job.drive.peak_amps),
        curve_source,
        windows: load::windows(job),
        charging: load::charging(job, figures, &energy),
        wiring,
        checks: Vec::new(),
        matched,
        rated: Rated {
            main_fuse_a: job.electrics.figures.get(Figure::FuseAmps),
            string_fuse_a: job.electrics.figures.get(Figure::StringFuse),
            contactor_a: job.electrics.figures.get(Figure::ContactorAmps),
            precharge_ohms: job.electrics.figures.get(Figure::PrechargeOhms),
        },
    };
    electric.checks = protect::checks(job, figures, &electric, arrangement.parallel);
    Some(electric)
}
