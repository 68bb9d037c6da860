//! Which parts of each construction are welded to which.

use tape::Length;

use super::{Asked, At, Form, Run, Seam, Side, TACK_PITCH};
use crate::material::Material;
use crate::{BoxSpec, Built, Construction, Corners, Joint, Lid, Role};

/// A seam before it is numbered and its bead is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The two parts that it joins.
    pub joins: [Role; 2],
    /// Where it runs.
    pub at: At,
    /// Where it is, in words.
    pub place: &'static str,
    /// How they meet.
    pub form: Form,
    /// Length of one.
    pub length: Length,
    /// How many.
    pub count: u32,
    /// On which side.
    pub side: Side,
    /// The thinner of the two sheets.
    pub thinner: Length,
    /// Whether it keeps water out, so that it has to be full.
    pub seals: bool,
}

impl Draft {
    fn numbered(self, number: u32, leg: Option<Length>, material: Material) -> Seam {
        let run = if self.seals || self.at.carries() || self.form == Form::Butt {
            Run::Full
        } else {
            Run::stitch(self.length)
        };
        let mut seam = Seam {
            number,
            joins: self.joins,
            at: self.at,
            place: self.place,
            form: self.form,
            length: self.length,
            count: self.count,
            leg: leg.unwrap_or(self.thinner),
            side: self.side,
            run,
            tacks: tacks(self.length),
            seals: self.seals,
            metal_g: 0.0,
        };
        // kg/m3 x mm3 = 1e-6 g
        let metal_mm3 = seam.leg.as_mm().powi(2) / 2.0 * seam.welded().as_mm();
        seam.metal_g = metal_mm3 * material.density_kg_m3() * 1e-6;
        seam
    }
}

/// One at each end, and between them so many that none is further from the next than [`TACK_PITCH`].
fn tacks(length: Length) -> u32 {
    let pitches = (length.nm() + TACK_PITCH.nm() - 1) / TACK_PITCH.nm();
    u32::try_from(pitches.max(1) + 1).unwrap_or(u32::MAX)
}

pub(super) fn of(spec: &BoxSpec, built: &Built, asked: Asked) -> Vec<Seam> {
    let sizes = Sizes::of(spec, built);
    let mut drafts = match spec.construction {
        Construction::Welded => match &spec.step {
            Some(step) => super::stepped::shell(spec, step, asked.side),
            None => shell(spec, &sizes, asked.side),
        },
        Construction::Folded(_) => tray(spec, &sizes, asked.side),
        Construction::Framed(skeleton) => framed(skeleton.leg, skeleton.thickness, skeleton.joint),
    };
    drafts.extend(rim(spec, &sizes));
    if let (Some(frame), Construction::Welded | Construction::Folded(_)) = (spec.frame, spec.construction) {
        drafts.push(ring("angle frame", frame.leg, frame.thickness, frame.joint));
        let thinner = frame.thickness.min(spec.wall.thickness);
        let [side, end] = if matches!(spec.construction, Construction::Folded(_)) {
            [Role::Tray; 2]
        } else {
            [Role::LongSide, Role::End]
        };
        drafts.push(angle_to_wall([Role::FrameLong, side], sizes.outside[0], thinner));
        drafts.push(angle_to_wall([Role::FrameShort, end], sizes.outside[1], thinner));
    }
    drafts.extend(&built.seams);
    (1..)
        .zip(drafts)
        .map(|(number, draft)| draft.numbered(number, asked.leg, spec.wall.material))
        .collect()
}

/// Sizes along the longer and the shorter side.
struct Sizes {
    inside: [Length; 2],
    outside: [Length; 2],
    depth: Length,
    height: Length,
}

impl Sizes {
    fn of(spec: &BoxSpec, built: &Built) -> Self {
        let axes = [spec.long_axis(), 1 - spec.long_axis()];
        Self {
            inside: axes.map(|axis| spec.inside[axis]),
            outside: axes.map(|axis| built.shell[axis]),
            depth: spec.inside[2],
            height: built.shell[2],
        }
    }
}

/// The upper edge of the frame's upright on the wall; it holds, and keeps nothing out.
fn angle_to_wall(joins: [Role; 2], length: Length, thinner: Length) -> Draft {
    Draft {
        joins,
        at: At::OverFoot,
        place: "upper edge of the angle, on the wall",
        form: Form::Tee,
        length,
        count: 2,
        side: Side::Outside,
        thinner,
        seals: false,
    }
}

/// Corners, then the floor. Floor seams outside run round the whole floor, the ends of the walls beside included.
fn shell(spec: &BoxSpec, sizes: &Sizes, side: Side) -> Vec<Draft> {
    let (wall, floor) = (spec.wall.thickness, spec.floor.thickness);
    let form = match (spec.corners, side) {
        (Corners::CornerToCorner, _) => Form::OpenCorner,
        _ => Form::Corner,
    };
    let (around, upright) = match (side, spec.corners) {
        // Under the floor the line between floor and walls is as long as the floor.
        (Side::Outside, Corners::WallsWrapFloor) => (sizes.inside, sizes.height),
        (Side::Outside, Corners::LongSidesRun | Corners::EndsRun) => (sizes.outside, sizes.depth),
        (Side::Inside, _) | (_, Corners::CornerToCorner) => (sizes.inside, sizes.depth),
    };
    let along_floor = match (side, spec.corners) {
        (Side::Inside, _) => "inside along the floor",
        (_, Corners::WallsWrapFloor) => "under the floor, along its edge",
        _ => "along the floor's edge",
    };
    let seam = |joins, place, length, count, thinner| Draft {
        joins,
        at: if count == 4 { At::Upright } else { At::FloorEdge },
        place,
        form,
        length,
        count,
        side,
        thinner,
        seals: true,
    };
    vec![
        seam([Role::LongSide, Role::End], "upright corner", upright, 4, wall),
        seam(
            [Role::Floor, Role::LongSide],
            along_floor,
            around[0],
            2,
            wall.min(floor),
        ),
        seam([Role::Floor, Role::End], along_floor, around[1], 2, wall.min(floor)),
    ]
}

