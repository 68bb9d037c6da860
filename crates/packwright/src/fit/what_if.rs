//! What one more module would take, what each keep-out costs, how wrong each reading may be.

use geometry::fit::{Budget, Unwatched};
use job::layout::Aim;
use job::what_if::{Amount, Gain, Goal, Outcome, Room, Tolerance, WhatIf, gain_tasks, tolerances};
use job::{Evaluation, Grams, Job, what_if};
use serde_json::{Value, json};
use tape::Length;

use super::find::{self, Found};
use super::progress::Line;
use super::{FitArgs, rows, table};
use crate::trouble::Trouble;

/// Steps for each layout that is tried, when none are given: many are tried, and most are told apart by the bound.
const STEPS: u64 = 50_000;

/// The answers.
pub(super) struct Answers {
    what_if: WhatIf,
    gains: Vec<Gain>,
    tolerances: Vec<Tolerance>,
}

pub(super) fn ask(job: &Job, found: &Found, args: &FitArgs) -> Result<Answers, Trouble> {
    let aim = found.proposal.question.aim;
    let goal = match aim {
        Aim::Wanted(count) if !found.proposal.is_all() => count.modules().map_or(Goal::OneMore, Goal::Number),
        _ => Goal::OneMore,
    };
    let budget = Budget {
        work: args.steps()?.unwrap_or(STEPS),
        ..Budget::default()
    };
    let not_yet = |why| find::not_yet(&why, args);
    let asked = what_if::ask(job, &found.before, aim, goal, budget, &mut Unwatched).map_err(not_yet)?;
    let line = Line::new();
    let told = |what: &'static str, of: usize| move |done: usize| line.tell(&format!("{what}: {done} of {of} tried"));
    let rows = rows::all(
        &asked.tasks,
        |task| task.run(budget, &mut Unwatched),
        told("what one more would take", asked.tasks.len()),
    );
    let tasks = gain_tasks(job, &found.before, aim, budget, &mut Unwatched).map_err(not_yet)?;
    let mut gains = rows::all(
        &tasks,
        |task| task.run(budget, &mut Unwatched),
        told("what each keep-out costs", tasks.len()),
    );
    gains.sort_by_key(|gain| std::cmp::Reverse(gain.modules()));
    line.clear();
    Ok(Answers {
        what_if: asked.with_rows(rows),
        gains,
        tolerances: tolerances(&found.job, &found.chosen().evaluation),
    })
}

impl Answers {
    /// The tables, each with its heading. `before` is the job that was asked about, `after` has the layout.
    pub(super) fn text(&self, before: &Evaluation, after: &Evaluation) -> String {
        let mut text = format!("\n{}\n", self.what_if.words());
        if !self.what_if.rows.is_empty() {
            let head = ["change", "from", "to", "by", "brings"].map(str::to_owned);
            let rows = self.what_if.telling().map(|row| {
                let shown = row.shown(before);
                [shown.name, shown.from, shown.to, shown.by, shown.brings]
            });
            text.push_str(&table::lines(&std::iter::once(head).chain(rows).collect::<Vec<_>>()));
        }
        if !self.gains.is_empty() {
            text.push_str("\nwhat would be gained by moving a keep-out away, however many are on hand\n");
            let rows = self
                .gains
                .iter()
                .map(|gain| [gain.name.clone(), gain.source.name().to_owned(), gain.words()]);
            text.push_str(&table::lines(&rows.collect::<Vec<_>>()));
        }
        if !self.tolerances.is_empty() {
            text.push_str("\nhow much too long a reading may be before the layout above no longer fits\n");
            let head = ["reading", "read", "margins kept", "moved over", "touches", "moved over"];
            let rows = self.tolerances.iter().map(|t| {
                let room = |length| room(after, length);
                [
                    format!("{}, {}", t.name, t.place),
                    after.near(t.read),
                    room(t.keeps.still),
                    room(t.keeps.moved),
                    room(t.touches.still),
                    room(t.touches.moved),
                ]
            });
            let head = std::iter::once(head.map(str::to_owned));
            text.push_str(&table::lines(&head.chain(rows).collect::<Vec<_>>()));
        }
        text
    }

    /// The three tables as data.
    pub(super) fn json(&self, before: &Evaluation) -> [Value; 3] {
        let rows = self.what_if.rows.iter().map(|row| {
            let mut value =
                json!({ "change": row.name, "words": row.shown(before).brings, "helps": row.outcome.helps() });
            match row.outcome {
                Outcome::Helps {
                    from,
                    to,
                    by,
                    proved,
                    count,
                } => {
                    value["from_mm"] = from.as_mm().into();
                    value["to_mm"] = to.as_mm().into();
                    value["by_mm"] = by.as_mm().into();
                    value["by_nm"] = by.nm().into();
                    value["proved"] = proved.into();
                    value["count"] = count.into();
                }
                Outcome::More {
                    from,
                    to,
                    proved,
                    count,
                } => {
                    value["from"] = amount(from);
                    value["to"] = amount(to);
                    value["proved"] = proved.into();
                    value["count"] = count.into();
                }
                Outcome::Does { count } => value["count"] = count.into(),
                Outcome::NoHelp { up_to, proved } => {
                    value["up_to_mm"] = up_to.map(Length::as_mm).into();
                    value["proved"] = proved.into();
                }
                Outcome::NoMore { up_to, proved } => {
                    value["up_to"] = amount(up_to);
                    value["proved"] = proved.into();
                }
                Outcome::Stopped => {}
            }
            value
        });
        let what_if = json!({
            "words": self.what_if.words(),
            "now": self.what_if.now,
            "wanted": self.what_if.wanted,
            "on_hand": self.what_if.on_hand,
            "fits": self.what_if.fits,
            "rows": rows.collect::<Vec<_>>(),
        });
        let gains = self.gains.iter().map(|gain| {
            json!({
                "id": gain.keep_out.0,
                "name": gain.name,
                "source": gain.source.name(),
                "now": gain.now,
                "without": gain.without,
                "modules_gained": gain.modules(),
                "strings_gained": if gain.string > 1 { Some(gain.strings()) } else { None },
                "proved": gain.proved,
            })
        });
        let readings = self.tolerances.iter().map(|t| {
            let room =
                |room: Room| json!({ "standing_still_mm": room.still.as_mm(), "moved_over_mm": room.moved.as_mm() });
            json!({
                "cavity": t.cavity.0,
                "reading": t.reading,
                "line": t.place,
                "read_mm": t.read.as_mm(),
                "margins_kept": room(t.keeps),
                "until_it_touches": room(t.touches),
            })
        });
        [what_if, gains.collect(), readings.collect()]
    }
}

/// A limit of mass or of boxes.
fn amount(amount: Amount) -> Value {
    match amount {
        Amount::Grams(grams) => json!({ "kg": Grams(grams).kg() }),
        Amount::Boxes(boxes) => json!({ "boxes": boxes }),
    }
}

/// Room that there is, rounded down; what is short is said.
fn room(evaluation: &Evaluation, length: Length) -> String {
    if length.is_negative() {
        format!("{} short", evaluation.up(-length))
    } else {
        evaluation.down(length)
    }
}
