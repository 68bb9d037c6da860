//! Issuing: the letter under which the shop gets its papers, and what it gets with it.

use super::parts::compare;
use super::shop::given;
use crate::document::Issued;
use crate::field::FieldError;
use crate::{Edit, Evaluation, Job};

/// Letters that are left out of revisions, since they are taken for figures or for others.
///
/// I, O, Q, S, X and Z, as ASME Y14.35 has it (from memory).
const LEFT_OUT: &str = "IOQSXZ";

/// Why nothing was issued.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotIssued {
    /// No box can be built.
    #[error("there is nothing to cut yet")]
    Nothing,
    /// What the shop would get is what it has.
    #[error("the shop has revision {revision} of {date} as it is: no part, box or weld differs")]
    Same {
        /// The letter.
        revision: String,
        /// When it was issued.
        date: String,
    },
    /// The letter is given away.
    #[error("revision {0} was issued before, with other parts")]
    Taken(String),
    /// No letter, or one before the last that was issued.
    #[error("{problem}")]
    Wrong {
        /// What is wrong with it.
        problem: String,
        /// What to give instead.
        mend: String,
    },
    /// No letter follows by itself.
    #[error("no letter follows {0:?} by itself")]
    NoNext(String),
}

impl NotIssued {
    /// How to mend it, as an instruction.
    pub fn mend(&self) -> String {
        match self {
            Self::Nothing => "lay modules out first".to_owned(),
            Self::Same { .. } => "nothing to do; its papers can be written again".to_owned(),
            Self::Taken(_) => "choose a letter that was not used".to_owned(),
            Self::Wrong { mend, .. } => mend.clone(),
            Self::NoNext(_) => "give the next revision yourself: the entry \"revision\", or --revision".to_owned(),
        }
    }
}

/// The letter that follows: `A` after nothing, `B` after `A`, `AA` after `Y`; 8 after 7. `None` when that is no letter
/// and no number.
pub fn next_letter(revision: &str) -> Option<String> {
    let used = |c: char| c.is_ascii_uppercase() && !LEFT_OUT.contains(c);
    let letters: Vec<char> = ('A'..='Z').filter(|&c| used(c)).collect();
    if revision.is_empty() {
        return Some("A".to_owned());
    }
    if let Ok(number) = revision.parse::<u32>() {
        return number.checked_add(1).map(|next| next.to_string());
    }
    let mut places: Vec<usize> = revision
        .chars()
        .map(|c| letters.iter().position(|&letter| letter == c))
        .collect::<Option<_>>()?;
    for place in places.iter_mut().rev() {
        *place += 1;
        if *place < letters.len() {
            return Some(places.into_iter().map(|at| letters[at]).collect());
        }
        *place = 0;
    }
    // One place more, all of them at the first letter.
    Some("A".repeat(places.len() + 1))
}

/// The edit that notes what the shop gets: as `revision` when that is given, else under the job's letter, raised by one
/// when that was issued before. `date` is printed as given; `evaluation` is of `job`.
///
/// # Errors
///
/// [`NotIssued`] when there is nothing to issue, the shop has it already, or no letter is left for it.
pub fn issue(job: &Job, evaluation: &Evaluation, date: &str, revision: Option<&str>) -> Result<Edit, NotIssued> {
    let now = given(job, evaluation);
    if now.boxes.is_empty() {
        return Err(NotIssued::Nothing);
    }
    let asked = revision.map(crate::edit::revision::letters);
    let is_taken = |letter: &str| job.issued.iter().any(|issued| issued.revision == letter);
    if let Some(last) = job.issued.last() {
        let asks_for_it = asked.as_ref().is_none_or(|asked| *asked == last.revision);
        // As told, so that papers from before something was noted are not another revision for that alone.
        let is_same = compare(last, &now, evaluation.style()).is_none();
        if is_same && asks_for_it && job.revision == last.revision {
            return Err(NotIssued::Same {
                revision: last.revision.clone(),
                date: last.date.clone(),
            });
        }
    }
    let letter = match asked {
        Some(asked) if is_taken(&asked) => return Err(NotIssued::Taken(asked)),
        Some(asked) if asked.is_empty() => {
            return Err(NotIssued::Wrong {
                problem: "an empty text is no revision".to_owned(),
                mend: "give a letter that was not issued before, or leave it out for the next one".to_owned(),
            });
        }
        Some(asked) => {
            let wrong = |error: FieldError| NotIssued::Wrong {
                problem: error.problem,
                mend: error.mend,
            };
            crate::edit::revision::check(job, &asked).map_err(wrong)?;
            asked
        }
        None if job.revision.is_empty() || is_taken(&job.revision) => {
            next_letter(&job.revision).ok_or_else(|| NotIssued::NoNext(job.revision.clone()))?
        }
        None => job.revision.clone(),
    };
    if is_taken(&letter) {
        return Err(NotIssued::Taken(letter));
    }
    Ok(Edit::Issue(Box::new(Issued {
        revision: letter,
        date: date.to_owned(),
        ..now
    })))
}
