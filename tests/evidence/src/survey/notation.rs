//! Lengths as people write them.

use serde_json::{Value, json};
use tape::{Allow, Length, Reason, Units, notation};

use crate::Verdict;
use crate::compare::within;
use crate::inputs::{Clear, Inputs};
use crate::question::{Outcome, Question};
use crate::read::numbered;

/// What a case may expect of a text.
const EXPECTED: [&str; 5] = [
    "accept",
    "nanometres",
    "nanometres_exact",
    "plus_minus_nanometres",
    "reason",
];

/// One case for each text.
pub(super) fn cases<'a>(section: &str, part: &'a Value, list: &'a [Value]) -> Vec<Question<'a>> {
    let case = |(index, entry): (usize, &'a Value)| {
        let expected = expected(entry);
        Question::of(section, entry, &numbered(section, index))
            .of_kind("tape_notation")
            .about(format!(
                "{} typed with {} as the unit",
                entry["text"], entry["session_unit"]
            ))
            .expecting(expected.clone())
            .sourced(Inputs(part))
            .worked_out(move || outcome(Inputs(entry), &expected))
    };
    list.iter().enumerate().map(case).collect()
}

fn expected(entry: &Value) -> Value {
    let mut expected = json!({});
    for key in EXPECTED {
        if let Some(value) = entry.get(key) {
            expected[key] = value.clone();
        }
    }
    // A length that is taken has no plus-or-minus unless the case says so.
    if expected["accept"] == true && expected.get("plus_minus_nanometres").is_none() {
        expected["plus_minus_nanometres"] = Value::Null;
    }
    expected
}

fn outcome(entry: Inputs<'_>, expected: &Value) -> Clear<Outcome> {
    let units = match entry.text("session_unit")? {
        "in" => Units::Inch,
        "mm" => Units::Millimetre,
        other => {
            return Ok(Outcome::not_yet(format!("lengths typed with {other} as the unit")));
        }
    };
    let text = entry.text("text")?;
    Ok(match notation::read(text, units, Allow::AboveZero) {
        Ok(written) => {
            let got = json!({
                "accept": true,
                "nanometres": written.value().nm(),
                "nanometres_exact": written.exact(),
                "plus_minus_nanometres": written.plus_minus().map(Length::nm),
                "reason": null,
            });
            Outcome::compared(expected, got, &within(0.0))
        }
        Err(refusal) => refused(text, refusal.reason, expected),
    })
}

/// Where a text breaks several rules, another reason that applies as well is no failure.
fn refused(text: &str, reason: Reason, expected: &Value) -> Outcome {
    let got = json!({
        "accept": false,
        "reason": reason.id(),
        "nanometres": null,
        "nanometres_exact": null,
        "plus_minus_nanometres": null,
    });
    let mut outcome = Outcome::compared(expected, got, &within(0.0));
    let stated = expected["reason"].as_str().unwrap_or_default();
    let both_apply = Reason::ALL.iter().any(|reason| reason.id() == stated)
        && applies(stated, text) != Some(false)
        && applies(reason.id(), text) == Some(true);
    if outcome.verdict == Verdict::Fail && expected["accept"] == false && both_apply {
        outcome.verdict = Verdict::Pass;
        outcome.note = format!("{}, another reason that applies", outcome.note);
    }
    outcome
}

/// Whether a look at the text alone shows that a reason applies; `None` when that takes more than a look.
///
/// On purpose not the way the crate reads.
fn applies(reason: &str, text: &str) -> Option<bool> {
    let text = text.trim().to_lowercase();
    let words = || text.split(|c: char| !c.is_alphabetic());
    let holds = |any: &[&str]| any.iter().any(|part| text.contains(part));
    let follows = |before: fn(char) -> bool, mark: char, after: fn(char) -> bool| {
        let chars: Vec<char> = text.chars().collect();
        let mut threes = chars.windows(3);
        threes.any(|three| before(three[0]) && three[1] == mark && after(three[2]))
    };
    let digit = |c: char| c.is_ascii_digit();
    Some(match reason {
        "empty" => text.is_empty(),
        "not_a_number" => words().any(|word| ["nan", "inf", "infinity"].contains(&word)),
        "zero_denominator" => text.split(&[' ', '"'][..]).any(|part| part.ends_with("/0")),
        "double_sign" => holds(&["--", "++", "-+"]),
        "negative" => text.starts_with('-'),
        "mixed_separators" => holds(&[","]) && holds(&["."]),
        "exponent" => follows(digit, 'e', |c| c.is_ascii_digit() || c == '-' || c == '+'),
        "no_number" => !text.is_empty() && !text.chars().any(char::is_numeric),
        "spaced_hyphen" => follows(|c| c == ' ', '-', |c| c == ' '),
        "non_ascii_digit" => text.chars().any(|c| c.is_numeric() && !c.is_ascii() && !vulgar(c)),
        "mixed_systems" => holds(&["mm", "cm"]) && (holds(&["'", "\"", "ft"]) || words().any(|word| word == "in")),
        "bad_plus_minus" => ["+-", "+/-", "±"].iter().any(|sign| text.ends_with(sign)),
        _ => return None,
    })
}

/// A fraction in one character, which a tape reading may hold.
fn vulgar(c: char) -> bool {
    matches!(c, '¼'..='¾' | '⅐'..='⅞')
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::the_stated_reason("-3", "negative", Verdict::Pass)]
    #[case::another_that_applies("-1e4", "exponent", Verdict::Pass)]
    #[case::stated_takes_more_than_a_look("-41 5/8 yd", "unknown_unit", Verdict::Pass)]
    #[case::stated_does_not_apply("-3", "exponent", Verdict::Fail)]
    #[case::stated_is_no_reason("-3", "ugly", Verdict::Fail)]
    #[case::ours_takes_more_than_a_look("41 9/8", "trailing_text", Verdict::Fail)]
    fn another_reason_passes_only_when_both_may_apply(
        #[case] text: &str,
        #[case] reason: &str,
        #[case] verdict: Verdict,
    ) {
        let entry = json!({ "text": text, "session_unit": "in", "accept": false, "reason": reason });
        let outcome = outcome(Inputs(&entry), &expected(&entry)).unwrap();
        assert_eq!(outcome.verdict, verdict, "{}", outcome.note);
    }

    #[rstest]
    #[case::taken_for_refused(json!({"text": "41", "accept": false, "reason": "negative"}))]
    #[case::refused_for_taken(json!({"text": "-3", "accept": true, "nanometres": 3, "nanometres_exact": true}))]
    #[case::a_nanometre_off(json!({"text": "1", "accept": true, "nanometres": 25_400_001, "nanometres_exact": true}))]
    #[case::not_exact(json!({"text": "1", "accept": true, "nanometres": 25_400_000, "nanometres_exact": false}))]
    #[case::no_plus_minus_expected(
        json!({"text": "1 +- 1/2", "accept": true, "nanometres": 25_400_000, "nanometres_exact": true})
    )]
    fn anything_else_than_stated_fails(#[case] mut entry: Value) {
        entry["session_unit"] = json!("in");
        let outcome = outcome(Inputs(&entry), &expected(&entry)).unwrap();
        assert_eq!(outcome.verdict, Verdict::Fail);
    }
}
