//! Bars that are on sale, from the tables in `assets/stock`, and mass per metre from a bar's shape.

use std::f64::consts::FRAC_PI_4;
use std::sync::LazyLock;

use tape::{Area, Length, Units};

use crate::material::Material;
use crate::{Sheet, listed};

/// An equal angle on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Angle {
    /// Its leg.
    pub leg: Length,
    /// Its thickness.
    pub thickness: Length,
    /// The radius in its root; zero where tables are not at hand.
    pub root_radius: Length,
}

/// A flat bar on sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FlatBar {
    /// Its width.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
}

pub(crate) const ANGLES: &str = include_str!("../../../assets/stock/angles.csv");
pub(crate) const FLAT_BARS: &str = include_str!("../../../assets/stock/flat-bars.csv");

/// What a rolled section may be off: half a millimetre in thickness, a millimetre in leg or width (EN 10056-2, from memory), so
/// that one that was measured is found.
pub const OFF: [Length; 2] = [Length::tenths_mm(5), Length::mm(1)];

fn is_on_marks(leg: Length) -> bool {
    leg.nm() % Length::sixty_fourths(1).nm() == 0
}

/// Legs of the angles that are listed in inches, or of those in millimetres.
pub fn legs_on_sale(units: Units) -> impl Iterator<Item = Length> {
    let is_own = move |leg: &Length| is_on_marks(*leg) == (units == Units::Inch);
    angles().iter().map(|angle| angle.leg).filter(is_own)
}

/// The leg of the listed angle that one with such a leg is, or is cut down from: the least that is no shorter, of those in
/// inches for a leg on their marks; `leg` itself where none is as large, or one is within [`OFF`] of it.
pub fn leg_on_sale(leg: Length) -> Length {
    let units = if is_on_marks(leg) {
        Units::Inch
    } else {
        Units::Millimetre
    };
    if legs_on_sale(units).any(|listed| (listed - leg).abs() <= OFF[1]) {
        return leg;
    }
    legs_on_sale(units).filter(|&listed| listed >= leg).min().unwrap_or(leg)
}

/// Common equal angles, metric first, small to large.
pub fn angles() -> &'static [Angle] {
    static LIST: LazyLock<Vec<Angle>> = LazyLock::new(|| {
        let angle = |row: listed::Row| Angle {
            leg: row.length(0),
            thickness: row.length(1),
            root_radius: row.length(2),
        };
        listed::rows(ANGLES).map(angle).collect()
    });
    &LIST
}

/// Common flat bars, metric first, small to large.
pub fn flat_bars() -> &'static [FlatBar] {
    static LIST: LazyLock<Vec<FlatBar>> = LazyLock::new(|| {
        let bar = |row: listed::Row| FlatBar {
            width: row.length(0),
            thickness: row.length(1),
        };
        listed::rows(FLAT_BARS).map(bar).collect()
    });
    &LIST
}

/// Mass of an equal angle in kilograms per metre: with the radius that the list has for its size, else as of sharp
/// corners.
pub fn listed_angle_kg_per_m(leg: Length, thickness: Length, material: Material) -> f64 {
    equal_angle_area_mm2(leg, thickness, listed_root_radius(leg, thickness)) * material.density_kg_m3() * 1e-6
}

/// The radius in the root of an equal angle of this size; zero of one that is not on the list.
pub fn listed_root_radius(leg: Length, thickness: Length) -> Length {
    let listed = angles()
        .iter()
        .find(|angle| angle.leg == leg && angle.thickness == thickness);
    listed.map_or(Length::ZERO, |angle| angle.root_radius)
}

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
    let fillets = (1.0 - FRAC_PI_4) * (root * root - 2.0 * toe * toe);
    thickness * (2.0 * leg - thickness) + fillets
}

/// Section modulus of a hot rolled equal angle bent about the axis along a leg, in cubic millimetres: second moment of area
/// over the edge of the upright leg, which is the farther one.
///
/// Two legs with a fillet in the root, less one at each toe, of half the root radius. The toes are far from the axis, so
/// sharp corners would make it some 4 % stiffer than it is.
///
/// Source: EN 10056-1 geometry; the parallel-axis theorem.
pub fn equal_angle_modulus_mm3(leg: Length, thickness: Length, root_radius: Length) -> f64 {
    let (leg, t, root) = (leg.as_mm(), thickness.as_mm(), root_radius.as_mm());
    let toe = root / 2.0;
    // Area, height of its middle over the back of the level leg, second moment about that middle.
    let rectangle = |width: f64, [low, high]: [f64; 2]| {
        let height = high - low;
        [width * height, f64::midpoint(low, high), width * height.powi(3) / 12.0]
    };
    // What a fillet fills of the corner at this height; `up` is 1 of one that reaches up from it, else -1. About the corner
    // the first moment is (5/6 - pi/4) r^3 and the second (1 - 5 pi/16) r^4.
    let fillet = |radius: f64, corner: f64, up: f64| {
        let area = (1.0 - FRAC_PI_4) * radius.powi(2);
        let off = (5.0 / 6.0 - FRAC_PI_4) / (1.0 - FRAC_PI_4) * radius;
        let about_corner = (1.0 - 1.25 * FRAC_PI_4) * radius.powi(4);
        [area, corner + up * off, about_corner - area * off.powi(2)]
    };
    let less = |[area, middle, own]: [f64; 3]| [-area, middle, -own];
    let pieces = [
        rectangle(leg, [0.0, t]),
        rectangle(t, [t, leg]),
        fillet(root, t, 1.0),
        less(fillet(toe, t, -1.0)),
        less(fillet(toe, leg, -1.0)),
    ];
    let area: f64 = pieces.iter().map(|[area, ..]| area).sum();
    let middle = pieces.iter().map(|[area, middle, _]| area * middle).sum::<f64>() / area;
    let inertia: f64 = pieces
        .iter()
        .map(|[area, at, own]| own + area * (at - middle).powi(2))
        .sum();
    inertia / middle.max(leg - middle)
}

