//! A way in by moving level, along one axis after the other: exact, in whole nanometres, over all that is round the thing.
//!
//! Shifts of the thing from its goal are points in space, and an obstacle forbids it an open cuboid of them for each of its
//! parts (Lozano-Perez 1983: the obstacle grown by the part). `grid` cuts space at the faces of these cuboids; from one
//! cell to the next it goes or it does not, so that a search over the cells finds a way if there is any.

mod grid;
mod search;

use tape::Length;

use super::straight::{Room, Straight, straight};
use super::watch::{Budget, Meter, Watch};
use crate::fit::Ended;
use crate::{Axis, Cuboid, Face, Faces, Point};
use grid::Grid;
use search::Found;

/// How often the search for room halves.
const HALVINGS: u32 = 6;
/// The widest room looked for.
const WIDEST: Length = Length::mm(100);

/// A thing where it is to stand, and what is round it.
#[derive(Clone, Copy, Debug)]
pub struct Level<'a> {
    /// The solids of the thing at its goal.
    pub parts: &'a [Cuboid],
    /// What stays where it is.
    pub obstacles: &'a [Cuboid],
    /// The shifts from the goal that are looked at, least and most along each axis; none is in them.
    pub within: [[Length; 2]; 3],
    /// The faces that it may leave by: it is out where `within` ends on that side.
    pub doors: &'a [Face],
    /// The sides on which nothing is beyond `within`: the ground, say. At any other end a way could go on.
    pub ends: &'a [Face],
}

/// A way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelWay {
    /// The face that it comes in by.
    pub through: Face,
    /// Shifts from the goal, from outside to no shift: between two of them it moves along one axis.
    pub steps: Vec<Point>,
    /// The least room beside its travel; `None` when it passes nothing.
    pub room: Option<Room>,
}

/// Whether there is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// This, with as few moves as there can be.
    Goes(LevelWay),
    /// There is none: proved.
    Impossible,
    /// None was found within the shifts that were looked at, and it may go on beyond them.
    Beyond,
    /// The budget was used up, or the watcher said stop.
    Cut(Ended),
}

/// What was found, and with how much work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelAnswer {
    /// Yes, no, or why neither.
    pub outcome: Outcome,
    /// Steps done.
    pub work: u64,
}

/// Looks for a way with the fewest moves, of these a short one, and then for as much room along it as so many moves allow.
///
/// `is_out` tells whether a thing that has come to the end of `within` at a door with this shift is outside: nothing stands
/// before it there.
pub fn level(
    asked: &Level<'_>,
    is_out: &dyn Fn(Face, Point) -> bool,
    budget: Budget,
    watch: &mut dyn Watch,
) -> LevelAnswer {
    let mut meter = Meter::new(budget, watch);
    let forbidden = asked.forbidden();
    let look = |room: Length, meter: &mut Meter<'_>| {
        let grown: Vec<Cuboid> = forbidden.iter().filter_map(|cuboid| grown(cuboid, room)).collect();
        let grid = Grid::of(&grown, asked.within);
        search::search(&grid, asked, is_out, meter)
    };
    let outcome = match look(Length::ZERO, &mut meter) {
        Found::Way(through, steps) => {
            let mut best = (through, steps);
            let (mut low, mut high) = (Length::ZERO, WIDEST);
            for _ in 0..HALVINGS {
                let middle = (low + high).half_down();
                match look(middle, &mut meter) {
                    Found::Way(through, steps) if steps.len() <= best.1.len() => {
                        best = (through, steps);
                        low = middle;
                    }
                    Found::Cut => break,
                    _ => high = middle,
                }
            }
            let (through, steps) = best;
            let room = asked.room(&steps);
            Outcome::Goes(LevelWay { through, steps, room })
        }
        Found::None { beyond: false } => Outcome::Impossible,
        Found::None { beyond: true } => Outcome::Beyond,
        Found::Cut => Outcome::Cut(meter.ended()),
    };
    LevelAnswer {
        outcome,
        work: meter.done(),
    }
}

/// Forbidden shifts grown all round, but towards the goal no farther than leaves it free: on the side where most room is.
fn grown(cuboid: &Cuboid, by: Length) -> Option<Cuboid> {
    let before = |face: &Face| {
        if face.is_high() {
            -cuboid.face(*face)
        } else {
            cuboid.face(*face)
        }
    };
    let nearest = Face::ALL.into_iter().max_by_key(before)?;
    let mut all = Faces::all(by);
    all[nearest] = by.min(before(&nearest)).max(Length::ZERO);
    cuboid.grown(all)
}

impl Level<'_> {
    /// The shifts that each obstacle forbids each part, of those that are looked at; none that another holds.
    fn forbidden(&self) -> Vec<Cuboid> {
        let mut all: Vec<Cuboid> = Vec::new();
        for part in self.parts {
            for other in self.obstacles {
                let forbids = Cuboid::between(other.lo() - part.hi(), other.hi() - part.lo());
                let is_met = Axis::ALL.into_iter().all(|axis| {
                    let [least, most] = self.within[axis.index()];
                    forbids.lo()[axis] < most && least < forbids.hi()[axis]
                });
                if is_met && !all.iter().any(|held| held.contains(&forbids)) {
                    all.retain(|held| !forbids.contains(held));
                    all.push(forbids);
                }
            }
        }
        all
    }

    /// The least room beside each move.
    fn room(&self, steps: &[Point]) -> Option<Room> {
        let moves = steps.windows(2).filter_map(|ends| {
            let [from, to] = [ends[0], ends[1]];
            let axis = Axis::ALL.into_iter().find(|&axis| from[axis] != to[axis])?;
            let by = from[axis] - to[axis];
            let parts: Vec<Cuboid> = self.parts.iter().map(|part| part.moved(to)).collect();
            straight(&Straight {
                parts: &parts,
                obstacles: self.obstacles,
                through: if by.is_negative() {
                    Face::low(axis)
                } else {
                    Face::high(axis)
                },
                from: by.abs(),
            })
            .room
        });
        moves.min_by_key(|room| room.distance)
    }
}

#[cfg(test)]
mod tests;
