//! What a keep-out costs: the modules that would go in besides if it were moved away.

use std::sync::Arc;

use geometry::fit::{self, Budget, Request, Wanted, Watch};

use super::figure::{Figure, keep_out_name};
use super::ground::Ground;
use crate::layout::{Aim, NotYet, needs, question};
use crate::{Evaluation, Id, Job, Source};

/// What would be gained by moving one keep-out away, as if any number of modules were on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gain {
    /// The keep-out.
    pub keep_out: Id,
    /// Its name.
    pub name: String,
    /// Where it comes from: a removable one can be moved.
    pub source: Source,
    /// Modules there is room for as it is.
    pub now: u32,
    /// Modules there would be room for without it.
    pub without: u32,
    /// Modules in a string, where whole strings are wanted; else 1.
    pub string: u32,
    /// Whether it is proved that no more go in without it.
    pub proved: bool,
}

impl Gain {
    /// Modules gained.
    pub const fn modules(&self) -> u32 {
        self.without.saturating_sub(self.now)
    }

    /// Whole strings gained.
    pub const fn strings(&self) -> u32 {
        (self.without / self.string).saturating_sub(self.now / self.string)
    }

    /// What is gained, in words.
    pub fn words(&self) -> String {
        match (self.modules(), self.strings()) {
            (0, _) if self.proved => "nothing".to_owned(),
            (0, _) => "nothing found".to_owned(),
            (modules, strings) => {
                let more = |n: u32, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
                match strings {
                    _ if self.string == 1 => more(modules, "module"),
                    0 => format!("{}, no whole string", more(modules, "module")),
                    _ => format!("{}, {}", more(modules, "module"), more(strings, "whole string")),
                }
            }
        }
    }
}

/// The work for one keep-out; tasks do not depend on each other.
#[derive(Clone, Debug)]
pub struct GainTask {
    ground: Arc<Ground>,
    keep_out: Id,
    name: String,
    source: Source,
    now: u32,
    string: u32,
}

impl GainTask {
    /// Lays out without the keep-out.
    pub fn run(&self, budget: Budget, watch: &mut dyn Watch) -> Gain {
        let request = Figure::KeepOutGone(self.keep_out).changed(&self.ground, tape::Length::ZERO);
        let answer = request.and_then(|request| fit::fit(&any_number(request), budget, watch).ok());
        let found = answer.as_ref().and_then(|a| a.layouts.first()).map_or(0, |l| l.count);
        Gain {
            keep_out: self.keep_out,
            name: self.name.clone(),
            source: self.source,
            now: self.now,
            // What goes in with it goes in without it.
            without: found.max(self.now),
            string: self.string,
            proved: answer.is_some_and(|a| a.upper_bound <= found.max(self.now)),
        }
    }
}

/// One task for each keep-out that counts in what `aim` lays out.
///
/// # Errors
///
/// [`NotYet`] with what is missing for a layout.
pub fn gain_tasks(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Vec<GainTask>, NotYet> {
    let question = question(job, evaluation, aim)?;
    let string = match &question.request.wanted {
        Wanted::Strings { series, .. } => series.first().copied().unwrap_or(1),
        _ => 1,
    };
    let ground = Ground::new(job, evaluation, question, 0);
    let keep_outs = ground.cavities.iter().filter_map(|&id| evaluation.cavity(id));
    let keep_outs: Vec<_> = keep_outs.flat_map(|c| &c.keep_outs).filter(|k| k.counts).collect();
    if keep_outs.is_empty() {
        return Ok(Vec::new());
    }
    let answer = fit::fit(&any_number(ground.request.clone()), budget, watch);
    let answer = answer.map_err(|e| needs(e.to_string()))?;
    let now = answer.layouts.first().map_or(0, |l| l.count);
    let ground = Arc::new(ground);
    Ok(keep_outs
        .into_iter()
        .map(|k| GainTask {
            ground: Arc::clone(&ground),
            keep_out: k.id,
            name: keep_out_name(evaluation, k.id),
            source: k.source,
            now,
            string,
        })
        .collect())
}

/// What moving each keep-out away would gain, the most first.
///
/// # Errors
///
/// [`NotYet`] with what is missing for a layout.
pub fn gains(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Vec<Gain>, NotYet> {
    let tasks = gain_tasks(job, evaluation, aim, budget, watch)?;
    let mut gains: Vec<Gain> = tasks.iter().map(|task| task.run(budget, watch)).collect();
    gains.sort_by_key(|gain| std::cmp::Reverse(gain.modules()));
    Ok(gains)
}

/// As many as can be entered as on hand: more than any truck holds.
const MOST_UNITS: u32 = 2_048;

/// The same question for as many as go in, whatever is on hand.
fn any_number(mut request: Request) -> Request {
    request.kinds[0].on_hand = Some(MOST_UNITS);
    request.wanted = Wanted::AsMany;
    request
}
