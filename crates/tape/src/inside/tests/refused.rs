//! Shapes that have no inside, and askings that make no sense.

use rstest::rstest;

use super::super::*;
use super::shapes::{Corners8, square};
use crate::Length;

fn box_of() -> Corners8 {
    square([1000.0, 400.0, 200.0])
}

fn cavity(corners: Corners8) -> Result<Cavity, NoCuboid> {
    Cavity::new(&Shape::exact(corners).unwrap(), Frame::default())
}

#[test]
fn a_mirror_image_is_told() {
    let mirrored = box_of().map(|[x, y, z]| [x, -y, z]);
    assert_eq!(cavity(mirrored).unwrap_err(), NoCuboid::Mirrored);
}

#[rstest]
#[case::roof_corner_below_the_floor(6, [950.0, 380.0, -50.0])]
#[case::floor_corner_beyond_its_neighbours(0, [700.0, 300.0, 0.0])]
fn a_folded_corner_is_named(#[case] corner: usize, #[case] place: [f64; 3]) {
    let mut corners = box_of();
    corners[corner] = place;
    let refusal = cavity(corners).unwrap_err();
    assert_eq!(refusal, NoCuboid::Twisted { corner });
    assert!(refusal.to_string().contains(&corner_name(corner)), "{refusal}");
}

#[test]
fn two_corners_swapped_are_a_twist() {
    let mut corners = box_of();
    corners.swap(4, 5);
    assert!(matches!(cavity(corners), Err(NoCuboid::Twisted { .. })));
}

#[test]
fn everything_in_one_place_is_a_twist() {
    assert!(matches!(cavity([[3.0; 3]; 8]), Err(NoCuboid::Twisted { .. })));
}

/// A roof that is turned by more than a quarter of a turn over its floor opens at every corner, but warps the walls through
/// the middle.
#[test]
fn walls_that_cross_leave_no_inside() {
    let mut corners = square([400.0, 400.0, 200.0]);
    for corner in &mut corners[4..] {
        let ([x, y], (sin, cos)) = ([corner[0] - 200.0, corner[1] - 200.0], 1.7_f64.sin_cos());
        (corner[0], corner[1]) = (200.0 + cos * x - sin * y, 200.0 + sin * x + cos * y);
    }
    let cavity = cavity(corners).unwrap();
    let refusal = cavity.largest(KeepBack::default()).unwrap_err();
    assert!(matches!(refusal, NoCuboid::NoInterior { .. }), "{refusal}");
    let placed = cavity.roomiest([Length::mm(1); 3], KeepBack::default()).unwrap();
    assert!(placed.room.is_negative());
}

#[test]
fn nothing_is_left_when_all_of_the_height_is_kept_back() {
    let cavity = cavity(box_of()).unwrap();
    let keep = |tenths| KeepBack::fixed(Length::tenths_mm(tenths));
    let sizes = cavity.largest(keep(999)).unwrap().space.size();
    assert_eq!(sizes[2], Length::tenths_mm(2));
    for tenths in [1000, 1001, 9999] {
        let refusal = cavity.largest(keep(tenths)).unwrap_err();
        let NoCuboid::NothingLeft { wall } = refusal else {
            panic!("{refusal}");
        };
        assert!([Side::Bottom, Side::Top].contains(&wall), "{wall}");
    }
}

#[test]
fn nothing_is_left_when_the_corners_are_hardly_known() {
    let mut covariance = vec![0.0; 24 * 24];
    (0..24).for_each(|n| covariance[25 * n] = 60.0 * 60.0);
    let shape = Shape::new(box_of(), &covariance).unwrap();
    let cavity = Cavity::new(&shape, Frame::default()).unwrap();
    assert!(cavity.largest(KeepBack::sigmas(0.5)).is_ok());
    let refusal = cavity.largest(KeepBack::sigmas(3.0)).unwrap_err();
    assert!(matches!(refusal, NoCuboid::NothingLeft { .. }), "{refusal}");
}

#[test]
fn what_is_no_number_is_refused() {
    let mut corners = box_of();
    corners[5][1] = f64::NAN;
    assert_eq!(Shape::exact(corners), Err(NoCuboid::NotAPlace { corner: 5 }));
    let mut covariance = vec![0.0; 24 * 24];
    assert_eq!(Shape::new(box_of(), &covariance[1..]), Err(NoCuboid::NotACovariance));
    covariance[25] = -1.0;
    assert_eq!(Shape::new(box_of(), &covariance), Err(NoCuboid::NotACovariance));
    let cavity = cavity(box_of()).unwrap();
    for k in [f64::NAN, f64::INFINITY, -1.0] {
        assert_eq!(cavity.largest(KeepBack::sigmas(k)), Err(NoCuboid::NotKeptBack));
    }
    let negative = Length::mm(-1);
    assert_eq!(cavity.largest(KeepBack::fixed(negative)), Err(NoCuboid::NotKeptBack));
    let thin = [Length::mm(5), negative, Length::mm(5)];
    assert_eq!(cavity.roomiest(thin, KeepBack::default()), Err(NoCuboid::NotASize));
}
