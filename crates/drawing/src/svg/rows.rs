//! Sizes and free distances, in rows below the view and columns to its left.

use super::frame::{Frame, line, mm, rect, triangle};
use super::text::{Anchor, Look, width};
use crate::{Direction, View};

/// A size or a free distance on its way to a row. Along a column, `from` to `to` runs downward.
struct Item {
    along: Direction,
    from: f64,
    to: f64,
    /// Where its extension lines begin, across.
    at: f64,
    words: String,
    short: bool,
    /// The least row it may stand in.
    level: usize,
    /// What it takes of a row, with its text.
    span: [f64; 2],
    /// Where its text hangs: before, on, or after it.
    place: Place,
}

#[derive(Clone, Copy, PartialEq)]
enum Place {
    Before,
    On,
    After,
}

/// Draws all sizes and free distances of a view.
pub(super) fn draw(view: &View, frame: &mut Frame) -> String {
    // Texts come last, so that no line runs through one.
    let (mut lines, mut texts) = (String::new(), String::new());
    for along in [Direction::U, Direction::V] {
        let rows = in_rows(items(view, along, frame));
        let start = match along {
            Direction::U => frame.taken()[3] + frame.text * 1.2,
            Direction::V => frame.taken()[0] - frame.text * 1.2,
        };
        let step = frame.text * 2.0;
        let mut at = start;
        for row in rows {
            for item in row {
                let (drawn, written) = one(&item, at, frame);
                lines += &drawn;
                texts += &written;
            }
            match along {
                Direction::U => at += step,
                Direction::V => at -= step,
            }
        }
    }
    lines + &texts
}

/// Free distances first, since they stand nearest to the view; then sizes by their level.
fn items(view: &View, along: Direction, frame: &Frame) -> Vec<Item> {
    let mut items = Vec::new();
    let edge = match along {
        Direction::U => frame.view[3],
        Direction::V => frame.view[0],
    };
    for gap in view.gaps.iter().filter(|g| g.along == along) {
        let wall = gap.name.ends_with(" wall") || gap.name.starts_with("cavity ") || gap.name.ends_with(" liner");
        let mut words = gap.text.clone();
        if gap.times > 1 {
            words = format!("{words} ({}x)", gap.times);
        } else if !wall {
            words = format!("{words} to {}", clipped(&gap.name));
        }
        if gap.short {
            words = format!("! {words}");
        }
        // A wall's line is there already; between other things the lines begin where both face each other.
        let at = if wall { edge } else { mm(gap.at) };
        items.push(Item::new(
            along,
            [mm(gap.from), mm(gap.to)],
            at,
            words,
            gap.short,
            0,
            frame,
        ));
    }
    for dim in view.dims.iter().filter(|d| d.along == along) {
        let words = format!("{} {}", dim.text, dim.name);
        items.push(Item::new(
            along,
            [mm(dim.from), mm(dim.to)],
            edge,
            words,
            false,
            dim.level,
            frame,
        ));
    }
    items
}

/// A name short enough for a column; the whole of it stands beside the view.
fn clipped(name: &str) -> String {
    const MOST: usize = 22;
    if name.chars().count() <= MOST {
        return name.to_owned();
    }
    let start: String = name.chars().take(MOST - 1).collect();
    format!("{}...", start.trim_end_matches([' ', ',']))
}

