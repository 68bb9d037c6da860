//! Distances from corners to one point, and the place that fits them.

use nalgebra::{DMatrix, DVector, Matrix3, SMatrix, Vector3};

use super::FromCorner;
use crate::inside::Cavity;
use crate::survey::least_squares::{Misfits, fit};

/// Below that share of the firmest, the place is not held in a direction: half a millimetre off the plane of corners half
/// a metre away.
const FLAT: f64 = 1e-3;

/// A reading less checked than that is not checked.
const NO_CHECK: f64 = 1e-6;

/// Readings, and the corners that they are from.
pub(super) struct Distances {
    from: Vec<Vector3<f64>>,
    values: Vec<f64>,
    sigmas: Vec<f64>,
    /// Covariance of the coordinates of all corners in the axes of the cavity.
    corners: SMatrix<f64, 24, 24>,
    /// The corner of each reading.
    numbers: Vec<usize>,
}

impl Misfits for Distances {
    fn count(&self) -> usize {
        self.values.len()
    }

    fn at(&self, unknowns: &[f64], misfits: &mut [f64], slopes: &mut [f64]) {
        let place = Vector3::from_column_slice(unknowns);
        for (n, row) in slopes.chunks_mut(3).enumerate() {
            let way = place - self.from[n];
            misfits[n] = (way.norm() - self.values[n]) / self.sigmas[n];
            // At the corner itself no way is the way.
            let unit = way.try_normalize(0.0).unwrap_or_default();
            row.copy_from_slice((unit / self.sigmas[n]).as_slice());
        }
    }
}

impl Distances {
    pub(super) fn new(cavity: &Cavity, readings: &[FromCorner]) -> Self {
        let corners = cavity.corners();
        let covariance = cavity.corner_covariance();
        Self {
            from: readings.iter().map(|r| corners[r.corner.index()].into()).collect(),
            values: readings.iter().map(|r| r.value.as_mm()).collect(),
            sigmas: readings.iter().map(|r| r.sigma.as_mm()).collect(),
            corners: SMatrix::from_fn(|a, b| covariance[a][b]),
            numbers: readings.iter().map(|r| r.corner.index()).collect(),
        }
    }

    /// The middle of the corners.
    pub(super) fn middle(&self) -> Vector3<f64> {
        let sum: Vector3<f64> = self.from.iter().sum();
        sum / DVector::from_element(self.from.len(), 1.0).sum()
    }

    /// The direction that the corners spread least in; `None` when they are in one line.
    pub(super) fn normal(&self) -> Option<Vector3<f64>> {
        let middle = self.middle();
        let ways: Vec<Vector3<f64>> = self.from.iter().map(|from| from - middle).collect();
        let spread: Matrix3<f64> = ways.iter().map(|way| way * way.transpose()).sum();
        let svd = spread.svd(false, true);
        let normal = svd.v_t?.row(2).transpose();
        // These are squares of lengths.
        (svd.singular_values[1] > 1e-12 * svd.singular_values[0]).then_some(normal)
    }

    /// The place that fits best, sought from `start`, and the sum of the squares of its misfits.
    pub(super) fn sought(&self, start: Vector3<f64>) -> Option<(Vector3<f64>, f64)> {
        let found = fit(self, start.as_slice())?;
        Some((Vector3::from_column_slice(&found.unknowns), found.sum_of_squares))
    }

    /// What can be said about a place that fits.
    pub(super) fn fitted(&self, at: Vector3<f64>) -> Fitted {
        let count = self.count();
        let (mut misfits, mut slopes) = (vec![0.0; count], vec![0.0; 3 * count]);
        self.at(at.as_slice(), &mut misfits, &mut slopes);
        let slopes = DMatrix::from_row_slice(count, 3, &slopes);
        let sigmas = DVector::from_column_slice(&self.sigmas);
        let ways = DMatrix::from_fn(count, 3, |n, axis| slopes[(n, axis)] * sigmas[n]);
        let firm = ways.singular_values();
        let flat = firm.min() < FLAT * firm.max();

        // The readings' own variances are one; a distance changes by the way back when its corner moves.
        let by_corners = DMatrix::from_fn(count, 24, |n, c| {
            let own = c / 3 == self.numbers[n];
            if own { -slopes[(n, c % 3)] } else { 0.0 }
        });
        let noise = DMatrix::identity(count, count) + &by_corners * self.corners * by_corners.transpose();
        let svd = slopes.svd(true, true);
        let (u, v_t) = (svd.u.expect("was asked for"), svd.v_t.expect("was asked for"));
        let held = if flat { 2 } else { 3 };
        let (u, v) = (u.columns(0, held), v_t.rows(0, held).transpose());
        let inverse = DMatrix::from_diagonal(&svd.singular_values.rows(0, held).map(|value| 1.0 / value));
        let follow = v * inverse * u.transpose();
        let rest = DMatrix::identity(count, count) - u * u.transpose();
        let residuals = &rest * &noise * &rest;
        let covariance = &follow * noise * follow.transpose();
        let checked = |n: usize| rest[(n, n)] >= NO_CHECK;
        Fitted {
            at,
            standardised: (0..count)
                .map(|n| {
                    if checked(n) {
                        misfits[n] / residuals[(n, n)].sqrt()
                    } else {
                        0.0
                    }
                })
                .collect(),
            misfits,
            covariance: Matrix3::from_fn(|i, j| covariance[(i, j)]),
            flat,
        }
    }
}

/// The place that fits best from some start.
pub(super) struct Fitted {
    pub(super) at: Vector3<f64>,
    pub(super) covariance: Matrix3<f64>,
    /// Whether a direction is left open.
    pub(super) flat: bool,
    misfits: Vec<f64>,
    standardised: Vec<f64>,
}

impl Fitted {
    /// The reading that disagrees most, and by how many of its sigmas.
    pub(super) fn worst(&self) -> (usize, f64) {
        let sizes = self.standardised.iter().map(|w| w.abs()).enumerate();
        sizes.fold((0, 0.0), |worst, next| if next.1 > worst.1 { next } else { worst })
    }

    /// The sum of the squares of the misfits.
    pub(super) fn squares(&self) -> f64 {
        self.misfits.iter().map(|misfit| misfit * misfit).sum()
    }

    /// How far a reading is from what it would be here, in mm.
    pub(super) fn off_mm(&self, distances: &Distances, reading: usize) -> f64 {
        (self.misfits[reading] * distances.sigmas[reading]).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from(places: &[[f64; 3]]) -> Distances {
        Distances {
            from: places.iter().map(|&place| place.into()).collect(),
            values: vec![1.0; places.len()],
            sigmas: vec![1.0; places.len()],
            corners: SMatrix::zeros(),
            numbers: vec![0; places.len()],
        }
    }

    #[test]
    fn corners_in_a_line_have_no_plane() {
        assert_eq!(from(&[[0.0; 3], [1.0, 2.0, 3.0], [2.5, 5.0, 7.5]]).normal(), None);
        let normal = from(&[[5.0, 0.0, 0.0], [5.0, 2.0, 0.0], [5.0, 0.0, 7.0]])
            .normal()
            .unwrap();
        assert!((normal.x.abs() - 1.0).abs() < 1e-12, "{normal}");
    }
}
