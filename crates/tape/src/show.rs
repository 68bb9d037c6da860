//! Printing a length, always with a stated direction of rounding.
//!
//! Space that there *is* is shown rounded down, what a part *takes* rounded up, so that nobody reads clearance off a
//! page that is not there. Inches are shown in lowest terms and never in feet, since a bench tape is read in inches.

use std::fmt::Write as _;

use crate::{Length, Units};

pub(crate) const INCH_MARK: &str = "\"";
pub(crate) const MILLIMETRE_MARK: &str = " mm";

/// Which way a shown length may differ from the true one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the mark below, for space there is; below zero that is further from zero.
    Down,
    /// To the mark above, for what a part takes.
    Up,
    /// To the nearest mark, from half way upward.
    Nearest,
}

/// The finest marks of an inch that are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Fraction {
    /// 1/16 in.
    #[default]
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
}

impl Fraction {
    /// Marks in an inch.
    const fn parts(self) -> i64 {
        match self {
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
            Self::SixtyFourth => 64,
        }
    }

    /// The distance from mark to mark.
    pub const fn step(self) -> Length {
        Length::from_nm(Length::inches(1).nm() / self.parts())
    }
}

/// `length` in inches with its mark: `41 5/8"`, `3/16"`, `0"`, `-3/16"`.
pub fn inches(length: Length, fraction: Fraction, rounding: Rounding) -> String {
    inches_bare(length, fraction, rounding) + INCH_MARK
}

/// `length` in inches without a mark, for columns headed `in`: `41 5/8`.
pub fn inches_bare(length: Length, fraction: Fraction, rounding: Rounding) -> String {
    let marks = steps(length, fraction.step(), rounding);
    let parts = fraction.parts().unsigned_abs();
    let (whole, rest) = (marks.unsigned_abs() / parts, marks.unsigned_abs() % parts);
    let mut text = String::from(if marks < 0 { "-" } else { "" });
    if whole > 0 || rest == 0 {
        text += &whole.to_string();
    }
    if rest > 0 {
        // `parts` is a power of two, so the lowest set bit of `rest` is all that can be cancelled.
        let common = 1 << rest.trailing_zeros();
        let space = if whole > 0 { " " } else { "" };
        let _ = write!(text, "{space}{}/{}", rest / common, parts / common);
    }
    text
}

/// `length` in millimetres with its unit and `decimals` decimals, at most 6: `1057.3 mm`.
pub fn millimetres(length: Length, decimals: u8, rounding: Rounding) -> String {
    millimetres_bare(length, decimals, rounding) + MILLIMETRE_MARK
}

/// `length` in millimetres without the unit, for columns headed `mm`: `1057.3`.
pub fn millimetres_bare(length: Length, decimals: u8, rounding: Rounding) -> String {
    let decimals = u32::from(decimals.min(6));
    let step = Length::from_nm(10_i64.pow(6 - decimals));
    let steps = steps(length, step, rounding);
    let per_mm = 10_u64.pow(decimals);
    let (whole, rest) = (steps.unsigned_abs() / per_mm, steps.unsigned_abs() % per_mm);
    let sign = if steps < 0 { "-" } else { "" };
    match decimals {
        0 => format!("{sign}{whole}"),
        _ => format!("{sign}{whole}.{rest:0width$}", width = decimals as usize),
    }
}

/// The diameter of a hole in millimetres without the unit: up to the next tenth, since it is an opening: `8.7`.
///
/// Every list and drawing tells a hole by this one rule, so that one hole has one number.
pub fn hole_mm(diameter: Length) -> String {
    millimetres_bare(diameter, 1, Rounding::Up)
}

/// The diameter of a hole as it is drilled: `8.7 mm`; for a person who works in inches `11/32" (8.8 mm)`, or
/// `0.196" (5.0 mm)` where it is no whole number of 1/64 in.
pub fn hole(diameter: Length, units: Units) -> String {
    let mm = hole_mm(diameter) + MILLIMETRE_MARK;
    inches_first(mm, units, || hole_inches(diameter))
}

/// What is measured with calipers, not with a tape, like the thickness that a rivet goes through, to the nearest 0.1 mm: `7.0 mm`;
/// for a person who works in inches `0.276" (7.0 mm)`.
pub fn caliper(length: Length, units: Units) -> String {
    let mm = millimetres(length, 1, Rounding::Nearest);
    inches_first(mm, units, || hole_inches(length))
}

/// What is drawn exactly, to 0.001 mm without trailing zeros: `3 mm`, `3.038 mm`; for a person who works in inches `0.118" (3 mm)`.
pub fn thousandths(length: Length, units: Units) -> String {
    let mm = thousandths_bare(length) + MILLIMETRE_MARK;
    inches_first(mm, units, || hole_inches(length))
}

