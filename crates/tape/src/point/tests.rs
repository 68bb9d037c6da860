//! Points whose places are known in closed form, and readings that have none.

use proptest::prelude::*;

use super::*;
use crate::inside::{Frame, Shape};
use crate::survey::square_box;

fn square(sides: [f64; 3]) -> Cavity {
    Cavity::new(&Shape::exact(square_box(sides)).unwrap(), Frame::default()).unwrap()
}

/// Readings to a point from corners by number, without noise, of this sigma.
fn taped(cavity: &Cavity, to: [f64; 3], corners: &[usize], sigma: Length) -> Vec<FromCorner> {
    let each = corners.iter().map(|&n| {
        let way = Vector3::from(to) - Vector3::from(cavity.corners()[n]);
        FromCorner {
            corner: Corner::ALL[n],
            value: Length::from_mm(way.norm()),
            sigma,
        }
    });
    each.collect()
}

const FINE: Length = Length::from_nm(1000);
const SIXTEENTH: Length = Length::sixty_fourths(4);

proptest! {
    /// `x = (d0² - d1² + a²)/2a`, `y` alike, `z` from what is left of `d0²`; the point is above the floor it is taped from.
    #[test]
    fn a_point_over_the_floor_is_where_pythagoras_has_it(
        to in [10.0..990.0_f64, 10.0..390.0, 20.0..190.0], roof in any::<bool>(),
    ) {
        let cavity = square([1000.0, 400.0, 200.0]);
        let corners: [usize; 3] = if roof { [4, 5, 7] } else { [0, 1, 3] };
        let readings = taped(&cavity, to, &corners, FINE);
        // Below a roof as far as above a floor.
        let [d0, d1, d2] = [0, 1, 2].map(|n: usize| readings[n].value.as_mm());
        let x = (d0 * d0 - d1 * d1 + 1e6) / 2000.0;
        let y = (d0 * d0 - d2 * d2 + 16e4) / 800.0;
        let off = (d0 * d0 - x * x - y * y).sqrt();
        let z = if roof { 200.0 - off } else { off };
        // Near the plane nanometres of a reading are many of the height.
        prop_assume!(if roof { to[2] < 180.0 } else { to[2] > 20.0 });
        let Located { place, .. } = locate(&cavity, &readings).unwrap();
        for (place, expected) in place.into_iter().zip([x, y, z]) {
            prop_assert!((place - expected).abs() < 1e-5, "{place:?} {expected}");
        }
    }

    #[test]
    fn more_readings_of_the_same_place_leave_it_there_and_better_known(
        to in [10.0..990.0_f64, 10.0..390.0, 60.0..190.0], more in prop::collection::vec(0..8_usize, 1..8),
    ) {
        let cavity = square([1000.0, 400.0, 200.0]);
        let few = locate(&cavity, &taped(&cavity, to, &[0, 1, 3], FINE)).unwrap();
        let all = [&[0, 1, 3], &more[..]].concat();
        let many = locate(&cavity, &taped(&cavity, to, &all, FINE)).unwrap();
        for axis in 0..3 {
            prop_assert!((few.place[axis] - many.place[axis]).abs() < 1e-4);
            prop_assert!(many.covariance[axis][axis] <= few.covariance[axis][axis] * (1.0 + 1e-6));
        }
    }
}

/// In the corner of a cube, one side from each of its three neighbours: the lines run square to each other, so each
/// coordinate has the variance of its own reading. The fourth, through the middle, tells the side and makes it
/// `(I + J/3)⁻¹ = I - J/6`, with `J` all ones.
#[test]
fn in_the_corner_of_a_cube_the_covariance_is_known() {
    let cavity = square([500.0; 3]);
    let corner = [0.0; 3];
    assert_eq!(
        locate(&cavity, &taped(&cavity, corner, &[1, 3, 4], SIXTEENTH)),
        Err(NoPoint::EitherSide)
    );
    let Located { place, covariance } = locate(&cavity, &taped(&cavity, corner, &[1, 3, 4, 6], SIXTEENTH)).unwrap();
    let variance = SIXTEENTH.as_mm().powi(2);
    for (i, row) in covariance.iter().enumerate() {
        assert!(place[i].abs() < 1e-5, "{place:?}");
        for (j, entry) in row.iter().enumerate() {
            let expected = f64::from(u8::from(i == j)) - 1.0 / 6.0;
            assert!((entry / variance - expected).abs() < 1e-6, "{covariance:?}");
        }
    }
}

