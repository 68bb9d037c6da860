//! Cables and bars: what they resist, drop, carry and weigh.

pub mod ampacity;
pub mod awg;
pub mod bar;
pub mod class5;
pub mod drop;
mod metal;
mod section;

pub use metal::Metal;
pub use section::{Cable, NoSection, Section};

use crate::source::Source;

/// The current that a conductor carries at another ambient temperature, as a part of its tabled current:
/// `sqrt((conductor - ambient) / (conductor - reference))`; zero where the ambient is as hot as the conductor may get.
///
/// Temperatures in Celsius. Source: thermal balance, the form used for the factors of NEC table 310.15(B)(1).
pub fn ambient_factor(conductor_c: f64, ambient_c: f64, reference_c: f64) -> f64 {
    let (room, tabled) = (conductor_c - ambient_c, conductor_c - reference_c);
    if room <= 0.0 || tabled <= 0.0 {
        return 0.0;
    }
    (room / tabled).sqrt()
}

/// Joints in series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joints {
    /// Heat in each, watts.
    pub each_w: f64,
    /// Heat in all, watts.
    pub total_w: f64,
    /// What all of them drop, volts.
    pub drop_v: f64,
}

/// `count` equal joints of `micro_ohms` in series at `amps`: `I^2 R` each.
pub fn joints(count: u32, amps: f64, micro_ohms: f64) -> Joints {
    let ohms = micro_ohms * 1e-6;
    let each_w = amps * amps * ohms;
    Joints {
        each_w,
        total_w: each_w * f64::from(count),
        drop_v: amps * ohms * f64::from(count),
    }
}

/// Least bend radius of a cable as a multiple of its outside diameter.
pub const BEND_SOURCE: Source = Source::found("requirements page for EV harnesses: 4 times the outside diameter");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_conductor_in_air_as_hot_as_itself_carries_nothing() {
        assert!(ambient_factor(90.0, 90.0, 30.0) == 0.0);
        assert!((ambient_factor(90.0, 30.0, 30.0) - 1.0).abs() < 1e-12);
    }
}
