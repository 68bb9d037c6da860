//! The letter that is entered by hand: one that can stand on a drawing, and none that the shop has seen already.

use crate::Job;
use crate::field::{Field, FieldError};

/// The most letters of a revision.
const MOST: usize = 3;

/// Where a revision stands in their order: fewer letters first, then by alphabet. `None` for anything but letters.
fn rank(revision: &str) -> Option<(usize, &str)> {
    let is_letters = !revision.is_empty() && revision.chars().all(|c| c.is_ascii_uppercase());
    is_letters.then_some((revision.len(), revision))
}

/// A revision as it is kept: letters are capitals.
pub(crate) fn letters(typed: &str) -> String {
    typed.trim().to_ascii_uppercase()
}

/// Checks a revision that is typed in: A to Z, after Z two letters, and none before the one that was issued last. An
/// empty one is taken away.
pub(crate) fn check(job: &Job, text: &str) -> Result<(), FieldError> {
    let text = text.trim();
    let refuse = |problem: String, mend: String| FieldError {
        label: Field::Revision.label(),
        given: text.to_owned(),
        problem,
        mend,
        at: None,
    };
    if text.is_empty() {
        return Ok(());
    }
    // A job that counts its revisions in numbers goes on so.
    let issued = job.issued.last().map(|issued| issued.revision.as_str());
    let counts = |revision: &str| revision.parse::<u32>().ok();
    if let (Some(last), Some(number)) = (issued.and_then(counts), counts(text)) {
        if number < last {
            let problem = format!("{number} comes before {last}, which was issued");
            return Err(refuse(problem, format!("type {last} or a number above it")));
        }
        return Ok(());
    }
    let Some(own) = rank(text).filter(|(letters, _)| *letters <= MOST) else {
        let problem = format!("{text:?} is no revision: letters A to Z, after Z two of them");
        return Err(refuse(
            problem,
            "type a letter, as B; i on the Papers page takes the next".to_owned(),
        ));
    };
    match issued.and_then(|last| Some((last, rank(last)?))) {
        Some((last, before)) if own < before => Err(refuse(
            format!("{text} comes before {last}, which was issued"),
            format!("type {last} or a letter after it"),
        )),
        _ => Ok(()),
    }
}
