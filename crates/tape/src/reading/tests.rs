use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::{Allow, notation};

#[test]
fn a_typed_plus_minus_beats_the_tape() {
    let value = Length::sixty_fourths(41 * 64 + 40);
    let reading = |plus_minus| Reading::new(value, plus_minus, &Tape::default());
    // 1/16 in over the root of 3: 1.5875 mm / 1.7320508 = 0.9165436 mm.
    assert_eq!(reading(Some(Length::sixty_fourths(4))).sigma.nm(), 916_544);
    assert_eq!(reading(Some(Length::ZERO)).sigma, Length::ZERO);
    assert_eq!(reading(None).sigma, default_sigma(value, &Tape::default()));
}

#[test]
fn a_metric_tape_is_read_finer() {
    let value = Length::mm(1_057);
    assert!(default_sigma(value, &Tape::millimetre()) < default_sigma(value, &Tape::inch()));
    assert_eq!(Tape::of(Units::Millimetre), Tape::millimetre());
}

/// The table goes to 100 ft; a hair over a whole foot is the next one, and beyond it is carried on.
#[rstest]
#[case::nothing(0, 0, 1)]
#[case::six(6, 0, 1)]
#[case::over_six(6, 1, 2)]
#[case::thirty(30, 0, 2)]
#[case::over_thirty(30, 1, 4)]
#[case::fifty_five(55, 0, 4)]
#[case::fifty_six(56, 0, 6)]
#[case::eighty(80, 0, 6)]
#[case::eighty_one(81, 0, 8)]
#[case::hundred(100, 0, 8)]
#[case::carried_on(106, 0, 10)]
fn a_metal_tape_without_a_class_has_the_limits_of_its_table(
    #[case] feet: i64,
    #[case] nm: i64,
    #[case] thirty_seconds: i64,
) {
    let length = Length::inches(12) * feet + Length::from_nm(nm);
    for (hook, sign) in [(true, 1), (false, 1), (true, -1)] {
        let tape = Tape {
            class: TapeClass::UsMetal,
            hook,
            ..Tape::default()
        };
        assert_eq!(limits(length * sign, &tape), Length::sixty_fourths(2) * thirty_seconds);
    }
}

const fn mm(value: i64, sigma: i64, common: i64) -> Reading {
    Reading {
        value: Length::mm(value),
        sigma: Length::mm(sigma),
        common: Length::mm(common),
    }
}

#[rstest]
// Random part 4 of sigma 5, common 3: four agreeing repeats leave 4/2 = 2, with 3 that is sqrt(13) = 3.60555128.
#[case::agree(&[1000; 4], 1_000_000_000, 3_605_552)]
// Sample sd of 992 and 1008 is 8·√2; over √2 it is 8; with 3 that is sqrt(73) = 8.54400375.
#[case::spread(&[992, 1008], 1_000_000_000, 8_544_004)]
// sqrt(9 + 16/3) = 3.78593890
#[case::mean_rounds_down(&[1000, 1000, 1001], 1_000_333_333, 3_785_939)]
#[case::alone(&[1000], 1_000_000_000, 5_000_000)]
fn repeats_average_all_but_the_tape(#[case] values_mm: &[i64], #[case] mean_nm: i64, #[case] sigma_nm: i64) {
    let repeats: Vec<Reading> = values_mm.iter().map(|value| mm(*value, 5, 3)).collect();
    let combined = combine_repeats(&repeats).unwrap();
    assert_eq!(
        (combined.value.nm(), combined.sigma.nm(), combined.common),
        (mean_nm, sigma_nm, Length::mm(3))
    );
}

#[test]
fn a_repeat_of_a_tight_reading_keeps_the_part_of_the_tape() {
    let written = notation::read("1057 mm", Units::Inch, Allow::AboveZero).unwrap();
    let once = Reading::taped(&written, &Tape::default());
    let often = combine_repeats(&vec![once; 1000]).unwrap();
    assert!(often.sigma > limits_sigma(limits(once.value, &Tape::default())));
    let tight = Reading::new(once.value, Some(Length::tenths_mm(1)), &Tape::default());
    assert_eq!(combine_repeats(&[tight, tight]), Some(tight));
}

#[test]
fn no_readings_combine_to_nothing() {
    assert_eq!(combine_repeats(&[]), None);
}

#[test]
fn readings_of_any_size_do_not_overflow() {
    let far = |nm, common| Reading {
        value: Length::from_nm(nm),
        sigma: Length::from_nm(i64::MAX),
        common: Length::from_nm(common),
    };
    assert!(combine_repeats(&[far(i64::MIN, i64::MAX), far(i64::MAX, 0), far(i64::MAX, i64::MIN)]).is_some());
    let tape = Tape {
        aim: Length::from_nm(i64::MAX),
        ..Tape::default()
    };
    assert!(default_sigma(Length::from_nm(i64::MIN), &tape) > Length::ZERO);
}

proptest! {
    #[test]
    fn sigma_grows_with_length_and_is_never_below_the_float_formula(nm in 0..10_000_000_000_i64, more in 0..5_000_000_000_i64) {
        let tape = Tape::default();
        let (short, long) = (Length::from_nm(nm), Length::from_nm(nm + more));
        prop_assert!(limits(short, &tape) <= limits(long, &tape));
        let sigma = default_sigma(short, &tape);
        prop_assert!(sigma <= default_sigma(long, &tape));
        let parts = [
            limits(short, &tape).as_mm() / 3_f64.sqrt(),
            tape.graduation.as_mm() / 12_f64.sqrt(),
            tape.aim.as_mm() / 3_f64.sqrt(),
            tape.aim.as_mm() / 3_f64.sqrt(),
        ];
        let off = sigma.as_mm() - root_sum_square(&parts);
        prop_assert!((-1e-9..=1.001e-6).contains(&off), "off by {} mm", off);
    }

    #[test]
    fn repeats_lie_between_and_never_lose_the_tape(
        values in prop::collection::vec(0..100_000_000_000_i64, 1..8),
        sigma in 0..5_000_000_i64,
        percent in 0..=100_i64,
    ) {
        let (sigma, common) = (Length::from_nm(sigma), Length::from_nm(sigma * percent / 100));
        let repeats: Vec<Reading> =
            values.iter().map(|nm| Reading { value: Length::from_nm(*nm), sigma, common }).collect();
        let combined = combine_repeats(&repeats).unwrap();
        prop_assert!(values.iter().min().unwrap() <= &combined.value.nm());
        prop_assert!(values.iter().max().unwrap() >= &combined.value.nm());
        prop_assert!(combined.sigma >= common);
        prop_assert_eq!(combined.common, common);
    }

    #[test]
    fn an_agreeing_repeat_never_makes_it_worse(sigma in 0..5_000_000_i64, percent in 0..=100_i64, n in 1..9_usize) {
        let reading = Reading {
            value: Length::mm(1_000),
            sigma: Length::from_nm(sigma),
            common: Length::from_nm(sigma * percent / 100),
        };
        let fewer = combine_repeats(&vec![reading; n]).unwrap();
        let more = combine_repeats(&vec![reading; n + 1]).unwrap();
        prop_assert!(more.sigma <= fewer.sigma);
        prop_assert_eq!(more.value, reading.value);
    }
}
