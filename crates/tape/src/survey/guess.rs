//! What a suspect reading most likely should have been.
//!
//! People misread a tape in a few ways again and again. Each way turns what was read into what it may have been; those
//! that land where the other readings say it should be are offered. They are guesses: the remedy is to tape again.
//! Known by: common practice, no source.

use crate::{Length, Units};

/// A way to misread or mistype.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    /// Read on the wrong side of an inch mark, or started at the 1 in mark and not taken off.
    Inch,
    /// Read on the wrong side of a foot mark.
    Foot,
    /// Read on the wrong side of a centimetre mark, or started at the 1 cm mark and not taken off.
    Centimetre,
    /// Read on the wrong side of a 10 cm mark, or started there and not taken off.
    Decimetre,
    /// Two digits swapped.
    Digits,
    /// Another fraction with the same count: 1/8 for 1/4.
    Fraction,
    /// The fraction counted back from the next inch, as on a tape read upside down.
    Backwards,
    /// The length of the tape's body, added or left out.
    Body,
    /// The thickness of the hook, counted or left out.
    Hook,
    /// Typed in the other unit.
    Unit,
}

impl Slip {
    /// What may have happened, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inch => "read on the wrong side of an inch mark, or started at the 1 in mark",
            Self::Foot => "read on the wrong side of a foot mark",
            Self::Centimetre => "read on the wrong side of a centimetre mark, or started at the 1 cm mark",
            Self::Decimetre => "read on the wrong side of a 10 cm mark, or started at it",
            Self::Digits => "two digits swapped",
            Self::Fraction => "the fraction read as another, like 1/8 for 1/4",
            Self::Backwards => "the fraction counted back from the next inch",
            Self::Body => "the tape's body added when it was not there, or left out",
            Self::Hook => "the hook counted in, or left out",
            Self::Unit => "typed in the other unit",
        }
    }
}

/// What a reading may have been.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Guess {
    /// The likely true reading.
    pub value: Length,
    /// What would have happened.
    pub slip: Slip,
}

/// The tape's own sizes that can slip into a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Body {
    /// Length of the body, as printed on it; to be added when the body stands against the far side.
    pub body: Length,
    /// Thickness of the hook.
    pub hook: Length,
}

impl Default for Body {
    /// 3 in and 1/16 in; assumed.
    fn default() -> Self {
        Self {
            body: Length::inches(3),
            hook: Length::sixty_fourths(4),
        }
    }
}

/// How far from what the others say a guess may be, in sigmas.
const NEAR: f64 = 2.5;

/// Returns what `read` may have been, likeliest first: what comes within two and a half sigmas of `predicted`, nearest first.
///
/// - `units`: how it was read or typed.
/// - `predicted`: what the other readings say, with its standard uncertainty, in millimetres.
/// - `sigma`: the standard uncertainty of the reading itself.
pub fn guesses(read: Length, units: Units, sigma: Length, predicted: (f64, f64), body: Body) -> Vec<Guess> {
    let (predicted_mm, predicted_sigma_mm) = predicted;
    let within = NEAR * sigma.as_mm().hypot(predicted_sigma_mm);
    let off = |value: Length| (value.as_mm() - predicted_mm).abs();
    // A slip smaller than what the sigmas explain is none.
    let mut near: Vec<Guess> = ways(read, units, body)
        .into_iter()
        .filter(|guess| guess.value > Length::ZERO && off(guess.value) <= within && off(guess.value) < off(read))
        .collect();
    near.sort_by(|a, b| off(a.value).total_cmp(&off(b.value)).then(a.slip.cmp(&b.slip)));
    near.dedup_by_key(|guess| guess.value);
    near
}

/// What it may have been by each way of slipping.
fn ways(read: Length, units: Units, body: Body) -> Vec<Guess> {
    let mut ways = Vec::new();
    let mut by = |slip: Slip, values: &[Length]| ways.extend(values.iter().map(|&value| Guess { value, slip }));
    let either = |step: Length| [read - step, read + step];
    let inch = Length::inches(1);
    match units {
        Units::Inch => {
            by(Slip::Inch, &either(inch));
            by(Slip::Foot, &either(inch * 12));
            by(Slip::Fraction, &other_fractions(read));
            by(Slip::Backwards, &backwards(read));
            by(Slip::Digits, &swapped(read, inch));
            // Typed in inches what was read in millimetres.
            by(Slip::Unit, &[Length::from_mm(read.as_inches())]);
        }
        Units::Millimetre => {
            by(Slip::Centimetre, &either(Length::mm(10)));
            by(Slip::Decimetre, &either(Length::mm(100)));
            by(Slip::Digits, &swapped(read, Length::mm(1)));
            by(
                Slip::Unit,
                &[
                    Length::from_mm(read.as_mm() * 25.4),
                    Length::from_mm(read.as_mm() * 10.0),
                ],
            );
        }
    }
    by(Slip::Body, &either(body.body));
    by(Slip::Hook, &either(body.hook));
    ways
}

