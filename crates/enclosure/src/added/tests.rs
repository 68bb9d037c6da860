//! What is added to boxes of every construction, put together again.

mod every_box;
mod liner;

use proptest::prelude::*;
use rstest::rstest;
use tape::{Length, Volume};

use super::*;
use crate::build::tests::folded::folded;
use crate::build::tests::framed::framed;
use crate::build::tests::random::{capped, flanged, length, open};
use crate::cutlist::{Fineness, ListedBox, cut_list};
use crate::liner::Liner;
use crate::material::Material;
use crate::{Construction, Form, Purpose, RivetHeads, WallHole, build};

/// A box of any construction and lid.
fn any_box() -> impl Strategy<Value = BoxSpec> {
    prop_oneof![open(), flanged(), capped(), folded(), framed()]
}

fn steel(thickness: Length) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness,
    }
}

fn brackets(wall: Wall, reach: Reach) -> Brackets {
    Brackets {
        wall,
        places: Vec::new(),
        up: Length::ZERO,
        reach,
        sheet: steel(Length::mm(4)),
        leg: Length::mm(30),
        length: Length::mm(25),
        bolts: 1,
        hole: Length::mm(9),
        under_cap: Length::ZERO,
    }
}

fn hold_down(spec: &BoxSpec, bar: Bar, fixed: Fixed) -> HoldDown {
    let along = 1 - spec.long_axis();
    HoldDown {
        along,
        places: spread_evenly(1, spec.inside[1 - along]),
        unders: vec![spec.inside[2] - Length::mm(35)],
        sheet: steel(Length::mm(4)),
        bar,
        fixed,
        thread: Length::mm(6),
        play: Length::mm(1),
    }
}

const LUGS: Fixed = Fixed::Lugs {
    leg: Length::mm(20),
    thickness: Length::mm(3),
    gap: Length::mm(2),
};

fn clamp(spec: &BoxSpec, along: usize, rods: u32) -> Clamp {
    let mut stack = Block {
        lo: [Length::mm(2); 3],
        hi: spec.inside,
    };
    stack.hi[2] = spec.inside[2] - Length::mm(1);
    Clamp {
        stack,
        along,
        plate: steel(Length::mm(6)),
        rod_end: Length::mm(8),
        rods,
        thread: Length::mm(6),
        inset: Length::mm(9),
    }
}

fn stiffeners(spec: &BoxSpec, count: u32, over: bool) -> Stiffeners {
    Stiffeners {
        places: spread_evenly(count, spec.inside[spec.long_axis()]),
        over,
        leg: Length::mm(20),
        sheet: steel(Length::mm(3)),
        play: Length::mm(2),
        joined: Joined::Welded,
    }
}

fn floor_rails(spec: &BoxSpec, along: usize, count: u32) -> FloorRails {
    FloorRails {
        along,
        places: spread_evenly(count, spec.inside[1 - along]),
        leg: Length::mm(20),
        sheet: steel(Length::mm(3)),
        joined: Joined::Welded,
    }
}

/// A box folded of 2 mm sheet instead, bends of radius 2.
fn bent(spec: &BoxSpec) -> BoxSpec {
    let folding = crate::Folding {
        radius: Length::mm(2),
        rule: crate::BendRule::K(0.44),
        gap: Length::ZERO,
        relief: Length::mm(4),
    };
    BoxSpec {
        construction: Construction::Folded(folding),
        wall: steel(Length::mm(2)),
        floor: steel(Length::mm(2)),
        ..*spec
    }
}

/// A plate of 30 mm in the middle of a wall, a narrower one where the wall is low.
fn eye_plate(spec: &BoxSpec, wall: Wall) -> EyePlate {
    let [length, width, height] = spec.inside.map(Length::half_down);
    EyePlate {
        wall,
        at: match wall {
            Wall::Front | Wall::Rear => [width, height],
            Wall::Floor | Wall::Lid => [length, width],
            _ => [length, height],
        },
        side: Length::mm(30).min(height),
        hole: Length::mm(13).min(height.half_down()),
        play: Length::ZERO,
        sheet: steel(Length::mm(4)),
    }
}

