//! The exact length, and the areas and volumes made of it.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length in whole nanometres, also used for positions, so it may be negative.
///
/// 1/64 in is 396 875 nm and 0.1 mm is 100 000 nm, so a tape reading in either system is stored exactly and sums
/// never drift. (1 in = 25.4 mm exactly.)
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// Nanometres in one inch.
const INCH: i64 = 25_400_000;
/// Nanometres in one millimetre.
const MILLIMETRE: i64 = 1_000_000;
const MILLIMETRE_F64: f64 = 1e6;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// `n` nanometres.
    pub const fn from_nm(n: i64) -> Self {
        Self(n)
    }

    /// `n` whole millimetres.
    pub const fn mm(n: i64) -> Self {
        Self(n * MILLIMETRE)
    }

    /// `n` tenths of a millimetre.
    pub const fn tenths_mm(n: i64) -> Self {
        Self(n * (MILLIMETRE / 10))
    }

    /// `n` whole inches.
    pub const fn inches(n: i64) -> Self {
        Self(n * INCH)
    }

    /// `n` sixty-fourths of an inch, the finest mark on the tape.
    pub const fn sixty_fourths(n: i64) -> Self {
        Self(n * (INCH / 64))
    }

    /// The length in nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The length in millimetres, for formulas that need a float.
    #[expect(clippy::cast_precision_loss, reason = "lengths stay far below 2^53 nm = 9 000 km")]
    pub fn as_mm(self) -> f64 {
        self.0 as f64 / MILLIMETRE_F64
    }

    /// The length in inches, for formulas that need a float.
    #[expect(clippy::cast_precision_loss, reason = "lengths stay far below 2^53 nm = 9 000 km")]
    pub fn as_inches(self) -> f64 {
        self.0 as f64 / INCH as f64
    }

    /// The nearest length to `mm` millimetres; saturates at the ends of the range, NaN gives zero.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "float to integer casts saturate, as documented"
    )]
    pub fn from_mm(mm: f64) -> Self {
        Self((mm * MILLIMETRE_F64).round() as i64)
    }

    /// The largest whole number of nanometres not above `mm`: for space the builder *has*.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "float to integer casts saturate, as documented"
    )]
    pub fn from_mm_down(mm: f64) -> Self {
        Self((mm * MILLIMETRE_F64).floor() as i64)
    }

    /// The smallest whole number of nanometres not below `mm`: for space a part *takes*.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "float to integer casts saturate, as documented"
    )]
    pub fn from_mm_up(mm: f64) -> Self {
        Self((mm * MILLIMETRE_F64).ceil() as i64)
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether the length is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Half the length, rounded down (towards negative).
    #[must_use]
    pub const fn half_down(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// Largest whole number of `step`s not above `self`; `step` must be above zero.
    ///
    /// For space the builder *has*; [`Length::round_up_to`] is for space a part *takes*. Rounding must never
    /// invent clearance.
    #[must_use]
    pub const fn round_down_to(self, step: Self) -> Self {
        Self(self.0.div_euclid(step.0) * step.0)
    }

    /// Smallest whole number of `step`s not below `self`; `step` must be above zero.
    #[must_use]
    pub const fn round_up_to(self, step: Self) -> Self {
        Self(-((-self.0).div_euclid(step.0) * step.0))
    }

    /// Nearest whole number of `step`s, halves upward; `step` must be above zero.
    #[must_use]
    pub const fn round_to(self, step: Self) -> Self {
        Self((self.0 + step.0 / 2).div_euclid(step.0) * step.0)
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(i128::from(self.0) * i128::from(other.0))
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// An area in square nanometres; 128 bits, since 3.04 m x 3.04 m already overflows 64.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Area(i128);

impl Area {
    /// Half of it, rounded down.
    #[must_use]
    pub const fn half_down(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// The area in square nanometres.
    pub const fn nm2(self) -> i128 {
        self.0
    }

    /// The area in square millimetres.
    #[expect(clippy::cast_precision_loss, reason = "only printed or multiplied by a density")]
    pub fn as_mm2(self) -> f64 {
        self.0 as f64 / 1e12
    }

    /// The area in square metres.
    pub fn as_m2(self) -> f64 {
        self.as_mm2() / 1e6
    }
}

impl Add for Area {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Area {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<i64> for Area {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * i128::from(times))
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Self>>(areas: I) -> Self {
        areas.fold(Self::default(), Add::add)
    }
}

impl Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, depth: Length) -> Volume {
        Volume(self.0 * i128::from(depth.nm()))
    }
}

/// A volume in cubic nanometres. Exact up to about 5 m x 5 m x 5 m in 128 bits and far beyond.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(i128);

impl Volume {
    /// The volume in cubic nanometres.
    pub const fn nm3(self) -> i128 {
        self.0
    }

    /// The volume in cubic millimetres.
    #[expect(clippy::cast_precision_loss, reason = "only printed or multiplied by a density")]
    pub fn as_mm3(self) -> f64 {
        self.0 as f64 / 1e18
    }
}

impl Add for Volume {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Volume {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<i64> for Volume {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * i128::from(times))
    }
}

impl Sum for Volume {
    fn sum<I: Iterator<Item = Self>>(volumes: I) -> Self {
        volumes.fold(Self::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sixty_fourth_of_an_inch_and_a_tenth_of_a_millimetre_are_whole_nanometres() {
        assert_eq!(Length::sixty_fourths(64), Length::inches(1));
        assert_eq!(Length::sixty_fourths(1).nm(), 396_875);
        assert_eq!(Length::tenths_mm(254), Length::inches(1));
    }

    #[test]
    fn rounding_goes_the_way_it_says_on_both_sides_of_zero() {
        let step = Length::mm(10);
        assert_eq!(Length::mm(-11).round_down_to(step), Length::mm(-20));
        assert_eq!(Length::mm(-11).round_up_to(step), Length::mm(-10));
        assert_eq!(Length::mm(11).round_up_to(step), Length::mm(20));
        assert_eq!(Length::mm(10).round_up_to(step), Length::mm(10));
        assert_eq!(Length::mm(14).round_to(step), Length::mm(10));
        assert_eq!(Length::mm(15).round_to(step), Length::mm(20));
    }

    #[test]
    fn a_volume_of_metres_does_not_overflow() {
        let side = Length::mm(5_000);
        assert!((((side * side) * side).as_mm3() - 1.25e11).abs() < 1.0);
    }
}
