//! What keeps a fault from becoming a fire or a shock: fuses, short circuit, pre-charge, bleeding, insulation, bonding
//! and distances.

pub mod adiabatic;
pub mod bleed;
pub mod bonding;
pub mod distance;
pub mod fuse;
pub mod isolation;
pub mod precharge;
pub mod short_circuit;
pub mod touch;
