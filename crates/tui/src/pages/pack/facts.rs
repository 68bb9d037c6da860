//! The pack as laid out: big facts first, then what was checked.

use job::{Electric, Grave, PackResult, Verdict};

use crate::form::Row;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// Volts, energy, load, charging.
pub(super) fn rows(pack: &PackResult, columns: u16) -> Vec<Row> {
    let (Some(a), Some(f)) = (pack.arrangement, pack.figures.as_ref()) else {
        return Vec::new();
    };
    let state = if pack.missing > 0 {
        format!(", {} short", pack.missing)
    } else {
        String::new()
    };
    let mut rows = vec![Row::Line(
        format!(
            " {}s{}p = {}s{}p cells: {}/{}/{} V  {} Ah  {:.1} kWh{state}",
            a.series,
            a.parallel,
            f.cells.0,
            f.cells.1,
            f.volts.empty.shown(1),
            f.volts.nominal.shown(1),
            f.volts.full.shown(1),
            f.capacity.shown(1),
            f.energy.kwh()
        ),
        Meaning::Heading,
    )];
    let room = columns.saturating_sub(8).max(20);
    let mut say = |text: String, meaning| {
        rows.extend(wrap(&text, room).into_iter().map(|line| Row::Line(line, meaning)));
    };
    if let Some(electric) = &pack.electric {
        for text in job::figures_in_words(electric) {
            let meaning = if text.starts_with('!') {
                Meaning::Caution
            } else {
                Meaning::Plain
            };
            say(text, meaning);
        }
    }
    if let Some(crossing) = &pack.crossing {
        let text = format!(
            "! strings that have to cross from one box to another: {} of {}",
            crossing.strings, crossing.of
        );
        say(text, Meaning::Caution);
    }
    if pack.left_over > 0 {
        say(
            format!("{} placed belong to no whole string", pack.left_over),
            Meaning::Caution,
        );
    }
    rows
}

/// What was checked against which limit.
pub(super) fn checks(electric: &Electric, columns: u16) -> Vec<Row> {
    let room = columns.saturating_sub(8).max(20);
    electric
        .checks
        .iter()
        .flat_map(|check| {
            let (mark, meaning) = (check.verdict.mark(), meaning(check.verdict));
            let lines = wrap(&check.line(), room).into_iter().enumerate();
            lines
                .map(|(i, line)| Row::Line(format!("{} {line}", if i == 0 { mark } else { "  " }), meaning))
                .collect::<Vec<_>>()
        })
        .collect()
}

const fn meaning(verdict: Verdict) -> Meaning {
    match verdict {
        Verdict::Met | Verdict::Figure => Meaning::Plain,
        Verdict::NotMet(Grave::Stop) => Meaning::Stop,
        Verdict::NotMet(_) => Meaning::Caution,
        Verdict::Open => Meaning::Dim,
    }
}
