//! What was measured: cavities, readings, keep-outs.

use geometry::{Axis, Cuboid, Face, Point};
use serde::{Deserialize, Serialize};

use super::settings::named;
use super::{Id, Len, Line};

/// A measured hollow in the truck.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Cavity {
    /// Its number, which boxes refer to.
    pub id: Id,
    /// What the person calls it.
    pub name: String,
    /// Where its front-left-bottom corner stands in the vehicle (x rearward from the front axle, y right of the centre
    /// plane, z above the ground), if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<[Len; 3]>,
    /// What the tape said.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// Lines from corner to corner where no tape passes: they are not asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub out_of_reach: Vec<Line>,
    /// What the usable cuboid is laid along; floor and left rail when nothing was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laid_on: Option<LaidOn>,
    /// What the person says of its shape.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub statements: Vec<Statement>,
    /// Faces that a box may pass through.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub openings: Vec<Opening>,
    /// What must stay free.
    #[serde(default)]
    pub keep_outs: Vec<KeepOut>,
}

/// One measured distance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Along which line.
    pub line: Line,
    /// What was read, as written, with `+-` if the person gave it.
    pub read: Len,
    /// How it was taken, when not by the hook end with both ends in view.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken: Option<Taken>,
    /// What the person decided when the other readings spoke against it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decided: Option<Decided>,
    /// A remark.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

named! {
    /// How a reading was taken. It stands for the reading's sigma, unless the person typed a `+-`.
    Taken {
        /// With a rule laid in the open.
        Rule = "rule" / "rule in the open",
        /// With the hook end out of sight.
        Blind = "blind" / "hooked blind",
        /// Held up to it and judged by eye.
        Eye = "eye" / "by eye",
    }
}

named! {
    /// What the person decided of a reading that the others speak against.
    Decided {
        /// It is wrong, and left out.
        LeftOut = "left out" / "left out",
        /// It was looked at again and stands.
        Stands = "stands" / "stands",
    }
}

named! {
    /// What the usable cuboid is laid along.
    LaidOn {
        /// Floor and left rail.
        FloorLeft = "floor, left rail" / "floor and left rail",
        /// Floor and right rail.
        FloorRight = "floor, right rail" / "floor and right rail",
        /// Floor and front edge.
        FloorFront = "floor, front" / "floor and front edge",
        /// Floor and rear edge.
        FloorRear = "floor, rear" / "floor and rear edge",
        /// Roof and left rail.
        RoofLeft = "roof, left rail" / "roof and left rail",
        /// Roof and right rail.
        RoofRight = "roof, right rail" / "roof and right rail",
    }
}

/// What the person says of some lines of a cavity, for the full survey.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// What holds.
    pub says: Says,
    /// Of which lines: one for level and plumb, two for parallel and square.
    pub lines: Vec<Line>,
    /// Within how much, either way, over the length of the line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub within: Option<Len>,
}

/// What a statement says of its lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Says {
    /// The line is level.
    Level,
    /// The line is plumb.
    Plumb,
    /// The two lines are parallel.
    Parallel,
    /// The two lines are square to each other.
    Square,
}

impl Says {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Level, Self::Plumb, Self::Parallel, Self::Square];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Level => "level",
            Self::Plumb => "plumb",
            Self::Parallel => "parallel",
            Self::Square => "square",
        }
    }

    /// How many lines it is about.
    pub const fn lines(self) -> usize {
        match self {
            Self::Level | Self::Plumb => 1,
            Self::Parallel | Self::Square => 2,
        }
    }
}

/// A face of a cavity through which a box may pass.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Which face.
    pub face: FaceName,
    /// Its clear size along the face's two axes (in the order x, y, z), when smaller than the face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clear: Option<[Len; 2]>,
    /// A remark.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// Where a keep-out comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Source {
    /// Part of the frame or fixed to it: it never moves.
    #[default]
    Frame,
    /// The whole region that a moving thing can reach.
    Sweep,
    /// It can be taken out or moved, at a cost.
    Removable,
}

impl Source {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Frame, Self::Sweep, Self::Removable];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Frame => "frame",
            Self::Sweep => "sweep",
            Self::Removable => "removable",
        }
    }
}

/// A region of a cavity that must stay free, in the cavity's frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct KeepOut {
    /// Its number.
    pub id: Id,
    /// What it is.
    pub name: String,
    /// Where it comes from.
    #[serde(default)]
    pub source: Source,
    /// From: rearward, to the right, up.
    pub from: [Len; 3],
    /// To: rearward, to the right, up.
    pub to: [Len; 3],
    /// The margin asked for to it; none for the job's margin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<Len>,
    /// Whether the person has decided to take it out (removable ones only).
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub taken_out: bool,
    /// A remark.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl KeepOut {
    /// The region.
    pub fn cuboid(&self) -> Cuboid {
        Cuboid::between(point(&self.from), point(&self.to))
    }
}

/// The values of three lengths.
pub(crate) fn point(at: &[Len; 3]) -> Point {
    Point(Axis::ALL.map(|axis| at[axis.index()].value()))
}

/// A face in the file: front, rear, left, right, bottom or top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum FaceName {
    /// Low x.
    Front,
    /// High x.
    Rear,
    /// Low y.
    Left,
    /// High y.
    Right,
    /// Low z.
    Bottom,
    /// High z.
    Top,
}

impl FaceName {
    /// All six, in the order of [`Face::ALL`].
    pub const ALL: [Self; 6] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::Bottom,
        Self::Top,
    ];

    /// The face.
    pub const fn face(self) -> Face {
        Face::ALL[self as usize]
    }

    /// The name of `face`.
    pub const fn of(face: Face) -> Self {
        Self::ALL[face.index()]
    }
}
