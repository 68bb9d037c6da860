//! How lengths and electrical quantities stand in the file: a length as the text the person wrote, a quantity as a
//! plain JSON number in the unit its key names, with at most three decimals.

use std::fmt;

use pack::{AmpHours, Amps, Volts};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use tape::{Allow, Length, Units, Written, notation};

/// A plain decimal, with point or comma; no sign, no exponent.
pub(crate) fn decimal(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let plain = !text.is_empty() && text.len() <= 16 && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    if plain { text.parse().ok() } else { None }
}

/// Why a text is no [`decimal`], to stand behind it.
pub(crate) fn not_plain(text: &str) -> &'static str {
    match text.trim().strip_prefix('-').and_then(decimal) {
        Some(_) => "is below zero",
        None => "is not a plain number",
    }
}

/// A length with the form it was written in; in the file, its text with a unit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Len(Written);

impl Len {
    /// The length as the person wrote it.
    pub const fn new(written: Written) -> Self {
        Self(written)
    }

    /// A length that the program worked out, in the person's units where that is exact.
    pub fn exactly(length: Length, units: Units) -> Self {
        Self(Written::exactly(length, units))
    }

    /// Reads a length as a file holds it, or says what is wrong with it and how to mend that.
    ///
    /// A bare number would mean something else in a job of other units, so a file must name the unit. Reading it once in
    /// each unit tells: a text with a unit gives the same length in both.
    pub(crate) fn read_stored(text: &str) -> Result<Self, String> {
        let inch = notation::read(text, Units::Inch, Allow::Signed).map_err(|e| format!("{e}; {}", e.mend()))?;
        match notation::read(text, Units::Millimetre, Allow::Signed) {
            Ok(metric) if metric.value() == inch.value() && metric.plus_minus() == inch.plus_minus() => Ok(Self(inch)),
            _ => Err(format!(
                "the length {text:?} needs a unit; write {text}\\\" for inches or {text} mm"
            )),
        }
    }

    /// As written.
    pub const fn written(&self) -> &Written {
        &self.0
    }

    /// The exact value.
    pub const fn value(&self) -> Length {
        self.0.value()
    }

    /// The text, unit included.
    pub fn text(&self) -> &str {
        self.0.text()
    }

    /// What was typed after `+-`, as limits.
    pub const fn plus_minus(&self) -> Option<Length> {
        self.0.plus_minus()
    }
}

impl fmt::Display for Len {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl Serialize for Len {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl<'de> Deserialize<'de> for Len {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::read_stored(&String::deserialize(deserializer)?).map_err(D::Error::custom)
    }
}

#[cfg(test)]
impl schemars::JsonSchema for Len {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "A length as a person in a shop writes it, with its unit: 41 5/8\", 3' 5 1/2\", 1057.3 mm, 41 5/8\" +- 1/16\"."
        })
    }
}

/// Mass in whole grams; in the file, kilograms.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Grams(pub i64);

impl Grams {
    /// The mass in kilograms.
    #[expect(clippy::cast_precision_loss, reason = "far below 2^53 g")]
    pub fn kg(self) -> f64 {
        self.0 as f64 / 1000.0
    }
}

/// Resistance in whole micro-ohms; in the file, milliohms.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Milliohms(pub i64);

/// An amount of money in thousandths of whatever the person reckons in; in the file, a plain number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Price(pub i64);

impl Price {
    /// To two decimals, rounded up: `84.50`.
    pub fn text(self) -> String {
        let hundredths = (self.0 + 9).div_euclid(10);
        format!("{}.{:02}", hundredths / 100, hundredths % 100)
    }
}

/// A quantity held as a whole number of thousandths of the unit that is written.
pub(crate) trait Thousandths: Copy {
    fn from_thousandths(n: i64) -> Self;
    fn thousandths(self) -> i64;
}

macro_rules! thousandths {
    ($($name:ty: $from:expr, $to:expr;)*) => {
        $(impl Thousandths for $name {
            fn from_thousandths(n: i64) -> Self {
                $from(n)
            }

            fn thousandths(self) -> i64 {
                $to(self)
            }
        })*
    };
}

thousandths! {
    Volts: Volts::from_milli, Volts::milli;
    Amps: Amps::from_milli, Amps::milli;
    AmpHours: AmpHours::from_milli, AmpHours::milli;
    Grams: Grams, |g: Grams| g.0;
    Milliohms: Milliohms, |r: Milliohms| r.0;
    Price: Price, |p: Price| p.0;
}

/// The largest number that a quantity may have: a million volts, amps or kilograms is surely a slip.
pub(crate) const MOST: f64 = 1e6;

/// The nearest whole number of thousandths to `value`, when it has no more than three decimals and is in range.
pub(crate) fn to_thousandths(value: f64) -> Result<i64, &'static str> {
    if !value.is_finite() || value.abs() > MOST {
        return Err("must be a number of at most 1 000 000");
    }
    let scaled = value * 1000.0;
    if (scaled - scaled.round()).abs() > 1e-6 * scaled.abs().max(1.0) {
        return Err("must have at most three decimals");
    }
    #[expect(clippy::cast_possible_truncation, reason = "checked to be whole and within 1e9")]
    Ok(scaled.round() as i64)
}

/// `n` thousandths as a decimal without trailing zeros: `25.6`, `90`.
pub(crate) fn thousandths_text(n: i64) -> String {
    let sign = if n < 0 { "-" } else { "" };
    let (whole, rest) = (n.unsigned_abs() / 1000, n.unsigned_abs() % 1000);
    if rest == 0 {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{rest:03}").trim_end_matches('0').to_owned()
    }
}

/// For `#[serde(with = "thousandths")]` on an optional quantity.
pub(crate) mod optional {
    use super::{Deserialize, Deserializer, Serialize, Serializer, Thousandths, to_thousandths};
    use serde::de::Error as _;

    #[expect(clippy::ref_option, reason = "the signature that serde's `with` calls")]
    pub(crate) fn serialize<T: Thousandths, S: Serializer>(value: &Option<T>, s: S) -> Result<S::Ok, S::Error> {
        match value.map(Thousandths::thousandths) {
            None => s.serialize_none(),
            Some(n) if n % 1000 == 0 => (n / 1000).serialize(s),
            #[expect(clippy::cast_precision_loss, reason = "within 1e9, checked when read")]
            Some(n) => (n as f64 / 1000.0).serialize(s),
        }
    }

    pub(crate) fn deserialize<'de, T: Thousandths, D: Deserializer<'de>>(d: D) -> Result<Option<T>, D::Error> {
        Option::<f64>::deserialize(d)?
            .map(|value| to_thousandths(value).map(T::from_thousandths).map_err(D::Error::custom))
            .transpose()
    }
}
