//! How likely it is that a box goes into its cavity, and the modules into the box, once they are built.
//!
//! Along each axis there is a room to share: what is free on both sides together. It is off by what the tape, the shop,
//! the coating and so on are off, each within limits and independently; limits `a` count as a standard uncertainty
//! `a / sqrt 3`, and the squares add up (GUM, JCGM 100:2008, 4.3.7 and 5.1.2, clause numbers known by: memory). The
//! chance that the room is not used up is that of a normal distribution. The box may be slid to the middle of its room.
//!
//! A chance knows nothing of bulges between taped points, of things that nobody entered, and of a frame that moves when
//! it is loaded.

mod built;
mod inside;
mod outside;
mod room;

use tape::show::{Fraction, Style};

pub(super) use built::outside as built_outside;
pub(super) use inside::{Look as Inside, rooms as inside_rooms};
pub(super) use outside::{Look as Outside, give_or_take_of_sides, rooms as outside_rooms};
pub use room::{Cause, Room, Share};

/// What no chance knows, to be told next to it.
pub const NOT_IN_CHANCE: &str =
    "not in the chance: bulges between taped points, things nobody entered, a frame that moves when loaded";

/// How likely a box fits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FitChance {
    /// The rooms of the box in its cavity, along length, width and height; empty while it has none.
    pub outside: Vec<Room>,
    /// The rooms of the modules in the box, along length, width and height; empty while there are none.
    pub inside: Vec<Room>,
}

impl FitChance {
    /// The chance that the box goes in along all three axes, about.
    pub fn goes_in(&self) -> Option<f64> {
        all(&self.outside)
    }

    /// The chance that the modules go into the box, about.
    pub fn modules_go_in(&self) -> Option<f64> {
        all(&self.inside)
    }
}

/// The axes are nearly independent of each other.
fn all(rooms: &[Room]) -> Option<f64> {
    (!rooms.is_empty()).then(|| rooms.iter().map(|room| room.fits).product())
}

/// A chance as it is printed: whole per cent, rounded down, and neither sure nor out of the question.
pub fn percent(chance: f64) -> String {
    match chance * 100.0 {
        p if p > 99.9 => ">99.9 %".to_owned(),
        p if p >= 99.0 => format!("{:.1} %", (p * 10.0).floor() / 10.0),
        p if p >= 1.0 => format!("{:.0} %", p.floor()),
        _ => "<1 %".to_owned(),
    }
}

/// A give or take as it is printed, rounded up: sixteenths would hide most of them.
pub fn give_or_take(style: Style, length: tape::Length) -> String {
    let style = Style {
        fraction: Fraction::ThirtySecond,
        ..style
    };
    style.up(length)
}
