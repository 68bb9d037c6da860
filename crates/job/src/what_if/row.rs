//! One row of the table: one figure and what changing it brings.

use std::sync::{Arc, OnceLock};

use geometry::fit::{self, Budget, Layout, Progress, Request, RequestError, Watch, least_change};
use tape::Length;

use super::amount::Amount;
use super::figure::Figure;
use super::ground::Ground;

use crate::{Evaluation, Id};

/// One row of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The figure.
    pub figure: Figure,
    /// What it is called.
    pub name: String,
    /// What changing it brings.
    pub outcome: Outcome,
}

/// What changing one figure brings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// With this change the wanted number goes in.
    Helps {
        /// The figure now.
        from: Length,
        /// The figure then.
        to: Length,
        /// The smallest change found.
        by: Length,
        /// Whether less is proved not to do; else it is what was found, and less may do.
        proved: bool,
        /// Modules that go in then.
        count: u32,
    },
    /// With so many more grams or boxes the wanted number goes in.
    More {
        /// The limit now.
        from: Amount,
        /// The limit then, the smallest found.
        to: Amount,
        /// Whether less is proved not to do; else it is what was found, and less may do.
        proved: bool,
        /// Modules that go in then.
        count: u32,
    },
    /// With it taken away, or allowed, the wanted number goes in.
    Does {
        /// Modules that go in then.
        count: u32,
    },
    /// It does not help.
    NoHelp {
        /// As far as was looked; `None` for what has no length.
        up_to: Option<Length>,
        /// Whether it is proved that it does not.
        proved: bool,
    },
    /// No more grams or boxes help.
    NoMore {
        /// As far as was looked.
        up_to: Amount,
        /// Whether it is proved that it does not.
        proved: bool,
    },
    /// It was stopped before it was known.
    Stopped,
}

impl Outcome {
    /// What helps first, the smallest change of a length first; then the others that do; then what does not help.
    pub(super) const fn order(&self) -> (u8, Length) {
        match *self {
            Self::Helps { by, .. } => (0, by),
            Self::More { .. } | Self::Does { .. } => (1, Length::ZERO),
            Self::NoHelp { .. } | Self::NoMore { .. } => (2, Length::ZERO),
            Self::Stopped => (3, Length::ZERO),
        }
    }

    /// Whether the wanted number goes in with the change.
    pub const fn helps(&self) -> bool {
        matches!(self, Self::Helps { .. } | Self::More { .. } | Self::Does { .. })
    }
}

/// A row as it is printed: lengths in the person's units, rounded so that the change as printed is never too small. Room
/// that there is, is rounded down as everywhere; what takes room, up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shown {
    /// What the figure is called.
    pub name: String,
    /// The figure now.
    pub from: String,
    /// The figure then.
    pub to: String,
    /// By how much it changes.
    pub by: String,
    /// Modules that go in, and how sure that is; or that it does not help.
    pub brings: String,
}

impl Row {
    /// The row in words.
    pub fn shown(&self, evaluation: &Evaluation) -> Shown {
        let mut shown = Shown {
            name: self.name.clone(),
            ..Shown::default()
        };
        match self.outcome {
            Outcome::Helps {
                from,
                to,
                by,
                proved,
                count,
            } => {
                (shown.from, shown.to) = if self.figure.grows() {
                    (evaluation.down(from), evaluation.up(to))
                } else {
                    (evaluation.up(from), evaluation.down(to))
                };
                shown.by = evaluation.up(by);
                shown.brings = goes_in(count, proved);
            }
            Outcome::More {
                from,
                to,
                proved,
                count,
            } => {
                (shown.from, shown.to, shown.by) = (from.down(), to.up(), from.to(to));
                shown.brings = goes_in(count, proved);
            }
            Outcome::Does { count } => shown.brings = format!("{count} go in"),
            Outcome::NoHelp { up_to, proved } => {
                shown.brings = no_help(up_to.map(|up_to| evaluation.near(up_to)), proved);
            }
            Outcome::NoMore { up_to, proved } => shown.brings = no_help(Some(up_to.up()), proved),
            Outcome::Stopped => shown.brings.push_str("stopped"),
        }
        shown
    }
}

fn goes_in(count: u32, proved: bool) -> String {
    let how = if proved { "proved: no less will do" } else { "found" };
    format!("{count} go in ({how})")
}

fn no_help(up_to: Option<String>, proved: bool) -> String {
    let how = if proved { "" } else { " (none found)" };
    match up_to {
        Some(up_to) => format!("no help up to {up_to}{how}"),
        None => format!("no help{how}"),
    }
}

/// The work for one row. Tasks do not depend on each other: a caller may run several at once.
#[derive(Clone, Debug)]
pub struct RowTask {
    ground: Arc<Ground>,
    figure: Figure,
}

/// One task for each figure that can be changed.
pub(super) fn tasks(ground: Ground) -> Vec<RowTask> {
    let ground = Arc::new(ground);
    let figures = Figure::all(&ground).into_iter();
    figures
        .filter(|figure| figure.now(&ground).is_none() || figure.up_to(&ground).is_some())
        .map(|figure| RowTask {
            ground: Arc::clone(&ground),
            figure,
        })
        .collect()
}

impl RowTask {
    /// The figure.
    pub const fn figure(&self) -> Figure {
        self.figure
    }

    /// What the figure is called.
    pub fn name(&self) -> String {
        self.figure.name(&self.ground.evaluation)
    }

