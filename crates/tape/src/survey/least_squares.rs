//! Nonlinear least squares: the unknowns for which weighted misfits have the smallest sum of squares.
//!
//! Levenberg-Marquardt, each step by Householder QR of the slopes with the damping rows below them, so that the
//! condition number is not squared as it is in normal equations. Source: K. Levenberg (1944), D. Marquardt (1963), and
//! J. More, The Levenberg-Marquardt algorithm: implementation and theory (1978), for the scaling by columns; known by:
//! memory. Checked against certified regressions.

use nalgebra::{DMatrix, DVector};

/// Misfits that follow from unknowns.
pub trait Misfits {
    /// How many misfits there are.
    fn count(&self) -> usize;

    /// Puts the misfits at `unknowns` into `misfits`, and into `slopes` how each changes with each unknown, misfit by
    /// misfit. Misfits that cannot be had there may be set to NaN.
    fn at(&self, unknowns: &[f64], misfits: &mut [f64], slopes: &mut [f64]);
}

/// The best unknowns.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The unknowns.
    pub unknowns: Vec<f64>,
    /// The misfits there.
    pub misfits: Vec<f64>,
    /// Slopes of the misfits there, misfit by misfit.
    pub slopes: Vec<f64>,
    /// The sum of the squares of the misfits.
    pub sum_of_squares: f64,
    /// How many steps it took.
    pub steps: usize,
}

impl Fit {
    /// The cofactors of the unknowns, row by row: their covariance when misfits have a variance of 1. `None` when the
    /// misfits do not determine the unknowns.
    pub fn cofactors(&self) -> Option<Vec<Vec<f64>>> {
        let columns = self.unknowns.len();
        if self.misfits.len() < columns {
            return None;
        }
        let slopes = DMatrix::from_row_slice(self.misfits.len(), columns, &self.slopes);
        let upper = slopes.qr().unpack_r();
        let inverse = upper.solve_upper_triangular(&DMatrix::identity(columns, columns))?;
        let cofactors = &inverse * inverse.transpose();
        Some(cofactors.row_iter().map(|row| row.iter().copied().collect()).collect())
    }
}

/// The smallest step, as a share of the unknowns, that still counts.
const STILL: f64 = 1e-12;
/// As many steps as nothing sensible tries.
pub(super) const MOST_TRIES: usize = 1600;

/// Returns the unknowns with the least sum of squares, from a start near them; `None` when it does not settle or the
/// misfits cannot be had at the start.
pub fn fit(model: &impl Misfits, start: &[f64]) -> Option<Fit> {
    let reached = fit_within(model, start, &mut { MOST_TRIES })?;
    reached.settled.then_some(reached.fit)
}

/// How far a fit came.
pub(super) struct Reached {
    pub(super) fit: Fit,
    /// Whether it is the best, and not just as far as the tries lasted.
    pub(super) settled: bool,
}

/// As [`fit`], with as many `tries` of a step as are left; those made are taken off. What takes more stays on its way.
pub(super) fn fit_within(model: &impl Misfits, start: &[f64], tries: &mut usize) -> Option<Reached> {
    let (rows, columns) = (model.count(), start.len());
    let at = |unknowns: &DVector<f64>| Place::of(model, unknowns.as_slice(), rows);
    let mut unknowns = DVector::from_column_slice(start);
    let mut here = at(&unknowns);
    if !here.cost.is_finite() {
        return None;
    }
    let mut scale = DVector::from_element(columns, 0.0_f64);
    let mut damping = 1e-4;
    for steps in 0.. {
        for (scale, column) in scale.iter_mut().zip(here.slopes.column_iter()) {
            *scale = scale.max(column.norm());
        }
        let scale = scale.map(|s| if s > 0.0 { s } else { 1.0 });
        let size = unknowns.component_mul(&scale).norm();
        // Steps are tried with more and more damping until one leads down.
        loop {
            if *tries == 0 {
                return Some(here.reached(unknowns, steps, false));
            }
            *tries -= 1;
            let found = step(&here, &scale, damping);
            let length = found.as_ref().map_or(f64::INFINITY, |s| s.component_mul(&scale).norm());
            if length <= STILL * (size + STILL) {
                return Some(here.reached(unknowns, steps, true));
            }
            if let Some(step) = found {
                let next = &unknowns + step;
                let there = at(&next);
                if there.cost < here.cost {
                    (unknowns, here) = (next, there);
                    damping *= 0.1;
                    break;
                }
                // As good as equal, and hardly any way to go: what is left is rounding.
                if length <= STILL.sqrt() * size && there.cost <= here.cost * (1.0 + 1e-9) + f64::MIN_POSITIVE {
                    return Some(here.reached(unknowns, steps, true));
                }
            }
            damping = (damping * 10.0).max(1e-12);
            if damping > 1e16 {
                return None;
            }
        }
    }
    unreachable!("the last try returns")
}