/// The corners of a folded tray, from the floor's bend to the rim; the mitres of its lips.
fn tray(spec: &BoxSpec, sizes: &Sizes, side: Side) -> Vec<Draft> {
    let upright = match side {
        Side::Outside => sizes.height,
        Side::Inside => sizes.depth,
    };
    let wall = spec.wall.thickness;
    let mut drafts = vec![Draft {
        joins: [Role::Tray; 2],
        at: At::Upright,
        place: "upright corner, with the relief hole at its foot",
        form: Form::OpenCorner,
        length: upright,
        count: 4,
        side,
        thinner: wall,
        seals: true,
    }];
    if let Lid::Flat { flange: Some(lip), .. } = spec.lid {
        drafts.push(Draft {
            joins: [Role::Tray; 2],
            at: At::RimCorner,
            place: "mitre of the lips",
            form: Form::Butt,
            length: diagonal(lip.width),
            count: 4,
            side: Side::Outside,
            thinner: wall,
            seals: true,
        });
    }
    drafts
}

/// Two rings and four posts of angle; the panels in them are riveted or bonded.
fn framed(leg: Length, thickness: Length, joint: Joint) -> Vec<Draft> {
    let post = |joins, at, place| Draft {
        joins,
        at,
        place,
        form: Form::Butt,
        length: leg * 2 - thickness,
        count: 4,
        side: Side::Outside,
        thinner: thickness,
        seals: false,
    };
    let mut rim = ring("ring at the rim", leg, thickness, joint);
    rim.joins = [Role::RingLong, Role::RingShort];
    rim.at = At::RimCorner;
    vec![
        ring("ring at the floor", leg, thickness, joint),
        rim,
        post(
            [Role::Post, Role::FrameLong],
            At::PostFoot,
            "foot of the post, both legs",
        ),
        post(
            [Role::Post, Role::RingLong],
            At::PostHead,
            "head of the post, both legs",
        ),
    ]
}

/// The corners of a ring of angle: across both legs, at 45 degrees across the level one when mitred.
fn ring(place: &'static str, leg: Length, thickness: Length, joint: Joint) -> Draft {
    Draft {
        joins: [Role::FrameLong, Role::FrameShort],
        at: At::FootCorner,
        place,
        form: Form::Butt,
        length: match joint {
            Joint::Mitred => leg + diagonal(leg),
            Joint::Butt => leg * 2 - thickness,
        },
        count: 4,
        side: Side::Outside,
        thinner: thickness,
        seals: false,
    }
}

/// A flange of bars with its corners, or the skirt of a cap; a gasket makes them part of the seal.
fn rim(spec: &BoxSpec, sizes: &Sizes) -> Vec<Draft> {
    match (spec.lid, spec.construction) {
        (
            Lid::Flat {
                flange: Some(flange),
                gasket,
                ..
            },
            Construction::Welded,
        ) => {
            let thinner = flange.thickness.min(spec.wall.thickness);
            let under = |joins, length| Draft {
                joins,
                at: At::UnderRim,
                place: "under the flange, along the wall",
                form: Form::Tee,
                length,
                count: 2,
                side: Side::Outside,
                thinner,
                seals: gasket.is_some(),
            };
            let across = match flange.joint {
                Joint::Mitred => diagonal(flange.width),
                Joint::Butt => flange.width,
            };
            vec![
                Draft {
                    joins: [Role::FlangeLong, Role::FlangeShort],
                    at: At::RimCorner,
                    place: "corner of the flange",
                    form: Form::Butt,
                    length: across,
                    count: 4,
                    side: Side::Outside,
                    thinner: flange.thickness,
                    seals: gasket.is_some(),
                },
                under([Role::FlangeLong, Role::LongSide], sizes.outside[0]),
                under([Role::FlangeShort, Role::End], sizes.outside[1]),
            ]
        }
        (Lid::Cap { sheet, out, deep, .. }, made) => {
            let cap = |joins, place, form, length, count| Draft {
                joins,
                at: if count == 4 { At::LidCorner } else { At::LidEdge },
                place,
                form,
                length,
                count,
                side: Side::Outside,
                thinner: sheet.thickness,
                seals: true,
            };
            let over = sizes.outside.map(|side| side + out * 2);
            let corner = "upright corner of the cap";
            let along = "along the edge of the cap";
            if matches!(made, Construction::Folded(_)) {
                return vec![cap([Role::PanLid; 2], corner, Form::OpenCorner, deep, 4)];
            }
            let hang = deep - sheet.thickness;
            vec![
                cap([Role::SkirtLong, Role::SkirtShort], corner, Form::Corner, hang, 4),
                cap([Role::LidPlate, Role::SkirtLong], along, Form::Corner, over[0], 2),
                cap([Role::LidPlate, Role::SkirtShort], along, Form::Corner, over[1], 2),
            ]
        }
        _ => Vec::new(),
    }
}

/// The diagonal of a square, rounded up.
fn diagonal(side: Length) -> Length {
    Length::from_mm_up(side.as_mm() * std::f64::consts::SQRT_2)
}
