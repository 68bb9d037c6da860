//! The seams of a box: where they are, how long, in which order, and what they do to its size.
//!
//! Start with [`map`]. A seam's length is told where it is welded: outside along the outside edges of the shell, inside
//! along the inside ones.

pub mod corner;
mod order;
pub(crate) mod seams;
mod stepped;
#[cfg(test)]
mod tests;

use tape::Length;

use crate::tolerance::LengthClass;
use crate::{BoxSpec, Built, Construction, Corners, KnownBy, Role};
pub use order::Step;
pub use seams::Draft;

/// On which side of the sheet floor and corners are welded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Side {
    /// Outside: nothing of the weld stands where modules go.
    #[default]
    Outside,
    /// Inside: a bead lies in every inside corner.
    Inside,
}

impl Side {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Outside => "outside",
            Self::Inside => "inside",
        }
    }
}

/// What is asked of the welds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// Side of floor and corner seams.
    pub side: Side,
    /// Leg of every bead; `None` for the thickness of the thinner of the two sheets.
    pub leg: Option<Length>,
    /// How far a size of the welded box may be off.
    pub held: HeldTo,
}

/// How far a size of the welded box may be off, either way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldTo {
    /// By ISO 13920, Table 1.
    Class(LengthClass),
    /// By the shop's own figure.
    Limits(Length),
}

impl HeldTo {
    /// The limits of a size, either way.
    pub fn limits(self, size: Length) -> Length {
        match self {
            Self::Class(class) => class.limits(size),
            Self::Limits(limits) => limits,
        }
    }
}

/// Where on a box a seam runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum At {
    /// Up the corners of the walls.
    Upright,
    /// Along the floor's edges.
    FloorEdge,
    /// Along the inner edge of a raised floor, on the riser.
    StepEdge,
    /// Under the rim, along the wall.
    UnderRim,
    /// Across the corners of the rim: of its flange, lips or ring.
    RimCorner,
    /// Along the edges of the lid.
    LidEdge,
    /// Up the corners of the lid.
    LidCorner,
    /// At the corners of the angle under the floor.
    FootCorner,
    /// Along the upper edge of that angle, on the wall.
    OverFoot,
    /// Where posts stand on the angle at the floor.
    PostFoot,
    /// Where posts meet the ring at the rim.
    PostHead,
    /// Along strips on the floor.
    Standoff,
    /// At foot and ends of dividers.
    Divider,
    /// Round the feet of hold-down rods.
    RodFoot,
    /// Round the lugs of hold-down bars.
    Lug,
    /// Along lid stiffeners.
    Stiffener,
    /// Along rails under the floor.
    FloorRail,
    /// Where brackets meet the box.
    Bracket,
}

impl At {
    /// Few words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Upright => "upright corner",
            Self::FloorEdge => "floor edge",
            Self::StepEdge => "edge of the step",
            Self::UnderRim => "under the rim",
            Self::RimCorner => "corner of the rim",
            Self::LidEdge => "edge of the lid",
            Self::LidCorner => "corner of the lid",
            Self::FootCorner => "corner of the foot",
            Self::OverFoot => "foot to wall",
            Self::PostFoot => "foot of the post",
            Self::PostHead => "head of the post",
            Self::Standoff => "strip on the floor",
            Self::Divider => "divider",
            Self::RodFoot => "foot of the rod",
            Self::Lug => "hold-down lug",
            Self::Stiffener => "lid stiffener",
            Self::FloorRail => "floor rail",
            Self::Bracket => "bracket",
        }
    }

    /// Whether the seam bears a load that hangs on it, so that it is welded full.
    pub const fn carries(self) -> bool {
        matches!(self, Self::RodFoot | Self::Lug | Self::Bracket)
    }

    /// Why it is welded after the shell, and how; `None` for a seam of the shell itself.
    ///
    /// Common practice, known by: memory.
    pub const fn after_the_shell(self) -> Option<&'static str> {
        match self {
            Self::Upright
            | Self::FloorEdge
            | Self::StepEdge
            | Self::UnderRim
            | Self::RimCorner
            | Self::LidEdge
            | Self::LidCorner
            | Self::FootCorner
            | Self::OverFoot
            | Self::PostFoot
            | Self::PostHead => None,
            Self::Standoff => Some(
                "strips on the floor first of what goes inside, while the whole floor is free: from the middle strip out, \
                 so that the floor does not bow one way",
            ),
            Self::Divider => Some(
                "dividers after the strips, and after the corners have drawn in, or they would stand the walls apart: \
                 their lower corners are cut to clear a bend; file them where a bead is in the way",
            ),
            Self::RodFoot => {
                Some("rods upright with the bar on them as a gauge: what the floor draws in would lean them")
            }
            Self::Lug => Some("lugs with the bar bolted to them as a gauge, so that both sit at one height"),
            Self::Stiffener => Some(
                "stiffeners on the lid alone, clamped down flat: a lid bows towards its seams, so from the middle out, left \
                 and right in turn",
            ),
            Self::FloorRail => Some(
                "rails under the floor with the box turned over, clamped down flat: stitches from the middle out, left and \
                 right in turn, so that the floor does not bow",
            ),
            Self::Bracket => Some(
                "brackets last, bolted to the rail or to a straight bar: the box has drawn in by now, and both sides have to \
                 be in line with the holes",
            ),
        }
    }
}

