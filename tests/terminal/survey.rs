//! A hollow taped with one hand: numbers and Enter, in walking order, and what is said of them.

use std::fs;

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
const MISREAD: (usize, &str) = (23, "25");

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
    if !screen
        .shown()
        .rows()
        .iter()
        .any(|row| row.contains('[') && row.contains("FLB to RLB"))
    {
        screen.key(Key::Down);
        screen.key(Key::Enter);
    }
    for (n, reading) in WALK.into_iter().enumerate() {
        screen.type_text(if n == MISREAD.0 { MISREAD.1 } else { reading });
        screen.key(Key::Enter);
    }
    screen.wait_for("RLT to FRT looks wrong: you typed 25\", the others say about 52\"");

    // The lines through the middle come last, and are left. The misread one is put right where it stands.
    screen.key(Key::Esc);
    screen.wait_for("left as it was");
    screen.key(Key::Up);
    screen.key(Key::Enter);
    screen.key(Key::Ctrl('u'));
    screen.type_text("52");
    screen.key(Key::Enter);
    screen.wait_for("6 spare readings agree");

    screen.key(Key::Press('s'));
    screen.wait_for("save as");
    screen.key(Key::Ctrl('u'));
    screen.type_text("hollow.json");
    screen.key(Key::Enter);
    screen.wait_for("saved as hollow.json");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());

    let saved = fs::read(home.file("hollow.json")).expect("the job was saved");
    let job = job::load(&saved).expect("the saved job loads");
    assert_eq!(job.cavities[0].readings.len(), WALK.len());
    let usable = job::evaluate(&job).cavities[0].usable.expect("a space").size();
    let inches = usable.0.map(tape::Length::as_inches);
    for (got, side) in inches.into_iter().zip([48.0, 20.0, 15.0]) {
        assert!(got < side && got > side - 0.5, "{got} of {side}");
    }
}
