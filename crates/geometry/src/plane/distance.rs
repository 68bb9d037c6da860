//! How far two rectangles are apart, one of them turned.

use libm::sqrt;

use super::{Octagon, Rect, Turned};

/// The distance of a rectangle, turned by `turn` radians about its origin and moved to `at`, from one that is square to
/// the frame; zero when they overlap.
///
/// Two convex shapes that are apart are nearest at a corner of one of them.
pub(crate) fn distance(moved: &Rect, at: [f64; 2], turn: f64, fixed: &Rect) -> f64 {
    let turned = Turned::by(moved, turn);
    if Octagon::of(&turned, fixed).depth(at) > 0.0 {
        return 0.0;
    }
    let (cos, sin) = (turned.cos, turned.sin);
    let corner = moved.corners().map(|[a, u]| {
        let corner = [at[0] + a * cos - u * sin, at[1] + a * sin + u * cos];
        squared(corner, fixed)
    });
    let back = fixed.corners().map(|[a, u]| {
        let (a, u) = (a - at[0], u - at[1]);
        squared([a * cos + u * sin, u * cos - a * sin], moved)
    });
    sqrt(corner.into_iter().chain(back).fold(f64::INFINITY, f64::min))
}

/// The distance of a point from a rectangle, squared.
fn squared(at: [f64; 2], rect: &Rect) -> f64 {
    let off = |value: f64, [low, high]: [f64; 2]| (low - value).max(value - high).max(0.0);
    let (a, u) = (off(at[0], rect.along), off(at[1], rect.up));
    a * a + u * u
}
