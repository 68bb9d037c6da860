//! A question made ready: rectangles about the pivot, and which of them can meet.

use tape::Length;

use super::{Pose, Query};
use crate::Cuboid;
use crate::plane::Octagon;
use crate::plane::{Rect, Span, Turned};

/// Overlaps less deep than this are touching, in millimetres: ten nanometres, far more than floats are wrong by.
pub(super) const TOUCH: f64 = 1e-5;

/// A pose in millimetres and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) at: [f64; 2],
    pub(super) turn: f64,
}

/// One part that can meet one obstacle: their reaches across the plane overlap.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub(super) part: usize,
    pub(super) obstacle: usize,
}

/// A question in millimetres and radians.
#[derive(Clone, Debug)]
pub(super) struct Scene {
    /// The parts as they stand, about the pivot.
    pub(super) parts: Vec<Rect>,
    pub(super) obstacles: Vec<Rect>,
    pub(super) pairs: Vec<Pair>,
    pub(super) start: Place,
    pub(super) goal: Place,
    pub(super) along: Span,
    pub(super) up: Span,
    pub(super) turn: Span,
    /// The farthest corner from the pivot.
    pub(super) radius: f64,
}

impl Scene {
    pub(super) fn of(query: &Query) -> Self {
        let [first, second] = query.plane.axes();
        let pivot = query.pivot.map(Length::as_mm);
        let rect = |cuboid: &Cuboid, about: [f64; 2]| {
            let reach = |axis, about| [cuboid.lo()[axis].as_mm() - about, cuboid.hi()[axis].as_mm() - about];
            Rect {
                along: reach(first, about[0]),
                up: reach(second, about[1]),
            }
        };
        let parts: Vec<Rect> = query.parts.iter().map(|part| rect(part, pivot)).collect();
        let obstacles = query
            .obstacles
            .iter()
            .map(|o| rect(o, [0.0; 2]).grown(-TOUCH))
            .collect();
        let across = query.plane.across();
        let mut pairs = Vec::new();
        for (part, solid) in query.parts.iter().enumerate() {
            for (obstacle, other) in query.obstacles.iter().enumerate() {
                if solid.gap_along(other, across).is_negative() {
                    pairs.push(Pair { part, obstacle });
                }
            }
        }
        let span = |[low, high]: [Length; 2]| [low.as_mm(), high.as_mm()];
        let limits = &query.limits;
        Self {
            radius: parts.iter().map(Rect::radius).fold(0.0, f64::max),
            parts,
            obstacles,
            pairs,
            start: Place::of(&query.start),
            goal: Place::of(&query.goal),
            along: span(limits.along),
            up: span(limits.up),
            turn: limits.turn_deg.map(f64::to_radians),
        }
    }

    /// Each part turned by `turn`.
    pub(super) fn turned(&self, turn: f64) -> Vec<Turned> {
        self.parts.iter().map(|part| Turned::by(part, turn)).collect()
    }

    /// A convex shape for each part that it stays within, at every turn of a span.
    pub(super) fn reach(&self, [from, to]: Span) -> Vec<Turned> {
        let (middle, by) = (f64::midpoint(from, to), (to - from).abs() / 2.0);
        self.parts.iter().map(|part| Turned::about(part, middle, by)).collect()
    }

    /// The octagons of all pairs.
    pub(super) fn octagons(&self, turned: &[Turned]) -> Vec<Octagon> {
        let pairs = self.pairs.iter();
        pairs
            .map(|pair| Octagon::of(&turned[pair.part], &self.obstacles[pair.obstacle]))
            .collect()
    }

    /// Octagons within which the pivot is in the way at every turn of a span; none for parts too thin to say.
    pub(super) fn sure(&self, [from, to]: Span) -> Vec<Octagon> {
        let (middle, by) = (f64::midpoint(from, to), (to - from).abs() / 2.0);
        let kept: Vec<Option<Turned>> = self
            .parts
            .iter()
            .map(|part| part.kept_within(by).map(|rect| Turned::by(&rect, middle)))
            .collect();
        let pairs = self.pairs.iter();
        pairs
            .filter_map(|pair| {
                let turned = kept[pair.part].as_ref()?;
                Some(Octagon::of(turned, &self.obstacles[pair.obstacle]))
            })
            .collect()
    }

    /// The obstacle that a pose is deepest in, and how deep in millimetres.
    pub(super) fn deepest(&self, place: &Place) -> Option<(usize, f64)> {
        let octagons = self.octagons(&self.turned(place.turn));
        let depths = self.pairs.iter().zip(&octagons);
        depths
            .map(|(pair, octagon)| (pair.obstacle, octagon.depth(place.at)))
            .filter(|&(_, depth)| depth > 0.0)
            .max_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The same with every obstacle grown by its own amount.
    pub(super) fn grown(&self, by: &[f64]) -> Self {
        let mut scene = self.clone();
        for (obstacle, &by) in scene.obstacles.iter_mut().zip(by) {
            *obstacle = obstacle.grown(by);
        }
        scene
    }
}

impl Place {
    pub(super) fn of(pose: &Pose) -> Self {
        Self {
            at: [pose.along.as_mm(), pose.up.as_mm()],
            turn: pose.turn_deg.to_radians(),
        }
    }

    /// As a pose, to the nearest nanometre; both ends of a way are given back as they were asked.
    pub(super) fn pose(&self) -> Pose {
        Pose {
            along: Length::from_mm(self.at[0]),
            up: Length::from_mm(self.at[1]),
            turn_deg: self.turn.to_degrees(),
        }
    }

    /// The place a share of the way to another.
    pub(super) fn towards(&self, to: &Self, share: f64) -> Self {
        let between = |a: f64, b: f64| a + (b - a) * share;
        Self {
            at: [between(self.at[0], to.at[0]), between(self.at[1], to.at[1])],
            turn: between(self.turn, to.turn),
        }
    }
}
