//! American wire gauge.

use std::fmt;
use std::str::FromStr;

use crate::source::Source;

/// A gauge number: 0 is written 1/0, -1 is 2/0, -3 is 4/0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Awg(i32);

/// Where diameters come from.
pub const SOURCE: Source = Source::found("ASTM B258-02 as quoted in an encyclopaedia: 0.127 mm x 92^((36 - n) / 39)");

impl Awg {
    /// Gauges from 4/0 to 40.
    pub const fn new(number: i32) -> Option<Self> {
        if number >= -3 && number <= 40 {
            Some(Self(number))
        } else {
            None
        }
    }

    /// Diameter of the solid round wire: `0.127 mm x 92^((36 - n) / 39)`.
    ///
    /// Source: [`SOURCE`].
    pub fn diameter_mm(self) -> f64 {
        0.127 * 92_f64.powf(f64::from(36 - self.0) / 39.0)
    }

    /// Area of the solid round wire.
    pub fn area_mm2(self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.diameter_mm().powi(2)
    }

    /// Resistance of a copper wire at 20 C, ohm per km.
    pub fn ohm_per_km(self) -> f64 {
        1000.0 * super::Metal::Copper.resistivity() / self.area_mm2()
    }
}

impl fmt::Display for Awg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 <= 0 {
            write!(f, "{}/0", 1 - self.0)
        } else {
            write!(f, "{}", self.0)
        }
    }
}

impl FromStr for Awg {
    type Err = ();

    /// `4/0` to `1/0`, or `0` and `1` to `40`; also `0000` to `0`.
    fn from_str(text: &str) -> Result<Self, ()> {
        let text = text.trim();
        let zeros = !text.is_empty() && text.len() <= 4 && text.bytes().all(|b| b == b'0');
        let number = match text.strip_suffix("/0") {
            Some(n) => 1 - n.parse::<i32>().ok().filter(|n| (1..=4).contains(n)).ok_or(())?,
            None if zeros => 1 - i32::try_from(text.len()).map_err(|_| ())?,
            None => text.parse::<i32>().ok().filter(|n| *n > 0).ok_or(())?,
        };
        Self::new(number).ok_or(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_gauge_reads_back() {
        for number in -3..=40 {
            let gauge = Awg::new(number).unwrap();
            assert_eq!(gauge.to_string().parse(), Ok(gauge));
        }
        assert_eq!("000".parse(), Ok(Awg(-2)));
        for wrong in ["5/0", "0/0", "41", "-1", "", "00000", "x"] {
            assert_eq!(wrong.parse::<Awg>(), Err(()), "{wrong}");
        }
    }
}
