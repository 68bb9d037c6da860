//! What holds for every box, tried on a few.

use enclosure::material::Material;
use enclosure::{
    Bend, BendRule, BoxSpec, Built, Construction, Corners, EndCut, Fastener, Flange, Folding, Hole, Joint, Lid, Part,
    Role, Sheet, Temper, build,
};
use serde_json::json;
use tape::{Area, Length, Volume};

use super::cut_lists::{panel_volume, shell_volume};
use super::{Entry, nest_identities};
use crate::inputs::{Clear, Unclear};
use crate::question::Outcome;

/// Whether a box keeps to a statement.
type Holds = fn(&Tried) -> bool;

/// Tries the statement of an entry on every box. It is known by how it begins.
pub(super) fn held(entry: &Entry<'_>) -> Clear<Outcome> {
    let statements: [(&str, Holds); 10] = [
        ("outside length = inside length + 2t", outside),
        (
            "conventions A, B, C: sum of floor, side and end volumes",
            panels_fill_the_shell,
        ),
        ("convention D: the same shell volume", grooves_are_left),
        ("mass = volume x density for every part", mass_is_volume_by_density),
        ("A, B and C give the same total mass", same_mass),
        ("flat blank = outside legs", flat_is_legs_less_deductions),
        ("BA + BD = 2 OSSB", allowance_and_deduction),
        ("K = 0.5 makes the folded mid-surface", middle_surface),
        ("mitred flange short-point length", flange_ring),
        ("hole pattern: every pitch <= max pitch", even_holes),
    ];
    let known = statements.iter().find(|(start, _)| entry.what.starts_with(start));
    let Some((_, holds)) = known else {
        let of_nests = nest_identities::held(entry)?;
        return Ok(of_nests.unwrap_or_else(|| Outcome::not_yet("unknown kind")));
    };
    let boxes = boxes()?;
    let broken: Vec<String> = boxes.iter().filter(|tried| !holds(tried)).map(Tried::name).collect();
    let mut outcome = entry.compared(json!({ "holds": broken.is_empty() }));
    let tried = boxes.len();
    if broken.is_empty() {
        outcome.note = format!("{}tried on {tried} boxes", outcome.note);
    } else {
        let broken = broken.join(", ");
        outcome.note = format!("{}; broken by {broken} of {tried} boxes", outcome.note);
    }
    Ok(outcome)
}

/// A box that is tried, in all four conventions.
struct Tried {
    spec: BoxSpec,
    flange: Flange,
    most_pitch: Length,
    built: [(Corners, Built); 4],
}

const CONVENTIONS: [Corners; 4] = [
    Corners::LongSidesRun,
    Corners::WallsWrapFloor,
    Corners::EndsRun,
    Corners::CornerToCorner,
];

/// Boxes long and short, wider than long, and deeper than wide, in round and in odd sizes, with both flange joints.
fn boxes() -> Clear<Vec<Tried>> {
    let sizes = [
        ([1_000_000, 500_000, 220_000], 3_000, Material::MildSteel),
        ([761_325, 480_713, 199_987], 2_657, Material::MildSteel),
        ([301_001, 717_003, 309_517], 1_897, Material::Stainless304),
        ([160_000, 120_000, 400_000], 1_500, Material::Galvanised),
        ([1_057_275, 235_500, 181_500], 3_175, Material::Aluminium5052),
    ];
    let mut boxes = Vec::new();
    for (inside, thickness, material) in sizes {
        for joint in [Joint::Butt, Joint::Mitred] {
            let sheet = Sheet {
                material,
                thickness: micrometres(thickness),
            };
            boxes.push(Tried::new(inside.map(micrometres), sheet, joint)?);
        }
    }
    Ok(boxes)
}

const fn micrometres(n: i64) -> Length {
    Length::from_nm(n * 1_000)
}

impl Tried {
    fn new(inside: [Length; 3], sheet: Sheet, joint: Joint) -> Clear<Self> {
        let flange = Flange {
            width: Length::mm(25),
            thickness: Length::mm(4),
            joint,
        };
        let most_pitch = Length::mm(75);
        let spec = BoxSpec {
            inside,
            wall: sheet,
            floor: sheet,
            construction: Construction::Welded,
            corners: Corners::LongSidesRun,
            lid: Lid::Flat {
                sheet,
                flange: Some(flange),
                gasket: None,
                fastener: Some(Fastener {
                    diameter: Length::mm(6),
                    hole: Length::mm(7),
                    head_height: Length::mm(6),
                    below: Length::mm(12),
                    most_pitch,
                }),
                edge: None,
            },
            frame: None,
            step: None,
        };
        let in_convention = |corners| {
            let built = build(&BoxSpec { corners, ..spec });
            let refused = |refusal| Unclear(format!("a box to try is refused: {refusal}"));
            built.map(|built| (corners, built)).map_err(refused)
        };
        let [a, b, c, d] = CONVENTIONS.map(in_convention);
        Ok(Self {
            spec,
            flange,
            most_pitch,
            built: [a?, b?, c?, d?],
        })
    }

