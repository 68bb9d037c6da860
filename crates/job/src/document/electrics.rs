//! How the pack is joined and protected, the units with their test results, and the order of the wiring.

use std::fmt;
use std::str::FromStr;

use pack::{AmpHours, Volts};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use super::figures::Figures;
use super::quantity::optional;
use super::settings::named;
use super::{FaceName, Id, Milliohms};

/// One module where it is placed: a lone one, or one of a stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seat {
    /// The placed module or stack.
    pub placed: Id,
    /// Which of a stack, from 1 along its axis; 0 for a lone module.
    pub nth: u32,
}

impl Seat {
    /// A lone module.
    pub const fn lone(placed: Id) -> Self {
        Self { placed, nth: 0 }
    }
}

impl fmt::Display for Seat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.nth {
            0 => write!(f, "M{}", self.placed.0),
            nth => write!(f, "S{}.{nth}", self.placed.0),
        }
    }
}

/// A text that names no seat.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} names no module; write M7 for a module, S7.3 for the third of a stack")]
pub struct SeatError(String);

impl FromStr for Seat {
    type Err = SeatError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let refuse = || SeatError(text.to_owned());
        let upper = text.trim().to_ascii_uppercase();
        let number = |digits: &str| {
            let plain = !digits.is_empty() && digits.len() <= 7 && digits.bytes().all(|b| b.is_ascii_digit());
            plain.then(|| digits.parse::<u32>().ok()).flatten().filter(|&n| n > 0)
        };
        if let Some(rest) = upper.strip_prefix('S') {
            let (placed, nth) = rest.split_once('.').ok_or_else(refuse)?;
            let (placed, nth) = number(placed).zip(number(nth)).ok_or_else(refuse)?;
            return Ok(Self {
                placed: Id(placed),
                nth,
            });
        }
        let placed = upper.strip_prefix('M').and_then(number).ok_or_else(refuse)?;
        Ok(Self::lone(Id(placed)))
    }
}

impl Serialize for Seat {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Seat {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?.parse().map_err(D::Error::custom)
    }
}

#[cfg(test)]
impl schemars::JsonSchema for Seat {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Seat".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "A placed module, as M7, or one of a placed stack, as S7.3."
        })
    }
}

named! {
    /// How more than one in parallel are joined.
    Joined {
        /// Whole strings, joined at their two ends.
        Strings = "strings" / "strings in parallel",
        /// Groups of modules in parallel, the groups in series.
        Groups = "groups" / "groups in series",
    }
}

impl Joined {
    /// Strings side by side, of so many in parallel: 1 when it is groups that are in parallel.
    pub const fn strings(self, parallel: u32) -> u32 {
        match self {
            Self::Strings => parallel,
            Self::Groups => 1,
        }
    }
}

/// One physical module with its own test results.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Unit {
    /// What is written on it.
    pub name: String,
    /// Its kind.
    pub kind: Id,
    /// Measured capacity.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub amp_hours: Option<AmpHours>,
    /// Measured internal resistance, milliohms.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub resistance_mohm: Option<Milliohms>,
    /// Measured open-circuit volts.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rest_volts: Option<Volts>,
    /// A remark: date, who measured, what it looks like.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Whether it is not to be used.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub set_aside: bool,
    /// Where it is built in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seat: Option<Seat>,
}

/// The order of the wiring, as far as the person took one over.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Wiring {
    /// From the pack's minus to its plus: string after string, or group after group.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub order: Vec<Seat>,
    /// Modules built in the other way round: a half turn that swaps the places of their terminals.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub turned: Vec<Seat>,
    /// Pairs that stay next to each other in that order when it is worked out anew, the first before the second.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub locks: Vec<[Seat; 2]>,
    /// The box where both leads leave.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exit_box: Option<Id>,
    /// The side of that box where they leave; default its bay's side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exit_side: Option<FaceName>,
}

