//! What is entered of the truck itself: its masses, what comes out and goes in, and what is under it.

mod figures;
mod ground;
mod items;
mod loads;
mod masses;
pub(crate) mod road;
pub(crate) mod settled;
mod tyre;
mod wheels;

use serde::{Deserialize, Serialize};

pub use figures::{TruckFigure, TruckFigures};
pub use ground::{Ground, LowPoint, RidesName};
pub use items::{Component, WayName};
pub use loads::Carried;
pub use masses::{KnownName, Masses, TyreSortName};
pub use road::{
    Amount, AmountUnit, CutOutName, Distance, IsolatedName, Measure, OfDistance, OfSpeed, PlaceName, Road, RoadFigure,
    RoadFigures, Speed,
};
pub use tyre::{TyreError, TyreLoad};
pub use wheels::WheelReadings;

/// The truck that the boxes go into. What is not there was not entered; a file without any of it is a job without a truck.
///
/// Places are in the frame of the truck: x rearward from the front axle, y right of the centre plane, z above the ground.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Vehicle {
    /// What it weighs and what it may weigh.
    #[serde(skip_serializing_if = "Masses::is_open")]
    pub masses: Masses,
    /// What is under it and how it stands on its wheels.
    #[serde(skip_serializing_if = "Ground::is_open")]
    pub ground: Ground,
    /// What comes out and what goes in, but for the boxes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<Component>,
    /// What is carried, in sets that are aboard together.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub carried: Vec<Carried>,
    /// Plain figures: percents, counts, rates of springs.
    #[serde(skip_serializing_if = "TruckFigures::is_empty")]
    pub figures: TruckFigures,
    /// What it takes on the road, its gears, where it is charged, and its panels.
    #[serde(skip_serializing_if = "Road::is_open")]
    pub road: Road,
}

impl Vehicle {
    /// Whether nothing of a truck was entered.
    pub fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// Whether anything was entered that has no default: confirmed defaults alone make no truck.
    pub fn is_told(&self) -> bool {
        self.masses.is_told() || self.ground.is_told() || !self.components.is_empty() || !self.carried.is_empty()
    }
}
