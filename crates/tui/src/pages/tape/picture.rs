//! The cavity from three sides: square, and as its readings tell it, with the line under the cursor lit.

use drawing::{Side, SurveyView, survey_view};
use job::{CavityResult, Id};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use tape::survey::{Corner, Line};

use super::{cavity_at, lines};
use crate::model::Model;
use crate::pages;
use crate::pages::beside::Room;
use crate::theme::Meaning;
use crate::widgets::dots::{Dots, Weight};
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::toast::wrap;

/// The picture's place beside the rows.
pub const ROOM: Room = Room {
    least: 100,
    columns: 46,
};
/// Columns at each side of a view, for the names of corners and for what was read.
const MARGIN: u16 = 10;
/// The same in a narrow view: for the names alone.
const NARROW_MARGIN: u16 = 4;
/// Columns from which there is room for what was read at the sides of a view.
const WIDE_VIEW: u16 = 30;
/// The least columns and rows of a view in which lines can be told apart.
const LEAST_VIEW: [u16; 2] = [20, 7];
/// Rows of a picture that leave no room for more than two lines under it.
const SHORT: u16 = 16;

/// Where the views stand: under each other, beside each other, or the one that shows the lit line best.
fn places(model: &Model, cavity: Id, lit: Option<Line>, area: Rect) -> Vec<(SurveyView, Rect)> {
    let [columns, rows] = LEAST_VIEW;
    let views = Side::ALL
        .into_iter()
        .filter_map(|side| survey_view(&model.evaluation, cavity, side));
    let (wide, high) = (area.width / 3, area.height / 3);
    if high >= rows {
        let under = (0..).map(|n| Rect {
            y: area.y + n * high,
            height: high,
            ..area
        });
        return views.zip(under).collect();
    }
    if wide >= columns {
        let beside = (0..).map(|n| Rect {
            x: area.x + n * wide,
            width: wide,
            ..area
        });
        return views.zip(beside).collect();
    }
    // Of views that show it as long, the first: from above.
    let best = views.reduce(|best, view| {
        if lit.is_some_and(|line| seen(&view, line) > seen(&best, line)) {
            view
        } else {
            best
        }
    });
    best.map(|view| (view, area)).into_iter().collect()
}

/// How long a line shows in a view, in mm.
fn seen(view: &SurveyView, line: Line) -> f64 {
    let [a, b] = line.ends().map(|corner| view.square[corner.index()]);
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Draws the cavity that the cursor is in.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let rows = pages::rows(model);
    let cursor = model.tape.cursor;
    let Some(cavity) = cavity_at(model, &rows, cursor) else {
        return;
    };
    let lit = rows
        .get(cursor)
        .and_then(|row| lines::line_at(model, row))
        .map(|(_, line)| line);
    let mut pen = Pen::new(buf, area, model.theme);
    let mut foot = legend(model, cavity, lit, area.width);
    if area.height < SHORT {
        foot.truncate(2);
    }
    let room = area.height.saturating_sub(u16::try_from(foot.len()).unwrap_or(0));
    let views = Rect { height: room, ..area };
    for (view, place) in places(model, cavity, lit, views) {
        draw_view(model, &view, lit, place, &mut pen);
    }
    for (y, (words, meaning)) in (area.y + room..).zip(foot) {
        pen.text(
            area.x + 1,
            y,
            &cut(&words, area.width.saturating_sub(2)),
            model.theme.style(meaning),
        );
    }
}

