//! What one tyre may carry: its load index, or kilograms.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use truck::rating::index;

use crate::Grams;
use crate::document::quantity::{thousandths_text, to_thousandths};

/// What one tyre may carry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TyreLoad {
    /// Its load index, as on the side wall.
    Index(u32),
    /// As printed beside it.
    Mass(Grams),
}

impl TyreLoad {
    /// Kilograms of one tyre.
    ///
    /// # Panics
    ///
    /// For an index beyond the table, which none that was read is.
    pub fn kg(self) -> f64 {
        match self {
            Self::Index(index) => index::load_kg(index).expect("an index of the table, checked when read"),
            Self::Mass(mass) => mass.kg(),
        }
    }

    /// Where that is from.
    pub fn source(self) -> String {
        match self {
            Self::Index(index) => index::source(index).words(),
            Self::Mass(_) => "side wall of the tyre, as entered".to_owned(),
        }
    }
}

impl fmt::Display for TyreLoad {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Index(index) => write!(f, "{index}"),
            Self::Mass(mass) => write!(f, "{} kg", thousandths_text(mass.0)),
        }
    }
}

/// A text that is neither a load index nor a mass.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "{given:?} is neither a load index from {} to {} nor a mass",
    index::LOWEST,
    index::HIGHEST
)]
pub struct TyreError {
    /// What was given.
    pub given: String,
}

impl TyreError {
    /// How to mend it.
    pub const MEND: &'static str = "type the index of a single tyre, as 112, or its load, as 1120 kg or 2469 lb";
}

impl FromStr for TyreLoad {
    type Err = TyreError;

    fn from_str(text: &str) -> Result<Self, TyreError> {
        let wrong = || TyreError {
            given: text.chars().take(40).collect(),
        };
        let lower = text.trim().to_ascii_lowercase();
        let mass = |number: &str, times: f64| {
            let number = number.trim().replace(',', ".");
            let plain = number.len() <= 12 && number.bytes().all(|b| b.is_ascii_digit() || b == b'.');
            let value: f64 = plain.then(|| number.parse().ok()).flatten()?;
            let grams = to_thousandths((value * times * 1000.0).round() / 1000.0).ok()?;
            // More than any road tyre carries is surely a slip.
            (1_000..=20_000_000)
                .contains(&grams)
                .then_some(Self::Mass(Grams(grams)))
        };
        if let Some(number) = lower.strip_suffix("kg") {
            return mass(number, 1.0).ok_or_else(wrong);
        }
        if let Some(number) = lower.strip_suffix("lb").or_else(|| lower.strip_suffix("lbs")) {
            return mass(number, ::truck::units::KG_PER_LB).ok_or_else(wrong);
        }
        let index: u32 = lower.parse().map_err(|_| wrong())?;
        if (index::LOWEST..=index::HIGHEST).contains(&index) {
            Ok(Self::Index(index))
        } else {
            Err(wrong())
        }
    }
}

impl Serialize for TyreLoad {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for TyreLoad {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?
            .parse()
            .map_err(|e: TyreError| D::Error::custom(format!("{e}; {}", TyreError::MEND)))
    }
}

#[cfg(test)]
impl schemars::JsonSchema for TyreLoad {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "TyreLoad".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "What one tyre may carry: its load index, as 112, or its load, as 1120 kg."
        })
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::index("112", "112", 1_120.0)]
    #[case::kilograms("1120 kg", "1120 kg", 1_120.0)]
    #[case::pounds("2469 lb", "1119.92 kg", 1_119.92)]
    fn a_tyre_reads_back(#[case] text: &str, #[case] shown: &str, #[case] kg: f64) {
        let tyre: TyreLoad = text.parse().unwrap();
        assert_eq!(tyre.to_string(), shown);
        assert!((tyre.kg() - kg).abs() < 0.01);
        assert_eq!(shown.parse(), Ok(tyre));
    }

    #[rstest]
    fn nonsense_is_refused(
        #[values("", "59", "127", "R", "0 kg", "-5 kg", "1e9 kg", "NaN kg", "99999 kg")] text: &str,
    ) {
        assert!(text.parse::<TyreLoad>().is_err());
    }
}
