//! The heights and turns at which a search looks.

use super::scene::Scene;
use crate::plane::Span;

/// Heights and turns, each in rising order, in millimetres and radians.
#[derive(Clone, Debug)]
pub(super) struct Lines {
    pub(super) ups: Vec<f64>,
    pub(super) turns: Vec<f64>,
}

impl Lines {
    /// Heights `step` apart and turns by which no point moves farther than that; besides them the start, the goal,
    /// the level, and the middle of every slot that is narrow for a level part.
    pub(super) fn of(scene: &Scene, step: f64) -> Self {
        let turn_step = step / scene.radius.max(step);
        let mut ups = even(scene.up, step);
        ups.extend([scene.start.at[1], scene.goal.at[1]]);
        ups.extend(slots(scene, step));
        let mut turns = even(scene.turn, turn_step);
        turns.extend([scene.start.turn, scene.goal.turn, 0.0]);
        Self {
            ups: in_order(ups, scene.up),
            turns: in_order(turns, scene.turn),
        }
    }

    /// The line at, or nearest to, a value.
    pub(super) fn nearest(lines: &[f64], value: f64) -> usize {
        let after = lines.partition_point(|&line| line < value).min(lines.len() - 1);
        if after > 0 && value - lines[after - 1] < (lines[after] - value).abs() {
            after - 1
        } else {
            after
        }
    }

    /// The stretches between neighbouring lines; the line itself when there is one only.
    pub(super) fn between(lines: &[f64]) -> Vec<Span> {
        match lines {
            [only] => vec![[*only, *only]],
            _ => lines.windows(2).map(|pair| [pair[0], pair[1]]).collect(),
        }
    }
}

/// Lines that share a span evenly, at most `step` apart, both ends among them.
fn even([low, high]: Span, step: f64) -> Vec<f64> {
    let mut lines = vec![low];
    let steps = ((high - low) / step).ceil();
    let mut done = 1.0;
    while done < steps {
        lines.push(low + (high - low) * done / steps);
        done += 1.0;
    }
    lines.push(high);
    lines
}

/// Middles of the slots, between the top of one obstacle and the underside of another, that a level part fills but for
/// less than two steps: a line could miss them.
fn slots(scene: &Scene, step: f64) -> Vec<f64> {
    let mut middles = Vec::new();
    for below in &scene.pairs {
        for above in scene.pairs.iter().filter(|above| above.part == below.part) {
            let part = scene.parts[below.part].up;
            let (floor, ceiling) = (
                scene.obstacles[below.obstacle].up[1],
                scene.obstacles[above.obstacle].up[0],
            );
            let room = (ceiling - floor) - (part[1] - part[0]);
            if (0.0..2.0 * step).contains(&room) {
                middles.push(f64::midpoint(floor - part[0], ceiling - part[1]));
            }
        }
    }
    middles
}

fn in_order(mut lines: Vec<f64>, within: Span) -> Vec<f64> {
    lines.retain(|&line| within[0] <= line && line <= within[1]);
    lines.sort_unstable_by(f64::total_cmp);
    lines.dedup();
    lines
}