fn volume(block: &Block) -> Volume {
    let [x, y, z] = [0, 1, 2].map(|axis| block.hi[axis] - block.lo[axis]);
    x * y * z
}

fn sizes(block: &Block) -> [Length; 3] {
    let mut sizes = [0, 1, 2].map(|axis| block.hi[axis] - block.lo[axis]);
    sizes.sort_unstable();
    sizes
}

fn a_box() -> BoxSpec {
    BoxSpec {
        inside: [Length::mm(600), Length::mm(300), Length::mm(200)],
        wall: steel(Length::mm(3)),
        floor: steel(Length::mm(3)),
        construction: Construction::Welded,
        corners: crate::Corners::LongSidesRun,
        lid: crate::Lid::None,
        frame: None,
        step: None,
    }
}

/// The same under a plain sheet.
fn flat_lid() -> BoxSpec {
    BoxSpec {
        lid: crate::Lid::Flat {
            sheet: steel(Length::mm(2)),
            flange: None,
            gasket: None,
            fastener: None,
            edge: None,
        },
        ..a_box()
    }
}

/// Bars 35 and 60 mm below a rim 200 mm up, on rods of M6 whose nut and end take 9 mm over bars of 4 mm: rods of
/// 165 + 4 + 9 = 178 and 140 + 4 + 9 = 153 mm. Over a floor raised by 50 mm the higher ones are 128 mm.
#[test]
fn each_bar_lies_at_its_own_height_with_rods_as_long_as_it_needs() {
    let heights = [165, 140].map(Length::mm);
    let lengths = |spec: &BoxSpec| -> Vec<(u32, Length)> {
        let bars = HoldDown {
            places: [100, 450].map(Length::mm).to_vec(),
            unders: heights.to_vec(),
            ..hold_down(spec, Bar::Flat { width: Length::mm(25) }, Fixed::Rods)
        };
        let group = bars.group(spec).unwrap();
        let lying = group.pieces.iter().filter(|piece| piece.role == Role::HoldDownBar);
        assert_eq!(lying.map(|piece| piece.block.lo[2]).collect::<Vec<_>>(), heights);
        let rods = group.parts.iter().filter(|part| part.role == Role::HoldDownRod);
        rods.map(|part| (part.quantity, part.length)).collect()
    };
    assert_eq!(lengths(&a_box()), [(2, Length::mm(178)), (2, Length::mm(153))]);
    let step = crate::Step {
        at: Wall::Front,
        run: Length::mm(250),
        rise: Length::mm(50),
    };
    let stepped = BoxSpec {
        step: Some(step),
        ..a_box()
    };
    assert_eq!(lengths(&stepped), [(2, Length::mm(128)), (2, Length::mm(153))]);
    let on_lugs = HoldDown {
        places: [100, 450].map(Length::mm).to_vec(),
        unders: heights.to_vec(),
        ..hold_down(&a_box(), Bar::Flat { width: Length::mm(25) }, LUGS)
    };
    let group = on_lugs.group(&a_box()).unwrap();
    // The level legs of 3 mm end 2 mm under their bars.
    let level = group.pieces.iter().filter(|p| p.role == Role::Lug && p.thin == 2);
    let tops: Vec<Length> = level.map(|piece| piece.block.hi[2]).collect();
    assert_eq!(tops, [163, 163, 138, 138].map(Length::mm));
}

