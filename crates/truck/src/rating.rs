//! What the truck may weigh: plate, tyres, wheels; the weakest wins.
//!
//! Ratings stay as the maker set them. What is worked out here is a comparison with them, never a new rating.

pub mod index;
pub mod payload;

use crate::check::{finite, in_kg, positive};
use crate::mass::Axle;
use crate::mass::axle::AxleLoads;
use crate::mass::wheel::{Wheel, WheelLoads};
use crate::{Source, TruckError};

/// What a passenger-car tyre's rating is divided by on a truck.
pub const PASSENGER_TYRE_DIVISOR: f64 = 1.10;

/// Where [`PASSENGER_TYRE_DIVISOR`] is from.
pub const PASSENGER_TYRE_SOURCE: Source =
    Source::found("49 CFR 571.120 S5.1.2, as quoted in a federal interpretation letter of 17 November 1976");

/// The tyres of one axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tyres {
    /// What one tyre is rated for, kilograms: of its load index ([`index::load_kg`]) or its side wall.
    pub rated_kg_each: f64,
    /// How many are on the axle.
    pub count: u32,
    /// Whether they are passenger-car tyres, which count for less on a truck.
    pub passenger_on_truck: bool,
}

impl Tyres {
    /// What they carry together, kilograms: `n x rated`, over [`PASSENGER_TYRE_DIVISOR`] for passenger-car tyres.
    ///
    /// Source: [`PASSENGER_TYRE_SOURCE`].
    ///
    /// # Errors
    ///
    /// [`TruckError::NotAbove`] for a rating or count not above zero.
    pub fn limit_kg(self) -> Result<f64, TruckError> {
        let each = positive("rating of a tyre", self.rated_kg_each, "read it off the side wall").map_err(in_kg)?;
        let count = positive("tyres on the axle", f64::from(self.count), "count them")?;
        let divisor = if self.passenger_on_truck {
            PASSENGER_TYRE_DIVISOR
        } else {
            1.0
        };
        Ok(count * each / divisor)
    }
}

/// What limits one axle; `None` where it is not known, which is no limit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AxleRating {
    /// The axle's rating on the plate, kilograms.
    pub axle_kg: Option<f64>,
    /// Its tyres.
    pub tyres: Option<Tyres>,
    /// What its wheels (the rims) are rated for together, kilograms.
    pub wheels_kg: Option<f64>,
}

/// What limits the truck; `None` where it is not known, which is no limit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ratings {
    /// The gross rating on the plate, kilograms.
    pub gross_kg: Option<f64>,
    /// The front axle.
    pub front: AxleRating,
    /// The rear axle.
    pub rear: AxleRating,
}

/// Which limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The gross rating.
    Gross,
    /// An axle's rating.
    Axle(Axle),
    /// The tyres of an axle together.
    Tyres(Axle),
    /// The wheels of an axle together.
    Wheels(Axle),
    /// An axle that a load beyond the other one lifts off the ground.
    Lifts(Axle),
}

impl Limit {
    /// The axle it is a limit of; `None` for the whole truck.
    pub const fn axle(self) -> Option<Axle> {
        match self {
            Self::Gross => None,
            Self::Axle(axle) | Self::Tyres(axle) | Self::Wheels(axle) | Self::Lifts(axle) => Some(axle),
        }
    }

    /// In words: `gross rating`, `front axle rating`, `rear tyres`, ...
    pub const fn words(self) -> &'static str {
        match self {
            Self::Gross => "gross rating",
            Self::Axle(Axle::Front) => "front axle rating",
            Self::Axle(Axle::Rear) => "rear axle rating",
            Self::Tyres(Axle::Front) => "front tyres",
            Self::Tyres(Axle::Rear) => "rear tyres",
            Self::Wheels(Axle::Front) => "front wheels",
            Self::Wheels(Axle::Rear) => "rear wheels",
            Self::Lifts(Axle::Front) => "front axle off the ground",
            Self::Lifts(Axle::Rear) => "rear axle off the ground",
        }
    }
}

