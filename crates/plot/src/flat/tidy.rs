//! An outline without what a shop sends back: pieces of no length, lines on top of each other.

use std::f64::consts::TAU;

use super::{Contour, Flat, Hole, On, Straight};
use crate::shape::{Arc, Path, Piece, Point, Vertex, circle, distance};

/// What is nearer than this, in millimetres, is at one place: a nanometre, the grain of all lengths.
const SAME: f64 = 1e-6;

/// Why an outline cannot be cut.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Fault {
    /// A coordinate, bulge, radius or height is infinite or not a number.
    #[error("the outline has a coordinate that is not a number")]
    NotANumber,
    /// A closed outline encloses nothing.
    #[error("the outline at {:.3}, {:.3} mm encloses no area", .at[0], .at[1])]
    NoArea {
        /// Its first corner, or the middle of a circle.
        at: Point,
    },
    /// Two lines of one layer lie on each other for a part of their length, so that it would be cut or bent twice.
    #[error("two {layer} lines lie on each other at {:.3}, {:.3} mm", .at[0], .at[1])]
    Overlap {
        /// A place on one of the two.
        at: Point,
        /// The layer.
        layer: &'static str,
    },
}

impl Flat {
    /// The same outline without what says nothing: pieces of no length are left out, what is there twice is there once,
    /// straight lines of one layer that overlap or touch end to end in one direction are one line.
    ///
    /// # Errors
    ///
    /// What cannot be put right without a guess: see [`Fault`].
    pub fn tidied(&self) -> Result<Self, Fault> {
        if !self.is_finite() {
            return Err(Fault::NotANumber);
        }
        let mut contours: Vec<Contour> = Vec::new();
        for contour in &self.contours {
            let contour = without_empty_pieces(contour)?;
            if !contours.iter().any(|other| same_contour(other, &contour)) {
                contours.push(contour);
            }
        }
        let mut holes: Vec<Hole> = Vec::new();
        for hole in &self.holes {
            if hole.radius <= SAME {
                return Err(Fault::NoArea { at: hole.centre });
            }
            if !holes.iter().any(|other| same_hole(other, hole)) {
                holes.push(*hole);
            }
        }
        let mut notes = Vec::new();
        for note in self.notes.iter().filter(|note| !note.words.trim().is_empty()) {
            if !notes.contains(note) {
                notes.push(note.clone());
            }
        }
        let tidy = Self {
            contours,
            holes,
            lines: merged(&self.lines),
            notes,
        };
        tidy.overlap().map_or(Ok(tidy), Err)
    }

    fn is_finite(&self) -> bool {
        let corners = self.contours.iter().flat_map(|contour| &contour.vertices);
        let corners = corners.flat_map(|vertex| [vertex.x, vertex.y, vertex.bulge]);
        let holes = self
            .holes
            .iter()
            .flat_map(|hole| [hole.centre[0], hole.centre[1], hole.radius]);
        let lines = self.lines.iter().flat_map(|line| [line.from, line.to].concat());
        let notes = self.notes.iter();
        let notes = notes.flat_map(|note| [note.at[0], note.at[1], note.height_mm, note.turn_deg]);
        corners.chain(holes).chain(lines).chain(notes).all(f64::is_finite)
    }

    /// The first place where two lines of one layer lie on each other.
    fn overlap(&self) -> Option<Fault> {
        let contours = self.contours.iter().map(|contour| (contour.on, contour.path()));
        let holes = self
            .holes
            .iter()
            .map(|hole| (hole.on, circle(hole.centre, hole.radius)));
        let lines = self.lines.iter();
        let lines = lines.map(|line| (line.on, Path::through([line.from, line.to], false)));
        let pieces: Vec<(On, Piece)> = contours
            .chain(holes)
            .chain(lines)
            .flat_map(|(on, path)| path.pieces().map(|piece| (on, piece)).collect::<Vec<_>>())
            .collect();
        pieces.iter().enumerate().find_map(|(index, (on, piece))| {
            let later = &pieces[index + 1..];
            let at = later
                .iter()
                .filter(|(other, _)| other == on)
                .find_map(|(_, other)| on_each_other(piece, other))?;
            Some(Fault::Overlap {
                at,
                layer: on.layer().name(),
            })
        })
    }
}

fn near(a: Point, b: Point) -> bool {
    distance(a, b) <= SAME
}

fn without_empty_pieces(contour: &Contour) -> Result<Contour, Fault> {
    let all = &contour.vertices;
    let kept: Vec<Vertex> = (0..all.len())
        .filter(|&index| !near(all[index].at(), all[(index + 1) % all.len()].at()))
        .map(|index| all[index])
        .collect();
    let kept = Contour {
        on: contour.on,
        vertices: kept,
    };
    let area = kept.path().area().abs();
    // Thinner than the grain along its whole edge is nothing that can be cut.
    if area <= SAME * kept.path().length() {
        let at = all.first().map_or([0.0, 0.0], |vertex| vertex.at());
        return Err(Fault::NoArea { at });
    }
    Ok(kept)
}

