//! What was taped and what it is good for, as one page for the shop and the inspector.

use drawing::svg::survey_svg;
use drawing::{Side, survey_view};
use job::{CavityResult, Evaluation, Standing};

use crate::html::page::{Cell, Page};
use crate::survey::{Row, TAKEN_AS_SQUARE, facts, stated, verdict};

/// How wide a picture is, in whole millimetres of paper: three stand side by side.
const WIDE: u32 = 79;

/// The surveys of all cavities: what the readings are good for and what looks wrong, each cavity from three sides, then
/// every reading with what the shape gives in its place. It prints in black and white and needs nothing beside it;
/// `date` is printed as given.
pub fn survey_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::with_cautions("Survey", evaluation, date, crate::cautions());
    for cavity in &evaluation.cavities {
        page.heading(&cavity.name);
        let said = verdict(evaluation, cavity).into_iter();
        let said = said.map(|(before, words)| format!("{before}{words}"));
        let facts = facts(evaluation, cavity).into_iter();
        page.list(said.chain(facts.map(|(name, words)| format!("{name}: {words}"))));
        let views = Side::ALL.into_iter();
        let views = views.filter_map(|side| survey_view(evaluation, cavity.id, side));
        page.pictures(views.map(|view| survey_svg(&view, WIDE)));
        readings(&mut page, evaluation, cavity);
    }
    page.finish()
}

fn readings(page: &mut Page, evaluation: &Evaluation, cavity: &CavityResult) {
    if !cavity.survey.readings.is_empty() {
        let rows = cavity.survey.readings.iter().map(|reading| {
            let row = Row::of(evaluation.style(), reading);
            vec![
                // From corner to corner on one line; longer words would push the columns off the paper.
                if row.line.len() <= 12 {
                    Cell::Whole(row.line)
                } else {
                    Cell::text(row.line)
                },
                Cell::figure(row.read),
                Cell::figure(row.shape),
                Cell::figure(row.off),
                Cell::figure(row.checked),
                Cell::figure(row.times),
                Cell::text(row.note),
            ]
        });
        page.narrow(&["line", "read", "shape", "off", "checked", "times sigma", ""], rows);
    }
    if cavity.survey.standing == Standing::AssumedSquare {
        page.paragraph(TAKEN_AS_SQUARE);
    }
    page.list(stated(evaluation, cavity).map(|words| format!("stated: {words}")));
}
