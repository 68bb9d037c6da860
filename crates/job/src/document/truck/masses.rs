//! What the truck weighs, and what it may weigh.

use serde::{Deserialize, Serialize};

use super::{TyreLoad, WheelReadings};
use crate::document::quantity::optional;
use crate::document::settings::named;
use crate::{Grams, Len};

/// What the truck weighs and what it may weigh. `None` means not entered.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Masses {
    /// From hub to hub.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wheelbase: Option<Len>,
    /// From wheel to wheel across the front axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_track: Option<Len>,
    /// From wheel to wheel across the rear axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_track: Option<Len>,
    /// What the front axle carried before the work.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_before_kg: Option<Grams>,
    /// What the rear axle carried before the work.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_before_kg: Option<Grams>,
    /// What each wheel carried before the work. Two of an axle stand for it.
    #[serde(skip_serializing_if = "WheelReadings::is_open")]
    pub wheels_before: WheelReadings,
    /// How the loads before are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before_by: Option<KnownName>,
    /// How far off the reading of one axle may be, either way.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub reading_off_kg: Option<Grams>,
    /// What was in the tank and who was aboard when it was weighed.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub weighed_with: String,
    /// How high the centre of gravity was before the work.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centre_height: Option<Len>,
    /// What the front axle carried with the rear wheels raised and the springs locked.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub raised_front_kg: Option<Grams>,
    /// How far the rear wheels were raised for that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub raised_by: Option<Len>,
    /// The gross rating on the plate.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub gross_rating_kg: Option<Grams>,
    /// The front axle's rating on the plate.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_rating_kg: Option<Grams>,
    /// The rear axle's rating on the plate.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_rating_kg: Option<Grams>,
    /// What one front tyre may carry.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_tyre: Option<TyreLoad>,
    /// What one rear tyre may carry.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear_tyre: Option<TyreLoad>,
    /// Whether they are tyres of a passenger car.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tyres: Option<TyreSortName>,
    /// What the front wheels (the rims) may carry together.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_wheels_kg: Option<Grams>,
    /// What the rear wheels may carry together.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_wheels_kg: Option<Grams>,
    /// A person aboard.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub person_kg: Option<Grams>,
    /// How far the seats are behind the front axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seats_at: Option<Len>,
    /// What is carried in the bed.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub cargo_kg: Option<Grams>,
    /// How far its middle is behind the front axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cargo_at: Option<Len>,
    /// What has to be left for payload, people and cargo aboard.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub least_payload_kg: Option<Grams>,
    /// What the scale shows of the front axle after the work, nobody aboard.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub front_after_kg: Option<Grams>,
    /// What it shows of the rear axle.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub rear_after_kg: Option<Grams>,
    /// What it shows of each wheel. Two of an axle stand for it.
    #[serde(skip_serializing_if = "WheelReadings::is_open")]
    pub wheels_after: WheelReadings,
}

impl Masses {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// Whether anything was entered that has no default.
    pub(crate) fn is_told(&self) -> bool {
        let masses = [
            self.front_before_kg,
            self.rear_before_kg,
            self.raised_front_kg,
            self.gross_rating_kg,
            self.front_rating_kg,
            self.rear_rating_kg,
            self.front_wheels_kg,
            self.rear_wheels_kg,
            self.cargo_kg,
            self.front_after_kg,
            self.rear_after_kg,
        ];
        self.wheelbase.is_some()
            || self.front_tyre.is_some()
            || self.rear_tyre.is_some()
            || masses.iter().any(Option::is_some)
            || !self.wheels_before.is_open()
            || !self.wheels_after.is_open()
    }
}

named! {
    /// How the axle loads before the work are known.
    KnownName {
        /// From a scale that both axles were driven on.
        Weighbridge = "weighbridge" / "weighbridge",
        /// Worked out, or read in a brochure.
        Calculated = "calculated" / "calculated",
    }
}

named! {
    /// The sort of tyres.
    TyreSortName {
        /// For trucks, `LT` or `C` on the side wall.
        Truck = "truck" / "truck (LT or C)",
        /// Of a passenger car.
        Passenger = "passenger" / "passenger car",
    }
}
