//! Trays and pan lids, folded up again from their flat sheets.

use proptest::prelude::*;
use rstest::rstest;
use tape::Length;

use super::random::{length, sheet_of};
use super::{part, steel};
use crate::bend::{Bend, BendRule, Temper};
use crate::build::build;
use crate::{
    BoxSpec, Built, Construction, Corners, Fastener, Flange, Fold, Folding, Joint, Lid, Part, Role, SpecError, Vertex,
};

fn rules() -> impl Strategy<Value = BendRule> {
    prop_oneof![
        (0.3..0.5).prop_map(BendRule::K),
        Just(BendRule::Handbook(Temper::HalfHard)),
        Just(BendRule::Din6935),
    ]
}

/// A folded box, with lips or with a pan lid.
pub(crate) fn folded() -> impl Strategy<Value = BoxSpec> {
    let inside = [length(150, 1_500), length(150, 1_500), length(80, 400)];
    let folding = (length(1, 4), rules(), length(0, 1)).prop_map(|(radius, rule, gap)| Folding {
        radius,
        rule,
        gap,
        relief: radius * 2,
    });
    (inside, sheet_of(1, 3), folding, length(16, 30), any::<bool>()).prop_map(
        |(inside, sheet, folding, lip, capped)| {
            let lid = if capped {
                Lid::Cap {
                    sheet,
                    out: sheet.thickness + Length::mm(2),
                    deep: Length::mm(30),
                    gasket: None,
                    hold: None,
                }
            } else {
                Lid::Flat {
                    sheet,
                    flange: Some(Flange {
                        width: lip,
                        thickness: sheet.thickness,
                        joint: Joint::Mitred,
                    }),
                    gasket: None,
                    fastener: Some(Fastener {
                        diameter: Length::mm(5),
                        hole: Length::tenths_mm(55),
                        head_height: Length::mm(4),
                        below: Length::mm(8),
                        most_pitch: Length::mm(70),
                    }),
                    edge: Some(Length::mm(6)),
                }
            };
            BoxSpec {
                inside,
                wall: sheet,
                floor: sheet,
                construction: Construction::Folded(folding),
                corners: Corners::LongSidesRun,
                lid,
                frame: None,
                step: None,
            }
        },
    )
}

fn folding(spec: &BoxSpec) -> Folding {
    match spec.construction {
        Construction::Folded(folding) => folding,
        Construction::Welded | Construction::Framed(_) => unreachable!(),
    }
}

fn square_bend(spec: &BoxSpec) -> Bend {
    let folding = folding(spec);
    Bend::square(folding.radius, spec.wall.thickness, folding.rule)
}

fn lip(spec: &BoxSpec) -> Option<Length> {
    match spec.lid {
        Lid::Flat { flange, .. } => flange.map(|flange| flange.width),
        Lid::None | Lid::Cap { .. } => None,
    }
}

/// The outline with arcs as their chords.
fn corners(part: &Part) -> Vec<[Length; 2]> {
    part.outline.iter().map(|v| [v.x, v.y]).collect()
}

fn tray(built: &Built) -> &Part {
    part(built, Role::Tray)
}

