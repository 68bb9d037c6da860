//! How well the corners are known in the axes of a cavity.

use super::super::*;
use super::shapes::{Dice, Survey, hollow};

/// Against small moves of the corners.
#[test]
fn the_covariance_of_the_corners_is_what_their_errors_do() {
    for (rail, hold) in [(Rail::Left, Hold::Corner), (Rail::Rear, Hold::Middle)] {
        let frame = Frame {
            rail,
            hold,
            ..Frame::default()
        };
        let corners = hollow(15.0, &mut Dice(3));
        let survey = Survey::of_24(&corners, 1.0);
        let told = Cavity::new(&Shape::new(corners, &survey.covariance).unwrap(), frame).unwrap();
        let middle = |at: &[[f64; 3]; 8], axis: usize| at.iter().map(|corner| corner[axis]).sum::<f64>() / 8.0;
        let places = |by: &[f64; 24], share: f64| {
            let moved =
                std::array::from_fn(|n| std::array::from_fn(|axis| corners[n][axis] + share * by[3 * n + axis]));
            let at = Cavity::new(&Shape::exact(moved).unwrap(), frame).unwrap().corners();
            at.map(|corner| -> [f64; 3] {
                let held = |axis| if hold == Hold::Middle { middle(&at, axis) } else { 0.0 };
                std::array::from_fn(|axis| corner[axis] - held(axis))
            })
        };
        let mut sums = vec![[0.0; 24]; 24];
        for by in &survey.moves {
            let (less, more) = (places(by, -1e-3), places(by, 1e-3));
            let slope = |c: usize| (more[c / 3][c % 3] - less[c / 3][c % 3]) / 2e-3;
            for (a, row) in sums.iter_mut().enumerate() {
                for (b, entry) in row.iter_mut().enumerate() {
                    *entry += slope(a) * slope(b);
                }
            }
        }
        for (row, sums) in told.corner_covariance().iter().zip(&sums) {
            for (told, sum) in row.iter().zip(sums) {
                assert!((told - sum).abs() < 1e-5, "{told} {sum}");
            }
        }
    }
}
