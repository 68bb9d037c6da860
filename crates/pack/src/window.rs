//! What the drive and the charger accept.

use crate::{Amps, Volts};

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
}

/// The charger's output window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChargerWindow {
    /// The least volts it starts at, if known.
    pub min: Option<Volts>,
    /// The most volts it reaches.
    pub max: Volts,
}
