//! What may still go on: people, then load.

use super::{Limit, Margin, Ratings, margins};
use crate::check::{in_kg, positive};
use crate::mass::axle::AxleLoads;
use crate::mass::{Axle, Item};
use crate::{Source, Sourced, TruckError};

/// A person aboard, kilograms, where nothing better is known.
pub const PERSON_KG: Sourced<f64> = Sourced {
    value: 68.0,
    source: Source::memory("150 lb for each seat, 49 CFR 567.4 (g)(3)"),
};

/// The truck with something aboard, against its limits.
#[derive(Clone, Debug, PartialEq)]
pub struct Laden {
    /// The axle loads then.
    pub loads: AxleLoads,
    /// Against every limit known.
    pub margins: Vec<Margin>,
}

/// The loads and margins with `aboard` put on: nobody, one person, or all that is to be carried.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, or a rating not above zero.
pub fn laden(ratings: &Ratings, empty: AxleLoads, wheelbase_m: f64, aboard: &[Item]) -> Result<Laden, TruckError> {
    let loads = empty.with(aboard, wheelbase_m)?;
    Ok(Laden {
        loads,
        margins: margins(ratings, loads)?,
    })
}

/// How much more may go on at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Payload {
    /// Kilograms; below zero is what would have to come off there.
    pub left_kg: f64,
    /// As a share of the gross rating; `None` when that is not known.
    pub share_of_gross: Option<f64>,
    /// The limit that is met first.
    pub limited_by: Limit,
}

/// What may be put on at `x_m` behind the front axle before the first limit is met; `None` when no limit is known that a
/// load there comes nearer to.
///
/// For the gross rating what is left of it; for an axle what is left of it over the share of the load that it takes:
/// `1 - x/L` in front, `x/L` behind. An axle that a load there would relieve limits it only by lifting off the ground; but
/// when it is over its limit as it stands, nothing is left and what it is over by is told.
///
/// Source: moments about the front axle.
///
/// # Errors
///
/// [`TruckError`] for a figure that is no number, a rating or wheelbase not above zero.
pub fn payload(ratings: &Ratings, loads: AxleLoads, wheelbase_m: f64, x_m: f64) -> Result<Option<Payload>, TruckError> {
    let per_kg = AxleLoads::default().with(&[one_kg_at(x_m)], wheelbase_m)?;
    let room = |margin: &Margin| {
        let takes = margin.limit.axle().map_or(1.0, |axle| per_kg.on(axle));
        let left_kg = margin.left_kg();
        if takes > 0.0 {
            Some((left_kg / takes, margin.limit))
        } else {
            (left_kg < 0.0).then_some((left_kg, margin.limit))
        }
    };
    let margins = margins(ratings, loads)?;
    // Beyond an axle a load takes off the other one what it has.
    let lifts = [Axle::Front, Axle::Rear].into_iter().filter_map(|axle| {
        let takes = per_kg.on(axle);
        (takes < 0.0).then(|| (loads.on(axle) / -takes, Limit::Lifts(axle)))
    });
    let least = margins
        .iter()
        .filter_map(room)
        .chain(lifts)
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((left_kg, limited_by)) = least else {
        return Ok(None);
    };
    let gross_kg = ratings
        .gross_kg
        .map(|gross_kg| positive("gross rating", gross_kg, "read it off the plate").map_err(in_kg));
    Ok(Some(Payload {
        left_kg,
        share_of_gross: gross_kg.transpose()?.map(|gross_kg| left_kg / gross_kg),
        limited_by,
    }))
}

fn one_kg_at(x_m: f64) -> Item {
    Item {
        mass_kg: 1.0,
        at: crate::mass::Place {
            x_m,
            ..crate::mass::Place::default()
        },
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::mass::Axle;
    use crate::rating::AxleRating;

    const RATINGS: Ratings = Ratings {
        gross_kg: Some(2_000.0),
        front: AxleRating {
            axle_kg: Some(1_000.0),
            tyres: None,
            wheels_kg: None,
        },
        rear: AxleRating {
            axle_kg: Some(1_100.0),
            tyres: None,
            wheels_kg: None,
        },
    };
    const LOADS: AxleLoads = AxleLoads {
        front_kg: 900.0,
        rear_kg: 900.0,
    };

    #[test]
    fn over_the_rear_axle_the_gross_rating_is_met_first_and_behind_it_the_axle() {
        let over = payload(&RATINGS, LOADS, 3.0, 3.0).unwrap().unwrap();
        assert_eq!((over.left_kg, over.limited_by), (200.0, Limit::Gross));
        assert_eq!(over.share_of_gross, Some(0.1));
        let behind = payload(&RATINGS, LOADS, 3.0, 4.5).unwrap().unwrap();
        assert_eq!(behind.limited_by, Limit::Axle(Axle::Rear));
        assert!((behind.left_kg - 200.0 / 1.5).abs() < 1e-9);
    }

    #[test]
    fn an_axle_that_is_over_leaves_nothing_even_where_a_load_relieves_it() {
        let heavy = AxleLoads {
            front_kg: 1_005.0,
            rear_kg: 700.0,
        };
        let behind = payload(&RATINGS, heavy, 3.0, 4.0).unwrap().unwrap();
        assert_eq!((behind.left_kg, behind.limited_by), (-5.0, Limit::Axle(Axle::Front)));
        assert_eq!(payload(&Ratings::default(), heavy, 3.0, 1.0), Ok(None));
    }

    #[test]
    fn a_person_counts_where_he_sits() {
        let person = Item {
            mass_kg: PERSON_KG.value,
            at: crate::mass::Place {
                x_m: 1.5,
                y_m: -0.4,
                z_m: 0.9,
            },
        };
        let found = laden(&RATINGS, LOADS, 3.0, &[person]).unwrap();
        assert!((found.loads.front_kg - 934.0).abs() < 1e-9);
        assert!((found.margins[0].left_kg() - 132.0).abs() < 1e-9);
    }

    /// Wheelbase 3 m, 500 kg in front: a kilogram 6 m behind takes 1 kg off the front axle.
    #[test]
    fn a_load_far_behind_is_limited_by_the_front_axle_lifting() {
        let loads = AxleLoads {
            front_kg: 500.0,
            rear_kg: 100.0,
        };
        let found = payload(&Ratings::default(), loads, 3.0, 6.0).unwrap().unwrap();
        assert_eq!(found.limited_by, Limit::Lifts(Axle::Front));
        assert!((found.left_kg - 500.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn with_what_is_left_put_on_the_limit_is_just_met(x in -1.0..5.0_f64, front in 700.0..999.0_f64, rear in 700.0..999.0_f64) {
            let loads = AxleLoads { front_kg: front, rear_kg: rear };
            let found = payload(&RATINGS, loads, 3.0, x).unwrap().unwrap();
            let mut item = one_kg_at(x);
            item.mass_kg = found.left_kg;
            let full = laden(&RATINGS, loads, 3.0, &[item]).unwrap();
            for margin in &full.margins {
                prop_assert!(margin.left_kg() > -1e-6, "{margin:?}");
            }
            let met = full.margins.iter().find(|margin| margin.limit == found.limited_by).unwrap();
            prop_assert!(met.left_kg().abs() < 1e-6);
        }
    }
}
