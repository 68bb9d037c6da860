//! One way as a picture in its plane: what is round the box, and the box in each of its poses.

use geometry::way_in::plan::{Plane, Query};
use geometry::{Axis, Cuboid, Point};
use tape::Length;

use super::scene::Scene;
use super::{Motion, Off, Outcome, Thing, WaysIn, What, search};

/// A rectangle in the plane: from low to high along the first axis (rearward, or to the right) and upward.
pub type Flat = [[Length; 2]; 2];

/// Something round the box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub what: What,
    /// Where it is.
    pub at: Flat,
    /// Whether it stops the box, or leaves it the least room.
    pub is_met: bool,
}

/// A part of the box in a pose: its four corners as (along, up), going round.
pub type Posed = [[Length; 2]; 4];

/// A way as seen square to the plane that it runs in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The plane.
    pub plane: Plane,
    /// The space of the cavity.
    pub space: Flat,
    /// What the box passes beside, or is stopped by; closed faces are the edges of the space.
    pub things: Vec<Drawn>,
    /// The parts of the box in each pose of the way, body first. Of a box that does not go: where it stops, and its place.
    pub poses: Vec<Vec<Posed>>,
    /// The ground, where it is known.
    pub ground: Option<Length>,
}

impl WaysIn {
    /// The picture of a box's way.
    pub(super) fn picture(&self, at: usize) -> Picture {
        let moved = &self.question.boxes[at];
        let outcome = &self.boxes[at].outcome;
        let before: Vec<usize> = match self.order.iter().position(|&i| i == at) {
            Some(place) => self.order[..place].to_vec(),
            None => self.order.clone(),
        };
        let scene = Scene::of(&self.question, at, &before);
        let plane = plane_of(outcome, &scene.things);
        let [first, second] = plane.axes();
        let flat = |solid: &Cuboid| [first, second].map(|axis| [solid.lo()[axis], solid.hi()[axis]]);
        let solids: Vec<Cuboid> = self.solids(at);
        let hull = Cuboid::hull_of(&solids).unwrap_or_default();
        let met = self.met(at);
        let across = plane.across();
        let in_reach = |thing: &&Thing| {
            !matches!(thing.what, What::Wall(_)) && thing.expected.gap_along(&hull, across).is_negative()
        };
        let things = scene.things.iter().filter(in_reach).map(|thing| Drawn {
            name: thing.name.clone(),
            what: thing.what,
            at: flat(&thing.expected),
            is_met: met.contains(&thing.what),
        });
        let pivot = Query::middle(&solids, plane);
        let steps: Vec<(Point, f64)> = match outcome {
            Outcome::Goes(way) => way.steps.iter().map(|step| (step.by, step.turn_deg)).collect(),
            Outcome::Stays { tried, .. } => {
                let stopped = tried.first().and_then(|t| Some((t.through, t.stops.first()?.left)));
                let there = stopped.map(|(through, left)| (search::out(through, left.max(Length::ZERO)), 0.0));
                there.into_iter().chain([(Point::ZERO, 0.0)]).collect()
            }
        };
        let pose = |(by, turn_deg): &(Point, f64)| {
            let by = [by[first], by[second]];
            solids
                .iter()
                .map(|solid| posed(&flat(solid), pivot, by, *turn_deg))
                .collect()
        };
        let poses: Vec<Vec<Posed>> = steps.iter().map(pose).collect();
        let space = flat(&moved.space);
        let window =
            around(poses.iter().flatten().flatten().copied()).map_or(space, |poses| round_both(&poses, &space));
        Picture {
            plane,
            space,
            things: things.filter(|thing| overlap(&thing.at, &window)).collect(),
            poses,
            ground: scene.ground.map(|ground| ground.at),
        }
    }

    /// The solids that move: without what is put on afterwards.
    fn solids(&self, at: usize) -> Vec<Cuboid> {
        let off = self.boxes[at].outcome.way().map_or(Off::default(), |way| way.off);
        self.question.boxes[at]
            .parts
            .iter()
            .filter_map(|part| part.with(off))
            .collect()
    }

    /// What stops a box, or leaves it the least room.
    fn met(&self, at: usize) -> Vec<What> {
        match &self.boxes[at].outcome {
            Outcome::Goes(way) => way.margin.iter().map(|margin| margin.what).collect(),
            Outcome::Stays { tried, .. } => tried
                .iter()
                .take(1)
                .flat_map(|t| &t.stops)
                .map(|stop| stop.what)
                .collect(),
        }
    }
}

/// The plane that a way is best seen in; what stops a box, that in which it is narrower.
fn plane_of(outcome: &Outcome, things: &[Thing]) -> Plane {
    let sideways = |axis: Axis| if axis == Axis::Y { Plane::Across } else { Plane::Side };
    match outcome {
        Outcome::Goes(way) => match way.motion {
            Motion::Pitched(plane) => plane,
            Motion::ThenSlid { axis, .. } if axis != Axis::Z && way.through.axis() == Axis::Z => sideways(axis),
            _ => sideways(way.through.axis()),
        },
        Outcome::Stays { tried, .. } => {
            let first = tried.first();
            let stopped = first.and_then(|tried| tried.stops.first());
            let thing = stopped.and_then(|stop| things.iter().find(|thing| thing.what == stop.what));
            match (first, thing) {
                (Some(tried), _) if tried.through.axis() != Axis::Z => sideways(tried.through.axis()),
                (_, Some(thing)) if thing.expected.size()[Axis::Y] < thing.expected.size()[Axis::X] => Plane::Across,
                _ => Plane::Side,
            }
        }
    }
}

/// The smallest rectangle round two.
fn round_both(a: &Flat, b: &Flat) -> Flat {
    [0, 1].map(|k| [a[k][0].min(b[k][0]), a[k][1].max(b[k][1])])
}

/// Whether two rectangles overlap or touch.
fn overlap(a: &Flat, b: &Flat) -> bool {
    [0, 1].iter().all(|&k| a[k][0] <= b[k][1] && b[k][0] <= a[k][1])
}

/// A rectangle moved and turned about a pivot, to the nearest nanometre.
pub(super) fn posed(flat: &Flat, pivot: [Length; 2], by: [Length; 2], turn_deg: f64) -> Posed {
    let turn = turn_deg.to_radians();
    let (cos, sin) = (turn.cos(), turn.sin());
    let [[left, right], [low, high]] = *flat;
    [[left, low], [right, low], [right, high], [left, high]].map(|[along, up]| {
        let (u, v) = ((along - pivot[0]).as_mm(), (up - pivot[1]).as_mm());
        [
            pivot[0] + by[0] + Length::from_mm(u * cos - v * sin),
            pivot[1] + by[1] + Length::from_mm(u * sin + v * cos),
        ]
    })
}

/// The smallest rectangle round some corners.
pub fn around(corners: impl IntoIterator<Item = [Length; 2]>) -> Option<Flat> {
    corners
        .into_iter()
        .map(|[along, up]| [[along; 2], [up; 2]])
        .reduce(|[a, b], [c, d]| [[a[0].min(c[0]), a[1].max(c[1])], [b[0].min(d[0]), b[1].max(d[1])]])
}