/// What the strokes mean, how crooked the shape is drawn, and which line is lit.
fn legend(model: &Model, cavity: Id, lit: Option<Line>, room: u16) -> Vec<(String, Meaning)> {
    let mut words = Vec::new();
    let [dot, stroke, mark] = strokes(model.theme.ascii);
    if let Some(view) = survey_view(&model.evaluation, cavity, Side::Plan) {
        let shape = match (view.shape.is_some(), view.factor) {
            (false, _) => format!("{dot} taken as square"),
            (true, 1) => format!("{dot} square  {stroke} as surveyed"),
            (true, times) => format!("{dot} square  {stroke} surveyed, {times} times too crooked"),
        };
        words.push((shape, Meaning::Dim));
    }
    if let Some(line) = lit {
        words.push((format!("{mark} {}", line.words()), Meaning::Heading));
    }
    words.extend(told(model, cavity, room.saturating_sub(2)));
    let usable = model
        .evaluation
        .cavity(cavity)
        .and_then(|c| Some((c, model.evaluation.usable_text(c)?)));
    if let Some((result, text)) = usable {
        let take = result.survey.shape.as_ref().map(|shape| {
            let style = model.evaluation.style();
            shape
                .usable
                .sigmas
                .map(|sigma| job::give_or_take(style, sigma * 2))
                .join(", ")
        });
        words.push((format!("usable {text}"), Meaning::Plain));
        if let Some(take) = take {
            words.push((format!("give or take {take}"), Meaning::Dim));
        }
    }
    words.retain(|(text, _)| width(text) > 0 && room > 4);
    words
}

/// What the readings are good for, and what to tape next: the rows that tell it are out of sight while one tapes.
fn told(model: &Model, cavity: Id, room: u16) -> Vec<(String, Meaning)> {
    let Some(result) = model.evaluation.cavity(cavity).filter(|c| is_taped(c)) else {
        return Vec::new();
    };
    let verdict = result.survey.verdict(model.evaluation.style());
    let next = result.survey.next.iter().chain(&result.next).next();
    let next = next.map_or(String::new(), |next| format!("next: {}", next.instruction()));
    let verdict = wrap(&verdict, room).into_iter().map(|line| (line, Meaning::Plain));
    let next = wrap(&next, room).into_iter().map(|line| (line, Meaning::Key));
    verdict.chain(next).collect()
}

/// Whether anything was taped from corner to corner.
fn is_taped(cavity: &CavityResult) -> bool {
    cavity.survey.readings.iter().any(|r| r.line.of_survey().is_some())
}

/// What the square shape, the surveyed one and the lit line are drawn with.
const fn strokes(ascii: bool) -> [&'static str; 3] {
    if ascii {
        [".", "+", "#"]
    } else {
        ["⠁⠄", "⠒⠒", "█"]
    }
}

fn draw_view(model: &Model, view: &SurveyView, lit: Option<Line>, area: Rect, pen: &mut Pen<'_>) {
    let title = view.side.words();
    pen.text(area.x + 1, area.y, title, model.theme.style(Meaning::Dim));
    let margin = if area.width < WIDE_VIEW { NARROW_MARGIN } else { MARGIN };
    let inner = Rect {
        x: area.x + margin,
        y: area.y + 2,
        width: area.width.saturating_sub(2 * margin),
        // The names under the view stand on its last row.
        height: area.height.saturating_sub(3),
    };
    if inner.width < 8 || inner.height < 3 {
        return;
    }
    let sheet = Sheet::of(view, inner);
    let mut dots = Dots::new(inner, model.theme.ascii);
    let fine = dots.fine();
    let mut stroke = |shape: &[[f64; 2]; 8], weight| {
        for &[a, b] in &SurveyView::strokes() {
            dots.stroke(sheet.dot(shape[a], fine), sheet.dot(shape[b], fine), weight);
        }
    };
    stroke(&view.square, Weight::Faint);
    let shown = view.shape.unwrap_or(view.square);
    if view.shape.is_some() {
        stroke(&shown, Weight::Strong);
    }
    let [dot, strong, mark] = strokes(model.theme.ascii);
    dots.draw(model.theme, [dot, strong], pen);
    if let Some(line) = lit {
        let [a, b] = line.ends().map(Corner::index);
        let style = model.theme.style(Meaning::Heading);
        sheet.stroke(shown[a], shown[b], |x, y| pen.stamp(x, y, mark, style));
    }
    names(model, view, &sheet, inner, pen);
    readings(model, view, margin, inner, pen);
}

