use proptest::prelude::*;
use rstest::rstest;

use super::*;

const ALLOWS: [Allow; 3] = [Allow::AboveZero, Allow::ZeroOrMore, Allow::Signed];

fn refusal(text: &str, allow: Allow) -> NotationError {
    match read(text, Units::Inch, allow) {
        Ok(written) => panic!("{text:?} was read as {} nm", written.value().nm()),
        Err(error) => error,
    }
}

#[rstest]
#[case::bare_inches("41 5/8", Units::Inch, "41 5/8\"")]
#[case::bare_millimetres("1058", Units::Millimetre, "1058 mm")]
#[case::with_unit("1058mm", Units::Inch, "1058mm")]
#[case::spaces(" \t41\u{a0} 5/8 ", Units::Inch, "41 5/8\"")]
#[case::limits("41 5/8 +- 1/16", Units::Inch, "41 5/8\" +- 1/16\"")]
#[case::limits_touching("1058±1", Units::Millimetre, "1058 mm±1 mm")]
#[case::limits_with_unit("41 5/8 +- 1 mm", Units::Inch, "41 5/8\" +- 1 mm")]
#[case::limits_of_a_length_with_unit("1058 mm ± 1", Units::Inch, "1058 mm ± 1")]
#[case::inches_after_feet("3 ft 5", Units::Millimetre, "3 ft 5")]
fn the_text_is_what_was_typed_with_a_unit(#[case] typed: &str, #[case] units: Units, #[case] text: &str) {
    let written = read(typed, units, Allow::AboveZero).unwrap();
    assert_eq!(written.text(), text);
    assert_eq!(written.to_string(), text);
}

#[rstest]
#[case("-80 mm", -80_000_000)]
#[case("-3 1/2\"", -88_900_000)]
#[case("\u{2212}80 mm", -80_000_000)]
#[case("- 1/2", -12_700_000)]
#[case("-0", 0)]
#[case("0", 0)]
#[case("-3' 6\"", -1_066_800_000)]
fn a_position_may_have_one_minus(#[case] text: &str, #[case] nm: i64) {
    assert_eq!(read(text, Units::Inch, Allow::Signed).unwrap().value().nm(), nm);
}

#[rstest]
#[case("+3", Reason::TrailingText, 0)]
#[case("-+3", Reason::DoubleSign, 1)]
#[case("3' --5\"", Reason::DoubleSign, 4)]
#[case("-", Reason::NoNumber, 0)]
#[case("41 5/", Reason::NoNumber, 4)]
#[case("/8", Reason::NoNumber, 0)]
#[case("41 5/8 +-", Reason::BadPlusMinus, 9)]
#[case("41 5/8 +- -1", Reason::BadPlusMinus, 10)]
#[case("41 5/8 +- 1 yd", Reason::BadPlusMinus, 12)]
#[case("41 5/8 +- 1/6", Reason::NotATapeFraction, 10)]
#[case("41 + 5/8", Reason::TrailingText, 3)]
#[case("41\u{2212}5/8", Reason::SpacedHyphen, 2)]
#[case("3' - 5\"", Reason::SpacedHyphen, 3)]
#[case("3 ft.5 in", Reason::TrailingText, 4)]
#[case("3 ft, 5 in", Reason::TrailingText, 4)]
#[case("1 m 58", Reason::TrailingText, 4)]
#[case("1 m 100 cm", Reason::PartTooBig, 4)]
#[case("3' 12\"", Reason::PartTooBig, 3)]
#[case("3' 20 mm", Reason::MixedSystems, 3)]
#[case("1,058.5", Reason::MixedSeparators, 5)]
#[case("1,058,000", Reason::AmbiguousComma, 1)]
#[case("1.2.3", Reason::TrailingText, 3)]
#[case("1E-3", Reason::Exponent, 1)]
#[case("-inf", Reason::NotANumber, 1)]
#[case("٤٢", Reason::NonAsciiDigit, 0)]
#[case("41²", Reason::NonAsciiDigit, 2)]
#[case("41 ⅓", Reason::NotATapeFraction, 3)]
#[case("1_058", Reason::TrailingText, 1)]
#[case("41 5/8 in x", Reason::UnknownUnit, 10)]
#[case("100001 mm", Reason::OutOfRange, 0)]
#[case("100000.0000000000000000000000000000000001 mm", Reason::OutOfRange, 0)]
#[case("1 mm +- 99999999999999999999999999 m", Reason::OutOfRange, 8)]
#[case("99999999999999999999999999999999999999999999999999", Reason::OutOfRange, 0)]
fn a_slip_is_refused_with_its_reason_and_place(#[case] text: &str, #[case] reason: Reason, #[case] at: usize) {
    let error = refusal(text, Allow::Signed);
    assert_eq!((error.reason, error.at, error.text.as_str()), (reason, at, text));
}

