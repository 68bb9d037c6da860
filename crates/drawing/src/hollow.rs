//! A hollow with its eight corners named, and the lines to tape in it.
//!
//! Drawn as if looked at from the driver's left, from above and a little from the rear, so that it agrees with the view
//! from the left: front of the truck on the left of the sheet. It is not to scale: it shows which line is meant, and
//! every cavity has the same corners.

mod station;

use tape::survey::{Corner, Line, LineKind};

pub use station::Station;

/// A place on the sheet: to the right and down, in units of which the hollow is 100 long.
pub type Place = [f64; 2];

/// How far the rear, the right and the top lie from the front left bottom corner.
///
/// Chosen so that no line between two corners runs through a third one.
const REARWARD: Place = [100.0, 0.0];
const RIGHT: Place = [44.0, -34.0];
const UP: Place = [0.0, -46.0];

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// An edge of the hollow in view.
    Edge,
    /// An edge behind the roof and the walls on this side.
    Hidden,
    /// A line to tape.
    Taped,
}

/// A straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Between which corners.
    pub line: Line,
    /// Where its ends are.
    pub ends: [Place; 2],
    /// How it is drawn.
    pub weight: Weight,
}

/// On which side of its corner a name stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// To the left of it.
    Left,
    /// To the right of it.
    Right,
    /// Above it.
    Above,
    /// Below it.
    Below,
}

/// The name of a corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Name {
    /// Which.
    pub corner: Corner,
    /// Where the corner is.
    pub at: Place,
    /// Where the name stands.
    pub stands: Stands,
}

/// The number of a line in walking order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// From 1 to 28.
    pub number: usize,
    /// Where it stands, on its line.
    pub at: Place,
}

/// The hollow as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Hollow {
    /// What is shown.
    pub title: String,
    /// Lines: one that comes later is drawn over one that came before.
    pub strokes: Vec<Stroke>,
    /// Names of corners.
    pub names: Vec<Name>,
    /// Numbers of the lines to tape.
    pub numbers: Vec<Number>,
    /// Whether the drawing also says which way the truck lies.
    pub directions: bool,
}

impl Hollow {
    /// The edges with the names of all corners.
    pub fn whole() -> Self {
        Self {
            title: "the eight corners of a cavity, seen from the driver's left".to_owned(),
            strokes: edges(),
            names: Corner::ALL.map(|corner| name(corner, None)).to_vec(),
            numbers: Vec::new(),
            directions: true,
        }
    }

    /// The lines of one station, each with its number in walking order, and the names of their corners.
    pub fn of_station(station: Station) -> Self {
        let lines = station.lines();
        let mut strokes = edges();
        strokes.extend(lines.iter().map(|&(_, line)| stroke(line, Weight::Taped)));
        let used = |corner: &Corner| lines.iter().any(|(_, line)| line.ends().contains(corner));
        Self {
            title: format!("lines to tape: {}", station.name()),
            strokes,
            names: Corner::ALL
                .into_iter()
                .filter(used)
                .map(|corner| name(corner, Some(station)))
                .collect(),
            numbers: lines.into_iter().map(|(number, line)| at_line(number, line)).collect(),
            directions: false,
        }
    }
}

/// Where a corner is on the sheet.
pub fn place(corner: Corner) -> Place {
    let mut at = [0.0, 0.0];
    for (far, [u, v]) in [(corner.rear, REARWARD), (corner.right, RIGHT), (corner.top, UP)] {
        if far {
            at = [at[0] + u, at[1] + v];
        }
    }
    at
}

/// The twelve edges, those behind first.
fn edges() -> Vec<Stroke> {
    let is_edge = |line: &Line| matches!(line.kind(), LineKind::Edge(_));
    let weight = |line: Line| {
        if line.ends().iter().any(|corner| is_behind(*corner)) {
            Weight::Hidden
        } else {
            Weight::Edge
        }
    };
    let mut strokes: Vec<Stroke> = Line::all()
        .into_iter()
        .filter(is_edge)
        .map(|line| stroke(line, weight(line)))
        .collect();
    strokes.sort_by_key(|stroke| stroke.weight == Weight::Edge);
    strokes
}

/// Whether the corner lies behind roof, left wall and rear wall.
const fn is_behind(corner: Corner) -> bool {
    !corner.rear && corner.right && !corner.top
}

fn stroke(line: Line, weight: Weight) -> Stroke {
    Stroke {
        line,
        ends: line.ends().map(place),
        weight,
    }
}

/// A name stands beside its corner, away from the middle; where a line to tape runs there, above or below.
fn name(corner: Corner, station: Option<Station>) -> Name {
    let stands = match station {
        Some(Station::FrontCross) if corner == Corner::ALL[3] => Stands::Below,
        Some(Station::RearCross) if corner == Corner::ALL[5] => Stands::Above,
        _ if corner.rear => Stands::Right,
        _ => Stands::Left,
    };
    Name {
        corner,
        at: place(corner),
        stands,
    }
}

/// The number beside the crossing of two diagonals, since there it could belong to either, and clear of the names.
fn at_line(number: usize, line: Line) -> Number {
    let [from, to] = line.ends();
    let along = match (line.kind(), from.rear, from.right) {
        (LineKind::Edge(_), ..) => 0.5,
        (LineKind::FaceDiagonal(_), false, true) if Station::of(line) == Station::FrontCross => 0.76,
        (LineKind::FaceDiagonal(_), ..) => 0.28,
        (LineKind::SpaceDiagonal, _, false) => 0.25,
        (LineKind::SpaceDiagonal, false, true) => 0.3,
        (LineKind::SpaceDiagonal, true, true) => 0.38,
    };
    let ([u0, v0], [u1, v1]) = (place(from), place(to));
    Number {
        number,
        at: [u0 + (u1 - u0) * along, v0 + (v1 - v0) * along],
    }
}

#[cfg(test)]
mod tests;
