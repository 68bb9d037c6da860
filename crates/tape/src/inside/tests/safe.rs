//! The usable cuboid is inside of what is really there.

use proptest::prelude::*;

use super::super::*;
use super::shapes::{Corners8, Dice, Survey, hollow};
use crate::Length;

/// The cuboid, held from the corner or the middle of the true cavity as it was from that of the adjusted one.
fn put_in(space: Space, adjusted: &Cavity, truth: &Cavity) -> Space {
    let Hold::Middle = adjusted.frame().hold else {
        return space;
    };
    let middle = |cavity: &Cavity, axis: usize| cavity.corners().iter().map(|corner| corner[axis]).sum::<f64>() / 8.0;
    let shift: [Length; 3] = std::array::from_fn(|axis| Length::from_mm(middle(truth, axis) - middle(adjusted, axis)));
    Space {
        lo: std::array::from_fn(|axis| space.lo[axis] + shift[axis]),
        hi: std::array::from_fn(|axis| space.hi[axis] + shift[axis]),
    }
}

/// 2000 cavities up to 10 mm out of square, each taped with 24 readings of 1/16 in: at two sigma, the usable cuboid is
/// inside the true cavity as often as is said, and not much more often than that; and as often or more when it may slide.
#[test]
fn the_usable_cuboid_is_really_inside_as_often_as_said() {
    for hold in [Hold::Corner, Hold::Middle] {
        let frame = Frame {
            hold,
            ..Frame::default()
        };
        let mut dice = Dice(20);
        let (mut stated, mut inside, mut slid) = (0.0, 0, 0);
        for _ in 0..2000 {
            let corners = hollow(10.0, &mut dice);
            let survey = Survey::of_24(&corners, 25.4 / 16.0);
            let found = survey.found(&corners, &mut dice);
            let adjusted = Cavity::new(&Shape::new(found, &survey.covariance).unwrap(), frame).unwrap();
            let usable = adjusted.largest(KeepBack::sigmas(2.0)).unwrap();
            let truth = Cavity::new(&Shape::exact(corners).unwrap(), frame).unwrap();
            let put = put_in(usable.space, &adjusted, &truth);
            let is_free = |clearance: &Clearance| !clearance.distance.is_negative();
            stated += usable.chance / 2000.0;
            inside += u32::from(truth.clearances(&put).iter().all(is_free));
            let size = usable.space.size();
            slid += u32::from(!truth.roomiest(size, KeepBack::default()).unwrap().room.is_negative());
        }
        let (inside, slid) = (f64::from(inside) / 2000.0, f64::from(slid) / 2000.0);
        // Each of six walls is cleared 97.7 times in 100 at two sigma; what is said is below that for all of them.
        assert!(stated > 0.8, "{hold:?}: {stated} stated");
        assert!(inside >= stated, "{hold:?}: {inside} inside, {stated} stated");
        assert!(inside < 0.97, "{hold:?}: needlessly small, {inside} inside");
        assert!(slid >= inside, "{hold:?}: {slid} when slid, {inside} in its place");
    }
}

/// A cuboid of one size, slid to where it has the most room: that room varies as its standard uncertainty says.
#[test]
fn the_room_varies_as_its_uncertainty_says() {
    let mut dice = Dice(4);
    let corners = hollow(10.0, &mut dice);
    let survey = Survey::of_24(&corners, 1.0);
    let size = [950, 340, 207].map(Length::mm);
    let room = |corners: Corners8| {
        let cavity = Cavity::new(&Shape::new(corners, &survey.covariance).unwrap(), Frame::default()).unwrap();
        cavity.roomiest(size, KeepBack::default()).unwrap()
    };
    let told = room(corners);
    let rooms: Vec<f64> = (0..4000)
        .map(|_| room(survey.found(&corners, &mut dice)).room.as_mm())
        .collect();
    let mean = rooms.iter().sum::<f64>() / 4000.0;
    let variance = rooms.iter().map(|room| (room - mean) * (room - mean)).sum::<f64>() / 3999.0;
    let ratio = variance.sqrt() / told.sigma.as_mm();
    assert!(
        (0.93..1.07).contains(&ratio),
        "{} told, ratio {ratio}",
        told.sigma.as_mm()
    );
}

/// Points of everything that a skin over a face may be: the bilinear one and both ways to fold the face.
fn skins(ring: [[f64; 3]; 4]) -> Vec<[f64; 3]> {
    let mut points = Vec::new();
    for (i, j) in (0..=24).flat_map(|i| (0..=24).map(move |j| (i, j))) {
        let (u, v) = (f64::from(i) / 24.0, f64::from(j) / 24.0);
        let bilinear = [(1.0 - u) * (1.0 - v), u * (1.0 - v), u * v, (1.0 - u) * v];
        // The triangles on either side of a diagonal.
        let one = if u > v {
            [1.0 - u, u - v, v, 0.0]
        } else {
            [1.0 - v, 0.0, u, v - u]
        };
        let other = if u + v < 1.0 {
            [1.0 - u - v, u, 0.0, v]
        } else {
            [0.0, 1.0 - v, u + v - 1.0, 1.0 - u]
        };
        for weights in [bilinear, one, other] {
            points.push(std::array::from_fn(|axis| {
                (0..4).map(|corner| weights[corner] * ring[corner][axis]).sum()
            }));
        }
    }
    points
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn no_skin_over_a_warped_face_reaches_into_the_usable_cuboid(seed: u64, off in 1.0..60.0_f64) {
        let corners = hollow(off, &mut Dice(seed));
        let cavity = Cavity::new(&Shape::exact(corners).unwrap(), Frame::default()).unwrap();
        let Usable { space, .. } = cavity.largest(KeepBack::default()).unwrap();
        let (lo, hi) = (space.lo.map(Length::as_mm), space.hi.map(Length::as_mm));
        for side in Side::ALL {
            let ring = side.corners().map(|corner| cavity.corners()[corner]);
            for point in skins(ring) {
                let within = (0..3).all(|axis| point[axis] > lo[axis] + 1e-6 && point[axis] < hi[axis] - 1e-6);
                prop_assert!(!within, "{side}: {point:?} is inside {space:?}");
            }
        }
        // And it is the inside that it lies in.
        let middle = |axis: usize| f64::midpoint(lo[axis], hi[axis]);
        prop_assert!((0..3).all(|axis| lo[axis] < hi[axis]) && middle(2) > 0.0);
    }
}