#[rstest]
#[case(Allow::AboveZero, "0", Reason::ZeroLength)]
#[case(Allow::AboveZero, "0.0000001 mm", Reason::ZeroLength)]
#[case(Allow::AboveZero, "-3", Reason::Negative)]
#[case(Allow::ZeroOrMore, "-3", Reason::Negative)]
#[case(Allow::ZeroOrMore, "-0", Reason::Negative)]
fn what_a_field_does_not_take_is_refused(#[case] allow: Allow, #[case] text: &str, #[case] reason: Reason) {
    assert_eq!(refusal(text, allow).reason, reason);
}

#[test]
fn zero_is_a_margin_and_its_limits_may_be_zero() {
    assert_eq!(read("0", Units::Inch, Allow::ZeroOrMore).unwrap().value(), Length::ZERO);
    let reading = read("41 +- 0", Units::Inch, Allow::AboveZero).unwrap();
    assert_eq!(reading.plus_minus(), Some(Length::ZERO));
}

#[test]
fn a_long_text_is_refused_and_not_repeated_in_full() {
    let error = refusal(&"1".repeat(1_000_000), Allow::AboveZero);
    assert_eq!((error.reason, error.at), (Reason::TrailingText, 64));
    assert_eq!(error.text.chars().count(), 65);
    assert_eq!(refusal(&" ".repeat(1000), Allow::AboveZero).reason, Reason::Empty);
    // Room for the unit mark is needed too, or the text would not read back.
    assert_eq!(
        refusal(&format!("{:064}", 41), Allow::AboveZero).reason,
        Reason::TrailingText
    );
}

#[rstest]
#[case(
    "415/8",
    "did you mean 41 5/8? put a space between the whole number and the fraction"
)]
#[case(
    "4111/16",
    "did you mean 41 11/16? put a space between the whole number and the fraction"
)]
#[case(
    "41 9/8",
    "check the fraction and the whole number before it: what is over the line has to be less than 8"
)]
#[case("41 5/6", "did you mean 5/16? a tape is marked in 2, 4, 8, 16, 32 or 64 parts")]
#[case("41 3/10", "a tape is marked in 2, 4, 8, 16, 32 or 64 parts")]
#[case("1,058", "write 1058 if the comma marks thousands, 1.058 if it marks decimals")]
#[case("41 - 5/8", "did you mean 41 5/8? write it without the hyphen")]
#[case("41 5/8 yd", "use ' or ft, \" or in, mm, cm or m")]
fn the_mend_says_what_was_likely_meant(#[case] text: &str, #[case] mend: &str) {
    assert_eq!(refusal(text, Allow::AboveZero).mend(), mend);
}

#[rstest]
#[case("415/8", "415/8 cannot be read: the fraction 415/8 is one or more")]
#[case("41 5/8 yd", "41 5/8 yd cannot be read: yd is not a unit known here")]
#[case("", "nothing was typed")]
#[case("41\u{7}", "41\u{fffd} cannot be read: \u{fffd} is left over")]
fn the_refusal_is_one_sentence(#[case] text: &str, #[case] sentence: &str) {
    assert_eq!(refusal(text, Allow::AboveZero).to_string(), sentence);
}

/// The value of decimals in exact 128-bit arithmetic: nearest nanometre, ties to even.
fn decimal_nm(whole: u64, decimals: &str, unit_nm: i128) -> (i64, bool) {
    let scale = 10_i128.pow(decimals.len().try_into().unwrap());
    let digits = format!("{whole}{decimals}").parse::<i128>().unwrap() * unit_nm;
    let (below, twice_left) = (digits / scale, digits % scale * 2);
    let up = twice_left > scale || (twice_left == scale && below % 2 == 1);
    (i64::try_from(below + i128::from(up)).unwrap(), twice_left == 0)
}

/// Bits of the notation, so that many of the strings are nearly lengths.
fn nearly_lengths() -> impl Strategy<Value = String> {
    let bits = [
        "0",
        "1",
        "3",
        "5",
        "8",
        "16",
        "41",
        "64",
        "058",
        "99999999999",
        " ",
        "  ",
        "\u{2009}",
        "-",
        "–",
        "\u{2212}",
        "+",
        "+-",
        "+/-",
        "±",
        "/",
        "⁄",
        ".",
        ",",
        "'",
        "''",
        "\"",
        "″",
        "’",
        "in",
        "in.",
        "ft",
        "feet",
        "MM",
        " mm",
        "cm",
        "m",
        "½",
        "⅝",
        "⅓",
        "e5",
        "nan",
        "x",
        "٣",
        "5/8",
        " 5/8",
        "41 5/8",
    ];
    prop::collection::vec(prop::sample::select(bits.to_vec()), 0..9).prop_map(|bits| bits.concat())
}

