//! What the usable cuboid has to be, whatever the cavity.

use proptest::prelude::*;
use rstest::rstest;

use super::super::cuts::VERTICES;
use super::super::*;
use super::shapes::{Corners8, Dice, Survey, hollow, moved, rigid, rotation, square};
use crate::Length;

fn exact(corners: Corners8) -> Cavity {
    Cavity::new(&Shape::exact(corners).unwrap(), Frame::default()).unwrap()
}

fn taped(corners: Corners8, sigma: f64, frame: Frame) -> Cavity {
    let covariance = Survey::of_24(&corners, sigma).covariance;
    Cavity::new(&Shape::new(corners, &covariance).unwrap(), frame).unwrap()
}

fn volume(usable: &Usable) -> f64 {
    usable.space.size().iter().map(|side| side.as_mm()).product()
}

fn alike(a: [f64; 3], b: [f64; 3]) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-12)
}

fn close(a: Length, b: Length, nm: i64) -> bool {
    (a - b).abs() <= Length::from_nm(nm)
}

#[rstest]
#[case::inches([41.625, 15.5, 9.25].map(|inches| inches * 25.4))]
#[case::long_and_flat([3048.0, 100.0, 12.5])]
fn a_square_cavity_is_its_own_usable_cuboid(#[case] size: [f64; 3]) {
    let cavity = exact(square(size));
    let usable = cavity.largest(KeepBack::default()).unwrap();
    assert_eq!(usable.space.lo, [Length::ZERO; 3]);
    assert_eq!(usable.space.hi, size.map(Length::from_mm));
    for (limit, side) in usable.limits.iter().zip(Side::ALL) {
        assert_eq!(
            (limit.side, limit.clearance.wall, limit.play),
            (side, side, Length::ZERO)
        );
        assert!(side.corners().contains(&limit.clearance.corner));
    }
    assert!((usable.chance - 1.0).abs() < 1e-12);
    assert_eq!(cavity.warps(), [Length::ZERO; 6]);
}

/// Posts that lean rearward by 7/16 in: the front is stopped by the wall's foot or head, and says by which.
#[test]
fn leaning_posts_stop_the_cuboid_at_their_corners() {
    let mut corners = square([1000.0, 400.0, 200.0]);
    corners[4..].iter_mut().for_each(|corner| corner[0] += 11.0);
    let usable = exact(corners).largest(KeepBack::default()).unwrap();
    assert_eq!(usable.space.size(), [989, 400, 200].map(Length::mm));
    let [front, rear, ..] = &usable.limits;
    assert_eq!(front.clearance.wall, Side::Front);
    assert!([4, 7].contains(&front.clearance.corner), "{:?}", front.clearance);
    assert!([1, 2].contains(&rear.clearance.corner), "{:?}", rear.clearance);
    // A roof corner of the cuboid in front, a floor corner behind.
    assert!([4, 7].contains(&front.clearance.cuboid_corner));
    assert!([1, 2].contains(&rear.clearance.cuboid_corner));
}

/// All frames of one cavity whose walls lean: floor against roof, and each rail.
#[rstest]
#[case::left(Rail::Left, [0.0, 0.0])]
#[case::right(Rail::Right, [0.0, 400.0])]
#[case::front(Rail::Front, [0.0, 0.0])]
#[case::rear(Rail::Rear, [1000.0, 0.0])]
fn in_a_square_cavity_every_frame_gives_the_same_cuboid(#[case] rail: Rail, #[case] origin: [f64; 2]) {
    for (base, height) in [(Base::Bottom, 0.0), (Base::Top, 200.0)] {
        let shape = Shape::exact(square([1000.0, 400.0, 200.0])).unwrap();
        let frame = Frame {
            base,
            rail,
            ..Frame::default()
        };
        let cavity = Cavity::new(&shape, frame).unwrap();
        assert!(alike(cavity.axes().origin, [origin[0], origin[1], height]));
        let [x, y, z] = cavity.axes().directions;
        assert!(alike(x, [1.0, 0.0, 0.0]) && alike(y, [0.0, 1.0, 0.0]) && alike(z, [0.0, 0.0, 1.0]));
        let usable = cavity.largest(KeepBack::default()).unwrap();
        assert_eq!(usable.space.size(), [1000, 400, 200].map(Length::mm));
        assert_eq!(usable.space.lo, [-origin[0], -origin[1], -height].map(Length::from_mm));
    }
}