/// 25 x 25 x 4 would leave 21 mm of leg less the bolt's line: by hand, 50 x 5 has its line at 5 + 22.5.
#[test]
fn bolts_of_a_web_bracket_are_where_a_rule_would_find_them() {
    let brackets = Brackets {
        places: vec![Length::mm(150), Length::mm(450)],
        up: Length::mm(180),
        leg: Length::mm(50),
        length: Length::mm(60),
        bolts: 2,
        sheet: steel(Length::mm(5)),
        ..brackets(Wall::Left, Reach::Web)
    };
    let up = Length::from_mm_up(152.5);
    let wanted = [135, 165, 435, 465].map(|along| [Length::mm(along), up]);
    assert_eq!(brackets.bolts_in_web(), wanted);
    let spec = a_box();
    let group = brackets.group(&spec, &build(&spec).unwrap()).unwrap();
    // The far leg stands with its outside 50 mm out from the outside of the wall.
    assert_eq!(group.pieces[1].block.lo[1], Length::mm(-53));
    assert_eq!(group.pieces[1].block.hi[1], Length::mm(-48));
}

#[rstest]
#[case::off_the_end(Brackets { places: vec![Length::mm(5)], ..brackets(Wall::Left, Reach::Web) }, "place along")]
#[case::over_each_other(
    Brackets { places: vec![Length::mm(100), Length::mm(120)], ..brackets(Wall::Left, Reach::Web) },
    "one to the next"
)]
#[case::above_the_rim(
    Brackets { places: vec![Length::mm(100)], up: Length::mm(201), ..brackets(Wall::Left, Reach::Web) },
    "top of the level leg"
)]
#[case::narrow(
    Brackets { places: vec![Length::mm(100)], leg: Length::mm(12), ..brackets(Wall::Left, Reach::Web) },
    "leg"
)]
#[case::many_bolts(
    Brackets { places: vec![Length::mm(100)], bolts: 3, ..brackets(Wall::Left, Reach::Web) },
    "each bolt"
)]
fn a_bracket_that_does_not_go_is_refused(#[case] brackets: Brackets, #[case] named: &str) {
    let spec = a_box();
    let refusal = brackets.group(&spec, &build(&spec).unwrap()).unwrap_err();
    assert!(refusal.what.contains(named), "{refusal}");
}

#[test]
fn a_divider_through_a_standoff_is_told() {
    let spec = a_box();
    let mut built = build(&spec).unwrap();
    let divider = |place| Divider {
        across: 0,
        places: vec![Length::mm(place)],
        height: Length::mm(100),
        sheet: steel(Length::mm(2)),
        loose: false,
        liner: Length::ZERO,
    };
    let standoffs = Standoffs {
        along: 1,
        places: vec![Length::mm(200)],
        width: Length::mm(20),
        ends: Length::ZERO,
        sheet: steel(Length::mm(6)),
        joined: Joined::Welded,
    };
    built.add(standoffs.group(&spec).unwrap());
    let mut apart = built.clone();
    apart.add(divider(210).group(&spec).unwrap());
    assert_eq!(apart.added_that_meet(), [], "they touch");
    built.add(divider(209).group(&spec).unwrap());
    assert_eq!(
        built.added_that_meet(),
        [([Role::Standoff, Role::Divider], Length::mm(1))]
    );
}

/// The seams that a group brings, as its welded lengths by place, millimetres.
fn seams(group: &Group) -> Vec<(&'static str, f64, u32)> {
    let told = |seam: &crate::weld::Draft| (seam.place, seam.length.as_mm(), seam.count);
    group.seams.iter().map(told).collect()
}

