//! One way as a picture in its plane: what is round the box, and the box in each of its poses.

use geometry::way_in::plan::{Plane, Query};
use geometry::{Axis, Cuboid, Point};
use tape::Length;

use super::scene::Scene;
use super::{Motion, Off, Outcome, Thing, Tried, Way, WaysIn, What, search};

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

/// A part of the bed as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrawnBed {
    /// What it is called.
    pub name: String,
    /// As much of it as the picture shows: its corners, going round.
    pub corners: Vec<[Length; 2]>,
    /// Whether it stops the box, or leaves it the least room.
    pub is_met: bool,
}

/// A way as seen square to the plane that it runs in, or a face that was tried in vain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The plane.
    pub plane: Plane,
    /// The space of the cavity.
    pub space: Flat,
    /// All that is shown.
    pub window: Flat,
    /// What the box passes beside, or is stopped by; closed faces are the edges of the space.
    pub things: Vec<Drawn>,
    /// The bed as it stands, as much of it as is shown.
    pub bed: Vec<DrawnBed>,
    /// How the bed stands, where it is known; empty where it is off or nobody entered it.
    pub bed_words: String,
    /// The parts of the box in each pose of the way, body first. Of a box that does not go: where it stops, and its place.
    pub poses: Vec<Vec<Posed>>,
    /// The ground, where it is known.
    pub ground: Option<Length>,
}

/// What one picture is to show.
struct Shown {
    plane: Plane,
    /// What stops the box, or leaves it the least room.
    met: Vec<What>,
    /// How far off its place it is, and its turn.
    steps: Vec<(Point, f64)>,
    /// What is off it while it moves.
    off: Off,
}

impl WaysIn {
    /// The pictures of a box's way; of one that has none, a picture for each face that was tried.
    pub(super) fn pictures_of(&self, at: usize) -> Vec<Picture> {
        let before: Vec<usize> = match self.order.iter().position(|&i| i == at) {
            Some(place) => self.order[..place].to_vec(),
            None => self.order.clone(),
        };
        let scene = Scene::of(&self.question, at, &before);
        let shown = match &self.boxes[at].outcome {
            Outcome::Goes(way) => planes_of(way)
                .into_iter()
                .map(|plane| Shown {
                    plane,
                    met: way.margin.iter().map(|margin| margin.what).collect(),
                    steps: way.steps.iter().map(|step| (step.by, step.turn_deg)).collect(),
                    off: way.off,
                })
                .collect(),
            Outcome::Stays { tried, .. } if tried.is_empty() => vec![Shown {
                plane: Plane::Side,
                met: Vec::new(),
                steps: vec![(Point::ZERO, 0.0)],
                off: Off::default(),
            }],
            Outcome::Stays { tried, .. } => tried.iter().map(|tried| in_vain(tried, &scene.things)).collect(),
        };
        shown.into_iter().map(|shown| self.picture(&scene, shown)).collect()
    }

    fn picture(&self, scene: &Scene<'_>, shown: Shown) -> Picture {
        let Shown { plane, met, steps, off } = shown;
        let [first, second] = plane.axes();
        let flat = |solid: &Cuboid| [first, second].map(|axis| [solid.lo()[axis], solid.hi()[axis]]);
        let solids = scene.solids(off);
        let hull = Cuboid::hull_of(&solids).unwrap_or_default();
        let in_reach = |thing: &&Thing| thing.expected.gap_along(&hull, plane.across()).is_negative();
        let is_drawn = |thing: &&Thing| !matches!(thing.what, What::Wall(_) | What::Bed(_));
        let things = scene
            .things
            .iter()
            .filter(is_drawn)
            .filter(in_reach)
            .map(|thing| Drawn {
                name: thing.name.clone(),
                what: thing.what,
                at: flat(&thing.expected),
                is_met: met.contains(&thing.what),
            });
        let pivot = Query::middle(&solids, plane);
        let pose = |(by, turn_deg): &(Point, f64)| {
            let by = [by[first], by[second]];
            solids
                .iter()
                .map(|solid| posed(&flat(solid), pivot, by, *turn_deg))
                .collect()
        };
        let poses: Vec<Vec<Posed>> = steps.iter().map(pose).collect();
        let space = flat(&scene.moved.space);
        let mut window =
            around(poses.iter().flatten().flatten().copied()).map_or(space, |poses| round_both(&poses, &space));
        let beds: Vec<(usize, Vec<[Length; 2]>)> = match plane {
            _ if scene.moved.world > 0 => Vec::new(),
            Plane::Side => self
                .question
                .bed_outlines
                .iter()
                .map(|o| o.to_vec())
                .enumerate()
                .collect(),
            Plane::Across => {
                let parts = 0..self.question.bed_outlines.len();
                let of = |part: usize| {
                    let blocks = scene.things.iter().filter(|thing| thing.what == What::Bed(part));
                    let blocks: Vec<Cuboid> = blocks.filter(in_reach).map(|thing| thing.expected).collect();
                    let [[left, right], [low, high]] = flat(&Cuboid::hull_of(&blocks)?);
                    Some((part, vec![[left, low], [right, low], [right, high], [left, high]]))
                };
                parts.filter_map(of).collect()
            }
        };
        for (_, bed) in &beds {
            window = up_to(window, bed);
        }
        let bed: Vec<DrawnBed> = beds
            .into_iter()
            .map(|(part, corners)| DrawnBed {
                name: self.question.bed_names[part].clone(),
                corners: within(&corners, &window),
                is_met: met.contains(&What::Bed(part)),
            })
            .filter(|bed| bed.corners.len() > 2)
            .collect();
        let stands = self.question.bed.name();
        let bed_words = match (
            self.question.bed_outlines.is_empty() || scene.moved.world > 0,
            bed.is_empty(),
        ) {
            (true, _) => String::new(),
            (false, false) => format!("the bed {stands}"),
            (false, true) => format!("the bed {stands}, outside of the picture"),
        };
        Picture {
            plane,
            space,
            things: things.filter(|thing| overlap(&thing.at, &window)).collect(),
            bed,
            bed_words,
            poses,
            ground: scene.ground.map(|ground| ground.at),
            window,
        }
    }
}

