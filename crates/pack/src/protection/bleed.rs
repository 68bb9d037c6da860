//! Emptying the drive's capacitors after switching off.

use crate::source::Source;

/// Where voltage class A ends.
pub const TO_VOLTS: f64 = 60.0;
/// The energy below which a capacitor is not counted as a hazard, joules.
pub const HARMLESS_J: f64 = 0.2;
/// How soon, after a crash.
pub const CRASH_SOURCE: Source = Source::found("ISO 6469-4:2015 5.2: at most 60 V dc 10 s after impact");
/// How soon, by the rules of crash tests.
pub const LIMIT_SOURCE: Source = Source::memory("UN R94/R95/R137 annexes: 60 V dc within 60 s after a crash");
/// The energy limit.
pub const ENERGY_SOURCE: Source = Source::found("ISO 6469-4:2015 5.2.3: under 0.2 J");

/// Seconds from `volts` down to 60 V: `R C ln(V / 60)`; zero when there already.
pub fn seconds_to_class_a(volts: f64, farads: f64, ohms: f64) -> f64 {
    ohms * farads * (volts / TO_VOLTS).max(1.0).ln()
}

/// The largest resistor that gets to 60 V in `seconds`; `None` when it is there already or there is nothing to empty.
pub fn largest_ohms(volts: f64, farads: f64, seconds: f64) -> Option<f64> {
    (volts > TO_VOLTS && farads > 0.0).then(|| seconds / (farads * (volts / TO_VOLTS).ln()))
}

/// What the resistor burns all the time that the pack is on, watts.
pub fn standing_w(volts: f64, ohms: f64) -> f64 {
    volts * volts / ohms
}

/// The volts at which a capacitor holds 0.2 J: `sqrt(0.4 / C)`. At 60 V a large one still holds more.
pub fn harmless_volts(farads: f64) -> f64 {
    (2.0 * HARMLESS_J / farads).sqrt()
}
