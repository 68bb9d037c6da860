//! Numbers that carry their derivatives.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A figure and how it changes with the three coordinates of one corner.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Jet {
    pub(super) value: f64,
    pub(super) slope: [f64; 3],
}

/// Three jets: a point or a direction.
pub(super) type Vector = [Jet; 3];

impl Jet {
    /// A figure that does not depend on the corner.
    pub(super) fn fixed(value: f64) -> Self {
        Self { value, slope: [0.0; 3] }
    }

    /// Coordinate `axis` of the corner itself.
    pub(super) fn coordinate(value: f64, axis: usize) -> Self {
        let mut jet = Self::fixed(value);
        jet.slope[axis] = 1.0;
        jet
    }

    /// A value that changes by so much with each of these.
    fn of<const N: usize>(value: f64, changes: [(Self, f64); N]) -> Self {
        let slope = |axis: usize| changes.iter().map(|(jet, by)| jet.slope[axis] * by).sum();
        Self {
            value,
            slope: std::array::from_fn(slope),
        }
    }

    fn sqrt(self) -> Self {
        let root = self.value.sqrt();
        Self::of(root, [(self, 0.5 / root)])
    }
}

impl Add for Jet {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::of(self.value + other.value, [(self, 1.0), (other, 1.0)])
    }
}

impl Sub for Jet {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::of(self.value - other.value, [(self, 1.0), (other, -1.0)])
    }
}

impl Neg for Jet {
    type Output = Self;
    fn neg(self) -> Self {
        Self::of(-self.value, [(self, -1.0)])
    }
}

impl Mul for Jet {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::of(self.value * other.value, [(self, other.value), (other, self.value)])
    }
}

impl Div for Jet {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let (value, inverse) = (self.value / other.value, 1.0 / other.value);
        Self::of(value, [(self, inverse), (other, -value * inverse)])
    }
}

/// From `from` to `to`.
pub(super) fn between(from: Vector, to: Vector) -> Vector {
    std::array::from_fn(|axis| to[axis] - from[axis])
}

/// The scalar product.
pub(super) fn dot(a: Vector, b: Vector) -> Jet {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The vector product.
pub(super) fn cross(a: Vector, b: Vector) -> Vector {
    std::array::from_fn(|axis| {
        let (next, last) = ((axis + 1) % 3, (axis + 2) % 3);
        a[next] * b[last] - a[last] * b[next]
    })
}

/// The same direction at length one.
pub(super) fn unit(a: Vector) -> Vector {
    let length = dot(a, a).sqrt();
    a.map(|part| part / length)
}
