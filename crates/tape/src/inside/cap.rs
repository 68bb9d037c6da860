//! Readings between the corners, where a wall may bulge.

use super::keep_back::is_kept_back;
use super::refusal::NoCuboid;
use super::rounding::{self, Space};
use crate::Length;

/// A reading taken straight across the cavity, between its corners: the corners say nothing of beads, bolt heads or a
/// bowed rail there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Cap {
    /// Along which axis: 0 for x, 1 for y, 2 for z.
    pub axis: usize,
    /// What the tape showed at the narrowest place.
    pub value: Length,
    /// Its standard uncertainty, zero or more.
    pub sigma: Length,
}

/// Makes a space no longer along each axis than the smallest of its caps, less `sigmas` of the cap's own sigma; never
/// longer than it is.
///
/// It shrinks at both ends alike, since nobody knows which wall bulges: its size goes in, its place is only for sure when
/// what stands in it may still be moved along that axis. Rounded inward; nothing is left of a side that a cap takes whole.
///
/// # Errors
///
/// [`NoCuboid::NotKeptBack`] when `sigmas` or a sigma is below zero or no number.
pub fn capped(space: &Space, caps: &[Cap], sigmas: f64) -> Result<Space, NoCuboid> {
    if !is_kept_back(sigmas) || caps.iter().any(|cap| cap.sigma.is_negative()) {
        return Err(NoCuboid::NotKeptBack);
    }
    let mut left = *space;
    for axis in 0..3 {
        let along = caps.iter().filter(|cap| cap.axis == axis);
        let most = along.map(|cap| cap.value - rounding::uncertainty(sigmas * cap.sigma.as_mm()));
        let Some(most) = most.min() else { continue };
        let size = space.size()[axis];
        // Half of what is below zero is rounded away from it: an odd nanometre goes off at both ends.
        let half = -(most.max(Length::ZERO) - size).min(Length::ZERO).half_down();
        left.lo[axis] += half;
        left.hi[axis] = (left.hi[axis] - half).max(left.lo[axis]);
    }
    Ok(left)
}
