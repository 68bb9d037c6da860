//! The cross-section of a link or a cable, as a person names it.

use std::fmt;

use super::ampacity::{self, NEC_COPPER, SINGLE_FLEXIBLE};
use super::awg::Awg;
use super::class5::{self, Finish};
use super::{Metal, ambient_factor, bar};
use crate::Ohms;
use crate::source::Source;

/// A flexible copper cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cable {
    /// By its section in mm2, from the table of class 5.
    Metric(u32),
    /// By American wire gauge.
    Gauge(Awg),
}

/// The cross-section of a link or a cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// A cable.
    Cable(Cable),
    /// A flat bar: width, thickness and metal.
    Bar {
        /// Width, millimetres.
        width_mm: f64,
        /// Thickness, millimetres.
        thick_mm: f64,
        /// What it is made of.
        metal: Metal,
    },
}

/// A text that names no section.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is no cable or bar that is known")]
pub struct NoSection(String);

impl NoSection {
    /// How to mend it.
    pub const fn mend(&self) -> &'static str {
        "write 16, 25, 35, 50, 70, 95 or 120 mm2, 2/0 AWG (4/0 to 8), or a bar as 25 x 3 mm copper"
    }
}

/// What a section carries for long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carries {
    /// Amps.
    pub amps: f64,
    /// Where the figure comes from.
    pub source: Source,
    /// Under which conditions it holds.
    pub conditions: &'static str,
}

impl Section {
    /// Reads `50 mm2`, `50mm²`, `2/0 AWG`, `AWG 2`, `25 x 3 mm copper bar`, `20x5 aluminium`. A bar is copper unless
    /// it says aluminium.
    ///
    /// # Errors
    ///
    /// [`NoSection`] when it names none.
    pub fn from_text(text: &str) -> Result<Self, NoSection> {
        let refuse = || NoSection(text.to_owned());
        let plain = text.to_lowercase().replace('\u{b2}', "2").replace(['\u{d7}', '*'], "x");
        let metal = if plain.contains("al") {
            Metal::Aluminium
        } else {
            Metal::Copper
        };
        let words = [
            "copper",
            "aluminium",
            "aluminum",
            "alu",
            "cu",
            "flat",
            "bar",
            "cable",
            "mm",
        ];
        if plain.contains("mm2") {
            let number = plain.replace("mm2", "").replace("copper", "").replace("cable", "");
            let mm2 = number.trim().parse().map_err(|_| refuse())?;
            return class5::ohm_per_km(mm2, Finish::Plain)
                .map(|_| Self::Cable(Cable::Metric(mm2)))
                .ok_or_else(refuse);
        }
        if plain.contains("awg") {
            let number = plain.replace("awg", "").replace("copper", "").replace("cable", "");
            let gauge: Awg = number.trim().parse().map_err(|()| refuse())?;
            return NEC_COPPER
                .amps(&gauge.to_string(), 90)
                .map(|_| Self::Cable(Cable::Gauge(gauge)))
                .ok_or_else(refuse);
        }
        let bare = words.iter().fold(plain, |text, word| text.replace(word, ""));
        let (width, thick) = bare.split_once('x').ok_or_else(refuse)?;
        let side = |text: &str| {
            let side: f64 = text.trim().replace(',', ".").parse().ok()?;
            (0.5..=200.0).contains(&side).then_some(side)
        };
        let (a, b) = side(width).zip(side(thick)).ok_or_else(refuse)?;
        Ok(Self::Bar {
            width_mm: a.max(b),
            thick_mm: a.min(b),
            metal,
        })
    }

    /// The name, which reads back as the same section.
    pub fn name(&self) -> String {
        self.to_string()
    }

    /// Area of the metal, mm2.
    pub fn area_mm2(&self) -> f64 {
        match *self {
            Self::Cable(Cable::Metric(mm2)) => f64::from(mm2),
            Self::Cable(Cable::Gauge(gauge)) => gauge.area_mm2(),
            Self::Bar { width_mm, thick_mm, .. } => width_mm * thick_mm,
        }
    }

