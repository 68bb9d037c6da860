//! Adjusting measured values: the best unknowns, how well they are known, and how well each value is checked.
//!
//! Source: least-squares adjustment with inner constraints, as in G. Strang and K. Borre, Linear Algebra, Geodesy, and
//! GPS (1997), chapters 11 to 13; redundancy numbers and standardised residuals after W. Baarda (1968); known by:
//! memory. Checked against published networks.

use nalgebra::{DMatrix, DVector};

use super::least_squares::{MOST_TRIES, Misfits, Reached, fit_within};

/// Measured values that follow from unknowns.
pub(super) trait Measured {
    /// How many values there are.
    fn count(&self) -> usize;

    /// One value and its sigma.
    fn measured(&self, index: usize) -> (f64, f64);

    /// What a value would be at `unknowns`; `slopes` by each unknown are added to zeros.
    fn at(&self, unknowns: &[f64], index: usize, slopes: &mut [f64]) -> f64;

    /// Orthonormal columns: the ways in which all unknowns can move at `unknowns` with no measured value changing.
    fn free(&self, unknowns: &[f64]) -> DMatrix<f64>;
}

/// A redundancy number below it is none: the value has no check at all.
pub(super) const NO_CHECK: f64 = 1e-6;

/// The best unknowns and what can be said about them.
pub(super) struct Solved {
    /// The unknowns, moved as little as possible from the start in the ways that are free.
    pub(super) unknowns: Vec<f64>,
    /// Adjusted less measured.
    pub(super) residuals: Vec<f64>,
    /// Sum of the squares of residuals over sigmas.
    pub(super) weighted_squares: f64,
    /// Covariance of the unknowns with inner constraints: what is free is held still on the whole.
    pub(super) cofactors: DMatrix<f64>,
    /// Row `i` dotted with row `j`: how much the adjusted value `i` follows the measured `j`, both over their sigmas.
    pub(super) follow: DMatrix<f64>,
    /// Whether these are the best unknowns, and not just as far as the tries lasted.
    pub(super) settled: bool,
}

impl Solved {
    /// How much of each value is checked by the others: 0 not at all, 1 fully.
    pub(super) fn redundancy(&self) -> Vec<f64> {
        self.follow
            .row_iter()
            .map(|row| (1.0 - row.norm_squared()).max(0.0))
            .collect()
    }
}

/// Adjusts from a start near the answer; `None` when it does not settle or the values do not determine the unknowns.
pub(super) fn solve(values: &impl Measured, start: &[f64]) -> Option<Solved> {
    solve_within(values, start, &mut { MOST_TRIES }).filter(|solved| solved.settled)
}

/// As [`solve`], with as many `tries` of a step as are left; those made are taken off. What takes more stays on its way.
pub(super) fn solve_within(values: &impl Measured, start: &[f64], tries: &mut usize) -> Option<Solved> {
    let held = Held::new(values, start);
    let Reached { fit, settled } = fit_within(&held, start, tries)?;
    let (unknowns, misfits) = (fit.unknowns, fit.misfits);
    let count = values.count();
    let sigmas = (0..count).map(|i| values.measured(i).1);
    let residuals: Vec<f64> = misfits
        .iter()
        .zip(sigmas)
        .map(|(misfit, sigma)| misfit * sigma)
        .collect();
    let weighted_squares = misfits[..count].iter().map(|misfit| misfit * misfit).sum();
    let (cofactors, follow) = precision(&weighted_slopes(values, &unknowns), &values.free(&unknowns))?;
    Some(Solved {
        unknowns,
        residuals,
        weighted_squares,
        cofactors,
        follow,
        settled,
    })
}

/// Slopes of the values at `unknowns`, value by value, each over its sigma.
pub(super) fn weighted_slopes(values: &impl Measured, unknowns: &[f64]) -> DMatrix<f64> {
    let mut slopes = vec![0.0; values.count() * unknowns.len()];
    for (index, row) in slopes.chunks_mut(unknowns.len()).enumerate() {
        values.at(unknowns, index, row);
        let sigma = values.measured(index).1;
        over(row, sigma);
    }
    DMatrix::from_row_slice(values.count(), unknowns.len(), &slopes)
}

