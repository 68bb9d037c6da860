//! How each box is held: first-order sums, each with its formula and where its limit comes from.

use enclosure::seal::ip;
use job::{BoxStrength, Evaluation, FIRST_ORDER, Grave, StrengthCheck, known_words};

use crate::html::page::{Cell, Page};

/// What to heed before a box is hung.
const CAUTIONS: [&str; 6] = [
    "A badly mounted box kills in a crash. These sums find what is clearly too weak, and nothing more.",
    "Somebody licensed works out and looks at the mounts. Local vehicle rules decide; no load factor here is told as law.",
    "Bolts bear this much as through bolts with plates or crush tubes. Threads cut in sheet do not.",
    "What the bolts go through, and its welds, must bear the same force: that is not summed here.",
    "Lift with machinery and rated gear, far below its rating. Nobody stands under or reaches under a hanging box.",
    "Figures from memory are marked so: look them up before you rely on them.",
];

/// The sums of every box. `date` is printed as given.
pub fn strength_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::with_cautions("How the boxes are held", evaluation, date, &CAUTIONS);
    page.paragraph(FIRST_ORDER);
    for battery_box in &evaluation.boxes {
        let Some(strength) = &battery_box.strength else {
            continue;
        };
        page.heading(&format!(
            "{}: {} loaded, held by {}",
            battery_box.name,
            job::box_words(strength.mass_kg, evaluation.units),
            strength.bolts
        ));
        if let Some(governs) = strength.governs_text() {
            page.paragraph(&format!("{}: {governs}.", battery_box.name));
        }
        if !strength.taken.is_empty() {
            page.paragraph(&format!("{}.", strength.taken));
        }
        let head = [
            "",
            "what",
            "load",
            "limit",
            "share",
            "in words",
            "formula, source, how it is known",
            "to do",
        ];
        // By share, the largest first.
        page.table(&head, strength.checks.iter().map(|check| row(check, evaluation.units)));
        if !strength.not_summed.is_empty() {
            page.paragraph(&format!("Not summed: {}.", strength.not_summed));
        }
        if let Some(lift) = &strength.lift {
            page.paragraph(&format!("{}.", lift.words(evaluation.units)));
        }
    }
    page.paragraph(&sealing());
    page.finish()
}

/// What the gasket and the lid's screws are there for.
fn sealing() -> String {
    let codes: Vec<String> = ip::UNDER_A_BED.iter().filter_map(|code| ip::explain(code)).collect();
    format!(
        "What a box under a bed is commonly asked to keep out (judgement, no source): {}. {}. Nothing here tests that: try a \
         closed box with water before modules go in. Meanings of {} ({}).",
        codes.join(", and "),
        ip::NOTE,
        ip::SOURCE,
        known_words(ip::KNOWN_BY)
    )
}

fn row(check: &StrengthCheck, units: tape::Units) -> Vec<Cell> {
    vec![
        Cell::text(verdict(check)),
        Cell::text(check.of.what.clone()),
        Cell::figure(check.load_text(units)),
        Cell::figure(check.limit_text(units)),
        Cell::figure(check.share_text()),
        Cell::text(check.says.clone()),
        Cell::text(check.source_text()),
        Cell::text(check.fix.clone()),
    ]
}

/// The word for a sum.
fn verdict(check: &StrengthCheck) -> &'static str {
    match check.over() {
        Some(Grave::Note) => "over, a note",
        Some(_) => "OVER",
        None => "within",
    }
}

/// A line for each box that points to the sheet, with the sum that governs.
pub(super) fn lines(evaluation: &Evaluation) -> Vec<String> {
    let line = |name: &str, strength: &BoxStrength| {
        let governs = strength.governs_text()?;
        Some(format!(
            "{name}, how it is held (strength.html), by first-order sums: {governs}"
        ))
    };
    evaluation
        .boxes
        .iter()
        .filter_map(|b| line(&b.name, b.strength.as_ref()?))
        .collect()
}