/// By hand: two brackets of 25 on a wall; a divider 300 long and 100 high; two bars of 25 on lugs of 20; M6 rods, whose
/// foot is 6 pi round.
#[test]
fn what_is_added_has_its_seams() {
    let spec = a_box();
    let built = build(&spec).unwrap();
    let places = vec![Length::mm(150), Length::mm(450)];
    let on_wall = |reach| Brackets {
        places: places.clone(),
        up: Length::mm(100),
        ..brackets(Wall::Left, reach)
    };
    let web = on_wall(Reach::Web).group(&spec, &built).unwrap();
    assert_eq!(seams(&web), [("over and under the level leg", 25.0, 4)]);
    assert_eq!(web.seams[0].joins, [Role::Bracket, Role::LongSide]);
    let foot = on_wall(Reach::Foot).group(&spec, &built).unwrap();
    assert_eq!(
        seams(&foot),
        [
            ("along head and foot of the upright leg", 25.0, 4),
            ("up both ends of the upright leg", 30.0, 4)
        ]
    );
    let divider = |loose| Divider {
        across: 0,
        places: places.clone(),
        height: Length::mm(100),
        sheet: steel(Length::mm(2)),
        loose,
        liner: Length::ZERO,
    };
    assert_eq!(
        seams(&divider(false).group(&spec).unwrap()),
        [
            ("along the foot, on one face", 300.0, 2),
            ("up both ends, on one face", 100.0, 4)
        ]
    );
    assert_eq!(seams(&divider(true).group(&spec).unwrap()), []);
    let bars = |fixed| HoldDown {
        places: places.clone(),
        unders: places.iter().map(|_| spec.inside[2] - Length::mm(35)).collect(),
        ..hold_down(&spec, Bar::Flat { width: Length::mm(25) }, fixed)
    };
    assert_eq!(
        seams(&bars(LUGS).group(&spec).unwrap()),
        [
            ("over and under the lug", 25.0, 8),
            ("up both ends of the lug", 20.0, 8)
        ]
    );
    let rods = bars(Fixed::Rods).group(&spec).unwrap();
    let [(place, round, count)] = seams(&rods)[..] else {
        panic!("one sort of seam")
    };
    assert_eq!((place, count), ("round the foot of the rod", 4));
    assert!((round - 6.0 * std::f64::consts::PI).abs() < 1e-5);
}

/// A strip of 296 with rivets of 5 mm, 10 mm from its ends: 276 at a pitch of 100 at most are three of 92, 4 rivets, through 6 mm
/// and the floor's 3; bonded it takes nothing.
#[test]
fn a_strip_is_welded_riveted_or_bonded() {
    let spec = a_box();
    let strips = |joined| {
        let strips = Standoffs {
            along: 1,
            places: vec![Length::mm(100), Length::mm(300)],
            width: Length::mm(20),
            ends: Length::mm(2),
            sheet: steel(Length::mm(6)),
            joined,
        };
        strips.group(&spec).unwrap()
    };
    assert_eq!(seams(&strips(Joined::Welded)), [("along both edges", 296.0, 4)]);
    let riveted = strips(Joined::Riveted {
        pitch: Length::mm(100),
        hole: Length::mm(5),
        heads: RivetHeads::FlushInside,
    });
    assert_eq!(seams(&riveted), []);
    let fixing = riveted.fixings[0];
    assert_eq!(
        (fixing.role, fixing.rivets, fixing.grip),
        (Role::Standoff, 8, Length::mm(9))
    );
    let holes: Vec<[Length; 2]> = riveted.parts[0].holes.iter().map(|hole| [hole.x, hole.y]).collect();
    assert_eq!(holes, [10, 102, 194, 286].map(|x| [x, 10].map(Length::mm)));
    let floor: Vec<[Length; 2]> = riveted.through.iter().map(|hole| [hole.along, hole.up]).collect();
    let across = |place: i64| [12, 104, 196, 288].map(|y| [place, y].map(Length::mm));
    assert_eq!(floor, [across(100), across(300)].concat());
    let mut built = build(&spec).unwrap();
    let bare = built.grams;
    built.add_to(&spec, riveted.clone());
    let plate = built.parts.iter().find(|part| part.role == Role::Floor).unwrap();
    // The floor lies under walls of 3 mm and is drawn as it lies; eight discs of 5 mm are out of it.
    let x: Vec<Length> = plate.holes_for(Purpose::FixingRivet).map(|hole| hole.x).collect();
    assert_eq!(
        x,
        [[103; 4], [303; 4]]
            .concat()
            .into_iter()
            .map(Length::mm)
            .collect::<Vec<_>>()
    );
    let strip = riveted.parts[0].grams() * 2.0;
    let discs = 8.0 * std::f64::consts::FRAC_PI_4 * 25.0 * 3.0 * 7.85e-3;
    assert!((built.grams - bare - strip + discs).abs() < 1e-6);
    let bonded = strips(Joined::Bonded);
    assert!(bonded.seams.is_empty() && bonded.fasteners.is_empty());
}

