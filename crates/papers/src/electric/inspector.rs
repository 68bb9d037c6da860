//! One sheet for the inspector: what the pack is, what was checked, against which limit, from which source.

use drawing::single_line_svg;
use job::{Evaluation, Grave, Verdict, figures_in_words};

use crate::html::page::{Cell, Page};
use crate::words;

/// The sheet for the inspector. `date` is printed as given.
pub fn inspector_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::new("Electrics for the inspector", evaluation, date);
    page.paragraph(
        "Each line says what there is, the limit it was held against, and where that limit comes from. What is open was \
         not entered or not measured; it is not met. Nothing here replaces the judgement of somebody licensed.",
    );
    let boxes = super::strength::lines(evaluation);
    if !boxes.is_empty() {
        page.list(boxes);
    }
    for (pack, electric) in evaluation.electrics() {
        let (Some(arrangement), Some(figures)) = (pack.arrangement, &pack.figures) else {
            continue;
        };
        page.heading(&format!(
            "{}: {}, {}, {}",
            pack.name,
            words::arrangement(arrangement),
            words::volts(figures.volts),
            words::kwh(figures)
        ));
        if let Some(svg) = single_line_svg(pack) {
            page.picture(&svg);
        }
        page.list(figures_in_words(electric));
        let rows = electric.checks.iter().map(|check| {
            let verdict = match check.verdict {
                Verdict::NotMet(Grave::Stop) => "NOT MET",
                Verdict::NotMet(_) => "not met",
                other => other.name(),
            };
            vec![
                Cell::text(check.topic),
                Cell::text(check.words.clone()),
                Cell::text(check.limit.clone()),
                Cell::text(verdict),
                Cell::text(check.source.clone()),
                Cell::text(check.fix.clone()),
            ]
        });
        let head = ["topic", "there is", "limit", "", "where the limit comes from", "to do"];
        page.table(&head, rows);
        page.paragraph(&format!("Volts over state of charge: {}.", electric.curve_source));
    }
    page.finish()
}