    fn name(&self) -> String {
        format!("{:?}", self.spec.inside.map(Length::as_mm))
    }

    fn in_every(&self, holds: impl Fn(Corners, &Built) -> bool) -> bool {
        self.built.iter().all(|(corners, built)| holds(*corners, built))
    }
}

fn outside(tried: &Tried) -> bool {
    let ([length, width, depth], t) = (tried.spec.inside, tried.spec.wall.thickness);
    tried.in_every(|_, built| built.shell == [length + t * 2, width + t * 2, depth + t])
}

/// `(L + 2t)(W + 2t)(D + t) - LWD`.
fn shell(tried: &Tried) -> Volume {
    let ([length, width, depth], t) = (tried.spec.inside, tried.spec.wall.thickness);
    (length + t * 2) * (width + t * 2) * (depth + t) - length * width * depth
}

fn panels_fill_the_shell(tried: &Tried) -> bool {
    tried.in_every(|corners, built| {
        corners == Corners::CornerToCorner
            || panel_volume(built) == shell(tried) && shell_volume(built, &tried.spec) == shell(tried)
    })
}

fn grooves_are_left(tried: &Tried) -> bool {
    let ([length, width, depth], t) = (tried.spec.inside, tried.spec.wall.thickness);
    let grooves = t * t * depth * 4 + t * t * (length + width) * 2 + t * t * t * 4;
    tried.in_every(|corners, built| corners != Corners::CornerToCorner || panel_volume(built) + grooves == shell(tried))
}

fn mass_is_volume_by_density(tried: &Tried) -> bool {
    let grams = |part: &Part| {
        let across = part.holes.iter().map(|hole| hole.diameter.as_mm());
        let holes: f64 = across.map(|d| d * d * std::f64::consts::FRAC_PI_4).sum();
        let volume = (face(part).as_mm2() - holes) * part.sheet.thickness.as_mm();
        volume * part.sheet.material.density_kg_m3() * 1e-6
    };
    tried.in_every(|_, built| {
        let each = built.parts.iter().all(|part| near(part.grams(), grams(part)));
        let sum = built
            .parts
            .iter()
            .map(|part| grams(part) * f64::from(part.quantity))
            .sum();
        each && near(built.grams, sum)
    })
}

/// The face of a part from its sizes: a mitred bar is a trapezoid.
fn face(part: &Part) -> Area {
    let mitred = part.ends == [EndCut::Mitre45; 2];
    let mean = if mitred { part.length - part.width } else { part.length };
    mean * part.width
}

fn same_mass(tried: &Tried) -> bool {
    let [(_, a), (_, b), (_, c), _] = &tried.built;
    near(a.grams, b.grams) && near(a.grams, c.grams)
}

/// The box folded from one sheet with lips as wide as the flange, and its bend by each rule.
fn folded(tried: &Tried) -> impl Iterator<Item = (Bend, Built)> {
    let sheet = tried.spec.wall;
    [
        BendRule::K(0.44),
        BendRule::Handbook(Temper::HalfHard),
        BendRule::Din6935,
        BendRule::K(0.5),
    ]
    .into_iter()
    .filter_map(move |rule| {
        let folding = Folding {
            radius: sheet.thickness,
            rule,
            gap: Length::ZERO,
            relief: Length::ZERO,
        };
        let lid = Lid::Flat {
            sheet,
            flange: Some(Flange {
                thickness: sheet.thickness,
                ..tried.flange
            }),
            gasket: None,
            fastener: None,
            edge: None,
        };
        let spec = BoxSpec {
            construction: Construction::Folded(folding),
            lid,
            ..tried.spec
        };
        let bend = Bend::square(folding.radius, sheet.thickness, rule);
        Some((bend, build(&spec).ok()?))
    })
}

/// Whether all four rules give a tray that keeps to a statement about its longer side.
fn folds(tried: &Tried, holds: impl Fn(&Bend, Length, Length) -> bool) -> bool {
    let long = tried.spec.inside[0].max(tried.spec.inside[1]);
    let trays = folded(tried).map(|(bend, built)| {
        let tray = built.parts.iter().find(|part| part.role == Role::Tray);
        tray.is_some_and(|tray| holds(&bend, long, tray.length))
    });
    let held: Vec<bool> = trays.collect();
    held.len() == 4 && held.iter().all(|&held| held)
}

