//! Filling the drive's capacitors through a resistor before the main contactor closes.

/// A pre-charge resistor, sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistor {
    /// Ohms.
    pub ohms: f64,
    /// Amps at the first moment.
    pub peak_amps: f64,
    /// Watts at the first moment.
    pub peak_w: f64,
    /// Energy in the full capacitors, joules.
    pub capacitor_j: f64,
    /// What the resistor takes up to the level, joules: `C V^2 / 2 x (1 - (1 - q)^2)`.
    pub resistor_j: f64,
    /// That over the time, watts.
    pub mean_w: f64,
}

/// The resistor that fills `farads` to the share `level` of `volts` in `seconds`: `R = t / (-C ln(1 - q))`.
///
/// `level` in `0.0..1.0`. Source: charging a capacitor through a resistor.
pub fn resistor(volts: f64, farads: f64, level: f64, seconds: f64) -> Resistor {
    let ohms = seconds / (-farads * (1.0 - level).ln());
    let resistor_j = taken_j(volts, farads, level);
    Resistor {
        ohms,
        peak_amps: volts / ohms,
        peak_w: volts * volts / ohms,
        capacitor_j: stored_j(volts, farads),
        resistor_j,
        mean_w: resistor_j / seconds,
    }
}

/// Energy in capacitors, joules.
pub fn stored_j(volts: f64, farads: f64) -> f64 {
    farads * volts * volts / 2.0
}

/// What the resistor takes until the capacitors are at the share `level`, joules.
pub fn taken_j(volts: f64, farads: f64, level: f64) -> f64 {
    stored_j(volts, farads) * (1.0 - (1.0 - level).powi(2))
}

/// Seconds until the share `level` is reached: `-R C ln(1 - q)`.
pub fn seconds_to(ohms: f64, farads: f64, level: f64) -> f64 {
    -ohms * farads * (1.0 - level).ln()
}

/// The level at which `apart` volts are left of `volts`.
pub fn level_at(volts: f64, apart: f64) -> f64 {
    1.0 - apart / volts
}
