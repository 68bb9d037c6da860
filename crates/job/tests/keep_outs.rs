//! Keep-outs as they were taped, against sums by hand.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use geometry::{Axis, Face};
use job::{Edit, Field, Id, Job, KeepOutResult, UnitsName, evaluate};
use rstest::rstest;
use tape::Length;
use tape::survey::Corner;

/// A square cavity of 1000 x 400 x 250 mm with one keep-out of 25 mm at its front left bottom corner, two sigma held
/// back.
fn job() -> (Job, Id) {
    let mut job = Job::empty(UnitsName::Millimetre);
    let cavity = job.cavities[0].id;
    for (line, text) in [("length", "1000"), ("width", "400"), ("height", "250")] {
        let edit = Edit::AddReading {
            cavity,
            line: line.parse().unwrap(),
            text: text.to_owned(),
        };
        job = job.with(&edit).unwrap();
    }
    let job = job.with(&Edit::AddKeepOut(cavity)).unwrap();
    let id = job.cavities[0].keep_outs[0].id;
    (job, id)
}

fn set(job: &Job, values: &[(Field, &str)]) -> Job {
    values.iter().fold(job.clone(), |job, &(field, text)| {
        job.with(&Edit::Set {
            field,
            text: text.to_owned(),
        })
        .unwrap()
    })
}

fn at(id: Id, from: [&'static str; 3], to: [&'static str; 3]) -> Vec<(Field, &'static str)> {
    let ends = Axis::ALL.into_iter().flat_map(|axis| {
        let i = axis.index();
        [
            (Field::KeepOutFrom(id, axis), from[i]),
            (Field::KeepOutTo(id, axis), to[i]),
        ]
    });
    ends.collect()
}

fn only(job: &Job) -> KeepOutResult {
    evaluate(job).cavities[0].keep_outs[0].clone()
}

fn mm(cuboid: &geometry::Cuboid) -> [[f64; 3]; 2] {
    [cuboid.lo(), cuboid.hi()].map(|corner| corner.0.map(Length::as_mm))
}

/// Places are counted inward from the walls that meet in the corner.
#[rstest]
#[case::front_left_bottom("front left bottom", [[100.0, 10.0, 20.0], [150.0, 30.0, 60.0]])]
#[case::rear_left_bottom("rear left bottom", [[850.0, 10.0, 20.0], [900.0, 30.0, 60.0]])]
#[case::rear_right_top("rear right top", [[850.0, 370.0, 190.0], [900.0, 390.0, 230.0]])]
#[case::front_right_top("front right top", [[100.0, 370.0, 190.0], [150.0, 390.0, 230.0]])]
fn places_are_counted_from_the_corner_they_were_taped_from(#[case] corner: &str, #[case] expected: [[f64; 3]; 2]) {
    let (job, id) = job();
    let job = set(&job, &at(id, ["100", "10", "20"], ["150", "30", "60"]));
    let job = set(&job, &[(Field::KeepOutMeasured(id), corner)]);
    assert_eq!(mm(&only(&job).cuboid), expected);
}

/// 23 to 24 1/4 and 11 to 12 1/4: middles 23 5/8 and 11 5/8, 1 1/4 through. A block of 1 by 2 is taken as 2 through.
#[test]
fn one_taken_as_round_and_back_stays_where_it_is() {
    let (job, id) = job();
    let shape = |job: &Job, text: &str| set(job, &[(Field::KeepOutShape(id), text)]);
    let length = |len: &job::Len| len.value();
    let inches = |sixteenths: i64| tape::Length::sixty_fourths(4 * sixteenths);
    let block = set(&job, &at(id, ["20\"", "8\"", "4\""], ["30\"", "9 1/4\"", "5 1/4\""]));
    let round = shape(&block, "round, along the length");
    let found = &round.cavities[0].keep_outs[0];
    assert_eq!(found.from.each_ref().map(length), [320, 138, 74].map(inches));
    assert_eq!(found.diameter.as_ref().map(length), Some(inches(20)));
    assert_eq!(only(&round).cuboid, only(&block).cuboid);
    let back = shape(&round, "block");
    let found = &back.cavities[0].keep_outs[0];
    assert_eq!(found.from.each_ref().map(length), [320, 128, 64].map(inches));
    assert_eq!(found.to.each_ref().map(length), [480, 148, 84].map(inches));
    assert_eq!(found.diameter, None);
    let flat = set(&job, &at(id, ["20\"", "8\"", "4\""], ["30\"", "9\"", "6\""]));
    let round = shape(&flat, "round, along the length");
    assert_eq!(
        round.cavities[0].keep_outs[0].diameter.as_ref().map(length),
        Some(inches(32))
    );
    let other = shape(&round, "round, along the width");
    assert_eq!(
        other.cavities[0].keep_outs[0].diameter.as_ref().map(length),
        Some(inches(160))
    );
}

