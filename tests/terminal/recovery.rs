//! What is there after the program was killed, and while another program has the file.

use std::fs;
use std::path::{Path, PathBuf};

use job::Job;
use tape::Length;

use crate::harness::{Home, Key, Screen, Start, eventually};

const WIDE: Start<'static> = Start {
    args: &[],
    size: (120, 36),
    env: &[],
};
const ON_FILE: Start<'static> = Start {
    args: &["bed.json"],
    ..WIDE
};

/// Puts a built-in job into a file, as somebody has saved it.
fn saved_job(home: &Home) -> (PathBuf, Job) {
    let file = home.file("bed.json");
    let text = job::example("orchard-flatbed").expect("it is built in").text;
    let job = job::load(text.as_bytes()).expect("a built-in job loads");
    fs::write(&file, job::to_text(&job)).expect("the home can be written");
    (file, job)
}

fn load(file: &Path) -> Job {
    let bytes = fs::read(file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    job::load(&bytes).unwrap_or_else(|e| panic!("{}: {e}", file.display()))
}

/// Where the first module of a job stands.
fn first_place(job: &Job) -> [i64; 3] {
    job.boxes[0].modules[0].corner().0.map(Length::nm)
}

/// Waits until a recovery file in `folder` holds `words`: it is written beside the drawing.
fn wait_kept(folder: &Path, words: &str) {
    eventually("recovery file with the last edit", || {
        let files = fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
        let mut recoveries = files
            .map(|f| f.path())
            .filter(|p| p.extension().is_some_and(|e| e == "recovery"));
        recoveries.any(|p| fs::read(p).is_ok_and(|bytes| String::from_utf8_lossy(&bytes).contains(words)))
    });
}

/// Opens the job in the file, moves its first module one step to the rear and waits until that is kept.
fn nudge_and_kill(home: &Home) {
    let mut screen = Screen::start(home, &ON_FILE);
    screen.wait_for("[Layout]");
    screen.key(Key::Right);
    screen.wait_for("nudge M13 by 1/16\" rearward");
    eventually("recovery file", || home.file(".bed.json.recovery").exists());
    screen.kill();
}

#[test]
fn a_job_never_saved_is_there_after_a_kill() {
    let home = Home::new();
    let mut screen = Screen::start(&home, &WIDE);
    screen.wait_for("new job in inches");
    screen.key(Key::Enter);
    screen.wait_for("not yet measured");
    for reading in ["50 7/8", "16 3/4", "11 13/16"] {
        screen.type_text(reading);
        screen.key(Key::Enter);
    }
    screen.wait_for("[Modules]");
    wait_kept(&home.state(), "11 13/16");
    screen.kill();

    let mut screen = Screen::start(&home, &WIDE);
    screen.wait_for("take up again");
    screen.wait_for("\"new job\", never saved");
    screen.key(Key::Enter);
    // It goes on where it was: at the first value that is missing.
    screen.wait_for("[Modules]");
    screen.wait_for("* ");
    screen.key(Key::Esc);
    screen.wait_for("left as it was");
    screen.key(Key::F(2));
    for reading in ["50 7/8\"", "16 3/4\"", "11 13/16\""] {
        screen.wait_for(reading);
    }

    screen.key(Key::Press('s'));
    screen.wait_for("save as");
    screen.key(Key::Enter);
    screen.wait_for("saved as new-job.json");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert_eq!(load(&home.file("new-job.json")).cavities[0].readings.len(), 3);

    let screen = Screen::start(&home, &WIDE);
    screen.wait_for("new job in inches");
    assert!(!screen.shown().has("take up again"), "{}", screen.shown());
}

#[test]
fn later_work_on_a_saved_job_is_there_after_a_kill() {
    let home = Home::new();
    let (file, before) = saved_job(&home);
    nudge_and_kill(&home);
    assert_eq!(load(&file), before, "the file itself is as it was saved");

    let mut screen = Screen::start(&home, &ON_FILE);
    screen.wait_for("The program was ended in the middle.");
    screen.key(Key::Press('y'));
    screen.wait_for("the later work is taken up");
    screen.wait_for("* ");
    screen.key(Key::Press('s'));
    screen.wait_for("saved as bed.json");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert!(screen.is_restored());

    let [x, y, z] = first_place(&before);
    assert_eq!(first_place(&load(&file)), [x + 25_400_000 / 16, y, z]);
    assert_eq!(load(&home.file("bed.json.bak")), before);
    assert!(!home.file(".bed.json.recovery").exists());
}

#[test]
fn later_work_goes_only_when_told_to() {
    let home = Home::new();
    let (file, before) = saved_job(&home);
    nudge_and_kill(&home);

    // Leaving the question open drops nothing.
    let mut screen = Screen::start(&home, &ON_FILE);
    screen.wait_for("The program was ended in the middle.");
    screen.key(Key::Esc);
    screen.wait_for("y takes the work up, n drops it");
    screen.kill();

    let mut screen = Screen::start(&home, &ON_FILE);
    screen.wait_for("The program was ended in the middle.");
    screen.key(Key::Press('n'));
    screen.wait_for("the work left behind is dropped");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert_eq!(load(&file), before);

    let screen = Screen::start(&home, &ON_FILE);
    screen.wait_for("[Layout]");
    assert!(!screen.shown().has("The program was ended"), "{}", screen.shown());
}

#[test]
fn a_file_open_elsewhere_is_looked_at_and_saved_elsewhere() {
    let home = Home::new();
    let (file, before) = saved_job(&home);
    let mut first = Screen::start(&home, &ON_FILE);
    first.wait_for("[Layout]");

    let mut second = Screen::start(&home, &ON_FILE);
    second.wait_for("bed.json is open in another program");
    second.key(Key::Right);
    second.wait_for("* ");
    second.key(Key::Press('s'));
    second.wait_for("S saves under another name");
    // The same name again is refused: the first program has it.
    second.key(Key::Press('S'));
    second.wait_for("save as");
    second.key(Key::Enter);
    second.wait_for("Write over it?");
    second.key(Key::Press('y'));
    second.wait_gone("Write over it?");
    assert_eq!(load(&file), before, "{}", second.shown());

    second.key(Key::Press('S'));
    second.wait_for("save as");
    second.key(Key::Ctrl('u'));
    second.type_text("other.json");
    second.key(Key::Enter);
    second.wait_for("saved as other.json");
    second.key(Key::Press('q'));
    assert!(second.exit_status().success());
    assert_ne!(load(&home.file("other.json")), before);

    // The first one goes on as if nothing had been.
    first.key(Key::Left);
    first.wait_for("* ");
    first.key(Key::Press('s'));
    first.wait_for("saved as bed.json");
    first.key(Key::Press('q'));
    assert!(first.exit_status().success());
}

#[test]
fn a_file_open_elsewhere_can_be_left() {
    let home = Home::new();
    saved_job(&home);
    let first = Screen::start(&home, &ON_FILE);
    first.wait_for("[Layout]");
    let mut second = Screen::start(&home, &ON_FILE);
    second.wait_for("bed.json is open in another program");
    second.key(Key::Press('q'));
    assert!(second.exit_status().success());
}
