//! Boxes that would go in open, and what is claimed of them.

use super::*;

/// 360 wide from 120 on, its lid the uppermost 20. By the left face, over a sill that ends at 45 and under a lip that begins
/// at 240, are 195: less than the 200 of the closed box, more than the 180 of the open one.
fn under_a_lip() -> Question {
    let (closed, open) = (
        block([100, 120, 50], [700, 480, 250]),
        block([100, 120, 50], [700, 480, 230]),
    );
    let mut moved = moved(1, &[closed], &[Face::Left]);
    moved.parts[0].open = Some(open);
    moved.walls.retain(|wall| wall.what != What::Wall(Face::Top));
    let things = vec![
        thing(7, [-3000, 0, 240], [4000, 10, 3000]),
        thing(8, [-3000, 0, -3000], [4000, 10, 45]),
    ];
    asked(vec![moved], things)
}

/// The lid alone has to rise behind the lip, and the blocks of the bed, larger than the bed is, keep it from that: with them
/// nothing is proved.
#[test]
fn a_box_is_not_proved_to_stay_while_its_lid_is_not() {
    let mut question = under_a_lip();
    let bed = block([-3000, -3000, 251], [4000, 4000, 400]);
    let thing = Thing {
        name: "bed".to_owned(),
        what: What::Bed(0),
        expected: bed,
        sure: bed,
    };
    question.things.push((0, thing));
    let ways = answer(question, WORK, &mut |_| true);
    assert!(ways.boxes[0].outcome.way().is_none());
    assert!(!ways.boxes[0].outcome.is_impossible(), "{:?}", ways.boxes[0]);
}

/// A lid that cannot be screwed on in its place is not taken off: the proof is of the closed box.
#[test]
fn a_proof_of_the_closed_box_alone_says_so() {
    let mut question = under_a_lip();
    question.boxes[0].lid_stays = Some("a spanner needs 100 mm over its screws, and there is 50 mm".to_owned());
    let ways = answer(question, WORK, &mut |_| true);
    assert!(ways.boxes[0].outcome.is_impossible());
    let style = ways.question.style;
    let verdict = ways.boxes[0].verdict(style);
    assert!(verdict.starts_with("no way in, proved, with its lid on; "), "{verdict}");
    let lines = ways.boxes[0].lines(style);
    assert!(lines[0].contains("as far as it may be, with its lid on; "), "{lines:?}");
}

/// It stops without what can be put on afterwards, and is drawn so there.
#[test]
fn a_box_that_stays_is_drawn_as_it_was_tried() {
    // A gland under the floor comes off; the body is 20 too wide for the opening all the same.
    let gland = block([300, 200, 20], [340, 240, 50]);
    let mut moved = moved(1, &[body(), gland], &[Face::Bottom]);
    moved.parts[1].loose = Some(Loose::Fitting);
    let narrow = vec![
        thing(7, [0, 470, 0], [1000, 500, 20]),
        thing(8, [0, 0, 0], [1000, 30, 20]),
    ];
    let ways = worked_out(vec![moved], narrow);
    let Outcome::Stays { tried, .. } = &ways.boxes[0].outcome else {
        panic!("it does not go")
    };
    assert!(tried[0].off.fittings);
    assert!(ways.pictures[0][0].poses.iter().all(|pose| pose.len() == 1));
}
