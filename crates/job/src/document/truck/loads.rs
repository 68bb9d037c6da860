//! What is carried, in sets that are aboard together.

use serde::{Deserialize, Serialize};

use crate::document::quantity::optional;
use crate::{Grams, Len};

/// A thing or a person that is aboard in some sets of loads, at the place of its middle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Carried {
    /// What it is.
    pub name: String,
    /// The sets it is in, with commas between: `crew and tools, full`.
    pub sets: String,
    /// What it weighs; without it, it does not count.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub mass_kg: Option<Grams>,
    /// Behind the front axle, before it below zero; without it, it does not count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<Len>,
}

impl Carried {
    /// The names of the sets it is in.
    pub fn in_sets(&self) -> impl Iterator<Item = &str> {
        self.sets.split(',').map(str::trim).filter(|name| !name.is_empty())
    }
}
