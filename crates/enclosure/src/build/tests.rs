//! Boxes put together again from their parts.

mod assembly;
pub(crate) mod folded;
pub(crate) mod framed;
pub(crate) mod random;
mod step;
mod wall_holes;

use proptest::prelude::*;
use rstest::rstest;
use tape::{Area, Length, Volume};

use self::assembly::{Block, cap_blocks, panel_blocks};
use self::random::{ALL_CORNERS, capped, flanged, open};
use super::*;
use crate::material::Material;
use crate::{Construction, Corners, EndCut, Fastener, Flange, Form, Frame, Gasket, Joint, Lid, Sheet};

fn part(built: &Built, role: Role) -> &Part {
    built.parts.iter().find(|part| part.role == role).unwrap()
}

fn all(built: &Built, roles: &[Role], area: impl Fn(&Part) -> Area) -> Area {
    built
        .parts
        .iter()
        .filter(|part| roles.contains(&part.role))
        .map(|part| area(part) * i64::from(part.quantity))
        .sum()
}

/// The discs that are drilled out of one piece.
fn holes_mm2(part: &Part) -> f64 {
    let across = part.holes.iter().map(|hole| hole.diameter.as_mm());
    across.map(|d| d * d * std::f64::consts::FRAC_PI_4).sum()
}

fn panel_volume(built: &Built) -> Volume {
    built.parts[..3]
        .iter()
        .map(|part| part.area * part.sheet.thickness * i64::from(part.quantity))
        .sum()
}

fn volume([x, y, z]: [Length; 3]) -> Volume {
    x * y * z
}

