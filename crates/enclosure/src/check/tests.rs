use rstest::rstest;

use super::*;
use crate::material::Material;
use crate::{Construction, Corners, Joint};

fn steel(thickness: i64) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: Length::mm(thickness),
    }
}

fn good() -> BoxSpec {
    BoxSpec {
        inside: [800, 400, 200].map(Length::mm),
        wall: steel(3),
        floor: steel(3),
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}

fn inside(length: i64, width: i64, depth: i64) -> BoxSpec {
    BoxSpec {
        inside: [length, width, depth].map(Length::mm),
        ..good()
    }
}

fn flange(width: i64, thickness: i64) -> Flange {
    Flange {
        width: Length::mm(width),
        thickness: Length::mm(thickness),
        joint: Joint::Butt,
    }
}

fn screw() -> Fastener {
    Fastener {
        diameter: Length::mm(6),
        hole: Length::mm(7),
        head_height: Length::mm(6),
        below: Length::mm(10),
        most_pitch: Length::mm(75),
    }
}

fn flat(flange: Option<Flange>, fastener: Option<Fastener>, edge: Option<i64>) -> BoxSpec {
    let lid = Lid::Flat {
        sheet: steel(2),
        flange,
        gasket: None,
        fastener,
        edge: edge.map(Length::mm),
    };
    BoxSpec { lid, ..good() }
}

fn cap(out: i64, deep: i64, free: i64, squeezed: i64) -> BoxSpec {
    let gasket = Gasket {
        free: Length::mm(free),
        squeezed: Length::mm(squeezed),
    };
    let lid = Lid::Cap {
        sheet: steel(2),
        out: Length::mm(out),
        deep: Length::mm(deep),
        gasket: Some(gasket),
        hold: None,
    };
    BoxSpec { lid, ..good() }
}

fn framed(leg: i64, thickness: i64, grams_per_m: i64, on: &BoxSpec) -> BoxSpec {
    let frame = Frame {
        leg: Length::mm(leg),
        thickness: Length::mm(thickness),
        grams_per_m,
        joint: Joint::Mitred,
    };
    BoxSpec {
        frame: Some(frame),
        ..*on
    }
}

const fn not_above_zero(what: &'static str) -> SpecError {
    SpecError::NotAboveZero { what }
}

const fn meet(first: &'static str, second: &'static str) -> SpecError {
    SpecError::PartsMeet { first, second }
}

#[rstest]
#[case::open(good())]
#[case::flat_without_flange(flat(None, None, None))]
#[case::screws_with_own_line(flat(None, Some(screw()), Some(20)))]
#[case::screws_in_a_flange(flat(Some(flange(25, 5)), Some(screw()), None))]
#[case::hole_just_inside_the_flange(flat(Some(flange(7, 5)), Some(screw()), None))]
#[case::skirt_touching_the_wall(cap(2, 40, 6, 4))]
#[case::hard_gasket(cap(2, 40, 4, 4))]
#[case::skirt_to_the_floor(cap(2, 206, 6, 4))]
#[case::frame(framed(40, 4, 2_420, &good()))]
#[case::frame_just_under_the_skirt(framed(40, 4, 2_420, &cap(4, 173, 6, 4)))]
fn takes_what_can_be_built(#[case] spec: BoxSpec) {
    assert_eq!(spec.check(), Ok(()));
}

#[rstest]
#[case::length(inside(0, 400, 200), not_above_zero("inside length"))]
#[case::width(inside(800, -1, 200), not_above_zero("inside width"))]
#[case::depth(inside(800, 400, 0), not_above_zero("inside depth"))]
#[case::huge(inside(800, 400, 100_001), SpecError::TooLarge { what: "inside depth" })]
#[case::wall(BoxSpec { wall: steel(0), ..good() }, not_above_zero("wall thickness"))]
#[case::floor(BoxSpec { floor: steel(0), ..good() }, not_above_zero("floor thickness"))]
#[case::flange_width(flat(Some(flange(0, 5)), None, None), not_above_zero("flange width"))]
#[case::flange_bar(flat(Some(flange(25, 0)), None, None), not_above_zero("flange thickness"))]
#[case::flange_as_deep_as_the_box(flat(Some(flange(25, 201)), None, None), meet("flange", "floor"))]
#[case::nothing_to_screw_to(flat(None, Some(screw()), None), SpecError::ScrewsWithoutFlange)]
#[case::hole_over_the_edge(flat(Some(flange(25, 5)), Some(screw()), Some(3)), SpecError::HoleOffFlange)]
#[case::hole_in_the_wall(flat(Some(flange(25, 5)), Some(screw()), Some(22)), SpecError::HoleOffFlange)]
#[case::no_room_for_a_line(flat(None, Some(screw()), Some(200)), SpecError::HoleOffFlange)]
#[case::screw_thicker_than_hole(
    flat(Some(flange(25, 5)), Some(Fastener { diameter: Length::mm(8), ..screw() }), None),
    SpecError::HoleTooSmall
)]
#[case::holes_run_together(
    flat(Some(flange(25, 5)), Some(Fastener { most_pitch: Length::mm(13), ..screw() }), None),
    SpecError::PitchTooSmall
)]
#[case::millions_of_holes(
    flat(
        Some(flange(25, 5)),
        Some(Fastener { diameter: Length::from_nm(1), hole: Length::from_nm(1), most_pitch: Length::from_nm(2), ..screw() }),
        None,
    ),
    SpecError::PitchTooSmall
)]
#[case::head_below_the_lid(
    flat(Some(flange(25, 5)), Some(Fastener { head_height: Length::mm(-1), ..screw() }), None),
    SpecError::BelowZero { what: "screw head height" }
)]
#[case::skirt_in_the_wall(cap(1, 40, 6, 4), SpecError::SkirtInsideWall)]
#[case::skirt_as_short_as_its_plate(cap(4, 2, 6, 4), SpecError::SkirtDepth)]
#[case::skirt_below_the_floor(cap(4, 207, 6, 4), SpecError::SkirtDepth)]
#[case::gasket_grows(cap(4, 40, 4, 5), SpecError::GasketGrows)]
#[case::gasket_gone(cap(4, 40, 4, 0), not_above_zero("gasket thickness when squeezed"))]
#[case::weightless_frame(framed(40, 4, 0, &good()), not_above_zero("frame mass per metre"))]
#[case::solid_frame(framed(40, 40, 2_420, &good()), meet("frame's upright", "frame's foot"))]
#[case::feet_meet(framed(40, 4, 2_420, &inside(800, 60, 200)), meet("frame", "frame's other side"))]
#[case::frame_over_the_rim(framed(40, 4, 2_420, &inside(800, 400, 30)), meet("frame", "rim"))]
#[case::frame_in_the_skirt(framed(40, 4, 2_420, &cap(4, 174, 6, 4)), meet("frame", "cap's skirt"))]
fn refuses_what_cannot_be_built(#[case] spec: BoxSpec, #[case] why: SpecError) {
    assert_eq!(crate::build(&spec), Err(why));
}
