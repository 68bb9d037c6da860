//! What differs from what the shop was given.

use super::{Look, finding};
use crate::changes::next_letter;
use crate::finding::{Finding, Grave, Subject};

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let Some(since) = look.evaluation.issued.as_ref().filter(|since| !since.changed.is_none()) else {
        return;
    };
    let (revision, date) = (&since.revision, &since.date);
    let words = format!(
        "the shop has revision {revision} of {date}; since then {}",
        since.changed.words()
    );
    let (grave, fix) = if since.same_letter {
        let letter = next_letter(revision).map_or_else(|| "a new one".to_owned(), |next| format!("revision {next}"));
        // Two papers with one letter and different parts are what gets a piece cut wrong.
        (
            Grave::Caution,
            format!("issue {letter}: i on the Papers page, or packwright issue"),
        )
    } else {
        let fix = "issue it when it is to be cut: i on the Papers page, or packwright issue";
        (Grave::Note, fix.to_owned())
    };
    findings.push(finding(grave, Subject::Job, "revision", words, "", fix));
}
