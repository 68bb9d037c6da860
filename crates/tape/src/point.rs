//! A point in a cavity, placed by its distances from corners: a bolt head, the end of a pipe.
//!
//! Weighted least squares over the readings, the corners where the survey has them. The covariance of the place is that of
//! the readings and of the corners together: with `G` how the place follows the readings, and `U` how the distances follow
//! the corners, `G (S + U C U') G'` (GUM, JCGM 100:2008, 5.2.2; known by: memory). Each reading is put to the test that a
//! survey puts its own to ([`SUSPECT`]).
//!
//! Distances from corners in one plane, and any three are, cannot tell on which side of it the point lies: it is the side
//! inside of the cavity, and where both are inside, or the point lies about in the plane, one more corner has to tell.

mod distances;
#[cfg(test)]
mod tests;

use nalgebra::Vector3;

use crate::Length;
use crate::inside::Cavity;
use crate::survey::Corner;
use crate::survey::chance::SUSPECT;
use distances::{Distances, Fitted};

/// A reading from a corner to the point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FromCorner {
    /// The corner.
    pub corner: Corner,
    /// What the tape showed.
    pub value: Length,
    /// Its standard uncertainty.
    pub sigma: Length,
}

/// A point and how well its place is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Located {
    /// Where it is, in mm, in the axes of the cavity.
    pub place: [f64; 3],
    /// The covariance of that in mm², of readings and corners together. The axes are those that the survey's errors have
    /// moved, and the place is held as a cuboid is ([`Hold`](crate::inside::Hold)).
    pub covariance: [[f64; 3]; 3],
}

/// Returns where each corner of a cavity is, in the order of [`Corner::ALL`].
///
/// What places are held by is known exactly: with [`Hold::Corner`](crate::inside::Hold::Corner) the corner at the origin
/// of the axes.
pub fn corners(cavity: &Cavity) -> [Located; 8] {
    let covariance = cavity.corner_covariance();
    let places = cavity.corners();
    std::array::from_fn(|n| Located {
        place: places[n],
        covariance: std::array::from_fn(|i| std::array::from_fn(|j| covariance[3 * n + i][3 * n + j])),
    })
}

/// Why a point has no place.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoPoint {
    /// Readings from fewer than three corners.
    #[error("a point takes readings from three corners, these are from {corners}; tape it from another corner")]
    TooFew {
        /// From how many.
        corners: usize,
    },
    /// A reading makes no sense by itself.
    #[error("the reading from {corner} has to be above zero, and its uncertainty too")]
    Senseless {
        /// Which reading, from 0.
        reading: usize,
        /// From which corner.
        corner: Corner,
    },
    /// All corners are in one line.
    #[error("the corners are in one line; tape the point from one beside it")]
    InALine,
    /// No place has all of these distances, whatever noise there is.
    #[error(
        "the readings do not meet in a point: the one from {corner} is {off_mm:.0} mm off at least; tape them again, \
         that one first"
    )]
    DoNotMeet {
        /// The reading that disagrees most, from 0.
        reading: usize,
        /// From which corner.
        corner: Corner,
        /// How far it is from the place that comes nearest to all.
        off_mm: f64,
    },
    /// The point lies about in the plane of the corners.
    #[error("the point lies about in the plane of the corners it is taped from; tape it from a corner off that plane")]
    InTheirPlane,
    /// Two places fit, and both are inside.
    #[error("two places in the cavity fit these readings; tape the point from a corner nearer to it or farther off")]
    EitherSide,
}

/// Returns where a point is, from its distances to three or more corners.
///
/// # Errors
///
/// [`NoPoint`].
pub fn locate(cavity: &Cavity, readings: &[FromCorner]) -> Result<Located, NoPoint> {
    let sensible = |reading: &FromCorner| reading.value > Length::ZERO && reading.sigma > Length::ZERO;
    if let Some(reading) = readings.iter().position(|reading| !sensible(reading)) {
        let corner = readings[reading].corner;
        return Err(NoPoint::Senseless { reading, corner });
    }
    let corners = Corner::ALL
        .iter()
        .filter(|&corner| readings.iter().any(|reading| reading.corner == *corner))
        .count();
    if corners < 3 {
        return Err(NoPoint::TooFew { corners });
    }
    let distances = Distances::new(cavity, readings);
    let normal = distances.normal().ok_or(NoPoint::InALine)?;
    let [one, other] = both_sides(cavity, &distances, normal);
    let place = match [&one, &other].map(|fitted| fitted.worst().1 <= SUSPECT) {
        [true, true] => inner(cavity, one, other)?,
        [true, false] => one,
        [false, true] => other,
        [false, false] => {
            let nearest = if one.squares() <= other.squares() { one } else { other };
            let (reading, _) = nearest.worst();
            return Err(NoPoint::DoNotMeet {
                reading,
                corner: readings[reading].corner,
                off_mm: nearest.off_mm(&distances, reading),
            });
        }
    };
    if place.flat {
        return Err(NoPoint::InTheirPlane);
    }
    Ok(Located {
        place: place.at.into(),
        covariance: std::array::from_fn(|i| std::array::from_fn(|j| place.covariance[(i, j)])),
    })
}

/// The places that fit best on either side of the plane that the corners lie about in; the same one where they do not.
fn both_sides(cavity: &Cavity, distances: &Distances, normal: Vector3<f64>) -> [Fitted; 2] {
    let corners = cavity.corners().map(Vector3::from);
    let middle = corners.iter().sum::<Vector3<f64>>() / 8.0;
    // Distances from a few corners can fit fairly well in two places; from halfway to each corner the best one is found.
    let starts = corners.iter().map(|corner| (corner + middle) / 2.0);
    let found = starts.filter_map(|start| distances.sought(start));
    let best = found.min_by(|(_, a), (_, b)| a.total_cmp(b));
    // Where nothing settles nothing meets, and the middle shows it as well as any place.
    let one = best.map_or(middle, |(place, _)| place);
    let across = (one - distances.middle()).dot(&normal);
    let mirrored = one - normal * (2.0 * across);
    let other = distances.sought(mirrored).map_or(one, |(place, _)| place);
    [one, other].map(|place| distances.fitted(place))
}

/// So many of its sigmas tell a place from another.
const APART: f64 = 3.0;

/// Of two places that fit, the one inside.
fn inner(cavity: &Cavity, one: Fitted, other: Fitted) -> Result<Fitted, NoPoint> {
    let way = other.at - one.at;
    let apart = way.norm();
    if apart <= 1e-6 * one.at.norm().max(1.0) {
        return Ok(one);
    }
    let sigma = (way.dot(&(one.covariance * way)) / (apart * apart)).max(0.0).sqrt();
    if one.flat || apart / 2.0 < APART * sigma {
        return Err(NoPoint::InTheirPlane);
    }
    let [depth, other_depth] = [&one, &other].map(|fitted| cavity.depth(fitted.at.into()));
    if depth.min(other_depth) > -APART * sigma {
        return Err(NoPoint::EitherSide);
    }
    Ok(if depth >= other_depth { one } else { other })
}
