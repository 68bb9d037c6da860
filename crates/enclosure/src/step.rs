//! A step in the underside of a box: at one wall it is less deep, so that it clears a crossmember.

use tape::Length;

use crate::{BoxSpec, Construction, Lid, SpecError, Vertex, Wall};

/// A step: at a wall, over a length from the outside of the body, the underside is higher.
///
/// Walls are of one thickness, so the run holds inside the steel and inside the liner as well, from the wall at the step to
/// the riser; and the raised floor is as thick as the deep one, so the rise does too.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Step {
    /// The wall where the box is less deep: one of the four upright ones.
    pub at: Wall,
    /// How far it runs in, from the outside of that wall to the outside of the riser.
    pub run: Length,
    /// How much higher the underside is there.
    pub rise: Length,
}

impl Step {
    /// The axis it runs in along: 0 for length, 1 for width.
    pub const fn axis(&self) -> usize {
        match self.at {
            Wall::Left | Wall::Right => 1,
            Wall::Front | Wall::Rear | Wall::Floor | Wall::Lid | Wall::Riser => 0,
        }
    }

    /// Whether it is where that axis ends.
    pub const fn is_high(&self) -> bool {
        matches!(self.at, Wall::Rear | Wall::Right)
    }

    /// The block that a space of this size lacks because of it, by its two far corners: of the outside of the body, of the
    /// space inside the steel or of that inside the liner, each told from its own front-left-bottom corner.
    pub fn block(&self, size: [Length; 3]) -> [[Length; 3]; 2] {
        let axis = self.axis();
        let (mut lo, mut hi) = ([Length::ZERO; 3], size);
        hi[2] = self.rise;
        if self.is_high() {
            lo[axis] = size[axis] - self.run;
        } else {
            hi[axis] = self.run;
        }
        [lo, hi]
    }

    /// A range told from the wall at it, of an inside (or outside) this long, from where that begins.
    pub(crate) fn at_its_wall(&self, [from, to]: [Length; 2], side: Length) -> [Length; 2] {
        if self.is_high() {
            [side - to, side - from]
        } else {
            [from, to]
        }
    }

    /// Whether a range along its axis lies wholly over the raised floor; `None` where it lies over both.
    pub(crate) fn is_over(&self, [from, to]: [Length; 2], inside: Length) -> Option<bool> {
        let [near, far] = if self.is_high() {
            [inside - to, inside - from]
        } else {
            [from, to]
        };
        if far <= self.run {
            Some(true)
        } else if near >= self.run {
            Some(false)
        } else {
            None
        }
    }

    /// Checks it in a box that is sound without it.
    ///
    /// # Errors
    ///
    /// The first thing that does not go: construction, wall, run, rise.
    pub(crate) fn check(&self, spec: &BoxSpec) -> Result<(), SpecError> {
        if spec.construction != Construction::Welded || spec.frame.is_some() {
            return Err(SpecError::StepNotWelded);
        }
        if matches!(self.at, Wall::Floor | Wall::Lid | Wall::Riser) {
            return Err(SpecError::StepWall { given: self.at.name() });
        }
        let mark = Length::from_nm(1);
        let size = |what, given: Length, above: Length, below: Length, mend| {
            if given > above && given < below {
                return Ok(());
            }
            Err(SpecError::StepSize {
                what,
                given,
                above,
                below: below.max(above + mark),
                mend,
            })
        };
        size(
            "runs in",
            self.run,
            spec.wall.thickness,
            spec.inside[self.axis()],
            "leave the deep part some of the length",
        )?;
        size(
            "rises",
            self.rise,
            spec.floor.thickness,
            spec.inside[2] - under_rim(spec),
            "leave the wall over it room for what stands at the rim",
        )
    }
}

/// What flange or skirt take of the height inside, from the rim down.
fn under_rim(spec: &BoxSpec) -> Length {
    match spec.lid {
        Lid::Flat {
            flange: Some(flange), ..
        } => flange.thickness,
        Lid::Cap {
            sheet, deep, gasket, ..
        } => (deep - sheet.thickness - crate::check::squeezed(gasket)).max(Length::ZERO),
        Lid::None | Lid::Flat { flange: None, .. } => Length::ZERO,
    }
}

/// The rectangle that a lower corner of a plate lacks: of the walls beside a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Notch {
    /// Whether it is at the far end of the length, not at its beginning.
    pub at_far_end: bool,
    /// Along the length, and up.
    pub size: [Length; 2],
}

impl Notch {
    /// The notch of an outline of six straight edges, whatever corner it begins with; `None` of any other.
    pub fn of(outline: &[Vertex]) -> Option<Self> {
        if outline.len() != 6 || outline.iter().any(|vertex| vertex.bulge != 0.0) {
            return None;
        }
        let length = outline.iter().map(|v| v.x).max()?;
        let width = outline.iter().map(|v| v.y).max()?;
        let inner = outline
            .iter()
            .find(|v| v.x > Length::ZERO && v.x < length && v.y > Length::ZERO && v.y < width)?;
        let at_far_end = !outline.iter().any(|v| v.x == length && v.y == Length::ZERO);
        let along = if at_far_end { length - inner.x } else { inner.x };
        Some(Self {
            at_far_end,
            size: [along, inner.y],
        })
    }

    /// The outline of a plate of this size that lacks it, anticlockwise.
    pub(crate) fn outline(self, [length, width]: [Length; 2]) -> Vec<Vertex> {
        let zero = Length::ZERO;
        let [along, up] = self.size;
        let corners = if self.at_far_end {
            let inner = length - along;
            [
                [zero, zero],
                [inner, zero],
                [inner, up],
                [length, up],
                [length, width],
                [zero, width],
            ]
        } else {
            [
                [along, zero],
                [length, zero],
                [length, width],
                [zero, width],
                [zero, up],
                [along, up],
            ]
        };
        crate::part::outline(corners)
    }

    /// Seen from the other face.
    #[must_use]
    pub(crate) const fn turned_over(self) -> Self {
        Self {
            at_far_end: !self.at_far_end,
            size: self.size,
        }
    }
}
