//! `packwright length`: reads a length as it is written on a tape or in a notebook.

use clap::{Args, ValueEnum};
use serde_json::json;
use tape::show::{self, Fraction, Rounding};
use tape::{Allow, Length, NotationError, Units, Written, notation};
use unicode_width::UnicodeWidthChar;

use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Read a length as people write it, and show what it is
///
/// Takes 41 5/8, 3' 5 1/2", 105.8 cm, 1058 mm +- 1 and the like; a number without a unit is in --units. What is nearly
/// always a slip, as 415/8, is refused with the place and how to mend it.
#[derive(Debug, Args)]
pub(crate) struct LengthArgs {
    /// The length; put quotes round it when it has ' or " in it
    #[arg(allow_hyphen_values = true)]
    text: String,
    /// The rest of it, when it was typed without quotes
    // Apart from the first word, which may start with a minus: a list that may would take in the options behind it.
    #[arg(hide = true)]
    rest: Vec<String>,
    /// The unit of a number without one
    #[arg(long, value_enum, default_value = "in")]
    units: UnitsArg,
    /// Print it as JSON
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum UnitsArg {
    /// Inches
    In,
    /// Millimetres
    Mm,
}

pub(crate) fn run(args: &LengthArgs) -> Result<Verdict, Trouble> {
    let units = match args.units {
        UnitsArg::In => Units::Inch,
        UnitsArg::Mm => Units::Millimetre,
    };
    let text = args.rest.iter().fold(args.text.clone(), |text, word| text + " " + word);
    let written = notation::read(&text, units, Allow::Signed).map_err(|error| refusal(&error))?;
    if args.json {
        let value = written.value();
        output::json(&json!({
            "written": written.text(),
            "inches_fraction": fraction(value),
            "inches": value.as_inches(),
            "mm": value.as_mm(),
            "nm": value.nm(),
            "exact": written.exact(),
            "plus_minus_mm": written.plus_minus().map(Length::as_mm),
        }))?;
    } else {
        output::data(&lines(&written))?;
    }
    Ok(Verdict::Fine)
}

/// One figure a line, its name first.
fn lines(written: &Written) -> String {
    let value = written.value();
    let inches = fraction(value).unwrap_or_else(|| {
        let mark = |rounding| show::inches(value, Fraction::SixtyFourth, rounding);
        format!("between {} and {}", mark(Rounding::Down), mark(Rounding::Up))
    });
    let nm = if written.exact() {
        ""
    } else {
        " (rounded: it was written finer than that)"
    };
    let mut lines = vec![
        ("written", written.text().to_owned()),
        ("inches", inches),
        ("decimal", decimal_inches(value)),
        ("metric", millimetres(value)),
        ("exactly", format!("{} nm{nm}", value.nm())),
    ];
    if let Some(limits) = written.plus_minus() {
        let limits = match fraction(limits) {
            Some(inches) => format!("{inches} ({})", millimetres(limits)),
            None => millimetres(limits),
        };
        lines.push(("plus-minus", limits));
    }
    let lines: Vec<String> = lines
        .into_iter()
        .map(|(name, text)| format!("{name:<12}{text}"))
        .collect();
    lines.join("\n") + "\n"
}

/// In inches with a fraction, when it is on a mark of 1/64 in.
fn fraction(length: Length) -> Option<String> {
    (length.nm() % Length::sixty_fourths(1).nm() == 0)
        .then(|| show::inches(length, Fraction::SixtyFourth, Rounding::Nearest))
}

/// In decimal inches, to 1/1 000 000 in.
fn decimal_inches(length: Length) -> String {
    let text = format!("{:.6}", length.as_inches());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    let exact = i128::from(length.nm()) * 1_000_000 % i128::from(Length::inches(1).nm()) == 0;
    format!("{}{text} in", if exact { "" } else { "about " })
}

/// In millimetres, with all the decimals it has.
fn millimetres(length: Length) -> String {
    let text = show::millimetres_bare(length, 6, Rounding::Nearest);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}

/// Why it is no length, with a caret under the place.
fn refusal(error: &NotationError) -> Trouble {
    if error.text.trim().is_empty() {
        return Trouble::new(error.to_string(), error.mend());
    }
    let shown: Vec<char> = error
        .text
        .chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    let before: usize = shown.iter().take(error.at).map(|c| c.width().unwrap_or(0)).sum();
    let text: String = shown.iter().collect();
    Trouble::new(format!("{error}\n  {text}\n  {:before$}^", ""), error.mend())
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::in_the_middle("41 5/6", "41 5/6", 3)]
    #[case::after_a_wide_digit("４1 5/6", "４1 5/6", 0)]
    #[case::a_control_character("4\u{1b} 1", "4\u{fffd} 1", 1)]
    fn the_caret_stands_under_the_trouble(#[case] typed: &str, #[case] text: &str, #[case] columns: usize) {
        let error = notation::read(typed, Units::Inch, Allow::Signed).unwrap_err();
        let shown = refusal(&error).to_string();
        let lines: Vec<&str> = shown.lines().collect();
        assert_eq!(lines[1], format!("  {text}"));
        assert_eq!(lines[2], format!("  {}^", " ".repeat(columns)));
    }

    #[test]
    fn a_caret_after_wide_characters_counts_their_columns() {
        let error = NotationError {
            reason: tape::Reason::TrailingText,
            at: 2,
            text: "４４x".to_owned(),
        };
        assert!(refusal(&error).to_string().contains("\n      ^\n"));
    }

    // 25.4 mm to the inch.
    #[rstest]
    #[case(Length::sixty_fourths(41 * 64 + 40), "41.625 in")]
    #[case(Length::sixty_fourths(1), "0.015625 in")]
    #[case(Length::mm(100), "about 3.937008 in")]
    #[case(Length::mm(-254), "-10 in")]
    #[case(Length::ZERO, "0 in")]
    fn decimal_inches_say_when_they_are_rounded(#[case] length: Length, #[case] text: &str) {
        assert_eq!(decimal_inches(length), text);
    }
}