fn over(row: &mut [f64], sigma: f64) {
    for slope in row {
        *slope /= sigma;
    }
}

/// Cofactors of the unknowns with inner constraints, and the rows of [`Solved::follow`].
fn precision(slopes: &DMatrix<f64>, free: &DMatrix<f64>) -> Option<(DMatrix<f64>, DMatrix<f64>)> {
    let (rows, columns) = slopes.shape();
    let ways = free.ncols();
    // Rows that hold what is free, as strong as the others, make the whole of full rank and change nothing else.
    let strength = slopes.column_iter().map(|c| c.norm()).fold(0.0, f64::max);
    let mut held = DMatrix::zeros((rows + ways).max(columns), columns);
    held.rows_mut(0, rows).copy_from(slopes);
    held.rows_mut(rows, ways).copy_from(&(free.transpose() * strength));
    let upper = held.qr().unpack_r();
    let inverse = upper.solve_upper_triangular(&DMatrix::identity(columns, columns))?;
    let cofactors = &inverse * inverse.transpose() - free * free.transpose() / (strength * strength);
    let follow = slopes * &inverse;
    let sound = cofactors.iter().chain(follow.iter()).all(|part| part.is_finite());
    sound.then_some((cofactors, follow))
}

/// The values over their sigmas, with rows below that hold what is free in the start where it is.
struct Held<'a, M> {
    values: &'a M,
    start: DVector<f64>,
    free: DMatrix<f64>,
}

impl<'a, M: Measured> Held<'a, M> {
    fn new(values: &'a M, start: &[f64]) -> Self {
        let sigmas = (0..values.count()).map(|i| values.measured(i).1);
        let least = sigmas.fold(f64::INFINITY, f64::min);
        Self {
            values,
            start: DVector::from_column_slice(start),
            free: values.free(start) / least,
        }
    }
}

impl<M: Measured> Misfits for Held<'_, M> {
    fn count(&self) -> usize {
        self.values.count() + self.free.ncols()
    }

    fn at(&self, unknowns: &[f64], misfits: &mut [f64], slopes: &mut [f64]) {
        let columns = unknowns.len();
        let count = self.values.count();
        for (index, row) in slopes.chunks_mut(columns).enumerate().take(count) {
            let (measured, sigma) = self.values.measured(index);
            let value = self.values.at(unknowns, index, row);
            misfits[index] = (value - measured) / sigma;
            over(row, sigma);
        }
        let moved = DVector::from_column_slice(unknowns) - &self.start;
        for (way, column) in self.free.column_iter().enumerate() {
            misfits[count + way] = column.dot(&moved);
            let row = &mut slopes[(count + way) * columns..][..columns];
            row.iter_mut()
                .zip(column.iter())
                .for_each(|(slope, part)| *slope = *part);
        }
    }
}

/// Orthonormal ways in which points, told coordinate by coordinate, move as one body: shifts and turns.
pub(super) fn rigid(points: &[f64], dimension: usize) -> DMatrix<f64> {
    let count = points.len() / dimension;
    let centre: Vec<f64> = (0..dimension)
        .map(|i| {
            let along = points.iter().skip(i).step_by(dimension);
            along.sum::<f64>() / f64::from(u32::try_from(count).unwrap_or(u32::MAX))
        })
        .collect();
    let turns: &[(usize, usize)] = if dimension == 2 {
        &[(0, 1)]
    } else {
        &[(1, 2), (2, 0), (0, 1)]
    };
    let mut ways = DMatrix::zeros(points.len(), dimension + turns.len());
    for (point, place) in points.chunks(dimension).enumerate() {
        for axis in 0..dimension {
            ways[(point * dimension + axis, axis)] = 1.0;
        }
        for (turn, &(from, to)) in turns.iter().enumerate() {
            ways[(point * dimension + from, dimension + turn)] = centre[to] - place[to];
            ways[(point * dimension + to, dimension + turn)] = place[from] - centre[from];
        }
    }
    let size = ways.norm();
    for column in dimension..ways.ncols() {
        // In one line there is no turn about it; its column is zero and is held as such.
        let norm = ways.column(column).norm();
        if norm > 1e-12 * size {
            ways.column_mut(column).unscale_mut(norm);
        }
    }
    ways.qr().q()
}
