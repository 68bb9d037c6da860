//! The walls of a cavity: planes that no skin between the corners reaches inside of.

use std::ops::Range;

use super::frame::{Frame, Hold};
use super::jet::{Jet, Vector, between, cross, dot, unit};
use super::shape::COORDINATES;
use super::side::Side;

/// The distance of a point from a wall is linear in these four: one, and the way from the wall's corner to the point.
pub(super) type Way = [f64; 4];

/// A plane through one diagonal of a face, in the axes of the cavity.
#[derive(Clone, Debug)]
pub(super) struct Wall {
    pub(super) side: Side,
    /// The two corners that lie in it.
    pub(super) diagonal: [usize; 2],
    /// Where the first of them is.
    pub(super) at: [f64; 3],
    /// Square to it, inward, of length one.
    pub(super) normal: [f64; 3],
    /// For each coordinate of the corners: how the distance of a point changes with it, by the [`Way`] to the point.
    pub(super) derivatives: [Way; COORDINATES],
    /// The covariance of the wall, by the [`Way`]; from the corners together.
    pub(super) covariance: Form,
}

/// A 4 x 4 covariance.
pub(super) type Form = [Way; 4];

impl Wall {
    /// The way from the wall's corner to a point.
    pub(super) fn way(&self, point: [f64; 3]) -> Way {
        let [x, y, z] = self.at;
        [1.0, point[0] - x, point[1] - y, point[2] - z]
    }

    /// How far inside of the wall a point is.
    pub(super) fn distance(&self, point: [f64; 3]) -> f64 {
        let [_, x, y, z] = self.way(point);
        self.normal[0] * x + self.normal[1] * y + self.normal[2] * z
    }

    /// The standard uncertainty of that distance.
    pub(super) fn sigma(&self, point: [f64; 3]) -> f64 {
        let way = self.way(point);
        product(&times(&self.covariance, &way), &way).max(0.0).sqrt()
    }

    /// The covariance that some of the coordinates make, by theirs.
    pub(super) fn form(&self, covariance: &[[f64; COORDINATES]; COORDINATES], coordinates: Range<usize>) -> Form {
        let mut form = Form::default();
        for a in coordinates.clone() {
            let mut spread = Way::default();
            for b in coordinates.clone() {
                add(&mut spread, covariance[a][b], &self.derivatives[b]);
            }
            for (row, slope) in form.iter_mut().zip(&self.derivatives[a]) {
                add(row, *slope, &spread);
            }
        }
        form
    }

    /// How that distance changes with each coordinate of the corners, the point staying where it is in the axes.
    pub(super) fn gradient(&self, point: [f64; 3]) -> [f64; COORDINATES] {
        let way = self.way(point);
        self.derivatives.map(|by_way| product(&by_way, &way))
    }
}

/// The two walls of each side, one through each diagonal.
pub(super) fn walls(
    corners: &[[f64; 3]; 8],
    covariance: &[[f64; COORDINATES]; COORDINATES],
    frame: Frame,
) -> Vec<Wall> {
    let mut walls = walls_without_covariance(corners, frame);
    for wall in &mut walls {
        wall.covariance = wall.form(covariance, 0..COORDINATES);
    }
    walls
}

fn walls_without_covariance(corners: &[[f64; 3]; 8], frame: Frame) -> Vec<Wall> {
    let mut walls: Vec<Wall> = Vec::with_capacity(12);
    for moved in 0..8 {
        let found = planes(&varying(corners, moved), frame);
        if walls.is_empty() {
            walls = found.iter().map(Plane::still).collect();
        }
        for (wall, plane) in walls.iter_mut().zip(&found) {
            for axis in 0..3 {
                wall.derivatives[3 * moved + axis] = plane.derivative(axis);
            }
        }
    }
    walls
}

/// A wall while one corner can move.
struct Plane {
    side: Side,
    diagonal: [usize; 2],
    at: Vector,
    normal: Vector,
}

