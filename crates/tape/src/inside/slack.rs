//! The room of a cuboid between two opposite walls, and the chance that it goes in.

use super::cavity::Cavity;
use super::chance::above;
use super::clearance::smallest;
use super::rounding::{self, Space};
use super::shape::COORDINATES;
use super::side::Side;
use crate::Length;

/// What a cuboid has to spare along an axis, on both sides together.
#[derive(Clone, Debug, PartialEq)]
pub struct Slack {
    /// The sum of the smallest distances from the two opposite walls; below zero by as much as the cuboid does not go
    /// between them. Rounded down.
    pub distance: Length,
    /// The standard uncertainty of that sum, by the whole covariance, rounded up.
    pub sigma: Length,
    /// How the sum changes with each coordinate of the cavity's corners in the axes of the survey, a ratio; in the order
    /// of [`Clearance::gradient`](super::Clearance::gradient).
    pub gradient: [f64; COORDINATES],
}

impl Cavity {
    /// What a cuboid has to spare along `axis` (0 for x, 1 for y, 2 for z): what one wall takes, the other may give.
    ///
    /// It does not depend on the [`Hold`](super::Hold): where walls are not parallel, it matters a little how the cuboid
    /// moves with the cavity, and it is taken to move with the middle of the eight corners.
    ///
    /// # Panics
    ///
    /// When there is no such axis.
    pub fn slack(&self, space: &Space, axis: usize) -> Slack {
        let vertices = self.vertices(space);
        let (mut distance, mut gradient) = (0.0, [0.0; COORDINATES]);
        for side in [Side::ALL[2 * axis], Side::ALL[2 * axis + 1]] {
            let (number, vertex) = smallest(self, &vertices, side);
            let wall = &self.walls[number];
            distance += wall.distance(vertices[vertex]);
            let own = wall.gradient(vertices[vertex]);
            for (n, sum) in gradient.iter_mut().enumerate() {
                let shift: f64 = wall.normal.iter().zip(self.to_middle[n]).map(|(n, by)| n * by).sum();
                *sum += own[n] + shift;
            }
        }
        Slack {
            distance: rounding::distance(distance * self.scale),
            sigma: rounding::uncertainty(self.sigma_by(&gradient) * self.scale),
            gradient,
        }
    }
    /// The chance that a cuboid of about this place goes in, moved about as it takes: the product over the three axes of
    /// the chance that its [`Cavity::slack`] is not below zero.
    ///
    /// `build`: the standard uncertainty of the cuboid's own length, width and height; zero for one that is measured.
    ///
    /// A little less than the truth: where several corners of a wall are nearly the nearest, the slack that a survey
    /// finds is more often too small than too large. [`Placed::sigma`](super::Placed::sigma) alone tells the chance of
    /// one tight axis; where several are tight it says too much.
    pub fn goes_in(&self, space: &Space, build: [Length; 3]) -> f64 {
        let each = build.iter().enumerate().map(|(axis, build)| {
            let Slack { distance, sigma, .. } = self.slack(space, axis);
            let sigma = sigma.as_mm().hypot(build.as_mm());
            match distance {
                distance if sigma > 0.0 => above(-distance.as_mm() / sigma),
                distance => f64::from(u8::from(!distance.is_negative())),
            }
        });
        each.product()
    }
}
