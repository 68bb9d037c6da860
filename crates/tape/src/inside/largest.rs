//! The largest cuboid.

use super::cavity::Cavity;
use super::chance::chance_inside;
use super::clearance::{Clearance, dearest, touch_of};
use super::cuts::{Answer, Question, Touch, VERTICES, answer, is_high};
use super::interior::{Bound, Goal};
use super::keep_back::{Guard, KeepBack, Room, guards_of};
use super::refusal::NoCuboid;
use super::roomiest::most_room;
use super::rounding::{self, Space};
use super::sensitivity::sigmas;
use super::side::Side;
use crate::Length;

/// The usable cuboid and what sets it.
#[derive(Clone, Debug, PartialEq)]
pub struct Usable {
    /// The cuboid, rounded inward.
    pub space: Space,
    /// The standard uncertainty of its length, width and height: how far another survey of the same cavity, as good as
    /// this one, would give other sizes. Rounded up.
    pub sigmas: [Length; 3],
    /// What stops each of its sides, in the order of [`Side::ALL`].
    pub limits: [Limit; 6],
    /// The clearance whose uncertainty costs the most volume (the one that costs the most by itself, when nothing is
    /// uncertain): what the next reading should make better known.
    pub tightest: Clearance,
    /// The chance that all of it is inside the true walls, at least; 1 when nothing is uncertain.
    pub chance: f64,
}

/// What stops a side of the usable cuboid.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The side of the cuboid.
    pub side: Side,
    /// The wall that it meets first, and where; not always the wall on the same side.
    pub clearance: Clearance,
    /// How far the side could be moved out by itself until it meets that wall, rounded down: zero, unless the cuboid can
    /// slide.
    pub play: Length,
}

impl Cavity {
    /// Returns the usable cuboid: the largest one along the axes of the cavity that keeps `keep` back from each wall.
    ///
    /// Its sides are the only ones of that volume; where it can slide it lies in the middle. A larger covariance or more
    /// kept back never gives a larger volume, but may give a longer side.
    ///
    /// # Errors
    ///
    /// [`NoCuboid::NoInterior`], [`NoCuboid::NothingLeft`] or [`NoCuboid::NotKeptBack`].
    pub fn largest(&self, keep: KeepBack) -> Result<Usable, NoCuboid> {
        let guards = guards_of(self, keep)?;
        let seed = self.seed(&guards)?;
        let found = answer(&Volume, &guards, seed);
        let touches = &found.touches;
        let ends = drawn_in(&guards, &found, &seed).map(|end| end * self.scale);
        let space = Space::inside([ends[0], ends[1], ends[2]], [ends[3], ends[4], ends[5]]);
        if space.size().contains(&Length::ZERO) {
            let wall = dearest_wall(&guards, touches);
            return Err(NoCuboid::NothingLeft { wall });
        }
        let vertices = self.vertices(&space);
        let tightest = dearest(&guards, &vertices, touches);
        Ok(Usable {
            limits: Side::ALL.map(|side| limit(self, &guards, &vertices, side)),
            tightest: touch_of(self, &vertices, tightest),
            chance: chance_inside(self, &vertices),
            sigmas: sigmas(self, &guards, &found).map(|sigma| rounding::uncertainty(sigma * self.scale)),
            space,
        })
    }

