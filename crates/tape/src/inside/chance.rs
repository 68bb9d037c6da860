//! The chance that a cuboid is inside the true walls.

use std::f64::consts::TAU;

use super::cavity::Cavity;
use super::cuts::{VERTICES, is_high};
use super::rounding::Space;
use super::shape::COORDINATES;
use crate::Length;
use crate::survey::chance::normal_below;

/// A vertex beyond a wall.
struct Crossing {
    /// The distance from the wall in standard uncertainties.
    away: f64,
    /// How likely it is.
    chance: f64,
    gradient: [f64; COORDINATES],
    /// The covariance of the distance with each coordinate, by the distance's own standard uncertainty.
    spread: [f64; COORDINATES],
    sigma: f64,
}

impl Cavity {
    /// At least how likely all of these cuboids together, where they are, are inside the true walls, for normal errors.
    ///
    /// For a body with wider bands, as a box with its flange: a cuboid for each. 1 without any.
    pub fn chance(&self, spaces: &[Space]) -> f64 {
        // A wall that the ends of a way leave inside leaves all of the way inside: only outermost vertices can cross it.
        let within = |point: [Length; 3], space: &Space| {
            (0..3).all(|axis| (space.lo[axis]..=space.hi[axis]).contains(&point[axis]))
        };
        let at_vertex = |point: [Length; 3], space: &Space| {
            (0..3).all(|axis| [space.lo[axis], space.hi[axis]].contains(&point[axis]))
        };
        let mut points: Vec<[Length; 3]> = Vec::new();
        for point in spaces.iter().flat_map(vertices_of) {
            let outermost = spaces
                .iter()
                .all(|space| !within(point, space) || at_vertex(point, space));
            if outermost && !points.contains(&point) {
                points.push(point);
            }
        }
        let scaled = points
            .iter()
            .map(|point| point.map(|length| length.as_mm() / self.scale));
        chance_inside(self, &scaled.collect::<Vec<_>>())
    }
}

fn vertices_of(space: &Space) -> [[Length; 3]; VERTICES] {
    std::array::from_fn(|vertex| {
        std::array::from_fn(|axis| {
            if is_high(vertex, axis) {
                space.hi[axis]
            } else {
                space.lo[axis]
            }
        })
    })
}

/// At least how likely all of these vertices are inside all walls, for normal errors.
///
/// At most all crossings together are as likely as their sum less what pairs of them, none in a ring, are together
/// (Hunter 1976, Worsley 1982; known by: memory). Those that go along most are paired.
pub(super) fn chance_inside(cavity: &Cavity, vertices: &[[f64; 3]]) -> f64 {
    let mut apart = crossings(cavity, vertices);
    let mut outside = 0.0;
    // The crossings not yet paired, each with the one it goes along with most of those that are, and how much.
    let mut closest: Vec<(f64, f64)> = vec![(f64::NEG_INFINITY, f64::INFINITY); apart.len()];
    while let Some(next) = (0..apart.len()).max_by(|&a, &b| closest[a].0.total_cmp(&closest[b].0)) {
        let crossing = apart.swap_remove(next);
        let (correlation, away) = closest.swap_remove(next);
        let both = both_above(crossing.away, away, correlation).min(crossing.chance);
        outside += crossing.chance - both;
        for (other, closest) in apart.iter().zip(&mut closest) {
            let covariance: f64 = other.gradient.iter().zip(&crossing.spread).map(|(g, s)| g * s).sum();
            let correlation = covariance / other.sigma;
            if correlation > closest.0 {
                *closest = (correlation, crossing.away);
            }
        }
    }
    (1.0_f64 - outside).clamp(0.0, 1.0)
}

/// The crossings that are not out of the question; a vertex beyond a wall that is known exactly is sure.
fn crossings(cavity: &Cavity, vertices: &[[f64; 3]]) -> Vec<Crossing> {
    let mut crossings = Vec::new();
    for wall in &cavity.walls {
        for vertex in vertices {
            let (distance, sigma) = (wall.distance(*vertex), wall.sigma(*vertex));
            // A float cannot tell a distance of less from none.
            let away = if sigma > NOISE {
                distance / sigma
            } else if distance < -NOISE {
                f64::NEG_INFINITY
            } else {
                f64::INFINITY
            };
            let chance = above(away);
            if chance < NEGLIGIBLE {
                continue;
            }
            let gradient = wall.gradient(*vertex);
            let covariance = |row: &[f64; COORDINATES]| row.iter().zip(&gradient).map(|(c, g)| c * g).sum::<f64>();
            crossings.push(Crossing {
                away,
                chance,
                spread: std::array::from_fn(|n| covariance(&cavity.covariance[n]) / sigma.max(NOISE)),
                gradient,
                sigma: sigma.max(NOISE),
            });
        }
    }
    crossings
}

