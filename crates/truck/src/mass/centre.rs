//! Moments and the centre of gravity.

use super::{Item, Place, checked, checked_total};
use crate::TruckError;

/// Mass and moments of a set of items about the origin of the truck's frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Kilograms, taken off counted off.
    pub mass_kg: f64,
    /// Sum of mass times x, kilogram-metres.
    pub x_kgm: f64,
    /// Sum of mass times y.
    pub y_kgm: f64,
    /// Sum of mass times z.
    pub z_kgm: f64,
}

impl Moments {
    /// The sums over `items`.
    ///
    /// Source: statics, the law of the lever.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotFinite`] for a mass or place that is no number.
    pub fn of(items: &[Item]) -> Result<Self, TruckError> {
        let add = |sum: Self, item: &Item| Self {
            mass_kg: sum.mass_kg + item.mass_kg,
            x_kgm: sum.x_kgm + item.mass_kg * item.at.x_m,
            y_kgm: sum.y_kgm + item.mass_kg * item.at.y_m,
            z_kgm: sum.z_kgm + item.mass_kg * item.at.z_m,
        };
        Ok(checked(items)?.iter().fold(Self::default(), add))
    }

    /// The centre of gravity: each moment over the mass.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] when no mass is left.
    pub fn centre(self) -> Result<Place, TruckError> {
        let mass_kg = checked_total(self.mass_kg)?;
        Ok(Place {
            x_m: self.x_kgm / mass_kg,
            y_m: self.y_kgm / mass_kg,
            z_m: self.z_kgm / mass_kg,
        })
    }
}

/// The centre of gravity of `items`, its height with it: `sum(m r) / sum(m)`.
///
/// For a truck after a conversion: the truck itself as one item at its own centre (see [`super::raised`] for the height),
/// then what comes off and goes on.
///
/// Source: statics.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, or when no mass is left.
pub fn centre(items: &[Item]) -> Result<Place, TruckError> {
    Moments::of(items)?.centre()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn item(mass_kg: f64, x_m: f64) -> Item {
        Item {
            mass_kg,
            at: Place {
                x_m,
                ..Place::default()
            },
        }
    }

    #[test]
    fn nothing_left_has_no_centre() {
        assert!(centre(&[]).is_err());
        assert!(centre(&[item(5.0, 1.0), item(5.0, 2.0).taken_off()]).is_err());
        assert!(centre(&[item(f64::NAN, 1.0)]).is_err());
    }

    proptest! {
        #[test]
        fn moments_balance_about_the_centre(items in prop::collection::vec((0.1..500.0_f64, -3.0..6.0_f64), 1..20)) {
            let items: Vec<Item> = items.into_iter().map(|(mass, x)| item(mass, x)).collect();
            let at = centre(&items).unwrap();
            let about: f64 = items.iter().map(|item| item.mass_kg * (item.at.x_m - at.x_m)).sum();
            prop_assert!(about.abs() < 1e-8, "{about}");
        }

        #[test]
        fn what_goes_on_and_comes_off_changes_nothing(mass in 1.0..500.0_f64, x in -3.0..6.0_f64) {
            let truck = item(1_500.0, 1.2);
            let there = item(mass, x);
            let at = centre(&[truck, there, there.taken_off()]).unwrap();
            prop_assert!((at.x_m - 1.2).abs() < 1e-12);
        }
    }
}
