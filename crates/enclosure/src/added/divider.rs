//! A wall across the box, between rows of modules.

use tape::Length;

use super::joined::fillet;
use super::{AddedError, Group, Piece, above_zero, apart, level, within};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Construction, Part, Role, Sheet, Wall};

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
    /// How thick the liner is that they stand on and between: zero without one, and for those that part it.
    pub liner: Length,
}

/// What a cut corner leaves beside a bend (common practice, no source).
const CLEAR: Length = Length::mm(1);

impl Divider {
    /// How much its lower corners lack along foot and end: the radius of the bend between floor and walls and a millimetre, in
    /// whole halves of one. The straight cut from tangent to tangent lies within the bend.
    pub fn corner(spec: &BoxSpec) -> Length {
        match spec.construction {
            Construction::Folded(folding) => (folding.radius + CLEAR).round_up_to(Length::tenths_mm(5)),
            Construction::Welded | Construction::Framed(_) => Length::ZERO,
        }
    }

    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for a wall outside the box, higher than it, without thickness, or in another.
    pub fn group(&self, spec: &BoxSpec) -> Result<Group, AddedError> {
        let t = self.sheet.thickness;
        above_zero("dividers, thickness", t)?;
        let [axis, along] = [self.across, 1 - self.across];
        let range = [Length::from_nm(1), spec.inside[2] - self.liner];
        within("dividers, height", self.height, range, "they end below the rim")?;
        for &place in &self.places {
            let room = [self.liner, spec.inside[axis] - t - self.liner];
            within("dividers, place", place, room, "they stand inside the box")?;
        }
        apart("dividers, from one to the next", &self.places, t)?;
        let length = spec.inside[along] - self.liner * 2;
        above_zero("dividers, length within the liner", length)?;
        let [long, short] = [length.max(self.height), length.min(self.height)];
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let mut part = Part::plate(Role::Divider, count, self.sheet, [long, short]);
        // The liner is bent round no corner.
        let corner = Self::corner(spec) * i64::from(self.liner == Length::ZERO);
        let cut = corner.min(short.half_down());
        if cut > Length::ZERO {
            // Its foot lies along the longer side, or it stands on the shorter one.
            part.cut_corners(cut, length >= self.height);
        }
        let piece = |&place: &Length| Piece {
            part: 0,
            role: Role::Divider,
            block: level(
                axis,
                [place, place + t],
                [self.liner, self.liner + length],
                [self.liner, self.liner + self.height],
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
                seam(Wall::Floor, "along the foot, on one face", length - cut * 2, count),
                seam(wall, "up both ends, on one face", self.height - cut, count * 2),
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
