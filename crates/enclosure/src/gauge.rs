//! Sheet gauges: four scales that give four thicknesses for one number.
//!
//! A gauge is nominal. Mills deliver several percent off it, so a caliper reading of the sheet in hand is better.

use tape::Length;

use crate::KnownBy;

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

    /// The rows of the scale, thickest first.
    pub const fn rows(self) -> &'static [Row] {
        match self {
            Self::SheetSteel => &SHEET_STEEL,
            Self::Galvanised => &GALVANISED,
            Self::Stainless => &STAINLESS,
            Self::Aluminium => &ALUMINIUM,
        }
    }
}

/// One row of a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// The gauge number.
    pub gauge: u32,
    /// The thickness in ten-thousandths of an inch, as tables print it.
    ten_thousandths: i64,
    /// How the thickness is known.
    pub known_by: KnownBy,
}

/// Nanometres in a ten-thousandth of an inch.
const TEN_THOUSANDTH: i64 = 2_540;

impl Row {
    /// The thickness, to 0.0001 in as tables print it.
    pub const fn thickness(self) -> Length {
        Length::from_nm(self.ten_thousandths * TEN_THOUSANDTH)
    }
}

/// A row read in published charts.
const fn found(gauge: u32, ten_thousandths: i64) -> Row {
    Row {
        gauge,
        ten_thousandths,
        known_by: KnownBy::Found,
    }
}

/// A row worked out from the scale's rule.
const fn computed(gauge: u32, ten_thousandths: i64) -> Row {
    Row {
        gauge,
        ten_thousandths,
        known_by: KnownBy::Computed,
    }
}

/// Manufacturers' Standard Gauge, told by its ounces per square foot: thickness in inches = (lb per sq ft) / 41.82.
///
/// Published charts agree with every row.
const fn by_weight(gauge: u32, ounces_per_sq_ft: i64) -> Row {
    // ounces / 16 / 41.82, in ten-thousandths, rounded to the nearest.
    const DIVISOR: i64 = 16 * 4_182;
    found(gauge, (ounces_per_sq_ft * 1_000_000 + DIVISOR / 2) / DIVISOR)
}

const SHEET_STEEL: [Row; 16] = [
    by_weight(7, 120),
    by_weight(8, 110),
    by_weight(9, 100),
    by_weight(10, 90),
    by_weight(11, 80),
    by_weight(12, 70),
    by_weight(13, 60),
    by_weight(14, 50),
    by_weight(15, 45),
    by_weight(16, 40),
    by_weight(17, 36),
    by_weight(18, 32),
    by_weight(19, 28),
    by_weight(20, 24),
    by_weight(22, 20),
    by_weight(24, 16),
];

/// Galvanized Sheet Gauge: the sheet steel row plus 0.0037 in of zinc, within 0.0001 in of the published charts.
///
/// No 22: one chart prints 0.0306 in, others 0.0336.
const GALVANISED: [Row; 14] = [
    found(8, 1681),
    found(9, 1532),
    found(10, 1382),
    found(11, 1233),
    found(12, 1084),
    found(13, 934),
    found(14, 785),
    computed(15, 710),
    found(16, 635),
    computed(17, 575),
    found(18, 516),
    computed(19, 455),
    found(20, 396),
    found(24, 276),
];

/// US Standard gauge as published charts print it for stainless sheet; (lb per sq ft) / 40, a half rounded either way.
const STAINLESS: [Row; 13] = [
    found(7, 1875),
    found(8, 1719),
    found(9, 1562),
    found(10, 1406),
    found(11, 1250),
    found(12, 1094),
    found(13, 937),
    found(14, 781),
    found(16, 625),
    found(18, 500),
    found(20, 375),
    found(22, 312),
    found(24, 250),
];

/// Brown & Sharpe: 0.005 in x 92^((36 - gauge) / 39), a geometric series, rounded to 0.0001 in.
const ALUMINIUM: [Row; 19] = [
    computed(6, 1620),
    computed(7, 1443),
    computed(8, 1285),
    computed(9, 1144),
    computed(10, 1019),
    computed(11, 907),
    computed(12, 808),
    computed(13, 720),
    computed(14, 641),
    computed(15, 571),
    computed(16, 508),
    computed(17, 453),
    computed(18, 403),
    computed(19, 359),
    computed(20, 320),
    computed(21, 285),
    computed(22, 253),
    computed(23, 226),
    computed(24, 201),
];

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
}

/// Reads a gauge as written in a shop: `11`, `11 ga`, `11ga`, `11 gauge`.
///
/// # Errors
///
/// [`GaugeError`] when it is not a number, or the scale has no such number.
pub fn parse(text: &str, scale: Scale) -> Result<Length, GaugeError> {
    let lower = text.trim().to_ascii_lowercase();
    let number = ["gauge", "ga.", "ga"]
        .iter()
        .find_map(|unit| lower.strip_suffix(unit))
        .unwrap_or(&lower)
        .trim_end();
    let digits_only = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    let gauge: u32 = number
        .parse()
        .ok()
        .filter(|_| digits_only)
        .ok_or_else(|| GaugeError::Unreadable { text: text.to_owned() })?;
    thickness(scale, gauge).ok_or_else(|| GaugeError::NotOnScale {
        gauge,
        scale,
        nearest: neighbours(scale, gauge),
    })
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
        Length::from_nm(n * TEN_THOUSANDTH)
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
        for scale in [Scale::SheetSteel, Scale::Galvanised, Scale::Stainless, Scale::Aluminium] {
            assert!(
                scale
                    .rows()
                    .is_sorted_by(|thick, thin| { thick.gauge < thin.gauge && thick.thickness() > thin.thickness() })
            );
        }
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