/// A rail out of parallel turns the cuboid with it.
#[test]
fn the_axes_run_along_the_rail_that_was_chosen() {
    let mut corners = square([1000.0, 400.0, 200.0]);
    for corner in [2, 6] {
        corners[corner][1] += 10.0;
    }
    let along = |rail| {
        let frame = Frame {
            rail,
            ..Frame::default()
        };
        Cavity::new(&Shape::exact(corners).unwrap(), frame)
            .unwrap()
            .axes()
            .directions
    };
    let slant = (1000.0_f64 * 1000.0 + 100.0).sqrt();
    assert!(alike(along(Rail::Left)[0], [1.0, 0.0, 0.0]));
    let [x, y, _] = along(Rail::Right);
    assert!(alike(x, [1000.0 / slant, 10.0 / slant, 0.0]) && alike(y, [-10.0 / slant, 1000.0 / slant, 0.0]));
    assert!(alike(along(Rail::Rear)[1], [0.0, 1.0, 0.0]));
}

#[test]
fn a_smaller_cuboid_comes_to_lie_in_the_middle() {
    let cavity = exact(square([1000.0, 400.0, 200.0]));
    let placed = cavity
        .roomiest([900, 380, 190].map(Length::mm), KeepBack::default())
        .unwrap();
    // The height has the least to spare, 5 mm on either side; the rest is free and shared out.
    assert_eq!(placed.room, Length::mm(5));
    let gaps = placed.clearances.map(|clearance| clearance.distance);
    for (gap, mm) in gaps.iter().zip([50, 50, 10, 10, 5, 5]) {
        assert!(close(*gap, Length::mm(mm), 1000), "{gaps:?}");
    }
    let too_long = [1010, 380, 190].map(Length::mm);
    assert_eq!(
        cavity.roomiest(too_long, KeepBack::default()).unwrap().room,
        Length::mm(-5)
    );
    let kept = KeepBack::fixed(Length::mm(2));
    assert_eq!(
        cavity.roomiest([900, 380, 190].map(Length::mm), kept).unwrap().room,
        Length::mm(3)
    );
}

/// The room of a cuboid between two walls is half of what is left of the height; so is its uncertainty.
#[test]
fn the_room_is_as_uncertain_as_half_the_height() {
    let mut covariance = vec![0.0; 24 * 24];
    // The roof as a whole goes up and down by 2 mm, all of its corners together.
    for (a, b) in (4..8).flat_map(|a| (4..8).map(move |b| (a, b))) {
        covariance[(3 * a + 2) * 24 + 3 * b + 2] = 4.0;
    }
    let shape = Shape::new(square([1000.0, 400.0, 200.0]), &covariance).unwrap();
    let cavity = Cavity::new(&shape, Frame::default()).unwrap();
    let placed = cavity
        .roomiest([900, 380, 190].map(Length::mm), KeepBack::default())
        .unwrap();
    assert!(close(placed.sigma, Length::mm(1), 1), "{:?}", placed.sigma);
    let [.., top] = &placed.clearances;
    assert!(close(top.sigma, Length::mm(2), 1), "{:?}", top.sigma);
    // The usable cuboid loses it at the roof alone: it stands on the floor.
    let usable = cavity.largest(KeepBack::sigmas(2.0)).unwrap();
    assert_eq!(usable.space.size(), [1000, 400, 196].map(Length::mm));
    assert_eq!(usable.tightest.wall, Side::Top);
    // Six walls, one of which is uncertain: two sigma of a single normal figure.
    assert!((usable.chance - 0.977_249_868).abs() < 1e-6, "{}", usable.chance);
    // With every corner off by itself the roof can tilt as well: at F it stands at (E + G + F - H)/2, each of them 4 mm off.
    let worst = KeepBack {
        corners: Corners::EachAtWorst,
        ..KeepBack::sigmas(2.0)
    };
    assert_eq!(
        cavity.largest(worst).unwrap().space.size(),
        [1000, 400, 192].map(Length::mm)
    );
}

/// The uncertainty of the sizes against what each error of a survey does to them.
#[test]
fn sizes_are_as_uncertain_as_the_errors_of_a_survey_make_them() {
    for seed in 0..40 {
        let corners = hollow(15.0, &mut Dice(seed));
        let survey = Survey::of_24(&corners, 1.0);
        let told = taped(corners, 1.0, Frame::default())
            .largest(KeepBack::default())
            .unwrap()
            .sigmas;
        let sizes = |by: &[f64; 24], share: f64| {
            let moved =
                std::array::from_fn(|n| std::array::from_fn(|axis| corners[n][axis] + share * by[3 * n + axis]));
            exact(moved).largest(KeepBack::default()).unwrap().space.size()
        };
        let mut variances = [0.0; 3];
        for by in &survey.moves {
            let (less, more) = (sizes(by, -1e-3), sizes(by, 1e-3));
            for axis in 0..3 {
                let slope = (more[axis] - less[axis]).as_mm() / 2e-3;
                variances[axis] += slope * slope;
            }
        }
        for (told, variance) in told.iter().zip(variances) {
            assert!(
                (told.as_mm() / variance.sqrt() - 1.0).abs() < 0.01,
                "{told:?} told, {}",
                variance.sqrt()
            );
        }
    }
}

