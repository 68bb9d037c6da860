//! The places of the corners in the axes of a cavity, and how well they are known.

use super::cavity::Cavity;
use super::shape::COORDINATES;
use super::wall;

impl Cavity {
    /// The covariance of the corners' coordinates in the axes of the cavity, in mm²; coordinate `axis` of corner `n` is
    /// number `3·n + axis`. What places are held by is known exactly: with [`Hold::Corner`](super::Hold::Corner) the
    /// corner at the origin.
    pub(crate) fn corner_covariance(&self) -> Vec<[f64; COORDINATES]> {
        let slopes = wall::corner_slopes(&self.surveyed, self.frame());
        let times = |by: &[f64; COORDINATES], slopes: &[f64; COORDINATES]| -> f64 {
            by.iter().zip(slopes).map(|(a, b)| a * b).sum()
        };
        let covariance_with = |of: &[f64; COORDINATES]| {
            let spread: [f64; COORDINATES] = std::array::from_fn(|n| times(&self.covariance[n], of));
            std::array::from_fn(|other| times(&spread, &slopes[other]) * self.scale * self.scale)
        };
        slopes.iter().map(covariance_with).collect()
    }

    /// How far a place, in mm, is inside of the nearest wall; below zero outside.
    pub(crate) fn depth(&self, place: [f64; 3]) -> f64 {
        let place = place.map(|mm| mm / self.scale);
        let distances = self.walls.iter().map(|wall| wall.distance(place));
        distances.fold(f64::INFINITY, f64::min) * self.scale
    }
}
