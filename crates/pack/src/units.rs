//! Electrical quantities as whole small units, so that sums and limits compare exactly.

use std::ops::{Add, Mul, Sub};

/// Volts in whole millivolts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volts(i64);

/// Amps in whole milliamps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Amps(i64);

/// Amp-hours in whole milliamp-hours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AmpHours(i64);

/// Watt-hours in whole microwatt-hours (millivolts times milliamp-hours).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WattHours(i128);

macro_rules! thousandths {
    ($name:ident, $unit:literal, $milli:literal) => {
        impl $name {
            #[doc = concat!("`n` whole ", $milli, ".")]
            pub const fn from_milli(n: i64) -> Self {
                Self(n)
            }

            #[doc = concat!("The value in whole ", $milli, ".")]
            pub const fn milli(self) -> i64 {
                self.0
            }

            #[doc = concat!("The value in ", $unit, ", for printing and for formulas that need a float.")]
            #[expect(clippy::cast_precision_loss, reason = "far below 2^53 thousandths")]
            pub fn get(self) -> f64 {
                self.0 as f64 / 1000.0
            }

            #[doc = concat!("The nearest whole ", $milli, " to `value` ", $unit, "; saturates, NaN gives zero.")]
            #[expect(clippy::cast_possible_truncation, reason = "float to integer casts saturate, as documented")]
            pub fn nearest(value: f64) -> Self {
                Self((value * 1000.0).round() as i64)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Mul<u32> for $name {
            type Output = Self;
            fn mul(self, times: u32) -> Self {
                Self(self.0 * i64::from(times))
            }
        }
    };
}

thousandths!(Volts, "volts", "millivolts");
thousandths!(Amps, "amps", "milliamps");
thousandths!(AmpHours, "amp-hours", "milliamp-hours");

impl Mul<AmpHours> for Volts {
    type Output = WattHours;
    fn mul(self, capacity: AmpHours) -> WattHours {
        WattHours(i128::from(self.0) * i128::from(capacity.0))
    }
}

impl WattHours {
    /// The energy in watt-hours.
    #[expect(clippy::cast_precision_loss, reason = "only printed")]
    pub fn get(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The energy in kilowatt-hours.
    pub fn kwh(self) -> f64 {
        self.get() / 1000.0
    }
}

impl Add for WattHours {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Mul<u32> for WattHours {
    type Output = Self;
    fn mul(self, times: u32) -> Self {
        Self(self.0 * i128::from(times))
    }
}
