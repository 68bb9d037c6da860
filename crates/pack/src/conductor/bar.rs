//! Flat bars.

use super::Metal;
use crate::source::Source;

/// A flat bar as a link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarLink {
    /// Section.
    pub area_mm2: f64,
    /// Resistance, micro-ohms.
    pub micro_ohms: f64,
    /// Volts dropped.
    pub drop_v: f64,
    /// Heat, watts.
    pub heat_w: f64,
    /// Current density.
    pub amps_per_mm2: f64,
}

/// A bar of `width_mm` by `thick_mm`, `length_mm` long, at `amps` and `temp_c`: `R = rho l / A`, joints not counted.
pub fn bar_link(metal: Metal, [width_mm, thick_mm]: [f64; 2], length_mm: f64, amps: f64, temp_c: f64) -> BarLink {
    let area_mm2 = width_mm * thick_mm;
    let ohms = metal.at_temperature(metal.resistivity() * length_mm / 1000.0 / area_mm2, temp_c);
    BarLink {
        area_mm2,
        micro_ohms: ohms * 1e6,
        drop_v: amps * ohms,
        heat_w: amps * amps * ohms,
        amps_per_mm2: amps / area_mm2,
    }
}

/// Where [`rating_amps`] comes from.
pub const RATING_SOURCE: Source = Source::found(
    "Copper for busbars, publication 22, section 10: one flat copper bar on edge in still air, 50 K over 40 C",
);

/// Amps that a flat copper bar on edge carries in still air, 50 K over 40 C: `7.73 A^0.5 p^0.39`, with the area in mm2
/// and the perimeter in mm. A closed box is not still open air: take it as an upper end.
///
/// Source: [`RATING_SOURCE`].
pub fn rating_amps(width_mm: f64, thick_mm: f64) -> f64 {
    let perimeter = 2.0 * (width_mm + thick_mm);
    7.73 * (width_mm * thick_mm).sqrt() * perimeter.powf(0.39)
}

/// Where [`rescaled`] comes from.
pub const RESCALE_SOURCE: Source =
    Source::memory("Copper for busbars, publication 22: amps go with the rise to the power 0.61");

/// The part of a rated current that a bar carries when it may rise by another number of kelvin, its end temperature
/// staying: `(rise / rated rise)^0.61`; zero without any rise.
///
/// Source: [`RESCALE_SOURCE`].
pub fn rescaled(rated_rise_k: f64, rise_k: f64) -> f64 {
    if rise_k > 0.0 {
        (rise_k / rated_rise_k).powf(0.61)
    } else {
        0.0
    }
}

/// Where [`cautious_amps_per_mm2`] comes from.
pub const QUICK_SOURCE: Source = Source::found("open enclosure-engineering page, quick rules for bars in still air");

/// Current density that is taken as a cautious guess, A/mm2.
///
/// Source: [`QUICK_SOURCE`].
pub const fn cautious_amps_per_mm2(metal: Metal) -> f64 {
    match metal {
        Metal::Copper => 1.6,
        Metal::Aluminium => 1.0,
    }
}
