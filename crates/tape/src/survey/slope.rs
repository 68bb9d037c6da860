//! Numbers that carry their slopes along, so that a formula gives its derivatives too.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Most coordinates that one formula may depend on: those of four points.
pub(super) const SLOPES: usize = 12;

/// A number and how it changes with each of up to twelve others.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sloped {
    pub(super) value: f64,
    pub(super) slopes: [f64; SLOPES],
}

impl Sloped {
    /// The other number at `index` itself.
    pub(super) fn variable(value: f64, index: usize) -> Self {
        let mut slopes = [0.0; SLOPES];
        slopes[index] = 1.0;
        Self { value, slopes }
    }

    /// The square root; its slopes are zero where the number is.
    pub(super) fn sqrt(self) -> Self {
        let value = self.value.sqrt();
        let by = if value > 0.0 { 0.5 / value } else { 0.0 };
        self.mapped(value, by)
    }

    fn mapped(self, value: f64, by: f64) -> Self {
        let slopes = self.slopes.map(|slope| slope * by);
        Self { value, slopes }
    }

    fn mixed(self, other: Self, value: f64, [by, other_by]: [f64; 2]) -> Self {
        let slopes = std::array::from_fn(|i| self.slopes[i] * by + other.slopes[i] * other_by);
        Self { value, slopes }
    }
}

impl Add for Sloped {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.mixed(other, self.value + other.value, [1.0, 1.0])
    }
}

impl Sub for Sloped {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.mixed(other, self.value - other.value, [1.0, -1.0])
    }
}

impl Mul for Sloped {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.mixed(other, self.value * other.value, [other.value, self.value])
    }
}

impl Div for Sloped {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        self.mixed(other, value, [1.0 / other.value, -value / other.value])
    }
}

impl Neg for Sloped {
    type Output = Self;
    fn neg(self) -> Self {
        self.mapped(-self.value, -1.0)
    }
}

/// Three such numbers: a vector.
pub(super) type Vector = [Sloped; 3];

/// `a - b`.
pub(super) fn from_to(a: &Vector, b: &Vector) -> Vector {
    std::array::from_fn(|i| b[i] - a[i])
}

/// `a · b`.
pub(super) fn dot(a: &Vector, b: &Vector) -> Sloped {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// `a × b`.
pub(super) fn cross(a: &Vector, b: &Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// The length of a vector.
pub(super) fn length(a: &Vector) -> Sloped {
    dot(a, a).sqrt()
}
