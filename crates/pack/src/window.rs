//! What the drive, the charger and the 12 V converter accept.

use crate::{Amps, Ohms, Volts};

/// The drive's (controller's or inverter's) window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DriveWindow {
    /// The least volts it works at.
    pub min: Volts,
    /// The most volts it works at.
    pub max: Volts,
    /// The volts that destroy it, if known.
    pub absolute_max: Option<Volts>,
    /// The most amps it draws for a short time, if known.
    pub peak: Option<Amps>,
    /// The most amps it draws for long, if known.
    pub continuous: Option<Amps>,
    /// The most amps it returns when braking, if known.
    pub returns: Option<Amps>,
}

/// The charger's output window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChargerWindow {
    /// The least volts it starts at, if known.
    pub min: Option<Volts>,
    /// The most volts it reaches.
    pub max: Volts,
    /// The most amps it gives, if known.
    pub amps: Option<Amps>,
}

/// The input window of the converter that feeds the truck's own 12 V.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ConverterWindow {
    /// The least volts it works at.
    pub min: Volts,
    /// The most volts it works at.
    pub max: Volts,
}

/// Everything a pack has to suit, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Suits {
    /// The drive.
    pub drive: Option<DriveWindow>,
    /// The charger.
    pub charger: Option<ChargerWindow>,
    /// The converter for the truck's own 12 V.
    pub converter: Option<ConverterWindow>,
    /// Internal resistance of one module at room temperature.
    pub module: Option<Ohms>,
    /// By how much that is multiplied on the coldest morning; zero when it is not to be looked at.
    pub cold_times: f64,
}
