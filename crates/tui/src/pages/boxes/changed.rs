//! What the last edit on the page changed: mass, sizes, parts, clearances, stock. It stays until the next edit.

use std::sync::Arc;

use job::changes::{Changes, Difference, changes};
use job::{Evaluation, Grams, Job};

use crate::model::Model;
use crate::pages::nests;
use crate::theme::Meaning;

/// What an edit changed.
#[derive(Clone, Debug)]
pub struct Changed {
    /// The edit, in words.
    pub words: String,
    /// What differs.
    pub changes: Changes,
    /// Mass of boxes and modules before it and after it, in grams.
    pub mass_g: [i64; 2],
    /// What was to be bought of each stock before it, where that was worked out.
    pub bought: Option<Vec<(String, u32)>>,
}

impl Changed {
    /// Compares the job before an edit with the job after it.
    pub(crate) fn of(words: String, was: (&Job, &Evaluation), is: (&Job, &Evaluation)) -> Self {
        let mass_g = [was.1, is.1].map(|e| e.headline.mass_g.unwrap_or(0));
        Self {
            words,
            changes: changes(was.0, was.1, is.0, is.1),
            mass_g,
            bought: None,
        }
    }
}

/// What is bought of each stock, where that is worked out for this state of the job.
pub(crate) fn bought(model: &Model, job: &Arc<Job>) -> Option<Vec<(String, u32)>> {
    let nests = nests::of(model, job).filter(|nests| !nests.nesting.stopped)?;
    let stocks = nests.nesting.stocks.iter();
    Some(stocks.map(|stock| (stock.label.clone(), stock.bought)).collect())
}

/// What changed, the big facts first; nothing before the first edit on the page.
pub fn lines(model: &Model) -> Vec<(String, Meaning)> {
    let Some(changed) = &model.changed else {
        return Vec::new();
    };
    let found = &changed.changes;
    if found.shop.is_none() && found.clearances.is_empty() && found.facts.is_empty() {
        let words = format!("no part, size, mass or clearance changed by: {}", changed.words);
        return vec![(words, Meaning::Dim)];
    }
    let mut lines = vec![(format!("changed by: {}", changed.words), Meaning::Heading)];
    lines.push((summary(changed), Meaning::Plain));
    lines.extend(to_buy(model, changed));
    for change in &found.shop.boxes {
        lines.push((change.words(), Meaning::Plain));
        let parts = change
            .parts
            .iter()
            .map(|part| (format!("  {}", part.words()), Meaning::Plain));
        lines.extend(parts);
    }
    let clearances = found.clearances.iter();
    lines.extend(clearances.map(|d| (format!("clearance {}", d.words()), Meaning::Plain)));
    let stock = found.shop.stock.iter();
    lines.extend(stock.map(|d| (format!("takes {}", d.words()), Meaning::Plain)));
    lines
}

/// Mass, tightest clearance and number of parts on one line.
fn summary(changed: &Changed) -> String {
    let [was, is] = changed.mass_g;
    let mut told: Vec<String> = mass_words(was, is).into_iter().collect();
    let fact = |what: &str| changed.changes.facts.iter().find(|d| d.what == what);
    told.extend(fact("tightest clearance").map(|d| format!("tightest {} -> {}", d.before, d.after)));
    told.extend(
        ["stops", "cautions"]
            .into_iter()
            .filter_map(fact)
            .map(Difference::words),
    );
    if !changed.changes.shop.is_none() {
        told.push(changed.changes.shop.words());
    }
    told.join("; ")
}

/// The mass before and after to a tenth of a kilogram, and their difference as told; nothing where both read alike.
fn mass_words(was_g: i64, is_g: i64) -> Option<String> {
    let tenths = |grams| (Grams(grams).kg() * 10.0).round();
    let (was, is) = (tenths(was_g), tenths(is_g));
    let by = is - was;
    if by.abs() < 0.5 {
        return None;
    }
    Some(format!(
        "mass {:.1} -> {:.1} kg, {:+.1}",
        was / 10.0,
        is / 10.0,
        by / 10.0
    ))
}

/// Sheets and bars to buy before and after, once both are worked out.
fn to_buy(model: &Model, changed: &Changed) -> Option<(String, Meaning)> {
    if changed.changes.shop.stock.is_empty() {
        return None;
    }
    let was = changed.bought.as_ref()?;
    let Some(is) = bought(model, &model.evaluated) else {
        let words = "n lays the parts on sheets and bars, and tells here what is bought otherwise";
        return Some((words.to_owned(), Meaning::Dim));
    };
    let count = |list: &[(String, u32)], label: &str| list.iter().find(|(l, _)| l == label).map_or(0, |(_, n)| *n);
    let gone = was.iter().filter(|(label, _)| !is.iter().any(|(l, _)| l == label));
    let told: Vec<String> = is
        .iter()
        .chain(gone)
        .filter_map(|(label, _)| {
            let (was, is) = (count(was, label), count(&is, label));
            (was != is).then(|| format!("{label} {was} -> {is}"))
        })
        .collect();
    Some(if told.is_empty() {
        ("to buy: as many sheets and bars as before".to_owned(), Meaning::Good)
    } else {
        (format!("to buy: {}", told.join(", ")), Meaning::Plain)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mass_that_reads_alike_is_not_told_and_the_change_is_that_of_what_is_read() {
        assert_eq!(mass_words(510_310, 510_270), None);
        // 510.26 and 510.24 are read as 510.3 and 510.2.
        assert_eq!(
            mass_words(510_260, 510_240).as_deref(),
            Some("mass 510.3 -> 510.2 kg, -0.1")
        );
        assert_eq!(
            mass_words(510_000, 512_000).as_deref(),
            Some("mass 510.0 -> 512.0 kg, +2.0")
        );
    }
}
