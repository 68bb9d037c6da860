//! A way in by moving and pitching in one plane.
//!
//! The moved thing is any number of rectangles that hang together (a body with its flange, brackets, glands); its poses
//! are two coordinates of its pivot and a turn. [`plan`] answers with a way that is proved free over all of its length, with a proof
//! that there is none, or with the resolution down to which neither was found. `lines` and `roads` find ways, `parted`
//! proves that there are none, `tidy` makes the way short, `margin` tells the room along it, [`changes`] what would make
//! it work.

mod change;
mod lines;
mod margin;
mod parted;
mod query;
mod roads;
mod rows;
mod scene;
mod tidy;

pub use change::{Change, Changes, brought_in, changes, ends_moved};
pub use query::{Limits, Plane, Pose, Query, QueryError};

use tape::Length;

use crate::fit::Ended;
use crate::way_in::watch::{Budget, Meter, Watch};
use lines::Lines;
use roads::Found;
use scene::{Place, Scene};

/// The coarsest lines are this share of the moved thing's radius apart, and no finer ones are tried than these.
const COARSEST: f64 = 0.125;
const FINEST_MM: f64 = 0.05;
/// No more lines than this at once: some 150 MB.
const MOST_LINES: usize = 1_200_000;
/// The widest margin looked for, as a share of the moved thing's radius, and how often the search for it halves.
const WIDEST: f64 = 0.25;
const HALVINGS: u32 = 6;

/// Which end of the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// Where it is to start.
    Start,
    /// Where it is to end up.
    Goal,
}

/// Yes or no, without the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Decision {
    /// There is a way.
    Goes,
    /// One end is not free.
    NoRoom {
        /// Which end.
        end: End,
        /// Index of the obstacle it is deepest in.
        obstacle: usize,
        /// The shortest straight step that would part the two.
        overlap: Length,
    },
    /// There is none: proved.
    Impossible,
    /// Neither was found: too close to call at this resolution.
    TooClose,
}

/// How finely a search looked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resolution {
    /// Heights were at most this far apart.
    pub up: Length,
    /// Turns were at most this far apart, in degrees.
    pub turn_deg: f64,
}

/// The least distance to one obstacle along a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// Index of the obstacle.
    pub obstacle: usize,
    /// The least distance: never more than there is, at most 0.05 mm less.
    pub distance: Length,
    /// Where that is.
    pub at: Pose,
}

/// A way in.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// From the start to the goal: between two of them the pivot moves straight and the turn changes evenly.
    pub poses: Vec<Pose>,
    /// The room along it, for each obstacle that can be met, least first.
    pub margins: Vec<Margin>,
}

/// What was found, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Yes, no, or too close to call.
    pub decision: Decision,
    /// The way, when there is one.
    pub way: Option<Way>,
    /// How finely it had to be looked at; `None` when nothing had to.
    pub resolution: Option<Resolution>,
    /// Why it ended.
    pub ended: Ended,
    /// Steps done.
    pub work: u64,
}

/// Whether there is a way, without looking for a good one.
///
/// # Errors
///
/// [`QueryError`] when the question makes no sense; that nothing goes is an answer, not an error.
pub fn decide(query: &Query, budget: Budget, watch: &mut dyn Watch) -> Result<Answer, QueryError> {
    query.check()?;
    let mut meter = Meter::new(budget, watch);
    Ok(decided(&Scene::of(query), &mut meter).answer(&meter))
}

/// Looks for a way with as much room along it as can be found within the budget, and makes it short.
///
/// Lines are laid finer and finer, halving each time, until a way is found or proved not to be. Then it is looked for with
/// obstacles grown all round, which keeps the way in the middle of what there is. At both ends an obstacle grows no
/// more than they leave room for: what the box is to stand on does not spoil the rest.
///
/// # Errors
///
/// [`QueryError`] when the question makes no sense; that nothing goes is an answer, not an error.
pub fn plan(query: &Query, budget: Budget, watch: &mut dyn Watch) -> Result<Answer, QueryError> {
    query.check()?;
    let mut meter = Meter::new(budget, watch);
    let scene = Scene::of(query);
    let decided = decided(&scene, &mut meter);
    let mut answer = decided.answer(&meter);
    if let Some((lines, places)) = decided.found {
        let (room, places) = roomiest(&scene, &lines, places, &mut meter);
        let places = tidy::shortened(&scene.grown(&room), &places);
        let margins = margin::margins(&scene, &places);
        let mut poses: Vec<Pose> = places.iter().map(Place::pose).collect();
        // As they were asked, without the rounding of radians.
        if let [first, .., last] = &mut poses[..] {
            (*first, *last) = (query.start, query.goal);
        }
        answer.way = Some(Way { poses, margins });
        answer.work = meter.done();
        if meter.stopped() {
            answer.ended = Ended::Stopped;
        }
    }
    Ok(answer)
}