/// Steel rod of 6, 6 - 0.6495 across its flanks: 22.484 mm2 at 7.85 mg/mm3, whatever the box is made of.
#[test]
fn rods_are_steel_in_a_box_of_aluminium() {
    let mut spec = a_box();
    let sheet = Sheet {
        material: Material::Aluminium5052,
        thickness: Length::mm(3),
    };
    (spec.wall, spec.floor) = (sheet, sheet);
    let clamp = Clamp {
        plate: sheet,
        ..clamp(&spec, 0, 4)
    };
    let group = clamp.group().unwrap();
    let rod = group.parts.iter().find(|part| part.role == Role::TieRod).unwrap();
    assert_eq!(rod.sheet.material, Material::MildSteel);
    let by_hand = std::f64::consts::FRAC_PI_4 * 5.3505 * 5.3505 * rod.length.as_mm() * 7.85e-3;
    assert!(
        (rod.grams() - by_hand).abs() < 1e-9 * by_hand,
        "{} {by_hand}",
        rod.grams()
    );
    assert_eq!(
        group.parts[0].sheet.material,
        Material::Aluminium5052,
        "the plates are as the box"
    );
    // Steel is not welded to aluminium.
    let bar = Bar::Flat { width: Length::mm(25) };
    let refusal = hold_down(&spec, bar, Fixed::Rods).group(&spec).unwrap_err();
    assert!(refusal.to_string().contains("aluminium 5052"), "{refusal}");
    assert!(hold_down(&spec, bar, LUGS).group(&spec).is_ok());
}

/// Middle of the hole to the end of the bar: on rods the play and two diameters off the wall; on a lug of 20 x 3 with a play of
/// 1 half of what is beyond 4, on one of 28 two diameters of 6.
#[test]
fn holes_keep_off_the_ends_of_bar_and_lug() {
    let spec = a_box();
    let bar = Bar::Flat { width: Length::mm(25) };
    let on_lugs = |leg| {
        let fixed = Fixed::Lugs {
            leg: Length::mm(leg),
            thickness: Length::mm(3),
            gap: Length::mm(2),
        };
        hold_down(&spec, bar, fixed)
    };
    assert_eq!(on_lugs(20).edge(), Length::mm(8));
    assert_eq!(on_lugs(20).least_lug(), Some(Length::mm(28)));
    assert_eq!(on_lugs(28).edge(), hold_down::least_edge(Length::mm(6)));
    for bars in [on_lugs(28), hold_down(&spec, bar, Fixed::Rods)] {
        let group = bars.group(&spec).unwrap();
        let made = &group.parts[0];
        assert_eq!(bars.edge(), Length::mm(12));
        let xs: Vec<Length> = made.holes.iter().map(|hole| hole.x).collect();
        assert_eq!(xs, [Length::mm(12), made.length - Length::mm(12)]);
        // What stands in the wall's lug lies under the bar's hole.
        if let Some(lug) = group.parts.iter().find(|part| part.role == Role::Lug) {
            assert_eq!(lug.holes[0].y, Length::mm(4 + 12));
        }
    }
}

/// Brackets of 50 stand out 50 at both sides; angles of 20 over the lid stand 20 over it.
#[test]
fn the_size_over_all_has_what_stands_out() {
    let spec = flat_lid();
    let mut built = build(&spec).unwrap();
    assert_eq!(built.overall, [606, 306, 205].map(Length::mm));
    for wall in [Wall::Left, Wall::Right] {
        let brackets = Brackets {
            places: vec![Length::mm(300)],
            up: Length::mm(150),
            leg: Length::mm(50),
            ..brackets(wall, Reach::Web)
        };
        built.add(brackets.group(&spec, &build(&spec).unwrap()).unwrap());
    }
    assert_eq!(built.overall, [606, 406, 205].map(Length::mm));
    let over = stiffeners(&spec, 2, true).group(&spec, &built).unwrap();
    built.add(over);
    assert_eq!(built.overall, [606, 406, 225].map(Length::mm));
    // What is inside takes no room outside.
    built.add(
        hold_down(&spec, Bar::Flat { width: Length::mm(25) }, LUGS)
            .group(&spec)
            .unwrap(),
    );
    assert_eq!(built.overall, [606, 406, 225].map(Length::mm));
}

