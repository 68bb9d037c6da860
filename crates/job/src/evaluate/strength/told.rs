//! How the lengths of a sum are told: in the person's units, and sheets as the person names them.

use enclosure::gauge::{Scale, named};
use enclosure::material::Material;
use enclosure::stock;
use tape::show::{Fraction, Rounding, inches, inches_first, thousandths, thousandths_bare};
use tape::{Length, Units};

use crate::document::Design;
use crate::{Thickness, assumed};

/// The person's units, and what sheets of what scale they choose among.
#[derive(Clone, Copy, Debug)]
pub(super) struct Told {
    pub(super) units: Units,
    sheets: Sheets,
}

/// What a thicker sheet is chosen from.
#[derive(Clone, Copy, Debug)]
enum Sheets {
    Gauges(Scale),
    Sixteenths,
    Metric,
}

impl Told {
    /// As the floor of a box is written; that of a tray is its wall.
    pub(super) fn of(design: &Design, units: Units) -> Self {
        let is_tray = design.made() == crate::ConstructionName::Folded;
        let written = if is_tray { &design.wall } else { &design.floor };
        let sheets = match (written, assumed::material(design).scale()) {
            (Some(Thickness::Gauge(_)), Some(scale)) => Sheets::Gauges(scale),
            (Some(Thickness::Length(len)), _) if units == Units::Inch && !len.text().contains("mm") => {
                Sheets::Sixteenths
            }
            _ => Sheets::Metric,
        };
        Self { units, sheets }
    }

    /// The sheets thicker than `floor`, thinnest first; past the thickest gauge those of whole 16ths of an inch.
    pub(super) fn thicker(self, floor: Length) -> Vec<Length> {
        let sixteenths = (1..=16).map(|n| Length::sixty_fourths(4 * n));
        let mut all: Vec<Length> = match self.sheets {
            Sheets::Gauges(scale) => {
                let gauges: Vec<Length> = scale.rows().iter().map(|row| row.thickness()).collect();
                let thickest = gauges.iter().copied().max();
                let past = sixteenths.filter(|&sheet| Some(sheet) > thickest);
                gauges.iter().copied().chain(past).collect()
            }
            Sheets::Sixteenths => sixteenths.collect(),
            Sheets::Metric => stock::thicknesses().to_vec(),
        };
        all.sort_unstable();
        all.retain(|&sheet| sheet > floor);
        all
    }

    /// The thickness of a sheet: `4 mm`, `0.157" (4 mm)`, of a gauge `11 ga (0.1196", 3.038 mm)`.
    pub(super) fn sheet(self, material: Material, thickness: Length) -> String {
        let Some(number) = material.scale().and_then(|scale| named(scale, thickness)) else {
            return thousandths(thickness, self.units);
        };
        let mm = thousandths_bare(thickness);
        match self.units {
            Units::Inch => format!("{number} ga ({:.4}\", {mm} mm)", thickness.as_inches()),
            Units::Millimetre => format!("{number} ga ({mm} mm)"),
        }
    }

    /// See [`place`].
    pub(super) fn place(self, mm: f64, decimals: usize) -> String {
        place(mm, decimals, self.units)
    }

    /// Two sides as `954 x 386 mm`; for a person who works in inches `37 9/16" x 15 3/16" (954 x 386 mm)`.
    pub(super) fn sides(self, [one, other]: [f64; 2]) -> String {
        inches_first(format!("{one:.0} x {other:.0} mm"), self.units, || {
            format!("{} x {}", sixteenths(one), sixteenths(other))
        })
    }
}

/// A length in millimetres with so many decimals; for a person who works in inches to 1/16 in, with them behind.
pub(super) fn place(mm: f64, decimals: usize, units: Units) -> String {
    inches_first(format!("{mm:.decimals$} mm"), units, || sixteenths(mm))
}

fn sixteenths(mm: f64) -> String {
    inches(Length::from_mm(mm), Fraction::Sixteenth, Rounding::Nearest)
}

#[cfg(test)]
mod tests {
    use enclosure::gauge;

    use super::*;

    /// Sheet steel: 11 ga is 0.1196 in, 3.0378 mm; 7 ga is 0.1793 in, the next thicker than 3/16 in less a hair.
    #[test]
    fn sheets_are_offered_as_the_floor_is_written() {
        let steel = Material::MildSteel;
        let of = |sheets, units| Told { units, sheets };
        let scale = steel.scale().expect("sheet steel has gauges");
        let gauges = of(Sheets::Gauges(scale), Units::Inch);
        let next = gauges.thicker(gauge::thickness(scale, 12).expect("on the scale"))[0];
        assert_eq!(gauges.sheet(steel, next), "11 ga (0.1196\", 3.038 mm)");
        let inches = of(Sheets::Sixteenths, Units::Inch);
        let next = inches.thicker(Length::sixty_fourths(8))[0];
        assert_eq!(inches.sheet(steel, next), "3/16\" (4.763 mm)");
        let metric = of(Sheets::Metric, Units::Inch);
        assert_eq!(metric.sheet(steel, metric.thicker(Length::mm(3))[0]), "0.157\" (4 mm)");
        let metric = of(Sheets::Metric, Units::Millimetre);
        assert_eq!(metric.sheet(steel, metric.thicker(Length::mm(3))[0]), "4 mm");
    }

    /// 22.5 mm is 0.886 in, 954 and 386 mm are 37.56 and 15.20 in.
    #[test]
    fn lengths_are_told_in_inches_first() {
        let told = |units| Told {
            units,
            sheets: Sheets::Metric,
        };
        assert_eq!(told(Units::Inch).place(22.5, 1), "7/8\" (22.5 mm)");
        assert_eq!(told(Units::Millimetre).place(22.5, 1), "22.5 mm");
        assert_eq!(
            told(Units::Inch).sides([954.0, 386.0]),
            "37 9/16\" x 15 3/16\" (954 x 386 mm)"
        );
    }
}