    /// A small cube with room on all sides, as the six unknowns of [`Volume`].
    fn seed(&self, guards: &[Guard<'_>]) -> Result<[f64; 6], NoCuboid> {
        let point = [0.0; 3];
        let bare = most_room(self, &guards_of(self, KeepBack::default())?, point);
        if bare.x[3] <= f64::EPSILON {
            let wall = dearest_wall(guards, &bare.touches);
            return Err(NoCuboid::NoInterior { wall });
        }
        // The middle of the bare walls has room as a rule, and is quicker to find than the middle of what is left.
        if let Some(cube) = cube_around(guards, bare.x) {
            return Ok(cube);
        }
        let left = most_room(self, guards, point);
        cube_around(guards, left.x).ok_or_else(|| NoCuboid::NothingLeft {
            wall: dearest_wall(guards, &left.touches),
        })
    }
}

/// A cube about a point, small enough to keep a part of its size as room.
fn cube_around(guards: &[Guard<'_>], [x, y, z, room]: [f64; 4]) -> Option<[f64; 6]> {
    let mut half = room;
    while half > f64::EPSILON {
        half /= 2.0;
        let cube = [x - half, y - half, z - half, x + half, y + half, z + half];
        let free = |guard: &Guard<'_>| (0..VERTICES).all(|n| guard.room(Volume.vertex(&cube, n)).value > half / 8.0);
        if guards.iter().all(free) {
            return Some(cube);
        }
    }
    None
}

/// The cuboid found, so much nearer to the seed that no vertex is over what is allowed any more: room is concave, so
/// between the two it is at least what their own rooms share out. That is less than a nanometre, as a rule nothing.
fn drawn_in(guards: &[Guard<'_>], found: &Answer<6>, seed: &[f64; 6]) -> [f64; 6] {
    let rooms = guards
        .iter()
        .flat_map(|guard| (0..VERTICES).map(move |vertex| guard.room(Volume.vertex(seed, vertex)).value));
    let room = rooms.fold(f64::INFINITY, f64::min);
    let over = found.over.max(0.0);
    let share = over / (over + room);
    std::array::from_fn(|n| found.x[n] + share * (seed[n] - found.x[n]))
}

/// The wall that costs the most.
fn dearest_wall(guards: &[Guard<'_>], touches: &[Touch]) -> Side {
    let dearest = touches.iter().max_by(|a, b| a.price.total_cmp(&b.price));
    dearest.map_or(Side::Bottom, |touch| guards[touch.guard].wall.side)
}

/// The six unknowns are the low corner and the high corner.
pub(super) struct Volume;

impl Volume {
    /// A slope by the place of a vertex, as one by the six unknowns.
    pub(super) fn slope(by_place: [f64; 3], vertex: usize) -> [f64; 6] {
        let mut slope = [0.0; 6];
        for (axis, part) in by_place.into_iter().enumerate() {
            slope[end_of(vertex, axis)] = part;
        }
        slope
    }
}

impl Goal<6> for Volume {
    fn derivatives(&self, x: &[f64; 6]) -> ([f64; 6], [[f64; 6]; 6]) {
        let (mut slope, mut curvature) = ([0.0; 6], [[0.0; 6]; 6]);
        for lo in 0..3 {
            let hi = lo + 3;
            let inverse = 1.0 / (x[hi] - x[lo]);
            (slope[lo], slope[hi]) = (inverse, -inverse);
            let square = inverse * inverse;
            (curvature[lo][lo], curvature[lo][hi]) = (square, -square);
            (curvature[hi][lo], curvature[hi][hi]) = (-square, square);
        }
        (slope, curvature)
    }

    fn reach(&self, x: &[f64; 6], step: &[f64; 6]) -> f64 {
        let sides = (0..3).map(|lo| (x[lo + 3] - x[lo], step[lo + 3] - step[lo]));
        let falling = sides.filter(|(_, step)| *step < 0.0);
        falling.map(|(side, step)| -side / step).fold(f64::INFINITY, f64::min)
    }
}

impl Question<6> for Volume {
    fn vertex(&self, x: &[f64; 6], vertex: usize) -> [f64; 3] {
        std::array::from_fn(|axis| x[end_of(vertex, axis)])
    }

    fn bound(&self, room: &Room, point: [f64; 3], vertex: usize) -> Bound<6> {
        let here: f64 = room.slope.iter().zip(point).map(|(slope, at)| slope * at).sum();
        Bound {
            slope: Self::slope(room.slope, vertex),
            least: here - room.value,
        }
    }

    fn spare(&self, _: &[f64; 6], room: f64) -> f64 {
        room
    }
}

/// Which unknown tells where a vertex is along an axis.
const fn end_of(vertex: usize, axis: usize) -> usize {
    if is_high(vertex, axis) { axis + 3 } else { axis }
}

/// What stops a side.
fn limit(cavity: &Cavity, guards: &[Guard<'_>], vertices: &[[f64; 3]; VERTICES], side: Side) -> Limit {
    let axis = side.axis();
    let outward = if side.is_high() { 1.0 } else { -1.0 };
    let mut first = (f64::INFINITY, (0, 0));
    for (number, guard) in guards.iter().enumerate() {
        for vertex in (0..VERTICES).filter(|&vertex| is_high(vertex, axis) == side.is_high()) {
            let room = guard.room(vertices[vertex]);
            let closing = -outward * room.slope[axis];
            // Walls that a side runs along stop it nowhere; a float cannot tell them from ones met far away.
            let way = room.value / closing;
            if closing > f64::EPSILON && way < first.0 {
                first = (way, (number, vertex));
            }
        }
    }
    let (way, touch) = first;
    Limit {
        side,
        clearance: touch_of(cavity, vertices, touch),
        play: rounding::distance((way * cavity.scale).max(0.0)),
    }
}
