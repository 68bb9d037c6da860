//! Fittings that cannot be let in where they were told, or that modules stand in the way of.

use super::{Look, finding};
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
        let trapped = battery_box.strength.as_ref().and_then(|sums| sums.trapped);
        if let Some(trapped) = trapped.filter(|trapped| !trapped.is_vented) {
            say(
                Grave::Caution,
                format!(
                    "no breather: closed, {}; cooling, it draws water in past the gasket",
                    trapped.words()
                ),
                "ideal gas at constant volume; standard atmosphere of ISO 2533 (from memory, check it)",
                "add a breather on the Boxes page, above the wading line",
            );
        }
    }
}
