//! Checks of loads, ways in, range and charging.

mod charging;
mod gearing;
mod ground;
mod loads;
mod range;
mod rating;
mod sun;
mod way_in;

use serde_json::{Number, Value};
use truck::TruckError;

use crate::compare::magnitude;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

/// Works out every expected key of a check from its inputs.
type Answer = fn(Inputs<'_>) -> Worked<Value>;

type Worked<T> = Result<T, Refused>;

/// Why a case cannot be worked out: its inputs are unclear, or the crate refuses them.
struct Refused(Unclear);

impl Refused {
    fn because(why: impl Into<String>) -> Self {
        Self(Unclear(why.into()))
    }
}

impl From<Unclear> for Refused {
    fn from(unclear: Unclear) -> Self {
        Self(unclear)
    }
}

impl From<TruckError> for Refused {
    fn from(error: TruckError) -> Self {
        Self::because(error.to_string())
    }
}

fn answer(kind: &str) -> Option<Answer> {
    loads::answer(kind)
        .or_else(|| rating::answer(kind))
        .or_else(|| ground::answer(kind))
        .or_else(|| range::answer(kind))
        .or_else(|| gearing::answer(kind))
        .or_else(|| charging::answer(kind))
        .or_else(|| sun::answer(kind))
}

/// The case of a check of this topic; `None` when the kind is none of ours.
pub(crate) fn check<'a>(kind: &str, entry: &'a Value, fallback: &str) -> Option<Question<'a>> {
    if let Some(found) = way_in::check(kind, entry, fallback) {
        return Some(found);
    }
    let answer = answer(kind)?;
    Some(Question::of("checks", entry, fallback).worked_out(move || {
        let got = answer(Inputs(&entry["inputs"])).map_err(|Refused(unclear)| unclear)?;
        let allowed = allowed(&entry["tolerance"]);
        Ok(Outcome::compared(&entry["expected"], got, &allowed))
    }))
}

/// The tolerance of a vehicle check: `rel` or `abs`, the larger of the two, and always 1e-9; for every number.
fn allowed(stated: &Value) -> impl Fn(&str, &Number) -> f64 {
    let [rel, abs] = ["rel", "abs"].map(|key| stated[key].as_f64().unwrap_or(0.0));
    move |_, expected| (rel * magnitude(expected)).max(abs).max(1e-9)
}

/// A list of numbers.
fn floats(inputs: Inputs<'_>, key: &str) -> Clear<Vec<f64>> {
    let numbers: Option<Vec<f64>> = inputs.list(key)?.iter().map(Value::as_f64).collect();
    numbers.ok_or_else(|| Unclear(format!("{key} should be numbers")))
}

/// A list of so many numbers.
fn array<const N: usize>(inputs: Inputs<'_>, key: &str) -> Clear<[f64; N]> {
    floats(inputs, key)?
        .try_into()
        .map_err(|_| Unclear(format!("{key} should be {N} numbers")))
}

/// A truth.
fn truth(inputs: Inputs<'_>, key: &str) -> Clear<bool> {
    inputs.0[key]
        .as_bool()
        .ok_or_else(|| Unclear(format!("{key} should be true or false")))
}

/// A number that may be null.
fn may_be(inputs: Inputs<'_>, key: &str) -> Clear<Option<f64>> {
    inputs.has(key).then(|| inputs.float(key)).transpose()
}
