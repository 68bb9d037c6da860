use super::*;
use crate::Length;

fn corner(name: &str) -> Corner {
    name.parse().unwrap()
}

fn line(from: &str, to: &str) -> Line {
    Line::new(corner(from), corner(to)).unwrap()
}

/// A cavity of about 1000 x 400 x 250 mm that nothing is square in.
fn skewed() -> Corners {
    let mut corners = square_box([1000.0, 400.0, 250.0]);
    for (index, part) in corners.as_flattened_mut().iter_mut().enumerate() {
        let step = f64::from(u32::try_from(index).unwrap());
        // Up to 9 mm either way, each its own.
        *part += 9.0 * (step * 2.399).sin();
    }
    corners
}

fn exact(told: Told, corners: &Corners) -> Observation {
    Observation {
        told,
        value: Length::from_mm(told.at(corners).0),
        sigma: Length::mm(1),
    }
}

fn read(line: Line, corners: &Corners) -> Observation {
    let [from, to] = line.ends();
    exact(Told::Distance(from, to), corners)
}

/// All edges and both diagonals of every face.
fn usual(corners: &Corners) -> Vec<Observation> {
    Line::all()[..24].iter().map(|&line| read(line, corners)).collect()
}

/// 12 edges and one diagonal in each face: just enough.
fn just_enough(corners: &Corners) -> Vec<Observation> {
    let diagonals = [
        line("FLB", "RRB"),
        line("FLT", "RRT"),
        line("FLB", "RLT"),
        line("RLB", "RRT"),
        line("RRB", "FRT"),
        line("FRB", "FLT"),
    ];
    let edges = Line::all()
        .into_iter()
        .filter(|line| matches!(line.kind(), super::super::LineKind::Edge(_)));
    edges.chain(diagonals).map(|line| read(line, corners)).collect()
}

#[track_caller]
fn assert_shape(found: &Adjustment, corners: &Corners) {
    for figure in &found.lines {
        let [from, to] = figure.line.ends().map(Corner::index);
        let (mm, _) = distance(corners, from, to);
        assert!((figure.mm - mm).abs() < 1e-4, "{}: {} not {mm}", figure.line, figure.mm);
    }
}

#[test]
fn just_enough_readings_give_the_shape_and_check_nothing() {
    let corners = skewed();
    let found = adjust(&just_enough(&corners)).unwrap();
    assert_shape(&found, &corners);
    assert_eq!((found.spare, found.agreement()), (0, Agreement::NoSpare));
    assert!(
        found
            .figures
            .iter()
            .all(|f| f.standardised.is_none() && f.redundancy < 1e-6)
    );
    assert_eq!(found.reference_variance(), None);
}

#[test]
fn statements_stand_in_for_readings() {
    let corners = skewed();
    let mut survey = just_enough(&corners);
    // Six readings fewer, six things said instead, each as it is.
    for gone in [
        line("RLB", "RLT"),
        line("FLT", "RRT"),
        line("RRT", "FRT"),
        line("FRB", "FLT"),
    ] {
        survey.retain(|o| o.told.line() != Some(gone));
    }
    assert!(adjust(&survey).is_err());
    survey.extend(
        [
            Told::OutOfSquare {
                at: corner("FLB"),
                along: Direction::Length,
                end: Direction::Height,
            },
            Told::OutOfSquare {
                at: corner("RLT"),
                along: Direction::Length,
                end: Direction::Width,
            },
            Told::OutOfSquare {
                at: corner("FRB"),
                along: Direction::Width,
                end: Direction::Height,
            },
            Told::Offset {
                corner: corner("RRT"),
                line: line("FLB", "RLB"),
            },
            Told::Twist {
                edge: line("FLT", "RLT"),
                to: line("FLB", "RLB"),
            },
            Told::Splay {
                edge: line("FRT", "RRT"),
                to: line("FLT", "RLT"),
            },
        ]
        .map(|told| exact(told, &corners)),
    );
    let found = adjust(&survey).unwrap();
    assert_shape(&found, &corners);
    assert_eq!(found.spare, 2);
}

#[test]
fn three_readings_and_the_word_that_all_is_square_are_a_box() {
    let within = Length::mm(2);
    let mut survey: Vec<Observation> = [("FLB", "RLB", 1000), ("FLB", "FRB", 400), ("FLB", "FLT", 250)]
        .map(|(from, to, mm)| Observation::distance(corner(from), corner(to), Length::mm(mm), Length::mm(1)))
        .to_vec();
    for direction in Direction::ALL {
        let edges = Line::all()
            .into_iter()
            .filter(|line| line.kind() == super::super::LineKind::Edge(direction));
        let edges: Vec<Line> = edges.collect();
        for &edge in &edges[1..] {
            survey.extend(Observation::parallel(edge, edges[0], within).unwrap());
        }
    }
    for (along, end) in [(0, 1), (0, 2), (1, 2)] {
        let [along, end] = [along, end].map(|i: usize| Direction::ALL[i]);
        survey.push(Observation::square(corner("FLB"), along, end, within).unwrap());
    }
    let found = adjust(&survey).unwrap();
    assert_shape(&found, &square_box([1000.0, 400.0, 250.0]));
}

