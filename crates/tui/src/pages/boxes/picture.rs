//! The box under the cursor: from above, from the left, and cut through its rim, so that a choice of construction is
//! seen as it is made.

use drawing::{Assembly, Direction, EdgeLine, Piece, Side, assembly};
use geometry::{Axis, Cuboid, Point, Size};
use job::{BoxResult, Evaluation};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use tape::Length;

use super::box_at;
use crate::model::Model;
use crate::pages;
use crate::pages::beside::Room;
use crate::theme::{Meaning, Theme};
use crate::widgets::dots::{Dots, Weight};
use crate::widgets::pen::{Pen, cut};
use crate::widgets::toast::wrap;

/// The picture's place beside the rows, which keep the width of a small window.
pub const ROOM: Room = Room {
    least: 120,
    columns: 40,
};

/// Millimetres of the box that the cut through the rim shows, each way.
const RIM_MM: f64 = 40.0;
/// Columns of that cut; the names of the parts stand beside it.
const RIM_COLUMNS: u16 = 18;
/// Rows of that cut: its cells are about twice as high as wide.
const RIM_ROWS: u16 = RIM_COLUMNS / 2;
/// What stands for dots, faint and strong, where a cell is one dot.
const SIGNS: [&str; 2] = [".", "+"];

/// The box whose rows the cursor is in, else the first.
fn shown<'a>(model: &'a Model, evaluation: &'a Evaluation) -> Option<&'a BoxResult> {
    let at_cursor = box_at(&pages::rows(model), model.boxes.cursor);
    at_cursor
        .and_then(|id| evaluation.battery_box(id))
        .or_else(|| evaluation.boxes.first())
}

/// Draws it.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let evaluation = &model.evaluation;
    let mut pen = Pen::new(buf, area, model.theme);
    let room = area.width.saturating_sub(2);
    let say = |y: u16, words: &str, meaning: Meaning, pen: &mut Pen<'_>| {
        pen.text(area.x + 1, y, &cut(words, room), model.theme.style(meaning));
    };
    let Some(battery_box) = shown(model, evaluation) else {
        say(area.y, "no box yet: lay the modules out first", Meaning::Dim, &mut pen);
        return;
    };
    say(area.y, &battery_box.name, Meaning::Heading, &mut pen);
    let Some(assembly) = assembly(evaluation, battery_box) else {
        let fault = battery_box.fault.as_ref().map(ToString::to_string);
        let words = fault.unwrap_or_else(|| "it wraps no module".to_owned());
        for (y, line) in (area.y + 1..area.bottom()).zip(wrap(&words, room)) {
            say(y, &line, Meaning::Caution, &mut pen);
        }
        return;
    };
    let mut y = area.y + 1;
    let rim = RIM_ROWS + 1;
    for side in [Side::Plan, Side::FromLeft] {
        let rect = assembly.rect(side);
        let rows = rows_of(&assembly, side, room);
        if y + rows + 1 + rim > area.bottom() {
            continue;
        }
        let [wide, high] = [rect.width(), rect.height()].map(|length| evaluation.up(length));
        let words = if side == Side::Plan {
            "from above"
        } else {
            "from the left"
        };
        say(y, &format!("{words}: {wide} x {high}"), Meaning::Dim, &mut pen);
        let place = Rect {
            x: area.x + 1,
            y: y + 1,
            width: room,
            height: rows,
        };
        draw_side(&assembly, side, place, model.theme, &mut pen);
        y += rows + 1;
    }
    if y + rim > area.bottom() {
        return;
    }
    say(y, "cut through the rim", Meaning::Dim, &mut pen);
    let place = Rect {
        x: area.x + 1,
        y: y + 1,
        width: room,
        height: RIM_ROWS.min(area.bottom() - y - 1),
    };
    draw_rim(evaluation, &assembly, place, model.theme, &mut pen);
}

/// How many rows a view needs in so many columns, cells being about twice as high as wide.
fn rows_of(assembly: &Assembly, side: Side, columns: u16) -> u16 {
    let rect = assembly.rect(side);
    let rows = f64::from(columns) / 2.0 * rect.height().as_mm() / rect.width().as_mm().max(1.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "kept between 2 and 12"
    )]
    let rows = rows.ceil().clamp(2.0, 12.0) as u16;
    rows
}

