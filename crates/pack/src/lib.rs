//! Cells, modules, strings and the windows of the drive and the charger.
//!
//! Start with [`Module`] (what one salvaged module can do) and [`arrangement::choices`] (every number in series and in
//! parallel that the units on hand allow, each with its figures and what speaks against it). [`arithmetic`] holds the
//! small sums, [`load`] what happens when amps flow, [`conductor`] cables and bars, [`protection`] fuses, insulation and
//! distances, [`hazard`] the voltage class.

pub mod arithmetic;
pub mod arrangement;
mod chance;
pub mod chemistry;
pub mod conductor;
pub mod hazard;
pub mod load;
pub mod matching;
mod module;
mod objection;
pub mod ocv;
pub mod protection;
mod sourced;
pub mod stack;
pub mod thermal;
mod units;
pub mod window;
pub mod wiring;

pub use module::{CellVolts, Module};
pub use source;
pub use sourced::Sourced;
pub use units::{AmpHours, Amps, Ohms, Volts, WattHours};
