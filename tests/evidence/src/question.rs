//! A case before it is run, and running it.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use serde_json::Value;

use crate::compare::{Allowed, differences};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::{Case, Placed, Verdict};

/// A case that has not been run.
pub(crate) struct Question<'a> {
    pub(crate) id: String,
    pub(crate) file: String,
    pub(crate) section: String,
    pub(crate) kind: String,
    pub(crate) what: String,
    pub(crate) expected: Value,
    pub(crate) source: String,
    pub(crate) known_by: String,
    work: Work<'a>,
}

type Work<'a> = Box<dyn Fn() -> Clear<Outcome> + Send + Sync + 'a>;

/// What came of running a case.
#[derive(Debug, PartialEq)]
pub(crate) struct Outcome {
    pub(crate) got: Value,
    pub(crate) verdict: Verdict,
    pub(crate) note: String,
    pub(crate) placements: Option<Vec<Placed>>,
}

impl Outcome {
    /// A verdict with a note and nothing else.
    pub(crate) fn told(verdict: Verdict, note: impl Into<String>) -> Self {
        Self {
            got: Value::Null,
            verdict,
            note: note.into(),
            placements: None,
        }
    }

    /// What no crate can do yet.
    pub(crate) fn not_yet(missing: impl Into<String>) -> Self {
        Self::told(Verdict::NotYet, missing)
    }

    /// What was given, compared with what was expected: anything wrong is a fail; anything missing, not yet.
    pub(crate) fn compared(expected: &Value, got: Value, allowed: Allowed<'_>) -> Self {
        let found = differences(expected, &got, allowed);
        let (verdict, note) = if !found.wrong.is_empty() {
            (Verdict::Fail, found.wrong.join("; "))
        } else if !found.missing.is_empty() {
            let missing = found.missing.join(", ");
            (Verdict::NotYet, format!("nothing gives {missing}"))
        } else {
            (Verdict::Pass, String::new())
        };
        Self {
            got,
            verdict,
            note,
            placements: None,
        }
    }
}

impl<'a> Question<'a> {
    /// A case of `section` with its own id, words, source and expected values; `fallback` names it when it has no id.
    pub(crate) fn of(section: &str, entry: &'a Value, fallback: &str) -> Self {
        let text = |keys: &[&str]| {
            let found = keys.iter().find_map(|key| entry[*key].as_str());
            found.unwrap_or_default().to_owned()
        };
        let id = text(&["id", "name"]);
        Self {
            id: if id.is_empty() { fallback.to_owned() } else { id },
            file: String::new(),
            section: section.to_owned(),
            kind: text(&["kind"]),
            what: text(&["what", "title", "note", "formula", "rule"]),
            expected: entry["expected"].clone(),
            source: text(&["source"]),
            known_by: text(&["known_by", "how_known"]),
            work: Box::new(|| Ok(Outcome::not_yet(String::new()))),
        }
    }

    /// The kind of the case, where the file itself tells none.
    pub(crate) fn of_kind(mut self, kind: &str) -> Self {
        if self.kind.is_empty() {
            kind.clone_into(&mut self.kind);
        }
        self
    }

    /// What it is, in words of ours.
    pub(crate) fn about(mut self, what: impl Into<String>) -> Self {
        self.what = what.into();
        self
    }

    /// What is expected, where the file has it elsewhere than under `expected`.
    pub(crate) fn expecting(mut self, expected: Value) -> Self {
        self.expected = expected;
        self
    }

    /// Where it comes from, told for a whole section: used where the case itself does not say.
    pub(crate) fn sourced(mut self, part: Inputs<'_>) -> Self {
        let fill = |text: &mut String, keys: &[&str]| {
            if text.is_empty() {
                let found = keys.iter().find_map(|key| part.0[*key].as_str());
                found.unwrap_or_default().clone_into(text);
            }
        };
        fill(&mut self.source, &["source", "formula", "rule"]);
        fill(&mut self.known_by, &["how_known", "known_by"]);
        self
    }

    /// How it is run.
    pub(crate) fn worked_out(mut self, work: impl Fn() -> Clear<Outcome> + Send + Sync + 'a) -> Self {
        self.work = Box::new(work);
        self
    }

    /// Not run, since no crate can do it yet.
    pub(crate) fn not_yet(self, missing: impl Into<String>) -> Self {
        let missing = missing.into();
        self.worked_out(move || Ok(Outcome::not_yet(missing.clone())))
    }

    /// Runs it. A crash is a fail of this case alone.
    fn answer(self) -> Case {
        let outcome = match catch_unwind(AssertUnwindSafe(|| (self.work)())) {
            Ok(Ok(outcome)) => outcome,
            Ok(Err(Unclear(why))) => Outcome::told(Verdict::Fail, format!("the case cannot be read: {why}")),
            Err(panic) => Outcome::told(Verdict::Fail, format!("crashed: {}", cause(&*panic))),
        };
        Case {
            id: self.id,
            file: self.file,
            section: self.section,
            kind: self.kind,
            what: self.what,
            expected: self.expected,
            got: outcome.got,
            source: self.source,
            known_by: self.known_by,
            verdict: outcome.verdict,
            note: outcome.note,
            placements: outcome.placements,
        }
    }
}

fn cause(panic: &(dyn Any + Send)) -> &str {
    panic
        .downcast_ref::<&str>()
        .copied()
        .or_else(|| panic.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("without a word")
}

/// Runs all of them on as many threads as the machine has, and gives the cases in the order of the questions.
pub(crate) fn answer_all(questions: Vec<Question<'_>>) -> Vec<Case> {
    let slots: Vec<Mutex<Option<Question<'_>>>> = questions
        .into_iter()
        .map(|question| Mutex::new(Some(question)))
        .collect();
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(slot) = slots.get(index) else {
                return done;
            };
            let question = slot.lock().ok().and_then(|mut slot| slot.take());
            done.extend(question.map(|question| (index, question.answer())));
        }
    };
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let mut cases = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        workers
            .into_iter()
            .flat_map(|worker| worker.join().expect("a crash of a case is caught"))
            .collect::<Vec<_>>()
    });
    cases.sort_unstable_by_key(|(index, _)| *index);
    cases.into_iter().map(|(_, case)| case).collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn a_crash_is_a_fail_of_its_own_case_alone() {
        let entry = json!({ "id": "x", "expected": {} });
        let good = || Question::of("s", &entry, "").worked_out(|| Ok(Outcome::not_yet("later")));
        let bad = Question::of("s", &entry, "").worked_out(|| panic!("a broken formula"));
        let cases = answer_all(vec![good(), bad, good()]);
        let verdicts: Vec<Verdict> = cases.iter().map(|case| case.verdict).collect();
        assert_eq!(verdicts, [Verdict::NotYet, Verdict::Fail, Verdict::NotYet]);
        assert_eq!(cases[1].note, "crashed: a broken formula");
    }

    #[test]
    fn an_input_that_is_not_there_is_a_fail() {
        let entry = json!({ "id": "x", "inputs": {} });
        let inputs = Inputs(&entry["inputs"]);
        let asked =
            Question::of("s", &entry, "").worked_out(move || inputs.float("volts").map(|_| Outcome::not_yet("")));
        let cases = answer_all(vec![asked]);
        assert_eq!(cases[0].verdict, Verdict::Fail);
        assert_eq!(cases[0].note, "the case cannot be read: volts should be a number");
    }
}
