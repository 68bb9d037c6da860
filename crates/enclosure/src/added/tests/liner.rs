//! The sheets of a liner: what they leave, what holes go through them, how they lie over a step and beside dividers.

use super::*;

/// A box of 897 x 329 x 251.5 mm inside the steel.
fn long_low() -> BoxSpec {
    let mut spec = a_box();
    spec.inside = [Length::mm(897), Length::mm(329), Length::tenths_mm(2_515)];
    spec
}

fn gland(wall: Wall, along: i64, up: i64) -> WallHole {
    WallHole {
        wall,
        along: Length::mm(along),
        up: Length::mm(up),
        diameter: Length::mm(20),
        purpose: Purpose::CableGland,
    }
}

#[test]
fn a_liner_is_a_floor_with_walls_that_stand_on_it() {
    let lined = lining(Length::tenths_mm(15), Vec::new()).group(&long_low()).unwrap();
    let told: Vec<_> = lined
        .group
        .parts
        .iter()
        .map(|part| (part.role, part.quantity, part.length.as_mm(), part.width.as_mm()))
        .collect();
    assert_eq!(
        told,
        [
            (Role::LinerFloor, 1, 897.0, 329.0),
            (Role::LinerSide, 2, 897.0, 250.0),
            (Role::LinerEnd, 2, 326.0, 250.0),
        ]
    );
    // 295 113 + 2 x 224 250 + 2 x 81 500 = 906 613 mm2, 1.5 mm of 1850 kg/m3.
    let grams: f64 = lined
        .group
        .parts
        .iter()
        .map(|p| p.grams() * f64::from(p.quantity))
        .sum();
    assert!((grams - 906_613.0 * 1.5 * 1.85e-3).abs() < 1e-6, "{grams}");
}

#[test]
fn holes_of_fittings_are_carried_to_the_sheets_that_they_go_through() {
    let holes = vec![
        gland(Wall::Rear, 100, 60),
        gland(Wall::Left, 200, 60),
        gland(Wall::Floor, 50, 40),
    ];
    let lined = lining(Length::tenths_mm(15), holes).group(&long_low()).unwrap();
    assert_eq!(lined.in_place, []);
    let of = |role, wall| {
        let part = lined
            .group
            .parts
            .iter()
            .find(|p| p.role == role && p.wall == wall)
            .unwrap();
        let holes: Vec<_> = part.holes.iter().map(|hole| [hole.x.as_mm(), hole.y.as_mm()]).collect();
        (part.quantity, holes)
    };
    // Drawn from inside: the rear end has the left side at its right hand, and the left side the front.
    assert_eq!(of(Role::LinerEnd, Some(Wall::Rear)), (1, vec![[227.5, 58.5]]));
    assert_eq!(of(Role::LinerEnd, Some(Wall::Front)), (1, vec![]));
    assert_eq!(of(Role::LinerSide, Some(Wall::Left)), (1, vec![[697.0, 58.5]]));
    assert_eq!(of(Role::LinerFloor, None).1, [[50.0, 40.0]]);
}

#[test]
fn a_hole_over_the_edge_of_a_sheet_is_cut_in_place() {
    // The foot of the hole is 1 mm above the steel floor, within the floor's sheet.
    let low = gland(Wall::Rear, 100, 11);
    let near = gland(Wall::Left, 200, 60);
    let nearer = gland(Wall::Left, 215, 60);
    let lined = lining(Length::tenths_mm(15), vec![low, near, nearer])
        .group(&long_low())
        .unwrap();
    assert_eq!(lined.in_place, [nearer, low]);
}