fn flat_is_legs_less_deductions(tried: &Tried) -> bool {
    let (t, lip) = (tried.spec.wall.thickness, tried.flange.width);
    let height = tried.spec.inside[2] + t;
    folds(tried, |bend, long, flat| {
        let legs = long + t * 2 + height * 2 + (lip + t) * 2;
        let r = bend.radius;
        let straight = long - r * 2 + (height - (t + r) * 2) * 2 + (lip - r) * 2;
        flat == legs - bend.deduction() * 4 && flat == straight + bend.allowance() * 4
    })
}

fn allowance_and_deduction(tried: &Tried) -> bool {
    folds(tried, |bend, _, _| {
        bend.allowance() + bend.deduction() == bend.set_back() * 2
    })
}

/// The middle surface is the straight lengths and quarter circles half a thickness outside the inside radius.
fn middle_surface(tried: &Tried) -> bool {
    let (t, lip) = (tried.spec.wall.thickness, tried.flange.width);
    folds(tried, |bend, long, flat| {
        let r = bend.radius;
        let straight = long - r * 2 + (tried.spec.inside[2] - t - r * 2) * 2 + (lip - r) * 2;
        let arcs = 4.0 * std::f64::consts::FRAC_PI_2 * (r.as_mm() + t.as_mm() / 2.0);
        let folded = straight.as_mm() + arcs;
        bend.rule != BendRule::K(0.5) || near_mm(folded, flat.as_mm())
    })
}

/// Within a few nanometres: each bend is rounded to one.
fn near_mm(a: f64, b: f64) -> bool {
    (a - b).abs() <= 5e-6
}

/// Within 1e-9 of the first.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs()
}

fn flange_ring(tried: &Tried) -> bool {
    let width = tried.flange.width;
    tried.in_every(|_, built| {
        let [length_out, width_out, _] = built.shell;
        let bars = |role| built.parts.iter().filter(move |part| part.role == role);
        let [long, short] = [Role::FlangeLong, Role::FlangeShort].map(bars);
        let area: Area = long
            .clone()
            .chain(short.clone())
            .map(|bar| face(bar) * i64::from(bar.quantity))
            .sum();
        let ring = (length_out + width * 2) * (width_out + width * 2) - length_out * width_out;
        // The short points of a mitred bar are at the corners of the wall it stands against.
        let short_points = tried.flange.joint == Joint::Butt
            || long
                .clone()
                .all(|bar| bar.length - width * 2 == length_out.max(width_out))
                && short
                    .clone()
                    .all(|bar| bar.length - width * 2 == length_out.min(width_out));
        area == ring && short_points && long.count() == 1 && short.count() == 1
    })
}

/// One nanometre, since each hole is rounded to the nearest.
const ROUNDING: Length = Length::from_nm(1);

fn even_holes(tried: &Tried) -> bool {
    tried.in_every(|_, built| {
        let lid = built.parts.iter().find(|part| part.role == Role::LidPlate);
        lid.zip(built.lid_holes).is_some_and(|(lid, pattern)| {
            let shared = pattern.count == 2 * (pattern.intervals_long + pattern.intervals_short);
            shared
                && lid.holes.len() == pattern.count as usize
                && mirrored(lid)
                && edges(lid).iter().all(|line| {
                    line.len() > 1
                        && line
                            .windows(2)
                            .all(|two| two[1] - two[0] <= tried.most_pitch + ROUNDING)
                })
        })
    })
}

/// The places along each of the four lines of holes, corner holes in both of theirs.
fn edges(lid: &Part) -> [Vec<Length>; 4] {
    let x: fn(&Hole) -> Length = |hole| hole.x;
    let y: fn(&Hole) -> Length = |hole| hole.y;
    let line = |across: fn(&Hole) -> Length, along: fn(&Hole) -> Length, far: bool| {
        let places = lid.holes.iter().map(across);
        let edge = if far { places.max() } else { places.min() };
        let on_edge = lid.holes.iter().filter(|hole| Some(across(hole)) == edge);
        let mut line: Vec<Length> = on_edge.map(along).collect();
        line.sort_unstable();
        line
    };
    [line(y, x, false), line(y, x, true), line(x, y, false), line(x, y, true)]
}

/// Whether each hole has one opposite both centre lines.
fn mirrored(lid: &Part) -> bool {
    let there = |x: Length, y: Length| {
        lid.holes
            .iter()
            .any(|hole| (hole.x - x).abs() <= ROUNDING && (hole.y - y).abs() <= ROUNDING)
    };
    lid.holes
        .iter()
        .all(|hole| there(lid.length - hole.x, hole.y) && there(hole.x, lid.width - hole.y))
}
