//! The mouse on the sheet, and values that cannot be read.

use std::fs;

use job::{Job, Placed};

use crate::harness::{Home, Key, Mouse, Screen, Start};

/// A sixteenth of an inch, the finest step.
const STEP_NM: i64 = 25_400_000 / 16;

fn module(job: &Job, number: u32) -> &Placed {
    let mut modules = job.boxes.iter().flat_map(|b| &b.modules);
    modules.find(|m| m.id.0 == number).expect("the module is in the job")
}

#[test]
fn the_mouse_selects_a_module_and_drags_it_by_whole_steps() {
    let home = Home::new();
    let before = job::load(job::example("orchard-flatbed").expect("built in").text.as_bytes()).expect("it loads");
    let args = ["example", "orchard-flatbed", "--open"];
    let mut screen = Screen::start(
        &home,
        &Start {
            args: &args,
            ..Start::default()
        },
    );
    screen.wait_for("M13  crate");
    screen.wait_for("M16");
    let at = screen.shown().find("M16").expect("M16 is on the sheet");
    screen.mouse(Mouse::Down, at);
    screen.mouse(Mouse::Up, at);
    screen.wait_for("M16  crate");

    // A click alone moves nothing.
    assert!(!screen.shown().has("nudge M"), "{}", screen.shown());
    screen.mouse(Mouse::Down, at);
    screen.mouse(Mouse::Drag, (at.0, at.1 + 1));
    screen.wait_for("nudge M16");
    screen.mouse(Mouse::Up, (at.0, at.1 + 1));

    screen.key(Key::Press('s'));
    screen.wait_for("save as");
    screen.key(Key::Ctrl('u'));
    screen.type_text("moved.json");
    screen.key(Key::Enter);
    screen.wait_for("saved as moved.json");
    let after = job::load(&fs::read(home.file("moved.json")).expect("saved")).expect("it loads");
    let moved: Vec<i64> = (0..3)
        .map(|i| module(&after, 16).corner().0[i].nm() - module(&before, 16).corner().0[i].nm())
        .collect();
    // In plan, down on the sheet is to the left.
    assert!(moved[1] < 0 && moved[1] % STEP_NM == 0, "{moved:?}");
    assert_eq!((moved[0], moved[2]), (0, 0));
    for other in [13, 14, 15, 17] {
        assert_eq!(module(&after, other).at, module(&before, other).at, "M{other}");
    }
}

#[test]
fn a_value_that_cannot_be_read_stays_with_one_message_until_it_is_mended_or_left() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            size: (120, 30),
            ..Start::default()
        },
    );
    screen.wait_for("new job in inches");
    screen.key(Key::Enter);
    screen.wait_for("not yet measured");
    screen.type_text("5/6");
    screen.key(Key::Enter);
    screen.wait_for("no tape is marked in 5/6");
    {
        let shown = screen.shown();
        let told = shown.rows().iter().filter(|row| row.contains("cannot be read")).count();
        assert_eq!(told, 1, "the message stands more than once:\n{shown}");
        assert!(shown.has("did you mean 5/16?"), "no way to mend it:\n{shown}");
        assert!(shown.has("[5/6 "), "the text did not stay:\n{shown}");
    }

    screen.key(Key::Ctrl('u'));
    screen.wait_gone("cannot be read");
    screen.type_text("5/6");
    screen.key(Key::Enter);
    screen.wait_for("cannot be read");
    screen.key(Key::Esc);
    screen.wait_gone("[5/6");
    screen.wait_gone("cannot be read");
    assert!(!screen.shown().has("* "), "{}", screen.shown());

    // What is pasted goes into the field as well, on one line.
    screen.key(Key::Enter);
    screen.wait_for("Esc leave it as it was");
    screen.paste("50\n7/8");
    screen.wait_for("[50 7/8");
    screen.key(Key::Enter);
    screen.wait_for("50 7/8\"");
}

#[test]
fn control_c_gets_away_from_a_value_being_typed() {
    let home = Home::new();
    let mut screen = Screen::start(&home, &Start::default());
    screen.wait_for("new job in inches");
    screen.key(Key::Enter);
    screen.wait_for("not yet measured");
    screen.type_text("50");
    screen.wait_for("[50 ");
    screen.key(Key::Ctrl('c'));
    screen.wait_gone("[50 ");
    screen.key(Key::Ctrl('c'));
    assert!(screen.exit_status().success());
}

#[test]
fn papers_that_cannot_be_written_leave_the_folder_to_be_mended() {
    let home = Home::new();
    let args = ["example", "orchard-flatbed", "--open"];
    let mut screen = Screen::start(
        &home,
        &Start {
            args: &args,
            ..Start::default()
        },
    );
    screen.wait_for("M13  crate");
    screen.key(Key::F(7));
    screen.wait_for("write the ticked");
    screen.key(Key::Press('w'));
    screen.wait_for("folder for the papers");
    let in_the_way = home.file("a-file");
    fs::write(&in_the_way, "no folder").expect("written");
    screen.type_text("a-file/papers");
    screen.key(Key::Enter);
    screen.wait_for("name another folder");
    // The line is still there, and mended it is done.
    screen.wait_for("[a-file/papers");
    screen.key(Key::Ctrl('u'));
    screen.type_text("papers");
    screen.key(Key::Enter);
    screen.wait_for("papers written to papers");
    assert!(home.file("papers").is_dir());
}