/// A roof known as a whole to 3 mm over the floor: with 4 mm of tape below it, the height is known to 5 mm.
#[test]
fn the_uncertainty_of_the_corners_counts() {
    let mut covariance = vec![0.0; 24 * 24];
    for (a, b) in (4..8).flat_map(|a| (4..8).map(move |b| (a, b))) {
        covariance[(3 * a + 2) * 24 + 3 * b + 2] = 9.0;
    }
    let shape = Shape::new(square_box([600.0; 3]), &covariance).unwrap();
    let cavity = Cavity::new(&shape, Frame::default()).unwrap();
    // Straight below a roof corner; the corners of the floor tell nothing of the height.
    let readings = taped(&cavity, [600.0, 600.0, 0.0], &[6, 0, 1, 3], Length::mm(4));
    let located = locate(&cavity, &readings).unwrap();
    let sigma = located.covariance[2][2].sqrt();
    assert!((sigma - 5.0).abs() < 1e-6, "{located:?}");
}

#[test]
fn a_wrong_reading_is_named() {
    let cavity = square([1000.0, 400.0, 200.0]);
    let corners = [0, 1, 2, 3, 4, 5, 6, 7];
    for wrong in 0..corners.len() {
        for by in [-60, 60] {
            let mut readings = taped(&cavity, [400.0, 150.0, 80.0], &corners, SIXTEENTH);
            readings[wrong].value += Length::mm(by);
            let refused = locate(&cavity, &readings).unwrap_err();
            let NoPoint::DoNotMeet { reading, corner, .. } = refused else {
                panic!("{refused}");
            };
            assert_eq!((reading, corner), (wrong, Corner::ALL[corners[wrong]]));
        }
    }
}

#[test]
fn three_readings_that_are_too_short_do_not_meet() {
    let cavity = square([1000.0, 400.0, 200.0]);
    let mut readings = taped(&cavity, [400.0, 150.0, 5.0], &[0, 1, 2], SIXTEENTH);
    readings[1].value -= Length::mm(40);
    assert!(matches!(locate(&cavity, &readings), Err(NoPoint::DoNotMeet { .. })));
}

#[test]
fn what_cannot_be_told_is_refused_with_the_reason() {
    let cavity = square([1000.0, 400.0, 200.0]);
    let to = [400.0, 150.0, 80.0];
    let taped = |to, corners: &[usize]| taped(&cavity, to, corners, SIXTEENTH);
    assert_eq!(locate(&cavity, &[]), Err(NoPoint::TooFew { corners: 0 }));
    assert_eq!(
        locate(&cavity, &taped(to, &[0, 1, 0])),
        Err(NoPoint::TooFew { corners: 2 })
    );
    let mut readings = taped(to, &[0, 1, 2]);
    readings[2].value = Length::ZERO;
    let corner = Corner::ALL[2];
    assert_eq!(
        locate(&cavity, &readings),
        Err(NoPoint::Senseless { reading: 2, corner })
    );
    // A bolt head on the floor, from the floor's corners, three or all.
    for corners in [&[0, 1, 2][..], &[0, 1, 2, 3]] {
        for z in [0.0, 4.0] {
            assert_eq!(
                locate(&cavity, &taped([400.0, 150.0, z], corners)),
                Err(NoPoint::InTheirPlane)
            );
        }
    }
    // From the roof it is seen well.
    assert!(locate(&cavity, &taped([400.0, 150.0, 0.0], &[4, 5, 6])).is_ok());
    // Through the middle of the cavity there is an inside on both sides.
    assert_eq!(
        locate(&cavity, &taped([400.0, 50.0, 80.0], &[0, 2, 6])),
        Err(NoPoint::EitherSide)
    );
}
