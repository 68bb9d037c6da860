//! Lines and arcs in a plane: paths of straight and round pieces, and rectangles.

use std::f64::consts::FRAC_PI_2;

/// A place in millimetres: x to the right, y up.
pub type Point = [f64; 2];

/// A corner of a [`Path`] and the piece that leaves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// To the right, in millimetres.
    pub x: f64,
    /// Up, in millimetres.
    pub y: f64,
    /// How round the piece to the next corner is: the tangent of a quarter of the angle it turns through, positive when
    /// it turns anticlockwise, 0 for a straight piece.
    pub bulge: f64,
}

impl Vertex {
    /// A corner that a straight piece leaves.
    pub const fn straight([x, y]: Point) -> Self {
        Self { x, y, bulge: 0.0 }
    }

    /// A corner that an arc leaves: the arc turns through `turn_deg`, anticlockwise when positive, within ±360.
    pub fn round([x, y]: Point, turn_deg: f64) -> Self {
        let bulge = libm::tan(turn_deg.to_radians() / 4.0);
        Self { x, y, bulge }
    }

    /// Where it is.
    pub const fn at(self) -> Point {
        [self.x, self.y]
    }
}

/// Pieces one after the other, straight or round.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// The corners in order.
    pub vertices: Vec<Vertex>,
    /// Whether a piece leads from the last corner back to the first; otherwise the bulge of the last says nothing.
    pub closed: bool,
}

/// One piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Piece {
    /// From the first place to the second.
    Straight([Point; 2]),
    /// Along a circle.
    Round(Arc),
}

/// A part of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Where it begins and ends.
    pub ends: [Point; 2],
    /// The middle of its circle.
    pub centre: Point,
    /// In millimetres, above 0.
    pub radius: f64,
    /// The direction of its beginning as seen from the middle, in radians anticlockwise from x.
    pub start: f64,
    /// The angle that it turns through, in radians, anticlockwise when positive.
    pub turn: f64,
}

impl Path {
    /// Straight pieces between `points`.
    pub fn through(points: impl IntoIterator<Item = Point>, closed: bool) -> Self {
        let vertices = points.into_iter().map(Vertex::straight).collect();
        Self { vertices, closed }
    }

    /// The four sides of a rectangle, anticlockwise from its lower left corner.
    pub fn rect(rect: Rect) -> Self {
        Self::through(rect.corners(), true)
    }

    /// A rectangle with round corners, anticlockwise from the left end of its lower side.
    ///
    /// `radius` in millimetres; at most half of the shorter side is used.
    pub fn round_rect(rect: Rect, radius: f64) -> Self {
        let r = radius.min(rect.width / 2.0).min(rect.height / 2.0);
        if r <= 0.0 {
            return Self::rect(rect);
        }
        let [[left, low], [right, high]] = [rect.low(), rect.high()];
        let pairs = [
            ([left + r, low], [right - r, low]),
            ([right, low + r], [right, high - r]),
            ([right - r, high], [left + r, high]),
            ([left, high - r], [left, low + r]),
        ];
        let vertices = pairs
            .into_iter()
            .flat_map(|(from, to)| [Vertex::straight(from), Vertex::round(to, 90.0)])
            .collect();
        Self { vertices, closed: true }
    }

    /// Its pieces, in order; pieces of no length are passed over.
    pub fn pieces(&self) -> impl Iterator<Item = Piece> {
        let count = self.vertices.len();
        let last = if self.closed { count } else { count.saturating_sub(1) };
        (0..last).filter_map(move |index| {
            let (from, to) = (self.vertices[index], self.vertices[(index + 1) % count]);
            Piece::between(from, to.at())
        })
    }

    /// The area inside a closed path in square millimetres: positive when it runs anticlockwise.
    ///
    /// Sum over the pieces of the triangle with the origin, and of the slice between an arc and its chord,
    /// `r²/2 · (turn − sin turn)`.
    pub fn area(&self) -> f64 {
        let of = |piece| match piece {
            Piece::Straight(ends) => cross(ends),
            Piece::Round(arc) => cross(arc.ends) + arc.radius * arc.radius / 2.0 * (arc.turn - libm::sin(arc.turn)),
        };
        self.pieces().map(of).sum()
    }