fn planes(corners: &[Vector; 8], frame: Frame) -> Vec<Plane> {
    let directions = frame.directions(corners);
    let held = frame.held(corners);
    let in_axes = |vector: Vector| -> Vector { directions.map(|direction| dot(direction, vector)) };
    // Where it is held changes how a place depends on the corners, not where it is.
    let origin = corners[frame.origin()];
    let shift = in_axes(between(origin, held)).map(|jet| Jet::fixed(jet.value));
    let of_side = |side: Side| {
        let ring = side.corners();
        let diagonals = [[ring[0], ring[2]], [ring[1], ring[3]]];
        let [one, other] = diagonals.map(|[from, to]| between(corners[from], corners[to]));
        let normal = in_axes(unit(cross(one, other)));
        diagonals.map(|diagonal| {
            let from_held = in_axes(between(held, corners[diagonal[0]]));
            Plane {
                side,
                diagonal,
                at: std::array::from_fn(|axis| from_held[axis] + shift[axis]),
                normal,
            }
        })
    };
    Side::ALL.into_iter().flat_map(of_side).collect()
}

impl Plane {
    fn still(&self) -> Wall {
        Wall {
            side: self.side,
            diagonal: self.diagonal,
            at: self.at.map(|jet| jet.value),
            normal: self.normal.map(|jet| jet.value),
            derivatives: [Way::default(); COORDINATES],
            covariance: Form::default(),
        }
    }

    /// Of `normal · (point - at)`, the point staying: at the wall's corner `-normal · at'`, elsewhere `normal'` counts.
    fn derivative(&self, axis: usize) -> Way {
        let shift: f64 = self
            .normal
            .iter()
            .zip(&self.at)
            .map(|(n, at)| n.value * at.slope[axis])
            .sum();
        let [x, y, z] = self.normal.map(|jet| jet.slope[axis]);
        [-shift, x, y, z]
    }
}

/// For each coordinate of the corners: how the way from the point that the cuboid is held by to the middle of all corners
/// changes with it, in the axes of the cavity.
pub(super) fn to_middle(corners: &[[f64; 3]; 8], frame: Frame) -> [[f64; 3]; COORDINATES] {
    let middle = Frame {
        hold: Hold::Middle,
        ..frame
    };
    let mut changes = [[0.0; 3]; COORDINATES];
    for moved in 0..8 {
        let corners = varying(corners, moved);
        let way = between(frame.held(&corners), middle.held(&corners));
        let in_axes = frame.directions(&corners).map(|direction| dot(direction, way));
        for axis in 0..3 {
            changes[3 * moved + axis] = in_axes.map(|jet| jet.slope[axis]);
        }
    }
    changes
}

/// For each coordinate of the corners in the axes of the cavity: how it changes with the coordinates in those of the
/// survey, seen from the point that a cuboid is held by.
pub(super) fn corner_slopes(corners: &[[f64; 3]; 8], frame: Frame) -> Vec<[f64; COORDINATES]> {
    let mut slopes = vec![[0.0; COORDINATES]; COORDINATES];
    for moved in 0..8 {
        let corners = varying(corners, moved);
        let directions = frame.directions(&corners);
        let held = frame.held(&corners);
        for (n, corner) in corners.iter().enumerate() {
            let way = between(held, *corner);
            for (axis, direction) in directions.iter().enumerate() {
                slopes[3 * n + axis][3 * moved..3 * moved + 3].copy_from_slice(&dot(*direction, way).slope);
            }
        }
    }
    slopes
}

/// The corners, one of which can move.
fn varying(corners: &[[f64; 3]; 8], moved: usize) -> [Vector; 8] {
    std::array::from_fn(|corner| {
        std::array::from_fn(|axis| {
            let value = corners[corner][axis];
            if corner == moved {
                Jet::coordinate(value, axis)
            } else {
                Jet::fixed(value)
            }
        })
    })
}

/// A covariance times a way.
pub(super) fn times(form: &Form, way: &Way) -> Way {
    form.map(|row| product(&row, way))
}

/// The scalar product.
pub(super) fn product(a: &Way, b: &Way) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn add(sum: &mut Way, weight: f64, part: &Way) {
    for (sum, part) in sum.iter_mut().zip(part) {
        *sum += weight * part;
    }
}
