//! One case and what came of it.

use serde_json::{Value, json};

/// What came of a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Everything expected was given.
    Pass,
    /// Something else was given, or the case could not be worked out at all.
    Fail,
    /// No crate can do it yet.
    NotYet,
}

impl Verdict {
    /// `pass`, `FAIL` or `not yet`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Fail => "FAIL",
            Self::NotYet => "not yet",
        }
    }
}

/// One module of a layout, in the case's own whole units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Index of the cavity.
    pub cavity: usize,
    /// Index of the kind of module.
    pub kind: usize,
    /// Its lowest corner.
    pub lo: [i64; 3],
    /// Its highest corner.
    pub hi: [i64; 3],
}

/// One case of a file, run.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its name: the file's own, or made from its place where it has none.
    pub id: String,
    /// The file.
    pub file: String,
    /// The section of the file.
    pub section: String,
    /// What is asked.
    pub kind: String,
    /// What it is, in words.
    pub what: String,
    /// What is expected.
    pub expected: Value,
    /// What the crates give; null when they were not asked.
    pub got: Value,
    /// Where the expected value comes from.
    pub source: String,
    /// How it is known.
    pub known_by: String,
    /// What came of it.
    pub verdict: Verdict,
    /// What differs, what is missing, or what else there is to say; may be empty.
    pub note: String,
    /// The layout, where the case asks for one and one was made.
    pub placements: Option<Vec<Placed>>,
}

impl Case {
    /// The case as a JSON object.
    pub fn to_json(&self) -> Value {
        let mut object = json!({
            "id": self.id,
            "file": self.file,
            "section": self.section,
            "kind": self.kind,
            "what": self.what,
            "expected": self.expected,
            "got": self.got,
            "source": self.source,
            "known_by": self.known_by,
            "verdict": self.verdict.words(),
            "note": self.note,
        });
        if let Some(placements) = &self.placements {
            let rows = placements.iter().map(
                |placed| json!({ "cavity": placed.cavity, "kind": placed.kind, "lo": placed.lo, "hi": placed.hi }),
            );
            object["placements"] = rows.collect();
        }
        object
    }
}
