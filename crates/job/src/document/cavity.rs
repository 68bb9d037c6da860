//! What was measured: cavities, readings, keep-outs.

use geometry::{Axis, Face, Point};
use serde::{Deserialize, Serialize};
use tape::survey::{Corner, Direction};

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
    /// Where it is: from the low edges of the face (front, left, lower) to its own, along the same two axes. In the middle of the
    /// face while nothing is entered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<[Len; 2]>,
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

named! {
    /// Where the places of a keep-out are counted from, inward from the walls that meet in a corner; or what its middle is
    /// placed by.
    MeasuredFrom {
        /// Rearward, to the right, up.
        FrontLeftBottom = "FLB" / "front left bottom",
        /// Forward, to the right, up.
        RearLeftBottom = "RLB" / "rear left bottom",
        /// Forward, to the left, up.
        RearRightBottom = "RRB" / "rear right bottom",
        /// Rearward, to the left, up.
        FrontRightBottom = "FRB" / "front right bottom",
        /// Rearward, to the right, down.
        FrontLeftTop = "FLT" / "front left top",
        /// Forward, to the right, down.
        RearLeftTop = "RLT" / "rear left top",
        /// Forward, to the left, down.
        RearRightTop = "RRT" / "rear right top",
        /// Rearward, to the left, down.
        FrontRightTop = "FRT" / "front right top",
        /// Its middle is placed by distances from corners; places are counted from that, rearward, to the right, up.
        Distances = "distances" / "distances from corners to its middle",
    }
}

impl MeasuredFrom {
    /// The corner; `None` when the middle is placed by distances.
    pub fn corner(self) -> Option<Corner> {
        let at = Self::ALL.iter().position(|&m| m == self)?;
        Corner::ALL.get(at).copied()
    }
}

named! {
    /// What a keep-out is taken as.
    KeepOutShape {
        /// Flat-sided.
        Block = "block" / "block",
        /// A pipe, shaft or exhaust along the length.
        RoundLength = "round, length" / "round, along the length",
        /// A bar or axle along the width.
        RoundWidth = "round, width" / "round, along the width",
        /// A post or bolt along the height.
        RoundHeight = "round, height" / "round, along the height",
    }
}

impl KeepOutShape {
    /// The axis that a round one lies along.
    pub const fn along(self) -> Option<Axis> {
        match self {
            Self::Block => None,
            Self::RoundLength => Some(Axis::X),
            Self::RoundWidth => Some(Axis::Y),
            Self::RoundHeight => Some(Axis::Z),
        }
    }
}

/// How far a thing moves from where it was taped, each way.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Travel {
    /// Forward.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front: Option<Len>,
    /// Rearward.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear: Option<Len>,
    /// To the left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<Len>,
    /// To the right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right: Option<Len>,
    /// Down, as at droop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub down: Option<Len>,
    /// Up, as at bump.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub up: Option<Len>,
}

impl Travel {
    /// Whether it does not move.
    pub fn is_none(&self) -> bool {
        Face::ALL.into_iter().all(|face| self.towards(face).is_none())
    }

    /// How far it moves towards a face.
    pub const fn towards(&self, face: Face) -> Option<&Len> {
        match face {
            Face::Front => self.front.as_ref(),
            Face::Rear => self.rear.as_ref(),
            Face::Left => self.left.as_ref(),
            Face::Right => self.right.as_ref(),
            Face::Bottom => self.down.as_ref(),
            Face::Top => self.up.as_ref(),
        }
    }

    pub(crate) const fn towards_mut(&mut self, face: Face) -> &mut Option<Len> {
        match face {
            Face::Front => &mut self.front,
            Face::Rear => &mut self.rear,
            Face::Left => &mut self.left,
            Face::Right => &mut self.right,
            Face::Bottom => &mut self.down,
            Face::Top => &mut self.up,
        }
    }
}

/// Distances from corners of the cavity to one point in it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default, rename_all = "UPPERCASE")]
pub struct FromCorners {
    /// From the front left bottom corner, and so on round the floor and then the roof.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flb: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rlb: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rrb: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frb: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flt: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rlt: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rrt: Option<Len>,
    #[expect(missing_docs, reason = "as the first")]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frt: Option<Len>,
}

impl FromCorners {
    /// The distance from a corner.
    pub fn distance(&self, corner: Corner) -> Option<&Len> {
        let all = [
            &self.flb, &self.rlb, &self.rrb, &self.frb, &self.flt, &self.rlt, &self.rrt, &self.frt,
        ];
        all[corner.index()].as_ref()
    }

    pub(crate) fn distance_mut(&mut self, corner: Corner) -> &mut Option<Len> {
        let Self {
            flb,
            rlb,
            rrb,
            frb,
            flt,
            rlt,
            rrt,
            frt,
        } = self;
        let all = [flb, rlb, rrb, frb, flt, rlt, rrt, frt];
        let mut all = all.into_iter().collect::<Vec<_>>();
        all.swap_remove(corner.index())
    }

    /// Whether nothing was taped.
    pub fn is_none(&self) -> bool {
        Corner::ALL.into_iter().all(|corner| self.distance(corner).is_none())
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
    /// What it is taken as; a block when nothing was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<KeepOutShape>,
    /// Through a round one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Option<Len>,
    /// Where `from` and `to` are counted from; the front left bottom corner when nothing was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_from: Option<MeasuredFrom>,
    /// Distances from corners to its middle, for one that is placed by them.
    #[serde(default, skip_serializing_if = "FromCorners::is_none")]
    pub distances: FromCorners,
    /// From: rearward, to the right, up. Across a round one, its middle.
    pub from: [Len; 3],
    /// To: rearward, to the right, up. Across a round one it does not count.
    pub to: [Len; 3],
    /// How far it moves from there.
    #[serde(default, skip_serializing_if = "Travel::is_none")]
    pub travel: Travel,
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
    /// Whether its places along an axis are counted from the far wall.
    pub(crate) fn is_counted_back(&self, axis: Axis) -> bool {
        let corner = self.measured_from.and_then(MeasuredFrom::corner);
        corner.is_some_and(|corner| corner.far(Direction::ALL[axis.index()]))
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
