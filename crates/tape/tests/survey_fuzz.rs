//! Whatever is typed, a survey answers.

use proptest::prelude::*;
use tape::Length;
use tape::inside::{Cavity, Frame, Shape};
use tape::point::{FromCorner, locate};
use tape::survey::{Corner, Direction, Line, Observation, Told, adjust, search, square_box, what_fixes};

fn corner() -> impl Strategy<Value = Corner> {
    (0..8_usize).prop_map(|index| Corner::ALL[index])
}

fn line() -> impl Strategy<Value = Line> {
    (0..28_usize).prop_map(|index| Line::all()[index])
}

fn direction() -> impl Strategy<Value = Direction> {
    (0..3_usize).prop_map(|index| Direction::ALL[index])
}

fn told() -> impl Strategy<Value = Told> {
    prop_oneof![
        6 => (corner(), corner()).prop_map(|(a, b)| Told::Distance(a, b)),
        1 => (corner(), corner()).prop_map(|(a, b)| Told::Rise(a, b)),
        1 => (corner(), corner()).prop_map(|(a, b)| Told::LeanLengthwise(a, b)),
        1 => (corner(), corner()).prop_map(|(a, b)| Told::LeanCrosswise(a, b)),
        1 => (corner(), line()).prop_map(|(corner, line)| Told::Offset { corner, line }),
        1 => (line(), line()).prop_map(|(edge, to)| Told::Splay { edge, to }),
        1 => (line(), line()).prop_map(|(edge, to)| Told::Twist { edge, to }),
        1 => (corner(), direction(), direction()).prop_map(|(at, along, end)| Told::OutOfSquare { at, along, end }),
    ]
}

fn observation() -> impl Strategy<Value = Observation> {
    let value = prop_oneof![3 => 100_000_000..2_000_000_000_i64, 1 => -10_000_000..100_000_000_000_i64];
    let sigma = prop_oneof![8 => 100_000..5_000_000_i64, 1 => -1..2_i64];
    (told(), value, sigma).prop_map(|(told, value, sigma)| Observation {
        told,
        value: Length::from_nm(value),
        sigma: Length::from_nm(sigma),
    })
}

/// All 28 lines with any lengths at all, some of them replaced.
fn crowded() -> impl Strategy<Value = Vec<Observation>> {
    let lengths = prop::collection::vec(50_000_000..2_000_000_000_i64, 28);
    (lengths, prop::collection::vec(observation(), 0..6)).prop_map(|(lengths, more)| {
        let read = |(line, nm): (Line, i64)| {
            let [from, to] = line.ends();
            Observation::distance(from, to, Length::from_nm(nm), Length::mm(1))
        };
        Line::all().into_iter().zip(lengths).map(read).chain(more).collect()
    })
}

fn answer(survey: &[Observation]) {
    for found in [adjust(survey), search(survey).map(|found| found.without)]
        .into_iter()
        .flatten()
    {
        let numbers = found.lines.iter().flat_map(|line| [line.mm, line.sigma_mm]);
        assert!(numbers.chain([found.weighted_squares]).all(f64::is_finite), "{found:?}");
        assert_eq!(found.figures.len() - found.spare, found.strength.wanted);
    }
    let fixing = what_fixes(survey, &Line::all());
    assert!(fixing.len() <= 18, "{fixing:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn anything_typed_is_answered(survey in prop::collection::vec(observation(), 0..60)) {
        answer(&survey);
    }

    #[test]
    fn a_point_taped_anyhow_is_answered(
        taped in prop::collection::vec((corner(), -1_000_000..3_000_000_000_i64, 0..50_000_000_i64), 0..8),
        size in 100.0..1000.0_f64,
    ) {
        let shape = Shape::exact(square_box([1000.0, size, 250.0])).unwrap();
        let cavity = Cavity::new(&shape, Frame::default()).unwrap();
        let readings: Vec<FromCorner> = taped
            .into_iter()
            .map(|(corner, value, sigma)| FromCorner {
                corner,
                value: Length::from_nm(value),
                sigma: Length::from_nm(sigma),
            })
            .collect();
        if let Ok(located) = locate(&cavity, &readings) {
            let numbers = located.place.iter().chain(located.covariance.as_flattened());
            prop_assert!(numbers.copied().all(f64::is_finite), "{located:?}");
            prop_assert!((0..3).all(|axis| located.covariance[axis][axis] > 0.0), "{located:?}");
        }
    }

    #[test]
    fn readings_that_make_no_cavity_are_answered(survey in crowded()) {
        answer(&survey);
    }
}