impl Item {
    fn new(
        along: Direction,
        [from, to]: [f64; 2],
        at: f64,
        words: String,
        short: bool,
        level: usize,
        frame: &Frame,
    ) -> Self {
        let size = frame.text;
        let wide = width(&words, size, short);
        let (view_from, view_to) = match along {
            Direction::U => (frame.view[0], frame.view[2]),
            Direction::V => (frame.view[1], frame.view[3]),
        };
        let middle = f64::midpoint(from, to);
        // Along its own line where there is room, else beyond the nearer end of the view. What stands in the
        // corner at the lower left belongs to the rows, so columns only ever go up.
        let place = if to - from > wide + size * 0.5 {
            Place::On
        } else if along == Direction::V || middle - view_from < view_to - middle {
            Place::Before
        } else {
            Place::After
        };
        let tail = if to - from > size * 2.5 { size * 0.3 } else { size * 1.3 };
        let span = match place {
            Place::On => [from, to],
            Place::Before => [from - tail - wide - size * 0.5, to + tail],
            Place::After => [from - tail, to + tail + wide + size * 0.5],
        };
        Self {
            along,
            from,
            to,
            at,
            words,
            short,
            level,
            span,
            place,
        }
    }
}

/// Fills rows so that no two items of a row touch; an item may share its end with the next one's beginning.
fn in_rows(items: Vec<Item>) -> Vec<Vec<Item>> {
    let mut rows: Vec<Vec<Item>> = Vec::new();
    let mut first_of_level = 0;
    let mut level = 0;
    for item in items {
        if item.level > level {
            level = item.level;
            first_of_level = rows.len();
        }
        let beside = |other: &Item| {
            let slack = 1e-6;
            other.span[1] <= item.span[0] + slack || item.span[1] <= other.span[0] + slack
        };
        let free = (first_of_level..rows.len()).find(|&row| rows[row].iter().all(beside));
        match free {
            Some(row) => rows[row].push(item),
            None => rows.push(vec![item]),
        }
    }
    rows
}

/// One item at its place across: its lines and its text.
fn one(item: &Item, row: f64, frame: &mut Frame) -> (String, String) {
    let size = frame.text;
    let thin = size * 0.05;
    let point = |along: f64, across: f64| match item.along {
        Direction::U => [along, across],
        Direction::V => [across, along],
    };
    // Beyond the line, away from the view.
    let out = match item.along {
        Direction::U => 1.0,
        Direction::V => -1.0,
    };
    let mut svg = String::new();
    for end in [item.from, item.to] {
        svg += &line(point(end, item.at), point(end, row + out * size * 0.4), thin);
    }
    let inside = item.to - item.from > size * 2.5;
    let arrow = if inside { size * 0.8 } else { -size * 0.8 };
    for (end, way) in [(item.from, 1.0), (item.to, -1.0)] {
        let (back, across) = (point(arrow * way, 0.0), point(0.0, size * 0.16));
        svg += &triangle(point(end, row), back, across);
    }
    // Arrows that point inward from outside stand on a longer line.
    let tail = if inside { 0.0 } else { size * 1.3 };
    let [from, to] = [item.from - tail, item.to + tail];
    svg += &line(point(from, row), point(to, row), thin);
    let away = if inside { size * 0.6 } else { size * 0.3 };
    let (anchor, hang) = match item.place {
        Place::On => (Anchor::Middle, f64::midpoint(item.from, item.to)),
        // Reading from the right-hand side, a text that goes up begins at its lower end.
        Place::Before if item.along == Direction::V => (Anchor::Start, from - away),
        Place::Before => (Anchor::End, from - away),
        Place::After => (Anchor::Start, to + away),
    };
    // On the line between arrows the text stands above it; beyond the arrows it goes on in line with them.
    let lift = match item.place {
        Place::On => -size * 0.25,
        _ => size * 0.35,
    };
    let upright = item.along == Direction::V;
    let at = point(hang, row + lift);
    let look = Look {
        bold: item.short,
        upright,
        ..Look::plain(size, anchor)
    };
    (svg, frame.text(at, &item.words, look))
}

/// Left, top, right and bottom of what a view's sizes are measured on, for the names beside it.
pub(super) fn anchor(outline: &crate::Outline) -> [f64; 2] {
    let [x0, y0, x1, y1] = rect(&outline.rect);
    // Near its right end, where the line to its name is shortest.
    let inset = ((x1 - x0) * 0.5).min((y1 - y0) * 0.5);
    [x1 - inset, f64::midpoint(y0, y1)]
}
