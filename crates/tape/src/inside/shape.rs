//! The adjusted shape that a survey yields.

use super::NoCuboid;

/// Coordinates of eight corners.
pub(super) const COORDINATES: usize = 24;

/// The corners of a cavity and how well they are known together.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    corners: [[f64; 3]; 8],
    /// 24 x 24, row after row; coordinate `axis` of corner `n` is number `3·n + axis`.
    covariance: Vec<f64>,
}

impl Shape {
    /// A shape from its corners and their covariance.
    ///
    /// - `corners`, in mm, in any axes: four round the floor, anticlockwise as seen from above, from the front left, and
    ///   the four over them in the same order ([`corner_name`](super::corner_name)).
    /// - `covariance`, in mm², 24 x 24, row after row; coordinate `axis` of corner `n` is number `3·n + axis`. It may be
    ///   of any datum.
    ///
    /// # Errors
    ///
    /// [`NoCuboid::NotAPlace`] or [`NoCuboid::NotACovariance`].
    pub fn new(corners: [[f64; 3]; 8], covariance: &[f64]) -> Result<Self, NoCuboid> {
        // Beyond that, squares and their products leave the range of a float.
        let is_place = |corner: &[f64; 3]| corner.iter().all(|mm| mm.abs() < 1e60);
        if let Some(corner) = corners.iter().position(|corner| !is_place(corner)) {
            return Err(NoCuboid::NotAPlace { corner });
        }
        let numbers = covariance.len() == COORDINATES * COORDINATES && covariance.iter().all(|mm2| mm2.abs() < 1e120);
        if !numbers || (0..COORDINATES).any(|n| covariance[n * COORDINATES + n] < 0.0) {
            return Err(NoCuboid::NotACovariance);
        }
        let covariance = covariance.to_vec();
        Ok(Self { corners, covariance })
    }

    /// A shape whose corners are known exactly.
    ///
    /// # Errors
    ///
    /// [`NoCuboid::NotAPlace`].
    pub fn exact(corners: [[f64; 3]; 8]) -> Result<Self, NoCuboid> {
        Self::new(corners, &[0.0; COORDINATES * COORDINATES])
    }

    /// The corners, in mm.
    pub fn corners(&self) -> &[[f64; 3]; 8] {
        &self.corners
    }

    /// The covariance of coordinates `a` and `b`, in mm².
    pub(super) fn covariance(&self, a: usize, b: usize) -> f64 {
        self.covariance[a * COORDINATES + b]
    }

    /// The largest difference of a coordinate between two corners, in mm.
    pub(super) fn extent(&self) -> f64 {
        let span = |axis: usize| {
            let of = self.corners.iter().map(move |corner| corner[axis]);
            of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
        };
        span(0).max(span(1)).max(span(2))
    }

    /// What the three edges at each corner span, six times the volume of a tetrahedron: above zero where they open to
    /// the inside; in mm³.
    pub(super) fn openings(&self) -> [f64; 8] {
        std::array::from_fn(|corner| {
            let level = corner / 4 * 4;
            let next = level + (corner + 1) % 4;
            let last = level + (corner + 3) % 4;
            let (up, sign) = if level == 0 {
                (corner + 4, 1.0)
            } else {
                (corner - 4, -1.0)
            };
            let edge = |to: usize| -> [f64; 3] {
                std::array::from_fn(|axis| self.corners[to][axis] - self.corners[corner][axis])
            };
            let (along, back, up) = (edge(next), edge(last), edge(up));
            let minor = |one: usize, two: usize| back[one] * up[two] - back[two] * up[one];
            sign * (along[0] * minor(1, 2) + along[1] * minor(2, 0) + along[2] * minor(0, 1))
        })
    }
}
