use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::build::tests::random::{ALL_CORNERS, capped, flanged, open};
use crate::material::Material;
use crate::{
    BendRule, Construction, Corners, Flange, Folding, Frame, Gasket, Held, Joint, Lid, Sheet, Skeleton, Temper, build,
};

const CLASS_B: HeldTo = HeldTo::Class(LengthClass::B);

fn asked(side: Side) -> Asked {
    Asked {
        side,
        leg: None,
        held: CLASS_B,
    }
}

fn steel(mm: i64) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: Length::mm(mm),
    }
}

/// 800 x 400 x 200 inside, walls 2, floor 3.
fn plain(corners: Corners) -> BoxSpec {
    BoxSpec {
        inside: [800, 400, 200].map(Length::mm),
        wall: steel(2),
        floor: steel(3),
        construction: Construction::Welded,
        corners,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}

fn flat(gasket: bool, joint: Joint) -> Lid {
    Lid::Flat {
        sheet: steel(2),
        flange: Some(Flange {
            width: Length::mm(30),
            thickness: Length::mm(4),
            joint,
        }),
        gasket: gasket.then_some(Gasket {
            free: Length::mm(4),
            squeezed: Length::mm(3),
        }),
        fastener: None,
        edge: None,
    }
}

fn welds(spec: &BoxSpec, asked: Asked) -> WeldMap {
    map(spec, &build(spec).unwrap(), asked)
}

// Outside 804 x 404 x 203. A and C: 4 x 200 upright, round the floor 2 (804 + 404). B: 4 x 203, under it 2 (800 + 400).
// D and inside: 4 x 200 and 2 (800 + 400).
#[rstest]
#[case(Corners::LongSidesRun, Side::Outside, 800 + 2416)]
#[case(Corners::EndsRun, Side::Outside, 800 + 2416)]
#[case(Corners::WallsWrapFloor, Side::Outside, 812 + 2400)]
#[case(Corners::CornerToCorner, Side::Outside, 800 + 2400)]
#[case(Corners::LongSidesRun, Side::Inside, 800 + 2400)]
#[case(Corners::WallsWrapFloor, Side::Inside, 800 + 2400)]
fn the_seams_of_a_welded_box(#[case] corners: Corners, #[case] side: Side, #[case] mm: i64) {
    let map = welds(&plain(corners), asked(side));
    assert_eq!(map.welded(), Length::mm(mm));
    assert_eq!(map.count(), 8);
    assert!(
        map.seams
            .iter()
            .all(|seam| seam.run == Run::Full && seam.leg == Length::mm(2))
    );
}

#[test]
fn weld_metal_is_half_the_leg_squared() {
    // 3216 mm of a triangle of 2 mm: 6432 mm3 of 7.85 mg each.
    let map = welds(&plain(Corners::LongSidesRun), asked(Side::Outside));
    assert!((map.metal_g() - 50.4912).abs() < 1e-9);
    let thick = Asked {
        leg: Some(Length::mm(4)),
        ..asked(Side::Outside)
    };
    assert!((welds(&plain(Corners::LongSidesRun), thick).metal_g() - 4.0 * 50.4912).abs() < 1e-9);
}

#[test]
fn a_flange_with_a_gasket_is_welded_full_and_one_without_is_stitched() {
    let spec = |gasket| BoxSpec {
        lid: flat(gasket, Joint::Butt),
        ..plain(Corners::LongSidesRun)
    };
    let sealed = welds(&spec(true), asked(Side::Outside));
    // 3216 of the shell, 4 x 30 across the bars, 2 (804 + 404) under the flange.
    assert_eq!(sealed.welded(), Length::mm(3216 + 120 + 2416));
    let open = welds(&spec(false), asked(Side::Outside));
    // Half of 804 is 402: 14 runs of 30, 774 / 13 apart; half of 404 is 202: 7 runs, 374 / 6 apart.
    let runs: Vec<Run> = open.seams[4..].iter().map(|seam| seam.run).collect();
    let stitch = |runs, nm| Run::Stitch {
        runs,
        each: Length::mm(30),
        pitch: Length::from_nm(nm),
    };
    assert_eq!(runs, [stitch(14, 59_538_461), stitch(7, 62_333_333)]);
    assert_eq!(open.welded(), Length::mm(3216 + 120 + 2 * (14 + 7) * 30));
}

#[test]
fn diagonals_are_those_of_the_outside() {
    let map = welds(&plain(Corners::LongSidesRun), asked(Side::Outside));
    let found: Vec<(u32, f64, Length)> = map
        .diagonals
        .iter()
        .map(|d| (d.count, d.aim.as_mm(), d.within))
        .collect();
    // sqrt(804^2 + 404^2) = 899.796, sqrt(804^2 + 203^2) = 829.232, sqrt(404^2 + 203^2) = 452.134; B: +-3 up to 1 m.
    for ((count, aim, within), (n, mm)) in found.iter().zip([(1, 899.796), (2, 829.232), (2, 452.134)]) {
        assert_eq!((*count, *within), (n, Length::mm(3)));
        assert!((aim - mm).abs() < 5e-4, "{aim} {mm}");
    }
}

#[test]
fn the_shops_own_limits_hold_for_diagonals_too() {
    let own = Asked {
        held: HeldTo::Limits(Length::mm(1)),
        ..asked(Side::Outside)
    };
    let map = welds(&plain(Corners::LongSidesRun), own);
    assert!(map.diagonals.iter().all(|d| d.within == Length::mm(1)));
}

fn folded(lid: Lid) -> BoxSpec {
    BoxSpec {
        floor: steel(2),
        construction: Construction::Folded(Folding {
            radius: Length::mm(3),
            rule: BendRule::Handbook(Temper::HalfHard),
            gap: Length::tenths_mm(5),
            relief: Length::mm(6),
        }),
        lid,
        ..plain(Corners::LongSidesRun)
    }
}

#[test]
fn a_tray_has_its_four_corners_and_the_mitres_of_its_lips() {
    let bare = welds(&folded(Lid::None), asked(Side::Outside));
    assert_eq!(bare.welded(), Length::mm(4 * 202));
    let lip = Lid::Flat {
        sheet: steel(2),
        flange: Some(Flange {
            width: Length::mm(30),
            thickness: Length::mm(2),
            joint: Joint::Butt,
        }),
        gasket: None,
        fastener: None,
        edge: None,
    };
    let lips = welds(&folded(lip), asked(Side::Outside));
    // 30 x 1.414214 = 42.42641
    assert!((lips.welded().as_mm() - (808.0 + 4.0 * 42.426_407)).abs() < 1e-5);
    assert_eq!(lips.count(), 8);
}

#[test]
fn in_a_frame_of_angle_the_angle_is_welded_and_the_panels_are_not() {
    let skeleton = Skeleton {
        leg: Length::mm(30),
        thickness: Length::mm(3),
        grams_per_m: 1_360,
        joint: Joint::Butt,
        held: Held::Bonded,
    };
    let spec = |joint| BoxSpec {
        construction: Construction::Framed(Skeleton { joint, ..skeleton }),
        lid: Lid::Flat {
            sheet: steel(2),
            flange: Some(Flange {
                width: Length::mm(30),
                thickness: Length::mm(3),
                joint,
            }),
            gasket: None,
            fastener: None,
            edge: None,
        },
        ..plain(Corners::LongSidesRun)
    };
    let butt = welds(&spec(Joint::Butt), asked(Side::Outside));
    assert_eq!(butt.order.last(), Some(&Step::Panels(Held::Bonded)));
    assert!(Step::Panels(Held::Bonded).words().contains("heat takes the adhesive"));
    // Two rings of four corners and eight ends of posts, 2 x 30 - 3 each.
    assert_eq!(butt.welded(), Length::mm(16 * 57));
    let no_panel = |seam: &Seam| seam.joins.iter().all(|role| role.form() == crate::Form::Angle);
    assert!(butt.seams.iter().all(no_panel));
    // Over the angle, with 1 mm of adhesive on each side: 812 x 412.
    assert_eq!(butt.diagonals[0].sides, [812, 412].map(Length::mm));
    // Mitred rings: 8 x (30 + 42.42641) and 8 x 57.
    let mitred = welds(&spec(Joint::Mitred), asked(Side::Outside));
    assert!((mitred.welded().as_mm() - (8.0 * 72.426_407 + 456.0)).abs() < 1e-5);
}

#[test]
fn an_angle_under_a_welded_box_is_stitched_to_its_walls() {
    let spec = BoxSpec {
        frame: Some(Frame {
            leg: Length::mm(40),
            thickness: Length::mm(4),
            grams_per_m: 2_420,
            joint: Joint::Butt,
        }),
        ..plain(Corners::LongSidesRun)
    };
    let map = welds(&spec, asked(Side::Outside));
    // 3216 of the shell, 4 x 76 of the ring, 14 and 7 runs of 30 twice.
    assert_eq!(map.welded(), Length::mm(3216 + 304 + 2 * 21 * 30));
}

#[test]
fn corners_are_tacked_first_and_opposite_seams_follow_each_other() {
    let map = welds(&plain(Corners::LongSidesRun), asked(Side::Outside));
    let words: Vec<String> = map.order.iter().map(|step| step.words()).collect();
    // 200 mm: ends and one between; 804: six pitches; 404: three.
    assert_eq!(
        words[..5],
        [
            "tack seam 1, all 4: 3 tacks each, both ends first, opposite ones in turn",
            "tack seam 2, all 2: 7 tacks each, both ends first, opposite ones in turn",
            "tack seam 3, all 2: 4 tacks each, both ends first, opposite ones in turn",
            "measure the diagonals; pull the box square",
            "weld 1a, outside, from the middle out",
        ]
    );
    let welded: Vec<String> = words[4..12].iter().map(|words| words[5..7].to_owned()).collect();
    assert_eq!(welded, ["1a", "1c", "1b", "1d", "2a", "2b", "3a", "3b"]);
    assert_eq!(map.order.last(), Some(&Step::Measure));
}

#[rstest]
#[case(60, Run::Full)]
#[case(61, Run::Stitch { runs: 2, each: Length::mm(30), pitch: Length::mm(31) })]
#[case(120, Run::Stitch { runs: 2, each: Length::mm(30), pitch: Length::mm(90) })]
#[case(121, Run::Stitch { runs: 3, each: Length::mm(30), pitch: Length::from_nm(45_500_000) })]
fn short_seams_are_not_stitched(#[case] mm: i64, #[case] run: Run) {
    assert_eq!(Run::stitch(Length::mm(mm)), run);
}

fn any_box() -> impl Strategy<Value = BoxSpec> {
    prop_oneof![open(), flanged(), capped()].prop_filter("can be built", |spec| build(spec).is_ok())
}

proptest! {
    #[test]
    fn the_shells_seams_are_its_edges(spec in open()) {
        let built = build(&spec).unwrap();
        let edges = |[length, width]: [Length; 2], upright: Length| (length + width) * 2 + upright * 4;
        let inside = edges([spec.inside[0], spec.inside[1]], spec.inside[2]);
        let outside = edges([built.shell[0], built.shell[1]], spec.inside[2]);
        prop_assert_eq!(map(&spec, &built, asked(Side::Inside)).welded(), inside);
        let welded = map(&spec, &built, asked(Side::Outside)).welded();
        match spec.corners {
            Corners::LongSidesRun | Corners::EndsRun => prop_assert_eq!(welded, outside),
            Corners::WallsWrapFloor => prop_assert_eq!(welded, inside + spec.floor.thickness * 4),
            Corners::CornerToCorner => prop_assert_eq!(welded, inside),
        }
        prop_assert!(ALL_CORNERS.contains(&spec.corners));
    }

    #[test]
    fn what_seals_is_full_and_the_rest_is_at_least_half(spec in any_box()) {
        let map = welds(&spec, asked(Side::Outside));
        for seam in &map.seams {
            prop_assert!(seam.length > Length::ZERO, "{seam:?}");
            prop_assert!(!seam.seals || seam.run == Run::Full);
            prop_assert!(seam.run.welded(seam.length) * 2 >= seam.length);
            prop_assert!(seam.run.welded(seam.length) <= seam.length);
            if let Run::Stitch { runs, each, pitch } = seam.run {
                prop_assert!(each > Length::mm(25) && pitch > each);
                let reach = pitch * i64::from(runs - 1) + each;
                prop_assert!(reach <= seam.length && seam.length - reach < Length::from_nm(i64::from(runs)));
            }
        }
    }

    #[test]
    fn every_seam_is_welded_once(spec in any_box()) {
        let map = welds(&spec, asked(Side::Outside));
        let mut welded: Vec<(u32, u32)> = map.order.iter().filter_map(|step| match step {
            Step::Weld { seam, which, .. } => Some((*seam, *which)),
            _ => None,
        }).collect();
        welded.sort_unstable();
        let all: Vec<(u32, u32)> = map.seams.iter()
            .flat_map(|seam| (0..seam.count).map(|which| (seam.number, which)))
            .collect();
        prop_assert_eq!(welded, all);
    }
}

/// Of a box of 8 seams: a divider's three and two brackets' four, numbered behind them, welded after them and counted.
#[test]
fn what_is_added_is_welded_after_the_shell() {
    let spec = plain(Corners::LongSidesRun);
    let mut built = build(&spec).unwrap();
    let divider = crate::added::Divider {
        across: 0,
        places: vec![Length::mm(400)],
        height: Length::mm(150),
        sheet: steel(2),
        loose: false,
        liner: Length::ZERO,
    };
    built.add(divider.group(&spec).unwrap());
    let brackets = crate::added::Brackets {
        wall: crate::Wall::Left,
        places: [200, 600].map(Length::mm).to_vec(),
        up: Length::mm(150),
        reach: crate::added::Reach::Web,
        sheet: steel(5),
        leg: Length::mm(50),
        length: Length::mm(80),
        bolts: 1,
        hole: Length::mm(11),
        under_cap: Length::ZERO,
    };
    built.add(brackets.group(&spec, &built.clone()).unwrap());
    let map = map(&spec, &built, asked(Side::Outside));
    assert_eq!(map.count(), 8 + 3 + 4);
    let told: Vec<(u32, At, Side, Run)> = map.seams[3..].iter().map(|s| (s.number, s.at, s.side, s.run)).collect();
    // Half of 400 is 200: 7 runs of 30, 370 / 6 apart; half of 150: 3 runs, 120 / 2 apart. What carries is full.
    let stitch = |runs, nm| Run::Stitch {
        runs,
        each: Length::mm(30),
        pitch: Length::from_nm(nm),
    };
    assert_eq!(
        told,
        [
            (4, At::Divider, Side::Inside, stitch(7, 61_666_666)),
            (5, At::Divider, Side::Inside, stitch(3, 60_000_000)),
            (6, At::Bracket, Side::Outside, Run::Full),
        ]
    );
    assert_eq!(map.welded(), Length::mm(3216 + 210 + 2 * 90 + 4 * 80));
    assert!(
        map.seams.iter().all(|seam| seam.leg == Length::mm(2)),
        "the thinner of the two sheets"
    );
    let at = |step: &dyn Fn(&Step) -> bool| map.order.iter().position(step).unwrap();
    let last_of_shell = map
        .order
        .iter()
        .rposition(|step| matches!(step, Step::Weld { .. }))
        .unwrap();
    let divider = at(&|step| *step == Step::GoOn(At::Divider));
    let bracket = at(&|step| *step == Step::GoOn(At::Bracket));
    assert!(last_of_shell < divider && divider < bracket);
    assert_eq!(map.order.last(), Some(&Step::Measure));
    let words: Vec<String> = map.order[bracket..].iter().map(|step| step.words()).collect();
    assert!(words[0].contains("bolted to the rail"), "the reason is told");
    assert_eq!(words[2], "weld seam 6, all 4, outside: every other one first");
}

/// The plain box with a step at its front, 250 long and 80 high.
fn with_step(corners: Corners) -> BoxSpec {
    BoxSpec {
        step: Some(crate::Step {
            at: crate::Wall::Front,
            run: Length::mm(250),
            rise: Length::mm(80),
        }),
        ..plain(corners)
    }
}

// By hand: 804 x 404 x 203 outside; corners away from the step, over it, of the riser; deep floor to sides, far end, riser;
// raised floor to sides, end, riser.
#[rstest]
#[case::floor_under(Corners::LongSidesRun, Side::Outside, [200, 120, 77, 554, 404, 404, 250, 404, 404])]
#[case::walls_wrap(Corners::WallsWrapFloor, Side::Outside, [203, 123, 80, 550, 400, 400, 248, 400, 400])]
#[case::corner_to_corner(Corners::CornerToCorner, Side::Outside, [200, 120, 77, 550, 400, 400, 248, 400, 400])]
#[case::inside(Corners::LongSidesRun, Side::Inside, [200, 120, 80, 550, 400, 400, 250, 400, 400])]
fn seams_of_a_box_with_a_step(#[case] corners: Corners, #[case] side: Side, #[case] wanted: [i64; 9]) {
    let welds = welds(&with_step(corners), asked(side));
    let got: Vec<Length> = welds.seams.iter().map(|seam| seam.length).collect();
    assert_eq!(got, wanted.map(Length::mm));
    assert!(welds.seams.iter().all(|seam| seam.seals && seam.run == Run::Full));
    let edge = welds.seams.last().unwrap();
    assert_eq!(
        (edge.at, edge.side, edge.is_fillet()),
        (At::StepEdge, Side::Outside, true)
    );
    let faces: Vec<&str> = welds.diagonals.iter().map(|d| d.face).collect();
    assert_eq!(faces[0], "deep floor, outside");
    assert_eq!(welds.diagonals[2].sides, [404, 80].map(Length::mm));
}

/// 0.8 mm for each joint that a sheet is drawn to, and 0.8 mm in 3 m along.
#[rstest]
#[case::ends_between(Corners::LongSidesRun, [0.0, 1.6, 0.8])]
#[case::sides_between(Corners::EndsRun, [1.6, 0.0, 0.8])]
#[case::floor_between(Corners::WallsWrapFloor, [1.6, 1.6, 0.0])]
#[case::open_groove(Corners::CornerToCorner, [1.6, 1.6, 0.8])]
fn sheets_that_sit_between_others_are_drawn_in(#[case] corners: Corners, #[case] across: [f64; 3]) {
    let spec = plain(corners);
    let built = build(&spec).unwrap();
    let draws = welds(&spec, asked(Side::Outside)).draws_in(&spec).map(Length::as_mm);
    for axis in 0..3 {
        let along = draws[axis] - across[axis];
        let most = 0.8 / 3.0 * built.shell[axis].as_mm() / 1000.0;
        assert!(along > 0.0 && along <= most + 1e-6, "{axis}: {draws:?}");
    }
}