#[test]
fn two_in_one_place_are_refused_with_their_distance() {
    let spec = flat_lid();
    let dividers = Divider {
        across: 0,
        places: [100, 101].map(Length::mm).to_vec(),
        height: Length::mm(100),
        sheet: steel(Length::mm(2)),
        loose: false,
        liner: Length::ZERO,
    };
    let angles = Stiffeners {
        places: [100, 119].map(Length::mm).to_vec(),
        ..stiffeners(&spec, 2, false)
    };
    let refused = dividers.group(&spec).unwrap_err().to_string();
    assert!(
        refused.starts_with("dividers, from one to the next: 1 mm is out of range"),
        "{refused}"
    );
    let refused = angles.group(&spec, &build(&spec).unwrap()).unwrap_err().to_string();
    assert!(refused.contains("19 mm is out of range; it may be 20 to"), "{refused}");
}

fn lining(thickness: Length, holes: Vec<WallHole>) -> Lining {
    Lining {
        sheet: Sheet {
            material: Material::Liner(Liner::GlassFibre),
            thickness,
        },
        holes,
        across: 0,
        dividers: Vec::new(),
    }
}

fn with_step(mut spec: BoxSpec, at: Wall, run: i64, rise: i64) -> BoxSpec {
    spec.step = Some(crate::Step {
        at,
        run: Length::mm(run),
        rise: Length::mm(rise),
    });
    spec
}

#[test]
fn brackets_that_would_stand_in_the_air_over_a_step_are_refused() {
    let spec = with_step(a_box(), Wall::Front, 300, 100);
    let built = build(&spec).unwrap();
    let low = |wall, places: Vec<Length>, reach, up: i64| {
        let mut brackets = brackets(wall, reach);
        let sized = (brackets.sheet.thickness, brackets.leg, brackets.length);
        brackets.places = places;
        brackets.up = Length::mm(up);
        (brackets.group(&spec, &built).map_err(|fault| fault.what), sized)
    };
    let side = spec.inside[0];
    let half = brackets(Wall::Left, Reach::Web).length.half_down();
    let stands = "brackets over the step, top of the level leg above the deep floor";
    let far = vec![side - half - Length::mm(10)];
    assert!(low(Wall::Left, far.clone(), Reach::Web, 60).0.is_ok());
    // Wholly over the raised floor, or only its end.
    let (over, (thick, leg, _)) = low(Wall::Left, vec![half + Length::mm(10)], Reach::Web, 60);
    assert_eq!(over.unwrap_err(), stands);
    let across = vec![Length::mm(299) + half];
    assert_eq!(low(Wall::Left, across, Reach::Web, 60).0.unwrap_err(), stands);
    assert!(low(Wall::Left, vec![Length::mm(300) + half], Reach::Web, 60).0.is_ok());
    // The wall begins 100 higher than the underside: the level leg's edge is on it from there, a foot's upright leg as well.
    let least = |deep: Length| (Length::mm(100) + deep - built.under).as_mm();
    let at = |reach, up: f64| {
        let mut brackets = brackets(Wall::Left, reach);
        brackets.places = vec![half + Length::mm(10)];
        brackets.up = Length::from_mm(up);
        brackets.group(&spec, &built).is_ok()
    };
    for (reach, deep) in [(Reach::Web, thick), (Reach::Foot, leg)] {
        assert!(at(reach, least(deep)) && !at(reach, least(deep) - 0.1), "{reach:?}");
    }
}

