//! Axle loads by moments about the front axle.

use super::{Axle, Item, checked, checked_total, checked_wheelbase};
use crate::TruckError;
use crate::check::finite;

/// What each axle carries, in kilograms as a scale shows it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AxleLoads {
    /// The front axle.
    pub front_kg: f64,
    /// The rear axle.
    pub rear_kg: f64,
}

impl AxleLoads {
    /// Both together.
    pub fn total_kg(self) -> f64 {
        self.front_kg + self.rear_kg
    }

    /// What `axle` carries.
    pub const fn on(self, axle: Axle) -> f64 {
        match axle {
            Axle::Front => self.front_kg,
            Axle::Rear => self.rear_kg,
        }
    }

    /// The share of the total that the rear axle carries.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] when there is no mass.
    pub fn rear_share(self) -> Result<f64, TruckError> {
        Ok(self.rear_kg / checked_total(self.total_kg())?)
    }

    /// How far the centre of gravity is behind the front axle: `rear load x wheelbase / total`, metres.
    ///
    /// Source: statics.
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] when there is no mass or no wheelbase.
    pub fn centre_x_m(self, wheelbase_m: f64) -> Result<f64, TruckError> {
        Ok(self.rear_share()? * checked_wheelbase(wheelbase_m)?)
    }

    /// The loads with `items` put on, or taken off: `rear += m x / L`, `front += m - m x / L`.
    ///
    /// The shares are those of the place and are not kept within 0 and 1: a mass behind the rear axle takes load off the
    /// front, one ahead of the front axle takes load off the rear.
    ///
    /// Source: sum of moments about the front axle.
    ///
    /// # Errors
    ///
    /// [`TruckError`] for a figure that is no number, or a wheelbase not above zero.
    pub fn with(self, items: &[Item], wheelbase_m: f64) -> Result<Self, TruckError> {
        let wheelbase_m = checked_wheelbase(wheelbase_m)?;
        let add = |sum: Self, item: &Item| {
            let on = of_point(item.mass_kg, item.at.x_m, wheelbase_m);
            Self {
                front_kg: sum.front_kg + on.front_kg,
                rear_kg: sum.rear_kg + on.rear_kg,
            }
        };
        Ok(checked(items)?.iter().fold(self, add))
    }

    /// The axle that is lifted off the ground: one whose load is below zero.
    pub fn lifted(self) -> Option<Axle> {
        [Axle::Front, Axle::Rear].into_iter().find(|axle| self.on(*axle) < 0.0)
    }
}

fn of_point(mass_kg: f64, x_m: f64, wheelbase_m: f64) -> AxleLoads {
    let rear_kg = mass_kg * x_m / wheelbase_m;
    AxleLoads {
        front_kg: mass_kg - rear_kg,
        rear_kg,
    }
}

/// The loads of a conversion, step by step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stages {
    /// As weighed.
    pub before: AxleLoads,
    /// With what comes off gone.
    pub stripped: AxleLoads,
    /// With what goes on put on.
    pub after: AxleLoads,
    /// How far the centre of gravity moves from before to after, metres; rearward above zero.
    pub centre_shift_m: f64,
}