/// A load against a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// Which limit.
    pub limit: Limit,
    /// What is allowed, kilograms.
    pub limit_kg: f64,
    /// What is there, kilograms.
    pub load_kg: f64,
}

impl Margin {
    /// What is left, kilograms; below zero when over.
    pub fn left_kg(&self) -> f64 {
        self.limit_kg - self.load_kg
    }

    /// What is left as a share of the limit.
    pub fn left_share(&self) -> f64 {
        self.left_kg() / self.limit_kg
    }

    /// Whether the load is not above the limit.
    pub fn within(&self) -> bool {
        self.load_kg <= self.limit_kg
    }

    /// The same, of something that stands on the ground at all: an axle that lifts off has a load below nothing.
    pub fn is_borne(&self) -> bool {
        self.within() && self.load_kg >= 0.0
    }
}

/// The loads against every limit that is known: gross, then front, then rear; rating, tyres, wheels of each.
///
/// # Errors
///
/// [`TruckError`] for a rating not above zero or a load that is no number.
pub fn margins(ratings: &Ratings, loads: AxleLoads) -> Result<Vec<Margin>, TruckError> {
    finite("front axle load", loads.front_kg)?;
    finite("rear axle load", loads.rear_kg)?;
    let load_of = |limit: Limit| limit.axle().map_or(loads.total_kg(), |axle| loads.on(axle));
    let margin = |(limit, limit_kg)| Margin {
        limit,
        limit_kg,
        load_kg: load_of(limit),
    };
    let mut limits = Vec::new();
    if let Some(gross_kg) = ratings.gross_kg {
        limits.push((
            Limit::Gross,
            positive(Limit::Gross.words(), gross_kg, READ).map_err(in_kg)?,
        ));
    }
    limits.extend(limits_of(Axle::Front, &ratings.front)?);
    limits.extend(limits_of(Axle::Rear, &ratings.rear)?);
    Ok(limits.into_iter().map(margin).collect())
}

const READ: &str = "read it off the plate";

fn limits_of(axle: Axle, rating: &AxleRating) -> Result<Vec<(Limit, f64)>, TruckError> {
    let mut limits = Vec::new();
    let mut add = |limit: Limit, limit_kg: f64| {
        positive(limit.words(), limit_kg, READ)
            .map_err(in_kg)
            .map(|limit_kg| limits.push((limit, limit_kg)))
    };
    if let Some(axle_kg) = rating.axle_kg {
        add(Limit::Axle(axle), axle_kg)?;
    }
    if let Some(tyres) = rating.tyres {
        add(Limit::Tyres(axle), tyres.limit_kg()?)?;
    }
    if let Some(wheels_kg) = rating.wheels_kg {
        add(Limit::Wheels(axle), wheels_kg)?;
    }
    Ok(limits)
}

/// Each wheel against half of what the tyres and the wheels (the rims) of its axle may carry together. On an axle within its limits one
/// wheel can still be over.
///
/// # Errors
///
/// [`TruckError`] for a rating not above zero or a load that is no number.
pub fn wheel_margins(ratings: &Ratings, wheels: WheelLoads) -> Result<Vec<(Wheel, Margin)>, TruckError> {
    let mut found = Vec::new();
    for wheel in Wheel::ALL {
        let rating = match wheel.axle() {
            Axle::Front => &ratings.front,
            Axle::Rear => &ratings.rear,
        };
        let load_kg = finite(wheel.name(), wheels.on(wheel))?;
        let of_wheels = limits_of(wheel.axle(), rating)?
            .into_iter()
            .filter(|(limit, _)| matches!(limit, Limit::Tyres(_) | Limit::Wheels(_)));
        found.extend(of_wheels.map(|(limit, limit_kg)| {
            let limit_kg = limit_kg / 2.0;
            (
                wheel,
                Margin {
                    limit,
                    limit_kg,
                    load_kg,
                },
            )
        }));
    }
    Ok(found)
}

/// The limit of which the least share is left; the first of equals. `None` when no limit is known.
pub fn weakest(margins: &[Margin]) -> Option<Margin> {
    let by_share = |a: &&Margin, b: &&Margin| a.left_share().total_cmp(&b.left_share());
    margins.iter().min_by(by_share).copied()
}