    /// Finds the smallest change with which the wanted number goes in; `budget` holds for each layout that is tried.
    pub fn run(&self, budget: Budget, watch: &mut dyn Watch) -> Row {
        let mut heard = Heard { watch, stopped: false };
        let outcome = self.outcome(budget, &mut heard);
        Row {
            figure: self.figure,
            name: self.name(),
            outcome: match outcome {
                Ok(outcome) if !heard.stopped => outcome,
                Ok(_) => Outcome::Stopped,
                // A change that leaves nothing to lay out.
                Err(_) => Outcome::NoHelp {
                    up_to: None,
                    proved: false,
                },
            },
        }
    }

    fn outcome(&self, budget: Budget, watch: &mut Heard<'_>) -> Result<Outcome, RequestError> {
        let (ground, figure) = (&*self.ground, self.figure);
        if let Some((from, up_to)) = figure.amount(ground) {
            return self.more(from, up_to, budget, watch);
        }
        let (Some(from), Some(up_to)) = (figure.now(ground), figure.up_to(ground)) else {
            return self.with(figure, Length::ZERO, budget, watch);
        };
        if let Figure::KeepOutMoved(id, _) = figure
            && let Outcome::NoHelp { proved, .. } = self.taken_away(id, budget, watch)?
        {
            // Wherever it is moved to, it leaves no more room than when it is gone.
            return Ok(Outcome::NoHelp {
                up_to: Some(up_to),
                proved,
            });
        }
        // Most figures do not help however far they are changed, which is one layout to try.
        if let Outcome::NoHelp { proved, .. } = self.with(figure, up_to, budget, watch)? {
            return Ok(Outcome::NoHelp {
                up_to: Some(up_to),
                proved,
            });
        }
        // That nothing needs no change was settled before the rows were listed.
        let mut ask = |by: Length| figure.changed(ground, by).filter(|_| by > Length::ZERO);
        let least = least_change(&mut ask, ground.wanted, up_to, budget, watch)?;
        Ok(least.map_or(Outcome::Stopped, |least| Outcome::Helps {
            from,
            to: if figure.grows() {
                from + least.change
            } else {
                from - least.change
            },
            by: least.change,
            proved: least.proved,
            count: least.count,
        }))
    }

    /// Whether the wanted number goes in with a keep-out gone: tried once for all the ways it may be moved.
    fn taken_away(&self, id: Id, budget: Budget, watch: &mut Heard<'_>) -> Result<Outcome, RequestError> {
        let known = self.ground.taken_away.get(&id);
        if let Some(outcome) = known.and_then(OnceLock::get) {
            return Ok(*outcome);
        }
        let outcome = self.with(Figure::KeepOutGone(id), Length::ZERO, budget, watch)?;
        if let Some(known) = known.filter(|_| !watch.stopped) {
            // Another task may have told it meanwhile, and the same.
            let _ = known.set(outcome);
        }
        Ok(outcome)
    }

    /// The least limit of grams or boxes, from what it is up to `up_to`, with which the wanted number goes in.
    fn more(
        &self,
        from: Amount,
        up_to: Amount,
        budget: Budget,
        watch: &mut Heard<'_>,
    ) -> Result<Outcome, RequestError> {
        let (ground, figure) = (&*self.ground, self.figure);
        let farthest = figure.brought_to(ground, up_to);
        if let Outcome::NoHelp { proved, .. } = self.asked(farthest, budget, watch)? {
            return Ok(Outcome::NoMore { up_to, proved });
        }
        // The search counts in the smallest length there is; here each of them stands for one gram or box.
        let mut ask = |by: Length| (by > Length::ZERO).then(|| figure.brought_to(ground, from.more(by.nm())))?;
        let most = Length::from_nm(up_to.number() - from.number());
        let least = least_change(&mut ask, ground.wanted, most, budget, watch)?;
        Ok(least.map_or(Outcome::Stopped, |least| Outcome::More {
            from,
            to: from.more(least.change.nm()),
            proved: least.proved,
            count: least.count,
        }))
    }

    /// Whether the wanted number goes in with the whole of a change.
    fn with(&self, figure: Figure, by: Length, budget: Budget, watch: &mut Heard<'_>) -> Result<Outcome, RequestError> {
        self.asked(figure.changed(&self.ground, by), budget, watch)
    }

    /// Whether the wanted number goes in with a changed question; it does not where the job cannot be so.
    fn asked(&self, request: Option<Request>, budget: Budget, watch: &mut Heard<'_>) -> Result<Outcome, RequestError> {
        let none = Outcome::NoHelp {
            up_to: None,
            proved: false,
        };
        let Some(request) = request else {
            return Ok(none);
        };
        let answer = fit::fit(&request, budget, watch)?;
        let count = answer.layouts.first().map_or(0, |l| l.count);
        Ok(if count >= self.ground.wanted {
            Outcome::Does { count }
        } else {
            Outcome::NoHelp {
                up_to: None,
                proved: answer.upper_bound < self.ground.wanted,
            }
        })
    }
}

/// Hears whether the watcher stopped the work.
struct Heard<'a> {
    watch: &'a mut dyn Watch,
    stopped: bool,
}

impl Watch for Heard<'_> {
    fn carry_on(&mut self, progress: Progress) -> bool {
        self.stopped |= !self.watch.carry_on(progress);
        !self.stopped
    }

    fn better(&mut self, layout: &Layout) {
        self.watch.better(layout);
    }
}
