//! Automatic layouts of bare modules.

mod instance;
pub mod rules;

use geometry::fit::{Answer, Budget, Layout, Unwatched, fit};
use serde_json::{Value, json};

use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};
use crate::read::{Section, entries, numbered};
use crate::{Options, Placed, Verdict};
use rules::Instance;

/// The cases of one section.
pub(crate) fn section<'a>(section: &str, value: &'a Value, options: Options) -> Section<'a> {
    if section != "instances" {
        return Ok(None);
    }
    let case = |(index, entry): (usize, &'a Value)| {
        let mut expected = json!({});
        for key in ["best_known", "upper_bound"] {
            expected[key] = entry[key].clone();
        }
        Question::of(section, entry, &numbered(section, index))
            .of_kind("layout")
            .expecting(expected)
            .worked_out(move || outcome(Inputs(entry), options.budget))
    };
    let list = entries(section, value)?.iter().enumerate();
    Ok(Some(list.map(case).collect()))
}

fn outcome(entry: Inputs<'_>, budget: Budget) -> Clear<Outcome> {
    let [best_known, upper_bound] = ["best_known", "upper_bound"].map(|key| entry.count(key));
    let known = Known {
        best: best_known?,
        bound: upper_bound?,
    };
    let instance = instance::read(entry)?;
    let answer = fit(&instance::request(&instance), budget, &mut Unwatched)
        .map_err(|refusal| Unclear(format!("refused: {refusal}")))?;
    let (verdict, note) = judged(&instance, known, &answer);
    Ok(Outcome {
        got: json!({
            "count": count(&answer),
            "upper_bound": answer.upper_bound,
            "proved": answer.proved,
            "bound_by": answer.bound_by.words(),
        }),
        verdict,
        note,
        placements: answer.layouts.first().map(placed),
    })
}

/// What is known of a case.
#[derive(Clone, Copy)]
struct Known {
    /// So many were placed by a checked layout.
    best: u32,
    /// No layout can hold more.
    bound: u32,
}

fn count(answer: &Answer) -> u32 {
    answer.layouts.first().map_or(0, |layout| layout.count)
}

fn judged(instance: &Instance, known: Known, answer: &Answer) -> (Verdict, String) {
    let count = count(answer);
    if let Some(wrong) = wrong(instance, known, answer) {
        return (Verdict::Fail, wrong);
    }
    if count < known.best {
        let note = format!("exact search: got {count} of {}", known.best);
        return (Verdict::NotYet, note);
    }
    let record = if count > known.best { "new record" } else { "" };
    let proved = if answer.proved { "proved" } else { "" };
    let notes: Vec<&str> = [record, proved].into_iter().filter(|note| !note.is_empty()).collect();
    (Verdict::Pass, notes.join(", "))
}

/// What is wrong with an answer, whatever its count.
fn wrong(instance: &Instance, known: Known, answer: &Answer) -> Option<String> {
    for (index, layout) in answer.layouts.iter().enumerate() {
        if let Some(breach) = miscounted(layout).or_else(|| rules::breach(instance, &placed(layout))) {
            return Some(format!("layout {} breaks the rules: {breach}", index + 1));
        }
    }
    let (count, bound) = (count(answer), answer.upper_bound);
    if count > known.bound {
        Some(format!("{count} placed, though at most {} can be", known.bound))
    } else if bound < known.best {
        Some(format!(
            "says at most {bound} go in, though {} are known to",
            known.best
        ))
    } else if count > bound {
        Some(format!("{count} placed, above its own bound {bound}"))
    } else if answer.proved != (count == bound) {
        Some(format!("proved is {}, at {count} of at most {bound}", answer.proved))
    } else {
        None
    }
}

/// A layout whose count is not that of its placements, or that has boxes or stacks nobody asked for.
fn miscounted(layout: &Layout) -> Option<String> {
    let bare = layout
        .placements
        .iter()
        .all(|placement| placement.count == 1 && placement.in_box.is_none());
    let placed = layout.placements.len();
    if !bare || !layout.boxes.is_empty() {
        Some("not all modules stand bare".to_owned())
    } else if usize::try_from(layout.count) != Ok(placed) {
        Some(format!("says {} and places {placed}", layout.count))
    } else {
        None
    }
}

/// The modules of a layout in the units of the case, which the request takes as nanometres.
fn placed(layout: &Layout) -> Vec<Placed> {
    let rows = layout.placements.iter().map(|placement| Placed {
        cavity: placement.cavity,
        kind: placement.kind,
        lo: placement.cuboid.lo().0.map(tape::Length::nm),
        hi: placement.cuboid.hi().0.map(tape::Length::nm),
    });
    rows.collect()
}

#[cfg(test)]
mod tests;
