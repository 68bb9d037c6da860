//! Protection against touching, and capacitors to the chassis.

use super::bleed::HARMLESS_J;
use crate::source::Source;

/// Where a live part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Where people sit.
    PassengerCompartment,
    /// Where luggage lies.
    LuggageCompartment,
    /// Anywhere else, as under a bed.
    Elsewhere,
}

/// Where the degrees come from.
pub const SOURCE: Source =
    Source::found("UN R100 5.1.1 (secondary pages): IPXXD in passenger and luggage spaces, IPXXB elsewhere");

/// The degree of protection that covers must give: `IPXXD` (a wire) or `IPXXB` (a finger).
pub const fn degree(place: Place) -> &'static str {
    match place {
        Place::PassengerCompartment | Place::LuggageCompartment => "IPXXD",
        Place::Elsewhere => "IPXXB",
    }
}

/// Energy in the capacitors to the chassis, joules.
pub fn y_energy_j(micro_farads: f64, volts: f64) -> f64 {
    micro_farads * 1e-6 * volts * volts / 2.0
}

/// The largest capacitors to the chassis that stay under 0.2 J at `volts`, microfarads.
pub fn y_most_uf(volts: f64) -> f64 {
    2.0 * HARMLESS_J / (volts * volts) * 1e6
}
