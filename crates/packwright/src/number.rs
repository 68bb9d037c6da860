//! Whole numbers as people write them on the command line.

use std::ops::RangeInclusive;

use crate::trouble::Trouble;

/// A whole number; between two of its digits a space or an underscore may stand, as in `2 000 000`.
pub(crate) fn whole(text: &str) -> Option<u64> {
    let text = text.trim();
    let is_between = |c: char| c.is_whitespace() || c == '_';
    let well_placed = text
        .split(is_between)
        .all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()));
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    well_placed.then(|| digits.parse().ok())?
}

/// An option that takes a whole number.
pub(crate) struct Asked {
    /// Its name, as `--budget`.
    pub(crate) option: &'static str,
    /// What it counts.
    pub(crate) what: &'static str,
    /// A number that is often meant.
    pub(crate) example: &'static str,
    /// What it allows.
    pub(crate) allowed: RangeInclusive<u64>,
}

/// What work is told in on the command line, in steps.
pub(crate) const MILLION: u64 = 1_000_000;

/// Steps of work, in millions.
const WORK: Asked = Asked {
    option: "--work",
    what: "millions of steps",
    example: "100",
    allowed: 1..=10_000,
};

/// The steps of work that were asked for.
pub(crate) fn work(text: &str) -> Result<u64, Trouble> {
    Ok(WORK.read(text)? * MILLION)
}

impl Asked {
    /// The number that it is given, within what it allows.
    pub(crate) fn read(&self, text: &str) -> Result<u64, Trouble> {
        let Self {
            option,
            what,
            example,
            allowed,
        } = self;
        whole(text).filter(|number| allowed.contains(number)).ok_or_else(|| {
            let (least, most) = (allowed.start(), spaced(*allowed.end()));
            Trouble::new(
                format!("{option}: {text:?} is no number of {what}; {least} to {most} is allowed"),
                format!("write a whole number of {what}, as {option} {example}"),
            )
        })
    }
}

/// A number with a space between its thousands.
fn spaced(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::plain("2000", Some(2_000))]
    #[case::underscore("2_000", Some(2_000))]
    #[case::space("2 000 000", Some(2_000_000))]
    #[case::narrow_space("2\u{202f}000", Some(2_000))]
    #[case::around(" 20 ", Some(20))]
    #[case::at_the_end("20_", None)]
    #[case::two_in_a_row("2__0", None)]
    #[case::comma("2,000", None)]
    #[case::negative("-1", None)]
    #[case::word("many", None)]
    #[case::nothing("", None)]
    #[case::beyond_all("99999999999999999999999", None)]
    fn whole_numbers_as_people_write_them(#[case] text: &str, #[case] number: Option<u64>) {
        assert_eq!(whole(text), number);
    }

    #[test]
    fn a_refusal_names_option_value_range_and_mend() {
        let budget = Asked {
            option: "--budget",
            what: "steps",
            example: "2000000",
            allowed: 1..=1_000_000,
        };
        let error = budget.read("2,000").unwrap_err();
        assert_eq!(
            error.to_string(),
            "error: --budget: \"2,000\" is no number of steps; 1 to 1 000 000 is allowed\n  \
             fix: write a whole number of steps, as --budget 2000000"
        );
        assert!(budget.read("0").is_err());
        assert_eq!(budget.read("1000000"), Ok(1_000_000));
    }
}
