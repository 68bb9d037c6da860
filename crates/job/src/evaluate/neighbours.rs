//! Clearances with the neighbour's name.

use std::sync::Arc;

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
    /// The step in the underside of the box, from inside: its riser, or the raised floor.
    Step,
    /// A module or a stack.
    Module(Id),
}

/// A clearance: how far, towards where, from what, and what was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClearanceResult {
    /// The direction looked in.
    pub face: Face,
    /// The free distance as it is expected; negative when they overlap.
    pub distance: Length,
    /// Its standard uncertainty: of the tape, and what the box may be off; inside a box, of liner and modules.
    pub sigma: Length,
    /// What of it is held back, since the readings may be off by that much.
    pub held: Length,
    /// What is met.
    pub near: Near,
    /// Its name; many clearances end at the same thing.
    pub name: Arc<str>,
    /// The margin or gap asked for to it.
    pub asked: Length,
}

impl ClearanceResult {
    /// What of the distance there is for sure.
    pub fn sure(&self) -> Length {
        self.distance - self.held
    }

    /// Whether less than asked for is sure.
    pub fn is_short(&self) -> bool {
        self.sure() < self.asked
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
    pub(super) fn named(around: &Around, name: impl Fn(Neighbour, Face) -> (Near, Arc<str>, Length)) -> Self {
        let named = |clearance: &Clearance| {
            let (near, name, asked) = name(clearance.neighbour, clearance.face);
            ClearanceResult {
                face: clearance.face,
                distance: clearance.distance,
                sigma: Length::ZERO,
                held: Length::ZERO,
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

    /// Notes what is held back of each, by what it ends at and the direction looked in.
    pub(super) fn hold_back(&mut self, held: impl Fn(Near, Face) -> Length) {
        for clearance in self.faces.iter_mut().chain([&mut self.nearest]) {
            clearance.held = held(clearance.near, clearance.face);
        }
    }

    /// The smallest of all: a face's clearance unless a corner is nearer still.
    pub fn tightest(&self) -> &ClearanceResult {
        let least = self.faces.iter().min_by_key(|c| c.sure()).unwrap_or(&self.nearest);
        if self.nearest.sure() < least.sure() {
            &self.nearest
        } else {
            least
        }
    }
}
