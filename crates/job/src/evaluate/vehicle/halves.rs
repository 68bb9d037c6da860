//! Entries that say nothing until another one stands beside them.

use truck::mass::wheel::Wheel;

use crate::document::TruckFigure as N;
use crate::field::{TruckField as F, show};
use crate::{Field, Job, State};

/// An entry that does not count while another is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Half {
    /// What was entered, and what was not, with what comes of it.
    pub words: String,
    /// What to enter.
    pub fix: String,
}

/// What comes of one wheel of an axle.
const ONE_WHEEL: &str = "one wheel of an axle does not count";

/// Axles that both their wheels stand for.
const BY_WHEELS: [(F, [F; 2]); 4] = [
    (
        F::FrontBefore,
        [F::WheelBefore(Wheel::FrontLeft), F::WheelBefore(Wheel::FrontRight)],
    ),
    (
        F::RearBefore,
        [F::WheelBefore(Wheel::RearLeft), F::WheelBefore(Wheel::RearRight)],
    ),
    (
        F::FrontAfter,
        [F::WheelAfter(Wheel::FrontLeft), F::WheelAfter(Wheel::FrontRight)],
    ),
    (
        F::RearAfter,
        [F::WheelAfter(Wheel::RearLeft), F::WheelAfter(Wheel::RearRight)],
    ),
];

/// Rates of springs that heights under a load stand for.
const BY_HEIGHTS: [(F, F); 2] = [
    (F::Figure(N::FrontSpring), F::FrontSettled),
    (F::Figure(N::RearSpring), F::RearSettled),
];

/// Two entries that tell something together, and what that is.
const PAIRS: [(F, F, &str); 10] = [
    (
        F::RaisedFront,
        F::RaisedBy,
        "the height of the centre of gravity is not weighed",
    ),
    (
        F::FrontOverhang,
        F::FrontLow,
        "the front overhang does not count for the approach angle",
    ),
    (
        F::RearOverhang,
        F::RearLow,
        "the rear overhang does not count for the departure angle",
    ),
    (
        F::FrontAfter,
        F::RearAfter,
        "the weighing after the work is not held against what was worked out",
    ),
    (
        F::Figure(N::FrontSpring),
        F::Figure(N::RearSpring),
        "clearance is told with nothing sunk",
    ),
    (
        F::Figure(N::FrontTyreRate),
        F::Figure(N::RearTyreRate),
        "one axle's hub sinks by its tyres and the other does not",
    ),
    (F::FrontRating, F::RearRating, "only one axle is held against the plate"),
    (F::FrontTyre, F::RearTyre, "only one axle is held against its tyres"),
    (F::FrontWheels, F::RearWheels, "only one axle is held against its rims"),
    (F::FrontBefore, F::RearBefore, "no axle load can be told"),
];

/// The halves of a job, pairs first, then low points.
pub(super) fn list(job: &Job) -> Vec<Half> {
    let of_wheels = BY_WHEELS.map(|(_, [left, right])| (left, right, ONE_WHEEL));
    let pairs = || PAIRS.into_iter().chain(of_wheels);
    let heights = BY_HEIGHTS.map(|(_, heights)| Field::OfTruck(heights));
    let of_pairs = pairs().flat_map(|(a, b, _)| [a, b].map(Field::OfTruck));
    let fields: Vec<Field> = of_pairs.chain(heights).collect();
    let mut given: Vec<Field> = show(job, &fields)
        .into_iter()
        .filter(|(_, shown)| shown.state == State::Given)
        .map(|(field, _)| field)
        .collect();
    let entered = given.clone();
    for (axle, wheels) in BY_WHEELS {
        if wheels.iter().all(|wheel| given.contains(&Field::OfTruck(*wheel))) {
            given.push(Field::OfTruck(axle));
        }
    }
    for (rate, heights) in BY_HEIGHTS {
        if given.contains(&Field::OfTruck(heights)) {
            given.push(Field::OfTruck(rate));
        }
    }
    let mut found: Vec<Half> = pairs()
        .filter_map(|(a, b, so)| pair(&given, &entered, (a, b, so)))
        .collect();
    let points = job.vehicle.ground.points.iter();
    found.extend(points.filter_map(|point| {
        let missing = match (&point.along, &point.height) {
            (Some(_), Some(_)) => return None,
            (None, Some(_)) => "how far it is behind the front axle",
            (Some(_), None) => "how high it is above the ground",
            (None, None) => "where it is behind the front axle and above the ground",
        };
        Some(Half {
            words: format!("low point {} does not count: {missing} is not entered", point.name),
            fix: format!(
                "open {} on the Truck page and enter it, or take it out with x",
                point.name
            ),
        })
    }));
    found
}

/// Of two the one that is `given` without the other; an axle is given by its wheels, too, which are what was `entered` then.
fn pair(given: &[Field], entered: &[Field], (a, b, so): (F, F, &str)) -> Option<Half> {
    let is_given = |field: F| given.contains(&Field::OfTruck(field));
    let (told, open) = match (is_given(a), is_given(b)) {
        (true, false) => (a, b),
        (false, true) => (b, a),
        _ => return None,
    };
    let wheels = BY_WHEELS.iter().find(|(axle, _)| *axle == told);
    let heights = BY_HEIGHTS.iter().filter(|(rate, _)| *rate == told);
    let behind = std::iter::once(&told)
        .chain(wheels.iter().flat_map(|(_, wheels)| wheels))
        .chain(heights.map(|(_, heights)| heights));
    let behind = behind.map(|field| Field::OfTruck(*field));
    let told: Vec<&str> = behind
        .filter(|field| entered.contains(field))
        .map(Field::label)
        .collect();
    let (told, open) = (told.join(" and "), Field::OfTruck(open).label());
    let are = if told.contains(" and ") { "are" } else { "is" };
    Some(Half {
        words: format!("{told} {are} entered and {open} is not: {so}"),
        fix: format!("enter {open} too on the Truck page, or clear {told}"),
    })
}