/// Mass of a hot rolled equal angle of steel in kilograms per metre, at 7.85 kg/dm3.
pub fn angle_kg_per_m(leg: Length, thickness: Length, root_radius: Length) -> f64 {
    equal_angle_area_mm2(leg, thickness, root_radius) * SECTION_STEEL * 1e-6
}

/// Mass of flat bar in kilograms per metre: width x thickness x density.
pub fn flat_kg_per_m(bar: Sheet, width: Length) -> f64 {
    (width * bar.thickness).as_mm2() * bar.material.density_kg_m3() * 1e-6
}

/// Density that US section tables use, in pounds per cubic foot: 490 lb/ft3 is 7849 kg/m3.
const SECTION_STEEL_LB_PER_FT3: f64 = 490.0;

/// Square millimetres in a square inch, exact by definition.
const MM2_PER_IN2: f64 = 645.16;

/// Kilograms per metre in a pound per foot, exact by definition.
const KG_PER_M: f64 = 0.453_592_37 / 0.3048;

/// Mass of a steel bar in pounds per foot by its cross section, as US tables tell it.
///
/// - `area_in2`: square inches, which tables of angles print beside each size.
///
/// Source: 490 lb/ft3 over 144 in2/ft2.
pub fn lb_per_ft(area_in2: f64) -> f64 {
    area_in2 * SECTION_STEEL_LB_PER_FT3 / 144.0
}

/// The same mass in kilograms per metre.
pub fn us_kg_per_m(area_in2: f64) -> f64 {
    lb_per_ft(area_in2) * KG_PER_M
}

/// Square inches, for bars whose sizes are known rather than their area.
pub fn square_inches(area: Area) -> f64 {
    area.as_mm2() / MM2_PER_IN2
}

/// Mass of a steel flat bar in pounds per foot, at 490 lb/ft3.
pub fn flat_lb_per_ft(width: Length, thickness: Length) -> f64 {
    lb_per_ft(square_inches(width * thickness))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 11/32 in is cut down from 1 1/2 in, of angles in inches; 39.5 mm is 40 mm within its tolerance, 33 mm is cut down from it.
    #[test]
    fn a_leg_that_nobody_sells_is_cut_down_from_the_next() {
        let inches = |sixty_fourths| Length::sixty_fourths(sixty_fourths);
        assert_eq!(leg_on_sale(inches(86)), inches(96));
        assert_eq!(leg_on_sale(inches(96)), inches(96));
        assert_eq!(leg_on_sale(Length::tenths_mm(395)), Length::tenths_mm(395));
        assert_eq!(leg_on_sale(Length::mm(33)), Length::mm(40));
        assert_eq!(leg_on_sale(Length::mm(900)), Length::mm(900));
    }

    /// As tables of sections print them: 2.42 and 3.77 kg/m; the second is 3.73 with sharp corners.
    #[test]
    fn listed_angles_weigh_what_tables_print() {
        let kg = |leg, thickness| listed_angle_kg_per_m(Length::mm(leg), Length::mm(thickness), Material::MildSteel);
        assert!((kg(40, 4) - 2.42).abs() < 0.005);
        assert!((kg(50, 5) - 3.77).abs() < 0.005);
        assert!(
            (kg(51, 5) - 5.0 * 97.0 * 7.85e-3).abs() < 1e-9,
            "not listed: sharp corners"
        );
    }

    /// As tables of sections print them: 0.65, 1.55 and 3.05 cm3; with sharp corners L 40 x 4 would have 1.615.
    #[test]
    fn listed_angles_resist_what_tables_print() {
        let modulus = |leg, thickness| {
            let [leg, thickness] = [leg, thickness].map(Length::mm);
            equal_angle_modulus_mm3(leg, thickness, listed_root_radius(leg, thickness))
        };
        for (leg, thickness, table) in [(30, 3, 650.0), (40, 4, 1_550.0), (50, 5, 3_050.0)] {
            let got = modulus(leg, thickness);
            assert!((got - table).abs() < 5.0, "L {leg} x {thickness}: {got}");
        }
        let sharp = equal_angle_modulus_mm3(Length::mm(40), Length::mm(4), Length::ZERO);
        assert!((sharp - 1_615.4).abs() < 0.1, "{sharp}");
    }

    /// A square foot of 1 in plate weighs 490/12 lb, 40.8 lb as every steel handbook says.
    #[test]
    fn a_foot_of_inch_plate_a_foot_wide() {
        let pounds = flat_lb_per_ft(Length::inches(12), Length::inches(1));
        assert!((pounds - 40.833).abs() < 1e-3);
    }

    /// 490 lb/ft3 and 7850 kg/m3 differ by 0.013 %.
    #[test]
    fn both_conventions_agree_within_rounding() {
        let [width, thickness] = [Length::mm(40), Length::mm(5)];
        let metric = (width * thickness).as_mm2() * SECTION_STEEL * 1e-6;
        let us = us_kg_per_m(square_inches(width * thickness));
        assert!((us - metric).abs() < 2e-4 * metric);
    }
}
