//! Mass per metre of bars, from their shape.

use tape::Length;

use crate::Sheet;

/// Density that section tables of hot rolled steel use, in kilograms per cubic metre.
const SECTION_STEEL: f64 = 7850.0;

/// Cross section of a hot rolled equal angle in square millimetres.
///
/// `t (2 leg - t) + (1 - pi/4) (root^2 - 2 toe^2)`, with the toe radius half the root radius.
///
/// Source: EN 10056-1 geometry.
pub fn equal_angle_area_mm2(leg: Length, thickness: Length, root_radius: Length) -> f64 {
    let (leg, thickness, root) = (leg.as_mm(), thickness.as_mm(), root_radius.as_mm());
    let toe = root / 2.0;
    let fillets = (1.0 - std::f64::consts::FRAC_PI_4) * (root * root - 2.0 * toe * toe);
    thickness * (2.0 * leg - thickness) + fillets
}

/// Mass of a hot rolled equal angle of steel in kilograms per metre, at 7.85 kg/dm3.
pub fn angle_kg_per_m(leg: Length, thickness: Length, root_radius: Length) -> f64 {
    equal_angle_area_mm2(leg, thickness, root_radius) * SECTION_STEEL * 1e-6
}

/// Mass of flat bar in kilograms per metre: width x thickness x density.
pub fn flat_kg_per_m(bar: Sheet, width: Length) -> f64 {
    (width * bar.thickness).as_mm2() * bar.material.density_kg_m3() * 1e-6
}
