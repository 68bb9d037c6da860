//! What a pair of cables drops, there and back.

use super::class5::{self, Finish};
use super::{Metal, class5::ROWS};

/// A loop of two equal cables.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loop {
    /// Resistance of both together, milliohms.
    pub milliohms: f64,
    /// Volts dropped.
    pub drop_v: f64,
    /// Heat in both, watts.
    pub heat_w: f64,
}

/// Both cables of `mm2` (plain copper of class 5), each `one_way_m` long, at `temp_c`; `None` for a section not in the
/// table. Counting one way only is a common slip: this is there and back.
pub fn cable_loop(mm2: u32, one_way_m: f64, amps: f64, temp_c: f64) -> Option<Loop> {
    let ohm_per_m = class5::ohm_per_km(mm2, Finish::Plain)? / 1000.0;
    let ohms = Metal::Copper.at_temperature(2.0 * one_way_m * ohm_per_m, temp_c);
    Some(Loop {
        milliohms: ohms * 1000.0,
        drop_v: amps * ohms,
        heat_w: amps * amps * ohms,
    })
}

/// The smallest cable for a drop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pick {
    /// What a kilometre may resist at 20 C at most.
    pub ohm_per_km: f64,
    /// The smallest section of the table that keeps to it; `None` when none does.
    pub mm2: Option<u32>,
}

/// The smallest plain copper cable of class 5 that drops at most `drop_v` there and back. Heating is not looked at.
pub fn pick_by_drop(one_way_m: f64, amps: f64, drop_v: f64, temp_c: f64) -> Pick {
    let warm = Metal::Copper.at_temperature(1.0, temp_c);
    let ohm_per_km = 1000.0 * drop_v / (2.0 * one_way_m * amps) / warm;
    Pick {
        ohm_per_km,
        mm2: ROWS.iter().find(|row| row.1 <= ohm_per_km).map(|row| row.0),
    }
}
