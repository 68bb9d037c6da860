//! What a cuboid has to spare along an axis, and how likely cuboids are inside.

use proptest::prelude::*;
use rstest::rstest;

use super::super::*;
use super::shapes::{Corners8, Dice, Survey, hollow, square};
use crate::Length;

fn cavity(corners: Corners8, survey: &Survey, hold: Hold) -> Cavity {
    let frame = Frame {
        hold,
        ..Frame::default()
    };
    Cavity::new(&Shape::new(corners, &survey.covariance).unwrap(), frame).unwrap()
}

fn space(lo: [i64; 3], hi: [i64; 3]) -> Space {
    Space {
        lo: lo.map(Length::mm),
        hi: hi.map(Length::mm),
    }
}

#[test]
fn in_a_square_cavity_the_slack_is_what_is_left_of_each_side() {
    let shape = Shape::exact(square([1000.0, 400.0, 200.0])).unwrap();
    let cavity = Cavity::new(&shape, Frame::default()).unwrap();
    let put = space([20, 5, 0], [990, 399, 203]);
    let slacks = [0, 1, 2].map(|axis| cavity.slack(&put, axis));
    assert_eq!(
        slacks.each_ref().map(|slack| slack.distance),
        [30, 6, -3].map(Length::mm)
    );
    assert!(slacks.iter().all(|slack| slack.sigma == Length::ZERO));
}

/// A roof known to 2 mm over a floor known to 1.5 mm, each up and down as a whole: 2.5 mm for the two together, though the
/// clearance of a cuboid that stands on the floor is known to 0 and 2.5 mm.
#[test]
fn the_slack_is_as_uncertain_as_both_walls_together() {
    let mut covariance = vec![0.0; 24 * 24];
    for (a, b) in (0..8).flat_map(|a| (0..8).map(move |b| (a, b))) {
        if a / 4 == b / 4 {
            covariance[(3 * a + 2) * 24 + 3 * b + 2] = if a < 4 { 2.25 } else { 4.0 };
        }
    }
    for hold in [Hold::Corner, Hold::Middle] {
        let frame = Frame {
            hold,
            ..Frame::default()
        };
        let shape = Shape::new(square([1000.0, 400.0, 200.0]), &covariance).unwrap();
        let cavity = Cavity::new(&shape, frame).unwrap();
        let slack = cavity.slack(&space([10, 10, 10], [900, 380, 190]), 2);
        assert!((slack.sigma.as_mm() - 2.5).abs() < 1e-6, "{hold:?}: {:?}", slack.sigma);
        assert_eq!(slack.distance, Length::mm(20));
    }
}

/// 20 mm to spare and a roof known to 10 mm, the box to 7.5 mm: 12.5 mm together, and 1.6 of those are to spare.
#[test]
fn what_goes_in_goes_in_by_the_tables_of_the_normal_distribution() {
    let mut covariance = vec![0.0; 24 * 24];
    for (a, b) in (4..8).flat_map(|a| (4..8).map(move |b| (a, b))) {
        covariance[(3 * a + 2) * 24 + 3 * b + 2] = 100.0;
    }
    let shape = Shape::new(square([1000.0, 400.0, 200.0]), &covariance).unwrap();
    let cavity = Cavity::new(&shape, Frame::default()).unwrap();
    let put = space([0, 0, 0], [1000, 390, 180]);
    let build = [0, 0, 75].map(Length::tenths_mm);
    assert!((cavity.goes_in(&put, build) - 0.945_200_708).abs() < 1e-7);
    // 10 mm across, known to 0, and built to 10 mm: one sigma, and both together.
    let build = [0, 100, 75].map(Length::tenths_mm);
    assert!((cavity.goes_in(&put, build) - 0.945_200_708 * 0.841_344_746).abs() < 1e-7);
    let too_long = space([0, 0, 0], [1001, 390, 180]);
    assert_eq!(cavity.goes_in(&too_long, build).to_bits(), 0.0_f64.to_bits());
}