proptest! {
    /// The other way to the flat size: the outside legs as a caliper reads them, less a deduction for each bend.
    #[test]
    fn the_flat_sheet_is_the_outside_legs_less_a_deduction_a_bend(spec in folded()) {
        let built = build(&spec).unwrap();
        let (t, bend) = (spec.wall.thickness, square_bend(&spec));
        let height = spec.inside[2] + t;
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()];
        for (axis, size) in [(long, tray(&built).length), (short, tray(&built).width)] {
            let outside = spec.inside[axis] + t * 2;
            let legs = match lip(&spec) {
                None => outside + height * 2 - bend.deduction() * 2,
                // A lip is measured from the wall's outer face; with the wall's thickness it is its outside leg.
                Some(lip) => outside + height * 2 + (lip + t) * 2 - bend.deduction() * 4,
            };
            prop_assert_eq!(size, legs);
        }
        prop_assert_eq!(built.shell, [spec.inside[0] + t * 2, spec.inside[1] + t * 2, height]);
    }

    /// Cut along the bends, the sheet is the floor, four walls and four lips, each as long as the box asks for.
    #[test]
    fn walls_and_lips_have_the_sizes_of_the_box(spec in folded()) {
        let built = build(&spec).unwrap();
        let part = tray(&built);
        let (folding, t, bend) = (folding(&spec), spec.wall.thickness, square_bend(&spec));
        let half = bend.allowance().half_down();
        let floor_line = part.bends[0];
        // Along the bend: the wall, a gap short of both inside corners.
        let wall = floor_line.to[0] - floor_line.from[0];
        prop_assert_eq!(wall, spec.inside[spec.long_axis()] - folding.gap * 2);
        // Across it: from the floor's tangent line to the rim or to the lip's tangent line.
        let tangent = floor_line.from[1] - half;
        match lip(&spec) {
            None => prop_assert_eq!(tangent, spec.inside[2] - folding.radius),
            Some(lip) => {
                let lip_line = part.bends[4];
                prop_assert_eq!(lip_line.fold, Fold::Down);
                let upper = lip_line.from[1] - half + bend.allowance();
                prop_assert_eq!(tangent - upper, spec.inside[2] - t - folding.radius * 2);
                prop_assert_eq!(lip_line.from[1] - half, lip - folding.radius);
                // The lips' outer corners are those of the lid, a gap apart.
                let lower: Vec<_> = corners(part).into_iter().filter(|at| at[1] == Length::ZERO).collect();
                let lid = super::part(&built, Role::LidPlate);
                prop_assert_eq!(lower[1][0] - lower[0][0], lid.length - folding.gap * 2);
            }
        }
        prop_assert!(part.bends.iter().take(4).all(|bend| bend.fold == Fold::Up));
    }

    /// The pan's skirt hangs as deep as the welded cap's and stands as far out.
    #[test]
    fn a_pan_lid_is_as_large_as_a_cap(spec in folded()) {
        let built = build(&spec).unwrap();
        let Lid::Cap { sheet, out, deep, .. } = spec.lid else { return Ok(()) };
        let pan = part(&built, Role::PanLid);
        let bend = Bend::square(folding(&spec).radius, sheet.thickness, folding(&spec).rule);
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()].map(|axis| built.shell[axis] + out * 2);
        prop_assert_eq!(pan.length, long + deep * 2 - bend.deduction() * 2);
        prop_assert_eq!(pan.width, short + deep * 2 - bend.deduction() * 2);
        prop_assert_eq!(built.overall[spec.long_axis()], long);
    }

    /// Whatever the sizes, the outline goes round once to the left, crosses nothing and stays on the sheet; the hole
    /// line's holes lie on the lips.
    #[test]
    fn the_outline_is_one_closed_line_round_the_sheet(spec in folded()) {
        let built = build(&spec).unwrap();
        for part in built.parts.iter().filter(|part| !part.bends.is_empty()) {
            let edge = corners(part);
            let inside = |at: &[Length; 2]| {
                at[0] >= Length::ZERO && at[1] >= Length::ZERO && at[0] <= part.length && at[1] <= part.width
            };
            prop_assert!(edge.iter().all(inside));
            let edges: Vec<_> = edge.iter().zip(edge.iter().cycle().skip(1)).collect();
            for (i, (a, b)) in edges.iter().enumerate() {
                prop_assert!(a != b, "a piece of no length");
                for (j, (c, d)) in edges.iter().enumerate().skip(i + 2) {
                    let neighbours = i == 0 && j + 1 == edges.len();
                    prop_assert!(neighbours || !cross(a, b, c, d), "{a:?} {b:?} crosses {c:?} {d:?}");
                }
            }
            // The reliefs are off the mass: each arc walked in a thousand chords encloses what is left.
            let left = walked_mm2(&part.outline);
            let grams = left * part.sheet.thickness.as_mm() * part.sheet.material.density_kg_m3() / 1e6;
            let drilled = part.solid_grams - part.taken_out_grams();
            let holes = super::holes_mm2(part) * part.sheet.thickness.as_mm() * part.sheet.material.density_kg_m3() / 1e6;
            prop_assert!((drilled + holes - grams).abs() < 1e-4 * grams);
            // Without its reliefs it is what its area says; they take or leave little.
            let chords: f64 = crate::part::area_within(&part.outline).as_mm2();
            prop_assert!((chords - part.area.as_mm2()).abs() < 400.0);
            for bend in &part.bends {
                prop_assert!(bend.from != bend.to);
            }
        }
    }

    #[test]
    fn holes_in_the_lips_lie_under_those_of_the_lid(spec in folded()) {
        let built = build(&spec).unwrap();
        let Some(lip) = lip(&spec) else { return Ok(()) };
        let lid = part(&built, Role::LidPlate);
        let part = tray(&built);
        let t = spec.wall.thickness;
        // What the sheet is longer than the lid on each side.
        let more = [part.length - lid.length, part.width - lid.width].map(Length::half_down);
        let near = |a: Length, b: Length| (a - b).abs() <= Length::from_nm(2);
        let mut met = 0;
        for hole in &part.holes {
            // On a lip along the length, x is only shifted and y counts from the edge, and the other way about.
            let over = lid.holes.iter().any(|lid_hole| {
                let along = near(hole.x - more[0], lid_hole.x)
                    && (near(hole.y, lid_hole.y) || near(part.width - hole.y, lid.width - lid_hole.y));
                let across = near(hole.y - more[1], lid_hole.y)
                    && (near(hole.x, lid_hole.x) || near(part.length - hole.x, lid.length - lid_hole.x));
                along || across
            });
            met += usize::from(over);
        }
        prop_assert_eq!(met, part.holes.len());
        // Only the four corner holes, and others that the mitre runs through, are drilled once it is welded.
        prop_assert!(built.holes_after_welding() >= 4);
        prop_assert_eq!(
            built.holes_after_welding() as usize + part.holes.len(),
            lid.holes.len()
        );
        prop_assert!(lip > t);
    }
}