fn same_hole(a: &Hole, b: &Hole) -> bool {
    a.on == b.on && near(a.centre, b.centre) && (a.radius - b.radius).abs() <= SAME
}

/// Whether two contours are one, wherever they begin and whichever way they run.
fn same_contour(a: &Contour, b: &Contour) -> bool {
    let count = a.vertices.len();
    if a.on != b.on || count != b.vertices.len() {
        return false;
    }
    let same = |a: &Vertex, b: Vertex| near(a.at(), b.at()) && (a.bulge - b.bulge).abs() < 1e-9;
    let runs_as = |other: &[Vertex]| {
        (0..count).any(|shift| {
            let shifted = (0..count).map(|index| other[(index + shift) % count]);
            a.vertices.iter().zip(shifted).all(|(a, b)| same(a, b))
        })
    };
    runs_as(&b.vertices) || runs_as(&reversed(&b.vertices))
}

/// The corners from the last to the first; each takes the bulge of the piece that it now leaves by.
fn reversed(vertices: &[Vertex]) -> Vec<Vertex> {
    let count = vertices.len();
    let back = |index: usize| Vertex {
        bulge: -vertices[(index + count - 1) % count].bulge,
        ..vertices[index]
    };
    (0..count).rev().map(back).collect()
}

/// Straight lines with those that lie along each other made one.
fn merged(lines: &[Straight]) -> Vec<Straight> {
    let mut done: Vec<Straight> = Vec::new();
    for line in lines.iter().filter(|line| !near(line.from, line.to)) {
        let mut line = *line;
        // Each time that it grows it may reach another one.
        while let Some((index, both)) = done
            .iter()
            .enumerate()
            .find_map(|(index, other)| Some((index, joined(other, &line)?)))
        {
            done.remove(index);
            line = both;
        }
        done.push(line);
    }
    done
}

/// The one line that two make which overlap or touch and run in one direction.
fn joined(a: &Straight, b: &Straight) -> Option<Straight> {
    let shared = shared([a.from, a.to], [b.from, b.to])?;
    (a.on == b.on && shared >= -SAME).then(|| {
        let ends = [a.from, a.to, b.from, b.to];
        let along = |point: &Point| {
            let [dx, dy] = [a.to[0] - a.from[0], a.to[1] - a.from[1]];
            (point[0] - a.from[0]) * dx + (point[1] - a.from[1]) * dy
        };
        let by_place = |x: &&Point, y: &&Point| along(x).total_cmp(&along(y));
        Straight {
            on: a.on,
            from: *ends.iter().min_by(by_place).expect("four ends"),
            to: *ends.iter().max_by(by_place).expect("four ends"),
        }
    })
}

/// For how many millimetres two straight lines lie on each other; negative when there is a gap between them. None when
/// they are not on one straight line.
fn shared([from, to]: [Point; 2], other: [Point; 2]) -> Option<f64> {
    let length = distance(from, to);
    let along = [0, 1].map(|axis| (to[axis] - from[axis]) / length);
    let place = |[x, y]: Point| {
        let [x, y] = [x - from[0], y - from[1]];
        // Along the line, and to its left.
        [x * along[0] + y * along[1], y * along[0] - x * along[1]]
    };
    let [[a, aside_a], [b, aside_b]] = other.map(place);
    let on_line = aside_a.abs() <= SAME && aside_b.abs() <= SAME;
    on_line.then(|| a.max(b).min(length) - a.min(b).max(0.0))
}

/// A place where two pieces lie on each other for more than a point.
fn on_each_other(a: &Piece, b: &Piece) -> Option<Point> {
    match (a, b) {
        (Piece::Straight(a), Piece::Straight(b)) => (shared(*a, *b)? > SAME).then_some(a[0]),
        (Piece::Round(a), Piece::Round(b)) => {
            let one_circle = near(a.centre, b.centre) && (a.radius - b.radius).abs() <= SAME;
            (one_circle && shared_turn(a, b) * a.radius > SAME).then_some(a.ends[0])
        }
        _ => None,
    }
}

