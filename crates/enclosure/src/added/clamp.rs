//! End plates and tie rods of a clamped stack.

use tape::Length;

use super::{AddedError, Block, Group, Piece, above_zero, around, within};
use crate::strength::bolt::thread_name;
use crate::{Hole, Part, Purpose, Role, Sheet};

/// What clamps one stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clamp {
    /// The stack with plates and rod ends.
    pub stack: Block,
    /// The axis it is clamped along: 0 length, 1 width, 2 height.
    pub along: usize,
    /// Material and thickness of the end plates.
    pub plate: Sheet,
    /// What rod and nut stand out beyond each plate.
    pub rod_end: Length,
    /// How many rods: 2 in the middle of the longer edges' height, or 4 at the corners.
    pub rods: u32,
    /// Thread of the rods.
    pub thread: Length,
    /// From the edges of the plates to the middle of the rods.
    pub inset: Length,
}

impl Clamp {
    /// The parts and their solids: two plates as large as the modules' faces, and rods as long as the stack, which run in
    /// the modules' own holes.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for a stack too short for its plates, and rods whose holes break out of them.
    pub fn group(&self) -> Result<Group, AddedError> {
        let [a, b] = match self.along {
            0 => [1, 2],
            1 => [0, 2],
            _ => [0, 1],
        };
        let size = |axis: usize| self.stack.hi[axis] - self.stack.lo[axis];
        above_zero("end plates, thickness", self.plate.thickness)?;
        above_zero("tie rods, thread", self.thread)?;
        let least = (self.plate.thickness + self.rod_end) * 2;
        let range = [least, super::MOST];
        within(
            "clamped stack, length",
            size(self.along),
            range,
            "take thinner end plates",
        )?;
        let hole = self.thread + Length::mm(1);
        let short = size(a).min(size(b));
        let insets = [
            hole.half_down() + Length::from_nm(1),
            short.half_down() - hole.half_down() - Length::from_nm(1),
        ];
        within(
            "tie rods, from the edge of the end plate",
            self.inset,
            insets,
            "move them, or take thinner rods",
        )?;
        let mut places = Vec::new();
        let ends = |axis: usize| [self.stack.lo[axis] + self.inset, self.stack.hi[axis] - self.inset];
        let [long, other] = if size(b) > size(a) { [b, a] } else { [a, b] };
        for u in ends(long) {
            if self.rods > 2 {
                places.extend(ends(other).map(|v| [u, v]));
            } else {
                let middle = (self.stack.lo[other] + self.stack.hi[other]).half_down();
                places.push([u, middle]);
            }
        }
        let mut plate = Part::plate(Role::EndPlate, 2, self.plate, [size(long), size(other)]);
        plate.holes = places
            .iter()
            .map(|[u, v]| Hole {
                x: *u - self.stack.lo[long],
                y: *v - self.stack.lo[other],
                diameter: hole,
                purpose: Purpose::TieRod,
            })
            .collect();
        let rod = super::hold_down::threaded_rod(self.thread);
        let count = u32::try_from(places.len()).unwrap_or(u32::MAX);
        let rods = Part::rod(Role::TieRod, count, rod, size(self.along));
        let (lo, hi) = (self.stack.lo[self.along], self.stack.hi[self.along]);
        let t = self.plate.thickness;
        let mut pieces: Vec<Piece> = [lo + self.rod_end, hi - self.rod_end - t]
            .map(|at| {
                let mut block = self.stack;
                (block.lo[self.along], block.hi[self.along]) = (at, at + t);
                Piece {
                    part: 0,
                    role: Role::EndPlate,
                    block,
                    thin: self.along,
                }
            })
            .to_vec();
        pieces.extend(places.iter().map(|&[u, v]| {
            let mut block = self.stack;
            for (axis, middle) in [(long, u), (other, v)] {
                [block.lo[axis], block.hi[axis]] = around(middle, self.thread);
            }
            Piece {
                part: 1,
                role: Role::TieRod,
                block,
                thin: long,
            }
        }));
        let what = format!("nuts {} with washer, tie rods", thread_name(self.thread));
        Ok(Group {
            parts: vec![plate, rods],
            pieces,
            fasteners: vec![(what, count * 2)],
            ..Group::default()
        })
    }
}
