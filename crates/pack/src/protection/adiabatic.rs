//! Whether a cable outlives the time its fuse takes.

use crate::source::Source;

/// A conductor with its insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insulated {
    /// Its key, as `cu_thermosetting90`.
    pub key: &'static str,
    /// In words.
    pub name: &'static str,
    /// The tabled factor, A s^0.5 / mm2.
    pub k: f64,
    /// Reciprocal of the temperature coefficient at 0 C, kelvin.
    pub beta: f64,
    /// Heat capacity, J / (K mm3).
    pub heat_capacity: f64,
    /// Resistivity at 20 C, ohm mm.
    pub rho20: f64,
    /// At the start, Celsius: what the insulation stands for long.
    pub initial_c: f64,
    /// At the end, Celsius.
    pub final_c: f64,
}

const fn copper(key: &'static str, name: &'static str, initial_c: f64, final_c: f64, k: f64) -> Insulated {
    Insulated {
        key,
        name,
        k,
        beta: 234.5,
        heat_capacity: 0.003_45,
        rho20: 1.7241e-5,
        initial_c,
        final_c,
    }
}

const fn aluminium(key: &'static str, name: &'static str, initial_c: f64, final_c: f64, k: f64) -> Insulated {
    Insulated {
        key,
        name,
        k,
        beta: 228.0,
        heat_capacity: 0.0025,
        rho20: 2.8264e-5,
        initial_c,
        final_c,
    }
}

/// The factors that are tabled.
pub const ALL: [Insulated; 7] = [
    copper(
        "cu_thermoplastic70_le300mm2",
        "copper, thermoplastic 70 C",
        70.0,
        160.0,
        115.0,
    ),
    copper("cu_thermosetting90", "copper, thermosetting 90 C", 90.0, 250.0, 143.0),
    copper("cu_rubber60", "copper, rubber 60 C", 60.0, 200.0, 141.0),
    copper("cu_rubber85", "copper, rubber 85 C", 85.0, 220.0, 134.0),
    copper("cu_silicone180", "copper, silicone 180 C", 180.0, 350.0, 132.0),
    aluminium(
        "al_thermoplastic70_le300mm2",
        "aluminium, thermoplastic 70 C",
        70.0,
        160.0,
        76.0,
    ),
    aluminium("al_thermosetting90", "aluminium, thermosetting 90 C", 90.0, 250.0, 94.0),
];

/// Where the factors come from.
pub const SOURCE: Source =
    Source::found("IEC 60364-5-54 and BS 7671 k values, read in a cable-engineering page; recomputed within 0.7 %");

/// The longest time that the equation holds for, seconds: then heat has begun to leave the cable.
pub const LONGEST_S: f64 = 5.0;

/// The copper factor for insulation that stands for so many Celsius: thermoplastic up to 89, thermosetting from 90,
/// silicone from 180.
pub fn copper_for(insulation_c: f64) -> &'static Insulated {
    if insulation_c >= 180.0 {
        &ALL[4]
    } else if insulation_c >= 90.0 {
        &ALL[1]
    } else {
        &ALL[0]
    }
}

/// `k = sqrt(Q (B + 20) / rho20 x ln((B + final) / (B + initial)))`, A s^0.5 / mm2.
///
/// Source: IEC 60364-5-54, annex A.
pub fn k_from_constants(of: &Insulated) -> f64 {
    let rise = ((of.beta + of.final_c) / (of.beta + of.initial_c)).ln();
    (of.heat_capacity * (of.beta + 20.0) / of.rho20 * rise).sqrt()
}

/// The least section that outlives `amps` for `seconds`, mm2: `sqrt(I^2 t) / k`, up to [`LONGEST_S`].
pub fn least_mm2(amps: f64, seconds: f64, k: f64) -> f64 {
    (amps * amps * seconds).sqrt() / k
}

/// How long `mm2` outlive `amps`, seconds: `k^2 S^2 / I^2`.
pub fn longest_s(amps: f64, mm2: f64, k: f64) -> f64 {
    (k * mm2 / amps).powi(2)
}
