//! Points that are taped from the corners of taped cavities.

use nalgebra::{Matrix3, Vector3};
use tape::Length;
use tape::inside::{Cavity, Frame, Shape};
use tape::point::{FromCorner, locate};
use tape::survey::{Corner, Line, adjust};

use crate::boxes::shape;
use crate::made_up::{Dice, SIXTEENTH, cavity, readings};

/// The errors of the places, of readings and corners together, are as their covariances say: over them they are the sum of
/// the squares of three standard normals.
#[test]
fn places_vary_as_their_covariance_says() {
    const CAVITIES: u32 = 800;
    let (mut sum, mut beyond) = (0.0, 0);
    for seed in 0..CAVITIES {
        let mut dice = Dice(u64::from(seed) << 20);
        let corners = cavity(&mut dice);
        let truth = Cavity::new(&Shape::exact(corners).unwrap(), Frame::default()).unwrap();
        let found = adjust(&readings(&corners, &Line::all()[..24], &mut dice)).unwrap();
        let adjusted = Cavity::new(&shape(&found), Frame::default()).unwrap();
        // Somewhere in the middle, from four corners that are not in one plane.
        let far = truth.corners()[6];
        let to = Vector3::from(far.map(|mm| mm * dice.between(0.2, 0.8)));
        let from = |n: usize, dice: &mut Dice| FromCorner {
            corner: Corner::ALL[n],
            value: Length::from_mm((to - Vector3::from(truth.corners()[n])).norm() + dice.normal() * SIXTEENTH.as_mm()),
            sigma: SIXTEENTH,
        };
        let taped = [0, 2, 5, 7, 1].map(|n| from(n, &mut dice));
        let Ok(located) = locate(&adjusted, &taped) else {
            beyond += 1;
            continue;
        };
        let error = Vector3::from(located.place) - to;
        let covariance = Matrix3::from_fn(|i, j| located.covariance[i][j]);
        sum += error.dot(&covariance.lu().solve(&error).expect("no direction is exact"));
    }
    // Two spare readings are beyond the limit about twice in a thousand.
    assert!(beyond < 8, "{beyond}");
    let mean = sum / f64::from(CAVITIES - beyond);
    // The standard deviation of such a sum is the root of 6; of the mean of 800, 0.087.
    assert!((mean - 3.0).abs() < 0.35, "{mean}");
}