/// In a frame of angle they lie between its feet, against the floor; the feet reach in from the walls by leg less
/// thickness and wall.
#[test]
fn floor_rails_lie_between_the_feet_of_a_frame() {
    let skeleton = crate::Skeleton {
        leg: Length::mm(30),
        thickness: Length::mm(3),
        grams_per_m: 1_340,
        joint: crate::Joint::Butt,
        held: crate::Held::Bonded,
    };
    let spec = BoxSpec {
        inside: [600, 300, 200].map(Length::mm),
        wall: steel(Length::mm(2)),
        floor: steel(Length::mm(2)),
        construction: Construction::Framed(skeleton),
        corners: crate::Corners::LongSidesRun,
        lid: crate::Lid::None,
        frame: None,
        step: None,
    };
    // The angle stands off the panels by the adhesive, so its foot reaches in by that much less.
    let foot = skeleton.leg - skeleton.thickness - Length::mm(1) - spec.wall.thickness;
    let rails = FloorRails {
        places: vec![spec.inside[0].half_down()],
        ..floor_rails(&spec, 1, 1)
    };
    let group = rails.group(&spec).unwrap();
    // 30 - 3 - 1 - 2 mm at each end.
    assert_eq!(foot, Length::mm(24));
    assert_eq!(group.parts[0].length, Length::mm(252));
    assert!(
        group
            .pieces
            .iter()
            .all(|piece| piece.block.hi[2] <= -spec.floor.thickness)
    );
    let near = FloorRails {
        places: vec![foot + Length::mm(9)],
        ..rails
    };
    assert_eq!(near.group(&spec).unwrap_err().what, "floor rails, place");
}

/// Bends of radius 2 and a millimetre: corners cut 3 mm along foot and end, two triangles of 4.5 mm2; the welds are as much shorter.
/// On a straight line from (3, 0) to (0, 3) every point lies within the bend round (2, 2).
#[test]
fn a_divider_lacks_the_corners_that_stand_in_the_bend() {
    let spec = bent(&a_box());
    let divider = Divider {
        across: 0,
        places: vec![Length::mm(200)],
        height: Length::mm(100),
        sheet: steel(Length::mm(2)),
        loose: false,
        liner: Length::ZERO,
    };
    let group = divider.group(&spec).unwrap();
    let part = &group.parts[0];
    let corners: Vec<[f64; 2]> = part.outline.iter().map(|v| [v.x.as_mm(), v.y.as_mm()]).collect();
    assert_eq!(
        corners,
        [
            [3.0, 0.0],
            [297.0, 0.0],
            [300.0, 3.0],
            [300.0, 100.0],
            [0.0, 100.0],
            [0.0, 3.0]
        ]
    );
    assert!((part.taken_out_grams() - 9.0 * 2.0 * 7.85e-3).abs() < 1e-9);
    for at in 0..=10 {
        let [x, y] = [3.0 * f64::from(at) / 10.0, 3.0 - 3.0 * f64::from(at) / 10.0];
        let is_flat = x >= 2.0 || y >= 2.0;
        assert!(is_flat || f64::hypot(x - 2.0, y - 2.0) <= 2.0, "{x} {y}");
    }
    let lengths: Vec<Length> = group.seams.iter().map(|seam| seam.length).collect();
    assert_eq!(lengths, [294, 97].map(Length::mm));
    // A box of panels has no bend.
    assert_eq!(divider.group(&a_box()).unwrap().parts[0].outline[0].x, Length::ZERO);
}

/// A strip 20 wide takes holes of 20 / 3 = 6.66 at the most, three holes apart at the least.
#[test]
fn rivets_that_run_into_each_other_are_refused() {
    let spec = a_box();
    let strips = |pitch, hole| Standoffs {
        along: 1,
        places: vec![Length::mm(200)],
        width: Length::mm(20),
        ends: Length::ZERO,
        sheet: steel(Length::mm(6)),
        joined: Joined::Riveted {
            pitch: Length::tenths_mm(pitch),
            hole: Length::tenths_mm(hole),
            heads: RivetHeads::FlushInside,
        },
    };
    assert!(strips(147, 49).group(&spec).is_ok());
    let refused = strips(146, 49).group(&spec).unwrap_err().to_string();
    assert!(
        refused.contains("pitch: 14.6 mm is out of range; it may be 14.7 to"),
        "{refused}"
    );
    assert!(strips(300, 66).group(&spec).is_ok());
    let refused = strips(300, 67).group(&spec).unwrap_err().to_string();
    assert!(refused.contains("width of its flat"), "{refused}");
}