/// Cavities that are surveyed again and again: the slack of a cuboid that moves with the middle varies as is told.
#[rstest]
#[case(1)]
#[case(2)]
#[case(3)]
fn the_slack_varies_as_its_uncertainty_says(#[case] seed: u64) {
    const TIMES: u32 = 2000;
    let mut dice = Dice(seed);
    let corners = hollow(10.0, &mut dice);
    // So well taped that the same corners stay the nearest ones: where they change places, the smallest distance strays
    // less than each.
    let survey = Survey::of_24(&corners, 0.1);
    let told = cavity(corners, &survey, Hold::Middle);
    let put = space([60, 40, 15], [1010, 370, 215]);
    let middle = |cavity: &Cavity, axis: usize| cavity.corners().iter().map(|c| c[axis]).sum::<f64>() / 8.0;
    let mut sums = [[0.0; 2]; 3];
    for _ in 0..TIMES {
        let other = Cavity::new(&Shape::exact(survey.found(&corners, &mut dice)).unwrap(), told.frame()).unwrap();
        let shift: [Length; 3] =
            std::array::from_fn(|axis| Length::from_mm(middle(&other, axis) - middle(&told, axis)));
        let moved = Space {
            lo: std::array::from_fn(|axis| put.lo[axis] + shift[axis]),
            hi: std::array::from_fn(|axis| put.hi[axis] + shift[axis]),
        };
        for (axis, [sum, squares]) in sums.iter_mut().enumerate() {
            let slack = other.slack(&moved, axis).distance.as_mm();
            *sum += slack / f64::from(TIMES);
            *squares += slack * slack / f64::from(TIMES);
        }
    }
    for (axis, [mean, square]) in sums.into_iter().enumerate() {
        let slack = told.slack(&put, axis);
        let ratio = (square - mean * mean).sqrt() / slack.sigma.as_mm();
        // The sigma of a sigma from 2000 is one in 63; four of those.
        assert!((0.935..1.065).contains(&ratio), "axis {axis}: {slack:?}, ratio {ratio}");
    }
}

/// Beside the corners themselves, nothing of a body with bands is nearer to a wall than its outermost vertices.
#[test]
fn a_body_with_a_band_is_inside_as_often_as_is_told() {
    const TIMES: u32 = 4000;
    let mut dice = Dice(7);
    let corners = hollow(8.0, &mut dice);
    let survey = Survey::of_24(&corners, 1.0);
    let told = cavity(corners, &survey, Hold::Corner);
    let Usable { space: usable, .. } = told.largest(KeepBack::sigmas(1.8)).unwrap();
    // A body 6 mm smaller all round with a band round its top that is as wide as goes in.
    let inset = Length::mm(6);
    let mut body = usable;
    let mut band = usable;
    for axis in 0..2 {
        body.lo[axis] += inset;
        body.hi[axis] -= inset;
    }
    band.lo[2] = band.hi[2] - Length::mm(30);
    let mut inside = 0;
    for _ in 0..TIMES {
        let truth = Shape::exact(survey.found(&corners, &mut dice)).unwrap();
        let truth = Cavity::new(&truth, Frame::default()).unwrap();
        let free = |space: &Space| truth.clearances(space).iter().all(|c| !c.distance.is_negative());
        inside += u32::from(free(&body) && free(&band));
    }
    let (inside, chance) = (f64::from(inside) / f64::from(TIMES), told.chance(&[body, band]));
    // What is told is a bound: the truth is above it, by what crossings have in common.
    assert!(inside >= chance - 0.01, "{inside} inside, {chance} told");
    assert!(inside - chance < 0.08, "{inside} inside, {chance} told");
    assert!(chance >= told.chance(&[usable]) - 1e-9);
}

#[test]
fn parts_of_a_cuboid_are_as_likely_inside_as_the_whole() {
    let mut dice = Dice(9);
    let corners = hollow(10.0, &mut dice);
    let told = cavity(corners, &Survey::of_24(&corners, 1.5), Hold::Corner);
    let usable = told.largest(KeepBack::sigmas(1.5)).unwrap();
    let whole = usable.space;
    let (mut low, mut high) = (whole, whole);
    low.hi[0] = Length::mm(500);
    high.lo[0] = Length::mm(400);
    let chance = told.chance(&[whole]);
    assert_eq!(chance.to_bits(), usable.chance.to_bits());
    for parts in [&[low, high][..], &[whole, low, high], &[whole, whole]] {
        assert!((told.chance(parts) - chance).abs() < 1e-9, "{parts:?}");
    }
    assert_eq!(told.chance(&[]).to_bits(), 1.0_f64.to_bits());
    assert!(told.chance(&[low]) > chance);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn what_a_cuboid_is_held_by_does_not_matter_to_its_slack(seed: u64, rail in 0..4_usize, axis in 0..3_usize) {
        let corners = hollow(15.0, &mut Dice(seed));
        let covariance = Survey::of_24(&corners, 1.0).covariance;
        let slack = |hold| {
            let frame = Frame {
                rail: [Rail::Left, Rail::Right, Rail::Front, Rail::Rear][rail],
                hold,
                ..Frame::default()
            };
            let cavity = Cavity::new(&Shape::new(corners, &covariance).unwrap(), frame).unwrap();
            let usable = cavity.largest(KeepBack::default()).unwrap().space;
            cavity.slack(&usable, axis)
        };
        let (one, other) = (slack(Hold::Corner), slack(Hold::Middle));
        prop_assert_eq!(one.distance, other.distance);
        prop_assert!((one.sigma - other.sigma).abs() <= Length::from_nm(2), "{:?} {:?}", one.sigma, other.sigma);
        for (a, b) in one.gradient.iter().zip(other.gradient) {
            prop_assert!((a - b).abs() < 1e-9);
        }
    }
}
