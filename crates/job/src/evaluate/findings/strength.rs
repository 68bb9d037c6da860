//! First-order sums that are over their limit.

use enclosure::strength::Bound;

use super::{Look, finding};
use crate::evaluate::strength::StrengthCheck;
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let mut own: Vec<Finding> = Vec::new();
    let mut taken = "";
    for battery_box in &look.evaluation.boxes {
        let Some(strength) = &battery_box.strength else {
            continue;
        };
        let mut say = |grave, words: String, source: String, fix: &str| {
            // What is the same of several boxes is said once, of all of them.
            if let Some(same) = own.iter_mut().find(|f| f.words == words && f.source == source) {
                same.name.push_str(", ");
                same.name.push_str(&battery_box.name);
                return;
            }
            let subject = Subject::Box(battery_box.id);
            own.push(finding(grave, subject, &battery_box.name, words, source, fix));
        };
        if taken.is_empty() && !strength.taken.is_empty() {
            taken = &strength.taken;
            let fix = "enter one that is, under mounts and loads on the Boxes page";
            say(Grave::Note, strength.taken.clone(), String::new(), fix);
        }
        for check in &strength.checks {
            if let Some(grave) = check.over() {
                say(grave, words(check), check.source_text(), &check.fix);
            }
        }
    }
    findings.append(&mut own);
}

/// What there is and on which side of which limit it has to be; how much of it a load takes up.
fn words(check: &StrengthCheck) -> String {
    let share = match check.of.bound {
        Bound::AtMost => format!(" ({} of it)", check.share_text()),
        Bound::AtLeast => String::new(),
    };
    format!(
        "{}: {}, {}{share}: {}",
        check.of.what,
        check.load_text(),
        check.limit_text(),
        check.says
    )
}
