//! Holes of walls, put back into the box from the pieces they were drawn on.

use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

use super::folded::folded;
use super::random::flanged;
use super::{part, plain};
use crate::bend::Bend;
use crate::build::build_with;
use crate::{BoxSpec, Built, Construction, Corners, Part, Purpose, Role, SpecError, Wall, WallHole};

/// A hole in a wall of a box, somewhere on its flat.
fn pierced(specs: impl Strategy<Value = BoxSpec>) -> impl Strategy<Value = (BoxSpec, WallHole)> {
    let wall = proptest::sample::select(Wall::ALL.to_vec());
    (specs, wall, 0.0..1.0_f64, 0.0..1.0_f64, 5..40_i64).prop_filter_map(
        "a wall with room for it",
        |(spec, wall, across, high, diameter)| {
            let diameter = Length::mm(diameter);
            let [along, up] = *spec.hole_rooms(wall, diameter).last()?;
            let within = |range: [Length; 2], share: f64| {
                range[0] + Length::from_mm((range[1] - range[0]).as_mm() * share * 0.999)
            };
            let hole = WallHole {
                wall,
                along: within(along, across),
                up: within(up, high),
                diameter,
                purpose: Purpose::CableGland,
            };
            Some((spec, hole))
        },
    )
}

fn with(spec: &BoxSpec, holes: &[WallHole]) -> Built {
    build_with(spec, holes).unwrap()
}

/// The one hole of the pieces that is as told, with the piece it is in.
fn found<'a>(built: &'a Built, told: &WallHole, roles: &[Role]) -> (&'a Part, [f64; 2]) {
    let plain = |part: &Part| part.wall.is_none_or(|wall| wall == told.wall);
    let mut all = built.parts.iter().filter(|p| roles.contains(&p.role) && plain(p));
    let part = all.next().unwrap();
    let hole = part.holes.iter().find(|hole| hole.diameter == told.diameter).unwrap();
    (part, [hole.x.as_mm(), hole.y.as_mm()])
}

