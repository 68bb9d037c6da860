//! A way of a few key poses.

use super::scene::{Place, Scene};
use crate::plane::Octagon;

/// A step is halved at most this often while it is proved free.
const DEEPEST: u32 = 9;

/// The way with the poses left out that a straight step, proved free, can do without.
pub(super) fn shortened(scene: &Scene, places: &[Place]) -> Vec<Place> {
    let joined = joined(places);
    let mut kept = Vec::new();
    let mut here = 0;
    while here < joined.len() {
        kept.push(joined[here]);
        if here + 1 >= joined.len() {
            break;
        }
        // The next one is always reached: that step is of the way itself.
        let mut next = here + 1;
        let mut farthest = joined.len() - 1;
        while farthest > next {
            if free(scene, &joined[here], &joined[farthest]) {
                next = farthest;
            } else {
                farthest -= ((farthest - next) / 4).max(1);
            }
        }
        here = next;
    }
    kept
}

/// Steps in one direction made one: only straight up and down, only along, or only turning, as the way goes.
fn joined(places: &[Place]) -> Vec<Place> {
    let mut joined: Vec<Place> = Vec::new();
    for &place in places {
        if let [.., before, last] = joined[..]
            && way(&before, &last) == way(&last, &place)
        {
            joined.pop();
        }
        joined.push(place);
    }
    joined
}

/// The signs of what changes.
fn way(from: &Place, to: &Place) -> [i8; 3] {
    let sign = |a: f64, b: f64| i8::from(b > a) - i8::from(b < a);
    [
        sign(from.at[0], to.at[0]),
        sign(from.at[1], to.at[1]),
        sign(from.turn, to.turn),
    ]
}

/// Whether a straight, evenly turning step is proved free.
pub(super) fn free(scene: &Scene, from: &Place, to: &Place) -> bool {
    let all: Vec<usize> = (0..scene.pairs.len()).collect();
    clear(scene, from, to, &all, DEEPEST)
}

fn clear(scene: &Scene, from: &Place, to: &Place, pairs: &[usize], deeper: u32) -> bool {
    // Shapes that hold each part at every turn of the step: when the pivot keeps clear of these, the part does.
    let reach = scene.reach([from.turn, to.turn]);
    let obstacle = |pair: usize| &scene.obstacles[scene.pairs[pair].obstacle];
    let near: Vec<usize> = pairs
        .iter()
        .copied()
        .filter(|&pair| Octagon::of(&reach[scene.pairs[pair].part], obstacle(pair)).crossed_by(from.at, to.at))
        .collect();
    if near.is_empty() {
        return true;
    }
    let middle = from.towards(to, 0.5);
    let turned = scene.turned(middle.turn);
    let hit = near
        .iter()
        .any(|&pair| Octagon::of(&turned[scene.pairs[pair].part], obstacle(pair)).depth(middle.at) > 0.0);
    !hit && deeper > 0 && clear(scene, from, &middle, &near, deeper - 1) && clear(scene, &middle, to, &near, deeper - 1)
}
