use proptest::prelude::*;

use super::super::tests::folded::folded;
use super::super::tests::random::capped;
use super::*;
use crate::build::build;
use crate::{Built, Fastener, SpecError, Toggle};

fn screws(most_pitch: i64) -> CapHold {
    CapHold::Screws(SideScrew {
        fastener: Fastener {
            diameter: Length::mm(5),
            hole: Length::tenths_mm(55),
            head_height: Length::mm(3),
            below: Length::mm(4),
            most_pitch: Length::mm(most_pitch),
        },
        nut_hole: Length::mm(7),
        nut_rim: Length::mm(1),
    })
}

fn with(spec: &BoxSpec, new: CapHold) -> Option<BoxSpec> {
    let mut spec = *spec;
    match &mut spec.lid {
        Lid::Cap { hold, .. } => *hold = Some(new),
        Lid::None | Lid::Flat { .. } => return None,
    }
    Some(spec)
}

fn part(built: &Built, role: Role) -> Option<&Part> {
    built.parts.iter().find(|part| part.role == role)
}

fn near(a: Length, b: Length) -> bool {
    (a - b).abs() <= Length::from_nm(2)
}

/// The holes of a piece from the middle of its length, and up from one of its edges.
fn from_middle(part: &Part, purpose: Purpose, up: impl Fn(&Hole) -> Length) -> Vec<[Length; 2]> {
    let holes = part.holes_for(purpose);
    holes.map(|hole| [hole.x * 2 - part.length, up(hole)]).collect()
}

proptest! {
    /// Each hole of the skirt lies over one of its wall, in the middle of what both have in common.
    #[test]
    fn holes_of_skirt_and_wall_lie_over_each_other(spec in capped(), most_pitch in 30..200_i64) {
        let spec = with(&spec, screws(most_pitch)).unwrap();
        let Ok(built) = build(&spec) else {
            prop_assert_eq!(build(&spec).err(), Some(SpecError::HoleOffSkirt));
            return Ok(());
        };
        let (_, overlap) = screwed(&spec).unwrap();
        let mut all = 0;
        for (wall, skirt) in [(Role::LongSide, Role::SkirtLong), (Role::End, Role::SkirtShort)] {
            let (wall, skirt) = (part(&built, wall).unwrap(), part(&built, skirt).unwrap());
            prop_assert_eq!((wall.quantity, skirt.quantity), (2, 2), "a pair stays a pair");
            let below_rim = from_middle(wall, Purpose::LidNut, |hole| wall.width - hole.y);
            let over_edge = from_middle(skirt, Purpose::LidScrew, |hole| hole.y);
            prop_assert_eq!(below_rim.len(), over_edge.len());
            for (nut, screw) in below_rim.iter().zip(&over_edge) {
                prop_assert!(near(nut[0], screw[0]), "{nut:?} {screw:?}");
                prop_assert!(near(nut[1] * 2, overlap) && near(screw[1] * 2, overlap));
            }
            // Turned end for end it is the same piece.
            for (one, other) in below_rim.iter().zip(below_rim.iter().rev()) {
                prop_assert!(near(one[0], -other[0]));
            }
            for pair in below_rim.windows(2) {
                prop_assert!(pair[1][0] - pair[0][0] <= Length::mm(most_pitch) * 2 + Length::from_nm(2));
            }
            prop_assert!(wall.holes.iter().all(|hole| hole.x * 2 > hole.diameter));
            all += below_rim.len() * 2;
        }
        prop_assert_eq!(built.side_screws.len(), all);
        prop_assert_eq!(built.lid_nuts.len(), all);
        // Heads stand out, and the box is wider by them.
        let Lid::Cap { out, .. } = spec.lid else { unreachable!() };
        prop_assert_eq!(built.rims[1].out, out + Length::mm(3));
        prop_assert_eq!(built.overall[0], built.body[0] + (out + Length::mm(3)) * 2);
    }

    /// On the flat sheets of tray and pan the holes are half the overlap from the edge, which is rim and skirt's end.
    #[test]
    fn a_folded_cap_is_screwed_to_its_tray(spec in folded(), most_pitch in 30..200_i64) {
        let Some(spec) = with(&spec, screws(most_pitch)) else { return Ok(()) };
        let Ok(built) = build(&spec) else {
            prop_assert_eq!(build(&spec).err(), Some(SpecError::HoleOffSkirt));
            return Ok(());
        };
        let (_, overlap) = screwed(&spec).unwrap();
        let counts = [(Role::Tray, Purpose::LidNut), (Role::PanLid, Purpose::LidScrew)].map(|(role, purpose)| {
            let sheet = part(&built, role).unwrap();
            for hole in sheet.holes_for(purpose) {
                let edges = [hole.x, sheet.length - hole.x, hole.y, sheet.width - hole.y];
                let nearest = edges.into_iter().min().unwrap();
                assert!(near(nearest * 2, overlap), "{nearest:?} of {overlap:?}");
            }
            sheet.holes_for(purpose).count()
        });
        prop_assert_eq!(counts, [built.side_screws.len(); 2]);
    }
}