    /// What it is made of.
    pub const fn metal(&self) -> Metal {
        match *self {
            Self::Cable(_) => Metal::Copper,
            Self::Bar { metal, .. } => metal,
        }
    }

    /// Resistance of `length_m` of it at `temp_c`. Metric cable counts as the table of class 5 has it, which lies above
    /// what its area alone would give; gauges and bars by their area.
    pub fn resistance(&self, length_m: f64, temp_c: f64) -> Ohms {
        let ohm_per_m = match *self {
            Self::Cable(Cable::Metric(mm2)) => class5::ohm_per_km(mm2, Finish::Plain).unwrap_or_default() / 1000.0,
            Self::Cable(Cable::Gauge(gauge)) => gauge.ohm_per_km() / 1000.0,
            Self::Bar { metal, .. } => metal.resistivity() / self.area_mm2(),
        };
        Ohms::nearest_milliohms(1000.0 * self.metal().at_temperature(ohm_per_m * length_m, temp_c))
    }

    /// Mass of the metal of `length_m`, kg; insulation and lugs not counted.
    pub fn mass_kg(&self, length_m: f64) -> f64 {
        self.area_mm2() * self.metal().kg_per_mm2_m() * length_m
    }

    /// What it carries for long with insulation for `insulation_c` in air of `ambient_c`; `None` where no table tells.
    ///
    /// Metric cable: method F of IEC 60364-5-52 at the next higher ambient of the table, above it by the square-root
    /// rule from the last column. Gauges: one flexible cable (NEC 400.5(B)), sizes that are not there by NEC 310.16,
    /// both by the square-root rule from 30 C. Bars: the still-air formula for 50 K over 40 C, aluminium by its
    /// conductivity's square root, above 40 C by the rise that is left to 90 C.
    pub fn carries(&self, insulation_c: f64, ambient_c: f64) -> Option<Carries> {
        match *self {
            Self::Cable(Cable::Metric(mm2)) => metric_carries(mm2, insulation_c, ambient_c),
            Self::Cable(Cable::Gauge(gauge)) => {
                let size = gauge.to_string();
                let column = if insulation_c >= 90.0 {
                    90
                } else if insulation_c >= 75.0 {
                    75
                } else {
                    60
                };
                let table = if SINGLE_FLEXIBLE.amps(&size, column).is_some() {
                    &SINGLE_FLEXIBLE
                } else {
                    &NEC_COPPER
                };
                let factor = ambient_factor(f64::from(column), ambient_c.max(30.0), 30.0);
                Some(Carries {
                    amps: f64::from(table.amps(&size, column)?) * factor,
                    source: table.source,
                    conditions: table.conditions,
                })
            }
            Self::Bar {
                width_mm,
                thick_mm,
                metal,
            } => {
                let of_metal = (Metal::Copper.resistivity() / metal.resistivity()).sqrt();
                let factor = bar::rescaled(50.0, 90.0 - ambient_c.max(40.0));
                Some(Carries {
                    amps: bar::rating_amps(width_mm, thick_mm) * of_metal * factor,
                    source: bar::RATING_SOURCE,
                    conditions: "one flat bar on edge in still air, 50 K over 40 C, warmer air by the power 0.61 (from memory); a closed box is warmer",
                })
            }
        }
    }

    /// Typical outside diameter with insulation, millimetres: the larger end of what is remembered for 35, 50 and
    /// 70 mm2 (13, 16, 19), in between and beyond by the square root of the area. Bars: their width.
    ///
    /// From memory: measure the cable.
    pub fn typical_outside_mm(&self) -> f64 {
        match *self {
            // 19 mm at 70 mm2, 16 at 50, 13.4 at 35.
            Self::Cable(_) => 19.0 * (self.area_mm2() / 70.0).sqrt(),
            Self::Bar { width_mm, .. } => width_mm,
        }
    }
}

