//! Panels in a frame of angle, put together again.

use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

use super::random::{length, sheet_of};
use super::{holes_mm2, part, steel};
use crate::build::build;
use crate::build::shell::Shell;
use crate::cutlist::{Fineness, Rounded, rounding_growth};
use crate::{
    BoxSpec, Construction, Corners, EndCut, Fastener, Flange, Held, Joint, Lid, RivetHeads, Role, Sheet, Skeleton,
    SpecError,
};

fn skeleton(leg: Length, thickness: Length, joint: Joint) -> Skeleton {
    Skeleton {
        leg,
        thickness,
        grams_per_m: 1_500,
        joint,
        held: Held::Riveted {
            hole: Length::tenths_mm(49),
            most_pitch: Length::mm(80),
            most_past: Length::mm(80),
            bead: Length::mm(5),
            heads: RivetHeads::FlushInside,
        },
    }
}

fn framed_of(inside: [Length; 3], sheet: Sheet, skeleton: Skeleton) -> BoxSpec {
    BoxSpec {
        inside,
        wall: sheet,
        floor: sheet,
        construction: Construction::Framed(skeleton),
        corners: Corners::LongSidesRun,
        lid: Lid::Flat {
            sheet,
            flange: Some(Flange {
                width: skeleton.leg,
                thickness: skeleton.thickness,
                joint: skeleton.joint,
            }),
            gasket: None,
            fastener: Some(Fastener {
                diameter: Length::mm(6),
                hole: Length::mm(7),
                head_height: Length::mm(5),
                below: Length::mm(9),
                most_pitch: Length::mm(90),
            }),
            edge: Some(Length::mm(10)),
        },
        frame: None,
        step: None,
    }
}

pub(crate) fn framed() -> impl Strategy<Value = BoxSpec> {
    let inside = [length(200, 1_500), length(200, 1_500), length(120, 400)];
    let joint = prop::sample::select(vec![Joint::Mitred, Joint::Butt]);
    (
        inside,
        sheet_of(1, 3),
        length(27, 50),
        length(3, 5),
        joint,
        any::<bool>(),
    )
        .prop_map(|(inside, sheet, leg, thickness, joint, bonded)| {
            let riveted = skeleton(leg, thickness, joint);
            let held = if bonded { Held::Bonded } else { riveted.held };
            framed_of(inside, sheet, Skeleton { held, ..riveted })
        })
}

/// Walls 804 by 404 outside, 202 high with the floor, angle 30 x 3: a post 202 - 60 + 3 = 145 long. By hand: ring and posts at
/// the corners 24 (30 + 145), their edges 24 x 145 + 3 x 2416; the foot 24 x 30 and 9 (2416 + 24).
#[test]
fn angles_cover_what_they_lie_on() {
    let angle = skeleton(Length::mm(30), Length::mm(3), Joint::Butt);
    let spec = framed_of([800, 400, 200].map(Length::mm), steel(2), angle);
    let shell = Shell::of(&spec);
    let more = crate::build::skeleton::coat_area(&angle, &shell) + crate::build::frame::coat_area(angle.foot(), &shell);
    let hand = 24 * (30 + 145) + 24 * 145 + 3 * 2416 + 24 * 30 + 9 * (2416 + 24);
    assert_eq!(more, Length::mm(1) * Length::mm(hand));
}

