//! The survey of each cavity in plain text: what the readings are good for, which look wrong, and what is left to use.

use job::{CavityResult, Evaluation, ReadingResult, Standing, Used, give_or_take};
use tape::Length;
use tape::show::{Fraction, Style};

use crate::report::sheet::Sheet;

/// How much is said of each reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Details {
    /// What a person with a tape needs.
    #[default]
    Plain,
    /// Also how much of each reading the others check, and its residual over what is usually off.
    Full,
}

/// The surveys of the cavities with these names (all of them when there are none), at most 80 columns wide.
pub fn survey_text(evaluation: &Evaluation, only: &[String], details: Details) -> String {
    let mut sheet = Sheet::default();
    let wanted = |cavity: &&CavityResult| only.is_empty() || only.contains(&cavity.name);
    for cavity in evaluation.cavities.iter().filter(wanted) {
        of_cavity(&mut sheet, evaluation, cavity, details);
    }
    sheet.done()
}

fn of_cavity(sheet: &mut Sheet, evaluation: &Evaluation, cavity: &CavityResult, details: Details) {
    let (survey, style) = (&cavity.survey, evaluation.style());
    sheet.heading(&cavity.name);
    sheet.item(0, "", &survey.verdict(style));
    if let Some(trouble) = &survey.trouble {
        sheet.item(0, "", trouble);
    }
    suspects(sheet, evaluation, cavity);
    sheet.line("");
    match evaluation.usable_text(cavity) {
        Some(usable) => sheet.fact("usable", &format!("{usable}  ({} sigma held back)", evaluation.sigmas)),
        None => sheet.fact("usable", "not known yet"),
    }
    if let Some(space) = cavity.space {
        let size = space.size().0.map(|length| evaluation.down(length)).join(" x ");
        sheet.fact("expected", &size);
    }
    sheet.fact("rests on", survey.basis());
    if let Some(shape) = &survey.shape {
        let sigmas = shape
            .usable
            .sigmas
            .map(|sigma| give_or_take(style, sigma * 2))
            .join(" x ");
        sheet.fact("give or take", &format!("{sigmas}  (19 times in 20)"));
    }
    if let Some(found) = &survey.out_of_square {
        let words = format!("by {} over the diagonal of the {}", evaluation.up(found.by), found.face);
        sheet.fact("not square", &words);
    }
    for next in survey.next.iter().chain(&cavity.next) {
        sheet.fact("next", &format!("{}: {}", next.instruction(), next.reason(style)));
    }
    readings(sheet, style, cavity, details);
    for statement in &survey.statements {
        let off = match statement.off {
            Some(off) => format!("; comes out {} off", finely(style).near(off)),
            None => String::new(),
        };
        sheet.fact("stated", &format!("{}{off}", statement.words));
    }
}

fn suspects(sheet: &mut Sheet, evaluation: &Evaluation, cavity: &CavityResult) {
    let survey = &cavity.survey;
    for (index, _) in survey.suspects() {
        let Some(words) = survey.suspect_words(index, evaluation.style()) else {
            continue;
        };
        sheet.item(0, "!! ", &words);
    }
    if survey.standing != Standing::Held {
        for &(index, by) in &survey.odd {
            if let Some(words) = survey.odd_words(index, by, evaluation.style()) {
                sheet.item(0, "!  ", &words);
            }
        }
    }
    for open in &survey.open {
        sheet.item(0, "!! ", open);
    }
}

/// Sixteenths would make all small differences alike.
const fn finely(style: Style) -> Style {
    Style {
        fraction: Fraction::SixtyFourth,
        ..style
    }
}

fn readings(sheet: &mut Sheet, style: Style, cavity: &CavityResult, details: Details) {
    if cavity.survey.readings.is_empty() {
        return;
    }
    let last = match details {
        Details::Plain => "",
        Details::Full => "checked  times sigma",
    };
    sheet.line("");
    sheet.line(&format!(
        "{:<26}{:<16}{:<13}{:<9}{last}",
        "line", "read", "shape", "off"
    ));
    for reading in &cavity.survey.readings {
        let line = crate::words::plain(&reading.line.to_string());
        let fine = finely(Style {
            units: reading.read.written().units(),
            ..style
        });
        let shape = reading.adjusted.map_or(String::new(), |length| fine.near(length));
        let off = reading.adjusted.map_or(String::new(), |length| {
            let off = reading.read.value() - length;
            let size = fine.near(off.abs());
            let sign = match (size == fine.near(Length::ZERO), off.is_negative()) {
                (true, _) => "",
                (_, true) => "-",
                _ => "+",
            };
            format!("{sign}{size}")
        });
        let figures = match details {
            Details::Plain => String::new(),
            Details::Full => full(reading),
        };
        let note = note(reading);
        sheet.line(&format!(
            "{line:<26}{:<16}{shape:<13}{off:<9}{figures}{note}",
            reading.read.text()
        ));
    }
    if cavity.survey.standing == Standing::AssumedSquare {
        sheet.item(
            0,
            "",
            "Taken as square, nothing is held against each other: the smallest counts.",
        );
    }
}

fn full(reading: &ReadingResult) -> String {
    let checked = reading.checked.map_or(String::new(), |r| format!("{:.0} %", 100.0 * r));
    let times = reading
        .standardised
        .map_or(String::new(), |w| format!("{:.1}", w.abs()));
    format!("{checked:>5}   {times:>5}  ")
}

/// A mark and a word where there is something to say.
fn note(reading: &ReadingResult) -> &'static str {
    match (reading.used, &reading.suspect) {
        (Used::SetAside, _) => "!! set aside",
        (Used::LeftOut, _) => "left out",
        (_, Some(_)) => "!! may be wrong",
        (Used::Cap, _) => "caps the space",
        (Used::Kept, _) => "not used yet",
        (Used::Shape, None) if reading.checked.is_some_and(|r| r < tape::survey::UNCHECKED) => "not checked",
        _ => "",
    }
}
