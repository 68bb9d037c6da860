//! The bond between a box and the chassis.

use crate::source::Source;

/// The limit.
pub const SOURCE: Source = Source::found("UN R100 5.1.2.2 and annex: below 0.1 ohm at 0.2 A or more; a weld meets it");
/// Below this, ohms.
pub const MOST_OHMS: f64 = 0.1;
/// Test amps, at least.
pub const LEAST_AMPS: f64 = 0.2;

/// What a bond resists, ohms: volts over amps; `None` without amps.
pub fn ohms(millivolts: f64, amps: f64) -> Option<f64> {
    (amps > 0.0).then(|| millivolts / 1000.0 / amps)
}

/// Whether a reading passes: enough amps, and below the limit.
pub fn passes(millivolts: f64, amps: f64) -> bool {
    amps >= LEAST_AMPS && ohms(millivolts, amps).is_some_and(|ohms| ohms < MOST_OHMS)
}
