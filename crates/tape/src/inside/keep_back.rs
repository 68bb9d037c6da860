//! What is kept back from the walls, and the room that it leaves.

use super::cavity::Cavity;
use super::refusal::NoCuboid;
use super::wall::{Form, Wall, product, times};
use crate::Length;

/// How the uncertainties of the corners come together in the distance from a wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Corners {
    /// By their whole covariance.
    #[default]
    Together,
    /// Each corner as far off as it may be, all of them in the worst direction at once. More than is likely; depends on
    /// the datum of the covariance.
    EachAtWorst,
}

/// What is kept back from every wall.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct KeepBack {
    /// A length, zero or more.
    pub fixed: Length,
    /// How many standard uncertainties of the distance from the wall, zero or more.
    pub sigmas: f64,
    /// How the corners count in that.
    pub corners: Corners,
}

impl KeepBack {
    /// `k` standard uncertainties, by the whole covariance.
    pub const fn sigmas(k: f64) -> Self {
        Self {
            fixed: Length::ZERO,
            sigmas: k,
            corners: Corners::Together,
        }
    }

    /// A length, whatever the uncertainty.
    pub const fn fixed(length: Length) -> Self {
        Self {
            fixed: length,
            sigmas: 0.0,
            corners: Corners::Together,
        }
    }
}

/// A wall and what is kept back from it, in the units of the cavity.
pub(super) struct Guard<'a> {
    pub(super) wall: &'a Wall,
    fixed: f64,
    sigmas: f64,
    /// Covariances by the way; their standard uncertainties add up.
    forms: Vec<Form>,
}

/// What is left of the distance to a wall, and how it changes with the point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub(super) value: f64,
    pub(super) slope: [f64; 3],
}

impl Guard<'_> {
    /// The room at a point. It is concave: the tangent nowhere gives less than the room itself.
    pub(super) fn room(&self, point: [f64; 3]) -> Room {
        let way = self.wall.way(point);
        let mut room = Room {
            value: self.wall.distance(point) - self.fixed,
            slope: self.wall.normal,
        };
        for form in &self.forms {
            let spread = times(form, &way);
            let sigma = product(&spread, &way).max(0.0).sqrt();
            // At the tip of a cone every slope is as good as zero.
            if sigma > 0.0 {
                room.value -= self.sigmas * sigma;
                for axis in 0..3 {
                    room.slope[axis] -= self.sigmas * spread[axis + 1] / sigma;
                }
            }
        }
        room
    }
}

/// The walls of a cavity with what is kept back from each.
///
/// # Errors
///
/// [`NoCuboid::NotKeptBack`].
pub(super) fn guards_of(cavity: &Cavity, keep: KeepBack) -> Result<Vec<Guard<'_>>, NoCuboid> {
    if keep.fixed.is_negative() || !is_kept_back(keep.sigmas) {
        return Err(NoCuboid::NotKeptBack);
    }
    let guards = cavity.walls.iter().map(|wall| Guard {
        wall,
        fixed: keep.fixed.as_mm() / cavity.scale,
        sigmas: keep.sigmas,
        forms: if keep.sigmas > 0.0 && cavity.uncertain {
            forms(cavity, wall, keep.corners)
        } else {
            Vec::new()
        },
    });
    Ok(guards.collect())
}

/// Whether so many sigmas can be kept back.
pub(super) fn is_kept_back(sigmas: f64) -> bool {
    sigmas.is_finite() && sigmas >= 0.0
}

fn forms(cavity: &Cavity, wall: &Wall, corners: Corners) -> Vec<Form> {
    let of_corner = |n: usize| wall.form(&cavity.covariance, 3 * n..3 * n + 3);
    match corners {
        Corners::Together => vec![wall.covariance],
        Corners::EachAtWorst => (0..8).map(of_corner).collect(),
    }
}
