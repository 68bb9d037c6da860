//! Rectangles in the plane of the movement, and how far a turning one reaches.

use std::f64::consts::{FRAC_PI_2, PI};

use libm::{atan2, cos, hypot, remainder, sin};

/// From low to high, in millimetres.
pub(crate) type Span = [f64; 2];

/// A rectangle square to the frame: its reach along the first axis and upward, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rect {
    pub(crate) along: Span,
    pub(crate) up: Span,
}

impl Rect {
    pub(crate) fn corners(&self) -> [[f64; 2]; 4] {
        let ([a, b], [c, d]) = (self.along, self.up);
        [[a, c], [b, c], [b, d], [a, d]]
    }

    /// Each side moved outward by `by`; inward where negative, to the middle at most.
    pub(crate) fn grown(&self, by: f64) -> Self {
        let grow = |[low, high]: Span| {
            let by = by.max((low - high) / 2.0);
            [low - by, high + by]
        };
        Self {
            along: grow(self.along),
            up: grow(self.up),
        }
    }

    /// The farthest corner from the origin.
    pub(crate) fn radius(&self) -> f64 {
        self.corners().iter().map(|&[a, u]| hypot(a, u)).fold(0.0, f64::max)
    }

    /// What of the rectangle lies within it however it turns by up to `by` radians either way about the origin: a
    /// smaller rectangle, `None` when that has no inside.
    pub(crate) fn kept_within(&self, by: f64) -> Option<Self> {
        let far = |[low, high]: Span| low.abs().max(high.abs());
        let (along, up) = (far(self.along), far(self.up));
        // A point (a, u) turns to (a cos - u sin, a sin + u cos): no coordinate changes by more than this.
        let (sine, less) = (sin(by), 1.0 - cos(by));
        let (in_along, in_up) = (up * sine + along * less, along * sine + up * less);
        let smaller = Self {
            along: [self.along[0] + in_along, self.along[1] - in_along],
            up: [self.up[0] + in_up, self.up[1] - in_up],
        };
        (smaller.along[0] < smaller.along[1] && smaller.up[0] < smaller.up[1]).then_some(smaller)
    }
}

/// How far a rectangle turned about the origin reaches along the axes of the frame and along its own edges.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turned {
    pub(crate) cos: f64,
    pub(crate) sin: f64,
    pub(crate) along: Span,
    pub(crate) up: Span,
    /// Along its own two edge directions, (cos, sin) and (-sin, cos).
    pub(crate) own: [Span; 2],
}

impl Turned {
    /// Turned by `turn` radians exactly.
    pub(crate) fn by(rect: &Rect, turn: f64) -> Self {
        let (cos, sin) = (cos(turn), sin(turn));
        let at = rect.corners().map(|[a, u]| [a * cos - u * sin, a * sin + u * cos]);
        let reach = |k: usize| {
            at.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| {
                [low.min(p[k]), high.max(p[k])]
            })
        };
        Self {
            cos,
            sin,
            along: reach(0),
            up: reach(1),
            own: [rect.along, rect.up],
        }
    }

    /// The farthest it reaches in these eight directions at any turn within `by` of `turn`: a convex shape round all
    /// of them.
    pub(crate) fn about(rect: &Rect, turn: f64, by: f64) -> Self {
        let polar = rect.corners().map(|[a, u]| (hypot(a, u), atan2(u, a) + turn));
        let farthest = |direction: f64| {
            polar
                .iter()
                .map(|&(radius, angle)| {
                    let off = remainder(angle - direction, 2.0 * PI).abs();
                    radius * cos((off - by).max(0.0))
                })
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let reach = |direction: f64| [-farthest(direction + PI), farthest(direction)];
        Self {
            cos: cos(turn),
            sin: sin(turn),
            along: reach(0.0),
            up: reach(FRAC_PI_2),
            own: [reach(turn), reach(turn + FRAC_PI_2)],
        }
    }
}
