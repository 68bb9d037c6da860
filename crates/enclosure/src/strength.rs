//! First-order sums of what panels, bars, bolts and lifting eyes carry.
//!
//! Each sum is a formula with its source, a load and a limit: a [`Utilisation`]. Which loads are chosen is the
//! person's decision ([`crash`]); what the limit is worth is told by how it is known. [`FIRST_ORDER`] goes with every
//! list of them.

pub mod beam;
pub mod bolt;
pub mod crash;
pub mod hang;
pub mod joint;
pub mod lift;
pub mod plate;
pub mod stiffness;
mod utilisation;

pub use utilisation::{Bound, FIRST_ORDER, Limit, Utilisation, governing};

/// Standard gravity in metres per second squared: exact by definition (3rd CGPM, 1901).
pub const GRAVITY: f64 = 9.806_65;

/// The force in newtons that a mass pulls with at `load_factor` times gravity: `m g a`.
pub fn force_n(mass_kg: f64, load_factor: f64) -> f64 {
    mass_kg * GRAVITY * load_factor
}
