//! How the sizes of the largest cuboid follow the corners.

use super::cavity::Cavity;
use super::cuts::{Answer, Question, Touch};
use super::interior::{Goal, add, factor, solve, system};
use super::keep_back::Guard;
use super::largest::Volume;
use super::shape::COORDINATES;

/// A slack that counts as none: the matrix below stays one that floats can solve.
const NONE: f64 = 1e-7;
/// A hold, as a share of the whole matrix, on where the cuboid slides to: it does not matter, and nothing else says.
const HOLD: f64 = 1e-12;

/// The standard uncertainties of length, width and height, in the units of the cavity.
///
/// The conditions that the largest cuboid meets (no gain left; slack times price of each bound is nothing) are
/// differentiated, and solved for how its ends move with each coordinate of the corners. What is kept back is taken as
/// it is.
pub(super) fn sigmas(cavity: &Cavity, guards: &[Guard<'_>], found: &Answer<6>) -> [f64; 3] {
    let slacks: Vec<f64> = found.touches.iter().map(|touch| touch.slack.max(NONE)).collect();
    let prices: Vec<f64> = found.touches.iter().map(|touch| touch.price).collect();
    let (_, curvature) = Volume.derivatives(&found.x);
    let mut matrix = system(curvature, &found.bounds, &slacks, &prices);
    let whole: f64 = (0..6).map(|n| matrix[n][n]).sum();
    (0..6).for_each(|n| matrix[n][n] += HOLD * whole);
    let Some(factor) = factor(matrix) else {
        return [f64::INFINITY; 3];
    };
    let gradients: Vec<[f64; COORDINATES]> = found
        .touches
        .iter()
        .map(|touch| guards[touch.guard].wall.gradient(Volume.vertex(&found.x, touch.vertex)))
        .collect();
    let mut by_coordinate = [[0.0; COORDINATES]; 3];
    for coordinate in 0..COORDINATES {
        let mut right = [0.0; 6];
        for (n, touch) in found.touches.iter().enumerate() {
            let nearer = gradients[n][coordinate] * prices[n] / slacks[n];
            add(&mut right, -nearer, &found.bounds[n].slope);
            add(&mut right, prices[n], &turned(guards, touch, coordinate));
        }
        let ends = solve(&factor, right);
        for (axis, size) in by_coordinate.iter_mut().enumerate() {
            size[coordinate] = ends[axis + 3] - ends[axis];
        }
    }
    by_coordinate.map(|size| cavity.sigma_by(&size))
}

/// How the slope of a bound changes as the wall turns with a coordinate.
fn turned(guards: &[Guard<'_>], touch: &Touch, coordinate: usize) -> [f64; 6] {
    let [_, x, y, z] = guards[touch.guard].wall.derivatives[coordinate];
    Volume::slope([x, y, z], touch.vertex)
}
