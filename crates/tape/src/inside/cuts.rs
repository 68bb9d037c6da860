//! Cutting planes: the convex set of what fits, by as many of its tangents as it takes.

use super::interior::{Bound, Goal, minimise};
use super::keep_back::{Guard, Room};

/// The corners of a cuboid.
pub(super) const VERTICES: usize = 8;

/// Whether vertex `vertex` is at the high end of `axis`.
pub(super) const fn is_high(vertex: usize, axis: usize) -> bool {
    vertex >> axis & 1 == 1
}

/// A question about a cuboid, by `N` unknowns.
pub(super) trait Question<const N: usize>: Goal<N> {
    /// Where a vertex is.
    fn vertex(&self, x: &[f64; N], vertex: usize) -> [f64; 3];
    /// That the room which `room`, at `point`, promises for a vertex is what is asked for or more.
    fn bound(&self, room: &Room, point: [f64; 3], vertex: usize) -> Bound<N>;
    /// How much more than asked for that room is.
    fn spare(&self, x: &[f64; N], room: f64) -> f64;
}

/// What a vertex keeps from a guarded wall.
#[derive(Clone, Copy, Debug)]
pub(super) struct Touch {
    pub(super) guard: usize,
    pub(super) vertex: usize,
    /// What it costs the goal, by length.
    pub(super) price: f64,
    /// What is left until it touches.
    pub(super) slack: f64,
}

/// The best cuboid.
pub(super) struct Answer<const N: usize> {
    pub(super) x: [f64; N],
    pub(super) touches: Vec<Touch>,
    /// The tangents that the touches made.
    pub(super) bounds: Vec<Bound<N>>,
    /// How far the vertices are over what is allowed at most: next to nothing.
    pub(super) over: f64,
}

/// Rounds until the answer stands; three or four do.
const ROUNDS: usize = 25;
/// How far a vertex may be over what is allowed, in a cavity of about one.
const CLOSE: f64 = 1e-10;
/// How much of the way back to the start the next round begins.
const BACK: f64 = 0.1;

/// Answers a question, from a start that has more room than asked for everywhere.
///
/// Room is concave, so every tangent lets pass all that fits, and the start is inside of all of them.
pub(super) fn answer<const N: usize>(question: &impl Question<N>, guards: &[Guard<'_>], start: [f64; N]) -> Answer<N> {
    let mut cuts = Cuts {
        bounds: Vec::new(),
        touches: Vec::new(),
    };
    for guard in 0..guards.len() {
        let room = |vertex: &usize| guards[guard].room(question.vertex(&start, *vertex)).value;
        if let Some(vertex) = (0..VERTICES).min_by(|a, b| room(a).total_cmp(&room(b))) {
            cuts.add(question, guards, &start, (guard, vertex));
        }
    }
    let mut x = start;
    for round in 1.. {
        let from = cuts.strictly_inside(&x, &start);
        let best = minimise(question, &cuts.bounds, from);
        x = best.x;
        let known = cuts.bounds.len();
        let mut over: f64 = 0.0;
        for (guard, vertex) in (0..guards.len()).flat_map(|guard| (0..VERTICES).map(move |vertex| (guard, vertex))) {
            let room = guards[guard].room(question.vertex(&x, vertex));
            let excess = -question.spare(&x, room.value);
            over = over.max(excess);
            if excess > CLOSE {
                cuts.add(question, guards, &x, (guard, vertex));
            }
        }
        if cuts.bounds.len() == known || round == ROUNDS {
            // What the last round still cut off has no price: the caller draws in by `over`.
            let (mut touches, mut bounds) = (cuts.touches, cuts.bounds);
            touches.truncate(known);
            bounds.truncate(known);
            for (touch, (&price, &slack)) in touches.iter_mut().zip(best.prices.iter().zip(&best.slacks)) {
                (touch.price, touch.slack) = (price, slack);
            }
            return Answer {
                x,
                touches,
                bounds,
                over,
            };
        }
    }
    unreachable!("the last round returns")
}

/// The tangents so far.
struct Cuts<const N: usize> {
    bounds: Vec<Bound<N>>,
    touches: Vec<Touch>,
}

impl<const N: usize> Cuts<N> {
    /// The tangent of a guard's room where a vertex is.
    fn add(&mut self, question: &impl Question<N>, guards: &[Guard<'_>], x: &[f64; N], touch: (usize, usize)) {
        let (guard, vertex) = touch;
        let point = question.vertex(x, vertex);
        self.bounds
            .push(question.bound(&guards[guard].room(point), point, vertex));
        self.touches.push(Touch {
            guard,
            vertex,
            price: 0.0,
            slack: 0.0,
        });
    }

    /// A place near `x` that all tangents leave free; `start` at worst.
    fn strictly_inside(&self, x: &[f64; N], start: &[f64; N]) -> [f64; N] {
        let between: [f64; N] = std::array::from_fn(|n| x[n] + BACK * (start[n] - x[n]));
        if self.bounds.iter().all(|bound| bound.slack(&between) > 0.0) {
            between
        } else {
            *start
        }
    }
}