proptest! {
    #[test]
    fn panels_put_together_are_the_shell_and_nothing_twice(spec in open()) {
        let built = build(&spec).unwrap();
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()];
        let (t, f) = (spec.wall.thickness, spec.floor.thickness);
        let hollow = Block {
            at: [t, t, f],
            size: [spec.inside[long], spec.inside[short], spec.inside[2]],
        };
        let whole = Block {
            at: [Length::ZERO; 3],
            size: [built.shell[long], built.shell[short], built.shell[2]],
        };
        let blocks = panel_blocks(&spec, &built);
        for (index, block) in blocks.iter().enumerate() {
            prop_assert!(whole.holds(block), "{block:?} sticks out of {whole:?}");
            prop_assert!(!block.meets(&hollow), "{block:?} stands in the hollow");
            for other in &blocks[..index] {
                prop_assert!(!block.meets(other), "{block:?} meets {other:?}");
            }
        }
        let shell = volume(whole.size) - volume(hollow.size);
        let panels: Volume = blocks.iter().map(|block| volume(block.size)).sum();
        let [l, w, d] = hollow.size;
        let grooves = if spec.corners == Corners::CornerToCorner {
            t * t * d * 4 + t * (l + w) * f * 2 + t * t * f * 4
        } else {
            Volume::default()
        };
        prop_assert_eq!(panels + grooves, shell);
        prop_assert_eq!(panels, panel_volume(&built));
    }

    #[test]
    fn the_shell_is_the_inside_and_its_sheets(spec in open()) {
        let built = build(&spec).unwrap();
        let grown = [spec.wall.thickness * 2, spec.wall.thickness * 2, spec.floor.thickness];
        for (axis, grown) in grown.into_iter().enumerate() {
            prop_assert_eq!(built.shell[axis], spec.inside[axis] + grown);
        }
        prop_assert_eq!(built.body, built.shell, "no lid");
        prop_assert_eq!(built.overall, built.shell);
    }

    #[test]
    fn mass_is_volume_by_density_and_the_same_whichever_panel_runs(spec in flanged()) {
        let masses = ALL_CORNERS.map(|corners| {
            let built = build(&BoxSpec { corners, ..spec }).unwrap();
            let mut sum = 0.0;
            for part in &built.parts {
                let holes = holes_mm2(part) * part.sheet.thickness.as_mm();
                let volume = (part.area * part.sheet.thickness).as_mm3() - holes;
                let grams = volume * part.sheet.material.density_kg_m3() / 1e6;
                assert!((part.grams() - grams).abs() <= 1e-9 * grams);
                sum += grams * f64::from(part.quantity);
            }
            assert!((built.grams - sum).abs() <= 1e-9 * sum);
            built.grams
        });
        // With floor and walls of one material; the flanged boxes are. All have the same holes.
        prop_assert!((masses[0] - masses[1]).abs() <= 1e-9 * masses[0]);
        prop_assert!((masses[0] - masses[2]).abs() <= 1e-9 * masses[0]);
        prop_assert!(masses[3] < masses[0], "the grooves are missing");
    }

    #[test]
    fn flange_bars_make_the_ring_in_both_joints(spec in flanged()) {
        let built = build(&spec).unwrap();
        let Lid::Flat { flange: Some(flange), .. } = spec.lid else { unreachable!() };
        let [length, width, _] = built.shell;
        let [over_length, over_width] = [length, width].map(|side| side + flange.width * 2);
        let bars = all(&built, &[Role::FlangeLong, Role::FlangeShort], |bar| bar.area);
        prop_assert_eq!(bars, over_length * over_width - length * width);
        if flange.joint == Joint::Mitred {
            // Inside the mitres the bars are as long as the walls they stand against.
            let inner = |role| part(&built, role).length - flange.width * 2;
            prop_assert_eq!(inner(Role::FlangeLong), length.max(width));
            prop_assert_eq!(inner(Role::FlangeShort), length.min(width));
        }
        prop_assert_eq!(built.overall[0], over_length);
        prop_assert_eq!(built.overall[1], over_width);
    }

    #[test]
    fn lid_and_flange_holes_meet_when_put_together(spec in flanged()) {
        let built = build(&spec).unwrap();
        let bars = assembly::flange_holes(&spec, &built);
        let mut lid: Vec<_> = part(&built, Role::LidPlate).holes.clone();
        prop_assert_eq!(lid.len(), built.lid_holes.unwrap().count as usize);
        let near = |a: Length, b: Length| (a - b).abs() <= Length::from_nm(1);
        for [x, y] in &bars {
            let under = lid.iter().position(|hole| near(hole.x, *x) && near(hole.y, *y));
            prop_assert!(under.is_some(), "no lid hole over {x:?}, {y:?}");
            lid.swap_remove(under.unwrap());
        }
        prop_assert_eq!(lid.len(), built.holes_after_welding() as usize);
    }

    #[test]
    fn no_hole_breaks_out_of_its_bar(spec in flanged()) {
        let built = build(&spec).unwrap();
        for bar in built.parts.iter().filter(|part| part.role.form() == Form::FlatBar) {
            for hole in &bar.holes {
                let radius = hole.diameter.as_mm() / 2.0 - 1e-9;
                let (x, y) = (hole.x.as_mm(), hole.y.as_mm());
                prop_assert!(y >= radius && bar.width.as_mm() - y >= radius);
                for from_end in [x, bar.length.as_mm() - x] {
                    let from_cut = match bar.ends[0] {
                        EndCut::Mitre45 => (from_end - y) / 2_f64.sqrt(),
                        EndCut::Square | EndCut::Coped => from_end,
                    };
                    prop_assert!(from_cut >= radius, "{from_cut} from the cut");
                }
            }
        }
    }

    #[test]
    fn a_cap_closes_over_the_body_without_touching_it(spec in capped()) {
        let built = build(&spec).unwrap();
        let Lid::Cap { sheet, out, deep, .. } = spec.lid else { unreachable!() };
        let blocks = cap_blocks(&spec, &built);
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()];
        let body = Block {
            at: [Length::ZERO; 3],
            size: [built.shell[long], built.shell[short], built.shell[2]],
        };
        let band = built.rims[0];
        let whole = Block {
            at: [-out, -out, built.body[2] - band.below_top],
            size: [
                built.overall[long],
                built.overall[short],
                band.below_top + band.above_top,
            ],
        };
        for (index, block) in blocks.iter().enumerate() {
            prop_assert!(!block.meets(&body), "{block:?} meets the body");
            prop_assert!(whole.holds(block), "{block:?} is outside {whole:?}");
            for other in &blocks[..index] {
                prop_assert!(!block.meets(other), "{block:?} meets {other:?}");
            }
        }
        // Plate, and a closed ring one sheet thick.
        let [l, w, _] = whole.size;
        let t = sheet.thickness;
        let ring = l * w - (l - t * 2) * (w - t * 2);
        let parts: Volume = blocks.iter().map(|block| volume(block.size)).sum();
        prop_assert_eq!(parts, l * w * t + ring * (deep - t));
    }
}

fn steel(thickness: i64) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: Length::mm(thickness),
    }
}