fn metric_carries(mm2: u32, insulation_c: f64, ambient_c: f64) -> Option<Carries> {
    // The tables begin at insulation for 70 C: what stands for less carries less than they say.
    if insulation_c < 70.0 {
        return None;
    }
    let rated = if insulation_c >= 90.0 { 90 } else { 70 };
    let table = ampacity::method_f(rated)?;
    let size = mm2.to_string();
    let column = table.columns.iter().copied().find(|&c| f64::from(c) >= ambient_c);
    let amps = match column {
        Some(column) => f64::from(table.amps(&size, column)?),
        None => f64::from(table.amps(&size, 55)?) * ambient_factor(f64::from(rated), ambient_c, 55.0),
    };
    Some(Carries {
        amps,
        source: table.source,
        conditions: table.conditions,
    })
}

impl fmt::Display for Section {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cable(Cable::Metric(mm2)) => write!(f, "{mm2} mm2"),
            Self::Cable(Cable::Gauge(gauge)) => write!(f, "{gauge} AWG"),
            Self::Bar {
                width_mm,
                thick_mm,
                metal,
            } => write!(f, "{width_mm} x {thick_mm} mm {} bar", metal.name()),
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("50 mm2", "50 mm2")]
    #[case("50mm\u{b2}", "50 mm2")]
    #[case("2/0 AWG", "2/0 AWG")]
    #[case("awg 2", "2 AWG")]
    #[case("25 x 3 mm copper bar", "25 x 3 mm copper bar")]
    #[case("3x25", "25 x 3 mm copper bar")]
    #[case("20 \u{d7} 2,5 alu", "20 x 2.5 mm aluminium bar")]
    fn reads_a_section_and_its_name_again(#[case] text: &str, #[case] name: &str) {
        let section = Section::from_text(text).unwrap();
        assert_eq!(section.name(), name);
        assert_eq!(Section::from_text(name), Ok(section));
    }

    #[rstest]
    #[case("")]
    #[case("50")]
    #[case("51 mm2")]
    #[case("9 awg")]
    #[case("0 x 3 mm")]
    #[case("rope")]
    #[case("25 x NaN")]
    fn refuses_what_is_no_section(#[case] text: &str) {
        let error = Section::from_text(text).unwrap_err();
        assert!(error.to_string().contains(text));
    }

    /// 50 mm2: 0.386 ohm/km; bar 25 x 3 mm, 160 mm: 0.017241 x 0.16 / 75.
    #[test]
    fn resists_by_table_or_area() {
        let cable = Section::from_text("50 mm2").unwrap();
        assert_eq!(cable.resistance(2.0, 20.0), Ohms::nearest_milliohms(0.772));
        let bar = Section::from_text("25 x 3").unwrap();
        assert_eq!(bar.resistance(0.16, 20.0), Ohms::nearest_milliohms(0.036_780_8));
        assert!((bar.mass_kg(0.16) - 75.0 * 160.0 * 8.89e-6).abs() < 1e-9);
    }

    #[test]
    fn carries_by_the_next_warmer_column() {
        let cable = Section::from_text("50 mm2").unwrap();
        assert!((cable.carries(90.0, 41.0).unwrap().amps - 180.0).abs() < 1e-9);
        assert!((cable.carries(70.0, 30.0).unwrap().amps - 167.0).abs() < 1e-9);
        let hot = cable.carries(90.0, 60.0).unwrap().amps;
        assert!((hot - 157.0 * (30.0_f64 / 35.0).sqrt()).abs() < 1e-9);
        assert!(cable.carries(90.0, 90.0).unwrap().amps == 0.0);
        let gauge = Section::from_text("2/0 AWG").unwrap();
        assert!((gauge.carries(90.0, 20.0).unwrap().amps - 300.0).abs() < 1e-9);
    }
}
