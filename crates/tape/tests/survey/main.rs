//! Surveys of made-up cavities: slips are found, noise is left alone, figures do not depend on how it is told, and boxes go
//! in as often as is said.

mod boxes;
mod made_up;
mod points;
mod slips;

use made_up::{Dice, INCH, SIXTEENTH, cavity, read, readings, true_mm};
use proptest::prelude::*;
use slips::lines;
use tape::Length;
use tape::survey::{
    Adjustment, Corner, Corners, Direction, Line, Observation, Refusal, Suspect, adjust, gains, search, search_with,
    telling_apart,
};

/// The 24 readings without space diagonals of one cavity, with noise.
fn plain_survey(seed: u64) -> Vec<Observation> {
    let mut dice = Dice(seed);
    let corners = cavity(&mut dice);
    readings(&corners, &Line::all()[..24], &mut dice)
}

/// Differences between two adjustments that should be one: lengths, their sigmas, redundancy, residuals.
fn assert_same(a: &Adjustment, b: &Adjustment, order: &[usize]) {
    for (a, b) in a.lines.iter().zip(&b.lines) {
        assert!((a.mm - b.mm).abs() < 1e-6, "{a:?} {b:?}");
        assert!((a.sigma_mm - b.sigma_mm).abs() < 1e-6, "{a:?} {b:?}");
    }
    for (a, b) in order.iter().map(|&i| a.figures[i]).zip(&b.figures) {
        assert!((a.redundancy - b.redundancy).abs() < 1e-6, "{a:?} {b:?}");
        assert!((a.residual_mm - b.residual_mm).abs() < 1e-6, "{a:?} {b:?}");
    }
    assert!((a.weighted_squares - b.weighted_squares).abs() < 1e-6 * (1.0 + a.weighted_squares));
}

/// The same cavity told with other corners first: turned half round its vertical.
fn turned(observation: &Observation) -> Observation {
    let turn = |corner: Corner| corner.across(Direction::Length).across(Direction::Width);
    let [from, to] = observation.told.line().expect("a reading").ends().map(turn);
    Observation::distance(from, to, observation.value, observation.sigma)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_the_readings_does_not_matter(seed in any::<u64>()) {
        let survey = plain_survey(seed);
        let mut dice = Dice(!seed);
        let mut order: Vec<usize> = (0..survey.len()).collect();
        for i in (1..order.len()).rev() {
            order.swap(i, dice.below(i + 1));
        }
        let other: Vec<Observation> = order.iter().map(|&i| survey[i]).collect();
        assert_same(&adjust(&survey).unwrap(), &adjust(&other).unwrap(), &order);
    }

    #[test]
    fn turning_the_cavity_changes_no_length(seed in any::<u64>()) {
        let survey = plain_survey(seed);
        let other: Vec<Observation> = survey.iter().map(turned).collect();
        let [a, b] = [&survey, &other].map(|survey| adjust(survey).unwrap());
        for figure in &a.lines {
            let [from, to] = figure.line.ends();
            let line = turned(&Observation::distance(from, to, SIXTEENTH, SIXTEENTH)).told.line().unwrap();
            let other = b.line(line);
            prop_assert!((figure.mm - other.mm).abs() < 1e-6, "{figure:?} {other:?}");
            prop_assert!((figure.sigma_mm - other.sigma_mm).abs() < 1e-6, "{figure:?} {other:?}");
        }
    }

    #[test]
    fn repeats_count_as_their_weighted_mean(seed in any::<u64>(), at in 0..24_usize, apart in -3.0..3.0_f64) {
        let mut survey = plain_survey(seed);
        let line = survey[at].told.line().unwrap();
        let (one, other) = (survey[at].value.as_mm(), survey[at].value.as_mm() + apart);
        // Sigmas of 1.2 mm and 1.6 mm make one of 0.96 mm, by weights of 16 and 9.
        let [s, t, both] = [1_200_000, 1_600_000, 960_000].map(Length::from_nm);
        survey[at] = read(line, (16.0 * one + 9.0 * other) / 25.0, both);
        let mean = adjust(&survey).unwrap();
        survey[at] = read(line, one, s);
        survey.push(read(line, other, t));
        let twice = adjust(&survey).unwrap();
        prop_assert_eq!(twice.spare, mean.spare + 1);
        for (a, b) in mean.lines.iter().zip(&twice.lines) {
            // Values are rounded to the nanometre.
            prop_assert!((a.mm - b.mm).abs() < 5e-6, "{a:?} {b:?}");
            prop_assert!((a.sigma_mm - b.sigma_mm).abs() < 1e-6, "{a:?} {b:?}");
        }
    }

    #[test]
    fn the_shape_is_that_of_readings_without_noise(seed in any::<u64>(), skew in 0.0..3.0_f64) {
        let mut dice = Dice(seed);
        let mut corners = cavity(&mut dice);
        // Sheared well beyond any frame rail.
        for corner in &mut corners {
            corner[0] += skew * 0.3 * corner[1] + skew * 0.2 * corner[2];
            corner[1] += skew * 0.1 * corner[2];
        }
        let survey: Vec<Observation> =
            Line::all()[..24].iter().map(|&line| read(line, true_mm(&corners, line), SIXTEENTH)).collect();
        let found = adjust(&survey).unwrap();
        prop_assert!(found.folded.is_empty());
        for figure in &found.lines {
            prop_assert!((figure.mm - true_mm(&corners, figure.line)).abs() < 1e-4, "{figure:?}");
        }
        let [x, y, z] = [1, 3, 4].map(|corner: usize| found.corners[corner]);
        prop_assert!(x[0] > 0.0 && x[1].abs() < 1e-6 && x[2].abs() < 1e-6);
        prop_assert!(y[1] > 0.0 && y[2].abs() < 1e-6 && z[2] > 0.0);
    }

    #[test]
    fn redundancy_numbers_add_up_to_the_spare_readings(seed in any::<u64>()) {
        let mut dice = Dice(seed);
        let corners = cavity(&mut dice);
        let lines = lines(&corners, &mut dice);
        let found = adjust(&readings(&corners, &lines, &mut dice)).unwrap();
        let sum: f64 = found.figures.iter().map(|figure| figure.redundancy).sum();
        let spare = f64::from(u32::try_from(found.spare).unwrap());
        prop_assert!((sum - spare).abs() < 1e-6, "{sum} {spare}");
    }

    #[test]
    fn a_gain_is_what_the_reading_brings(seed in any::<u64>(), figure in 0..28_usize, extra in 0..28_usize) {
        let survey = plain_survey(seed);
        let before = adjust(&survey).unwrap();
        let slopes = line_slopes(&before.corners, Line::all()[figure]);
        let gains = gains(&before, &slopes, SIXTEENTH);
        prop_assert!(gains.is_sorted_by(|a, b| a.sigma <= b.sigma));
        let line = Line::all()[extra];
        let told = gains.iter().find(|gain| gain.line == line).unwrap().sigma;
        // Read as it is already, so that the shape stays.
        let mut more = survey;
        more.push(read(line, before.line(line).mm, SIXTEENTH));
        let after = adjust(&more).unwrap().line(Line::all()[figure]).sigma_mm;
        prop_assert!((told - after).abs() < 1e-5, "{told} {after}");
    }
}

