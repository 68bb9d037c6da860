//! How a box is held, as first-order sums: a row for each, those over their limit with what they rest on.

use job::{BoxStrength, FIRST_ORDER, Field, Figure, Grave};

use crate::form::Row;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// What the sums ask for.
pub(super) const FIELDS: [Field; 16] = [
    Field::Figure(Figure::MountBolts),
    Field::Figure(Figure::MountBolt),
    Field::Figure(Figure::MountGrade),
    Field::Figure(Figure::RailThick),
    Field::Figure(Figure::HoldDownBolts),
    Field::Figure(Figure::CrashFront),
    Field::Figure(Figure::CrashRear),
    Field::Figure(Figure::CrashSide),
    Field::Figure(Figure::CrashUp),
    Field::Figure(Figure::CrashDown),
    Field::Figure(Figure::LidWarmed),
    Field::Figure(Figure::LidClimbs),
    Field::Figure(Figure::FloorSpans),
    Field::Figure(Figure::LiftAngle),
    Field::Figure(Figure::LiftJerk),
    Field::Figure(Figure::EyeRated),
];

/// The rows of a box, `width` columns wide.
pub(super) fn rows(strength: &BoxStrength, units: tape::Units, width: u16, rows: &mut Vec<Row>) {
    let title = "how it is held: first-order sums, no engineer's work";
    rows.push(Row::Text(title.to_owned(), Meaning::Heading));
    if let Some(governs) = strength.governs_text() {
        rows.extend(
            wrap(&governs, width)
                .into_iter()
                .map(|line| Row::Text(line, Meaning::Plain)),
        );
    }
    for check in &strength.checks {
        let (mark, meaning) = match check.over() {
            Some(Grave::Note) => (Meaning::Note.mark(), Meaning::Plain),
            Some(_) => (Meaning::Caution.mark(), Meaning::Caution),
            None => (Meaning::Good.mark(), Meaning::Plain),
        };
        let against = match check.outside() {
            Some(outside) => outside.to_owned(),
            None => format!(
                "{:>9}, {:<18}{:>7}",
                check.load_text(units),
                check.limit_text(units),
                check.share_text()
            ),
        };
        rows.push(Row::Line(format!("{mark:<2} {:<30} {against}", check.of.what), meaning));
        if check.over().is_some() {
            say(&check.says, width, rows);
        }
    }
    let mut words = format!("{} on {}", job::box_kg_words(strength.mass_kg), strength.bolts);
    if !strength.taken.is_empty() {
        words.push_str(" (");
        words.push_str(&strength.taken);
        words.push(')');
    }
    say(&words, width, rows);
    if !strength.not_summed.is_empty() {
        say(strength.not_summed, width, rows);
    }
    if let Some(lift) = &strength.lift {
        say(&lift.words(units), width, rows);
    }
    say(FIRST_ORDER, width, rows);
}

fn say(words: &str, width: u16, rows: &mut Vec<Row>) {
    let lines = wrap(words, width.saturating_sub(3));
    rows.extend(lines.into_iter().map(|l| Row::Line(format!("   {l}"), Meaning::Dim)));
}
