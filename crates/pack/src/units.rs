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

/// Resistance in whole nano-ohms.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ohms(i64);

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
            #[expect(
                clippy::cast_possible_truncation,
                reason = "float to integer casts saturate, as documented"
            )]
            pub fn nearest(value: f64) -> Self {
                Self((value * 1000.0).round() as i64)
            }

            #[doc = concat!("The value in ", $unit, " as text without the unit: at most `decimals` decimals (no more ")]
            #[doc = "than 3), rounded to the nearest, halves away from zero, without zeros at the end."]
            pub fn shown(self, decimals: usize) -> String {
                shown_thousandths(self.0, decimals)
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

/// Written out in integers, so that 0.05 never becomes 0.0 for being a hair less as a float.
fn shown_thousandths(thousandths: i64, decimals: usize) -> String {
    let step: u64 = [1000, 100, 10, 1][decimals.min(3)];
    let rounded = (thousandths.unsigned_abs() + step / 2) / step * step;
    let sign = if thousandths < 0 && rounded > 0 { "-" } else { "" };
    let text = format!("{sign}{}.{:03}", rounded / 1000, rounded % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
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
    /// `n` whole microwatt-hours.
    pub const fn from_micro(n: i128) -> Self {
        Self(n)
    }

    /// The energy in whole microwatt-hours.
    pub const fn micro(self) -> i128 {
        self.0
    }

    /// The nearest whole microwatt-hour to `value` watt-hours; saturates, NaN gives zero.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "float to integer casts saturate, as documented"
    )]
    pub fn nearest(value: f64) -> Self {
        Self((value * 1e6).round() as i128)
    }

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

impl Ohms {
    /// `n` whole nano-ohms.
    pub const fn from_nano(n: i64) -> Self {
        Self(n)
    }

    /// The resistance in whole nano-ohms.
    pub const fn nano(self) -> i64 {
        self.0
    }

    /// The resistance in milliohms.
    #[expect(clippy::cast_precision_loss, reason = "far below 2^53 nano-ohms")]
    pub fn milliohms(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The nearest whole nano-ohm to `value` milliohms; saturates, NaN gives zero.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "float to integer casts saturate, as documented"
    )]
    pub fn nearest_milliohms(value: f64) -> Self {
        Self((value * 1e6).round() as i64)
    }

    /// What `paths` equal paths of this resistance resist together, to the nearest nano-ohm; no path counts as one.
    #[must_use]
    pub fn shared_by(self, paths: u32) -> Self {
        let paths = i64::from(paths.max(1));
        Self((self.0 + paths / 2).div_euclid(paths))
    }
}

impl Add for Ohms {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Mul<u32> for Ohms {
    type Output = Self;
    fn mul(self, times: u32) -> Self {
        Self(self.0 * i64::from(times))
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(170_400, 1, "170.4")]
    #[case(160_000, 1, "160")]
    #[case(3_650, 1, "3.7")]
    #[case(3_650, 2, "3.65")]
    #[case(3_050, 3, "3.05")]
    #[case(50, 1, "0.1")]
    #[case(49, 1, "0")]
    #[case(-49, 1, "0")]
    #[case(-50, 1, "-0.1")]
    #[case(100_000, 0, "100")]
    #[case(1_234, 9, "1.234")]
    fn shows_no_more_than_it_must(#[case] milli: i64, #[case] decimals: usize, #[case] text: &str) {
        assert_eq!(Volts::from_milli(milli).shown(decimals), text);
    }

    #[test]
    fn volts_times_amp_hours_are_watt_hours() {
        let energy = Volts::nearest(128.0) * AmpHours::nearest(210.0);
        assert_eq!(energy, WattHours::nearest(26_880.0));
        assert_eq!(energy.micro(), 26_880_000_000);
    }
}
