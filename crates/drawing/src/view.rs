//! What a view shows.

use job::{Source, Subject};
use tape::Length;

use crate::{Edge, Side};

/// Everything that one view shows. Plain data in exact lengths.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// From which side.
    pub side: Side,
    /// `left saddle, seen from above`.
    pub title: String,
    /// What is drawn, far to near: one that comes later may be painted over one that came before.
    pub outlines: Vec<Outline>,
    /// Sizes.
    pub dims: Vec<Dim>,
    /// Free distances.
    pub gaps: Vec<Gap>,
    /// What the drawing rests on and what it does not show, one sentence each.
    pub notes: Vec<String>,
    /// Whether its figures rest on assumed values; each text then begins with `~`.
    pub assumed: bool,
}

impl View {
    /// The smallest rectangle round everything drawn; `None` for an empty view.
    pub fn extent(&self) -> Option<Rect> {
        self.outlines.iter().map(|o| o.rect).reduce(|a, b| a.hull(&b))
    }
}

/// A direction on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// To the right.
    U,
    /// Down.
    V,
}

impl Direction {
    /// The other one.
    #[must_use]
    pub const fn across(self) -> Self {
        match self {
            Self::U => Self::V,
            Self::V => Self::U,
        }
    }
}

/// A rectangle on the sheet: `u0 <= u1` from left to right, `v0 <= v1` from top to bottom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the doc of the struct says what they are")]
pub struct Rect {
    pub u0: Length,
    pub v0: Length,
    pub u1: Length,
    pub v1: Length,
}

impl Rect {
    /// From left to right.
    pub fn width(&self) -> Length {
        self.u1 - self.u0
    }

    /// From top to bottom.
    pub fn height(&self) -> Length {
        self.v1 - self.v0
    }

    /// Its two ends along a direction.
    pub const fn ends(&self, along: Direction) -> [Length; 2] {
        match along {
            Direction::U => [self.u0, self.u1],
            Direction::V => [self.v0, self.v1],
        }
    }

    /// The smallest rectangle round both.
    #[must_use]
    pub fn hull(&self, other: &Self) -> Self {
        Self {
            u0: self.u0.min(other.u0),
            v0: self.v0.min(other.v0),
            u1: self.u1.max(other.u1),
            v1: self.v1.max(other.v1),
        }
    }

    /// Whether `other` lies within, edges included.
    pub fn contains(&self, other: &Self) -> bool {
        self.u0 <= other.u0 && self.v0 <= other.v0 && other.u1 <= self.u1 && other.v1 <= self.v1
    }

    /// The six corners of this rectangle less another that lies in one of its corners, going round it.
    pub fn without(&self, corner: &Self) -> [[Length; 2]; 6] {
        let (far_u, near_u) = if corner.u0 == self.u0 {
            (self.u1, corner.u1)
        } else {
            (self.u0, corner.u0)
        };
        let outer_u = if far_u == self.u1 { self.u0 } else { self.u1 };
        let (far_v, near_v) = if corner.v1 == self.v1 {
            (self.v0, corner.v0)
        } else {
            (self.v1, corner.v1)
        };
        let outer_v = if far_v == self.v0 { self.v1 } else { self.v0 };
        [
            [outer_u, near_v],
            [outer_u, far_v],
            [far_u, far_v],
            [far_u, outer_v],
            [near_u, outer_v],
            [near_u, near_v],
        ]
    }

    /// Whether the insides overlap.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.u0 < other.u1 && other.u0 < self.u1 && self.v0 < other.v1 && other.v0 < self.v1
    }
}

/// What an outline is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The usable cuboid of the cavity.
    Cavity,
    /// A region that must stay free.
    KeepOut(Source),
    /// A removable keep-out that the person has decided to take out.
    TakenOut,
    /// What sticks out beyond a box's body: flange with screws, or the skirt of a cap.
    Rim,
    /// A box from under the floor to the top of the lid, before coating.
    Body,
    /// A piece of the box, as it is cut.
    Part,
    /// The space inside the liner.
    Inside,
    /// A module.
    Module,
    /// A clamped stack of modules.
    Stack,
    /// Room in front of a terminal face.
    Service,
}

/// One rectangle of a view: a cuboid as it is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// What it is.
    pub role: Role,
    /// Where it is.
    pub rect: Rect,
    /// The corner of it that is missing: of a body with a step in its underside, seen from beside the step.
    pub lacks: Option<Rect>,
    /// Its nearest and farthest depth, growing away from the viewer.
    pub depth: [Length; 2],
    /// Whether all of it lies behind one thing that is nearer. Boxes are seen open: a module is not hidden by its box.
    pub hidden: bool,
    /// What a finding or a cursor calls it.
    pub subject: Subject,
    /// Its name or mark.
    pub label: String,
    /// A second, shorter line: mass, count, source.
    pub sub: String,
    /// Where its terminal faces show; one entry for each face that carries terminals.
    pub terminals: Vec<Edge>,
}

/// A size, drawn outside the view: horizontal ones below it, upright ones to its left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dim {
    /// Along which direction.
    pub along: Direction,
    /// Where it begins (the smaller coordinate).
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// On which side of the view it stands: the bottom or the left.
    pub stands_on: Edge,
    /// How many dimensions lie between it and the view, at least: longer ones stand outside shorter ones.
    pub level: usize,
    /// The exact size.
    pub length: Length,
    /// The size in the person's units: space rounded down, sizes of things to the nearest.
    pub text: String,
    /// Of what.
    pub name: String,
}

/// A free distance between two things that face each other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gap {
    /// Along which direction.
    pub along: Direction,
    /// Where it begins (the smaller coordinate).
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Where it lies across its direction: within both things.
    pub at: Length,
    /// The exact distance; negative when they overlap.
    pub length: Length,
    /// The distance in the person's units, rounded down.
    pub text: String,
    /// Whether it is less than asked for.
    pub short: bool,
    /// From what.
    pub subject: Subject,
    /// To what, by name.
    pub name: String,
    /// How many gaps of this length there are in a row; 1 for a clearance.
    pub times: usize,
}
