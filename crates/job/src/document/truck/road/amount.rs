//! A speed or a distance as a person writes it, with its unit, so that it shows back the same.

use std::fmt;
use std::marker::PhantomData;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use tape::Units;

use crate::document::quantity::{decimal, not_plain, thousandths_text, to_thousandths};

/// What is measured: its units, and how much is sensible.
pub trait Measure: Copy + PartialEq + 'static {
    /// What it is called in the schema.
    const NAME: &'static str;
    /// The unit of someone who works in inches, then that of someone who works in millimetres.
    const UNITS: [Unit; 2];
    /// The most of it, in the SI unit.
    const MOST: f64;
}

/// A unit of a measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// As it is printed and stored.
    pub name: &'static str,
    /// What else people write for it.
    pub also: &'static [&'static str],
    /// How many of the SI unit it is.
    pub si: f64,
}

/// How fast; SI unit: metres a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OfSpeed;

impl Measure for OfSpeed {
    const NAME: &'static str = "Speed";
    const UNITS: [Unit; 2] = [
        Unit {
            name: "mph",
            also: &["mi/h"],
            si: truck::units::MPS_PER_MPH,
        },
        Unit {
            name: "km/h",
            also: &["kmh", "kph"],
            si: 1.0 / 3.6,
        },
    ];
    const MOST: f64 = 70.0;
}

/// How far; SI unit: metres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OfDistance;

impl Measure for OfDistance {
    const NAME: &'static str = "Distance";
    const UNITS: [Unit; 2] = [
        Unit {
            name: "mi",
            also: &["miles", "mile"],
            si: truck::units::M_PER_MILE,
        },
        Unit {
            name: "km",
            also: &["kilometres"],
            si: 1_000.0,
        },
    ];
    const MOST: f64 = 2_000_000.0;
}

/// A speed.
pub type Speed = Amount<OfSpeed>;
/// A distance on the road.
pub type Distance = Amount<OfDistance>;

/// So much of a measure, in one of its units, with at most three decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount<M> {
    thousandths: i64,
    metric: bool,
    of: PhantomData<M>,
}

impl<M: Measure> Amount<M> {
    const fn unit(metric: bool) -> Unit {
        M::UNITS[metric as usize]
    }

    /// A whole number of the unit that goes with `units`.
    pub(crate) const fn whole(n: i64, units: Units) -> Self {
        Self {
            thousandths: n * 1_000,
            metric: matches!(units, Units::Millimetre),
            of: PhantomData,
        }
    }

    /// In the SI unit.
    #[expect(clippy::cast_precision_loss, reason = "within the range that is read")]
    pub fn si(self) -> f64 {
        self.thousandths as f64 / 1_000.0 * Self::unit(self.metric).si
    }

    /// Reads a number above zero, in the unit that goes with `units` when it has none of its own.
    ///
    /// # Errors
    ///
    /// What is wrong, and how to mend it.
    pub(crate) fn read(text: &str, units: Option<Units>) -> Result<Self, (String, String)> {
        let [inch, metric] = M::UNITS;
        let mend = || {
            format!(
                "type a number above zero with its unit, as 55 {} or 90 {}",
                inch.name, metric.name
            )
        };
        let lower = text.trim().to_ascii_lowercase();
        let named = |unit: Unit| {
            std::iter::once(unit.name)
                .chain(unit.also.iter().copied())
                .find_map(|name| lower.strip_suffix(name))
        };
        let (digits, is_metric) = match (named(metric), named(inch), units) {
            (Some(digits), ..) => (digits, true),
            (None, Some(digits), _) => (digits, false),
            (None, None, Some(units)) => (lower.as_str(), units == Units::Millimetre),
            (None, None, None) => return Err((format!("{text:?} has no unit"), mend())),
        };
        let value = decimal(digits).ok_or_else(|| (format!("{text:?} {}", not_plain(digits)), mend()))?;
        let thousandths = to_thousandths(value).map_err(|why| (format!("{text:?} {why}"), mend()))?;
        let amount = Self {
            thousandths,
            metric: is_metric,
            of: PhantomData,
        };
        let unit = Self::unit(is_metric);
        if thousandths <= 0 {
            return Err((format!("{text:?} must be above zero"), mend()));
        }
        if amount.si() > M::MOST {
            let most = (M::MOST / unit.si).floor();
            return Err((
                format!("{amount} is too much; at most {most} {}", unit.name),
                "check the unit".to_owned(),
            ));
        }
        Ok(amount)
    }
}

impl<M: Measure> fmt::Display for Amount<M> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} {}",
            thousandths_text(self.thousandths),
            Self::unit(self.metric).name
        )
    }
}

impl<M: Measure> Serialize for Amount<M> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de, M: Measure> Deserialize<'de> for Amount<M> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::read(&text, None).map_err(|(problem, mend)| D::Error::custom(format!("{problem}; {mend}")))
    }
}

#[cfg(test)]
impl<M: Measure> schemars::JsonSchema for Amount<M> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        M::NAME.into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let [inch, metric] = M::UNITS.map(|unit| unit.name);
        schemars::json_schema!({
            "type": "string",
            "description": format!("A number above zero with its unit: 55 {inch}, 90 {metric}.")
        })
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("55", "55 mph", 24.587_2)]
    #[case("55 mph", "55 mph", 24.587_2)]
    #[case("90 KM/H", "90 km/h", 25.0)]
    #[case("37,5kph", "37.5 km/h", 10.416_666_666_666_666)]
    fn reads_a_speed(#[case] text: &str, #[case] shown: &str, #[case] mps: f64) {
        let speed = Speed::read(text, Some(Units::Inch)).unwrap();
        assert_eq!(speed.to_string(), shown);
        assert!((speed.si() - mps).abs() < 1e-9);
        assert_eq!(Speed::read(shown, None), Ok(speed));
    }

    #[rstest]
    #[case("")]
    #[case("fast")]
    #[case("-5 mph")]
    #[case("0 mph")]
    #[case("500 mph")]
    #[case("1.2345 mph")]
    fn refuses_what_is_no_speed(#[case] text: &str) {
        assert!(Speed::read(text, Some(Units::Inch)).is_err());
    }

    #[test]
    fn a_file_has_to_name_the_unit() {
        assert!(Distance::read("40", None).is_err());
        assert_eq!(
            Distance::read("40", Some(Units::Millimetre)).map(Distance::si),
            Ok(40_000.0)
        );
    }
}
