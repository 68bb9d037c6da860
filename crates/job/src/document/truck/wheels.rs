//! What a scale showed of each wheel.

use serde::{Deserialize, Serialize};
use truck::mass::wheel::Wheel;

use crate::Grams;
use crate::document::quantity::optional;

/// What a scale showed of each wheel; of twin wheels, of the pair. `None` means not entered.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct WheelReadings {
    /// Front left.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_left_kg: Option<Grams>,
    /// Front right.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_right_kg: Option<Grams>,
    /// Rear left.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_left_kg: Option<Grams>,
    /// Rear right.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_right_kg: Option<Grams>,
}

impl WheelReadings {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// That of one wheel.
    pub const fn of(&self, wheel: Wheel) -> Option<Grams> {
        match wheel {
            Wheel::FrontLeft => self.front_left_kg,
            Wheel::FrontRight => self.front_right_kg,
            Wheel::RearLeft => self.rear_left_kg,
            Wheel::RearRight => self.rear_right_kg,
        }
    }

    /// The place of that of one wheel.
    pub(crate) const fn place_of(&mut self, wheel: Wheel) -> &mut Option<Grams> {
        match wheel {
            Wheel::FrontLeft => &mut self.front_left_kg,
            Wheel::FrontRight => &mut self.front_right_kg,
            Wheel::RearLeft => &mut self.rear_left_kg,
            Wheel::RearRight => &mut self.rear_right_kg,
        }
    }
}
