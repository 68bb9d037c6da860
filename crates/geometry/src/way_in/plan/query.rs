//! What is asked of the planner.

use tape::Length;

use crate::{Axis, Cuboid};

/// The plane in which a thing moves and turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Plane {
    /// Seen from the side: x and z; a turn is a pitch, positive when the rear end rises.
    Side,
    /// Seen from the rear: y and z; a turn is a roll, positive when the right side rises.
    Across,
}

impl Plane {
    /// The axis along, and up.
    pub const fn axes(self) -> [Axis; 2] {
        match self {
            Self::Side => [Axis::X, Axis::Z],
            Self::Across => [Axis::Y, Axis::Z],
        }
    }

    /// The axis square to the plane: along it nothing moves.
    pub const fn across(self) -> Axis {
        match self {
            Self::Side => Axis::Y,
            Self::Across => Axis::X,
        }
    }
}

/// Where the pivot is and how the thing is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// The pivot along the first axis of the plane.
    pub along: Length,
    /// The pivot's height.
    pub up: Length,
    /// The turn from level, in degrees; positive lifts the end at the larger coordinate.
    pub turn_deg: f64,
}

/// Poses that are possible at all: what the jack, the floor and the person allow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Lowest and highest of the pivot along the first axis.
    pub along: [Length; 2],
    /// Lowest and highest of the pivot's height.
    pub up: [Length; 2],
    /// Least and greatest turn, in degrees.
    pub turn_deg: [f64; 2],
}

/// A thing to be moved in a plane past obstacles.
///
/// Obstacles that the thing passes beside, seen square to the plane, are not in the way: every part is compared only with
/// those obstacles whose reach across overlaps its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Query {
    /// The plane of the movement.
    pub plane: Plane,
    /// The solids of the moved thing, level, its body first. Where they stand in the plane does not matter, only where they are about the
    /// pivot; their place across the plane does.
    pub parts: Vec<Cuboid>,
    /// The point of the moved thing that poses tell the place of, in the frame of `parts`.
    pub pivot: [Length; 2],
    /// What is in the way.
    pub obstacles: Vec<Cuboid>,
    /// Where it starts.
    pub start: Pose,
    /// Where it is to go.
    pub goal: Pose,
    /// What poses are possible.
    pub limits: Limits,
}

/// A question that makes no sense.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum QueryError {
    /// Nothing is moved.
    #[error("the moved thing has no solids; give at least one")]
    NoParts,
    /// A part or an obstacle has no inside.
    #[error("{what} {index} has no extent along one axis; give it its thickness")]
    Flat {
        /// "part" or "obstacle".
        what: &'static str,
        /// Its index.
        index: usize,
    },
    /// A limit is the wrong way round or no number.
    #[error("limits of {field}: from {low} to {high}; the first has to be the lower{more}")]
    Limits {
        /// Which coordinate.
        field: &'static str,
        /// In millimetres or degrees.
        low: f64,
        /// In millimetres or degrees.
        high: f64,
        /// What else holds for it.
        more: &'static str,
    },
    /// An end of the way is outside the limits.
    #[error("{field} of the {end}: {given} is outside the limits {low} to {high}; widen them or move it")]
    Outside {
        /// Which coordinate.
        field: &'static str,
        /// "start" or "goal".
        end: &'static str,
        /// In millimetres or degrees.
        given: f64,
        /// In millimetres or degrees.
        low: f64,
        /// In millimetres or degrees.
        high: f64,
    },
}

impl Query {
    /// The point in the middle of the box round all of these, in the plane: the usual pivot.
    pub fn middle(parts: &[Cuboid], plane: Plane) -> [Length; 2] {
        let hull = Cuboid::hull_of(parts).unwrap_or_default();
        plane.axes().map(|axis| (hull.lo()[axis] + hull.hi()[axis]).half_down())
    }

    /// The two lower ends of the box round all parts at a pose, as (along, up), low end first: what is measured from the
    /// ground while it goes in. To the nearest nanometre.
    pub fn ends(&self, pose: &Pose) -> [[Length; 2]; 2] {
        let [first, second] = self.plane.axes();
        let hull = Cuboid::hull_of(&self.parts).unwrap_or_default();
        let turn = pose.turn_deg.to_radians();
        let (cos, sin) = (libm::cos(turn), libm::sin(turn));
        [hull.lo()[first], hull.hi()[first]].map(|end| {
            let a = (end - self.pivot[0]).as_mm();
            let u = (hull.lo()[second] - self.pivot[1]).as_mm();
            [
                pose.along + Length::from_mm(a * cos - u * sin),
                pose.up + Length::from_mm(a * sin + u * cos),
            ]
        })
    }

    /// Refuses what makes no sense.
    pub(super) fn check(&self) -> Result<(), QueryError> {
        if self.parts.is_empty() {
            return Err(QueryError::NoParts);
        }
        let flat = |solid: &Cuboid| Axis::ALL.iter().any(|&axis| solid.size()[axis] == Length::ZERO);
        for (what, solids) in [("part", &self.parts), ("obstacle", &self.obstacles)] {
            if let Some(index) = solids.iter().position(flat) {
                return Err(QueryError::Flat { what, index });
            }
        }
        let limits = &self.limits;
        let span = |[low, high]: [Length; 2]| [low.as_mm(), high.as_mm()];
        let fields = [
            ("the place along", span(limits.along), ""),
            ("the height", span(limits.up), ""),
            ("the turn", limits.turn_deg, ", both within -180 to 180 degrees"),
        ];
        for (field, [low, high], more) in fields {
            let turned_too_far = !more.is_empty() && !(-180.0..=180.0).contains(&low.abs().max(high.abs()));
            // Also true for what is no number.
            if low.partial_cmp(&high).is_none_or(std::cmp::Ordering::is_gt) || turned_too_far {
                return Err(QueryError::Limits { field, low, high, more });
            }
        }
        for (end, pose) in [("start", &self.start), ("goal", &self.goal)] {
            let given = [pose.along.as_mm(), pose.up.as_mm(), pose.turn_deg];
            for ((field, [low, high], _), given) in fields.into_iter().zip(given) {
                if !(low..=high).contains(&given) {
                    return Err(QueryError::Outside {
                        field,
                        end,
                        given,
                        low,
                        high,
                    });
                }
            }
        }
        Ok(())
    }
}
