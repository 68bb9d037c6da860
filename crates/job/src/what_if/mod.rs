//! What would it take for one more module to go in, what would a keep-out give way for, and how wrong may a reading be.
//!
//! [`ask`] finds what goes in now and lists one task for each single figure; the tasks do not depend on each other, so a
//! caller may run them at once. [`what_if`] runs them one after another.

mod amount;
mod figure;
mod gain;
mod ground;
mod row;
mod tolerance;

use geometry::fit::{self, Budget, Ended, Wanted, Watch};

use crate::layout::{Aim, NotYet, needs, question};
use crate::{Evaluation, Id, Job};

pub use amount::Amount;
pub use figure::Figure;
pub use gain::{Gain, GainTask, gain_tasks, gains};
pub use row::{Outcome, Row, RowTask, Shown};
pub use tolerance::{Room, Tolerance, tolerances};

use ground::Ground;

/// What is to be reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// One more module than goes in; one more whole string where strings are wanted.
    OneMore,
    /// This many modules of the kind that is laid out.
    Number(u32),
}

/// What goes in now, what is to be reached, and one task for each figure that may be changed for it.
#[derive(Clone, Debug)]
pub struct Asked {
    /// What is laid out.
    pub aim: Aim,
    /// Modules that go in as things are.
    pub now: u32,
    /// Modules that are to go in.
    pub wanted: u32,
    /// Modules in a string, where whole strings are wanted; else 1.
    pub string: u32,
    /// Modules of that kind on hand for it.
    pub on_hand: u32,
    /// Whether there is room for the wanted number already, whatever is on hand.
    pub fits: bool,
    /// One for each figure; none when there is room already.
    pub tasks: Vec<RowTask>,
}

/// What it would take: for each single figure the smallest change with which the wanted number goes in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhatIf {
    /// What is laid out.
    pub aim: Aim,
    /// Modules that go in as things are.
    pub now: u32,
    /// Modules that are to go in.
    pub wanted: u32,
    /// Modules in a string, where whole strings are wanted; else 1.
    pub string: u32,
    /// Modules of that kind on hand for it.
    pub on_hand: u32,
    /// Whether there is room for the wanted number already, whatever is on hand.
    pub fits: bool,
    /// The figures: those that help with the smallest change first, then those that do not help.
    pub rows: Vec<Row>,
}

/// Finds what goes in with `aim` and lists the figures whose change may bring `goal`.
///
/// # Errors
///
/// [`NotYet`] with what is missing for a layout.
pub fn ask(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    goal: Goal,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Asked, NotYet> {
    let question = question(job, evaluation, aim)?;
    let refused = |e: fit::RequestError| needs(e.to_string());
    let answer = fit::fit(&question.request, budget, watch).map_err(refused)?;
    let now = answer.layouts.first().map_or(0, |l| l.count);
    let string = match &question.request.wanted {
        Wanted::Strings { series, .. } => {
            let laid_out = series.iter().find(|&&s| now > 0 && now.is_multiple_of(s));
            laid_out.or(series.first()).copied().unwrap_or(1)
        }
        _ => 1,
    };
    let wanted = match goal {
        Goal::OneMore => (now / string + 1) * string,
        Goal::Number(number) => number,
    };
    let on_hand = question.request.kinds.first().and_then(|k| k.on_hand).unwrap_or(0);
    let ground = Ground::new(job, evaluation, question, wanted);
    let stopped = answer.ended == Ended::Stopped;
    let fits = !stopped && {
        let as_it_is = fit::fit(&ground.request, budget, watch).map_err(refused)?;
        as_it_is.layouts.first().is_some_and(|l| l.count >= wanted)
    };
    Ok(Asked {
        aim,
        now,
        wanted,
        string,
        on_hand,
        fits,
        tasks: if fits || stopped {
            Vec::new()
        } else {
            row::tasks(ground)
        },
    })
}

impl Asked {
    /// Puts the rows of the tasks together, in whatever order they came: the smallest change first.
    pub fn with_rows(&self, mut rows: Vec<Row>) -> WhatIf {
        let place = |row: &Row| self.tasks.iter().position(|t| t.figure() == row.figure);
        rows.sort_by_key(|row| (row.outcome.order(), place(row)));
        WhatIf {
            aim: self.aim,
            now: self.now,
            wanted: self.wanted,
            string: self.string,
            on_hand: self.on_hand,
            fits: self.fits,
            rows,
        }
    }
}

/// What it would take to reach `goal`, figure by figure; see [`ask`] for running the figures at once.
///
/// # Errors
///
/// [`NotYet`] with what is missing for a layout.
pub fn what_if(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    goal: Goal,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<WhatIf, NotYet> {
    let asked = ask(job, evaluation, aim, goal, budget, watch)?;
    let rows = asked.tasks.iter().map(|task| task.run(budget, watch)).collect();
    Ok(asked.with_rows(rows))
}

impl WhatIf {
    /// The rows worth showing: where a keep-out does not help though it is taken away, moving it is left out.
    pub fn telling(&self) -> impl Iterator<Item = &Row> {
        let gone = |id: Id| {
            let row = self.rows.iter().find(|row| row.figure == Figure::KeepOutGone(id));
            row.is_none_or(|row| row.outcome.helps())
        };
        self.rows.iter().filter(move |row| match row.figure {
            Figure::KeepOutMoved(id, _) => row.outcome.helps() || gone(id),
            _ => true,
        })
    }

    /// What goes in, what is to be reached, and whether it is only a matter of having them, in one sentence.
    pub fn words(&self) -> String {
        let strings = |modules: u32| {
            if self.string > 1 && modules.is_multiple_of(self.string) {
                let number = modules / self.string;
                let strings = if number == 1 { "string" } else { "strings" };
                format!(" ({number} {strings} of {})", self.string)
            } else {
                String::new()
            }
        };
        let (now, wanted) = (self.now, self.wanted);
        let goal = format!("{wanted}{}", strings(wanted));
        match (self.fits, wanted > self.on_hand) {
            // Nothing is wanting then: more would only be more.
            (true, true) if now == self.on_hand => {
                format!("all {now} on hand go in, and there is room for {goal} as it is")
            }
            (true, true) => format!(
                "{now} go in with the margins asked for; there is room for {goal} as it is, and {} are on hand for it",
                self.on_hand
            ),
            (true, false) => format!("{goal} go in as it is"),
            (false, true) if now == self.on_hand => format!(
                "all {now} on hand go in; for {goal} it would take {} more, and one of these:",
                wanted - self.on_hand
            ),
            (false, true) => format!(
                "{now} go in with the margins asked for; for {goal} it would take {} more than the {} on hand, and one of these:",
                wanted - self.on_hand,
                self.on_hand
            ),
            (false, false) => format!("{now} go in with the margins asked for; for {goal} it would take one of these:"),
        }
    }
}