    /// How long it is in millimetres.
    pub fn length(&self) -> f64 {
        let of = |piece| match piece {
            Piece::Straight([from, to]) => distance(from, to),
            Piece::Round(arc) => arc.radius * arc.turn.abs(),
        };
        self.pieces().map(of).sum()
    }

    /// The smallest rectangle around it. None for a path without corners.
    pub fn bounds(&self) -> Option<Rect> {
        let corners = self.vertices.iter().map(|vertex| vertex.at());
        let round = self.pieces().flat_map(|piece| match piece {
            Piece::Straight(_) => Vec::new(),
            Piece::Round(arc) => arc.outermost(),
        });
        Rect::around(corners.chain(round))
    }
}

/// Half the cross product of two places: the area of the triangle with the origin.
fn cross([[ax, ay], [bx, by]]: [Point; 2]) -> f64 {
    (ax * by - bx * ay) / 2.0
}

/// How far two places are apart.
pub(crate) fn distance([ax, ay]: Point, [bx, by]: Point) -> f64 {
    libm::hypot(bx - ax, by - ay)
}

impl Piece {
    /// The piece that leaves `from` for `to`. None when it has no length.
    fn between(from: Vertex, to: Point) -> Option<Self> {
        let chord = distance(from.at(), to);
        if chord <= 0.0 {
            return None;
        }
        if from.bulge == 0.0 {
            return Some(Self::Straight([from.at(), to]));
        }
        let turn = 4.0 * libm::atan(from.bulge);
        // From the middle of the chord to the left, as seen along it, by (1 − b²) / 4b of the chord.
        let aside = (1.0 - from.bulge * from.bulge) / (4.0 * from.bulge);
        let [dx, dy] = [to[0] - from.x, to[1] - from.y];
        let centre = [
            f64::midpoint(from.x, to[0]) - dy * aside,
            f64::midpoint(from.y, to[1]) + dx * aside,
        ];
        Some(Self::Round(Arc {
            ends: [from.at(), to],
            centre,
            radius: chord * (1.0 + from.bulge * from.bulge) / (4.0 * from.bulge.abs()),
            start: libm::atan2(from.y - centre[1], from.x - centre[0]),
            turn,
        }))
    }
}

impl Arc {
    /// The place after `share` of the turn, `0.0..=1.0`.
    pub fn at(&self, share: f64) -> Point {
        around(self.centre, self.radius, self.start + self.turn * share)
    }

    /// Where it crosses the axes of its own circle between its ends.
    fn outermost(&self) -> Vec<Point> {
        let [low, high] = if self.turn < 0.0 {
            [self.start + self.turn, self.start]
        } else {
            [self.start, self.start + self.turn]
        };
        (-4..=8)
            .map(|quarter| f64::from(quarter) * FRAC_PI_2)
            // An end is exact as a corner, and would not be from here.
            .filter(|angle| low + 1e-9 < *angle && *angle < high - 1e-9)
            .map(|angle| around(self.centre, self.radius, angle))
            .collect()
    }
}

/// The place on a circle in the direction of `angle` radians.
pub(crate) fn around([x, y]: Point, radius: f64, angle: f64) -> Point {
    // The four quarters exactly, so that a round corner ends where its sides do.
    let quarters = angle / FRAC_PI_2;
    let (sin, cos) = if (quarters - libm::round(quarters)).abs() < 1e-12 {
        (libm::round(libm::sin(angle)), libm::round(libm::cos(angle)))
    } else {
        (libm::sin(angle), libm::cos(angle))
    };
    [x + radius * cos, y + radius * sin]
}

