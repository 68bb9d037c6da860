//! The cavity from three sides: square, and as its readings tell it, with the line under the cursor lit.

use drawing::{Side, SurveyView, survey_view};
use job::Id;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use tape::survey::{Corner, Direction, Line, LineKind};

use super::{cavity_at, lines};
use crate::model::Model;
use crate::pages;
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut, width};

/// The least columns of the page beside which the picture has room.
const BESIDE: u16 = 100;
/// Columns of the picture beside the rows.
const COLUMNS: u16 = 46;
/// Columns at each side of a view, for the names of corners and for what was read.
const MARGIN: u16 = 10;

/// The part of the page for the rows, and that for the picture; in a narrow window one of them has all.
pub fn split(model: &Model, body: Rect) -> (Option<Rect>, Option<Rect>) {
    if body.width >= BESIDE {
        let rows = Rect {
            width: body.width - COLUMNS,
            ..body
        };
        let picture = Rect {
            x: rows.right(),
            width: COLUMNS,
            // The help for the row under the cursor runs under both.
            height: body.height.saturating_sub(2),
            ..body
        };
        return (Some(rows), Some(picture));
    }
    if model.picture {
        (None, Some(body))
    } else {
        (Some(body), None)
    }
}

/// How many columns the rows have, in the window as it is.
pub(super) const fn columns_of_rows(model: &Model) -> u16 {
    let (columns, _) = model.size;
    if columns >= BESIDE { columns - COLUMNS } else { columns }
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
    let foot = legend(model, cavity, lit, area.width);
    let room = area.height.saturating_sub(u16::try_from(foot.len()).unwrap_or(0));
    // A low window has room for one view: the one that shows the lit line best.
    let views = if room < 3 * LEAST {
        vec![best(lit)]
    } else {
        Side::ALL.to_vec()
    };
    let each = room / u16::try_from(views.len()).unwrap_or(1);
    for (view, side) in (0..).zip(views) {
        let Some(drawn) = survey_view(&model.evaluation, cavity, side) else {
            continue;
        };
        let place = Rect {
            y: area.y + view * each,
            height: each,
            ..area
        };
        draw_view(model, &drawn, lit, place, &mut pen);
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

/// The least rows of a view.
const LEAST: u16 = 9;

/// The side from which a line is seen in its true length, or nearly.
fn best(lit: Option<Line>) -> Side {
    match lit.map(Line::kind) {
        Some(LineKind::Edge(Direction::Height)) => Side::FromLeft,
        Some(LineKind::FaceDiagonal(face)) => match face.across {
            Direction::Length => Side::FromRear,
            Direction::Width => Side::FromLeft,
            Direction::Height => Side::Plan,
        },
        _ => Side::Plan,
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
            (true, times) => format!("{dot} square  {stroke} as surveyed, {times} times too crooked"),
        };
        words.push((shape, Meaning::Dim));
    }
    if let Some(line) = lit {
        words.push((format!("{mark} {line}: {}", line.words()), Meaning::Heading));
    }
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
    let inner = Rect {
        x: area.x + MARGIN,
        y: area.y + 2,
        width: area.width.saturating_sub(2 * MARGIN),
        height: area.height.saturating_sub(4),
    };
    if inner.width < 8 || inner.height < 3 {
        return;
    }
    let sheet = Sheet::of(view, inner);
    let mut raster = Raster::new(inner, model.theme.ascii);
    for &[a, b] in &SurveyView::strokes() {
        raster.stroke(&sheet, view.square[a], view.square[b], Layer::Square);
    }
    let shown = view.shape.unwrap_or(view.square);
    if view.shape.is_some() {
        for &[a, b] in &SurveyView::strokes() {
            raster.stroke(&sheet, shown[a], shown[b], Layer::Shape);
        }
    }
    raster.draw(model, pen);
    let [_, _, mark] = strokes(model.theme.ascii);
    if let Some(line) = lit {
        let [a, b] = line.ends().map(Corner::index);
        let style = model.theme.style(Meaning::Heading);
        sheet.stroke(shown[a], shown[b], |x, y| pen.stamp(x, y, mark, style));
    }
    names(model, view, &sheet, inner, pen);
    readings(model, view, inner, pen);
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
fn readings(model: &Model, view: &SurveyView, inner: Rect, pen: &mut Pen<'_>) {
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
            0 | 1 => {
                let text = cut(&text, MARGIN - 1);
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

/// Which of the two shapes a dot belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Layer {
    Square,
    Shape,
}

/// Dots, eight to a cell where the terminal can show them, one where it cannot.
struct Raster {
    inner: Rect,
    /// Dots of a cell across and down.
    fine: [u16; 2],
    /// For each cell, row by row, the bits of its dots and whether any is of the surveyed shape.
    cells: Vec<(u8, bool)>,
}

impl Raster {
    fn new(inner: Rect, ascii: bool) -> Self {
        Self {
            inner,
            fine: if ascii { [1, 1] } else { [2, 4] },
            cells: vec![(0, false); usize::from(inner.width) * usize::from(inner.height)],
        }
    }

    /// A straight line: whole for the surveyed shape, every third dot for the square one.
    fn stroke(&mut self, sheet: &Sheet, from: [f64; 2], to: [f64; 2], layer: Layer) {
        let [a, b] = [from, to].map(|place| sheet.dot(place, self.fine));
        let steps = (b[0] - a[0]).abs().max((b[1] - a[1]).abs()).ceil().max(1.0);
        let mut step = 0.0;
        while step <= steps {
            let part = step / steps;
            self.dot([0, 1].map(|i| a[i] + part * (b[i] - a[i])), layer);
            step += if layer == Layer::Square { 3.0 } else { 1.0 };
        }
    }

    fn dot(&mut self, at: [f64; 2], layer: Layer) {
        // Braille numbers its dots down the left column, down the right one, and then the bottom row.
        const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "within the screen"
        )]
        let [x, y] = at.map(|part| part.round().max(0.0) as u16);
        let (column, row) = (x / self.fine[0], y / self.fine[1]);
        if column >= self.inner.width || row >= self.inner.height {
            return;
        }
        let cell = &mut self.cells[usize::from(row) * usize::from(self.inner.width) + usize::from(column)];
        cell.0 |= BITS[usize::from(x % self.fine[0])][usize::from(y % self.fine[1])];
        cell.1 |= layer == Layer::Shape;
    }

    fn draw(&self, model: &Model, pen: &mut Pen<'_>) {
        let ascii = self.fine == [1, 1];
        let [dot, stroke, _] = strokes(ascii);
        for (row, cells) in (0..).zip(self.cells.chunks(usize::from(self.inner.width).max(1))) {
            for (column, &(bits, is_shape)) in (0..).zip(cells) {
                if bits == 0 {
                    continue;
                }
                let meaning = if is_shape { Meaning::Steel } else { Meaning::Dim };
                let braille = char::from_u32(0x2800 + u32::from(bits)).unwrap_or(' ').to_string();
                let symbol = match (ascii, is_shape) {
                    (true, true) => stroke,
                    (true, false) => dot,
                    (false, _) => &braille,
                };
                pen.stamp(
                    self.inner.x + column,
                    self.inner.y + row,
                    symbol,
                    model.theme.style(meaning),
                );
            }
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
