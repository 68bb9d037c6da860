//! Layouts worked out, stopped, chosen, taken over and taken back; pins, spreading, and what one more would take.

use std::fs;

use job::Job;

use crate::harness::{Home, Key, Screen, Start};

fn saved(screen: &mut Screen, home: &Home, name: &str) -> Job {
    screen.key(Key::Press('S'));
    screen.wait_for("save as");
    screen.key(Key::Ctrl('u'));
    screen.type_text(name);
    screen.key(Key::Enter);
    screen.wait_for(&format!("saved as {name}"));
    job::load(&fs::read(home.file(name)).expect("saved")).expect("it loads")
}

#[test]
fn from_a_layout_that_is_stopped_to_what_one_more_would_take() {
    let home = Home::new();
    let before = job::load(job::example("harbour-tender").expect("built in").text.as_bytes()).expect("it loads");
    let args = ["example", "harbour-tender", "--open"];
    let mut screen = Screen::start(
        &home,
        &Start {
            args: &args,
            size: (120, 40),
            ..Start::default()
        },
    );
    screen.wait_for("M13  loaf");

    // Stopped as soon as it has begun: what there is is offered, and when it is left the job is as it was.
    screen.key(Key::Press('F'));
    screen.wait_for("Lay out what?");
    screen.type_text("2\u{1b}");
    screen.wait_for("left pocket: stopped: best so far");
    // Stopped early enough there is nothing yet to be offered.
    let is_offered = screen.shown().has("Enter take over");
    if is_offered {
        screen.key(Key::Esc);
        screen.wait_for("kept as it was");
    }
    assert_eq!(saved(&mut screen, &home, "stopped.json"), before);

    // Worked out: the second is chosen and taken over, and undo brings the old one back.
    screen.key(Key::Press('F'));
    screen.wait_for("Lay out what?");
    screen.key(Key::Press('2'));
    screen.wait_for("layout 1 of ");
    screen.key(Key::Down);
    screen.wait_for("▸ 2 ");
    screen.key(Key::Enter);
    screen.wait_for("u undoes");
    let taken = saved(&mut screen, &home, "taken.json");
    assert_ne!(taken.boxes, before.boxes);
    screen.key(Key::Press('u'));
    screen.wait_for("undid: take over the layout");
    assert_eq!(saved(&mut screen, &home, "undone.json"), before);

    // What is pinned carries its mark and cannot be moved.
    screen.key(Key::Press('i'));
    screen.wait_for("◉ pinned");
    screen.key(Key::Left);
    screen.wait_for("unpin M13 first");
    screen.key(Key::Press('i'));
    screen.wait_for("let go of M13");

    // The box is pushed aside, and spreading brings it back into the middle.
    screen.key(Key::Press('o'));
    screen.key(Key::Left);
    screen.wait_for("nudge left box");
    screen.key(Key::Press('d'));
    screen.wait_for("Move what apart");
    screen.key(Key::Enter);
    screen.wait_for("spread the boxes of left pocket; limited by");
    let spread = saved(&mut screen, &home, "spread.json");
    assert_ne!(spread.boxes[0].at, before.boxes[0].at);
    assert_eq!(spread.boxes[0].modules, before.boxes[0].modules);

    // What one more would take is worked out row by row, and Enter goes to the value of a row.
    screen.key(Key::Press('w'));
    screen.wait_for("What would one more take?");
    screen.key(Key::Press('2'));
    screen.wait_for("all of it is worked out");
    {
        let shown = screen.shown();
        assert!(shown.has("for 5 it would take one of these"), "{shown}");
        assert!(
            shown
                .row_with("usable width")
                .is_some_and(|row| row.contains("of left pocket")),
            "{shown}"
        );
        assert!(shown.has("gained by moving a keep-out away"), "{shown}");
    }
    screen.key(Key::Enter);
    screen.wait_for("w goes back to what it would take");
    screen.key(Key::Press('w'));
    screen.wait_for("what one more would take: left pocket");
    screen.key(Key::Esc);
    screen.wait_gone("what one more would take: left pocket");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert!(screen.is_restored(), "{}", screen.shown());
}