/// 800 x 400 x 200 inside, 2 mm walls, 3 mm floor.
fn plain() -> BoxSpec {
    BoxSpec {
        inside: [800, 400, 200].map(Length::mm),
        wall: steel(2),
        floor: steel(3),
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}

fn screwed(joint: Joint) -> BoxSpec {
    BoxSpec {
        lid: Lid::Flat {
            sheet: steel(2),
            flange: Some(Flange {
                width: Length::mm(30),
                thickness: Length::mm(4),
                joint,
            }),
            gasket: Some(Gasket {
                free: Length::mm(5),
                squeezed: Length::mm(3),
            }),
            fastener: Some(Fastener {
                diameter: Length::mm(6),
                hole: Length::mm(7),
                head_height: Length::mm(6),
                below: Length::mm(10),
                most_pitch: Length::mm(100),
            }),
            edge: None,
        },
        ..plain()
    }
}

#[test]
fn a_box_wider_than_long_has_its_long_sides_across() {
    let built = build(&BoxSpec {
        inside: [400, 800, 200].map(Length::mm),
        ..plain()
    })
    .unwrap();
    assert_eq!(built.shell, [404, 804, 203].map(Length::mm));
    assert_eq!(part(&built, Role::LongSide).length, Length::mm(804));
    assert_eq!(part(&built, Role::Floor).length, Length::mm(804));
    assert_eq!(part(&built, Role::End).length, Length::mm(400));
}

#[test]
fn a_square_box_has_its_long_sides_along_its_length() {
    assert_eq!(
        BoxSpec {
            inside: [Length::mm(400); 3],
            ..plain()
        }
        .long_axis(),
        0
    );
}

#[test]
fn walls_that_wrap_the_floor_reach_down_by_the_floors_thickness() {
    let built = build(&BoxSpec {
        corners: Corners::WallsWrapFloor,
        ..plain()
    })
    .unwrap();
    assert_eq!(part(&built, Role::LongSide).width, Length::mm(203));
    assert_eq!(part(&built, Role::Floor).length, Length::mm(800));
}

#[test]
fn screws_stand_out_above_the_lid_and_below_the_flange() {
    let built = build(&screwed(Joint::Butt)).unwrap();
    let band = |below, above| RimBand {
        is_solid: true,
        out: Length::mm(30),
        below_top: Length::mm(below),
        above_top: Length::mm(above),
    };
    // Flange 4, gasket 3, lid 2; nuts 10 below, heads 6 above.
    assert_eq!(built.rims, [band(9, 0), band(19, 6)]);
    assert_eq!(built.above_rim, Length::mm(5));
    assert_eq!(built.body, [804, 404, 208].map(Length::mm));
    assert_eq!(built.overall, [864, 464, 214].map(Length::mm));
}

#[rstest]
#[case::mitred_corners_lie_on_the_joint(Joint::Mitred, 4)]
#[case::butted_corners_lie_on_the_long_bars(Joint::Butt, 0)]
fn holes_on_a_joint_are_drilled_after_welding(#[case] joint: Joint, #[case] after: u32) {
    let built = build(&screwed(joint)).unwrap();
    // Lines 834 and 434 long: 9 and 5 pitches.
    assert_eq!(built.lid_holes.unwrap().count, 28);
    assert_eq!(built.holes_after_welding(), after);
}

#[test]
fn a_flat_lid_without_flange_is_as_large_as_the_body() {
    let lid = Lid::Flat {
        sheet: steel(2),
        flange: None,
        gasket: None,
        fastener: None,
        edge: None,
    };
    let built = build(&BoxSpec { lid, ..plain() }).unwrap();
    assert_eq!(built.rims, []);
    assert_eq!(built.overall, [804, 404, 205].map(Length::mm));
    assert_eq!(part(&built, Role::LidPlate).length, Length::mm(804));
    assert_eq!(built.holes_after_welding(), 0);
}

#[test]
fn a_frame_stands_outside_the_walls_and_under_the_floor() {
    let frame = Frame {
        leg: Length::mm(40),
        thickness: Length::mm(4),
        grams_per_m: 2_420,
        joint: Joint::Butt,
    };
    let built = build(&BoxSpec {
        frame: Some(frame),
        ..plain()
    })
    .unwrap();
    assert_eq!(
        built.body,
        [804, 404, 203].map(Length::mm),
        "the frame is no part of the body"
    );
    assert_eq!(built.overall, [812, 412, 207].map(Length::mm));
    // From 4 under the floor to 36 above its underside, told from the rim at 203.
    let band = RimBand {
        is_solid: true,
        out: Length::mm(4),
        below_top: Length::mm(207),
        above_top: Length::mm(-167),
    };
    assert_eq!(built.rims, [band]);
    assert_eq!(part(&built, Role::FrameLong).ends, [EndCut::Square; 2]);
    assert_eq!(part(&built, Role::FrameShort).ends, [EndCut::Coped; 2]);
    // 2 x (812 + 404) mm at 2.42 kg/m.
    let bars = [Role::FrameLong, Role::FrameShort].map(|role| part(&built, role).grams() * 2.0);
    assert!((bars[0] + bars[1] - 5_885.44).abs() < 1e-6);
}

/// Every disc by hand: the lid of 864 x 464 x 2 has its whole pattern, each of the bars what lies on it.
#[test]
fn holes_are_taken_off_the_mass() {
    let built = build(&screwed(Joint::Butt)).unwrap();
    let Lid::Flat {
        fastener: Some(fastener),
        ..
    } = screwed(Joint::Butt).lid
    else {
        unreachable!()
    };
    let disc = fastener.hole.as_mm().powi(2) * std::f64::consts::PI / 4.0;
    let count = f64::from(built.lid_holes.unwrap().count);
    let lid = part(&built, Role::LidPlate);
    let lid_grams = (864.0 * 464.0 - count * disc) * 2.0 * 7850.0 / 1e6;
    assert!((lid.grams() - lid_grams).abs() < 1e-6);
    let bar = part(&built, Role::FlangeLong);
    #[expect(clippy::cast_precision_loss, reason = "a few holes")]
    let on_bar = bar.holes.len() as f64;
    assert!(on_bar > 0.0);
    assert!((bar.solid_grams - bar.grams() - on_bar * disc * 4.0 * 7850.0 / 1e6).abs() < 1e-6);
    let listed: f64 = built
        .parts
        .iter()
        .map(|part| part.grams() * f64::from(part.quantity))
        .sum();
    assert!((built.grams - listed).abs() < 1e-6);
    assert!(built.grams < built.solid_grams());
}

// Each face by itself, in mm2, by hand.
#[rstest]
#[case::open(plain(), 804 * 404 + 2 * (804 + 404) * 203)]
#[case::flanged(screwed(Joint::Butt), 804 * 404 + 2 * (804 + 404) * 203 // shell
    + 864 * 464 + 2 * (864 + 464) * 2 // lid, its edge
    + 2 * (864 * 464 - 804 * 404) + 2 * (864 + 464) * 4)] // flange, its edge
