//! Whether panels have room on the truck.

use crate::TruckError;
use crate::check::{not_negative, positive};

/// One panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panel {
    /// Watts on its plate.
    pub watts: f64,
    /// Metres.
    pub length_m: f64,
    /// Metres.
    pub width_m: f64,
}

/// A level rectangle for panels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Metres.
    pub length_m: f64,
    /// Metres.
    pub width_m: f64,
    /// From panel to panel, metres.
    pub gap_m: f64,
}

/// What goes on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Rows along the length of the room.
    pub along: u32,
    /// Rows across it.
    pub across: u32,
    /// Whether the panels lie across.
    pub turned: bool,
    /// Watts in all.
    pub watts: f64,
    /// Share of the room that is panel.
    pub share: f64,
}

impl Laid {
    /// How many panels.
    pub const fn count(&self) -> u32 {
        self.along * self.across
    }
}

/// The most panels that go on in even rows, all lying the same way. Mixed ways are not tried.
///
/// # Errors
///
/// [`TruckError`] for sizes or watts not above zero, or a gap below zero.
pub fn lay(panel: Panel, room: Room) -> Result<Laid, TruckError> {
    const MEND: &str = "measure it";
    let watts = positive("watts of a panel", panel.watts, "read its plate")?;
    let length_m = positive("length of a panel", panel.length_m, MEND)?;
    let width_m = positive("width of a panel", panel.width_m, MEND)?;
    let room_length_m = positive("length of the room", room.length_m, MEND)?;
    let room_width_m = positive("width of the room", room.width_m, MEND)?;
    let gap_m = not_negative("gap between panels", room.gap_m, "enter zero or more")?;
    let laid = |turned: bool| {
        let [along_m, across_m] = if turned {
            [width_m, length_m]
        } else {
            [length_m, width_m]
        };
        let [along, across] = [rows(room_length_m, along_m, gap_m), rows(room_width_m, across_m, gap_m)];
        let count = f64::from(along) * f64::from(across);
        Laid {
            along,
            across,
            turned,
            watts: count * watts,
            share: count * length_m * width_m / (room_length_m * room_width_m),
        }
    };
    let [straight, turned] = [laid(false), laid(true)];
    Ok(if turned.count() > straight.count() {
        turned
    } else {
        straight
    })
}

/// How many of `each_m` go into `room_m` with gaps between.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded down from a figure of zero or more; a cast saturates"
)]
fn rows(room_m: f64, each_m: f64, gap_m: f64) -> u32 {
    // A panel measured as exactly the room goes in: a hair of rounding must not take it away.
    const HAIR: f64 = 1e-9;
    ((room_m + gap_m) / (each_m + gap_m) + HAIR).floor() as u32
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const PANEL: Panel = Panel {
        watts: 200.0,
        length_m: 1.5,
        width_m: 0.68,
    };

    #[test]
    fn panels_lie_the_way_that_more_go_on() {
        let bed = Room {
            length_m: 2.1,
            width_m: 1.5,
            gap_m: 0.01,
        };
        let found = lay(PANEL, bed).unwrap();
        assert_eq!((found.count(), found.turned), (3, true));
        assert!((found.watts - 600.0).abs() < 1e-9);
    }

    #[test]
    fn an_exact_fit_goes_on_and_a_narrow_room_holds_none() {
        let exact = Room {
            length_m: 1.5,
            width_m: 0.68,
            gap_m: 0.02,
        };
        assert_eq!(lay(PANEL, exact).unwrap().count(), 1);
        let narrow = Room { width_m: 0.67, ..exact };
        assert_eq!(lay(PANEL, narrow).unwrap().count(), 0);
        assert!(lay(PANEL, Room { gap_m: -0.1, ..exact }).is_err());
    }

    proptest! {
        #[test]
        fn panels_never_cover_more_than_the_room(length_m in 0.1..6.0_f64, width_m in 0.1..3.0_f64, gap_m in 0.0..0.1_f64) {
            let found = lay(PANEL, Room { length_m, width_m, gap_m }).unwrap();
            prop_assert!(found.share <= 1.0 + 1e-6);
            let [along, across] = if found.turned { [0.68, 1.5] } else { [1.5, 0.68] };
            let used = |rows: u32, each: f64| f64::from(rows) * (each + gap_m) - gap_m;
            prop_assert!(used(found.along, along) <= length_m + 1e-6);
            prop_assert!(used(found.across, across) <= width_m + 1e-6);
        }
    }
}
