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

/// What holds where nothing but three lengths was taped.
pub(crate) const TAKEN_AS_SQUARE: &str = "Taken as square, nothing is held against each other: the smallest counts.";

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
    sheet.heading(&cavity.name);
    for (before, words) in verdict(evaluation, cavity) {
        sheet.item(0, before, &words);
    }
    sheet.line("");
    for (name, words) in facts(evaluation, cavity) {
        sheet.fact(name, &words);
    }
    readings(sheet, evaluation.style(), cavity, details);
    for words in stated(evaluation, cavity) {
        sheet.fact("stated", &words);
    }
}

/// What the readings are good for and which look wrong, each with what stands before it.
pub(crate) fn verdict(evaluation: &Evaluation, cavity: &CavityResult) -> Vec<(&'static str, String)> {
    let (survey, style) = (&cavity.survey, evaluation.style());
    let mut said = vec![("", survey.verdict(style))];
    said.extend(survey.trouble.iter().map(|trouble| ("", trouble.clone())));
    let suspects = survey.suspects().into_iter();
    said.extend(suspects.filter_map(|(index, _)| Some(("!! ", survey.suspect_words(index, style)?))));
    if survey.standing != Standing::Held {
        let odd = survey.odd.iter();
        said.extend(odd.filter_map(|&(index, by)| Some(("!  ", survey.odd_words(index, by, style)?))));
    }
    said.extend(survey.open.iter().map(|open| ("!! ", open.clone())));
    said
}

/// The space, how it is known, and what to tape next, by name.
pub(crate) fn facts(evaluation: &Evaluation, cavity: &CavityResult) -> Vec<(&'static str, String)> {
    let (survey, style) = (&cavity.survey, evaluation.style());
    let usable = evaluation.usable_text(cavity).map_or_else(
        || "not known yet".to_owned(),
        |usable| format!("{usable}  ({} sigma held back)", evaluation.sigmas),
    );
    let mut facts = vec![("usable", usable)];
    if let Some(space) = cavity.space {
        let size = space.size().0.map(|length| evaluation.down(length)).join(" x ");
        facts.push(("expected", size));
    }
    facts.push(("rests on", survey.basis().to_owned()));
    if let Some(shape) = &survey.shape {
        let sigmas = shape.usable.sigmas.map(|sigma| give_or_take(style, sigma * 2));
        facts.push(("give or take", format!("{}  (19 times in 20)", sigmas.join(" x "))));
    }
    if let Some(found) = &survey.out_of_square {
        let words = format!("by {} over the diagonal of the {}", evaluation.up(found.by), found.face);
        facts.push(("not square", words));
    }
    let next = survey.next.iter().chain(&cavity.next);
    facts.extend(next.map(|next| ("next", format!("{}: {}", next.instruction(), next.reason(style)))));
    facts
}

/// What the person stated of lines, and how far off it comes out.
pub(crate) fn stated<'a>(evaluation: &'a Evaluation, cavity: &'a CavityResult) -> impl Iterator<Item = String> + 'a {
    cavity.survey.statements.iter().map(|statement| {
        let off = match statement.off {
            Some(off) => format!("; comes out {} off", finely(evaluation.style()).near(off)),
            None => String::new(),
        };
        format!("{}{off}", statement.words)
    })
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
        let Row {
            line,
            read,
            shape,
            off,
            checked,
            times,
            note,
        } = Row::of(style, reading);
        let figures = match details {
            Details::Plain => String::new(),
            Details::Full => format!("{checked:>5}   {times:>5}  "),
        };
        sheet.line(&format!("{line:<26}{read:<16}{shape:<13}{off:<9}{figures}{note}"));
    }
    if cavity.survey.standing == Standing::AssumedSquare {
        sheet.item(0, "", TAKEN_AS_SQUARE);
    }
}

/// What is said of a reading, cell by cell.
pub(crate) struct Row {
    pub(crate) line: String,
    pub(crate) read: String,
    /// What the shape gives in its place.
    pub(crate) shape: String,
    pub(crate) off: String,
    /// How much of it the others check.
    pub(crate) checked: String,
    /// Its residual over what is usually off.
    pub(crate) times: String,
    pub(crate) note: &'static str,
}

impl Row {
    pub(crate) fn of(style: Style, reading: &ReadingResult) -> Self {
        let fine = finely(Style {
            units: reading.read.written().units(),
            ..style
        });
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
        let checked = reading.checked.map(|r| format!("{:.0} %", 100.0 * r));
        let times = reading.standardised.map(|w| format!("{:.1}", w.abs()));
        Self {
            line: crate::words::plain(&reading.line.to_string()),
            read: reading.read.text().to_string(),
            shape: reading.adjusted.map_or(String::new(), |length| fine.near(length)),
            off,
            checked: checked.unwrap_or_default(),
            times: times.unwrap_or_default(),
            note: note(reading),
        }
    }
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
