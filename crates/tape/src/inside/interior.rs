//! An interior-point method for a few unknowns.
//!
//! Minimises a convex goal under linear bounds from a start strictly inside of them, by primal-dual Newton steps with a
//! predictor and a corrector (Mehrotra 1992, SIAM J. Optim. 2, 575-601; known by: memory). Where the best point can
//! slide, it comes to lie in the middle.

/// What is minimised.
pub(super) trait Goal<const N: usize> {
    /// First and second derivatives at `x`.
    fn derivatives(&self, x: &[f64; N]) -> ([f64; N], [[f64; N]; N]);
    /// How far along `step` the goal is defined.
    fn reach(&self, x: &[f64; N], step: &[f64; N]) -> f64;
}

/// `slope · x` is to be `least` or more.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bound<const N: usize> {
    pub(super) slope: [f64; N],
    pub(super) least: f64,
}

impl<const N: usize> Bound<N> {
    /// How much more than the least there is.
    pub(super) fn slack(&self, x: &[f64; N]) -> f64 {
        product(&self.slope, x) - self.least
    }
}

/// Where the goal is least, and what each bound costs: how much the goal would fall if the bound gave way, by length.
pub(super) struct Best<const N: usize> {
    pub(super) x: [f64; N],
    pub(super) prices: Vec<f64>,
    pub(super) slacks: Vec<f64>,
}

/// Steps until the answer stands; more than twice what was ever needed.
const STEPS: usize = 60;
/// Slack times price at which a bound counts as met, for unknowns of about one.
const ENOUGH: f64 = 1e-15;
/// The share of the way to the nearest bound that a step may go.
const SHORT_OF_BOUND: f64 = 0.995;

/// Minimises `goal` under `bounds` from `start`, which is strictly inside of all of them.
pub(super) fn minimise<const N: usize>(goal: &impl Goal<N>, bounds: &[Bound<N>], start: [f64; N]) -> Best<N> {
    let mut x = start;
    let mut slacks: Vec<f64> = bounds.iter().map(|bound| bound.slack(&x)).collect();
    let mut prices: Vec<f64> = slacks.iter().map(|slack| 0.1 / slack).collect();
    #[expect(clippy::cast_precision_loss, reason = "some dozen bounds")]
    let count = bounds.len() as f64;
    for _ in 0..STEPS {
        let gap = sum_of_products(&slacks, &prices) / count;
        if gap < ENOUGH {
            break;
        }
        let (slope, curvature) = goal.derivatives(&x);
        let Some(factor) = factor(system(curvature, bounds, &slacks, &prices)) else {
            break;
        };
        // The step that would bring slack times price of each bound to `aim`.
        let step = |aim: &dyn Fn(usize) -> f64| {
            let mut right = slope.map(|slope| -slope);
            for (n, bound) in bounds.iter().enumerate() {
                add(&mut right, aim(n) / slacks[n], &bound.slope);
            }
            let dx = solve(&factor, right);
            let ds: Vec<f64> = bounds.iter().map(|bound| product(&bound.slope, &dx)).collect();
            let dy: Vec<f64> = (0..bounds.len())
                .map(|n| (aim(n) - prices[n] * ds[n]) / slacks[n] - prices[n])
                .collect();
            (dx, ds, dy)
        };
        let reach = |dx: &[f64; N], ds: &[f64], dy: &[f64]| {
            let to_bound = way_to_zero(&slacks, ds).min(way_to_zero(&prices, dy));
            (SHORT_OF_BOUND * to_bound.min(goal.reach(&x, dx))).min(1.0)
        };
        let (dx, ds, dy) = step(&|_| 0.0);
        let length = reach(&dx, &ds, &dy);
        let ahead: f64 = (0..bounds.len())
            .map(|n| (slacks[n] + length * ds[n]) * (prices[n] + length * dy[n]))
            .sum();
        let centre = gap * (ahead / count / gap).clamp(0.0, 1.0).powi(3);
        let (dx, ds, dy) = step(&|n| centre - length * length * ds[n] * dy[n]);
        let length = reach(&dx, &ds, &dy);
        add(&mut x, length, &dx);
        for n in 0..bounds.len() {
            prices[n] += length * dy[n];
            slacks[n] += length * ds[n];
        }
    }
    Best { x, prices, slacks }
}

/// The matrix of a step.
pub(super) fn system<const N: usize>(
    mut matrix: [[f64; N]; N],
    bounds: &[Bound<N>],
    slacks: &[f64],
    prices: &[f64],
) -> [[f64; N]; N] {
    for (n, bound) in bounds.iter().enumerate() {
        let weight = prices[n] / slacks[n];
        for (row, slope) in matrix.iter_mut().zip(&bound.slope) {
            add(row, weight * slope, &bound.slope);
        }
    }
    matrix
}

/// The Cholesky factor; `None` where the matrix is not definite.
pub(super) fn factor<const N: usize>(matrix: [[f64; N]; N]) -> Option<[[f64; N]; N]> {
    let mut factor = [[0.0; N]; N];
    for row in 0..N {
        for column in 0..=row {
            let known: f64 = (0..column).map(|n| factor[row][n] * factor[column][n]).sum();
            let rest = matrix[row][column] - known;
            factor[row][column] = if row != column {
                rest / factor[column][column]
            } else if rest > 0.0 && rest.is_finite() {
                rest.sqrt()
            } else {
                return None;
            };
        }
    }
    Some(factor)
}

pub(super) fn solve<const N: usize>(factor: &[[f64; N]; N], mut right: [f64; N]) -> [f64; N] {
    for row in 0..N {
        let known: f64 = (0..row).map(|n| factor[row][n] * right[n]).sum();
        right[row] = (right[row] - known) / factor[row][row];
    }
    for row in (0..N).rev() {
        let known: f64 = (row + 1..N).map(|n| factor[n][row] * right[n]).sum();
        right[row] = (right[row] - known) / factor[row][row];
    }
    right
}

/// How many steps it takes until one of `values` is zero.
fn way_to_zero(values: &[f64], step: &[f64]) -> f64 {
    let falling = values.iter().zip(step).filter(|(_, step)| **step < 0.0);
    falling.map(|(value, step)| -value / step).fold(f64::INFINITY, f64::min)
}

fn sum_of_products(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn product<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    sum_of_products(a, b)
}

pub(super) fn add<const N: usize>(sum: &mut [f64; N], weight: f64, part: &[f64; N]) {
    for (sum, part) in sum.iter_mut().zip(part) {
        *sum += weight * part;
    }
}