/// A pipe of 50 mm along the length, its middle 100 mm right and 80 mm up.
#[test]
fn a_round_one_takes_the_block_round_it() {
    let (job, id) = job();
    let job = set(&job, &at(id, ["0", "100", "80"], ["1000", "0", "0"]));
    let bare = set(&job, &[(Field::KeepOutShape(id), "round, along the length")]);
    let evaluation = evaluate(&bare);
    assert!(evaluation.cavities[0].keep_outs.is_empty());
    assert_eq!(evaluation.cavities[0].unplaced[0].why, "its diameter is not known");
    assert!(
        evaluation
            .findings
            .iter()
            .any(|f| f.words.contains("kept clear of nowhere"))
    );
    let job = set(&bare, &[(Field::KeepOutDiameter(id), "50 +- 2")]);
    let pipe = only(&job);
    assert_eq!(mm(&pipe.cuboid), [[0.0, 75.0, 55.0], [1000.0, 125.0, 105.0]]);
    // Middle read to 1 mm at 100 mm, half of the limits of 2 mm on the diameter; nothing is read at the wall.
    let middle = (0.7_f64.powi(2) / 3.0 + 1.0 / 12.0 + 2.0 / 3.0).sqrt();
    let sigma = middle.hypot(1.0 / 3.0_f64.sqrt());
    assert!((pipe.sigmas[Face::Right].as_mm() - sigma).abs() < 1e-5);
    assert_eq!(pipe.sigmas[Face::Front], Length::ZERO);
    // Two sigma more at each face are kept free for sure.
    assert!((pipe.held(Face::Left).as_mm() - 2.0 * sigma).abs() < 1e-5);
}

/// Taped at rest; up 75 mm at bump, down 50 mm at droop, 5 mm to the left.
#[test]
fn what_moves_takes_all_that_it_moves_through() {
    let (job, id) = job();
    let job = set(&job, &at(id, ["100", "200", "50"], ["200", "300", "100"]));
    let travel = [
        (Field::KeepOutTravel(id, Face::Top), "75"),
        (Field::KeepOutTravel(id, Face::Bottom), "50"),
        (Field::KeepOutTravel(id, Face::Left), "5"),
    ];
    let swept = only(&set(&job, &travel));
    assert_eq!(mm(&swept.cuboid), [[100.0, 195.0, 0.0], [200.0, 300.0, 175.0]]);
    let rest = only(&job);
    assert!(
        swept.sigmas[Face::Top] > rest.sigmas[Face::Top],
        "how far it moves was taped too"
    );
    assert_eq!(swept.sigmas[Face::Rear], rest.sigmas[Face::Rear]);
}

#[test]
fn what_is_of_the_frame_and_moves_is_cautioned() {
    let (job, id) = job();
    let says = |job: &Job| evaluate(job).findings.iter().any(|f| f.words.contains("never moves"));
    let moving = set(&job, &[(Field::KeepOutTravel(id, Face::Top), "75")]);
    assert!(says(&moving) && !says(&job));
    assert!(!says(&set(&moving, &[(Field::KeepOutSource(id), "sweep")])));
    assert!(!says(&set(&moving, &[(Field::KeepOutTravel(id, Face::Top), "0")])));
}

/// What is taken out needs no place.
#[test]
fn only_what_counts_is_missed_where_it_has_no_place() {
    let (job, id) = job();
    let nowhere = set(
        &job,
        &[(Field::KeepOutMeasured(id), "distances from corners to its middle")],
    );
    let gone = set(
        &nowhere,
        &[
            (Field::KeepOutSource(id), "removable"),
            (Field::KeepOutTaken(id), "yes"),
        ],
    );
    assert_eq!(evaluate(&nowhere).cavities[0].unplaced.len(), 1);
    assert_eq!(evaluate(&gone).cavities[0].unplaced, []);
}

/// Taken over from the evaluation before, it follows the margin of now.
#[test]
fn a_margin_that_changes_reaches_keep_outs_that_did_not() {
    let (job, _) = job();
    let before = evaluate(&job);
    let wider = set(&job, &[(Field::Margin, "20")]);
    let after = job::evaluate_after(&wider, Some((&job, &before)));
    assert_eq!(after, evaluate(&wider));
    assert_eq!(after.cavities[0].keep_outs[0].margin, Length::mm(20));
}

/// The middle of a bolt head at 300, 120, 90, by its distances from four corners of a square cavity; 20 mm each way.
#[test]
fn distances_from_corners_place_its_middle() {
    let (job, id) = job();
    let middle = [300.0, 120.0, 90.0];
    let mut job = set(&job, &at(id, ["-20", "-20", "-20"], ["20", "20", "20"]));
    job = set(
        &job,
        &[(Field::KeepOutMeasured(id), "distances from corners to its middle")],
    );
    let unplaced = evaluate(&job).cavities[0].unplaced[0].why.clone();
    assert!(unplaced.contains("three corners"), "{unplaced}");
    for corner in [0, 1, 3, 4].map(|i| Corner::ALL[i]) {
        let at = [
            if corner.rear { 1000.0 } else { 0.0 },
            if corner.right { 400.0 } else { 0.0 },
            if corner.top { 250.0 } else { 0.0 },
        ];
        let distance = (0..3).map(|i| f64::powi(middle[i] - at[i], 2)).sum::<f64>().sqrt();
        job = set(
            &job,
            &[(Field::KeepOutDistance(id, corner), &format!("{distance:.3} +- 0.5"))],
        );
    }
    let bolt = only(&job);
    for (axis, middle) in Axis::ALL.into_iter().zip(middle) {
        let [lo, hi] = [bolt.cuboid.lo()[axis], bolt.cuboid.hi()[axis]].map(Length::as_mm);
        assert!(
            (lo - (middle - 20.0)).abs() < 0.01 && (hi - (middle + 20.0)).abs() < 0.01,
            "{lo} {hi}"
        );
        assert!(bolt.sigmas[Face::high(axis)] > Length::ZERO);
    }
}