impl Wiring {
    /// Whether nothing was said.
    pub fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

impl Electrics {
    /// Whether nothing was said.
    pub fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

/// How the pack is joined, conducted and protected.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Electrics {
    /// How more than one in parallel are joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub joined: Option<Joined>,
    /// What links within a box are made of, as `25 x 3 mm copper bar` or `50 mm2`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub link: Option<String>,
    /// What cables between boxes and to the drive are, as `50 mm2` or `2/0 AWG`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cable: Option<String>,
    /// Plain figures, each by its key.
    #[serde(skip_serializing_if = "Figures::is_empty")]
    pub figures: Figures,
}

/// The most points of a rest curve.
const MOST_POINTS: usize = 64;

/// Points of a rest curve, as `0 20.8, 50 26.2, 100 28.4`: percent of charge and volts of one module.
///
/// # Errors
///
/// What is wrong, and how to mend it.
pub(crate) fn rest_curve(text: &str) -> Result<Vec<(f64, f64)>, (String, String)> {
    let mend = || "write percent and volts from 0 to 100, as 0 20.8, 50 26.2, 100 28.4".to_owned();
    let refuse = |problem: String| Err((problem, mend()));
    // With semicolons between points a comma is a decimal comma.
    let (separator, decimal_comma) = if text.contains(';') { (';', true) } else { (',', false) };
    let mut points: Vec<(f64, f64)> = Vec::new();
    for part in text.split(separator).filter(|part| !part.trim().is_empty()) {
        let numbers: Option<Vec<f64>> = part
            .split_whitespace()
            .map(|word| {
                let word = if decimal_comma {
                    word.replace(',', ".")
                } else {
                    word.to_owned()
                };
                let word = word.trim_end_matches(['%', 'V', 'v']);
                word.parse().ok().filter(|n: &f64| n.is_finite())
            })
            .collect();
        match numbers.as_deref() {
            Some(&[percent, volts]) => points.push((percent, volts)),
            _ => return refuse(format!("{:?} is not a percent and volts", part.trim())),
        }
    }
    let rises = points.windows(2).all(|p| p[0].0 < p[1].0 && p[0].1 < p[1].1);
    match (points.first(), points.last()) {
        _ if points.len() < 2 => refuse("it takes two points or more".to_owned()),
        _ if points.len() > MOST_POINTS => {
            refuse(format!("{} points are too many; at most {MOST_POINTS}", points.len()))
        }
        (Some(&(first, volts)), Some(&(last, _)))
            if first.abs() < 1e-9 && (last - 100.0).abs() < 1e-9 && volts > 0.0 && rises =>
        {
            let last = points.len() - 1;
            (points[0].0, points[last].0) = (0.0, 100.0);
            Ok(points)
        }
        _ => refuse(
            "percent must run from 0 to 100, and volts must rise from point to point, by a millivolt at least"
                .to_owned(),
        ),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("M7", Seat::lone(Id(7)))]
    #[case(" m7 ", Seat::lone(Id(7)))]
    #[case("S12.3", Seat { placed: Id(12), nth: 3 })]
    fn reads_a_seat(#[case] text: &str, #[case] seat: Seat) {
        assert_eq!(text.parse(), Ok(seat));
        assert_eq!(seat.to_string().parse(), Ok(seat));
    }

    #[rstest]
    #[case("")]
    #[case("7")]
    #[case("M0")]
    #[case("S7")]
    #[case("S7.0")]
    #[case("M7.1")]
    #[case("M+7")]
    #[case("M99999999")]
    fn refuses_what_names_no_seat(#[case] text: &str) {
        assert!(text.parse::<Seat>().is_err());
    }

    #[rstest]
    #[case("0 20.8, 50 26.2, 100 28.4")]
    #[case("0% 20,8V; 50% 26,2V; 100% 28,4V;")]
    fn reads_a_rest_curve(#[case] text: &str) {
        assert_eq!(rest_curve(text), Ok(vec![(0.0, 20.8), (50.0, 26.2), (100.0, 28.4)]));
    }

    #[rstest]
    #[case("")]
    #[case("0 20.8")]
    #[case("0 20.8, 90 28.4")]
    #[case("0 28.4, 100 20.8")]
    #[case("0 20.8, 50, 100 28.4")]
    #[case("0 0, 100 NaN")]
    fn refuses_what_is_no_rest_curve(#[case] text: &str) {
        assert!(rest_curve(text).is_err());
    }
}