/// The least limit of one axle in kilograms and which it is; `None` when none is known. Serves the check values: the program
/// tells all margins.
///
/// # Errors
///
/// [`TruckError`] for a rating not above zero.
pub fn axle_limit(axle: Axle, rating: &AxleRating) -> Result<Option<(Limit, f64)>, TruckError> {
    let limits = limits_of(axle, rating)?;
    Ok(limits.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATINGS: Ratings = Ratings {
        gross_kg: Some(2_000.0),
        front: AxleRating {
            axle_kg: Some(1_100.0),
            tyres: Some(Tyres {
                rated_kg_each: 600.0,
                count: 2,
                passenger_on_truck: true,
            }),
            wheels_kg: None,
        },
        rear: AxleRating {
            axle_kg: Some(1_200.0),
            tyres: None,
            wheels_kg: Some(1_150.0),
        },
    };

    #[test]
    fn the_weakest_wins() {
        let loads = AxleLoads {
            front_kg: 800.0,
            rear_kg: 1_149.0,
        };
        let found = margins(&RATINGS, loads).unwrap();
        assert_eq!(found.len(), 5);
        assert!(found.iter().all(Margin::within));
        assert_eq!(weakest(&found).unwrap().limit, Limit::Wheels(Axle::Rear));
        let (limit, limit_kg) = axle_limit(Axle::Front, &RATINGS.front).unwrap().unwrap();
        assert_eq!(limit, Limit::Tyres(Axle::Front));
        assert!((limit_kg - 1_200.0 / 1.1).abs() < 1e-9);
    }

    /// 1150 kg of rims behind are 575 a wheel; in front 600 / 1.1 = 545.45 a tyre.
    #[test]
    fn one_wheel_can_be_over_on_an_axle_that_is_within() {
        let wheels = WheelLoads {
            front_left_kg: 370.0,
            front_right_kg: 545.0,
            rear_left_kg: 576.0,
            rear_right_kg: 500.0,
        };
        assert!(margins(&RATINGS, wheels.axles()).unwrap().iter().all(Margin::within));
        let over: Vec<(Wheel, Limit)> = wheel_margins(&RATINGS, wheels)
            .unwrap()
            .into_iter()
            .filter(|(_, margin)| !margin.within())
            .map(|(wheel, margin)| (wheel, margin.limit))
            .collect();
        assert_eq!(over, [(Wheel::RearLeft, Limit::Wheels(Axle::Rear))]);
        let more = WheelLoads {
            front_right_kg: 546.0,
            ..wheels
        };
        let found = wheel_margins(&RATINGS, more).unwrap();
        assert_eq!(found.iter().filter(|(_, margin)| !margin.within()).count(), 2);
    }

    #[test]
    fn a_load_equal_to_its_limit_is_within_and_a_gram_more_is_not() {
        let over = |rear_kg| {
            let loads = AxleLoads {
                front_kg: 800.0,
                rear_kg,
            };
            let found = margins(&RATINGS, loads).unwrap();
            found.iter().filter(|margin| !margin.within()).count()
        };
        assert_eq!(over(1_150.0), 0);
        assert_eq!(over(1_150.001), 1);
        assert_eq!(over(1_200.001), 3);
    }

    #[test]
    fn what_is_not_known_is_no_limit_and_nonsense_is_refused() {
        assert_eq!(margins(&Ratings::default(), AxleLoads::default()), Ok(Vec::new()));
        assert_eq!(weakest(&[]), None);
        assert_eq!(axle_limit(Axle::Rear, &AxleRating::default()), Ok(None));
        let none = Ratings {
            gross_kg: Some(0.0),
            ..RATINGS
        };
        assert!(margins(&none, AxleLoads::default()).is_err());
        let no_tyres = Tyres {
            rated_kg_each: 600.0,
            count: 0,
            passenger_on_truck: false,
        };
        assert!(no_tyres.limit_kg().is_err());
    }
}