const fn sideways(axis: Axis) -> Plane {
    match axis {
        Axis::Y => Plane::Across,
        _ => Plane::Side,
    }
}

/// The planes that a way is seen in: one, but both where it is moved level along its length and its width.
fn planes_of(way: &Way) -> Vec<Plane> {
    match way.motion {
        Motion::Pitched(plane) => vec![plane],
        Motion::ThenSlid { axis, .. } if axis != Axis::Z && way.through.axis() == Axis::Z => vec![sideways(axis)],
        Motion::Level => {
            let moves = |axis: Axis| way.steps.iter().any(|step| step.by[axis] != Length::ZERO);
            let along = [Axis::X, Axis::Y].into_iter().filter(|&axis| moves(axis));
            along.map(sideways).collect()
        }
        _ => vec![sideways(way.through.axis())],
    }
}

/// A face that was tried in vain: where the box stops, and its place; in the plane that what stops it is narrower in.
fn in_vain(tried: &Tried, things: &[Thing]) -> Shown {
    let stop = tried.stops.first();
    let thing = stop.and_then(|stop| things.iter().find(|thing| thing.what == stop.what));
    let plane = match thing {
        _ if tried.through.axis() != Axis::Z => sideways(tried.through.axis()),
        Some(thing) if thing.expected.size()[Axis::Y] < thing.expected.size()[Axis::X] => Plane::Across,
        _ => Plane::Side,
    };
    let there = stop.map(|stop| (search::out(tried.through, stop.left.max(Length::ZERO)), 0.0));
    Shown {
        plane,
        met: tried.stops.iter().map(|stop| stop.what).collect(),
        steps: there.into_iter().chain([(Point::ZERO, 0.0)]).collect(),
        off: tried.off,
    }
}

/// The window with as much more above it as shows where the bed begins over it, unless that is farther than it is high: the box would be too small to see.
fn up_to(window: Flat, bed: &[[Length; 2]]) -> Flat {
    let [along, [low, high]] = window;
    let far = Length::mm(100_000);
    let over = within(bed, &[along, [-far, far]]);
    let Some(begins) = over.iter().map(|corner| corner[1]).min() else {
        return window;
    };
    let more = (high - low).half_down().half_down();
    if begins >= high && begins - high <= high - low {
        [along, [low, begins + more]]
    } else {
        window
    }
}

/// What of a polygon without dents lies within a rectangle (cut edge by edge; Sutherland and Hodgman).
fn within(corners: &[[Length; 2]], rect: &Flat) -> Vec<[Length; 2]> {
    let mut left = corners.to_vec();
    for k in [0, 1] {
        for (limit, sign) in [(rect[k][0], 1), (rect[k][1], -1)] {
            let inside = |corner: &[Length; 2]| (corner[k] - limit) * sign >= Length::ZERO;
            let mut next = Vec::new();
            for (i, to) in left.iter().enumerate() {
                let from = &left[(i + left.len() - 1) % left.len()];
                if inside(from) != inside(to) {
                    let share = (limit - from[k]).as_mm() / (to[k] - from[k]).as_mm();
                    let mut cut = [0, 1].map(|j| from[j] + Length::from_mm((to[j] - from[j]).as_mm() * share));
                    cut[k] = limit;
                    next.push(cut);
                }
                if inside(to) {
                    next.push(*to);
                }
            }
            left = next;
        }
    }
    left
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