/// How a line's length changes with the corners.
fn line_slopes(corners: &Corners, line: Line) -> Corners {
    let [from, to] = line.ends().map(Corner::index);
    let mm = true_mm(corners, line);
    let mut slopes = [[0.0; 3]; 8];
    for i in 0..3 {
        slopes[to][i] = (corners[to][i] - corners[from][i]) / mm;
        slopes[from][i] = -slopes[to][i];
    }
    slopes
}

/// By brute force: the scatter of many noisy surveys of one cavity is what the covariance says.
#[test]
fn sigmas_are_the_scatter_of_many_surveys() {
    let mut dice = Dice(5);
    let corners = cavity(&mut dice);
    let lines = &Line::all()[..24];
    let exact: Vec<Observation> = lines
        .iter()
        .map(|&line| read(line, true_mm(&corners, line), SIXTEENTH))
        .collect();
    let stated = adjust(&exact).unwrap().lines;
    let surveys = 1500;
    let mut squares = [0.0; 28];
    for _ in 0..surveys {
        let found = adjust(&readings(&corners, lines, &mut dice)).unwrap();
        for (square, figure) in squares.iter_mut().zip(&found.lines) {
            *square += (figure.mm - true_mm(&corners, figure.line)).powi(2);
        }
    }
    for (square, figure) in squares.into_iter().zip(&stated) {
        let ratio = (square / f64::from(surveys)).sqrt() / figure.sigma_mm;
        // The sigma of a sigma from 1500 is one in 55; four of those, and a little for the curvature.
        assert!((0.92..1.08).contains(&ratio), "{} {ratio}", figure.line);
    }
}

#[test]
fn one_spare_reading_names_all_that_may_be_to_blame_and_a_line_to_tell() {
    // 18 readings that are just enough (b06 and b08 of the outside checks have them) and the other floor diagonal.
    let mut dice = Dice(8);
    let corners = cavity(&mut dice);
    let kept = |line: &Line| {
        let cross = [
            "RLB to FRB",
            "FRT to RLT",
            "RLB to FLT",
            "RRB to RLT",
            "FRB to RRT",
            "FLB to FRT",
        ];
        let name = line.to_string();
        let [a, b] = line.ends();
        let swapped = format!("{b} to {a}");
        !cross[1..].contains(&name.as_str()) && !cross[1..].contains(&swapped.as_str())
    };
    let lines: Vec<Line> = Line::all()[..24].iter().copied().filter(kept).collect();
    let mut survey = readings(&corners, &lines, &mut dice);
    assert_eq!(survey.len(), 19);
    survey[4].value = Length::from_mm(survey[4].value.as_mm() + INCH);
    let found = search(&survey).unwrap();
    assert!(!found.consistent);
    let tied = &found.suspects[0].readings;
    assert!(tied.len() > 5 && tied.contains(&4), "{tied:?}");
    assert_eq!(found.suspects[0].predicted, None);
    let line = telling_apart(&survey, &found.without, tied, SIXTEENTH).unwrap();
    // With it fewer are to blame.
    survey.push(read(line, true_mm(&corners, line), SIXTEENTH));
    let left = &search(&survey).unwrap().suspects[0].readings;
    assert!(left.contains(&4) && left.len() < tied.len(), "{left:?} of {tied:?}");
}

