//! All cases of a run, and how they are told.

use std::fmt::Write as _;

use serde_json::Value;

use crate::{Case, Verdict};

/// Figures longer than this are cut in the text; the JSON has them whole.
const LONGEST: usize = 240;

/// All cases of a run, in the order of the files.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// The cases.
    pub cases: Vec<Case>,
}

impl Report {
    /// How many cases came out so.
    pub fn count(&self, verdict: Verdict) -> usize {
        let cases = self.cases.iter();
        cases.filter(|case| case.verdict == verdict).count()
    }

    /// Whether any case failed.
    pub fn failed(&self) -> bool {
        self.count(Verdict::Fail) > 0
    }

    /// The last line: `evidence: 3 passed, 0 failed, 1 not yet`.
    pub fn summary(&self) -> String {
        format!("evidence: {}", tally(&self.cases))
    }

    /// Every case in words, then a line for each section, then the summary.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for case in &self.cases {
            text.push_str(&told(case));
        }
        for file in self.cases.chunk_by(|a, b| a.file == b.file) {
            text.push_str(&sections(file));
        }
        text.push_str(&self.summary());
        text.push('\n');
        text
    }

    /// The list of the cases.
    pub fn to_json(&self) -> Value {
        self.cases.iter().map(Case::to_json).collect()
    }
}

fn tally(cases: &[Case]) -> String {
    let [passed, failed, not_yet] = [Verdict::Pass, Verdict::Fail, Verdict::NotYet]
        .map(|verdict| cases.iter().filter(|case| case.verdict == verdict).count());
    format!("{passed} passed, {failed} failed, {not_yet} not yet")
}

fn told(case: &Case) -> String {
    let mut text = String::new();
    let mut line = |label: &str, words: &str| {
        if !words.is_empty() {
            // Writing to a text cannot fail.
            let _ = writeln!(text, "  {label:<9}{words}");
        }
    };
    line("what", &case.what);
    line("expected", &figures(&case.expected));
    line("got", &figures(&case.got));
    line("source", &case.source);
    line("known by", &case.known_by);
    line("note", &case.note);
    let kind = if case.kind.is_empty() {
        String::new()
    } else {
        format!(" ({})", case.kind)
    };
    let verdict = case.verdict.words();
    format!("{verdict:<8}{} {}{kind}\n{text}\n", case.section, case.id)
}

fn figures(value: &Value) -> String {
    if value.is_null() {
        return String::new();
    }
    let whole = value.to_string();
    match whole.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{} ...", &whole[..end]),
        None => whole,
    }
}

/// A line for a file and one for each of its sections.
fn sections(file: &[Case]) -> String {
    let mut text = String::new();
    let name = file.first().map_or("", |case| case.file.as_str());
    let _ = writeln!(text, "{name}: {}", tally(file));
    for section in file.chunk_by(|a, b| a.section == b.section) {
        let _ = writeln!(text, "  {}: {}", section[0].section, tally(section));
    }
    text
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn case(verdict: Verdict) -> Case {
        Case {
            id: "E1".into(),
            file: "checks.json".into(),
            section: "checks".into(),
            kind: "voltage_class".into(),
            what: "at 60 V".into(),
            expected: json!({ "voltage_class": "A" }),
            got: json!({ "voltage_class": "B" }),
            source: "a standard".into(),
            known_by: "found".into(),
            verdict,
            note: String::new(),
            placements: None,
        }
    }

    #[test]
    fn the_last_line_counts_what_passed_failed_and_is_not_yet() {
        let report = Report {
            cases: vec![
                case(Verdict::Pass),
                case(Verdict::Fail),
                case(Verdict::NotYet),
                case(Verdict::NotYet),
            ],
        };
        let text = report.text();
        assert_eq!(text.lines().last(), Some("evidence: 1 passed, 1 failed, 2 not yet"));
        assert!(report.failed());
    }

    #[test]
    fn a_case_tells_what_was_expected_what_came_and_where_it_is_from() {
        let text = Report {
            cases: vec![case(Verdict::Fail)],
        }
        .text();
        for words in ["FAIL", "E1", "at 60 V", "\"A\"", "\"B\"", "a standard"] {
            assert!(text.contains(words), "{words} in {text}");
        }
    }
}
