//! Backing plates under lifting eyes.

use tape::Length;

use super::divider::Divider;
use super::{AddedError, Block, Group, Piece, above_zero, around, at_wall, level, thin_axis, under_lid, within};
use crate::{BoxSpec, Built, Hole, Part, Purpose, Role, Sheet, Wall};

/// A square plate that lies on the inside of the sheet under the nut of an eye, and spreads its pull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EyePlate {
    /// The wall that the eye is in, floor or lid with them; no eye is let into a riser.
    pub wall: Wall,
    /// The middle of its hole on that wall, as of a [`crate::WallHole`]: along it, and up it; on floor and lid along the length, and
    /// along the width.
    pub at: [Length; 2],
    /// Its side.
    pub side: Length,
    /// The hole for the eye's thread.
    pub hole: Length,
    /// What one under the lid keeps off the walls inside, to go in with it at all.
    pub play: Length,
    /// Material and thickness.
    pub sheet: Sheet,
}

impl EyePlate {
    /// The part and its solid.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for a plate without size, one that its hole cuts in two, and one that stands in the walls round its own: beside
    /// a bend it keeps off the bend's inside radius.
    pub fn group(&self, spec: &BoxSpec, built: &Built) -> Result<Group, AddedError> {
        above_zero("backing plate, thickness", self.sheet.thickness)?;
        above_zero("backing plate, hole", self.hole)?;
        within(
            "backing plate, side",
            self.side,
            [self.hole + Length::from_nm(2), super::MOST],
            "it is as wide as the body of its eye: enter a wider one",
        )?;
        let edge = match self.wall {
            Wall::Lid => self.play,
            _ => Divider::corner(spec),
        };
        let half = self.side.half_down();
        for (what, axis, at) in [
            ("backing plate, middle along the wall", 0, self.at[0]),
            ("backing plate, middle up the wall", 1, self.at[1]),
        ] {
            let side = spec.inside[self.axes()[axis]];
            let room = [edge + half, side - edge - (self.side - half)];
            within(what, at, room, "move the eye, or enter a narrower body")?;
        }
        let middle = half;
        let mut part = Part::plate(Role::EyePlate, 1, self.sheet, [self.side; 2]);
        part.holes = vec![Hole {
            x: middle,
            y: middle,
            diameter: self.hole,
            purpose: Purpose::LiftingEye,
        }];
        Ok(Group {
            parts: vec![part],
            pieces: vec![Piece {
                part: 0,
                role: Role::EyePlate,
                block: self.block(spec, built),
                thin: match self.wall {
                    Wall::Floor | Wall::Lid => 2,
                    wall => thin_axis(wall),
                },
            }],
            ..Group::default()
        })
    }

    /// The axes that its place is told along.
    const fn axes(&self) -> [usize; 2] {
        match self.wall {
            Wall::Front | Wall::Rear => [1, 2],
            Wall::Left | Wall::Right | Wall::Riser => [0, 2],
            Wall::Floor | Wall::Lid => [0, 1],
        }
    }

    fn block(&self, spec: &BoxSpec, built: &Built) -> Block {
        let t = self.sheet.thickness;
        let [one, other] = self.at.map(|at| around(at, self.side));
        match self.wall {
            Wall::Lid => {
                let under = under_lid(spec, built);
                level(0, one, other, [under - t, under])
            }
            Wall::Floor => {
                // Half over a step it lies on neither floor: on the deep one it is found to stand in the step.
                let raised = built.step.filter(|step| {
                    let along = [one, other][step.axis()];
                    step.is_over(along, spec.inside[step.axis()]) == Some(true)
                });
                let floor = raised.map_or(Length::ZERO, |step| step.rise);
                level(0, one, other, [floor, floor + t])
            }
            wall => at_wall(spec, wall, one, [-t, Length::ZERO], other),
        }
    }
}