#[test]
fn what_makes_no_sense_is_refused_by_name() {
    let survey = plain_survey(1);
    let with = |index: usize, change: fn(&mut Observation)| {
        let mut survey = survey.clone();
        change(&mut survey[index]);
        adjust(&survey)
    };
    let no_sigma = with(3, |o| o.sigma = Length::ZERO).unwrap_err();
    assert!(matches!(no_sigma, Refusal::Senseless { index: 3, .. }), "{no_sigma}");
    let no_length = with(5, |o| o.value = Length::ZERO).unwrap_err();
    assert!(matches!(no_length, Refusal::Senseless { index: 5, .. }), "{no_length}");
    // A floor diagonal longer than the way round.
    let open = with(4, |o| o.value = o.value * 2).unwrap_err();
    let Refusal::CannotClose(open) = open else {
        panic!("{open}")
    };
    assert!(open.iter().all(|triangle| triangle.readings.contains(&4)), "{open:?}");
    let short = adjust(&survey[..16]).unwrap_err();
    assert!(
        matches!(&short, Refusal::Short(short) if !short.lines.is_empty()),
        "{short}"
    );
    assert!(matches!(adjust(&[]), Err(Refusal::Short(_))));
}

#[test]
fn a_reading_that_is_vouched_for_is_never_suspect() {
    let mut survey = plain_survey(3);
    survey[9].value += Length::inches(1);
    let found = search(&survey).unwrap();
    assert_eq!(found.suspects[0].readings, [9]);
    assert!(found.consistent);
    let vouched = search_with(&survey, &[9]).unwrap();
    let named = |suspect: &Suspect| [suspect.readings.clone(), suspect.rivals.clone()].concat().contains(&9);
    assert!(!vouched.suspects.iter().any(named), "{:?}", vouched.suspects);
    assert!(!vouched.consistent || !vouched.suspects.is_empty());
    // Vouching for what is right changes nothing but who may be a rival.
    let others = search_with(&survey, &[0, 1, 2]).unwrap();
    assert_eq!(others.suspects[0].readings, [9]);
    assert_eq!(others.without, found.without);
}

#[test]
fn with_everything_vouched_for_nothing_is_set_aside() {
    let mut survey = plain_survey(3);
    let all: Vec<usize> = (0..survey.len()).collect();
    let clean = search_with(&survey, &all).unwrap();
    assert!(clean.consistent && clean.suspects.is_empty());
    survey[9].value += Length::inches(1);
    let found = search_with(&survey, &all).unwrap();
    assert!(!found.consistent);
    assert_eq!(found.suspects, []);
    assert_eq!(found.without, adjust(&survey).unwrap());
}

#[test]
fn where_one_of_the_tied_is_left_to_doubt_it_is_set_aside() {
    // The 24 readings less five: one is spare, and a slip is in any of those that it checks.
    let mut dice = Dice(4);
    let corners = cavity(&mut dice);
    let all = Line::all();
    let spare_one: Vec<Line> = all[..24]
        .iter()
        .enumerate()
        .filter(|(i, _)| ![10, 12, 14, 16, 22].contains(i))
        .map(|(_, &line)| line)
        .collect();
    let mut survey = readings(&corners, &spare_one, &mut dice);
    survey[4].value += Length::inches(1);
    let found = search(&survey).unwrap();
    let tied = &found.suspects[0].readings;
    assert!(tied.len() > 1 && tied.contains(&4), "{tied:?}");
    let others: Vec<usize> = tied.iter().copied().filter(|&reading| reading != 4).collect();
    let vouched = search_with(&survey, &others).unwrap();
    assert_eq!(vouched.suspects[0].readings, [4]);
    assert!(vouched.consistent);
    let (predicted, sigma) = vouched.suspects[0].predicted.unwrap();
    assert!((predicted - true_mm(&corners, spare_one[4])).abs() < 4.0 * sigma);
}

/// Any lengths at all along the 28 lines: the search gives up, and says so.
#[test]
fn of_nonsense_six_are_named_and_no_more() {
    let mut dice = Dice(6);
    for _ in 0..50 {
        let nonsense: Vec<Observation> = Line::all()
            .iter()
            .map(|&line| read(line, dice.between(50.0, 2000.0), SIXTEENTH))
            .collect();
        if let Ok(found) = search(&nonsense) {
            assert!(!found.consistent);
            assert!((1..=6).contains(&found.suspects.len()), "{:?}", found.suspects);
        }
    }
}