#[test]
fn clamps_stand_out_and_drill_nothing() {
    let lid = Lid::Cap {
        sheet: crate::Sheet {
            material: crate::material::Material::MildSteel,
            thickness: Length::mm(2),
        },
        out: Length::mm(4),
        deep: Length::mm(40),
        gasket: None,
        hold: Some(CapHold::Toggles(Toggle {
            out: Length::mm(20),
            most_pitch: Length::mm(150),
        })),
    };
    let sheet = crate::Sheet {
        material: crate::material::Material::MildSteel,
        thickness: Length::mm(3),
    };
    let spec = BoxSpec {
        inside: [800, 400, 200].map(Length::mm),
        wall: sheet,
        floor: sheet,
        construction: Construction::Welded,
        corners: crate::Corners::LongSidesRun,
        lid,
        frame: None,
        step: None,
    };
    let built = build(&spec).unwrap();
    // 800 / 150 is 6 on each long wall, 400 / 150 is 3 on each short one.
    assert_eq!(built.fasteners, [("toggle clamps with what fixes them".to_owned(), 18)]);
    assert_eq!(built.overall[0], Length::mm(806 + 2 * 24));
    // Skirt and wall have 40 - 2 = 38 mm in common, so the clamps' middle is 2 + 19 = 21 mm under the top of the lid; they
    // reach 35 mm up from it, 14 mm over the lid: 3 of floor, 200 inside, 2 of lid and 14 are 219 mm.
    assert_eq!(built.overall[2], Length::mm(219));
    // From under the floor, 3 mm below the inside, up to 200 + 2 + 14.
    assert_eq!([built.hull.lo[2], built.hull.hi[2]], [-3, 216].map(Length::mm));
    assert!(built.parts.iter().all(|part| part.holes.is_empty()) && built.lid_nuts.is_empty());
}

#[test]
fn a_fitting_keeps_off_the_nuts() {
    let lid = Lid::Cap {
        sheet: crate::Sheet {
            material: crate::material::Material::MildSteel,
            thickness: Length::mm(2),
        },
        out: Length::mm(4),
        deep: Length::mm(42),
        gasket: None,
        hold: Some(screws(100)),
    };
    let sheet = crate::Sheet {
        material: crate::material::Material::MildSteel,
        thickness: Length::mm(3),
    };
    let spec = BoxSpec {
        inside: [800, 400, 200].map(Length::mm),
        wall: sheet,
        floor: sheet,
        construction: Construction::Welded,
        corners: crate::Corners::LongSidesRun,
        lid,
        frame: None,
        step: None,
    };
    // The first of eight nuts is half of 100 from the front, 20 below the rim.
    let hole = |along| WallHole {
        wall: Wall::Left,
        along: Length::mm(along),
        up: Length::mm(180),
        diameter: Length::mm(20),
        purpose: Purpose::CableGland,
    };
    assert_eq!(
        spec.check_hole(&hole(50), &[]),
        Err(SpecError::HolesMeet { wall: "left" })
    );
    assert_eq!(spec.check_hole(&hole(100), &[]), Ok(()));
}