/// The whole inches of a reading and what is over.
fn inches_and_rest(read: Length) -> (Length, Length) {
    let inch = Length::inches(1);
    let whole = read.round_down_to(inch);
    (whole, read - whole)
}

/// The same count of halves, quarters, eighths, ... as the fraction read.
fn other_fractions(read: Length) -> Vec<Length> {
    let (whole, rest) = inches_and_rest(read);
    let sixty_fourth = Length::sixty_fourths(1).nm();
    let marks = rest.nm() / sixty_fourth;
    if marks == 0 || rest.nm() % sixty_fourth != 0 {
        return Vec::new();
    }
    // 64 marks are an inch; the count over the largest step that it is a whole number of.
    let step = 1 << marks.trailing_zeros();
    let count = marks / step;
    [1, 2, 4, 8, 16, 32]
        .into_iter()
        .filter(|&other| other != step && count * other < 64)
        .map(|other| whole + Length::sixty_fourths(count * other))
        .collect()
}

/// The fraction counted from the other end of its inch.
fn backwards(read: Length) -> Vec<Length> {
    let (whole, rest) = inches_and_rest(read);
    let other = whole + Length::inches(1) - rest;
    if rest == Length::ZERO { Vec::new() } else { vec![other] }
}

/// The whole number of `unit`s with two neighbouring digits swapped, the rest as it is.
fn swapped(read: Length, unit: Length) -> Vec<Length> {
    let whole = read.round_down_to(unit);
    let digits: Vec<char> = (whole.nm() / unit.nm()).to_string().chars().collect();
    (1..digits.len())
        .filter(|&i| digits[i] != digits[i - 1])
        .filter_map(|i| {
            let mut other = digits.clone();
            other.swap(i, i - 1);
            let number: i64 = other.into_iter().collect::<String>().parse().ok()?;
            Some(unit * number + (read - whole))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::{Allow, notation};

    fn length(text: &str, units: Units) -> Length {
        notation::read(text, units, Allow::AboveZero).unwrap().value()
    }

    #[rstest]
    #[case::inch("23 27/32", Units::Inch, "22 27/32", Slip::Inch)]
    #[case::foot("73 1/8", Units::Inch, "61 1/8", Slip::Foot)]
    #[case::digits("42 5/8", Units::Inch, "24 5/8", Slip::Digits)]
    #[case::eighth_for_quarter("41 1/8", Units::Inch, "41 1/4", Slip::Fraction)]
    #[case::sixteenths_for_eighths("41 5/16", Units::Inch, "41 5/8", Slip::Fraction)]
    #[case::backwards("41 3/16", Units::Inch, "41 13/16", Slip::Backwards)]
    #[case::body("38 1/2", Units::Inch, "41 1/2", Slip::Body)]
    #[case::centimetre("1058", Units::Millimetre, "1048", Slip::Centimetre)]
    #[case::decimetre("1058", Units::Millimetre, "1158", Slip::Decimetre)]
    #[case::metric_digits("1085", Units::Millimetre, "1058", Slip::Digits)]
    #[case::metric_in_inches("393", Units::Inch, "393 mm", Slip::Unit)]
    #[case::centimetres_for_millimetres("106", Units::Millimetre, "1060", Slip::Unit)]
    #[case::hook("15 1/2", Units::Inch, "15 7/16", Slip::Hook)]
    fn a_known_slip_is_seen_through(#[case] read: &str, #[case] units: Units, #[case] truth: &str, #[case] slip: Slip) {
        let truth = length(truth, units);
        let predicted = (truth.as_mm() + 0.05, 0.1);
        let found = guesses(
            length(read, units),
            units,
            Length::tenths_mm(2),
            predicted,
            Body::default(),
        );
        assert_eq!(found.first(), Some(&Guess { value: truth, slip }), "{found:?}");
    }

    #[test]
    fn nothing_is_guessed_where_no_slip_leads() {
        let read = length("41 5/8", Units::Inch);
        let predicted = (read.as_mm() + 12.0, 0.1);
        let found = guesses(read, Units::Inch, Length::tenths_mm(5), predicted, Body::default());
        assert_eq!(found, []);
    }
}
