//! Sizes of stock as people say them: `4x8 ft`, `1250 x 2500 mm`, `20 ft`.

use enclosure::stock;
use tape::{Allow, Length, Units, notation};

/// A text that is no size of stock.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is no size: {problem}")]
pub struct SizeError {
    /// What was given.
    pub given: String,
    /// What is wrong with it.
    pub problem: String,
    /// How to mend it.
    pub mend: String,
}

/// The largest side of stock.
const MOST: Length = Length::mm(20_000);

/// Reads one side or two, with `x` between them: `20 ft`, `6 m`, `4x8 ft`, `48" x 96"`, `1250 x 2500 mm`. A unit behind
/// the last side serves for both. Of two sides, the longer comes first.
///
/// # Errors
///
/// [`SizeError`] when a side is no length above zero and at most 20 m, or there are more than two.
pub fn read_size(text: &str, units: Units) -> Result<(Length, Option<Length>), SizeError> {
    let refuse = |problem: String, mend: &str| SizeError {
        given: text.to_owned(),
        problem,
        mend: mend.to_owned(),
    };
    let words: Vec<&str> = text.trim().split(['x', 'X', '*']).map(str::trim).collect();
    let side = |word: &str| -> Result<Length, SizeError> {
        let read = notation::read(word, units, Allow::AboveZero).map_err(|e| refuse(e.to_string(), &e.mend()))?;
        if read.value() > MOST {
            return Err(refuse(format!("{word} is more than 20 m"), "check the unit"));
        }
        Ok(read.value())
    };
    match words.as_slice() {
        [one] => Ok((side(one)?, None)),
        [one, two] => {
            // `4x8 ft`: the first side has no unit of its own, and takes that of the second.
            let is_bare = one
                .chars()
                .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' '));
            let unit = two.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ' | '-'));
            let first = if is_bare {
                side(&format!("{one} {unit}"))?
            } else {
                side(one)?
            };
            let second = side(two)?;
            Ok((first.max(second), Some(first.min(second))))
        }
        _ => Err(refuse(
            "it has more than two sides".to_owned(),
            "write 4x8 ft for a sheet, 20 ft for a bar",
        )),
    }
}

/// The name that a size goes by in the trade: `4x8 ft`, `6 m`.
pub fn named_size(sides: [Length; 2]) -> Option<&'static str> {
    let [length, width] = sides;
    if width == Length::ZERO {
        return stock::bars()
            .iter()
            .chain(stock::rods())
            .find(|bar| bar.length == length)
            .map(|bar| bar.name);
    }
    stock::sheets()
        .iter()
        .find(|sheet| sheet.sides == [width, length])
        .map(|sheet| sheet.name)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::feet("4x8 ft", [96, 48])]
    #[case::feet_apart("4 x 8 ft", [96, 48])]
    #[case::inches("48\" x 96\"", [96, 48])]
    #[case::bare("96x48", [96, 48])]
    #[case::mixed("4 ft x 96 in", [96, 48])]
    fn a_sheet_has_two_sides(#[case] text: &str, #[case] inches: [i64; 2]) {
        let [length, width] = inches.map(Length::inches);
        assert_eq!(read_size(text, Units::Inch), Ok((length, Some(width))));
    }

    #[rstest]
    #[case::feet("20 ft", Length::inches(240))]
    #[case::metres("6 m", Length::mm(6_000))]
    #[case::close("6m", Length::mm(6_000))]
    #[case::half_a_metre("1.5 m", Length::mm(1_500))]
    #[case::millimetres("6000 mm", Length::mm(6_000))]
    fn a_bar_has_one(#[case] text: &str, #[case] length: Length) {
        assert_eq!(read_size(text, Units::Inch), Ok((length, None)));
    }

    #[test]
    fn metric_sides_share_their_unit_too() {
        let metric = read_size("1250x2500", Units::Millimetre);
        assert_eq!(metric, Ok((Length::mm(2_500), Some(Length::mm(1_250)))));
        assert_eq!(read_size("1250 x 2500 mm", Units::Inch), metric);
    }

    #[rstest]
    #[case::nothing("")]
    #[case::three("1x2x3")]
    #[case::zero("0x8 ft")]
    #[case::words("big x small")]
    #[case::too_long("30 m")]
    fn what_is_no_size_is_refused(#[case] text: &str) {
        let error = read_size(text, Units::Inch).unwrap_err();
        assert!(!error.mend.is_empty() && error.to_string().contains(text), "{error}");
    }

    #[test]
    fn the_sizes_on_sale_have_names() {
        assert_eq!(named_size([96, 48].map(Length::inches)), Some("4x8 ft"));
        assert_eq!(named_size([Length::mm(6_000), Length::ZERO]), Some("6 m"));
        assert_eq!(named_size([Length::mm(601), Length::mm(600)]), None);
    }
}