/// How two parts meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Form {
    /// End to end, or edge against edge in one plane.
    Butt,
    /// An edge on a face, welded in the angle between them.
    Tee,
    /// An outside corner, one sheet covering the other's edge, flush; welded inside it is a fillet.
    Corner,
    /// An outside corner, edge to edge, with a groove between the sheets.
    OpenCorner,
    /// One lying flat on the other, welded in the angle along its edge.
    Lap,
}

impl Form {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Butt => "butt",
            Self::Tee => "tee, fillet",
            Self::Corner => "corner, flush",
            Self::OpenCorner => "corner, open groove",
            Self::Lap => "lap, fillet",
        }
    }

    /// What the joint draws in when it cools.
    ///
    /// Source: the UK welding institute's answer on allowances for shrinkage: 0.8 mm across for each fillet whose leg is
    /// up to 3/4 of the plate, 1.5 to 3 mm across for a butt of 60 degrees; along, 0.8 mm in 3 m for a fillet and 3 mm in
    /// 3 m for a butt. Corner and lap joints are taken as fillets.
    pub const fn shrinkage(self) -> Shrinkage {
        match self {
            Self::Butt => Shrinkage {
                across_mm: [1.5, 3.0],
                along_mm_per_m: 1.0,
            },
            Self::Tee | Self::Corner | Self::OpenCorner | Self::Lap => Shrinkage {
                across_mm: [0.8, 0.8],
                along_mm_per_m: 0.8 / 3.0,
            },
        }
    }
}

/// Where the shrinkage comes from.
pub const SHRINKAGE_SOURCE: &str = "a welding institute's answer on allowances for shrinkage: read for fillets with a leg up \
     to 3/4 of the plate and for butts of 60 degrees; corner joints are taken as fillets, and a larger leg draws in more";
/// How the shrinkage is known.
pub const SHRINKAGE_KNOWN_BY: KnownBy = KnownBy::Found;

/// What a joint draws in when it cools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shrinkage {
    /// Across the seam, millimetres, from and to.
    pub across_mm: [f64; 2],
    /// Along the seam, millimetres for each metre of it.
    pub along_mm_per_m: f64,
}

/// How much of a seam is welded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// All of it.
    Full,
    /// Runs with gaps between them; the first and the last end at the seam's ends.
    Stitch {
        /// How many runs.
        runs: u32,
        /// Length of each.
        each: Length,
        /// From the middle of one to the middle of the next, rounded down.
        pitch: Length,
    },
}

/// Length of a run of a stitched seam.
pub const STITCH_RUN: Length = Length::mm(30);
/// Where the rule for stitches comes from.
pub const STITCH_SOURCE: &str =
    "student electric-race rules (race rules, no road law): at least half of a seam welded, in runs over 25 mm";
/// How the rule for stitches is known.
pub const STITCH_KNOWN_BY: KnownBy = KnownBy::Found;