proptest! {
    /// Ring, posts and foot are as long as the walls they stand against ask for, off them by the adhesive of bonded panels, and reach as
    /// far out as is said.
    #[test]
    fn bars_go_round_the_panels(spec in framed()) {
        let built = build(&spec).unwrap();
        let Construction::Framed(frame) = spec.construction else { unreachable!() };
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()].map(|axis| built.shell[axis]);
        let (leg, t) = (frame.leg, frame.thickness);
        let is_riveted = frame.held != Held::Bonded;
        let off = if is_riveted { Length::ZERO } else { Length::mm(1) };
        prop_assert_eq!(part(&built, Role::RingLong).length, long + (leg + off) * 2);
        let ring_short = match frame.joint {
            Joint::Mitred => short + (leg + off) * 2,
            // Between the level legs of the long bars, which reach from the wall outwards.
            Joint::Butt => short + off * 2,
        };
        prop_assert_eq!(part(&built, Role::RingShort).length, ring_short);
        prop_assert_eq!(part(&built, Role::FrameLong).length, long + (t + off) * 2);
        // From the top of the foot's upright to the bottom of the ring's: the rest of the height is theirs.
        let post = part(&built, Role::Post);
        prop_assert_eq!(post.length + leg + (leg - t - off), built.shell[2]);
        prop_assert_eq!(post.quantity, 4);
        let over = built.overall;
        prop_assert_eq!(over[0].max(over[1]), long + (leg + off) * 2);
        // Foot under the floor, screw heads above the lid.
        prop_assert_eq!(built.body, [
            built.shell[0] + (t + off) * 2,
            built.shell[1] + (t + off) * 2,
            built.shell[2] + built.above_rim + t + off,
        ]);
        // Tails of rivets in holes of 4.9 mm stand 4.9 mm out under the foot, and beside the angle.
        let tail = if is_riveted { Length::tenths_mm(49) } else { Length::ZERO };
        prop_assert_eq!(over[2], built.body[2] + Length::mm(5) + tail);
        let (round, ring): (Vec<crate::RimBand>, Vec<_>) = built.rims.iter().copied().partition(|rim| rim.above_top.is_negative());
        prop_assert!(ring.iter().all(|rim: &crate::RimBand| rim.out == leg - t));
        prop_assert_eq!(round.len(), usize::from(is_riveted));
        if let [round] = round[..] {
            prop_assert_eq!((round.out, round.below_top), (tail, built.body[2] + tail));
            // The upper row is half a leg below the rim, its tails two holes wide.
            let row = built.above_rim + leg.half_down() - tail;
            prop_assert_eq!(round.above_top, -row);
        }
        prop_assert_eq!(built.body[0] - spec.inside[0], built.beside * 2);
        prop_assert_eq!(built.body[2] - spec.inside[2], built.under + built.above_rim);
    }

    /// Every rivet has a diameter of panel round its hole, and lies where the angle is behind it.
    #[test]
    fn rivets_lie_on_the_angle(spec in framed()) {
        let built = build(&spec).unwrap();
        let Construction::Framed(frame) = spec.construction else { unreachable!() };
        let mut count = 0;
        for role in [Role::Floor, Role::LongSide, Role::End] {
            let panel = part(&built, role);
            for hole in &panel.holes {
                let d = hole.diameter;
                prop_assert!(hole.x * 2 >= d * 3 && (panel.length - hole.x) * 2 >= d * 3);
                prop_assert!(hole.y * 2 >= d * 3 && (panel.width - hole.y) * 2 >= d * 3);
                let near_edge = [hole.x, panel.length - hole.x, hole.y, panel.width - hole.y];
                prop_assert!(near_edge.into_iter().min().unwrap() + d.half_down() <= frame.leg);
            }
            count += panel.holes.len() * panel.quantity as usize;
        }
        prop_assert_eq!(built.rivets as usize, count);
    }

    /// Bars by the length that is ordered, panels by their area, less the holes in each.
    #[test]
    fn the_mass_is_that_of_panels_and_ordered_bars(spec in framed()) {
        let built = build(&spec).unwrap();
        let mut sum = 0.0;
        for part in &built.parts {
            let solid = if part.role.form() == crate::Form::Angle {
                part.length.as_mm() * 1.5
            } else {
                (part.area * part.sheet.thickness).as_mm3() * 7850.0 / 1e6
            };
            let each = solid - holes_mm2(part) * part.sheet.thickness.as_mm() * 7850.0 / 1e6;
            prop_assert!((part.grams() - each).abs() <= 1e-9 * each);
            sum += each * f64::from(part.quantity);
        }
        prop_assert!((built.grams - sum).abs() <= 1e-9 * sum);
    }
}

#[test]
fn a_butted_foot_is_coped_and_a_butted_ring_is_not() {
    let frame = skeleton(Length::mm(30), Length::mm(3), Joint::Butt);
    let built = build(&framed_of([800, 400, 200].map(Length::mm), steel(2), frame)).unwrap();
    assert_eq!(part(&built, Role::FrameShort).ends, [EndCut::Coped; 2]);
    assert_eq!(part(&built, Role::RingShort).ends, [EndCut::Square; 2]);
    assert_eq!(built.holes_after_welding(), 0);
}

#[rstest]
#[case::low(framed_of([800, 400, 40].map(Length::mm), steel(2), skeleton(Length::mm(30), Length::mm(3), Joint::Butt)),
    SpecError::PartsMeet { first: "ring at the floor", second: "ring at the rim" })]
#[case::narrow(framed_of([800, 400, 200].map(Length::mm), steel(2), skeleton(Length::mm(12), Length::mm(3), Joint::Butt)),
    // What the two share is 9 mm wide: its middle less 2 mm of long side.
    SpecError::RivetsOffAngle { has: Length::tenths_mm(25), needs: Length::from_nm(7_350_000) })]
#[case::no_lid(BoxSpec { lid: Lid::None, ..framed_of([800, 400, 200].map(Length::mm), steel(2), skeleton(Length::mm(30), Length::mm(3), Joint::Butt)) },
    SpecError::LidOnFrame)]