/// The axle loads before, stripped and after.
///
/// - `weighed`: what the scale showed of each axle, with the tank level and people aboard that the person noted.
/// - `changes`: what goes on (mass above zero) and comes off (below), in any order.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, a wheelbase not above zero, or no mass before or after.
///
/// # Examples
///
/// ```
/// use truck::mass::axle::{AxleLoads, stages};
/// use truck::mass::{Item, Place};
///
/// let weighed = AxleLoads { front_kg: 900.0, rear_kg: 600.0 };
/// let behind_the_axle = Place { x_m: 3.6, y_m: 0.0, z_m: 0.5 };
/// let found = stages(weighed, 3.0, &[Item { mass_kg: 100.0, at: behind_the_axle }])?;
/// assert!((found.after.rear_kg - 720.0).abs() < 1e-9);
/// assert!((found.after.front_kg - 880.0).abs() < 1e-9); // lighter than before
/// # Ok::<(), truck::TruckError>(())
/// ```
pub fn stages(weighed: AxleLoads, wheelbase_m: f64, changes: &[Item]) -> Result<Stages, TruckError> {
    finite("front axle reading", weighed.front_kg)?;
    finite("rear axle reading", weighed.rear_kg)?;
    let off: Vec<Item> = changes.iter().copied().filter(|item| item.mass_kg < 0.0).collect();
    let after = weighed.with(changes, wheelbase_m)?;
    Ok(Stages {
        before: weighed,
        stripped: weighed.with(&off, wheelbase_m)?,
        after,
        centre_shift_m: after.centre_x_m(wheelbase_m)? - weighed.centre_x_m(wheelbase_m)?,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;
    use crate::mass::Place;

    fn at(mass_kg: f64, x_m: f64) -> Item {
        Item {
            mass_kg,
            at: Place {
                x_m,
                ..Place::default()
            },
        }
    }

    #[rstest]
    #[case::ahead_of_the_front_axle(-1.0, 150.0, -50.0)]
    #[case::on_the_front_axle(0.0, 100.0, 0.0)]
    #[case::in_the_middle(1.0, 50.0, 50.0)]
    #[case::on_the_rear_axle(2.0, 0.0, 100.0)]
    #[case::behind_the_rear_axle(3.0, -50.0, 150.0)]
    fn a_mass_is_shared_by_its_place(#[case] x_m: f64, #[case] front_kg: f64, #[case] rear_kg: f64) {
        let found = AxleLoads::default().with(&[at(100.0, x_m)], 2.0).unwrap();
        assert_eq!(found, AxleLoads { front_kg, rear_kg });
    }

    #[test]
    fn a_heavy_tail_lifts_the_front() {
        let empty = AxleLoads {
            front_kg: 100.0,
            rear_kg: 100.0,
        };
        assert_eq!(empty.lifted(), None);
        assert_eq!(empty.with(&[at(500.0, 3.0)], 2.0).unwrap().lifted(), Some(Axle::Front));
    }

    #[test]
    fn nonsense_is_refused() {
        let weighed = AxleLoads {
            front_kg: 900.0,
            rear_kg: 600.0,
        };
        assert!(stages(weighed, 0.0, &[]).is_err());
        assert!(stages(weighed, 3.0, &[at(-2_000.0, 1.0)]).is_err());
        let unread = AxleLoads {
            front_kg: f64::NAN,
            ..weighed
        };
        assert!(stages(unread, 3.0, &[]).is_err());
    }

    proptest! {
        #[test]
        fn axles_carry_all_of_it_and_the_moments_balance(
            items in prop::collection::vec((-200.0..500.0_f64, -2.0..6.0_f64), 0..20),
            wheelbase in 1.5..5.0_f64,
        ) {
            let weighed = AxleLoads { front_kg: 3_000.0, rear_kg: 3_000.0 };
            let items: Vec<Item> = items.into_iter().map(|(mass, x)| at(mass, x)).collect();
            let after = weighed.with(&items, wheelbase).unwrap();
            let mass: f64 = items.iter().map(|item| item.mass_kg).sum();
            prop_assert!((after.total_kg() - 6_000.0 - mass).abs() < 1e-8);
            let moment: f64 = items.iter().map(|item| item.mass_kg * item.at.x_m).sum();
            prop_assert!((after.rear_kg * wheelbase - 3_000.0 * wheelbase - moment).abs() < 1e-7);
        }

        #[test]
        fn the_order_of_changes_does_not_matter(mass in -300.0..300.0_f64, x in -2.0..5.0_f64) {
            let weighed = AxleLoads { front_kg: 900.0, rear_kg: 600.0 };
            let [a, b] = [at(mass, x), at(120.0, 1.1)];
            let [one, other] = [[a, b], [b, a]].map(|items| stages(weighed, 2.8, &items).unwrap());
            prop_assert!((one.after.rear_kg - other.after.rear_kg).abs() < 1e-9);
            prop_assert!(one.stripped.total_kg() <= 1_500.0 + 1e-9);
        }
    }
}
