//! What the shop was given is noted in millimetres; here it is told in the person's units.

use tape::Length;
use tape::show::Style;
use tape::{Units, show::hole_inches};

/// Where a piece is and how large, noted as `521.2,-4.0,203.0 of 25.0 x 300.0 x 25.0`: `at 20 1/2", -3/16", 8"; 1" x 11 13/16" x
/// 1"`, or with ` mm` behind both.
///
/// A text of another form is given back as it is.
pub(super) fn place(noted: &str, style: Style) -> String {
    let read = || {
        let (at, size) = noted.split_once(" of ")?;
        let lengths = |text: &str, between| -> Option<Vec<Length>> {
            text.split(between)
                .map(|mm| mm.parse().ok().map(Length::from_mm))
                .collect()
        };
        Some((lengths(at, ",")?, lengths(size, " x ")?))
    };
    let Some((at, size)) = read() else {
        return format!("at {noted}");
    };
    let words = |lengths: &[Length], between: &str| match style.units {
        Units::Inch => lengths
            .iter()
            .map(|&length| style.near(length))
            .collect::<Vec<_>>()
            .join(between),
        Units::Millimetre => {
            let bare = lengths.iter().map(|&length| style.near_bare(length));
            bare.collect::<Vec<_>>().join(between) + " mm"
        }
    };
    format!("at {}; {}", words(&at, ", "), words(&size, " x "))
}

/// A text with its millimetres behind their inches: `16 x 5 mm wide` as `0.630" x 0.197" (16 x 5 mm) wide`.
pub(super) fn lengths(noted: &str, units: Units) -> String {
    // What has inches already is told in them.
    if units == Units::Millimetre || noted.contains('"') {
        return noted.to_owned();
    }
    let words: Vec<&str> = noted.split(' ').collect();
    let mut told: Vec<String> = Vec::new();
    let mut rest = words.as_slice();
    while let Some(&first) = rest.first() {
        if let Some((inches, mm, after)) = run(rest) {
            let (unit, behind) = rest[after - 1].split_at(2);
            told.push(format!("{inches} ({mm} {unit}){behind}"));
            rest = &rest[after..];
        } else {
            told.push(first.to_owned());
            rest = &rest[1..];
        }
    }
    told.join(" ")
}

/// Numbers with ` x ` between and `mm` behind at the beginning of some words: in inches, as written, and how many words.
fn run(words: &[&str]) -> Option<(String, String, usize)> {
    let mut inches = Vec::new();
    for (at, word) in words.iter().enumerate() {
        if at % 2 == 0 {
            inches.push(hole_inches(Length::from_mm(word.parse().ok()?)));
        } else if word.trim_end_matches([',', ';']) == "mm" {
            return Some((inches.join(" x "), words[..at].join(" "), at + 1));
        } else if *word != "x" {
            return None;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use tape::show::Fraction;

    use super::*;

    /// 521.2, 4 and 203 mm are 20.52, 0.157 and 7.99 in; 300 mm is 11.81.
    #[test]
    fn a_place_is_told_in_the_persons_units() {
        let style = |units| Style {
            units,
            fraction: Fraction::Sixteenth,
        };
        let noted = "521.2,-4.0,203.0 of 25.0 x 300.0 x 25.0";
        assert_eq!(
            place(noted, style(Units::Inch)),
            "at 20 1/2\", -3/16\", 8\"; 1\" x 11 13/16\" x 1\""
        );
        assert_eq!(
            place(noted, style(Units::Millimetre)),
            "at 521.2, -4.0, 203.0 mm; 25.0 x 300.0 x 25.0 mm"
        );
        assert_eq!(place("the middle", style(Units::Inch)), "at the middle");
    }

    /// 15.5, 5 and 3 mm are 0.610, 0.197 and 0.118 in.
    #[test]
    fn a_note_has_its_inches_first() {
        let noted = "15.50 x 5.00 mm, squeezed to 3.00 mm";
        assert_eq!(
            lengths(noted, Units::Inch),
            "0.610\" x 0.197\" (15.50 x 5.00 mm), squeezed to 0.118\" (3.00 mm)"
        );
        assert_eq!(lengths(noted, Units::Millimetre), noted);
        assert_eq!(lengths("front, 4 off", Units::Inch), "front, 4 off");
    }
}