fn what_cannot_be_framed_is_refused(#[case] spec: BoxSpec, #[case] why: SpecError) {
    let spec = match spec.lid {
        // Only the frame is in question: no screws on a narrow leg.
        Lid::Flat {
            sheet, flange, gasket, ..
        } => BoxSpec {
            lid: Lid::Flat {
                sheet,
                flange,
                gasket,
                fastener: None,
                edge: None,
            },
            ..spec
        },
        Lid::None | Lid::Cap { .. } => spec,
    };
    assert_eq!(build(&spec).unwrap_err(), why);
}

proptest! {
    /// Cut to whole marks, in inches or in tenths of a millimetre, every panel still goes between the uprights of its frame: the
    /// foot's bars hold the floor, the ring's the sides, the posts stand from ring to ring.
    #[test]
    fn cut_to_the_marks_the_panels_go_into_the_frame(
        spec in framed(),
        fineness in prop::sample::select(vec![Fineness::Sixteenth, Fineness::ThirtySecond]),
    ) {
        let Construction::Framed(skeleton) = spec.construction else { unreachable!() };
        let built = build(&spec).unwrap();
        let uprights = skeleton.thickness * 2;
        for marked in [|size: Rounded| size.inches, |size: Rounded| size.tenth_mm] {
            let cut = |role| {
                let part = built.parts.iter().find(|part| part.role == role).unwrap();
                Rounded::of_part(part, &built, fineness).map(marked)
            };
            // A butted short bar stands between the long ones, a mitred one reaches over them.
            let between = |[long, short]: [Role; 2]| {
                let short = cut(short)[0] - if skeleton.joint == Joint::Mitred { uprights } else { Length::ZERO };
                [cut(long)[0] - uprights, short]
            };
            let foot = between([Role::FrameLong, Role::FrameShort]);
            let floor = cut(Role::Floor);
            prop_assert!(floor[0] <= foot[0] && floor[1] <= foot[1], "{floor:?} {foot:?}");
            prop_assert!(cut(Role::LongSide)[0] <= foot[0]);
            prop_assert!(cut(Role::End)[0] <= foot[1]);
            let exact = |role| built.parts.iter().find(|part| part.role == role).unwrap().length;
            for role in [Role::Post, Role::RingLong, Role::RingShort] {
                prop_assert!(cut(role)[0] >= exact(role));
            }
            let growth = rounding_growth(&built, fineness);
            for (axis, role) in [(spec.long_axis(), Role::FrameLong), (1 - spec.long_axis(), Role::FrameShort)] {
                prop_assert!(cut(role)[0] - exact(role) <= growth[axis]);
                prop_assert!(growth[axis] < fineness.step());
            }
        }
    }
}

/// By hand: 800 x 400 x 200 inside, sheets of 2 mm, angle 30 x 3, panels bonded on 1 mm of adhesive, a lid of 2 mm. Over the walls
/// 804 x 404; the angle stands 1 off them, so its inner faces are 806 x 406 apart and its outer ones 812 x 412. Ring: 806 + 60 and,
/// butted, 406; lid 866 x 466. Foot: 806 + 6 and 406. The floor's underside is 202 under the rim, the foot's level leg 1 lower and 3
/// thick: 206 to the rim, 208 over the lid. A post stands from 30 - 3 - 1 = 26 over the floor's underside to 30 under the rim:
/// 202 - 26 - 30 = 146. Panel and level leg share 30 - 3 - 1 = 26.
#[test]
fn bonded_panels_stand_off_their_angle_by_the_adhesive() {
    let angle = Skeleton {
        held: Held::Bonded,
        ..skeleton(Length::mm(30), Length::mm(3), Joint::Butt)
    };
    let spec = framed_of([800, 400, 200].map(Length::mm), steel(2), angle);
    let built = build(&spec).unwrap();
    let sides = |role| [part(&built, role).length, part(&built, role).width];
    assert_eq!(built.shell, [804, 404, 202].map(Length::mm));
    assert_eq!(built.body, [812, 412, 208].map(Length::mm));
    assert_eq!(built.overall, [866, 466, 208 + 5].map(Length::mm));
    assert_eq!([built.beside, built.under], [6, 6].map(Length::mm));
    for (role, hand) in [
        (Role::Floor, [804, 404]),
        (Role::LongSide, [804, 200]),
        (Role::End, [400, 200]),
        (Role::RingLong, [866, 30]),
        (Role::RingShort, [406, 30]),
        (Role::FrameLong, [812, 30]),
        (Role::FrameShort, [406, 30]),
        (Role::Post, [146, 30]),
        (Role::LidPlate, [866, 466]),
    ] {
        assert_eq!(sides(role), hand.map(Length::mm), "{role:?}");
    }
    assert_eq!(angle.covers(&spec), [24, 24, 30].map(Length::mm));
    // The floor's edge on the level leg: 804 x 404 less what lies 26 inside it.
    let floor = built.shared.iter().find(|(role, _)| *role == Role::Floor).unwrap().1;
    assert_eq!(floor, Length::mm(1) * Length::mm(804 * 404 - 752 * 352));
}