/// Where a told hole is in the box: from the front, the left, the floor, inside.
fn told_place(spec: &BoxSpec, hole: &WallHole) -> [f64; 3] {
    let [length, width, depth] = spec.inside.map(Length::as_mm);
    let (along, up) = (hole.along.as_mm(), hole.up.as_mm());
    match hole.wall {
        Wall::Front => [0.0, along, up],
        Wall::Rear => [length, along, up],
        Wall::Left => [along, 0.0, up],
        Wall::Right => [along, width, up],
        Wall::Floor => [along, up, 0.0],
        Wall::Lid => [along, up, depth],
        Wall::Riser => unreachable!("a box without a step"),
    }
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn outward(wall: Wall) -> [f64; 3] {
    match wall {
        Wall::Front => [-1.0, 0.0, 0.0],
        Wall::Rear => [1.0, 0.0, 0.0],
        Wall::Left => [0.0, -1.0, 0.0],
        Wall::Right => [0.0, 1.0, 0.0],
        Wall::Floor => [0.0, 0.0, -1.0],
        Wall::Lid => [0.0, 0.0, 1.0],
        Wall::Riser => unreachable!("a box without a step"),
    }
}

/// A point seen `right` and `up` of the middle of the box by somebody who faces `facing` with `upward` overhead.
fn seen(spec: &BoxSpec, facing: [f64; 3], upward: [f64; 3], [right, up]: [f64; 2]) -> [f64; 3] {
    let rightward = cross(facing, upward);
    let middle = spec.inside.map(|side| side.as_mm() / 2.0);
    [0, 1, 2].map(|axis| middle[axis] + rightward[axis] * right + upward[axis] * up)
}

/// What points up the page when the longer side lies across it.
fn page_up(spec: &BoxSpec, facing: [f64; 3]) -> [f64; 3] {
    let long = if spec.long_axis() == 0 {
        [1.0, 0.0, 0.0]
    } else {
        [0.0, 1.0, 0.0]
    };
    // right = facing x up, so up = right x facing.
    cross(long, facing)
}

fn near(got: [f64; 3], wanted: [f64; 3], axes: &[usize]) -> Result<(), TestCaseError> {
    for &axis in axes {
        prop_assert!((got[axis] - wanted[axis]).abs() < 1e-5, "{:?} is not {:?}", got, wanted);
    }
    Ok(())
}

const UP: [f64; 3] = [0.0, 0.0, 1.0];

fn panels(spec: &BoxSpec, hole: &WallHole) -> Result<(), TestCaseError> {
    let built = with(spec, std::slice::from_ref(hole));
    let level = [Role::Floor, Role::LidPlate];
    let wanted = told_place(spec, hole);
    match hole.wall {
        Wall::Floor | Wall::Lid => {
            let (part, [x, y]) = found(&built, hole, &[level[usize::from(hole.wall == Wall::Lid)]]);
            let from_middle = [x - part.length.as_mm() / 2.0, y - part.width.as_mm() / 2.0];
            let facing = [0.0, 0.0, -1.0];
            near(seen(spec, facing, page_up(spec, facing), from_middle), wanted, &[0, 1])
        }
        _ => {
            let across = usize::from(matches!(hole.wall, Wall::Left | Wall::Right));
            let role = if across == spec.long_axis() {
                Role::End
            } else {
                Role::LongSide
            };
            let (part, [x, y]) = found(&built, hole, &[role]);
            prop_assert_eq!(part.quantity, 1);
            // The upper edge is the rim.
            let below_rim = part.width.as_mm() - y;
            let up = spec.inside[2].as_mm() / 2.0 - below_rim;
            let place = seen(spec, outward(hole.wall), UP, [x - part.length.as_mm() / 2.0, up]);
            near(place, wanted, &[1 - across, 2])
        }
    }
}

proptest! {
    #[test]
    fn a_hole_in_a_panel_is_where_it_was_told((spec, hole) in pierced(flanged())) {
        panels(&spec, &hole)?;
    }

    /// The walls are turned up round the middle line of their bend: what is beyond it on the sheet is the wall's height.
    #[test]
    fn a_hole_in_a_tray_is_where_it_was_told((spec, hole) in pierced(folded())) {
        let Construction::Folded(folding) = spec.construction else { unreachable!() };
        let built = with(&spec, &[hole]);
        let wanted = told_place(&spec, &hole);
        if hole.wall == Wall::Lid {
            let (part, [x, y]) = found(&built, &hole, &[Role::LidPlate, Role::PanLid]);
            let facing = [0.0, 0.0, if part.role == Role::PanLid { 1.0 } else { -1.0 }];
            let from_middle = [x - part.length.as_mm() / 2.0, y - part.width.as_mm() / 2.0];
            return near(seen(&spec, facing, page_up(&spec, facing), from_middle), wanted, &[0, 1]);
        }
        let (part, [x, y]) = found(&built, &hole, &[Role::Tray]);
        let (length, width) = (part.length.as_mm(), part.width.as_mm());
        let facing = [0.0, 0.0, -1.0];
        let flat = seen(&spec, facing, page_up(&spec, facing), [x - length / 2.0, y - width / 2.0]);
        if hole.wall == Wall::Floor {
            return near(flat, wanted, &[0, 1]);
        }
        let out = outward(hole.wall);
        let across = usize::from(out[0] == 0.0);
        near(flat, wanted, &[1 - across])?;
        // Beyond the inside corner on the flat sheet; the bend takes two radii of it and gives its allowance.
        let beyond = (flat[across] - wanted[across]) * out[across];
        let bend = Bend::square(folding.radius, spec.wall.thickness, folding.rule);
        let up = beyond - bend.allowance().as_mm() + folding.radius.as_mm() * 2.0;
        prop_assert!((up - wanted[2]).abs() < 1e-5, "{} is not {}", up, wanted[2]);
    }

    #[test]
    fn a_hole_changes_no_size_and_takes_a_disc_of_the_sheet((spec, hole) in pierced(prop_oneof![flanged(), folded()])) {
        let (bare, holed) = (with(&spec, &[]), with(&spec, &[hole]));
        prop_assert_eq!(bare.overall, holed.overall);
        let part = holed.parts.iter().find(|part| part.holes_for(hole.purpose).next().is_some()).unwrap();
        let disc = hole.diameter.as_mm().powi(2) * std::f64::consts::FRAC_PI_4 * part.sheet.thickness.as_mm();
        prop_assert!((bare.grams - holed.grams - disc * 7850.0 / 1e6).abs() < 1e-6);
        prop_assert_eq!(bare.holes_after_welding(), holed.holes_after_welding());
        let pieces = |built: &Built| built.parts.iter().map(|part| part.quantity).sum::<u32>();
        prop_assert_eq!(pieces(&bare), pieces(&holed));
    }
}

fn hole(wall: Wall, along: i64, up: i64) -> WallHole {
    WallHole {
        wall,
        along: Length::mm(along),
        up: Length::mm(up),
        diameter: Length::mm(40),
        purpose: Purpose::CableGland,
    }
}

#[test]
fn the_wall_across_stays_as_it_was() {
    let built = with(&plain(), &[hole(Wall::Left, 100, 50)]);
    let sides: Vec<_> = built.parts.iter().filter(|part| part.role == Role::LongSide).collect();
    assert_eq!(sides.len(), 2);
    assert_eq!((sides[0].wall, sides[0].holes.len()), (Some(Wall::Left), 1));
    assert_eq!((sides[1].wall, sides[1].holes.len()), (Some(Wall::Right), 0));
    // 804 mm long; 100 mm from the front inside is 102 from its end, and from inside the front is at the right.
    assert_eq!([sides[0].holes[0].x, sides[0].holes[0].y], [702, 50].map(Length::mm));
    assert_eq!(part(&built, Role::End).quantity, 2);
}

#[rstest]
#[case::runs_off_the_end(&[hole(Wall::Front, 19, 100)], 0)]
#[case::runs_into_the_rim(&[hole(Wall::Front, 100, 181)], 0)]
#[case::in_no_lid(&[hole(Wall::Floor, 100, 100), hole(Wall::Lid, 100, 100)], 1)]
#[case::meets_another(&[hole(Wall::Left, 100, 100), hole(Wall::Rear, 100, 100), hole(Wall::Left, 140, 100)], 2)]
fn a_hole_that_cannot_be_is_refused(#[case] holes: &[WallHole], #[case] which: usize) {
    let (index, fault) = plain().check_holes(holes).unwrap_err();
    assert_eq!(index, which, "{fault}");
    assert_eq!(build_with(&plain(), holes).unwrap_err(), fault);
}

#[test]
fn a_refusal_says_where_the_middle_may_lie() {
    let (_, fault) = plain().check_holes(&[hole(Wall::Front, 19, 100)]).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "a hole of 40 mm in the front must have its middle 20 to 380 mm along it and 20 to 180 mm up it"
    );
    assert!(matches!(fault, SpecError::HoleOffWall { .. }));
    // 40 mm is 1.575 in; 20, 380 and 180 mm are 0.79, 14.96 and 7.09 in: up where it begins, down where it ends.
    assert_eq!(
        fault.words(tape::Units::Inch),
        "a hole of 1.575\" (40.0 mm) in the front must have its middle 13/16\" to 14 15/16\" along it and 13/16\" to \
         7 1/16\" up it"
    );
}

/// Two holes that just do not touch are let be; so are the same places on two walls.
#[test]
fn holes_may_be_neighbours() {
    let holes = [
        hole(Wall::Left, 100, 100),
        hole(Wall::Left, 141, 100),
        hole(Wall::Right, 100, 100),
    ];
    assert_eq!(plain().check_holes(&holes), Ok(()));
}

#[test]
fn corner_to_corner_panels_have_their_holes_too() {
    let spec = BoxSpec {
        corners: Corners::CornerToCorner,
        ..plain()
    };
    let built = with(&spec, &[hole(Wall::Right, 100, 50)]);
    let side = part(&built, Role::LongSide);
    assert_eq!([side.holes[0].x, side.holes[0].y], [100, 50].map(Length::mm));
}
