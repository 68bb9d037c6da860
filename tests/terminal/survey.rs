//! A hollow taped with one hand: numbers and Enter, in walking order, and what is said of them.

use crate::harness::{Home, Key, Screen, Start};

/// Every edge and every diagonal of the faces of a square hollow of 48 x 20 x 15 in, in walking order: floor ring, floor
/// cross, posts, left, rear, right and front wall cross, roof ring, roof cross.
const WALK: [&str; 24] = [
    "48", "20", "48", "20", // floor ring
    "52", "52", // floor cross: 48, 20, 52
    "15", "15", "15", "15", // posts
    "50 5/16", "50 5/16", // left wall: the root of 48² + 15² is 50.29
    "25", "25", // rear wall: 20, 15, 25
    "50 5/16", "50 5/16", // right wall
    "25", "25", // front wall
    "48", "20", "48", "20", // roof ring
    "52", "52", // roof cross
];

/// Which of them is misread, and as what: digits the wrong way round.
const MISREAD: (usize, &str) = (5, "25");

#[test]
fn a_hollow_is_taped_in_walking_order_and_a_misread_line_is_named() {
    let home = Home::new();
    let mut screen = Screen::start(&home, &Start::default());
    screen.wait_for("new job in inches");
    screen.key(Key::Enter);
    screen.wait_for("cavity 1: not yet measured");
    // The quick start asks for three plain dimensions; whoever has a survey in mind leaves it and opens the lines.
    screen.key(Key::Esc);
    screen.wait_for("left as it was");
    for _ in 0..3 {
        screen.key(Key::Down);
    }
    screen.key(Key::Enter);
    screen.wait_for("floor ring");
    if !screen.shown().rows().iter().any(|row| row.contains('[') && row.contains("FLB to RLB")) {
        screen.key(Key::Down);
        screen.key(Key::Enter);
    }
    for (n, reading) in WALK.into_iter().enumerate() {
        screen.type_text(if n == MISREAD.0 { MISREAD.1 } else { reading });
        screen.key(Key::Enter);
    }
    screen.wait_for("RLB to FRB looks wrong: you typed 25\", the others say about 52\"");

    // It is put right where it stands, and the six spare readings agree.
    screen.key(Key::Esc);
    screen.key(Key::Press('s'));
    screen.wait_for("save as");
    screen.key(Key::Enter);
    screen.wait_for("saved as");
    let told = home.command(&["survey", "new-job.json"]);
    let told = String::from_utf8(told.stdout).expect("text");
    assert!(told.contains("RLB to FRB"), "{told}");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
}
