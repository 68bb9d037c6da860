//! Customary units in SI, and the weight of a kilogram.

/// Standard gravity in metres a second squared. Exact, by definition (CGPM 1901).
pub const GRAVITY: f64 = 9.806_65;
/// Kilograms in a pound. Exact, by definition (1959).
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Metres in an inch. Exact, by definition (1959).
pub const M_PER_IN: f64 = 0.025_4;
/// Metres in a mile. Exact.
pub const M_PER_MILE: f64 = 1_609.344;
/// Metres a second in a mile an hour. Exact.
pub const MPS_PER_MPH: f64 = 0.447_04;
/// Newtons in a pound of force: the pound times standard gravity.
pub const N_PER_LBF: f64 = KG_PER_LB * GRAVITY;
/// Joules in a watt-hour. Exact.
pub const J_PER_WH: f64 = 3_600.0;

/// Watt-hours a mile of joules over metres.
pub fn wh_per_mile(joules: f64, metres: f64) -> f64 {
    joules / J_PER_WH / (metres / M_PER_MILE)
}