/// Its edges that are seen, and the holes of the lid, in the same scale both ways.
fn draw_side(assembly: &Assembly, side: Side, place: Rect, theme: Theme, pen: &mut Pen<'_>) {
    let mut dots = Dots::new(place, theme.ascii);
    let fine = dots.fine();
    let rect = assembly.rect(side);
    let scale = scale([rect.width().as_mm(), rect.height().as_mm()], place);
    let dot = |u: Length, v: Length| {
        let from = [(u - rect.u0).as_mm(), (v - rect.v0).as_mm()];
        [0, 1].map(|i| from[i] * scale[i] * f64::from(fine[i]))
    };
    for line in assembly.edges(side).into_iter().filter(|line| !line.hidden) {
        let EdgeLine {
            along, at, from, to, ..
        } = line;
        let [a, b] = match along {
            Direction::U => [dot(from, at), dot(to, at)],
            Direction::V => [dot(at, from), dot(at, to)],
        };
        dots.stroke(a, b, Weight::Strong);
    }
    if side == Side::Plan {
        for &[x, y] in &assembly.holes {
            let hole = side.rect(&Cuboid::at(Point([x, y, Length::ZERO]), Size([Length::ZERO; 3])));
            let at = dot(hole.u0, hole.v0);
            dots.stroke(at, at, Weight::Strong);
        }
    }
    dots.draw(theme, SIGNS, pen);
}

/// Cells for each mm across and down: all of it in the place, and a square looks square.
fn scale(mm: [f64; 2], place: Rect) -> [f64; 2] {
    let room = [place.width, place.height].map(|cells| f64::from(cells) - 0.5);
    let across = (room[0] / mm[0].max(1.0)).min(2.0 * room[1] / mm[1].max(1.0));
    [across, across / 2.0]
}

/// What a cut across the longer side goes through at the upper left, and the names of those parts beside it.
fn draw_rim(evaluation: &Evaluation, assembly: &Assembly, place: Rect, theme: Theme, pen: &mut Pen<'_>) {
    let short = if assembly.long == Axis::X { Axis::Y } else { Axis::X };
    let (low, top) = (assembly.lidded.lo()[short], assembly.lidded.hi()[Axis::Z]);
    let window = Rect {
        width: RIM_COLUMNS,
        ..place
    };
    let mut dots = Dots::new(window, theme.ascii);
    let fine = dots.fine();
    let scale = scale([RIM_MM, RIM_MM], window);
    let dot = |across: Length, up: Length| {
        let from = [(across - low).as_mm(), (top - up).as_mm()];
        [0, 1].map(|i| from[i] * scale[i] * f64::from(fine[i]))
    };
    let mut names: Vec<String> = Vec::new();
    for Piece {
        mark,
        role,
        solid,
        thin,
        ..
    } in assembly.cut_through(assembly.long)
    {
        let (lo, hi) = (solid.lo(), solid.hi());
        let is_in_sight = (lo[short] - low).as_mm() < RIM_MM && (top - hi[Axis::Z]).as_mm() < RIM_MM;
        if !is_in_sight {
            continue;
        }
        let corners = [
            [lo[short], lo[Axis::Z]],
            [hi[short], lo[Axis::Z]],
            [hi[short], hi[Axis::Z]],
            [lo[short], hi[Axis::Z]],
        ]
        .map(|[across, up]| dot(across, up));
        for (from, to) in [(0, 1), (1, 2), (2, 3), (3, 0)] {
            dots.stroke(corners[from], corners[to], Weight::Strong);
        }
        let thick = solid.size()[*thin].as_mm();
        let name = format!("{mark} {} {thick:.1}", role.name());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    dots.draw(theme, SIGNS, pen);
    let x = window.right() + 1;
    names.push(format!("rim to top of lid {}", evaluation.near(assembly.above_rim)));
    let lines = names
        .iter()
        .flat_map(|name| wrap(name, place.right().saturating_sub(x)));
    for (y, line) in (place.y..place.bottom()).zip(lines) {
        pen.text(x, y, &line, theme.style(Meaning::Plain));
    }
}
