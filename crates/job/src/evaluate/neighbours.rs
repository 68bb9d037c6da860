//! Clearances with the neighbour's name.

use geometry::Face;
use geometry::clearance::{Around, Clearance, Neighbour};
use tape::Length;

use crate::Id;

/// What a clearance ends at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Near {
    /// A wall of the cavity.
    Wall(Face),
    /// The liner of the box.
    Liner(Face),
    /// A keep-out.
    KeepOut(Id),
    /// Another box.
    Box(Id),
    /// A module or a stack.
    Module(Id),
}

/// A clearance: how far, towards where, from what, and what was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClearanceResult {
    /// The direction looked in.
    pub face: Face,
    /// The free distance; negative when they overlap.
    pub distance: Length,
    /// What is met.
    pub near: Near,
    /// Its name.
    pub name: String,
    /// The margin or gap asked for to it.
    pub asked: Length,
}

impl ClearanceResult {
    /// Whether it is less than asked for.
    pub fn is_short(&self) -> bool {
        self.distance < self.asked
    }
}

/// Six clearances and the true nearest distance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SixClearances {
    /// Front, rear, left, right, bottom, top.
    pub faces: [ClearanceResult; 6],
    /// The true nearest distance to anything, over corners too.
    pub nearest: ClearanceResult,
}

impl SixClearances {
    /// Names every neighbour of `around`.
    pub(super) fn named(around: &Around, name: impl Fn(Neighbour) -> (Near, String, Length)) -> Self {
        let named = |clearance: &Clearance| {
            let (near, name, asked) = name(clearance.neighbour);
            ClearanceResult {
                face: clearance.face,
                distance: clearance.distance,
                near,
                name,
                asked,
            }
        };
        Self {
            faces: std::array::from_fn(|i| named(&around.faces[i])),
            nearest: named(&around.nearest),
        }
    }

    /// The smallest of all: a face's clearance unless a corner is nearer still.
    pub fn tightest(&self) -> &ClearanceResult {
        let least = self.faces.iter().min_by_key(|c| c.distance).unwrap_or(&self.nearest);
        if self.nearest.distance < least.distance {
            &self.nearest
        } else {
            least
        }
    }
}
