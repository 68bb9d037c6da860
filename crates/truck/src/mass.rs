//! Masses at places: what goes on, what comes off, and what that does to axles, wheels and the centre of gravity.
//!
//! Begin with what a scale shows of the truck as it stands, never with a brochure: [`axle::stages`] takes the two axle
//! readings and a list of [`Item`]s.

pub mod axle;
pub mod centre;
pub mod inertia;
pub mod raised;
pub mod shift;
pub mod wheel;

use crate::TruckError;
use crate::check::{finite, in_kg, in_m, positive};

/// A place in the frame of the truck: see the crate's axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Place {
    /// Behind the front axle, metres; negative ahead of it.
    pub x_m: f64,
    /// Right of the centre plane, metres; negative to the left.
    pub y_m: f64,
    /// Above the ground, metres.
    pub z_m: f64,
}

/// A mass at its centre of gravity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// Kilograms: above zero for what is put on, below for what is taken off.
    pub mass_kg: f64,
    /// Where its centre of gravity is.
    pub at: Place,
}

impl Item {
    /// A mass this far behind the front axle, on the ground and the centre plane.
    #[cfg(test)]
    fn along(mass_kg: f64, x_m: f64) -> Self {
        let at = Place {
            x_m,
            ..Place::default()
        };
        Self { mass_kg, at }
    }

    /// The same item on its way out.
    #[must_use]
    pub fn taken_off(self) -> Self {
        Self {
            mass_kg: -self.mass_kg,
            ..self
        }
    }
}

/// One of the two axles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axle {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

impl Axle {
    /// `front` or `rear`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }
}

/// Items whose every figure is a finite number.
fn checked(items: &[Item]) -> Result<&[Item], TruckError> {
    for (index, item) in items.iter().enumerate() {
        let Place { x_m, y_m, z_m } = item.at;
        for (what, figure) in [("mass", item.mass_kg), ("x", x_m), ("y", y_m), ("z", z_m)] {
            finite(&format!("{what} of item {}", index + 1), figure)?;
        }
    }
    Ok(items)
}

/// A wheelbase that can be divided by.
fn checked_wheelbase(wheelbase_m: f64) -> Result<f64, TruckError> {
    positive("wheelbase", wheelbase_m, "measure it from hub to hub").map_err(in_m)
}

/// What the refusal of a total mass names.
pub const TOTAL: &str = "total mass";

/// A total mass that can be divided by.
fn checked_total(total_kg: f64) -> Result<f64, TruckError> {
    positive(TOTAL, total_kg, "look for something taken off that was never on").map_err(in_kg)
}
