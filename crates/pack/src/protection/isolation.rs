//! Insulation between the pack and the chassis.

use crate::source::Source;

/// Why so many ohms per volt.
pub const SOURCE: Source = Source::found(
    "UN R100 5.1.3: 500 ohm/V where dc and ac are joined, 100 ohm/V for dc apart or with doubled insulation on the ac \
     side",
);
/// How it is measured.
pub const METHOD_SOURCE: Source =
    Source::found("UN R100 annex, method with the pack as the dc source; meter of 10 Mohm or more");

/// The least insulation resistance, kilohms: `ohms per volt x volts`. The volts are the full ones.
pub fn least_kohm(volts: f64, ohms_per_volt: f64) -> f64 {
    volts * ohms_per_volt / 1000.0
}

/// The pole of the larger reading: the known resistor goes from it to the chassis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pole {
    /// Minus.
    Minus,
    /// Plus.
    Plus,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// Pack volts.
    pub pack: f64,
    /// Minus to chassis, volts.
    pub minus: f64,
    /// Plus to chassis, volts.
    pub plus: f64,
    /// The known resistor, kilohms.
    pub resistor_kohm: f64,
    /// The larger of the two again, with the resistor across it, volts.
    pub with_resistor: f64,
}

impl Readings {
    /// Across which pole the resistor goes; minus when both read the same.
    pub fn across(&self) -> Pole {
        if self.plus > self.minus {
            Pole::Plus
        } else {
            Pole::Minus
        }
    }

    /// The insulation resistance, kilohms: `Ro Vb (1 / V' - 1 / V)`, `V` being the larger reading. `None` when a
    /// reading is not above zero, or the resistor did not bring it down.
    ///
    /// Source: [`METHOD_SOURCE`]. With a perfect meter it is exactly the smaller of the two legs.
    pub fn kohm(&self) -> Option<f64> {
        let before = self.plus.max(self.minus);
        let possible = self.with_resistor > 0.0 && before > self.with_resistor && self.pack > 0.0;
        possible.then(|| self.resistor_kohm * self.pack * (1.0 / self.with_resistor - 1.0 / before))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Two legs to the chassis as a divider, read with a perfect meter.
    fn read(pack: f64, plus_leg: f64, minus_leg: f64, resistor: f64) -> Readings {
        let beside = |a: f64, b: f64| a * b / (a + b);
        let (plus, minus) = (
            pack * plus_leg / (plus_leg + minus_leg),
            pack * minus_leg / (plus_leg + minus_leg),
        );
        let with_resistor = if plus > minus {
            let leg = beside(plus_leg, resistor);
            pack * leg / (leg + minus_leg)
        } else {
            let leg = beside(minus_leg, resistor);
            pack * leg / (leg + plus_leg)
        };
        Readings {
            pack,
            minus,
            plus,
            resistor_kohm: resistor,
            with_resistor,
        }
    }

    proptest! {
        #[test]
        fn with_a_perfect_meter_it_is_the_smaller_leg(
            pack in 60.0..900.0_f64, plus in 1.0..5_000.0_f64, minus in 1.0..5_000.0_f64, ro in 10.0..1_000.0_f64,
        ) {
            let found = read(pack, plus, minus, ro).kohm().unwrap();
            prop_assert!((found / plus.min(minus) - 1.0).abs() < 1e-6, "{found}");
        }
    }

    #[test]
    fn a_reading_that_did_not_fall_tells_nothing() {
        let mut readings = read(380.0, 150.0, 600.0, 190.0);
        readings.with_resistor = readings.minus;
        assert_eq!(readings.kohm(), None);
    }
}
