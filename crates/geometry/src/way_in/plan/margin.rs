//! How much room a way leaves.

use libm::hypot;
use tape::Length;

use super::Margin;
use super::scene::{Place, Scene};
use crate::plane::{Rect, distance};

/// What a margin may be told too small by, in millimetres.
const WITHIN: f64 = 0.05;

/// For each obstacle that can be met, the least distance to it and where; least first.
pub(super) fn margins(scene: &Scene, places: &[Place]) -> Vec<Margin> {
    let mut found: Vec<Margin> = (0..scene.obstacles.len())
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
    found.sort_by_key(|margin| (margin.distance, margin.obstacle));
    found
}

/// The least distance of some parts to one obstacle along a way, at most `WITHIN` too large.
fn least(scene: &Scene, parts: &[&Rect], obstacle: &Rect, places: &[Place]) -> Option<(f64, Place)> {
    let apart = |place: &Place| {
        let each = parts.iter().map(|part| distance(part, place.at, place.turn, obstacle));
        each.fold(f64::INFINITY, f64::min)
    };
    let mut best: Option<(f64, Place)> = None;
    let mut look = |place: Place| {
        let found = apart(&place);
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