/// The names of the corners, as far as the view tells them apart.
fn names(model: &Model, view: &SurveyView, sheet: &Sheet, inner: Rect, pen: &mut Pen<'_>) {
    let hidden = match view.side {
        Side::Plan => 2,
        Side::FromLeft => 1,
        Side::FromRear => 0,
    };
    let style = model.theme.style(Meaning::Plain);
    for corner in Corner::ALL {
        let name: String = corner
            .to_string()
            .chars()
            .enumerate()
            .filter(|(i, _)| *i != hidden)
            .map(|(_, c)| c)
            .collect();
        let (x, y) = sheet.cell(view.square[corner.index()]);
        let left = x < inner.x + inner.width / 2;
        let top = y < inner.y + inner.height / 2;
        let at = if left { x.saturating_sub(3) } else { x + 2 };
        let row = if top { y.saturating_sub(1) } else { y + 1 };
        pen.text(at, row, &name, style);
    }
}

/// What was read along the edges: over and under the view, and at its sides.
fn readings(model: &Model, view: &SurveyView, margin: u16, inner: Rect, pen: &mut Pen<'_>) {
    let middle = inner.x + inner.width / 2;
    let row = inner.y + inner.height / 2;
    for (edge, side) in view.edges.iter().zip(0..) {
        if edge.read.is_empty() {
            continue;
        }
        let mark = if edge.is_suspect { "!! " } else { "" };
        let meaning = if edge.is_suspect { Meaning::Stop } else { Meaning::Plain };
        let style = model.theme.style(meaning);
        let text = format!("{mark}{}", edge.read);
        let wide = width(&text);
        match side {
            0 | 1 if margin < MARGIN => {}
            0 | 1 => {
                let text = cut(&text, margin - 1);
                let x = if side == 0 {
                    inner.x.saturating_sub(width(&text) + 1)
                } else {
                    inner.right() + 1
                };
                pen.text(x, row, &text, style);
            }
            _ if wide < inner.width => {
                let y = if side == 2 { inner.y - 1 } else { inner.bottom() };
                pen.text(middle.saturating_sub(wide / 2), y, &text, style);
            }
            _ => {}
        }
    }
}

/// Where places in mm come to stand on the screen.
struct Sheet {
    inner: Rect,
    least: [f64; 2],
    /// Cells for each mm.
    scale: [f64; 2],
}

impl Sheet {
    /// Fills the room; a cavity is long and low, and what counts is which line is meant, not its proportions.
    fn of(view: &SurveyView, inner: Rect) -> Self {
        let [least, most] = view.bounds();
        let cells = [inner.width, inner.height].map(|cells| f64::from(cells.saturating_sub(1)));
        let scale = std::array::from_fn(|i| cells[i] / (most[i] - least[i]).max(1.0));
        Self { inner, least, scale }
    }

    /// A place in dots from the corner of the room, so many to a cell.
    fn dot(&self, place: [f64; 2], fine: [u16; 2]) -> [f64; 2] {
        std::array::from_fn(|i| {
            let cells = (place[i] - self.least[i]) * self.scale[i];
            // The outermost dots lie in the outermost cells.
            cells * f64::from(fine[i]) + f64::from(fine[i] - 1) / 2.0
        })
    }

    fn cell(&self, place: [f64; 2]) -> (u16, u16) {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "within the screen"
        )]
        let cell = |i: usize| ((place[i] - self.least[i]) * self.scale[i]).round().max(0.0) as u16;
        (self.inner.x + cell(0), self.inner.y + cell(1))
    }

    /// Every cell of the straight line between two places.
    fn stroke(&self, from: [f64; 2], to: [f64; 2], mut put: impl FnMut(u16, u16)) {
        let ((x0, y0), (x1, y1)) = (self.cell(from), self.cell(to));
        let steps = x0.abs_diff(x1).max(y0.abs_diff(y1)).max(1);
        for step in 0..=steps {
            let part = f64::from(step) / f64::from(steps);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "between two cells"
            )]
            let between = |a: u16, b: u16| (f64::from(a) + part * (f64::from(b) - f64::from(a))).round() as u16;
            put(between(x0, x1), between(y0, y1));
        }
    }
}
