//! How long a bolt, screw or stud has to be for what it clamps.

use tape::Length;

use super::{Bolt, Pitch};
use crate::KnownBy;

/// Lengths that metric bolts are sold in, millimetres: the nominal lengths of ISO 888, by memory.
const METRIC_MM: [i64; 32] = [
    6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200,
    220, 240, 260, 280, 300,
];

/// Lengths that inch bolts are sold in, quarters of an inch: common practice, no source.
const QUARTERS: [i64; 22] = [
    2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, 20, 22, 24, 28, 32, 40,
];

/// Where lengths and washers come from.
pub const LENGTHS_SOURCE: &str =
    "nominal lengths of ISO 888, common inch lengths; washers of ISO 7089 and the SAE series";
/// How they are known.
pub const LENGTHS_KNOWN_BY: KnownBy = KnownBy::Memory;

impl Bolt {
    /// From thread to thread.
    pub fn pitch_length(&self) -> Length {
        match self.pitch {
            Pitch::Metric(pitch) => pitch,
            Pitch::PerInch(threads) => Length::from_mm_up(25.4 / f64::from(threads)),
        }
    }

    /// Thickness of a plain washer: a fifth of the thread, rounded up to half a millimetre; 0.065 in to 7/16 in and
    /// 0.095 in beyond.
    ///
    /// Source: ISO 7089 (1 to 3 mm for M5 to M16) and the SAE series, by memory; the metric rule is never below them.
    pub fn washer(&self) -> Length {
        match self.pitch {
            Pitch::Metric(_) => Length::from_mm_up(self.diameter.as_mm() / 5.0).round_up_to(Length::tenths_mm(5)),
            Pitch::PerInch(_) if self.diameter < Length::sixty_fourths(32) => Length::from_nm(65 * 25_400),
            Pitch::PerInch(_) => Length::from_nm(95 * 25_400),
        }
    }

    /// What a bolt has to measure under its head for this grip: a washer at each end, a nut, and two threads beyond it.
    pub fn needed_length(&self, grip: Length) -> Length {
        grip + self.washer() * 2 + self.nut_height + self.pitch_length() * 2
    }

    /// What a stud has to measure that has washer and nut at both ends.
    pub fn needed_stud(&self, grip: Length) -> Length {
        self.needed_length(grip) + self.nut_height + self.pitch_length() * 2
    }

    /// The shortest length on sale that is long enough; `None` when none is.
    pub fn on_sale(&self, needed: Length) -> Option<Length> {
        let long_enough = |length: &Length| *length >= needed;
        match self.pitch {
            Pitch::Metric(_) => METRIC_MM.map(Length::mm).into_iter().find(long_enough),
            Pitch::PerInch(_) => QUARTERS
                .map(|n| Length::sixty_fourths(n * 16))
                .into_iter()
                .find(long_enough),
        }
    }

    /// The bolt of the list with exactly this thread.
    pub fn of_thread(diameter: Length) -> Option<&'static Self> {
        super::BOLTS.iter().find(|bolt| bolt.diameter == diameter)
    }

    /// As it is asked for in a shop: `M8 x 40`, `3/8-16 x 1 1/2"`.
    pub fn sized(&self, length: Length) -> String {
        match self.pitch {
            Pitch::Metric(_) => format!("{} x {:.0}", self.name, length.as_mm()),
            Pitch::PerInch(_) => {
                let inches = tape::show::inches(length, tape::show::Fraction::Sixteenth, tape::show::Rounding::Nearest);
                format!("{} x {inches}", self.name)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// M8 through 10 mm: 10 + 2 x 2 + 6.8 + 2 x 1.25 = 23.3, so 25; M6 through 10: 10 + 3 + 5.2 + 2 = 20.2, so 25; M10
    /// through 13: 13 + 4 + 8.4 + 3 = 28.4, so 30; 3/8-16 through half an inch: 12.7 + 3.302 + 8.334 + 3.175 = 27.5, so
    /// 1 1/4 in.
    #[rstest]
    #[case("M8", Length::mm(10), "M8 x 25")]
    #[case("M6", Length::mm(10), "M6 x 25")]
    #[case("M10", Length::mm(13), "M10 x 30")]
    #[case("3/8-16", Length::sixty_fourths(32), "3/8-16 x 1 1/4\"")]
    fn lengths_are_as_worked_by_hand(#[case] name: &str, #[case] grip: Length, #[case] sized: &str) {
        let bolt = Bolt::named(name).unwrap();
        let length = bolt.on_sale(bolt.needed_length(grip)).unwrap();
        assert_eq!(bolt.sized(length), sized);
    }

    #[test]
    fn nothing_is_long_enough_for_a_grip_beyond_the_list() {
        let bolt = Bolt::named("M8").unwrap();
        assert_eq!(bolt.on_sale(Length::mm(301)), None);
        assert_eq!(bolt.on_sale(Length::mm(300)), Some(Length::mm(300)));
        assert!(bolt.needed_stud(Length::mm(10)) > bolt.needed_length(Length::mm(10)));
    }

    #[test]
    fn both_lists_grow() {
        assert!(METRIC_MM.is_sorted() && QUARTERS.is_sorted());
    }
}
