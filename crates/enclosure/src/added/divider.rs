//! A wall across the box, between rows of modules.

use tape::Length;

use super::joined::fillet;
use super::{AddedError, Group, Piece, above_zero, apart, level, within};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Part, Role, Sheet, Wall};

/// Walls of sheet from side to side, standing on the floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Divider {
    /// The axis they stand across: 0 for walls along the width, 1 for walls along the length.
    pub across: usize,
    /// The near face of each, along that axis.
    pub places: Vec<Length>,
    /// How high they are.
    pub height: Length,
    /// Material and thickness.
    pub sheet: Sheet,
    /// Whether they are set in loose, between the modules; else they are welded to floor and walls, on one face.
    pub loose: bool,
}

impl Divider {
    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for a wall outside the box, higher than it, without thickness, or in another.
    pub fn group(&self, spec: &BoxSpec) -> Result<Group, AddedError> {
        let t = self.sheet.thickness;
        above_zero("dividers, thickness", t)?;
        let [axis, along] = [self.across, 1 - self.across];
        let range = [Length::from_nm(1), spec.inside[2]];
        within("dividers, height", self.height, range, "they end below the rim")?;
        for &place in &self.places {
            let room = [Length::ZERO, spec.inside[axis] - t];
            within("dividers, place", place, room, "they stand inside the box")?;
        }
        apart("dividers, from one to the next", &self.places, t)?;
        let length = spec.inside[along];
        let [long, short] = [length.max(self.height), length.min(self.height)];
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let part = Part::plate(Role::Divider, count, self.sheet, [long, short]);
        let piece = |&place: &Length| Piece {
            part: 0,
            role: Role::Divider,
            block: level(
                axis,
                [place, place + t],
                [Length::ZERO, length],
                [Length::ZERO, self.height],
            ),
            thin: axis,
        };
        let wall = if along == 0 { Wall::Front } else { Wall::Left };
        let seam = |wall, place, length, count| {
            let where_it_runs = (At::Divider, Form::Tee, place);
            fillet(
                spec,
                (Role::Divider, t),
                (wall, Side::Inside),
                where_it_runs,
                (length, count),
            )
        };
        let seams = if self.loose {
            Vec::new()
        } else {
            vec![
                seam(Wall::Floor, "along the foot, on one face", length, count),
                seam(wall, "up both ends, on one face", self.height, count * 2),
            ]
        };
        Ok(Group {
            seams,
            pieces: self.places.iter().map(piece).collect(),
            parts: vec![part],
            ..Group::default()
        })
    }
}
