//! What was measured: cavities, readings, keep-outs.

use geometry::{Axis, Cuboid, Face, Point};
use serde::{Deserialize, Serialize};

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
    /// A remark.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
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
    /// Within how much.
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