/// Millimetres to 0.001 without the unit and trailing zeros: `3`, `2.5`, `3.038`.
pub fn thousandths_bare(length: Length) -> String {
    let text = format!("{:.3}", length.as_mm());
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Words in millimetres as they are; for a person who works in inches the same in these, with them behind: `1/2" (12.7 mm)`.
pub fn inches_first(millimetres: String, units: Units, inches: impl FnOnce() -> String) -> String {
    match units {
        Units::Millimetre => millimetres,
        Units::Inch => format!("{} ({millimetres})", inches()),
    }
}

/// A place to mark, to the nearest 1/16 in or 0.1 mm, for a person who works in inches with both: `4 3/4" (120.0 mm)`.
pub fn own_first(length: Length, units: Units) -> String {
    let mm = millimetres(length, 1, Rounding::Nearest);
    inches_first(mm, units, || inches(length, Fraction::Sixteenth, Rounding::Nearest))
}

/// Inches as drills are marked: 1/64 in where it is a whole number of them, else 0.001 in.
pub fn hole_inches(length: Length) -> String {
    if length.nm() % Length::sixty_fourths(1).nm() == 0 {
        inches(length, Fraction::SixtyFourth, Rounding::Nearest)
    } else {
        format!("{:.3}{INCH_MARK}", length.as_inches())
    }
}

/// `length` in millimetres with its unit and as many decimals as it needs: `1057 mm`, `123.456789 mm`.
pub(crate) fn exact_millimetres(length: Length) -> String {
    let text = millimetres_bare(length, 6, Rounding::Nearest);
    text.trim_end_matches('0').trim_end_matches('.').to_owned() + MILLIMETRE_MARK
}

/// `length` in whole steps.
fn steps(length: Length, step: Length, rounding: Rounding) -> i64 {
    let (nm, step) = (length.nm(), step.nm());
    let (below, left) = (nm.div_euclid(step), nm.rem_euclid(step));
    let up = match rounding {
        Rounding::Down => false,
        Rounding::Up => left > 0,
        Rounding::Nearest => left >= step - left,
    };
    below + i64::from(up)
}

/// How a person wants lengths shown: their unit, and the finest marks in inches.
///
/// Millimetres are shown to 0.1 mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Style {
    /// The unit.
    pub units: Units,
    /// The finest marks, for inches.
    pub fraction: Fraction,
}

impl Style {
    /// Rounded down, for space there is.
    pub fn down(self, length: Length) -> String {
        self.down_bare(length) + self.mark()
    }

    /// Rounded up, for what a part takes.
    pub fn up(self, length: Length) -> String {
        self.up_bare(length) + self.mark()
    }

    /// To the nearest, for positions and for figures that decide nothing.
    pub fn near(self, length: Length) -> String {
        self.near_bare(length) + self.mark()
    }

    /// From one mark that it prints to the next: of inches its fraction, else a tenth of a millimetre.
    pub const fn step(self) -> Length {
        match self.units {
            Units::Inch => self.fraction.step(),
            Units::Millimetre => Length::tenths_mm(1),
        }
    }

    /// What is needed, what there is, and what that lacks, such that the three add up as they are read: `1 5/8"`, `3/8"`,
    /// `1 1/4"`. What is needed is rounded up and what there is down, so what lacks is told as no less than it is.
    ///
    /// # Examples
    ///
    /// ```
    /// use tape::{Length, show::Style};
    ///
    /// let inches = Style::default();
    /// let needs = Length::sixty_fourths(102); // 1 19/32
    /// assert_eq!(inches.short(needs, Length::sixty_fourths(26)), ["1 5/8\"", "3/8\"", "1 1/4\""]);
    /// ```
    pub fn short(self, needs: Length, has: Length) -> [String; 3] {
        let step = self.step();
        let lacks = steps(needs, step, Rounding::Up) - steps(has, step, Rounding::Down);
        [self.up(needs), self.down(has), self.near(step * lacks)]
    }

    /// [`Style::down`] without the unit mark.
    pub fn down_bare(self, length: Length) -> String {
        self.bare(length, Rounding::Down)
    }

    /// [`Style::up`] without the unit mark.
    pub fn up_bare(self, length: Length) -> String {
        self.bare(length, Rounding::Up)
    }

    /// [`Style::near`] without the unit mark.
    pub fn near_bare(self, length: Length) -> String {
        self.bare(length, Rounding::Nearest)
    }

    fn bare(self, length: Length, rounding: Rounding) -> String {
        match self.units {
            Units::Inch => inches_bare(length, self.fraction, rounding),
            Units::Millimetre => millimetres_bare(length, 1, rounding),
        }
    }