/// Misfits and slopes at some unknowns.
struct Place {
    misfits: DVector<f64>,
    slopes: DMatrix<f64>,
    cost: f64,
}

impl Place {
    fn of(model: &impl Misfits, unknowns: &[f64], rows: usize) -> Self {
        let mut misfits = vec![0.0; rows];
        let mut slopes = vec![0.0; rows * unknowns.len()];
        model.at(unknowns, &mut misfits, &mut slopes);
        let sound = slopes.iter().all(|slope| slope.is_finite());
        let misfits = DVector::from_vec(misfits);
        let cost = misfits.norm_squared();
        Self {
            slopes: DMatrix::from_row_slice(rows, unknowns.len(), &slopes),
            cost: if sound && cost.is_finite() { cost } else { f64::INFINITY },
            misfits,
        }
    }

    fn reached(self, unknowns: DVector<f64>, steps: usize, settled: bool) -> Reached {
        let fit = Fit {
            unknowns: unknowns.data.into(),
            misfits: self.misfits.data.into(),
            slopes: self.slopes.transpose().data.into(),
            sum_of_squares: self.cost,
            steps,
        };
        Reached { fit, settled }
    }
}

/// The step that a damped linear model proposes; `None` when even so it is not determined.
fn step(here: &Place, scale: &DVector<f64>, damping: f64) -> Option<DVector<f64>> {
    let (rows, columns) = here.slopes.shape();
    let mut stacked = DMatrix::zeros(rows + columns, columns);
    stacked.rows_mut(0, rows).copy_from(&here.slopes);
    for column in 0..columns {
        stacked[(rows + column, column)] = damping.sqrt() * scale[column];
    }
    let mut goal = DVector::zeros(rows + columns);
    goal.rows_mut(0, rows).copy_from(&-&here.misfits);
    let qr = stacked.qr();
    qr.q_tr_mul(&mut goal);
    let step = qr
        .unpack_r()
        .solve_upper_triangular(&goal.rows(0, columns).into_owned())?;
    step.iter().all(|part| part.is_finite()).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rosenbrock's curved valley, from its usual start.
    struct Valley;

    impl Misfits for Valley {
        fn count(&self) -> usize {
            2
        }

        fn at(&self, unknowns: &[f64], misfits: &mut [f64], slopes: &mut [f64]) {
            let [x, y] = [unknowns[0], unknowns[1]];
            misfits.copy_from_slice(&[10.0 * (y - x * x), 1.0 - x]);
            slopes.copy_from_slice(&[-20.0 * x, 10.0, -1.0, 0.0]);
        }
    }

    #[test]
    fn the_bottom_of_a_curved_valley_is_found() {
        let fit = fit(&Valley, &[-1.2, 1.0]).unwrap();
        assert!(fit.unknowns.iter().all(|x| (x - 1.0).abs() < 1e-9), "{fit:?}");
        assert!(fit.sum_of_squares < 1e-18);
    }

    #[test]
    fn a_start_without_misfits_is_no_start() {
        assert_eq!(fit(&Valley, &[f64::NAN, 1.0]), None);
    }
}