fn holds_for(text: &str) -> Result<(), TestCaseError> {
    for units in [Units::Inch, Units::Millimetre] {
        for allow in ALLOWS {
            match read(text, units, allow) {
                Ok(written) => {
                    for again in [Units::Inch, Units::Millimetre] {
                        prop_assert_eq!(read(written.text(), again, allow), Ok(written.clone()));
                    }
                    prop_assert!(written.value().abs() <= Length::mm(100_000));
                    prop_assert!(allow == Allow::Signed || !written.value().is_negative());
                    prop_assert!(allow != Allow::AboveZero || written.value() > Length::ZERO);
                }
                Err(error) => {
                    prop_assert!(error.at <= error.text.chars().count());
                    prop_assert!(!error.to_string().is_empty() && !error.mend().is_empty());
                }
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_refused_or_reads_back_the_same(text in any::<String>()) {
        holds_for(&text)?;
    }

    #[test]
    fn any_near_length_is_refused_or_reads_back_the_same(text in nearly_lengths()) {
        holds_for(&text)?;
    }

    #[test]
    fn a_mark_on_the_tape_reads_the_same_however_it_is_written(
        feet in 1..100_i64,
        whole in 0..12_i64,
        (parts, over) in prop::sample::select(vec![2_i64, 4, 8, 16, 32, 64]).prop_flat_map(|p| (Just(p), 0..p)),
    ) {
        let inches = Length::inches(whole) + Length::sixty_fourths(64 / parts * over);
        let both = Length::inches(12 * feet) + inches;
        for (text, length) in [
            (format!("{whole} {over}/{parts}"), inches),
            (format!("{whole}-{over}/{parts}in."), inches),
            (format!("{whole}–{over}⁄{parts}″"), inches),
            (format!("{feet}' {whole} {over}/{parts}\""), both),
            (format!("{feet}ft.-{whole}-{over}/{parts}"), both),
            (format!("{feet} Feet {whole} {over}/{parts} INCHES"), both),
        ] {
            prop_assert_eq!(read(&text, Units::Inch, Allow::ZeroOrMore).unwrap().value(), length);
        }
    }

    #[test]
    fn decimals_are_exact_then_rounded_once(
        whole in 0..90_u64,
        decimals in "[0-9]{1,20}|[0-9]{6}5|[0-9]{5}50{0,9}",
        (word, unit_nm) in prop::sample::select(vec![
            ("in", 25_400_000), ("'", 304_800_000), ("mm", 1_000_000), ("cm", 10_000_000), ("m", 1_000_000_000),
        ]),
    ) {
        let (nm, exact) = decimal_nm(whole, &decimals, unit_nm);
        let written = read(&format!("{whole}.{decimals} {word}"), Units::Inch, Allow::ZeroOrMore).unwrap();
        prop_assert_eq!((written.value().nm(), written.exact()), (nm, exact));
    }

    #[test]
    fn what_the_program_writes_reads_back_exactly(
        nm in prop_oneof![
            -100_000_000_000..=100_000_000_000_i64,
            (-250_000..=250_000_i64).prop_map(|marks| marks * 396_875),
        ],
    ) {
        for units in [Units::Inch, Units::Millimetre] {
            let written = Written::exactly(Length::from_nm(nm), units);
            prop_assert_eq!(written.value().nm(), nm);
            for session in [Units::Inch, Units::Millimetre] {
                prop_assert_eq!(read(written.text(), session, Allow::Signed), Ok(written.clone()));
            }
        }
    }
}

#[rstest]
#[case(1_057_275_000, Units::Inch, "41 5/8\"")]
#[case(-19_050_000, Units::Inch, "-3/4\"")]
#[case(0, Units::Inch, "0\"")]
#[case(0, Units::Millimetre, "0 mm")]
#[case(1_057_275_000, Units::Millimetre, "1057.275 mm")]
#[case(123_456_789, Units::Inch, "123.456789 mm")]
#[case(-100_000_000_000, Units::Millimetre, "-100000 mm")]
fn the_program_writes_inches_where_they_are_exact(#[case] nm: i64, #[case] units: Units, #[case] text: &str) {
    assert_eq!(Written::exactly(Length::from_nm(nm), units).text(), text);
}