#[test]
fn a_liner_that_leaves_nothing_inside_is_refused() {
    let fault = lining(Length::mm(165), Vec::new()).group(&long_low()).unwrap_err();
    assert_eq!(fault.what, "liner, what it leaves of the width");
    assert!(lining(Length::ZERO, Vec::new()).group(&long_low()).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// What the sheets leave is what was told: the inside of the steel less the thickness on floor and walls.
    #[test]
    fn a_liner_leaves_the_inside_that_is_told(spec in any_box(), tenths in 5_i64..60) {
        let t = Length::tenths_mm(tenths);
        let lined = lining(t, Vec::new()).group(&spec).unwrap();
        let [l, w, h] = spec.inside;
        let left = (l - t * 2) * (w - t * 2) * (h - t);
        let taken: Volume = lined.group.pieces.iter().map(|piece| volume(&piece.block)).sum();
        prop_assert_eq!(taken + left, l * w * h);
        let inside = Block { lo: [t, t, t], hi: [l - t, w - t, h] };
        prop_assert!(lined.group.pieces.iter().all(|piece| !piece.block.meets(&inside)));
    }
}

/// 897 x 329 x 251.5 inside, 1.5 mm of liner, 250 of it 80 higher at the front: the deep floor's sheet is what is left of the
/// length, the raised one's reaches over the riser's edge, the riser's stands on the deep one's.
#[test]
fn a_liner_over_a_step_has_sheets_for_both_floors_and_the_riser() {
    let spec = with_step(long_low(), Wall::Front, 250, 80);
    let lined = lining(Length::tenths_mm(15), Vec::new()).group(&spec).unwrap();
    let told: Vec<_> = lined
        .group
        .parts
        .iter()
        .map(|p| (p.role, p.wall, p.quantity, p.length.as_mm(), p.width.as_mm()))
        .collect();
    assert_eq!(
        told,
        [
            (Role::LinerFloor, None, 1, 647.0, 329.0),
            (Role::LinerRaised, None, 1, 251.5, 329.0),
            (Role::LinerRiser, None, 1, 329.0, 78.5),
            (Role::LinerSide, None, 2, 897.0, 250.0),
            (Role::LinerEnd, Some(Wall::Front), 1, 326.0, 170.0),
            (Role::LinerEnd, Some(Wall::Rear), 1, 326.0, 250.0),
        ]
    );
    let notch = lined.group.parts[3].notch().unwrap();
    assert!(!notch.at_far_end);
    assert_eq!(notch.size, [2_515, 800].map(Length::tenths_mm));
    // Across the other axis the ends lack the corner, less the side's sheet that they stand behind.
    let spec = with_step(long_low(), Wall::Left, 100, 80);
    let lined = lining(Length::tenths_mm(15), Vec::new()).group(&spec).unwrap();
    let end = lined.group.parts.iter().find(|p| p.role == Role::LinerEnd).unwrap();
    assert_eq!(end.notch().unwrap().size, [100, 80].map(Length::mm));
}

#[test]
fn holes_of_a_stepped_box_are_carried_to_its_liner() {
    let spec = with_step(long_low(), Wall::Front, 250, 80);
    let riser = gland(Wall::Riser, 100, 40);
    let holes = vec![
        riser,
        gland(Wall::Floor, 100, 40),
        gland(Wall::Floor, 500, 40),
        gland(Wall::Left, 100, 120),
        // In the corner that the sheet lacks for the raised floor's.
        gland(Wall::Right, 200, 85),
    ];
    let lined = lining(Length::tenths_mm(15), holes.clone()).group(&spec).unwrap();
    assert_eq!(lined.in_place, [holes[4]]);
    let of = |role, wall| {
        let mut parts = lined.group.parts.iter();
        let part = parts.find(|p| p.role == role && p.wall == wall).unwrap();
        let holes: Vec<_> = part.holes.iter().map(|hole| [hole.x.as_mm(), hole.y.as_mm()]).collect();
        holes
    };
    assert_eq!(of(Role::LinerRiser, None), [[100.0, 38.5]]);
    assert_eq!(of(Role::LinerRaised, None), [[100.0, 40.0]]);
    assert_eq!(of(Role::LinerFloor, None), [[250.0, 40.0]]);
    assert_eq!(of(Role::LinerSide, Some(Wall::Left)), [[797.0, 118.5]]);
    let left = lined.group.parts.iter().find(|p| p.wall == Some(Wall::Left)).unwrap();
    assert!(
        left.notch().unwrap().at_far_end,
        "from inside, the front is at its right hand"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The same over a step: what is left lacks the block that the step takes of the inside of the liner.
    #[test]
    fn a_liner_over_a_step_leaves_the_inside_that_is_told(
        wall in prop::sample::select(Wall::ALL[..4].to_vec()),
        [run, rise] in [20_i64..300, 20_i64..150],
        tenths in 5_i64..60,
    ) {
        let spec = with_step(long_low(), wall, run, rise);
        let step = spec.step.unwrap();
        let t = Length::tenths_mm(tenths);
        prop_assume!(spec.inside[step.axis()] - step.run > t * 2);
        let lined = lining(t, Vec::new()).group(&spec).unwrap();
        let [l, w, h] = spec.inside;
        let inner = [l - t * 2, w - t * 2, h - t];
        let across = 1 - step.axis();
        let left = inner[0] * inner[1] * inner[2] - step.run * inner[across] * step.rise;
        let whole = l * w * h - step.run * spec.inside[across] * step.rise;
        let taken: Volume = lined.group.pieces.iter().map(|piece| volume(&piece.block)).sum();
        prop_assert_eq!(taken + left, whole);
        // No two of them share anything, and each weighs what its blocks do.
        let pieces = &lined.group.pieces;
        for (index, one) in pieces.iter().enumerate() {
            prop_assert!(pieces[..index].iter().all(|other| !one.block.meets(&other.block)));
        }
        let grams: f64 = lined.group.parts.iter().map(|p| p.grams() * f64::from(p.quantity)).sum();
        let block_mm3 = |block: &Block| sizes(block).map(Length::as_mm).iter().product::<f64>();
        let by_volume = pieces.iter().map(|piece| block_mm3(&piece.block)).sum::<f64>() * 1.85e-3;
        prop_assert!((grams - by_volume).abs() < 1e-6 * grams, "{grams} against {by_volume}");
    }
}

/// A box 600 long with dividers of 2 mm from 200 and 400 on: sheets 200, 198 and 198 long, of the floor as wide as the box, of the
/// long sides two of each; a hole is in the sheet that it lies over.
#[test]
fn a_liner_is_parted_by_dividers() {
    let spec = a_box();
    let hole = WallHole {
        wall: Wall::Left,
        along: Length::mm(300),
        up: Length::mm(100),
        diameter: Length::mm(20),
        purpose: Purpose::CableGland,
    };
    let lining = Lining {
        dividers: [[200, 202], [400, 402]].map(|range| range.map(Length::mm)).to_vec(),
        ..lining(Length::mm(2), vec![hole])
    };
    let lined = lining.group(&spec).unwrap();
    assert_eq!(lined.in_place, []);
    let told: Vec<(Role, Option<Wall>, u32, f64, usize)> = lined
        .group
        .parts
        .iter()
        .map(|part| {
            (
                part.role,
                part.wall,
                part.quantity,
                part.length.as_mm(),
                part.holes.len(),
            )
        })
        .collect();
    // A floor's sheet keeps the direction of the box: its pieces are 300 wide.
    assert_eq!(
        told,
        [
            (Role::LinerFloor, None, 1, 200.0, 0),
            (Role::LinerFloor, None, 2, 198.0, 0),
            (Role::LinerSide, None, 2, 200.0, 0),
            (Role::LinerSide, Some(Wall::Left), 1, 198.0, 1),
            (Role::LinerSide, Some(Wall::Right), 1, 198.0, 0),
            (Role::LinerSide, None, 2, 198.0, 0),
            (Role::LinerEnd, None, 2, 296.0, 0),
        ]
    );
    for piece in &lined.group.pieces {
        for [lo, hi] in [[200, 202], [400, 402]].map(|range| range.map(Length::mm)) {
            assert!(piece.block.hi[0] <= lo || piece.block.lo[0] >= hi, "{piece:?}");
        }
    }
    let left = &lined.group.parts[3];
    assert_eq!(
        left.holes[0].x,
        Length::mm(100),
        "drawn from inside, 400 - 300 runs back"
    );
}

/// A box 600 x 300 x 200 lined by 10: a divider that comes out again is 280 long and stands on the liner, 190 high at most.
#[test]
fn a_loose_divider_stands_within_the_liner() {
    let spec = a_box();
    let divider = |height| Divider {
        across: 0,
        places: vec![Length::mm(200)],
        height: Length::mm(height),
        sheet: steel(Length::mm(2)),
        loose: true,
        liner: Length::mm(10),
    };
    let group = divider(100).group(&spec).unwrap();
    assert_eq!(group.parts[0].length, Length::mm(280));
    let block = &group.pieces[0].block;
    assert_eq!(
        [block.lo, block.hi],
        [[200, 10, 10].map(Length::mm), [202, 290, 110].map(Length::mm)]
    );
    assert_eq!(spec.inside[2], Length::mm(200));
    assert!(divider(190).group(&spec).is_ok() && divider(191).group(&spec).is_err());
}

/// The ends' sheets stand between the sides', from 12 to 288: a hole whose middle is 10 from the corner is on neither, and is cut
/// in place.
#[test]
fn a_hole_at_the_end_of_a_sheet_is_cut_in_place() {
    let spec = a_box();
    for along in [10, 290] {
        let hole = WallHole {
            wall: Wall::Front,
            along: Length::mm(along),
            up: Length::mm(100),
            diameter: Length::mm(8),
            purpose: Purpose::CableGland,
        };
        let lined = lining(Length::mm(12), vec![hole]).group(&spec).unwrap();
        assert_eq!(lined.in_place, [hole]);
    }
}