    const fn mark(self) -> &'static str {
        match self.units {
            Units::Inch => INCH_MARK,
            Units::Millimetre => MILLIMETRE_MARK,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;
    use crate::{Allow, notation};

    const SIXTY_FOURTHS: [(i64, &str); 7] = [
        (0, "0\""),
        (1, "1/64\""),
        (12, "3/16\""),
        (-12, "-3/16\""),
        (64, "1\""),
        (-96, "-1 1/2\""),
        (2664, "41 5/8\""),
    ];

    #[test]
    fn marks_of_the_tape_are_shown_in_lowest_terms_whichever_way_is_rounded() {
        for (n, text) in SIXTY_FOURTHS {
            for rounding in [Rounding::Down, Rounding::Up, Rounding::Nearest] {
                assert_eq!(inches(Length::sixty_fourths(n), Fraction::SixtyFourth, rounding), text);
            }
        }
    }

    /// 8.65 mm is neither 8.6 nor 8.7: an opening goes up. 11/32 in are 8.73125 mm; 4.9784 mm are 0.196 in.
    #[rstest]
    #[case::between_tenths(8_650_000, "8.7 mm", "0.341\" (8.7 mm)")]
    #[case::a_mark(8_731_250, "8.8 mm", "11/32\" (8.8 mm)")]
    #[case::a_tenth(4_900_000, "4.9 mm", "0.193\" (4.9 mm)")]
    #[case::thousandths(4_978_400, "5.0 mm", "0.196\" (5.0 mm)")]
    fn a_hole_goes_up_to_the_next_tenth(#[case] nm: i64, #[case] in_mm: &str, #[case] in_inches: &str) {
        let diameter = Length::from_nm(nm);
        assert_eq!(hole(diameter, Units::Millimetre), in_mm);
        assert_eq!(hole(diameter, Units::Inch), in_inches);
    }

    #[rstest]
    #[case::just_above_a_mark(2665, ["41 5/8\"", "41 11/16\"", "41 5/8\""])]
    #[case::half_way(2666, ["41 5/8\"", "41 11/16\"", "41 11/16\""])]
    #[case::below_zero(-13, ["-1/4\"", "-3/16\"", "-3/16\""])]
    #[case::below_zero_to_zero(-1, ["-1/16\"", "0\"", "0\""])]
    #[case::up_to_a_whole_inch(63, ["15/16\"", "1\"", "1\""])]
    fn sixteenths_go_the_way_they_say(#[case] sixty_fourths: i64, #[case] down_up_near: [&str; 3]) {
        let length = Length::sixty_fourths(sixty_fourths);
        let shown = [Rounding::Down, Rounding::Up, Rounding::Nearest].map(|r| inches(length, Fraction::Sixteenth, r));
        assert_eq!(shown, down_up_near);
    }

    #[rstest]
    #[case(1_057_275_000, 1, ["1057.2 mm", "1057.3 mm", "1057.3 mm"])]
    #[case(1_057_275_000, 0, ["1057 mm", "1058 mm", "1057 mm"])]
    #[case(-40_000, 1, ["-0.1 mm", "0.0 mm", "0.0 mm"])]
    #[case(-1_234_567, 6, ["-1.234567 mm", "-1.234567 mm", "-1.234567 mm"])]
    #[case::no_more_than_six_decimals(5, 200, ["0.000005 mm", "0.000005 mm", "0.000005 mm"])]
    fn millimetres_go_the_way_they_say(#[case] nm: i64, #[case] decimals: u8, #[case] down_up_near: [&str; 3]) {
        let shown = [Rounding::Down, Rounding::Up, Rounding::Nearest]
            .map(|rounding| millimetres(Length::from_nm(nm), decimals, rounding));
        assert_eq!(shown, down_up_near);
    }

    #[test]
    fn the_ends_of_the_range_are_shown_too() {
        for nm in [i64::MIN, i64::MAX] {
            for rounding in [Rounding::Down, Rounding::Up, Rounding::Nearest] {
                inches(Length::from_nm(nm), Fraction::SixtyFourth, rounding);
                millimetres(Length::from_nm(nm), 6, rounding);
            }
        }
    }

    fn styles() -> impl Strategy<Value = Style> {
        let fractions = [Fraction::Sixteenth, Fraction::ThirtySecond, Fraction::SixtyFourth];
        (
            prop::sample::select(vec![Units::Inch, Units::Millimetre]),
            prop::sample::select(fractions.to_vec()),
        )
            .prop_map(|(units, fraction)| Style { units, fraction })
    }

    proptest! {
        #[test]
        fn what_is_shown_is_on_the_safe_side_and_less_than_a_step_off(
            style in styles(),
            nm in -3_000_000_000..3_000_000_000_i64,
        ) {
            let gap = Length::from_nm(nm);
            let step = match style.units {
                Units::Inch => style.fraction.step(),
                Units::Millimetre => Length::tenths_mm(1),
            };
            // The other unit in the session shows that the mark is there.
            let read = |text: &str, units| notation::read(text, units, Allow::Signed).unwrap().value();
            let other = if style.units == Units::Inch { Units::Millimetre } else { Units::Inch };
            let (down, up, near) = (read(&style.down(gap), other), read(&style.up(gap), other), read(&style.near(gap), other));
            prop_assert!(down <= gap && gap - down < step);
            prop_assert!(up >= gap && up - gap < step);
            prop_assert!((near - gap).abs() * 2 <= step);
            prop_assert_eq!(read(&style.down_bare(gap), style.units), down);
            prop_assert_eq!(read(&style.up_bare(gap), style.units), up);
            prop_assert_eq!(read(&style.near_bare(gap), style.units), near);
        }
    }
}