#[test]
fn one_level_tells_how_the_cavity_stands_and_nothing_of_its_shape() {
    let corners = skewed();
    let alone = adjust(&usual(&corners)).unwrap();
    let mut survey = usual(&corners);
    survey.push(Observation::level(line("FLB", "RLB"), Length::mm(2)));
    let level = adjust(&survey).unwrap();
    assert_eq!((level.spare, level.strength.wanted), (alone.spare, 19));
    for (a, b) in alone.lines.iter().zip(&level.lines) {
        assert!(
            (a.mm - b.mm).abs() < 1e-6 && (a.sigma_mm - b.sigma_mm).abs() < 1e-6,
            "{a:?} {b:?}"
        );
    }
    // It stands as said: the left edge of the floor is level.
    assert!(level.corners[1][2].abs() < 1e-6, "{:?}", level.corners);
}

#[test]
fn two_level_rails_tell_of_a_twist_and_not_of_a_tilt_across() {
    let mut corners = square_box([1000.0, 400.0, 250.0]);
    // The right rail runs in by 10 mm, so that a tilt across would show in its rise by a hundredth, and the floor is
    // twisted by 4 mm.
    corners[2][1] -= 10.0;
    corners[2][2] += 4.0;
    let mut survey = usual(&corners);
    for rail in [line("FLB", "RLB"), line("FRB", "RRB")] {
        survey.push(Observation::level(rail, Length::mm(1)));
    }
    let found = adjust(&survey).unwrap();
    assert_eq!((found.strength.wanted, found.spare), (19, 7));
    assert!(found.strength.is_sound(), "{:?}", found.strength);
    // Both can't be level: the last statement is checked by the others, which know of the twist, if poorly.
    let last = found.figures[25];
    assert!(last.redundancy > 0.01 && last.residual_mm.abs() > 0.05, "{last:?}");
    assert!(found.corners[3][2].abs() < 20.0, "{:?}", found.corners);
}

#[test]
fn levels_both_ways_set_the_vertical() {
    let corners = skewed();
    let mut survey = usual(&corners);
    let rises = [("FLB", "RLB"), ("FLB", "FRB")].map(|(from, to)| Told::Rise(corner(from), corner(to)));
    survey.extend(rises.map(|told| exact(told, &corners)));
    let found = adjust(&survey).unwrap();
    assert_eq!((found.strength.wanted, found.spare), (20, 6));
    for (index, at) in found.corners.iter().enumerate() {
        let height = corners[index][2] - corners[0][2];
        assert!((at[2] - height).abs() < 1e-4, "{index}: {at:?} {height}");
    }
    // Plumb lines agree with them.
    let posts = [corner("FLB"), corner("RRB")];
    for post in posts {
        let [along, across] =
            [Told::LeanLengthwise, Told::LeanCrosswise].map(|t| t(post, post.across(Direction::Height)));
        for told in [along, across] {
            let (mm, _) = found.predict(told);
            assert!((mm - told.at(&corners).0).abs() < 1e-4, "{told}");
        }
    }
}

#[test]
fn a_corner_on_the_wrong_side_is_put_right() {
    let corners = skewed();
    assert_eq!(folded(&corners), []);
    let wrong = mirrored(corners, corner("RRT"));
    assert!(folded(&wrong).contains(&corner("RRT")));
    let survey = just_enough(&corners);
    let told: Vec<Told> = survey.iter().map(|o| o.told).collect();
    let cavity = Cavity {
        observations: &survey,
        told: &told,
    };
    let solved = settle(&cavity, &wrong, MOST_TRIES).unwrap();
    assert_eq!(folded(&corners_of(&solved.unknowns)), []);
}

#[test]
fn the_mirror_image_is_all_folded() {
    let mirror = skewed().map(|[x, y, z]| [x, y, -z]);
    assert_eq!(folded(&mirror).len(), 8);
}

#[test]
fn sigmas_that_are_too_large_are_told_once_there_are_spare_readings_enough() {
    let corners = skewed();
    let readings: Vec<Observation> = Line::all().iter().map(|&line| read(line, &corners)).collect();
    let twice = [readings.clone(), readings].concat();
    let found = adjust(&twice).unwrap();
    // Read to the nanometre and said to be good to a millimetre.
    assert_eq!(found.agreement(), Agreement::Better);
    assert!(found.fitting_sigma_factor().unwrap() < 1e-3);
    assert_eq!(adjust(&usual(&corners)).unwrap().fitting_sigma_factor(), None);
}

#[test]
fn readings_that_do_not_meet_in_a_corner_are_named() {
    let corners = skewed();
    let mut survey = just_enough(&corners);
    // RLT is held by edges and one wall diagonal. A rear post that long pulls it flat.
    let diagonal = survey
        .iter()
        .position(|o| o.told.line() == Some(line("FLB", "RLT")))
        .unwrap();
    survey[diagonal].value += Length::mm(300);
    let refusal = adjust(&survey).unwrap_err();
    let named = match &refusal {
        Refusal::CannotMeet { readings, .. } => readings.contains(&diagonal),
        Refusal::CannotClose(open) => open.iter().any(|triangle| triangle.readings.contains(&diagonal)),
        _ => false,
    };
    assert!(named, "{refusal}");
}

#[test]
fn a_short_survey_says_what_is_open() {
    let corners = skewed();
    let mut survey = just_enough(&corners);
    survey.retain(|o| o.told.line() != Some(line("FLT", "RRT")));
    let Refusal::Short(short) = adjust(&survey).unwrap_err() else {
        panic!("the roof can lean");
    };
    let faces: Vec<String> = short.faces.iter().map(ToString::to_string).collect();
    assert_eq!((short.strength.held, short.strength.wanted), (17, 18));
    assert!(faces.contains(&"roof".to_owned()), "{short}");
    assert_eq!(
        short.to_string(),
        "these 17 readings do not hold the shape: it can still move in 1 way; not held square: roof"
    );
}
