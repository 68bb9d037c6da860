//! Sheet gauges: four scales that give four thicknesses for one number.
//!
//! A gauge is nominal. Mills deliver several percent off it, so a caliper reading of the sheet in hand is better.

use std::sync::LazyLock;

use tape::Length;

use crate::{KnownBy, listed};

/// Which scale a gauge number is on. A number without its scale says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scale {
    /// Manufacturers' Standard Gauge, uncoated sheet steel.
    SheetSteel,
    /// Galvanised sheet, over the zinc.
    Galvanised,
    /// US Standard gauge, stainless sheet.
    Stainless,
    /// Brown & Sharpe, aluminium sheet.
    Aluminium,
}

impl Scale {
    /// The name in words: `sheet steel`, `galvanised sheet`, ...
    pub const fn name(self) -> &'static str {
        match self {
            Self::SheetSteel => "sheet steel",
            Self::Galvanised => "galvanised sheet",
            Self::Stainless => "stainless sheet",
            Self::Aluminium => "aluminium sheet",
        }
    }

    /// All of them.
    pub const ALL: [Self; 4] = [Self::SheetSteel, Self::Galvanised, Self::Stainless, Self::Aluminium];

    /// The rows of the scale, thickest first.
    pub fn rows(self) -> &'static [Row] {
        static SCALES: LazyLock<[Vec<Row>; Scale::ALL.len()]> = LazyLock::new(|| Scale::ALL.map(read));
        &SCALES[self as usize]
    }
}

/// The rows of all scales: gauge, thickness in inches as tables print it, how it is known, where it comes from.
///
/// No 22 of galvanised sheet: one chart prints 0.0306 in, others 0.0336.
pub(crate) const TABLE: &str = include_str!("../../../assets/materials/gauges.csv");

/// One row of a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// The gauge number.
    pub gauge: u32,
    /// The thickness, to 0.0001 in as tables print it.
    thickness: Length,
    /// How the thickness is known.
    pub known_by: KnownBy,
    /// Where it comes from.
    pub source: &'static str,
}

impl Row {
    /// The thickness, to 0.0001 in as tables print it.
    pub const fn thickness(self) -> Length {
        self.thickness
    }
}

fn read(scale: Scale) -> Vec<Row> {
    let of_scale = listed::rows(TABLE).filter(|row| row.text(0) == scale.name());
    let row = |row: listed::Row| Row {
        gauge: row.number(1),
        thickness: Length::from_mm(row.number::<f64>(2) * 25.4),
        known_by: row.known_by(),
        source: row.source(),
    };
    of_scale.map(row).collect()
}

/// The number on `scale` that is just that thick; `None` when none is.
pub fn named(scale: Scale, thickness: Length) -> Option<u32> {
    let row = scale.rows().iter().find(|row| row.thickness == thickness)?;
    Some(row.gauge)
}

/// The thickness of `gauge` on `scale`; `None` when the scale has no such number.
pub fn thickness(scale: Scale, gauge: u32) -> Option<Length> {
    scale
        .rows()
        .iter()
        .find(|row| row.gauge == gauge)
        .map(|row| row.thickness())
}

/// A gauge that cannot be used as written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum GaugeError {
    /// Not a gauge number.
    #[error("gauge: cannot read {text:?}; write a whole number, such as 11 ga")]
    Unreadable {
        /// What was written.
        text: String,
    },
    /// A number that the scale does not have.
    #[error("gauge: {} has no {gauge} ga; nearest are {}; or give the thickness", scale.name(), list(nearest))]
    NotOnScale {
        /// The number.
        gauge: u32,
        /// The scale.
        scale: Scale,
        /// The next number on either side that the scale has.
        nearest: Vec<u32>,
    },
    /// A material that is not sold by gauge.
    #[error("gauge: {material} is not sold by gauge; give the thickness")]
    NoScale {
        /// Its name.
        material: &'static str,
    },
}

/// The words behind a gauge number.
const WORDS: [&str; 3] = ["gauge", "ga.", "ga"];

/// Whether a text is meant as a gauge: it ends with `ga` or `gauge`. A bare number is a length.
pub fn is_written(text: &str) -> bool {
    let lower = text.trim_end().to_ascii_lowercase();
    WORDS.iter().any(|word| lower.ends_with(word))
}

/// Reads the number of a gauge as written in a shop: `11`, `11 ga`, `11ga`, `11 gauge`.
///
/// # Errors
///
/// [`GaugeError::Unreadable`] when it is not a whole number.
pub fn number(text: &str) -> Result<u32, GaugeError> {
    let lower = text.trim().to_ascii_lowercase();
    let digits = WORDS
        .iter()
        .find_map(|word| lower.strip_suffix(word))
        .unwrap_or(&lower)
        .trim_end();
    let digits_only = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    let number = digits.parse().ok().filter(|_| digits_only);
    number.ok_or_else(|| GaugeError::Unreadable { text: text.to_owned() })
}

/// The thickness of `gauge` on `scale`.
///
/// # Errors
///
/// [`GaugeError::NotOnScale`] when the scale has no such number.
pub fn on_scale(scale: Scale, gauge: u32) -> Result<Length, GaugeError> {
    thickness(scale, gauge).ok_or_else(|| GaugeError::NotOnScale {
        gauge,
        scale,
        nearest: neighbours(scale, gauge),
    })
}

