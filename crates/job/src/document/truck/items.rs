//! What comes out of the truck and what goes into it, but for the boxes.

use serde::{Deserialize, Serialize};

use crate::document::quantity::optional;
use crate::document::settings::named;
use crate::{Grams, Len};

/// A thing that comes out or goes in, at the place of its centre of mass in the frame of the truck.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Component {
    /// What it is.
    pub name: String,
    /// Whether it comes out or goes in.
    pub way: WayName,
    /// What it weighs; without it the thing does not count.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub mass_kg: Option<Grams>,
    /// Behind the front axle (before it below zero), right of the centre plane (left below zero), above the ground. Without
    /// the first the thing does not count.
    #[serde(skip_serializing_if = "nowhere")]
    pub at: [Option<Len>; 3],
}

fn nowhere(at: &[Option<Len>; 3]) -> bool {
    at.iter().all(Option::is_none)
}

named! {
    /// Whether a thing comes out or goes in.
    #[derive(Default)]
    WayName {
        /// It was there when the truck was weighed, and comes out.
        Out = "out" / "out",
        /// It goes in.
        #[default]
        In = "in" / "in",
    }
}
