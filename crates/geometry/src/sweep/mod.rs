//! A bed that turns about its hinge, against what stays where it is.
//!
//! **Frame.** The hinge is the origin; u points forward, z up. A turn is in degrees and lifts what is forward of the hinge.
//!
//! [`pass`] tells how near a bed with its ribs comes to boxes and lids over the whole turn, and where it first meets one;
//! [`keep_outs`] is the room that it sweeps, for a layout to leave free; [`closed_forms`] are the figures of the sketch.

pub mod closed_forms;
mod pass;
mod swept;

pub use pass::{Near, Passed, pass};
pub use swept::{Hinge, keep_outs, swept};

use tape::Length;

use crate::OutOfRange;
use crate::out_of_range::within;
use crate::plane::Rect;

/// A rectangle in the side view of the bed: a rib, the floor, a box, a lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Outline {
    /// From rear to front, forward of the hinge.
    pub u: [Length; 2],
    /// From low to high, over the hinge's axis.
    pub z: [Length; 2],
}

/// How far the bed turns, from 0 at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    from: f64,
    to: f64,
}

impl Turn {
    /// From one turn to another, in degrees.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when they are not in order, or not within -180 to 180.
    pub fn between(from_deg: f64, to_deg: f64) -> Result<Self, OutOfRange> {
        let fix = "give the turns in order, in degrees";
        within("first turn", from_deg, -180.0, 180.0, fix)?;
        within("last turn", to_deg, from_deg, 180.0, fix)?;
        Ok(Self {
            from: from_deg.to_radians(),
            to: to_deg.to_radians(),
        })
    }
}

impl Outline {
    fn rect(&self) -> Rect {
        let span = |[a, b]: [Length; 2]| [a.min(b).as_mm(), a.max(b).as_mm()];
        Rect {
            along: span(self.u),
            up: span(self.z),
        }
    }
}
