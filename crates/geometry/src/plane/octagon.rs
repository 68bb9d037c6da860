//! Where the pivot of a moved rectangle may not be because of one obstacle: an octagon.
//!
//! Two convex shapes overlap when no line parts them, and for rectangles only lines along the edges of either need
//! looking at (separating axis theorem). Each of the four directions gives a band in which the pivot must not be: what
//! all four bands share is the octagon.

use super::{Rect, Span, Turned};

/// Lines flatter than this are the same as the upper and lower side.
const FLAT: f64 = 1e-12;

/// A straight side: `at + slope * z` along the first axis.
#[derive(Clone, Copy, Debug)]
struct Side {
    at: f64,
    slope: f64,
}

impl Side {
    fn along(&self, up: f64) -> f64 {
        self.at + self.slope * up
    }

    fn meets(&self, other: &Self) -> f64 {
        (other.at - self.at) / (self.slope - other.slope)
    }
}

/// The set of pivots at which two rectangles overlap, at one turn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Octagon {
    /// Its reach upward.
    pub(crate) up: Span,
    low: [Side; 3],
    high: [Side; 3],
    /// Heights at which it reaches farthest to the low and the high side.
    farthest: Span,
}

impl Octagon {
    pub(crate) fn of(moved: &Turned, obstacle: &Rect) -> Self {
        let (c, s) = (moved.cos, moved.sin);
        let up = [obstacle.up[0] - moved.up[1], obstacle.up[1] - moved.up[0]];
        let flat = |at| Side { at, slope: 0.0 };
        let mut low = [
            flat(obstacle.along[0] - moved.along[1]),
            flat(f64::NEG_INFINITY),
            flat(f64::NEG_INFINITY),
        ];
        let mut high = [
            flat(obstacle.along[1] - moved.along[0]),
            flat(f64::INFINITY),
            flat(f64::INFINITY),
        ];
        for (k, (normal, own)) in [([c, s], moved.own[0]), ([-s, c], moved.own[1])]
            .into_iter()
            .enumerate()
        {
            let [a, u] = normal;
            if a.abs() < FLAT {
                continue;
            }
            let reach = obstacle.corners().map(|p| a * p[0] + u * p[1]);
            let least = reach.iter().copied().fold(f64::INFINITY, f64::min) - own[1];
            let most = reach.iter().copied().fold(f64::NEG_INFINITY, f64::max) - own[0];
            // a along + u z is between least and most.
            let side = |limit: f64| Side {
                at: limit / a,
                slope: -u / a,
            };
            let (left, right) = if a > 0.0 { (least, most) } else { (most, least) };
            low[k + 1] = side(left);
            high[k + 1] = side(right);
        }
        let mut octagon = Self {
            up,
            low,
            high,
            farthest: up,
        };
        octagon.farthest = octagon.farthest();
        octagon
    }

    /// Heights of the farthest corners: the low sides form a convex line, so its least is at an end or where two meet.
    fn farthest(&self) -> Span {
        let mut best = [self.up[0]; 2];
        let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
        let pairs = [(0, 1), (0, 2), (1, 2)];
        let meets = |sides: &[Side; 3]| pairs.map(|(i, j)| sides[i].meets(&sides[j]));
        for up in self.up.into_iter().chain(meets(&self.low)).chain(meets(&self.high)) {
            // Also false for what never meets.
            if !(self.up[0] <= up && up <= self.up[1]) {
                continue;
            }
            let [low, high] = self.sides_at(up);
            if low < reach[0] {
                (reach[0], best[0]) = (low, up);
            }
            if high > reach[1] {
                (reach[1], best[1]) = (high, up);
            }
        }
        best
    }

    /// Where the low and the high sides are at a height, whether or not it is within the octagon.
    fn sides_at(&self, up: f64) -> Span {
        let low = self
            .low
            .iter()
            .map(|side| side.along(up))
            .fold(f64::NEG_INFINITY, f64::max);
        let high = self
            .high
            .iter()
            .map(|side| side.along(up))
            .fold(f64::INFINITY, f64::min);
        [low, high]
    }

    /// What is in it at one height; may be inside out where nothing is.
    pub(crate) fn at(&self, up: f64) -> Span {
        self.sides_at(up)
    }

    /// What is in it at any height between two that both reach into it or past it.
    pub(crate) fn anywhere(&self, between: Span) -> Span {
        let clip = |up: f64| up.max(between[0]).min(between[1]).max(self.up[0]).min(self.up[1]);
        [
            self.sides_at(clip(self.farthest[0]))[0],
            self.sides_at(clip(self.farthest[1]))[1],
        ]
    }

    /// What is in it at every height between two, both within its reach: the octagon being convex, what is in it at
    /// both.
    pub(crate) fn throughout(&self, between: Span) -> Span {
        let ([a, b], [c, d]) = (self.sides_at(between[0]), self.sides_at(between[1]));
        [a.max(c), b.min(d)]
    }

    /// Whether a straight step of the pivot goes through its inside.
    pub(crate) fn crossed_by(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        // A step on the spot has no stretch that could be left over.
        let on_the_spot = from.iter().zip(&to).all(|(a, b)| (a - b).abs() <= 0.0);
        let mut share = [0.0_f64, 1.0_f64];
        // Keeps the share of the step on which `value`, which goes evenly from one figure to another, is above zero.
        let mut keep = |start: f64, end: f64| {
            if start.is_infinite() {
                return start > 0.0;
            }
            if start <= 0.0 && end <= 0.0 {
                return false;
            }
            let zero = start / (start - end);
            if start < 0.0 {
                share[0] = share[0].max(zero);
            } else if end < 0.0 {
                share[1] = share[1].min(zero);
            }
            share[0] < share[1] || on_the_spot
        };
        let up = keep(from[1] - self.up[0], to[1] - self.up[0]) && keep(self.up[1] - from[1], self.up[1] - to[1]);
        up && self
            .low
            .iter()
            .all(|side| keep(from[0] - side.along(from[1]), to[0] - side.along(to[1])))
            && self
                .high
                .iter()
                .all(|side| keep(side.along(from[1]) - from[0], side.along(to[1]) - to[0]))
    }

    /// How far the pivot at a place is inside: the shortest straight step out of it; zero or less when it is not
    /// inside.
    pub(crate) fn depth(&self, [along, up]: [f64; 2]) -> f64 {
        let square = |side: &Side| (1.0 + side.slope * side.slope).sqrt();
        let low = self.low.iter().map(|side| (along - side.along(up)) / square(side));
        let high = self.high.iter().map(|side| (side.along(up) - along) / square(side));
        low.chain(high)
            .chain([up - self.up[0], self.up[1] - up])
            .fold(f64::INFINITY, f64::min)
    }
}