fn coated_area_is_the_sum_of_the_faces(#[case] spec: BoxSpec, #[case] mm2: i64) {
    let square = Length::mm(1) * Length::mm(1);
    assert_eq!(build(&spec).unwrap().coat_area, square * mm2);
}

/// A flange of 30 on walls of 2, screws in its middle through holes of 7: the holes end 18.5 mm from the edge of the lid, and the
/// inside of the wall is 32 from it: 13.5 mm wide. Its middle is 25.25 mm inside 864 x 464: 813.5 x 413.5, once round 2454 mm.
/// On a cap whose outside is 5 from the wall, its sheet 2: a gap of 3, the wall and as much as it is thick, 3 + 2 + 5.
#[test]
fn a_gasket_lies_inside_the_screws_or_in_the_cap() {
    let strip = build(&screwed(Joint::Butt)).unwrap().gasket.unwrap();
    assert_eq!(strip.lies, crate::Lies::InsideScrews);
    assert_eq!([strip.from_edge, strip.width], [185, 135].map(Length::tenths_mm));
    assert_eq!([strip.thick, strip.length], [Length::mm(5), Length::mm(2454)]);
    let cap = BoxSpec {
        lid: Lid::Cap {
            sheet: steel(2),
            out: Length::mm(5),
            deep: Length::mm(40),
            gasket: Some(Gasket {
                free: Length::mm(5),
                squeezed: Length::mm(3),
            }),
            hold: None,
        },
        ..plain()
    };
    let strip = build(&cap).unwrap().gasket.unwrap();
    assert_eq!(strip.lies, crate::Lies::InCap);
    assert_eq!([strip.from_edge, strip.width], [0, 10].map(Length::mm));
    assert_eq!(build(&plain()).unwrap().gasket, None);
}

#[test]
fn a_gasket_goes_once_round_along_the_screws() {
    let built = build(&screwed(Joint::Butt)).unwrap();
    let line = built.lid_holes.unwrap();
    // A flange of 30 mm round 804 x 404, holes in its middle.
    assert_eq!([line.line_length, line.line_width], [834, 434].map(Length::mm));
    assert_eq!(built.gasket_length, Length::mm(2 * (834 + 434)));
    assert_eq!(build(&plain()).unwrap().gasket_length, Length::ZERO);
}
