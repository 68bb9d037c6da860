//! The inputs of a case, taken out by name.

use serde_json::Value;
use tape::Length;

/// Why a case cannot be worked out: an input is not there or is not what it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Unclear(pub(crate) String);

pub(crate) type Clear<T> = Result<T, Unclear>;

/// An object of a case, whose parts are asked for by name.
#[derive(Clone, Copy)]
pub(crate) struct Inputs<'a>(pub(crate) &'a Value);

impl<'a> Inputs<'a> {
    fn unclear<T>(key: &str, should_be: &str) -> Clear<T> {
        Err(Unclear(format!("{key} should be {should_be}")))
    }

    /// Whether there is such an input, and it is not null.
    pub(crate) fn has(self, key: &str) -> bool {
        !self.0[key].is_null()
    }

    /// A number.
    pub(crate) fn float(self, key: &str) -> Clear<f64> {
        self.0[key].as_f64().map_or_else(|| Self::unclear(key, "a number"), Ok)
    }

    /// A number of things.
    pub(crate) fn count(self, key: &str) -> Clear<u32> {
        count(&self.0[key]).map_or_else(|| Self::unclear(key, "a count"), Ok)
    }

    /// A whole number.
    pub(crate) fn whole(self, key: &str) -> Clear<i64> {
        whole(&self.0[key]).map_or_else(|| Self::unclear(key, "a whole number"), Ok)
    }

    /// A text.
    pub(crate) fn text(self, key: &str) -> Clear<&'a str> {
        self.0[key].as_str().map_or_else(|| Self::unclear(key, "a text"), Ok)
    }

    /// A list.
    pub(crate) fn list(self, key: &str) -> Clear<&'a [Value]> {
        self.0[key]
            .as_array()
            .map_or_else(|| Self::unclear(key, "a list"), |list| Ok(list.as_slice()))
    }

    /// Millimetres.
    pub(crate) fn mm(self, key: &str) -> Clear<Length> {
        self.float(key).map(Length::from_mm)
    }

    /// Three whole numbers.
    pub(crate) fn triple(self, key: &str) -> Clear<[i64; 3]> {
        triple(&self.0[key]).map_or_else(|| Self::unclear(key, "three whole numbers"), Ok)
    }

    /// An object within.
    pub(crate) fn part(self, key: &str) -> Inputs<'a> {
        Inputs(&self.0[key])
    }
}

/// A whole number, also when it is written with a point.
pub(crate) fn whole(value: &Value) -> Option<i64> {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "only numbers that are whole and small enough get there"
    )]
    let from_float = || {
        value
            .as_f64()
            .filter(|f| f.fract() == 0.0 && f.abs() < 9e15)
            .map(|f| f as i64)
    };
    value.as_i64().or_else(from_float)
}

/// A number of things.
pub(crate) fn count(value: &Value) -> Option<u32> {
    whole(value).and_then(|n| u32::try_from(n).ok())
}

/// Three whole numbers.
pub(crate) fn triple(value: &Value) -> Option<[i64; 3]> {
    let numbers: Option<Vec<i64>> = value.as_array()?.iter().map(whole).collect();
    numbers?.try_into().ok()
}
