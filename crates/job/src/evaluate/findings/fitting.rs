//! Fittings that cannot be let in where they were told, or that modules stand in the way of.

use super::{Look, finding};
use crate::document::FittingName;
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for battery_box in &look.evaluation.boxes {
        let subject = Subject::Box(battery_box.id);
        let mut say = |grave, words: String, source: &'static str, fix: &str| {
            findings.push(finding(grave, subject, &battery_box.name, words, source, fix));
        };
        for fitting in &battery_box.fittings {
            if let Some(fault) = &fitting.fault {
                say(
                    Grave::Stop,
                    format!("{}: {fault}; it is left out", fitting.label),
                    "",
                    "move it on the Boxes page, or take a smaller one",
                );
            }
            if !fitting.meets.is_empty() {
                let words = format!("{}: it reaches into {}", fitting.label, fitting.meets.join(", "));
                say(
                    Grave::Stop,
                    words,
                    "",
                    "move it, choose another wall, or move the module away",
                );
            }
        }
        let has = |what| battery_box.fittings.iter().any(|f| f.what == what);
        if !battery_box.fittings.is_empty() && !has(FittingName::Breather) {
            say(
                Grave::Note,
                "no breather: air in a closed box swells and shrinks with warmth, and draws water in past the gasket"
                    .to_owned(),
                "dV = V dT / T, ideal gas at constant pressure",
                "add a breather on the Boxes page, above the wading line",
            );
        }
    }
}