/// A length that floats cannot tell from none, in a cavity of about one.
const NOISE: f64 = 1e-9;
/// Crossings less likely than that, a hundred of them at most, are not counted.
const NEGLIGIBLE: f64 = 1e-9;

/// How likely a standard normal number is above `x`.
pub(super) fn above(x: f64) -> f64 {
    normal_below(-x)
}

/// The largest correlation counted: a smaller one makes both less likely together, which is on the safe side.
const MOST_ALIKE: f64 = 0.999;
/// From here on two numbers are as good as one.
const ALIKE: f64 = 1.0 - 1e-9;
/// Parts of the integral below.
const PARTS: u32 = 24;

/// At least how likely two standard normal numbers of that correlation are above `a` and above `b`.
///
/// `P(a)·P(b) + 1/2π · ∫ exp(-(a² + b² - 2ab·sin t) / 2cos² t) dt` from 0 to the arc sine of the correlation (Drezner
/// and Wesolowsky 1990; known by: memory), by Simpson's rule.
fn both_above(a: f64, b: f64, correlation: f64) -> f64 {
    if correlation.is_nan() || correlation < 0.0 || a.is_infinite() || b.is_infinite() {
        return 0.0;
    }
    if correlation > ALIKE {
        return above(a.max(b));
    }
    let density = |t: f64| {
        let (sin, cos) = t.sin_cos();
        (-(a * a + b * b - 2.0 * a * b * sin) / (2.0 * cos * cos)).exp()
    };
    let part = correlation.min(MOST_ALIKE).asin() / f64::from(PARTS);
    let sum: f64 = (0..=PARTS)
        .map(|n| {
            let weight = match n {
                0 | PARTS => 1.0,
                _ if n % 2 == 1 => 4.0,
                _ => 2.0,
            };
            weight * density(f64::from(n) * part)
        })
        .sum();
    above(a) * above(b) + sum * part / 3.0 / TAU
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::middle(0.0, 0.5)]
    #[case::two_sigma(2.0, 0.022_750_131_948)]
    #[case::other_side(-1.0, 0.841_344_746_069)]
    fn normal_numbers_lie_above_as_often_as_tables_say(#[case] x: f64, #[case] chance: f64) {
        assert!((above(x) - chance).abs() < 1e-11);
    }

    /// Above the middle of both: a quarter and the arc sine of the correlation by a whole turn (Sheppard 1899).
    #[rstest]
    #[case(0.0)]
    #[case(0.3)]
    #[case(0.5)]
    #[case(0.9)]
    fn both_above_the_middle_is_known_in_closed_form(#[case] correlation: f64) {
        let known = 0.25 + correlation.asin() / TAU;
        assert!((both_above(0.0, 0.0, correlation) - known).abs() < 1e-9);
    }

    #[rstest]
    #[case(2.0, 2.0, 0.5)]
    #[case(2.0, 3.0, 0.9)]
    #[case(1.0, 2.5, 0.97)]
    #[case(2.0, 2.1, 0.999)]
    #[case(2.0, 2.02, 0.999)]
    fn both_above_agrees_with_summing_up_the_one_given_the_other(
        #[case] a: f64,
        #[case] b: f64,
        #[case] correlation: f64,
    ) {
        let rest = (1.0 - correlation * correlation).sqrt();
        let step = 1e-4;
        let slices = (0..80_000).map(|n| a + (f64::from(n) + 0.5) * step);
        let slow: f64 = slices
            .map(|x| (-x * x / 2.0).exp() / TAU.sqrt() * above((b - correlation * x) / rest) * step)
            .sum();
        assert!((both_above(a, b, correlation) - slow).abs() < 1e-3 * slow, "{slow}");
    }
}