/// Blocked from 149.5 to 220.5 of an end 300 long, with its mirror image from 79.5: more than the pitch of 100 in one, so that the
/// holes are not the same from either end. The pan is drawn from under the lid: what is left on the tray is right on it.
#[test]
fn a_pan_is_drilled_where_its_tray_is() {
    let mut spec = crate::build::tests::folded::worked();
    spec.inside = [600, 300, 200].map(Length::mm);
    spec.lid = Lid::Cap {
        sheet: spec.wall,
        out: Length::mm(4),
        deep: Length::mm(42),
        gasket: None,
        hold: Some(screws(100)),
    };
    let mut built = build(&spec).unwrap();
    let up = spec.inside[2];
    let thing = Block {
        lo: [Length::ZERO, Length::tenths_mm(1540), up - Length::mm(60)],
        hi: [Length::mm(10), Length::tenths_mm(2160), up],
    };
    assert_eq!(built.space_past(&spec, &[thing]), []);
    let front: Vec<Length> = built
        .side_screws
        .iter()
        .filter(|hole| hole.wall == Wall::Front)
        .map(|hole| hole.along)
        .collect();
    assert!(
        front.iter().any(|&at| !front.contains(&(spec.inside[1] - at))),
        "{front:?}"
    );
    let [tray, pan] = [(Role::Tray, Purpose::LidNut), (Role::PanLid, Purpose::LidScrew)].map(|(role, purpose)| {
        let sheet = part(&built, role).unwrap();
        let turn = if role == Role::PanLid { -1 } else { 1 };
        // Those of the end at the left edge of the sheet, up from its middle, twice.
        let at_the_end = sheet.holes_for(purpose).filter(|hole| hole.x < Length::mm(60));
        let mut up: Vec<Length> = at_the_end.map(|hole| (hole.y * 2 - sheet.width) * turn).collect();
        up.sort_unstable();
        up
    });
    assert_eq!(tray.len(), front.len());
    for (nut, screw) in tray.iter().zip(&pan) {
        assert!(near(*nut, *screw), "{tray:?} {pan:?}");
    }
}

/// Clear at 85 and from 119 to 131, and the same from the other end of 250: 131 is within half a pitch, but past the middle, where
/// it would pass the one from the other corner.
#[test]
fn screws_from_both_corners_do_not_pass_each_other() {
    let CapHold::Screws(screw) = screws(300) else {
        unreachable!()
    };
    let blocked = [[0, 85], [85, 119], [131, 165], [165, 250]].map(|range| range.map(Length::mm));
    let both = [85, 165].map(Length::mm).to_vec();
    assert_eq!(past_corners(Length::mm(250), &screw, &blocked), Ok(both));
    // One clear place in the middle is one screw too few.
    let blocked = [[0, 125], [125, 250]].map(|range| range.map(Length::mm));
    assert_eq!(past_corners(Length::mm(250), &screw, &blocked), Err(None));
}

/// A skirt that stands out 6 mm, of 2 mm sheet, leaves a gap of 4; the rim of the nut takes 1 of it. At 3 mm the gap is all rim.
#[test]
fn a_sleeve_is_as_long_as_the_gap_less_the_rim_of_the_nut() {
    let sheet = crate::Sheet {
        material: crate::material::Material::MildSteel,
        thickness: Length::mm(2),
    };
    let with = |out: i64, hold| BoxSpec {
        inside: [600, 300, 200].map(Length::mm),
        wall: sheet,
        floor: sheet,
        construction: Construction::Welded,
        corners: crate::Corners::LongSidesRun,
        lid: Lid::Cap {
            sheet,
            out: Length::mm(out),
            deep: Length::mm(40),
            gasket: None,
            hold,
        },
        frame: None,
        step: None,
    };
    let sleeve = |out, hold| build(&with(out, hold)).unwrap().sleeve;
    assert_eq!(sleeve(6, Some(screws(150))), Some(Length::mm(3)));
    assert_eq!(sleeve(3, Some(screws(150))), None);
    assert_eq!(sleeve(6, None), None);
}
