//! How high the centre of gravity was before the work, and how well that is known.

use truck::TruckError;
use truck::mass::Item;
use truck::mass::centre::centre;
use truck::mass::raised::{Height, Raising, height};

use super::scale::{self, Scale};
use super::{entered_m, metres};
use crate::Job;
use crate::assumed::truck as usual;

/// The height before the work.
pub(super) struct HeightBefore {
    pub(super) height_m: f64,
    /// Metres for each kilogram that the reading with the rear raised is off, where that is what tells it.
    pub(super) m_per_kg: Option<f64>,
    /// How far it may be off by the readings, metres, where these tell it.
    pub(super) off_m: Option<f64>,
    pub(super) is_assumed: bool,
    /// The entry beside the weighing, where they contradict each other.
    pub(super) conflict: Option<HeightConflict>,
    /// Why the weighing with the rear raised does not tell it.
    pub(super) fault: Option<TruckError>,
}

/// Two heights of one centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeightConflict {
    /// As entered, metres; it counts.
    pub entered_m: f64,
    /// As weighed with the rear raised, metres.
    pub weighed_m: f64,
    /// How far that may be off, metres.
    pub off_m: f64,
}

/// As entered, else from weighing with the rear raised, else as usual.
pub(super) fn height_before(job: &Job, level: &Scale, wheelbase_m: f64) -> HeightBefore {
    let entered = entered_m(job.vehicle.masses.centre_height.as_ref());
    let usual = HeightBefore {
        height_m: entered.unwrap_or_else(|| metres(usual::CENTRE_HEIGHT)),
        m_per_kg: None,
        off_m: None,
        is_assumed: entered.is_none(),
        conflict: None,
        fault: None,
    };
    let found = match raised(job, level, wheelbase_m) {
        None => return usual,
        Some(Err(error)) => {
            return HeightBefore {
                fault: Some(error),
                ..usual
            };
        }
        Some(Ok(found)) => found,
    };
    let off_m = reading_off_m(job, level, &found);
    match entered {
        Some(entered_m) => HeightBefore {
            conflict: ((entered_m - found.height_m).abs() > off_m).then_some(HeightConflict {
                entered_m,
                weighed_m: found.height_m,
                off_m,
            }),
            ..usual
        },
        None => HeightBefore {
            height_m: found.height_m,
            m_per_kg: Some(found.height_m_per_kg),
            off_m: Some(off_m),
            is_assumed: job.vehicle.ground.rear_radius.is_none(),
            ..usual
        },
    }
}

/// From weighing with the rear raised; `None` while that is not entered.
fn raised(job: &Job, level: &Scale, wheelbase_m: f64) -> Option<Result<Height, TruckError>> {
    let masses = &job.vehicle.masses;
    let radius = job.vehicle.ground.rear_radius.as_ref();
    Some(height(&Raising {
        level: level.loads(),
        front_raised_kg: masses.raised_front_kg?.kg(),
        lift_m: entered_m(masses.raised_by.as_ref())?,
        hub_height_m: entered_m(radius).unwrap_or_else(|| metres(usual::RADIUS)),
        wheelbase_m,
    }))
}

/// The height rests on what the front axle gains: the reading level and the one raised, neither knowing of the other.
fn reading_off_m(job: &Job, level: &Scale, found: &Height) -> f64 {
    let one_kg = scale::before_off_kg(job);
    let [level_kg, _] = level.readings_off(one_kg);
    found.height_m_per_kg * level_kg.hypot(one_kg)
}

/// How far the height after the work may be off when the one before may be off by `off_m`: the truck's share of it, and the
/// doubt of each mass times its distance from the centre over the whole, root of the sum of squares.
pub(super) fn after_off_m(off_m: f64, whole: Item, changes: &[Item], doubt: f64) -> Result<f64, TruckError> {
    let all: Vec<Item> = std::iter::once(whole).chain(changes.iter().copied()).collect();
    let centre_m = centre(&all)?.z_m;
    let total_kg: f64 = all.iter().map(|item| item.mass_kg).sum();
    let of_truck = (whole.mass_kg * off_m).powi(2);
    let of_changes = changes
        .iter()
        .map(|item| (item.mass_kg * doubt * (item.at.z_m - centre_m)).powi(2));
    Ok((of_truck + of_changes.sum::<f64>()).sqrt() / total_kg)
}
