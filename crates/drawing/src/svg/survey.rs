//! A surveyed cavity from one side as a picture.

use std::fmt::Write as _;

use super::escape;
use super::text::{Anchor, Look, text};
use crate::{Direction, SurveyView};
use tape::survey::Corner;

/// Width of the drawing inside its margins, in the units of the picture.
const WIDE: f64 = 240.0;
/// Height of it at most.
const HIGH: f64 = 120.0;
/// Room for names and readings, to the sides and above and below.
const SIDE: f64 = 62.0;
const OVER: f64 = 34.0;
/// Height of the letters.
const LETTERS: f64 = 9.0;

/// Draws the square shape in dots and the surveyed one in whole lines, with what was read, so many whole millimetres wide
/// on paper. As in the view, what is not square is drawn `factor` times as large.
pub fn survey_svg(view: &SurveyView, width_mm: u32) -> String {
    let [least, most] = view.bounds();
    let scale = [
        WIDE / (most[0] - least[0]).max(1.0),
        HIGH / (most[1] - least[1]).max(1.0),
    ];
    // One scale for both: the hollow keeps its proportions.
    let scale = scale[0].min(scale[1]);
    let at = |place: [f64; 2]| {
        [
            SIDE + (place[0] - least[0]) * scale,
            OVER + (place[1] - least[1]) * scale,
        ]
    };
    let [wide, high] = [0, 1].map(|i| (most[i] - least[i]) * scale);
    let mut body = String::new();
    for [a, b] in SurveyView::strokes() {
        body += &stroke(
            at(view.square[a]),
            at(view.square[b]),
            "stroke-width=\"0.7\" stroke-dasharray=\"1.2 2.4\"",
        );
    }
    if let Some(shape) = &view.shape {
        for [a, b] in SurveyView::strokes() {
            body += &stroke(at(shape[a]), at(shape[b]), "stroke-width=\"1.3\"");
        }
    }
    for corner in Corner::ALL {
        body += &name(view, corner, at(view.square[corner.index()]), [wide, high]);
    }
    body += &readings(view, [wide, high]);
    // The title needs its length whatever the cavity is.
    let [x, y] = [wide.max(WIDE) + 2.0 * SIDE, high + 2.0 * OVER];
    let title = match (view.shape.is_some(), view.factor) {
        (false, _) => format!("{}: taken as square", view.side.words()),
        (true, 1) => format!("{}: dots square, lines as surveyed", view.side.words()),
        (true, times) => format!(
            "{}: dots square, lines as surveyed, {times} times too crooked",
            view.side.words()
        ),
    };
    body += &text([4.0, 10.0], &title, look(Anchor::Start));
    let paper = y / x * f64::from(width_mm);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_mm}mm\" height=\"{paper:.1}mm\" viewBox=\"0 0 {x:.1} \
         {y:.1}\" font-family=\"DejaVu Sans, Arial, Helvetica, sans-serif\" role=\"img\">\n<title>{}</title>\n<rect \
         width=\"{x:.1}\" height=\"{y:.1}\" fill=\"#fff\"/>\n{body}</svg>\n",
        escape(&title)
    )
}

const fn look(anchor: Anchor) -> Look {
    Look {
        size: LETTERS,
        anchor,
        bold: false,
        upright: false,
    }
}

fn stroke([x0, y0]: [f64; 2], [x1, y1]: [f64; 2], how: &str) -> String {
    format!("<path d=\"M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}\" fill=\"none\" stroke=\"#000\" {how}/>\n")
}

/// The name of a corner, as far as the view tells it apart, outside of it.
fn name(view: &SurveyView, corner: Corner, [x, y]: [f64; 2], [wide, high]: [f64; 2]) -> String {
    let seen = [
        view.side.axis(Direction::U).index(),
        view.side.axis(Direction::V).index(),
    ];
    let letters = corner.to_string();
    let words: String = letters
        .chars()
        .enumerate()
        .filter(|(i, _)| seen.contains(i))
        .map(|(_, c)| c)
        .collect();
    let (left, top) = (x < SIDE + wide / 2.0, y < OVER + high / 2.0);
    let anchor = if left { Anchor::End } else { Anchor::Start };
    let beside = if left { -5.0 } else { 5.0 };
    let over = if top { -5.0 } else { LETTERS + 3.0 };
    text([x + beside, y + over], &words, look(anchor))
}

/// What was read along the edges.
fn readings(view: &SurveyView, [wide, high]: [f64; 2]) -> String {
    let places = [
        ([SIDE - 6.0, OVER + high / 2.0], Anchor::End),
        ([SIDE + wide + 6.0, OVER + high / 2.0], Anchor::Start),
        ([SIDE + wide / 2.0, OVER - 6.0], Anchor::Middle),
        ([SIDE + wide / 2.0, OVER + high + LETTERS + 4.0], Anchor::Middle),
    ];
    let mut out = String::new();
    for (edge, (at, anchor)) in view.edges.iter().zip(places) {
        if !edge.read.is_empty() {
            let mark = if edge.is_suspect { "!! " } else { "" };
            let _ = write!(out, "{}", text(at, &format!("{mark}{}", edge.read), look(anchor)));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Side, survey_view};

    #[test]
    fn what_was_read_and_what_looks_wrong_stands_on_the_picture() {
        let job = job::load(job::example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
        let evaluation = job::evaluate(&job);
        let picture = |side| survey_svg(&survey_view(&evaluation, job.cavities[0].id, side).unwrap(), 120);
        let plan = picture(Side::Plan);
        assert!(
            plan.contains("51&quot;") && plan.contains("times too crooked"),
            "{plan}"
        );
        // Twelve edges square, twelve as surveyed.
        assert_eq!(plan.matches("<path").count(), 24);
        assert_eq!(plan.matches("stroke-dasharray").count(), 12);
        assert!(
            ["FL", "RR"].into_iter().all(|name| plan.contains(&format!(">{name}<"))),
            "{plan}"
        );
        assert!(picture(Side::FromRear).contains(">LB<"));
    }
}
