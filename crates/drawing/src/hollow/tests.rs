//! The drawing shows every line once, and none that could be mistaken for another.

use tape::survey::{Corner, Line};

use super::*;

#[test]
fn stations_follow_each_other_in_walking_order() {
    let numbers: Vec<usize> = Station::ALL
        .iter()
        .flat_map(|s| s.lines())
        .map(|(number, _)| number)
        .collect();
    assert_eq!(numbers, (1..=28).collect::<Vec<_>>());
    let counts = Station::ALL.map(|station| station.lines().len());
    assert_eq!(counts, [4, 2, 4, 2, 2, 2, 2, 4, 2, 4]);
}

/// Lines that lie in one face, by the letter that their corners share.
#[test]
fn a_cross_lies_in_the_face_it_is_named_after() {
    for (station, letter) in [
        (Station::FloorCross, 'B'),
        (Station::RoofCross, 'T'),
        (Station::FrontCross, 'F'),
        (Station::LeftCross, 'L'),
        (Station::FloorRing, 'B'),
        (Station::RoofRing, 'T'),
    ] {
        for (_, line) in station.lines() {
            assert!(
                line.ends().iter().all(|c| c.to_string().contains(letter)),
                "{line} {}",
                station.name()
            );
        }
    }
    let rear = Station::RearCross.lines();
    assert!(rear.iter().all(|(_, line)| line.ends().iter().all(|c| c.rear)));
    let right = Station::RightCross.lines();
    assert!(right.iter().all(|(_, line)| line.ends().iter().all(|c| c.right)));
}

#[test]
fn no_line_runs_through_a_corner_that_is_not_its_own() {
    for line in Line::all() {
        let [a, b] = line.ends().map(place);
        for corner in Corner::ALL.into_iter().filter(|c| !line.ends().contains(c)) {
            let p = place(corner);
            let (along, to) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
            let off = (along[0] * to[1] - along[1] * to[0]).abs() / along[0].hypot(along[1]);
            let within = along[0] * to[0] + along[1] * to[1];
            let between = within > 0.0 && within < along[0].powi(2) + along[1].powi(2);
            assert!(!between || off > 6.0, "{line} passes {corner} at {off}");
        }
    }
}

/// Seen from the outside of the left wall with the roof up, the front is on the left; a mirror image has it on the right.
#[test]
fn the_drawing_is_no_mirror_image() {
    let at = |name: &str| place(name.parse().unwrap());
    assert!(at("FLB")[0] < at("RLB")[0]);
    assert!(at("FLT")[1] < at("FLB")[1]);
    // What lies behind is drawn higher and farther right, so roof and rear wall are in view.
    assert!(at("FRB")[1] < at("FLB")[1] && at("FRB")[0] > at("FLB")[0]);
    let hidden = Hollow::whole();
    let hidden: Vec<_> = hidden.strokes.iter().filter(|s| s.weight == Weight::Hidden).collect();
    let behind: Corner = "FRB".parse().unwrap();
    assert_eq!(hidden.len(), 3);
    assert!(hidden.iter().all(|s| s.line.ends().contains(&behind)));
}

#[test]
fn a_station_shows_its_lines_with_numbers_apart() {
    for station in Station::ALL {
        let hollow = Hollow::of_station(station);
        let taped: Vec<Line> = hollow
            .strokes
            .iter()
            .filter(|s| s.weight == Weight::Taped)
            .map(|s| s.line)
            .collect();
        let lines: Vec<Line> = station.lines().into_iter().map(|(_, line)| line).collect();
        assert_eq!(taped, lines);
        assert_eq!(hollow.numbers.len(), lines.len());
        for (i, a) in hollow.numbers.iter().enumerate() {
            for b in &hollow.numbers[i + 1..] {
                let apart = (a.at[0] - b.at[0]).hypot(a.at[1] - b.at[1]);
                assert!(apart > 15.0, "{}: {} and {}", station.name(), a.number, b.number);
            }
        }
    }
    assert_eq!(Hollow::whole().names.len(), 8);
    assert_eq!(Hollow::of_station(Station::LeftCross).names.len(), 4);
}