impl Run {
    /// The fewest runs of [`STITCH_RUN`] that make up half of a seam; a seam that two would fill is welded full.
    pub fn stitch(length: Length) -> Self {
        if length <= STITCH_RUN * 2 {
            return Self::Full;
        }
        let runs = (length.nm() + 2 * STITCH_RUN.nm() - 1) / (2 * STITCH_RUN.nm());
        let runs = runs.max(2);
        Self::Stitch {
            runs: u32::try_from(runs).unwrap_or(u32::MAX),
            each: STITCH_RUN,
            pitch: Length::from_nm((length - STITCH_RUN).nm() / (runs - 1)),
        }
    }

    /// How much of a seam of this length is welded.
    pub fn welded(self, length: Length) -> Length {
        match self {
            Self::Full => length,
            Self::Stitch { runs, each, .. } => each * i64::from(runs),
        }
    }

    /// From the end of one run to the beginning of the next; `None` for a full seam.
    pub fn gap(self) -> Option<Length> {
        match self {
            Self::Full => None,
            Self::Stitch { each, pitch, .. } => Some(pitch - each),
        }
    }
}

/// Seams of one sort.
#[derive(Clone, Debug, PartialEq)]
pub struct Seam {
    /// Number on the weld map, from 1.
    pub number: u32,
    /// The two parts that it joins; twice the same for two ends or walls of one sort.
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
    /// Leg of the bead.
    pub leg: Length,
    /// On which side.
    pub side: Side,
    /// How much of it is welded.
    pub run: Run,
    /// Tacks on one before welding.
    pub tacks: u32,
    /// Whether it keeps water out, so that it has to be full.
    pub seals: bool,
    /// Weld metal of all of them, grams: a triangle of that leg, without what stands proud.
    pub metal_g: f64,
}

impl Seam {
    /// Whether the weld fills the angle between two faces; the others lie between square edges.
    ///
    /// A corner with one sheet over the other's edge has such an angle inside only; an open groove at a corner has one outside.
    pub fn is_fillet(&self) -> bool {
        match self.form {
            Form::Butt => false,
            Form::Tee | Form::OpenCorner | Form::Lap => true,
            Form::Corner => self.side == Side::Inside,
        }
    }

    /// Welded length of all of them.
    pub fn welded(&self) -> Length {
        self.run.welded(self.length) * i64::from(self.count)
    }
}

/// The widest that tacks are apart.
pub const TACK_PITCH: Length = Length::mm(150);
/// How the pitch of tacks is known.
pub const TACK_KNOWN_BY: KnownBy = KnownBy::Memory;

/// A face with two diagonals to measure after tacking and after welding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagonal {
    /// Which face, in words.
    pub face: &'static str,
    /// How many such faces.
    pub count: u32,
    /// The face's sides, outside.
    pub sides: [Length; 2],
    /// What both diagonals should measure, to the nearest nanometre.
    pub aim: Length,
    /// How far each may be off, and how far the two may differ.
    ///
    /// ISO 13920 has no line for diagonals: each is taken as a length of that size, and the difference is held to the same.
    pub within: Length,
}

/// The welds of a box.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WeldMap {
    /// The seams; empty when nothing is welded.
    pub seams: Vec<Seam>,
    /// What to do in which order.
    pub order: Vec<Step>,
    /// What to measure: floor first.
    pub diagonals: Vec<Diagonal>,
}

impl WeldMap {
    /// Length of all welds together.
    pub fn welded(&self) -> Length {
        self.seams.iter().map(Seam::welded).sum()
    }

    /// Weld metal in grams.
    pub fn metal_g(&self) -> f64 {
        self.seams.iter().map(|seam| seam.metal_g).sum()
    }

