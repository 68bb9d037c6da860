//! How much room a way leaves.

use libm::{hypot, sqrt};
use tape::Length;

use super::Margin;
use super::scene::{Place, Scene};
use super::shape::Rect;

/// What a margin may be told too small by, in millimetres.
const WITHIN: f64 = 0.05;

/// The least distances along a way.
pub(super) struct Margins;

impl Margins {
    /// For each obstacle that can be met, the least distance to it and where; least first.
    pub(super) fn along(scene: &Scene, places: &[Place]) -> Vec<Margin> {
        let mut margins: Vec<Margin> = (0..scene.obstacles.len())
            .filter_map(|obstacle| {
                let parts: Vec<&Rect> = scene
                    .pairs
                    .iter()
                    .filter(|pair| pair.obstacle == obstacle)
                    .map(|pair| &scene.parts[pair.part])
                    .collect();
                let (distance, at) = least(scene, &parts, &scene.obstacles[obstacle], places)?;
                Some(Margin {
                    obstacle,
                    distance: Length::from_mm_down((distance - WITHIN).max(0.0)),
                    at: at.pose(),
                })
            })
            .collect();
        margins.sort_by_key(|margin| (margin.distance, margin.obstacle));
        margins
    }
}

/// The least distance of some parts to one obstacle along a way, at most `WITHIN` too large.
fn least(scene: &Scene, parts: &[&Rect], obstacle: &Rect, places: &[Place]) -> Option<(f64, Place)> {
    let distance = |place: &Place| {
        let each = parts.iter().map(|part| distance(part, place, obstacle));
        each.fold(f64::INFINITY, f64::min)
    };
    let mut best: Option<(f64, Place)> = None;
    let mut look = |place: Place| {
        let found = distance(&place);
        if found.is_finite() && best.is_none_or(|(least, _)| found < least) {
            best = Some((found, place));
        }
        (found, best.map_or(f64::INFINITY, |(least, _)| least))
    };
    for &place in places {
        look(place);
    }
    let mut steps: Vec<(Place, Place)> = places.windows(2).map(|pair| (pair[0], pair[1])).collect();
    while let Some((from, to)) = steps.pop() {
        // No point moves farther from the middle of the step than this.
        let moved = hypot(to.at[0] - from.at[0], to.at[1] - from.at[1]) + scene.radius * (to.turn - from.turn).abs();
        let middle = from.towards(&to, 0.5);
        let (found, least) = look(middle);
        if found - moved / 2.0 < least - WITHIN {
            steps.extend([(from, middle), (middle, to)]);
        }
    }
    best
}

/// The distance of a part at a place from an obstacle; zero when they overlap.
///
/// Two convex shapes that are apart are nearest at a corner of one of them.
fn distance(part: &Rect, place: &Place, obstacle: &Rect) -> f64 {
    let (cos, sin) = (libm::cos(place.turn), libm::sin(place.turn));
    let corner = part.corners().map(|[a, u]| {
        let at = [place.at[0] + a * cos - u * sin, place.at[1] + a * sin + u * cos];
        to_rect(at, obstacle)
    });
    let back = obstacle.corners().map(|[x, z]| {
        let (dx, dz) = (x - place.at[0], z - place.at[1]);
        to_rect([dx * cos + dz * sin, dz * cos - dx * sin], part)
    });
    let least = corner.into_iter().chain(back).fold(f64::INFINITY, f64::min);
    let turned = super::shape::Turned::by(part, place.turn);
    if super::octagon::Octagon::of(&turned, obstacle).depth(place.at) > 0.0 {
        0.0
    } else {
        sqrt(least)
    }
}

/// The distance of a point from a rectangle, squared.
fn to_rect(at: [f64; 2], rect: &Rect) -> f64 {
    let off = |value: f64, [low, high]: [f64; 2]| (low - value).max(value - high).max(0.0);
    let (a, u) = (off(at[0], rect.along), off(at[1], rect.up));
    a * a + u * u
}
