use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::{BoxSpec, Construction, Corners, Fastener, Flange, Frame, Gasket, Joint, Lid, build};

fn steel(thickness: i64) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: Length::mm(thickness),
    }
}

fn open_box(inside: [i64; 3], wall: i64, corners: Corners) -> BoxSpec {
    BoxSpec {
        inside: inside.map(Length::mm),
        wall: steel(wall),
        floor: steel(3),
        construction: Construction::Welded,
        corners,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}

fn flanged() -> Built {
    let lid = Lid::Flat {
        sheet: steel(2),
        flange: Some(Flange {
            width: Length::mm(25),
            thickness: Length::mm(3),
            joint: Joint::Butt,
        }),
        gasket: Some(Gasket {
            free: Length::mm(6),
            squeezed: Length::mm(4),
        }),
        fastener: None,
        edge: None,
    };
    let frame = Frame {
        leg: Length::mm(40),
        thickness: Length::mm(4),
        grams_per_m: 2_420,
        joint: Joint::Mitred,
    };
    let body = open_box([897, 329, 245], 3, Corners::LongSidesRun);
    build(&BoxSpec {
        lid,
        frame: Some(frame),
        ..body
    })
    .unwrap()
}

fn capped() -> Built {
    let lid = Lid::Cap {
        sheet: steel(2),
        out: Length::mm(4),
        deep: Length::mm(40),
        gasket: None,
        hold: None,
    };
    build(&BoxSpec {
        lid,
        ..open_box([601, 717, 310], 3, Corners::LongSidesRun)
    })
    .unwrap()
}

fn listed<'a>(name: &'a str, built: &'a Built, count: u32) -> ListedBox<'a> {
    ListedBox { name, built, count }
}

fn marks(table: &Table) -> Vec<&str> {
    table.lines.iter().map(|line| line.mark.as_str()).collect()
}

#[test]
fn one_table_for_each_stock_longest_parts_first() {
    let (left, rear) = (flanged(), capped());
    let list = cut_list(
        &[listed("left", &left, 2), listed("rear", &rear, 1)],
        Fineness::Sixteenth,
    );
    let tables: Vec<(String, Vec<&str>)> = list.tables.iter().map(|table| (table.label(), marks(table))).collect();
    let expected = [
        ("mild steel 2 mm sheet", vec!["A6", "B4", "B5", "B6"]),
        ("mild steel 3 mm sheet", vec!["A1", "A2", "B1", "B2", "B3", "A3"]),
        ("mild steel 25 x 3 mm flat bar", vec!["A4", "A5"]),
        ("mild steel 40 x 40 x 4 mm angle", vec!["A7", "A8"]),
    ];
    assert_eq!(tables, expected.map(|(label, marks)| (label.to_owned(), marks)));
    let floor = &list.tables[1].lines[0];
    assert_eq!(
        (floor.name.as_str(), floor.quantity, floor.bends.len()),
        ("floor", 2, 0)
    );
    assert_eq!(floor.box_name, "left");
}

#[test]
fn totals_are_those_of_the_boxes() {
    let (left, rear) = (flanged(), capped());
    let list = cut_list(
        &[listed("left", &left, 2), listed("rear", &rear, 1)],
        Fineness::Sixteenth,
    );
    assert!((list.grams - 2.0 * left.grams - rear.grams).abs() < 1e-6);
    // Bars of the flange: two boxes, two of 953 and two of 335 each.
    let bars = &list.tables[2];
    assert_eq!(bars.length, Length::mm(2 * 2 * (953 + 335)));
    assert_eq!(bars.pieces, 8);
    // The 2 mm sheets: a lid of 953 x 385 twice; a cap of 731 x 615 with its skirt 38 deep.
    let skirt = 2 * 38 * (731 + 615 - 4);
    let gross = f64::from(2 * 953 * 385 + 731 * 615 + skirt);
    assert!((list.tables[0].net_m2() * 1e6 - gross).abs() < 1e-3);
}

#[test]
fn like_parts_of_one_box_share_a_mark() {
    let cube = build(&open_box([400, 400, 300], 3, Corners::CornerToCorner)).unwrap();
    let list = cut_list(&[listed("cube", &cube, 1)], Fineness::Sixteenth);
    let [table] = &list.tables[..] else { panic!("one sheet") };
    assert_eq!(marks(table), ["A1", "A2"]);
    let sides = &table.lines[1];
    assert_eq!((sides.name.as_str(), sides.quantity), ("long side, end", 4));
    assert!((list.grams - cube.grams).abs() < 1e-6);
}

#[test]
fn parts_of_another_sheet_or_with_holes_have_their_own_mark() {
    let names = |spec: &BoxSpec| {
        let built = build(spec).unwrap();
        let list = cut_list(&[listed("box", &built, 1)], Fineness::Sixteenth);
        let lines = list.tables.into_iter().flat_map(|table| table.lines);
        lines.map(|line| line.name).collect::<Vec<_>>()
    };
    // A cube, every panel 400 x 400, on a floor of 3 mm.
    let cube = open_box([400, 400, 400], 3, Corners::CornerToCorner);
    assert_eq!(names(&cube), ["floor, long side, end"]);
    let thin_walls = BoxSpec { wall: steel(2), ..cube };
    assert_eq!(names(&thin_walls), ["long side, end", "floor"]);
    // A lid as large as the floor.
    let lid = |fastener| Lid::Flat {
        sheet: steel(3),
        flange: None,
        gasket: None,
        fastener,
        edge: Some(Length::mm(15)),
    };
    let lidded = open_box([800, 400, 200], 3, Corners::LongSidesRun);
    let plain = BoxSpec {
        lid: lid(None),
        ..lidded
    };
    assert_eq!(names(&plain), ["floor, lid plate", "long side", "end"]);
    let screw = Fastener {
        diameter: Length::mm(6),
        hole: Length::mm(7),
        head_height: Length::mm(6),
        below: Length::mm(10),
        most_pitch: Length::mm(100),
    };
    let screwed = BoxSpec {
        lid: lid(Some(screw)),
        ..lidded
    };
    assert_eq!(names(&screwed), ["floor", "lid plate", "long side", "end"]);
    // The lid with its holes of 7 mm off: 38.4845 mm2 each.
    let built = build(&screwed).unwrap();
    let list = cut_list(&[listed("box", &built, 1)], Fineness::Sixteenth);
    let mut lines = list.tables.iter().flat_map(|table| &table.lines);
    let lid = lines.find(|line| line.name == "lid plate").unwrap();
    let gross = lid.length.exact.as_mm() * lid.width.exact.as_mm();
    let holes: f64 = lid.holes.iter().map(|_| 38.484_51).sum();
    assert!(holes > 0.0 && (lid.net_mm2() - gross + holes).abs() < 1e-2);
}

#[test]
fn a_box_of_which_there_are_none_keeps_its_letter_only() {
    let (left, rear) = (flanged(), capped());
    let list = cut_list(
        &[listed("left", &left, 0), listed("rear", &rear, 1)],
        Fineness::Sixteenth,
    );
    assert_eq!(list.boxes.len(), 2);
    let mut lines = list.tables.iter().flat_map(|table| &table.lines);
    assert!(lines.all(|line| line.mark.starts_with('B')));
}

#[rstest]
// 25 letters: H is that of holes.
#[case(0, "A")]
#[case(6, "G")]
#[case(7, "I")]
#[case(24, "Z")]
#[case(25, "AA")]
#[case(26, "AB")]
#[case(25 + 25 * 25, "AAA")]
fn boxes_are_lettered(#[case] index: usize, #[case] expected: &str) {
    assert_eq!(letter(index), expected);
}

#[test]
fn parts_for_a_space_round_down_and_a_cap_rounds_up() {
    let line = |built: &Built, role| {
        let list = cut_list(&[listed("box", built, 1)], Fineness::Sixteenth);
        let mut lines = list.tables.into_iter().flat_map(|table| table.lines);
        lines.find(|line| line.roles.contains(&role)).unwrap()
    };
    let sixteenths = |n: i64| Length::sixty_fourths(4 * n);
    // 903 mm = 568.82 sixteenths.
    let floor = line(&flanged(), Role::Floor);
    assert_eq!(floor.length.inches, sixteenths(568));
    assert_eq!(floor.length.direction, Rounding::Down);
    assert_eq!(floor.length.tenth_mm, Length::mm(903));
    // 731 mm = 460.47, skirt 38 mm = 23.94 sixteenths.
    let skirt = line(&capped(), Role::SkirtLong);
    assert_eq!(skirt.length.inches, sixteenths(461));
    assert_eq!(skirt.width.inches, sixteenths(23));
    // A flat lid, 953 mm = 600.31, goes into a space; a cap's plate goes over the body.
    assert_eq!(line(&flanged(), Role::LidPlate).length.inches, sixteenths(600));
    assert_eq!(
        line(&capped(), Role::LidPlate).width.inches,
        sixteenths(388),
        "615 mm = 387.4"
    );
    // 25 mm bar is bought as that.
    let bar = line(&flanged(), Role::FlangeLong);
    assert_eq!([bar.width.inches, bar.width.tenth_mm], [Length::mm(25); 2]);
    // A 7 mm hole is 4.41 sixteenths.
    assert_eq!(Rounded::hole(Length::mm(7), Fineness::Sixteenth).inches, sixteenths(5));
}

#[test]
fn a_size_on_a_mark_loses_nothing() {
    let inch_box = BoxSpec {
        inside: [30, 12, 9].map(Length::inches),
        wall: Sheet {
            thickness: Length::sixty_fourths(8),
            ..steel(3)
        },
        ..open_box([1, 1, 1], 3, Corners::LongSidesRun)
    };
    let built = build(&inch_box).unwrap();
    assert_eq!(
        rounding_loss(&built, Fineness::Sixteenth)[2],
        Length::from_nm(0),
        "9 in = 228.6 mm"
    );
    assert_eq!(rounding_growth(&built, Fineness::Sixteenth), [Length::ZERO; 3]);
}

proptest! {
    #[test]
    fn rounded_sizes_never_invent_room(
        inside in [60_000_000..2_000_000_000_i64, 60_000_000..2_000_000_000, 60_000_000..600_000_000],
        wall in 1_000_000..8_000_000_i64,
        floor in 1_000_000..8_000_000_i64,
        corners in prop::sample::select(vec![
            Corners::LongSidesRun, Corners::WallsWrapFloor, Corners::EndsRun, Corners::CornerToCorner,
        ]),
        capped in any::<bool>(),
        fineness in prop::sample::select(vec![Fineness::Sixteenth, Fineness::ThirtySecond]),
    ) {
        let sheet = |nm| Sheet { material: Material::MildSteel, thickness: Length::from_nm(nm) };
        let lid = Lid::Cap { sheet: steel(2), out: Length::mm(2), deep: Length::mm(30), gasket: None, hold: None };
        let spec = BoxSpec {
            inside: inside.map(Length::from_nm),
            wall: sheet(wall),
            floor: sheet(floor),
            construction: Construction::Welded,
            corners,
            lid: if capped { lid } else { Lid::None },
            frame: None,
            step: None,
        };
        let built = build(&spec).unwrap();
        let loss = rounding_loss(&built, fineness);
        let growth = rounding_growth(&built, fineness);
        let part = |role| built.parts.iter().find(|part| part.role == role).unwrap();
        // What a box cut to the rounded sizes measures, worked out from the panels that decide it.
        for unit in [|size: Rounded| size.inches, |size: Rounded| size.tenth_mm] {
            let cut = |role| Rounded::of_part(part(role), &built, fineness).map(unit);
            let [side_length, side_height] = cut(Role::LongSide);
            let [end_length, end_height] = cut(Role::End);
            let walls = spec.wall.thickness * 2;
            let (long, short) = match corners {
                Corners::LongSidesRun | Corners::WallsWrapFloor => (side_length - walls, end_length),
                Corners::EndsRun => (side_length, end_length - walls),
                Corners::CornerToCorner => (side_length, end_length),
            };
            let below = if corners == Corners::WallsWrapFloor { spec.floor.thickness } else { Length::ZERO };
            let depth = side_height.min(end_height) - below;
            let axis = spec.long_axis();
            for (axis, size) in [(axis, long), (1 - axis, short), (2, depth)] {
                prop_assert!(size <= spec.inside[axis]);
                prop_assert!(spec.inside[axis] - size <= loss[axis]);
                prop_assert!(loss[axis] < fineness.step());
            }
            if capped {
                let [plate_length, plate_width] = cut(Role::LidPlate);
                for (axis, size) in [(axis, plate_length), (1 - axis, plate_width)] {
                    // Out by the sheet's own thickness: no play, yet it goes over the body.
                    prop_assert!(size - Length::mm(4) >= built.shell[axis]);
                    prop_assert!(size - built.overall[axis] <= growth[axis]);
                    prop_assert!(growth[axis] < fineness.step());
                }
                // Short strips stand between the long ones.
                let across = cut(Role::SkirtShort)[0] + Length::mm(4) - built.overall[1 - axis];
                prop_assert!(across <= growth[1 - axis]);
            } else {
                prop_assert_eq!(growth, [Length::ZERO; 3]);
            }
        }
    }

    #[test]
    fn every_mark_is_on_one_line_only(counts in prop::collection::vec(1..4_u32, 1..40)) {
        let built = flanged();
        let boxes: Vec<_> = counts.iter().map(|&count| listed("box", &built, count)).collect();
        let list = cut_list(&boxes, Fineness::Sixteenth);
        let mut marks: Vec<_> =
            list.tables.iter().flat_map(|table| &table.lines).map(|line| &line.mark).collect();
        let lines = marks.len();
        marks.sort_unstable();
        marks.dedup();
        prop_assert_eq!(marks.len(), lines);
        for table in &list.tables {
            prop_assert!(table.lines.is_sorted_by(|a, b| a.length.exact >= b.length.exact));
        }
    }
}

/// A butted foot of L 30 x 30 x 3 meets a long bar whose foot reaches 30 - 3 = 27 mm in from its upright leg and is 3 thick.
#[test]
fn a_cope_is_as_long_and_deep_as_the_foot_it_stands_on() {
    let mut spec = open_box([500, 300, 200], 3, Corners::LongSidesRun);
    spec.frame = Some(Frame {
        leg: Length::mm(30),
        thickness: Length::mm(3),
        grams_per_m: 1_360,
        joint: Joint::Butt,
    });
    let built = build(&spec).unwrap();
    let list = cut_list(&[listed("box", &built, 1)], Fineness::Sixteenth);
    let lines: Vec<&Line> = list.tables.iter().flat_map(|table| &table.lines).collect();
    let copes: Vec<(Role, Cope)> = lines.iter().filter_map(|l| Some((l.roles[0], l.cope()?))).collect();
    let [(Role::FrameShort, cope)] = copes[..] else {
        panic!("{copes:?}")
    };
    assert_eq!([cope.length, cope.depth], [Length::mm(27), Length::mm(3)]);
    assert_eq!(cope.root, Length::mm(5), "EN 10056-1: the root of L 30 x 30 x 3");
    let short = lines.iter().find(|line| line.cope().is_some()).unwrap();
    assert_eq!(short.machine(crate::nest::sheets::Cutting::Free), "saw, cope");
}