    /// The most that the seams may take off the inside in length, width and height, when no sheet is cut larger for it.
    ///
    /// Across a seam the sheet that stands with its edge on the other is drawn towards it: at the upright corners the
    /// sides that sit between the others, at an open groove both; at the floor's edges the walls, or the floor between
    /// them. Along a seam both are drawn in. Round a frame of angle nothing is counted: its panels are not welded.
    ///
    /// Source: [`SHRINKAGE_SOURCE`]; which sheet moves follows from how they meet.
    pub fn draws_in(&self, spec: &BoxSpec) -> [Length; 3] {
        let (long, short) = (spec.long_axis(), 1 - spec.long_axis());
        let both = [long, short];
        let mut along_mm = [0.0; 3];
        // Walls and floor are drawn in at different heights, and all round alike: the most counts, not the sum.
        let mut across_mm = [0.0_f64; 3];
        for seam in &self.seams {
            let shrinks = seam.form.shrinkage();
            let [_, across] = shrinks.across_mm;
            let along = shrinks.along_mm_per_m * seam.length.as_mm() / 1000.0;
            match (seam.at, spec.construction) {
                (_, Construction::Framed(_)) => {}
                (At::Upright, construction) => {
                    let between: &[usize] = match (construction, spec.corners) {
                        (Construction::Welded, Corners::LongSidesRun | Corners::WallsWrapFloor) => &both[1..],
                        (Construction::Welded, Corners::EndsRun) => &both[..1],
                        _ => &both,
                    };
                    // One at each end.
                    for &axis in between {
                        across_mm[axis] = across_mm[axis].max(across * 2.0);
                    }
                    along_mm[2] += along;
                }
                (At::FloorEdge, _) => {
                    let side = if seam.joins.contains(&Role::End) { short } else { long };
                    along_mm[side] += along;
                    if spec.corners == Corners::WallsWrapFloor {
                        across_mm[1 - side] = across_mm[1 - side].max(across * 2.0);
                    } else {
                        across_mm[2] = across_mm[2].max(across);
                    }
                }
                _ => {}
            }
        }
        [0, 1, 2].map(|axis| Length::from_mm_up(across_mm[axis] + along_mm[axis]))
    }

    /// Single seams, each with its own letter.
    pub fn count(&self) -> u32 {
        self.seams.iter().map(|seam| seam.count).sum()
    }
}

/// The welds of a box built as `spec` tells: of the shell first, then of what was added to it.
///
/// Panels in a frame of angle are riveted or bonded and have no seam; the angle has.
pub fn map(spec: &BoxSpec, built: &Built, asked: Asked) -> WeldMap {
    let seams = seams::of(spec, built, asked);
    if seams.is_empty() {
        return WeldMap::default();
    }
    let panels = match spec.construction {
        Construction::Framed(skeleton) => Some(skeleton.held),
        Construction::Welded | Construction::Folded(_) => None,
    };
    WeldMap {
        order: order::of(&seams, panels, &built.fixings),
        diagonals: diagonals(spec, built, asked.held),
        seams,
    }
}

/// Floor, long sides and ends, over the walls from under the floor to the rim; of a frame, over its angle.
fn diagonals(spec: &BoxSpec, built: &Built, held: HeldTo) -> Vec<Diagonal> {
    let long_axis = spec.long_axis();
    let (angle, under) = (built.beside - spec.wall.thickness, built.under - spec.floor.thickness);
    let [long, short] = [long_axis, 1 - long_axis].map(|axis| built.shell[axis] + angle * 2);
    let height = built.shell[2] + under;
    if let Some(step) = &built.step {
        return step_faces(step, built)
            .into_iter()
            .map(|(face, sides)| diagonal(face, 1, sides, held))
            .collect();
    }
    [
        ("floor, outside", 1, [long, short]),
        ("long side, outside", 2, [long, height]),
        ("end, outside", 2, [short, height]),
    ]
    .map(|(face, count, sides)| diagonal(face, count, sides, held))
    .to_vec()
}

fn diagonal(face: &'static str, count: u32, sides: [Length; 2], held: HeldTo) -> Diagonal {
    let aim = Length::from_mm(libm::hypot(sides[0].as_mm(), sides[1].as_mm()));
    Diagonal {
        face,
        count,
        sides,
        aim,
        within: held.limits(aim),
    }
}

/// The faces of a box with a step that have four corners: not the walls beside it, which lack one. The rim stands for them.
fn step_faces(step: &crate::Step, built: &Built) -> [(&'static str, [Length; 2]); 6] {
    let [along, across] = [step.axis(), 1 - step.axis()].map(|axis| built.shell[axis]);
    let height = built.shell[2];
    [
        ("deep floor, outside", [along - step.run, across]),
        ("raised floor, outside", [step.run, across]),
        ("riser, outside", [across, step.rise]),
        ("wall at the step, outside", [across, height - step.rise]),
        ("wall across from the step, outside", [across, height]),
        ("rim, outside", [along, across]),
    ]
}