/// What is known of a scene.
struct Decided {
    decision: Decision,
    found: Option<(Lines, Vec<Place>)>,
    resolution: Option<Resolution>,
}

impl Decided {
    fn answer(&self, meter: &Meter<'_>) -> Answer {
        let open = self.decision == Decision::TooClose;
        Answer {
            decision: self.decision,
            way: None,
            resolution: self.resolution,
            ended: if open { meter.ended() } else { Ended::Done },
            work: meter.done(),
        }
    }
}

fn decided(scene: &Scene, meter: &mut Meter<'_>) -> Decided {
    let mut resolution = None;
    let mut decision = Decision::TooClose;
    let mut found = None;
    for (end, place) in [(End::Start, &scene.start), (End::Goal, &scene.goal)] {
        if let Some((obstacle, depth)) = scene.deepest(place) {
            decision = Decision::NoRoom {
                end,
                obstacle,
                overlap: Length::from_mm_up(depth),
            };
        }
    }
    let mut step = (scene.radius * COARSEST).max(1.0);
    while decision == Decision::TooClose && step >= FINEST_MM {
        let lines = Lines::of(scene, step);
        // What does not come to an end is not begun: the work is better left to others.
        if cost(scene, &lines) > meter.left() || lines.ups.len() * lines.turns.len() > MOST_LINES {
            break;
        }
        match roads::search(scene, &lines, meter) {
            Found::Way(places) => {
                decision = Decision::Goes;
                found = Some((lines, places));
            }
            Found::None => match parted::parted(scene, &lines, meter) {
                Some(true) => decision = Decision::Impossible,
                Some(false) => {}
                None => break,
            },
            Found::Cut => break,
        }
        resolution = Some(Resolution {
            up: Length::from_mm(step),
            turn_deg: (step / scene.radius.max(step)).to_degrees(),
        });
        step /= 2.0;
    }
    Decided {
        decision,
        found,
        resolution,
    }
}

/// The steps of a search with a proof on these lines.
fn cost(scene: &Scene, lines: &Lines) -> u64 {
    let each = lines.ups.len() * (scene.pairs.len() + 2);
    u64::try_from(4 * each * lines.turns.len()).unwrap_or(u64::MAX)
}

/// By how much each obstacle can be grown with a way left on these lines, and that way.
fn roomiest(scene: &Scene, lines: &Lines, places: Vec<Place>, meter: &mut Meter<'_>) -> (Vec<f64>, Vec<Place>) {
    let most: Vec<f64> = (0..scene.obstacles.len()).map(|o| room_at_ends(scene, o)).collect();
    let grown = |by: f64| -> Vec<f64> { most.iter().map(|most| most.min(by)).collect() };
    let mut best = (grown(0.0), places);
    let (mut low, mut high) = (0.0, scene.radius * WIDEST);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        let room = grown(middle);
        match roads::search(&scene.grown(&room), lines, meter) {
            Found::Way(places) => {
                best = (room, places);
                low = middle;
            }
            Found::None => high = middle,
            Found::Cut => break,
        }
    }
    best
}

/// How far one obstacle can be grown, in millimetres, with both ends still free of it.
fn room_at_ends(scene: &Scene, obstacle: usize) -> f64 {
    let mut by = vec![0.0; scene.obstacles.len()];
    let mut free = |room: f64| {
        by[obstacle] = room;
        let grown = scene.grown(&by);
        grown.deepest(&scene.start).is_none() && grown.deepest(&scene.goal).is_none()
    };
    let (mut low, mut high) = (0.0, scene.radius * WIDEST);
    if free(high) {
        return high;
    }
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if free(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[cfg(test)]
mod tests;
