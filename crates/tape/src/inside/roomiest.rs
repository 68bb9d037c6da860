//! The place where a cuboid of a given size has the most room.

use super::cavity::Cavity;
use super::clearance::Clearance;
use super::cuts::{Answer, Question, VERTICES, answer, is_high};
use super::interior::{Bound, Goal};
use super::keep_back::{Guard, KeepBack, Room, guards_of};
use super::refusal::NoCuboid;
use super::rounding::{self, Space};
use super::shape::COORDINATES;
use crate::Length;

/// A cuboid of a given size where it has the most room.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Where it is, to the nearest nanometre.
    pub space: Space,
    /// The smallest of its clearances, less what is kept back; below zero by as much as it does not fit. Rounded down.
    pub room: Length,
    /// Its clearance from each of the six walls, in the order of [`Side::ALL`](super::Side::ALL).
    pub clearances: [Clearance; 6],
    /// The standard uncertainty of the room, rounded up: of a cuboid that is slid to where it has the most room in the
    /// cavity as it is. Smaller than that of a clearance, since what one wall takes the other may give. Where several axes
    /// are about as tight, the room is more often below what is told than above, being the least of them: for the chance
    /// that it goes in there is [`Cavity::goes_in`].
    pub sigma: Length,
    /// How the room changes with each coordinate of the cavity's corners in the axes of the survey, a ratio; in the order
    /// of [`Clearance::gradient`].
    pub gradient: [f64; COORDINATES],
}

impl Cavity {
    /// Returns the place where a cuboid of this size has the most room: the largest smallest clearance.
    ///
    /// `size`: length, width and height. A clearance is the distance of a wall from the nearest corner of the cuboid, less
    /// what is kept back from that wall. A cuboid that does not fit has a place too, with room below zero. Where the
    /// tightest clearance leaves it free to slide, it comes to lie in the middle.
    ///
    /// # Errors
    ///
    /// [`NoCuboid::NotASize`] or [`NoCuboid::NotKeptBack`].
    pub fn roomiest(&self, size: [Length; 3], keep: KeepBack) -> Result<Placed, NoCuboid> {
        if size.iter().any(|side| side.is_negative()) {
            return Err(NoCuboid::NotASize);
        }
        let guards = guards_of(self, keep)?;
        let scaled = size.map(|side| side.as_mm() / self.scale);
        let Answer { x, touches, .. } = most_room(self, &guards, scaled);
        let space = Space::nearest([0, 1, 2].map(|axis| x[axis] * self.scale), size);
        let vertices = self.vertices(&space);
        let rooms = guards
            .iter()
            .flat_map(|guard| vertices.iter().map(move |&vertex| guard.room(vertex).value));
        let room = rooms.fold(f64::INFINITY, f64::min) * self.scale;
        // The prices add up to one: so much of each touching clearance the room is made of.
        let mut gradient = [0.0; COORDINATES];
        for touch in &touches {
            let part = guards[touch.guard].wall.gradient(vertices[touch.vertex]);
            for (sum, part) in gradient.iter_mut().zip(part) {
                *sum += touch.price * part;
            }
        }
        Ok(Placed {
            room: rounding::distance(room),
            sigma: rounding::uncertainty(self.sigma_by(&gradient) * self.scale),
            clearances: self.clearances(&space),
            gradient,
            space,
        })
    }
}

/// Answers with the low corner and the room.
pub(super) fn most_room(cavity: &Cavity, guards: &[Guard<'_>], size: [f64; 3]) -> Answer<4> {
    let sums = cavity.corners.iter().fold([0.0; 3], |sum: [f64; 3], corner| {
        std::array::from_fn(|axis| sum[axis] + corner[axis])
    });
    let [x, y, z] = std::array::from_fn(|axis| sums[axis] / 8.0 - size[axis] / 2.0);
    let question = MostRoom { size };
    let rooms = guards
        .iter()
        .flat_map(|guard| (0..VERTICES).map(move |vertex| (guard, vertex)))
        .map(|(guard, vertex)| guard.room(question.vertex(&[x, y, z, 0.0], vertex)).value);
    let start = [x, y, z, rooms.fold(f64::INFINITY, f64::min) - 1.0];
    answer(&question, guards, start)
}

/// The low corner of a cuboid of this size, and the room it has.
struct MostRoom {
    size: [f64; 3],
}

impl Goal<4> for MostRoom {
    fn derivatives(&self, _: &[f64; 4]) -> ([f64; 4], [[f64; 4]; 4]) {
        ([0.0, 0.0, 0.0, -1.0], [[0.0; 4]; 4])
    }

    fn reach(&self, _: &[f64; 4], _: &[f64; 4]) -> f64 {
        f64::INFINITY
    }
}

impl Question<4> for MostRoom {
    fn vertex(&self, x: &[f64; 4], vertex: usize) -> [f64; 3] {
        std::array::from_fn(|axis| x[axis] + f64::from(u8::from(is_high(vertex, axis))) * self.size[axis])
    }

    fn bound(&self, room: &Room, point: [f64; 3], vertex: usize) -> Bound<4> {
        let [x, y, z] = room.slope;
        let shift = self.vertex(&[0.0; 4], vertex);
        let least = (0..3)
            .map(|axis| room.slope[axis] * (point[axis] - shift[axis]))
            .sum::<f64>()
            - room.value;
        Bound {
            slope: [x, y, z, -1.0],
            least,
        }
    }

    fn spare(&self, x: &[f64; 4], room: f64) -> f64 {
        room - x[3]
    }
}