/// Under an eye with a body of 55 in a hole of 13: (55^2 - pi/4 x 13^2) x 4 mm of steel, (3025 - 132.73) x 4 x 7.85e-3 = 90.82 g. On the left
/// wall it lies on y 0 to 4, 27.5 to both sides of its middle; the middle may be 27.5 off the floor, no less.
#[test]
fn a_backing_plate_lies_on_the_inside_of_its_wall() {
    let spec = a_box();
    let built = build(&spec).unwrap();
    let plate = |wall, at: [i64; 2]| EyePlate {
        wall,
        at: at.map(Length::tenths_mm),
        side: Length::mm(55),
        hole: Length::mm(13),
        play: Length::ZERO,
        sheet: steel(Length::mm(4)),
    };
    let group = plate(Wall::Left, [1_000, 275]).group(&spec, &built).unwrap();
    assert!(
        (group.parts[0].grams() - 90.82).abs() < 0.005,
        "{}",
        group.parts[0].grams()
    );
    let block = Block::of([[725, 1_275], [0, 40], [0, 550]].map(|range| range.map(Length::tenths_mm)));
    assert_eq!(group.pieces[0].block, block);
    let hole = group.parts[0].holes[0];
    assert_eq!(
        (hole.x, hole.y, hole.diameter),
        (Length::tenths_mm(275), Length::tenths_mm(275), Length::mm(13))
    );
    let low = plate(Wall::Left, [1_000, 274]).group(&spec, &built).unwrap_err();
    assert_eq!(low.what, "backing plate, middle up the wall");
    // At the far wall it reaches in towards lower places.
    let far = plate(Wall::Rear, [1_000, 1_000]).group(&spec, &built).unwrap();
    let length = spec.inside[0];
    assert_eq!(
        [far.pieces[0].block.lo[0], far.pieces[0].block.hi[0]],
        [length - Length::mm(4), length]
    );
    let wide = EyePlate {
        hole: Length::mm(55),
        ..plate(Wall::Left, [1_000, 1_000])
    };
    assert_eq!(wide.group(&spec, &built).unwrap_err().what, "backing plate, side");
}

/// With bends of radius 2, and a millimetre, it keeps 3 mm off the floor: its middle is 30.5 up at least. Under the lid it hangs from
/// the lid's underside, and comes off with it.
#[test]
fn a_backing_plate_keeps_off_bends_and_comes_off_with_the_lid() {
    let spec = bent(&flat_lid());
    let built = build(&spec).unwrap();
    let plate = |wall, up| EyePlate {
        wall,
        at: [Length::mm(100), Length::tenths_mm(up)],
        side: Length::mm(55),
        hole: Length::mm(13),
        play: Length::ZERO,
        sheet: steel(Length::mm(4)),
    };
    assert!(plate(Wall::Left, 304).group(&spec, &built).is_err());
    let at_wall = plate(Wall::Left, 305).group(&spec, &built).unwrap();
    assert!(!built.goes_with_lid(&at_wall.pieces[0]));
    let under = plate(Wall::Lid, 1_000).group(&spec, &built).unwrap();
    let top = under_lid(&spec, &built);
    let heights = [under.pieces[0].block.lo[2], under.pieces[0].block.hi[2]];
    assert_eq!(heights, [top - Length::mm(4), top]);
    assert!(built.goes_with_lid(&under.pieces[0]));
    let on_floor = plate(Wall::Floor, 1_000).group(&spec, &built).unwrap();
    assert_eq!(on_floor.pieces[0].block.hi[2], Length::mm(4));
    assert!(!built.goes_with_lid(&on_floor.pieces[0]));
}