/// Whether two pieces cross or touch.
fn cross(a: &[Length; 2], b: &[Length; 2], c: &[Length; 2], d: &[Length; 2]) -> bool {
    let side = |p: &[Length; 2], q: &[Length; 2], r: &[Length; 2]| {
        let turn = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        turn.nm2().signum()
    };
    side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}

/// The tray of the worked case: 620 x 410 x 120 inside, 2 mm, r = 2, K = 0.44, gap 0.5.
pub(crate) fn worked() -> BoxSpec {
    let sheet = steel(2);
    BoxSpec {
        inside: [620, 410, 120].map(Length::mm),
        wall: sheet,
        floor: sheet,
        construction: Construction::Folded(Folding {
            radius: Length::mm(2),
            rule: BendRule::K(0.44),
            gap: Length::tenths_mm(5),
            relief: Length::mm(6),
        }),
        corners: Corners::LongSidesRun,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}

/// The relief hole is 6 mm round the crossing of the tangent lines, 1.5 mm inside the notch's corner both ways: it reaches
/// back sqrt(9 - 2.25) - 1.5 = 1.098 mm along the notch and turns through 270 + 2 x 30 degrees.
#[test]
fn a_relief_takes_the_corner_of_the_notch_away() {
    let built = build(&worked()).unwrap();
    let outline = &tray(&built).outline;
    let arcs: Vec<&Vertex> = outline.iter().filter(|v| v.bulge != 0.0).collect();
    assert_eq!(arcs.len(), 4);
    let (arc, after) = (outline[1], outline[2]);
    assert!((arc.y - arc.x).as_mm() - 1.098 < 1e-3 && (arc.y - after.y).as_mm() - 1.098 < 1e-3);
    let turn: f64 = 330.0;
    assert!((arc.bulge + (turn.to_radians() / 4.0).tan()).abs() < 1e-6);
}

#[rstest]
#[case::two_thicknesses(BoxSpec { floor: steel(3), ..worked() }, SpecError::TwoSheets)]
#[case::low_wall(
    BoxSpec { inside: [620, 410, 2].map(Length::mm), ..worked() },
    SpecError::TooShortToFold { what: "the wall of the tray" }
)]
fn what_cannot_be_folded_is_refused(#[case] spec: BoxSpec, #[case] why: SpecError) {
    assert_eq!(build(&spec).unwrap_err(), why);
}

#[test]
fn lips_wider_than_the_walls_are_high_would_overlap() {
    let spec = BoxSpec {
        inside: [620, 410, 30].map(Length::mm),
        lid: Lid::Flat {
            sheet: steel(2),
            flange: Some(Flange {
                width: Length::mm(40),
                thickness: Length::mm(2),
                joint: Joint::Mitred,
            }),
            gasket: None,
            fastener: None,
            edge: None,
        },
        ..worked()
    };
    assert_eq!(build(&spec).unwrap_err(), SpecError::LipsOverlap);
}

/// The area within an edge whose arcs are walked from point to point round their middle.
fn walked_mm2(outline: &[Vertex]) -> f64 {
    const STEPS: i32 = 1_000;
    let mut points: Vec<[f64; 2]> = Vec::new();
    for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        let [a, b] = [from, to].map(|v| [v.x.as_mm(), v.y.as_mm()]);
        points.push(a);
        if from.bulge == 0.0 {
            continue;
        }
        // The middle lies on the chord's bisector, to its left by (1 / bulge - bulge) / 4 of the chord.
        let chord = [b[0] - a[0], b[1] - a[1]];
        let out = (1.0 / from.bulge - from.bulge) / 4.0;
        let middle = [
            f64::midpoint(a[0], b[0]) - chord[1] * out,
            f64::midpoint(a[1], b[1]) + chord[0] * out,
        ];
        let arm = [a[0] - middle[0], a[1] - middle[1]];
        for step in 1..STEPS {
            let (sin, cos) = (4.0 * from.bulge.atan() * f64::from(step) / f64::from(STEPS)).sin_cos();
            points.push([
                middle[0] + arm[0] * cos - arm[1] * sin,
                middle[1] + arm[0] * sin + arm[1] * cos,
            ]);
        }
    }
    let next = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum::<f64>()
        / 2.0
}
