//! What was taped and what it is good for, as one page for the shop and the inspector.

use std::fmt::Write as _;

use drawing::svg::{escape, survey_svg};
use drawing::{Side, survey_view};
use job::Evaluation;

use crate::survey::{Details, survey_text};
use crate::words;

const STYLE: &str = include_str!("html/style.css");

/// The surveys of all cavities: each from three sides, then every reading with what the shape gives in its place, what
/// looks wrong, the usable space. It prints in black and white and needs nothing beside it; `date` is printed as given.
pub fn survey_html(evaluation: &Evaluation, date: &str) -> String {
    let title = escape(&words::title(evaluation));
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Survey: {title}</title>\n\
         <style>\n{STYLE}pre {{ font-size: 8pt; }}\n</style>\n</head>\n<body>\n<h1>Survey: {title}</h1>\n<p>{}</p>\n",
        escape(date)
    );
    for cavity in &evaluation.cavities {
        let _ = writeln!(out, "<section>\n<h2>{}</h2>", escape(&cavity.name));
        for side in Side::ALL {
            if let Some(view) = survey_view(evaluation, cavity.id, side) {
                let _ = writeln!(out, "<figure>\n{}</figure>", survey_svg(&view, 120));
            }
        }
        let text = survey_text(evaluation, std::slice::from_ref(&cavity.name), Details::Full);
        let _ = writeln!(out, "<pre>{}</pre>\n</section>", lines(&text));
    }
    out.push_str("<section>\n");
    for caution in crate::cautions() {
        let _ = writeln!(out, "<p>{}</p>", escape(caution));
    }
    out.push_str("</section>\n</body>\n</html>\n");
    out
}

/// Text with its line ends kept, fit to stand in a page.
fn lines(text: &str) -> String {
    text.lines().map(escape).collect::<Vec<_>>().join("\n")
}