/// Reads a gauge as written in a shop: `11`, `11 ga`, `11ga`, `11 gauge`.
///
/// # Errors
///
/// [`GaugeError`] when it is not a number, or the scale has no such number.
pub fn parse(text: &str, scale: Scale) -> Result<Length, GaugeError> {
    on_scale(scale, number(text)?)
}

/// The numbers of `scale` next below and next above `gauge`.
fn neighbours(scale: Scale, gauge: u32) -> Vec<u32> {
    let numbers = || scale.rows().iter().map(|row| row.gauge);
    let below = numbers().filter(|&number| number < gauge).max();
    let above = numbers().filter(|&number| number > gauge).min();
    below.into_iter().chain(above).collect()
}

/// Numbers joined by `and`.
fn list(numbers: &[u32]) -> String {
    numbers.iter().map(u32::to_string).collect::<Vec<_>>().join(" and ")
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// Length of `n` ten-thousandths of an inch.
    fn ten_thousandths(n: i64) -> Length {
        Length::from_nm(n * 2_540)
    }

    // Values as published gauge charts print them.
    #[rstest]
    #[case(7, 1793)]
    #[case(8, 1644)]
    #[case(9, 1495)]
    #[case(11, 1196)]
    #[case(13, 897)]
    #[case(15, 673)]
    #[case(17, 538)]
    #[case(19, 418)]
    #[case(20, 359)]
    #[case(22, 299)]
    #[case(24, 239)]
    fn sheet_steel_rows_are_those_of_published_charts(#[case] gauge: u32, #[case] expected: i64) {
        assert_eq!(thickness(Scale::SheetSteel, gauge), Some(ten_thousandths(expected)));
    }

    #[test]
    fn galvanised_is_sheet_steel_and_the_zinc() {
        for row in Scale::Galvanised.rows() {
            let bare = thickness(Scale::SheetSteel, row.gauge).unwrap();
            let off = row.thickness() - bare - ten_thousandths(37);
            assert!(off.abs() <= ten_thousandths(1), "{} ga", row.gauge);
        }
        assert_eq!(thickness(Scale::Galvanised, 22), None, "charts disagree");
    }

    #[test]
    fn aluminium_follows_the_geometric_series() {
        for row in Scale::Aluminium.rows() {
            let inches = 0.005 * 92_f64.powf((36.0 - f64::from(row.gauge)) / 39.0);
            assert!(
                (row.thickness().as_inches() - inches).abs() <= 0.000_05,
                "{} ga",
                row.gauge
            );
        }
    }

    #[test]
    fn stainless_is_a_fortieth_of_its_pounds_per_square_foot() {
        // The weights are those of sheet steel, so thickness = steel thickness x 41.82 / 40.
        for row in Scale::Stainless.rows() {
            let steel = thickness(Scale::SheetSteel, row.gauge).unwrap().as_inches();
            assert!((row.thickness().as_inches() - steel * 41.82 / 40.0).abs() <= 0.000_11);
        }
    }

    #[test]
    fn a_higher_number_is_thinner_on_every_scale() {
        for scale in Scale::ALL {
            assert!(
                scale
                    .rows()
                    .is_sorted_by(|thick, thin| { thick.gauge < thin.gauge && thick.thickness() > thin.thickness() })
            );
        }
    }

    #[test]
    fn a_thickness_on_the_scale_has_its_number() {
        for scale in Scale::ALL {
            for row in scale.rows() {
                assert_eq!(named(scale, row.thickness()), Some(row.gauge));
            }
            assert_eq!(named(scale, Length::mm(3)), None);
        }
    }

    #[rstest]
    #[case("14 ga", true)]
    #[case("14 Gauge ", true)]
    #[case("14", false)]
    #[case("14 mm", false)]
    fn a_gauge_is_told_by_its_word(#[case] text: &str, #[case] is: bool) {
        assert_eq!(is_written(text), is);
    }

    #[rstest]
    #[case::bare("11")]
    #[case::spaced("11 ga")]
    #[case::tight("11ga")]
    #[case::word(" 11 Gauge ")]
    #[case::dotted("11 ga.")]
    fn reads_a_gauge_as_a_shop_writes_it(#[case] text: &str) {
        assert_eq!(parse(text, Scale::SheetSteel), Ok(ten_thousandths(1196)));
    }

    #[rstest]
    #[case::empty("")]
    #[case::unit_only("ga")]
    #[case::fraction("11.5 ga")]
    #[case::sign("+11 ga")]
    #[case::other("1/8\"")]
    #[case::huge("99999999999 ga")]
    fn refuses_what_is_no_gauge_number(#[case] text: &str) {
        assert_eq!(
            parse(text, Scale::SheetSteel),
            Err(GaugeError::Unreadable { text: text.to_owned() })
        );
    }

    #[test]
    fn says_what_the_scale_has_instead() {
        let refusal = parse("22 ga", Scale::Galvanised).unwrap_err();
        assert_eq!(
            refusal.to_string(),
            "gauge: galvanised sheet has no 22 ga; nearest are 20 and 24; or give the thickness"
        );
        let refusal = parse("2", Scale::Stainless).unwrap_err();
        assert_eq!(
            refusal,
            GaugeError::NotOnScale {
                gauge: 2,
                scale: Scale::Stainless,
                nearest: vec![7]
            }
        );
    }
}