/// A circle as a path of two half turns.
pub fn circle([x, y]: Point, radius: f64) -> Path {
    let half = |x| Vertex { x, y, bulge: 1.0 };
    Path {
        vertices: vec![half(x + radius), half(x - radius)],
        closed: true,
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Its left side, in millimetres.
    pub x: f64,
    /// Its lower side, in millimetres.
    pub y: f64,
    /// In millimetres, 0 or more.
    pub width: f64,
    /// In millimetres, 0 or more.
    pub height: f64,
}

impl Rect {
    /// A rectangle by its lower left corner and its sides.
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self { x, y, width, height }
    }

    /// A rectangle by its lower left and its upper right corner.
    pub const fn between([left, low]: Point, [right, high]: Point) -> Self {
        Self::new(left, low, right - left, high - low)
    }

    /// The smallest rectangle around some places.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        let boxes = points.into_iter().map(|[x, y]| Self::new(x, y, 0.0, 0.0));
        boxes.reduce(Self::with)
    }

    /// The smallest rectangle around both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        let low = [self.x.min(other.x), self.y.min(other.y)];
        let (one, two) = (self.high(), other.high());
        Self::between(low, [0, 1].map(|axis| one[axis].max(two[axis])))
    }

    /// What both cover. None when they are apart.
    pub fn common(self, other: Self) -> Option<Self> {
        let low = [self.x.max(other.x), self.y.max(other.y)];
        let (one, two) = (self.high(), other.high());
        let both = Self::between(low, [0, 1].map(|axis| one[axis].min(two[axis])));
        (both.width >= 0.0 && both.height >= 0.0).then_some(both)
    }

    /// Larger by `by` millimetres on each side.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self::new(self.x - by, self.y - by, self.width + 2.0 * by, self.height + 2.0 * by)
    }

    /// The lower left corner.
    pub const fn low(&self) -> Point {
        [self.x, self.y]
    }

    /// The upper right corner.
    pub fn high(&self) -> Point {
        [self.x + self.width, self.y + self.height]
    }

    /// The middle.
    pub fn middle(&self) -> Point {
        [self.x + self.width / 2.0, self.y + self.height / 2.0]
    }

    /// Its corners, anticlockwise from the lower left one.
    pub fn corners(&self) -> [Point; 4] {
        let [[left, low], [right, high]] = [self.low(), self.high()];
        [[left, low], [right, low], [right, high], [left, high]]
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    const PLATE: Rect = Rect::new(0.0, 0.0, 200.0, 100.0);

    #[test]
    fn a_plate_with_round_corners_has_the_area_and_the_length_of_its_figure() {
        let plate = Path::round_rect(PLATE, 5.0);
        // Four corners lose 25 − 25π/4 each.
        assert!((plate.area() - (20_000.0 - 100.0 + 25.0 * PI)).abs() < 1e-9);
        assert!((plate.length() - (560.0 + 10.0 * PI)).abs() < 1e-9);
        assert_eq!(plate.vertices.len(), 8);
    }

    #[test]
    fn bounds_reach_as_far_as_arcs_bulge() {
        assert_eq!(circle([3.0, 4.0], 2.0).bounds(), Some(Rect::new(1.0, 2.0, 4.0, 4.0)));
        let bounds = Path::round_rect(PLATE, 5.0).bounds().unwrap();
        assert_eq!(bounds, PLATE);
        let hump = Path {
            vertices: vec![Vertex::round([0.0, 0.0], -180.0), Vertex::straight([10.0, 0.0])],
            closed: false,
        };
        let [_, high] = hump.bounds().unwrap().high();
        assert!((high - 5.0).abs() < 1e-12);
    }

    #[test]
    fn an_arc_begins_and_ends_at_its_corners() {
        let path = Path {
            vertices: vec![Vertex::round([1.0, 2.0], 250.0), Vertex::straight([-4.0, 7.0])],
            closed: false,
        };
        let Some(Piece::Round(arc)) = path.pieces().next() else {
            panic!("an arc");
        };
        for (share, end) in [(0.0, [1.0, 2.0]), (1.0, [-4.0, 7.0])] {
            assert!(distance(arc.at(share), end) < 1e-12);
        }
        assert!((arc.turn.to_degrees() - 250.0).abs() < 1e-9);
    }

    #[test]
    fn a_clockwise_path_has_a_negative_area() {
        let mut corners = PLATE.corners();
        corners.reverse();
        assert!((Path::through(corners, true).area() + 20_000.0).abs() < 1e-9);
    }
}