fn any_motion() -> impl Strategy<Value = ([f64; 3], [f64; 3])> {
    (
        [-3.0..3.0_f64, -3.0..3.0, -3.0..3.0],
        [-1e4..1e4_f64, -1e4..1e4, -1e4..1e4],
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_turned_and_moved_cavity_has_the_same_cuboid(seed: u64, (turn, shift) in any_motion(), k in 0.0..3.0_f64) {
        let corners = hollow(15.0, &mut Dice(seed));
        let covariance = Survey::of_24(&corners, 1.0).covariance;
        let turned = moved(corners, turn, shift);
        let rotation = rotation(turn);
        let entry = |a: usize, b: usize| -> f64 {
            (0..9).map(|n| {
                let (i, j) = (n / 3, n % 3);
                rotation[a % 3][i] * covariance[(a / 3 * 3 + i) * 24 + b / 3 * 3 + j] * rotation[b % 3][j]
            }).sum()
        };
        let turned_covariance: Vec<f64> = (0..24 * 24).map(|n| entry(n / 24, n % 24)).collect();
        let here = Cavity::new(&Shape::new(corners, &covariance).unwrap(), Frame::default()).unwrap();
        let there = Cavity::new(&Shape::new(turned, &turned_covariance).unwrap(), Frame::default()).unwrap();
        let (one, other) = (here.largest(KeepBack::sigmas(k)).unwrap(), there.largest(KeepBack::sigmas(k)).unwrap());
        for axis in 0..3 {
            prop_assert!(close(one.space.size()[axis], other.space.size()[axis], 20), "{one:?} {other:?}");
        }
        // Where two crossings go along with a third equally well, rounding decides which of them is paired with it, and the
        // bound that comes of it is another one.
        prop_assert!((one.chance - other.chance).abs() < 1e-3, "{} {}", one.chance, other.chance);
    }

    /// The datum of the covariance says nothing about the shape.
    #[test]
    fn moving_the_axes_of_the_survey_about_changes_nothing(seed: u64, size in 0.0..100.0_f64) {
        let mut dice = Dice(seed);
        let corners = hollow(15.0, &mut dice);
        let mut covariance = Survey::of_24(&corners, 1.0).covariance;
        let inner = Cavity::new(&Shape::new(corners, &covariance).unwrap(), Frame::default()).unwrap();
        let motions = rigid(&corners);
        let drift: [f64; 24] = std::array::from_fn(|n| motions.iter().map(|motion| motion[n]).sum::<f64>() * size);
        for (n, entry) in covariance.iter_mut().enumerate() {
            *entry += drift[n / 24] * drift[n % 24];
        }
        let other = Cavity::new(&Shape::new(corners, &covariance).unwrap(), Frame::default()).unwrap();
        let (one, other) = (inner.largest(KeepBack::sigmas(2.0)).unwrap(), other.largest(KeepBack::sigmas(2.0)).unwrap());
        for axis in 0..3 {
            prop_assert!(close(one.space.size()[axis], other.space.size()[axis], 100), "{one:?} {other:?}");
        }
    }

    #[test]
    fn twice_the_cavity_has_twice_the_cuboid(seed: u64, k in 0.0..3.0_f64) {
        let corners = hollow(15.0, &mut Dice(seed));
        let small = taped(corners, 1.0, Frame::default()).largest(KeepBack::sigmas(k)).unwrap();
        let large = corners.map(|corner| corner.map(|mm| 3.0 * mm));
        let large = taped(large, 3.0, Frame::default()).largest(KeepBack::sigmas(k)).unwrap();
        for axis in 0..3 {
            prop_assert!(close(small.space.size()[axis] * 3, large.space.size()[axis], 20), "{small:?} {large:?}");
        }
    }

    #[test]
    fn less_well_known_corners_never_give_a_larger_cuboid(seed: u64, k in 0.0..3.0_f64, more in 0.0..5.0_f64) {
        let mut dice = Dice(seed);
        let corners = hollow(15.0, &mut dice);
        let mut covariance = Survey::of_24(&corners, 1.0).covariance;
        let of = |covariance: &[f64]| {
            let cavity = Cavity::new(&Shape::new(corners, covariance).unwrap(), Frame::default()).unwrap();
            volume(&cavity.largest(KeepBack::sigmas(k)).unwrap())
        };
        let before = of(&covariance);
        let error: [f64; 24] = std::array::from_fn(|_| more * dice.even());
        for (n, entry) in covariance.iter_mut().enumerate() {
            *entry += error[n / 24] * error[n % 24];
        }
        // A nanometre of a side is up to half a cubic millimetre.
        prop_assert!(of(&covariance) <= before + 5.0);
    }

    #[test]
    fn corner_by_corner_keeps_back_more_than_the_covariance_and_more_sigmas_more_than_few(
        seed: u64, k in 0.0..2.0_f64, more in 0.0..1.0_f64,
    ) {
        let cavity = taped(hollow(15.0, &mut Dice(seed)), 1.0, Frame::default());
        let together = volume(&cavity.largest(KeepBack::sigmas(k)).unwrap());
        let worst = KeepBack { corners: Corners::EachAtWorst, ..KeepBack::sigmas(k) };
        prop_assert!(volume(&cavity.largest(worst).unwrap()) <= together + 5.0);
        prop_assert!(volume(&cavity.largest(KeepBack::sigmas(k + more)).unwrap()) <= together + 5.0);
    }

    /// No cuboid nearby, nor any far off, is larger and keeps what is to be kept back.
    #[test]
    fn nothing_larger_fits(seed: u64, off in 0.0..40.0_f64, k in 0.0..2.0_f64) {
        let mut dice = Dice(seed);
        let cavity = taped(hollow(off, &mut dice), 1.0, Frame::default());
        let Usable { space, .. } = cavity.largest(KeepBack::sigmas(k)).unwrap();
        let room = |space: &Space| {
            let vertices = cavity.vertices(space);
            let of_wall = |wall: &super::super::wall::Wall| {
                let rooms = (0..VERTICES).map(|n| wall.distance(vertices[n]) - k * wall.sigma(vertices[n]));
                rooms.fold(f64::INFINITY, f64::min)
            };
            cavity.walls.iter().map(of_wall).fold(f64::INFINITY, f64::min) * cavity.scale
        };
        prop_assert!(room(&space) >= -2e-7, "{} mm of room", room(&space));
        let volume = |space: &Space| space.size().iter().map(|side| side.as_mm()).product::<f64>();
        for reach in [1e-4, 1e-2, 1.0, 10.0] {
            for _ in 0..50 {
                let mut moved = space;
                for end in moved.lo.iter_mut().chain(&mut moved.hi) {
                    *end += Length::from_mm(reach * dice.even());
                }
                if room(&moved) >= 0.0 {
                    prop_assert!(volume(&moved) <= volume(&space) + 5.0, "{moved:?} is larger than {space:?}");
                }
            }
        }
        // The other question agrees: a cuboid of that size has no room to spare anywhere.
        let placed = cavity.roomiest(space.size(), KeepBack::sigmas(k)).unwrap();
        prop_assert!(close(placed.room, Length::ZERO, 5), "{:?}", placed.room);
    }

    /// The gradients against small moves of every coordinate.
    #[test]
    fn gradients_are_what_small_moves_do(seed: u64, base in 0..2, rail in 0..4, hold in 0..2) {
        let corners = hollow(15.0, &mut Dice(seed));
        let frame = Frame {
            base: [Base::Bottom, Base::Top][usize::try_from(base).unwrap()],
            rail: [Rail::Left, Rail::Right, Rail::Front, Rail::Rear][usize::try_from(rail).unwrap()],
            hold: [Hold::Corner, Hold::Middle][usize::try_from(hold).unwrap()],
        };
        let at = |corners: Corners8| Cavity::new(&Shape::exact(corners).unwrap(), frame).unwrap();
        let cavity = at(corners);
        let point = [300.0, 100.0, 50.0];
        // Where the point is when it stays where it is from what it is held from.
        let middle = |cavity: &Cavity, axis: usize| cavity.corners().iter().map(|c| c[axis]).sum::<f64>() / 8.0;
        let distance = |other: &Cavity, wall: usize| {
            let held: [f64; 3] = std::array::from_fn(|axis| match frame.hold {
                Hold::Corner => point[axis],
                Hold::Middle => point[axis] + middle(other, axis) - middle(&cavity, axis),
            });
            other.walls[wall].distance(held.map(|mm| mm / other.scale)) * other.scale
        };
        for n in 0..24 {
            let step = |by: f64| {
                let mut corners = corners;
                corners[n / 3][n % 3] += by;
                at(corners)
            };
            let (less, more) = (step(-1e-2), step(1e-2));
            for wall in 0..12 {
                let slope = (distance(&more, wall) - distance(&less, wall)) / 2e-2;
                let told = cavity.walls[wall].gradient(point.map(|mm| mm / cavity.scale))[n];
                prop_assert!((slope - told).abs() < 1e-6, "wall {wall}, coordinate {n}: {slope}, told {told}");
            }
        }
    }
}
