//! The one place where the floats of a fitted cuboid become whole nanometres: space shrinks, uncertainty grows.

use crate::Length;

/// How far the floats may be off, in mm: a hundredth of a nanometre. A figure that near to a whole nanometre is that.
const NOISE_MM: f64 = 1e-8;

/// A cuboid along the axes of a cavity, in whole nanometres from their origin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Space {
    /// The corner at the front, left and bottom.
    pub lo: [Length; 3],
    /// The corner at the rear, right and top.
    pub hi: [Length; 3],
}

impl Space {
    /// Length, width and height.
    pub fn size(&self) -> [Length; 3] {
        std::array::from_fn(|axis| self.hi[axis] - self.lo[axis])
    }

    /// The largest cuboid inside of these corners, in mm; a side may be zero.
    pub(super) fn inside(lo: [f64; 3], hi: [f64; 3]) -> Self {
        let lo = lo.map(|mm| Length::from_mm_up(mm - NOISE_MM));
        let hi = hi.map(|mm| Length::from_mm_down(mm + NOISE_MM));
        Self {
            lo,
            hi: std::array::from_fn(|axis| hi[axis].max(lo[axis])),
        }
    }

    /// A cuboid of this size with its low corner nearest to `lo`, in mm.
    pub(super) fn nearest(lo: [f64; 3], size: [Length; 3]) -> Self {
        let lo = lo.map(Length::from_mm);
        Self {
            lo,
            hi: std::array::from_fn(|axis| lo[axis] + size[axis]),
        }
    }
}

/// What there is of a distance, in mm.
pub(super) fn distance(mm: f64) -> Length {
    Length::from_mm_down(mm + NOISE_MM)
}

/// What there is of a standard uncertainty, in mm.
pub(super) fn uncertainty(mm: f64) -> Length {
    Length::from_mm_up(mm - NOISE_MM)
}