/// The largest angle, in radians, for which two arcs of one circle lie on each other.
fn shared_turn(a: &Arc, b: &Arc) -> f64 {
    let span = |arc: &Arc| {
        let end = arc.start + arc.turn;
        [arc.start.min(end), arc.start.max(end)]
    };
    let ([low, high], [other_low, other_high]) = (span(a), span(b));
    let turned = [-2.0, -1.0, 0.0, 1.0, 2.0].map(|turns| {
        let by = TAU * turns;
        high.min(other_high + by) - low.max(other_low + by)
    });
    turned.into_iter().fold(f64::NEG_INFINITY, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::Rect;

    fn plate(rect: Rect) -> Contour {
        Contour {
            on: On::Cut,
            vertices: Path::round_rect(rect, 5.0).vertices,
        }
    }

    const PLATE: Rect = Rect::new(0.0, 0.0, 200.0, 100.0);

    fn bend(from: Point, to: Point) -> Straight {
        Straight { on: On::Bend, from, to }
    }

    fn with_contours(contours: Vec<Contour>) -> Flat {
        Flat {
            contours,
            ..Flat::default()
        }
    }

    #[test]
    fn what_is_there_twice_is_there_once_whichever_way_it_runs() {
        let mut other = plate(PLATE);
        other.vertices.rotate_left(3);
        other.vertices = reversed(&other.vertices);
        let hole = Hole {
            on: On::Cut,
            centre: [50.0, 50.0],
            radius: 4.5,
        };
        let flat = Flat {
            contours: vec![plate(PLATE), other],
            holes: vec![hole, hole],
            lines: vec![bend([0.0, 30.0], [200.0, 30.0]), bend([200.0, 30.0], [0.0, 30.0])],
            notes: Vec::new(),
        };
        let tidy = flat.tidied().unwrap();
        let counts = [tidy.contours.len(), tidy.holes.len(), tidy.lines.len()];
        assert_eq!(counts, [1, 1, 1]);
    }

    #[test]
    fn a_reversed_contour_has_the_same_area_the_other_way_round() {
        let mut back = plate(PLATE);
        back.vertices = reversed(&back.vertices);
        assert!((back.path().area() + plate(PLATE).path().area()).abs() < 1e-9);
    }

    #[test]
    fn corners_on_one_place_are_one() {
        let mut corners = plate(PLATE);
        corners.vertices.insert(3, corners.vertices[3]);
        corners.vertices.push(corners.vertices[0]);
        let tidy = with_contours(vec![corners]).tidied().unwrap();
        assert_eq!(tidy.contours[0].vertices.len(), 8);
        assert!((tidy.contours[0].path().area() - plate(PLATE).path().area()).abs() < 1e-9);
    }

    #[test]
    fn bend_lines_that_overlap_or_touch_are_one_line() {
        let lines = [
            bend([0.0, 0.0], [10.0, 10.0]),
            bend([30.0, 30.0], [20.0, 20.0]),
            bend([25.0, 25.0], [8.0, 8.0]),
            bend([30.0, 30.0], [31.0, 31.0]),
            bend([40.0, 40.0], [50.0, 50.0]),
            bend([5.0, 5.0], [5.0, 5.0]),
        ];
        let merged = merged(&lines);
        assert_eq!(merged.len(), 2);
        let lengths: Vec<f64> = merged.iter().map(|line| distance(line.from, line.to)).collect();
        assert!((lengths.iter().sum::<f64>() - 41.0 * 2.0_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn plates_that_share_an_edge_are_refused() {
        let beside = Rect::new(200.0, 20.0, 50.0, 50.0);
        let fault = with_contours(vec![plate(PLATE), plate(beside)]).tidied();
        assert!(matches!(fault, Err(Fault::Overlap { layer: "CUT", .. })), "{fault:?}");
        let apart = Rect::new(200.2, 20.0, 50.0, 50.0);
        assert!(with_contours(vec![plate(PLATE), plate(apart)]).tidied().is_ok());
    }

    #[test]
    fn a_hole_on_a_round_corner_of_its_size_is_refused() {
        let mut flat = with_contours(vec![plate(PLATE)]);
        flat.holes.push(Hole {
            on: On::Cut,
            centre: [5.0, 5.0],
            radius: 5.0,
        });
        assert!(matches!(flat.tidied(), Err(Fault::Overlap { .. })));
        flat.holes[0].on = On::Etch;
        assert!(flat.tidied().is_ok());
    }

    #[test]
    fn what_encloses_nothing_or_is_no_number_is_refused() {
        let thin = Contour {
            on: On::Cut,
            vertices: [[0.0, 0.0], [10.0, 0.0]].map(Vertex::straight).to_vec(),
        };
        assert!(matches!(
            with_contours(vec![thin]).tidied(),
            Err(Fault::NoArea { at: [0.0, 0.0] })
        ));
        let mut lost = plate(PLATE);
        lost.vertices[1].y = f64::NAN;
        assert_eq!(with_contours(vec![lost]).tidied(), Err(Fault::NotANumber));
    }
}
