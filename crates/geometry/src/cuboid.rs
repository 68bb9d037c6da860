//! The exact axis-parallel box.

use std::ops::{Add, Index, IndexMut, Neg, Sub};

use tape::{Length, Volume};

use crate::{Axis, Face, Faces};

/// Three extents, along x, y and z.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size(pub [Length; 3]);

/// A place in a frame, or a step from one place to another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point(pub [Length; 3]);

impl Size {
    /// The product of the three extents.
    pub fn volume(self) -> Volume {
        self.0[0] * self.0[1] * self.0[2]
    }
}

impl Index<Axis> for Size {
    type Output = Length;
    fn index(&self, axis: Axis) -> &Length {
        &self.0[axis.index()]
    }
}

impl IndexMut<Axis> for Size {
    fn index_mut(&mut self, axis: Axis) -> &mut Length {
        &mut self.0[axis.index()]
    }
}

impl Point {
    /// The origin, or no step at all.
    pub const ZERO: Self = Self([Length::ZERO; 3]);

    /// A step of `by` along `axis`.
    pub fn along(axis: Axis, by: Length) -> Self {
        let mut step = Self::ZERO;
        step[axis] = by;
        step
    }
}

impl Index<Axis> for Point {
    type Output = Length;
    fn index(&self, axis: Axis) -> &Length {
        &self.0[axis.index()]
    }
}

impl IndexMut<Axis> for Point {
    fn index_mut(&mut self, axis: Axis) -> &mut Length {
        &mut self.0[axis.index()]
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i] + other.0[i]))
    }
}

impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i] - other.0[i]))
    }
}

impl Neg for Point {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.map(|v| -v))
    }
}

/// An axis-parallel box from its low corner to its high corner. Never inside out: `lo <= hi` on each axis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cuboid {
    lo: Point,
    hi: Point,
}

impl Cuboid {
    /// The box between two opposite corners, given in any order.
    pub fn between(a: Point, b: Point) -> Self {
        Self {
            lo: Point(std::array::from_fn(|i| a.0[i].min(b.0[i]))),
            hi: Point(std::array::from_fn(|i| a.0[i].max(b.0[i]))),
        }
    }

    /// The box of `size` (no extent below zero) with its low corner at `lo`.
    pub fn at(lo: Point, size: Size) -> Self {
        Self::between(lo, lo + Point(size.0))
    }

    /// The corner with the smallest coordinates.
    pub const fn lo(&self) -> Point {
        self.lo
    }

    /// The corner with the largest coordinates.
    pub const fn hi(&self) -> Point {
        self.hi
    }

    /// The three extents.
    pub fn size(&self) -> Size {
        Size((self.hi - self.lo).0)
    }

    /// The coordinate of one face along its axis.
    pub fn face(&self, face: Face) -> Length {
        if face.is_high() {
            self.hi[face.axis()]
        } else {
            self.lo[face.axis()]
        }
    }

    /// The box moved by `step`.
    #[must_use]
    pub fn moved(&self, step: Point) -> Self {
        Self {
            lo: self.lo + step,
            hi: self.hi + step,
        }
    }

    /// The box with each face moved outward by its own amount (inward where negative); `None` when nothing is left.
    pub fn grown(&self, by: Faces<Length>) -> Option<Self> {
        let lo = self.lo - Point([by[Face::Front], by[Face::Left], by[Face::Bottom]]);
        let hi = self.hi + Point([by[Face::Rear], by[Face::Right], by[Face::Top]]);
        Axis::ALL.iter().all(|&a| lo[a] <= hi[a]).then_some(Self { lo, hi })
    }

    /// Whether the insides overlap; touching faces do not.
    pub fn overlaps(&self, other: &Self) -> bool {
        Axis::ALL
            .iter()
            .all(|&a| self.lo[a] < other.hi[a] && other.lo[a] < self.hi[a])
    }

    /// Whether `other` lies within this box; touching from inside is within.
    pub fn contains(&self, other: &Self) -> bool {
        Axis::ALL
            .iter()
            .all(|&a| self.lo[a] <= other.lo[a] && other.hi[a] <= self.hi[a])
    }

    /// The smallest box around both.
    #[must_use]
    pub fn hull(&self, other: &Self) -> Self {
        Self {
            lo: Point(std::array::from_fn(|i| self.lo.0[i].min(other.lo.0[i]))),
            hi: Point(std::array::from_fn(|i| self.hi.0[i].max(other.hi.0[i]))),
        }
    }

    /// The smallest box around all of them; `None` for none.
    pub fn hull_of(all: &[Self]) -> Option<Self> {
        all.iter().copied().reduce(|a, b| a.hull(&b))
    }

    /// The space that both take; `None` when they do not even touch.
    pub fn intersection(&self, other: &Self) -> Option<Self> {
        let lo = Point(std::array::from_fn(|i| self.lo.0[i].max(other.lo.0[i])));
        let hi = Point(std::array::from_fn(|i| self.hi.0[i].min(other.hi.0[i])));
        Axis::ALL.iter().all(|&a| lo[a] <= hi[a]).then_some(Self { lo, hi })
    }

    /// The free distance along `axis`: negative where the two reach past each other.
    pub fn gap_along(&self, other: &Self, axis: Axis) -> Length {
        (other.lo[axis] - self.hi[axis]).max(self.lo[axis] - other.hi[axis])
    }

    /// Whether one is over or under the other, or would be with both let down to one floor.
    pub fn shares_floor(&self, other: &Self) -> bool {
        let apart = [Axis::X, Axis::Y].map(|axis| self.gap_along(other, axis));
        apart.iter().all(|gap| gap.is_negative())
    }

    /// The largest free distance along any one axis: what a margin or a gap asks for. Negative when they overlap.
    pub fn separation(&self, other: &Self) -> Length {
        Axis::ALL
            .into_iter()
            .map(|a| self.gap_along(other, a))
            .fold(Length::from_nm(i64::MIN), Length::max)
    }
}