/// Hooked over the rear wall: what its distance from the front wall may be off counts too.
#[test]
fn from_a_far_corner_of_a_surveyed_cavity_its_own_uncertainty_counts() {
    let job = job::load(job::example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
    let cavity = job.cavities[0].clone();
    let id = cavity.keep_outs[0].id;
    let near = only(&set(
        &job,
        &at(id, ["100 mm", "10 mm", "20 mm"], ["150 mm", "30 mm", "60 mm"]),
    ));
    let far = set(&job, &[(Field::KeepOutMeasured(id), "rear left bottom")]);
    let far = only(&set(
        &far,
        &at(id, ["100 mm", "10 mm", "20 mm"], ["150 mm", "30 mm", "60 mm"]),
    ));
    assert!(far.sigmas[Face::Rear] > near.sigmas[Face::Rear]);
    // As wide as it was taped, and what the wall leans over its own extent.
    let lean = far.cuboid.size()[Axis::X] - Length::mm(50);
    assert!(lean >= Length::ZERO && lean < Length::mm(1), "{lean:?}");
    let evaluation = evaluate(&job);
    let shape = evaluation.cavities[0].survey.shape.as_ref().unwrap();
    let rear = shape.corners()[1][0];
    assert!((far.cuboid.hi()[Axis::X].as_mm() - (rear - 100.0)).abs() < 1.0);
    assert!(near.sure.contains(&near.cuboid) && far.sure.contains(&far.cuboid));
}

/// Limits of 1 mm typed after it: one sigma is 1 / sqrt 3, and two of them hold all of the limits.
#[test]
fn what_is_typed_after_a_place_is_its_limits() {
    let (job, id) = job();
    let front = only(&set(&job, &at(id, ["100 +- 1", "10", "20"], ["150", "30", "60"])));
    assert!((front.sigmas[Face::Front].as_mm() - 1.0 / 3.0_f64.sqrt()).abs() < 1e-6);
    assert!(front.held(Face::Front) > Length::mm(1));
}

/// The front wall lies 40 mm farther back at the right: what was taped from it there reaches that much farther too.
#[test]
fn what_is_taped_from_a_leaning_wall_follows_it() {
    let mut job = Job::empty(UnitsName::Millimetre);
    let cavity = job.cavities[0].id;
    let corner = |c: Corner| {
        let front = if c.right { 40.0 } else { 0.0 };
        [
            if c.rear { 1000.0 } else { front },
            if c.right { 400.0 } else { 0.0 },
            if c.top { 250.0 } else { 0.0 },
        ]
    };
    for line in tape::survey::Line::all().into_iter().take(24) {
        let [a, b] = line.ends().map(corner);
        let mm = (0..3).map(|i| f64::powi(a[i] - b[i], 2)).sum::<f64>().sqrt();
        let line = line.to_string().parse().unwrap();
        job = job
            .with(&Edit::AddReading {
                cavity,
                line,
                text: format!("{mm:.1} mm"),
            })
            .unwrap();
    }
    let job = job.with(&Edit::AddKeepOut(cavity)).unwrap();
    let id = job.cavities[0].keep_outs[0].id;
    let job = set(&job, &at(id, ["0", "380", "0"], ["100", "400", "250"]));
    let region = only(&job).cuboid;
    assert!((region.hi()[Axis::X].as_mm() - 140.0).abs() < 1.0, "{:?}", mm(&region));
    assert_eq!(region.lo()[Axis::X], Length::ZERO);
}

/// Blind, the length is known to 1/8 in only: what is counted from its far end is no better known.
#[test]
fn from_the_far_end_of_a_square_cavity_its_length_counts() {
    let (job, id) = job();
    let cavity = job.cavities[0].id;
    let job = set(&job, &[(Field::ReadingTaken(cavity, 0), "hooked blind")]);
    let job = set(&job, &at(id, ["0", "10", "20"], ["150 +- 0.5", "30", "60"]));
    let job = set(&job, &[(Field::KeepOutMeasured(id), "rear left bottom")]);
    let front = only(&job).sigmas[Face::Front].as_mm();
    assert!((front - 3.175_f64.hypot(0.5 / 3.0_f64.sqrt())).abs() < 1e-5, "{front}");
}
