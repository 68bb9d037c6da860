//! The window: sizes, signals, colours, characters.

use rustix::process::Signal;

use crate::harness::{Home, Key, Screen, Shown, Start};

const EXAMPLE: &[&str] = &["example", "orchard-flatbed", "--open"];

/// Every cell of the screen.
fn cells(shown: &Shown) -> impl Iterator<Item = &vt100::Cell> {
    let (rows, columns) = shown.screen().size();
    (0..rows.get())
        .flat_map(move |row| (0..columns.get()).map(move |column| (row, column)))
        .filter_map(|(row, column)| shown.screen().cell(row, column))
}

/// The numbers of every "set the looks" sequence (`ESC [ ... m`) in what was sent.
fn looks(sent: &[u8]) -> Vec<u16> {
    let text = String::from_utf8_lossy(sent);
    let sequences = text.split("\x1b[").skip(1);
    let of_looks = sequences.filter_map(|s| {
        let end = s.find(|c: char| c.is_ascii_alphabetic())?;
        s[end..].starts_with('m').then(|| s[..end].to_owned())
    });
    of_looks
        .flat_map(|s| s.split([';', ':']).filter_map(|n| n.parse().ok()).collect::<Vec<u16>>())
        .collect()
}

#[test]
fn a_window_too_small_says_so_and_a_larger_one_shows_more() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    screen.resize((60, 20));
    screen.wait_for("window 60x20: 80x24 needed");
    screen.resize((120, 40));
    screen.wait_for("[Layout]");
    screen.wait("the key bar at the bottom of the larger window", |shown| {
        shown.find("quit").is_some_and(|(_, y)| y >= 38)
    });
    screen.resize((80, 24));
    screen.wait("the title block at the bottom of the smaller window", |shown| {
        shown.find(" kWh").is_some_and(|(_, y)| y == 21)
    });
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert!(screen.is_restored());
}

#[test]
fn leaving_asks_first_when_something_is_not_saved() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    screen.key(Key::Right);
    screen.wait_for("nudge");
    screen.key(Key::Ctrl('c'));
    screen.wait_for("This job has changes that are not saved.");
    screen.key(Key::Esc);
    screen.wait_for("left as it was");
    screen.key(Key::Ctrl('c'));
    screen.wait_for("This job has changes that are not saved.");
    screen.key(Key::Press('n'));
    assert!(screen.exit_status().success());
    assert!(screen.is_restored());
}

#[test]
fn leaving_works_after_something_was_refused() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    // Modules of this job are built in loose, so there is no stack to make longer.
    screen.key(Key::Press('+'));
    screen.wait_for("built in loose");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
}

#[test]
fn a_deadly_signal_gives_the_terminal_back() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    assert!(!screen.is_restored());
    screen.signal(Signal::TERM);
    let status = screen.exit_status();
    // The parent sees which signal it was.
    assert_eq!(status.signal(), Some("Terminated"), "{status:?}");
    assert!(screen.is_restored(), "{}", screen.shown());
}

#[test]
fn the_shell_can_stop_and_resume_the_program() {
    let home = Home::new();
    let mut screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    screen.key(Key::Ctrl('z'));
    screen.wait_stopped();
    screen.wait("the shell's screen", |shown| !shown.screen().alternate_screen());
    assert!(screen.is_restored(), "{}", screen.shown());
    screen.signal(Signal::CONT);
    screen.wait("the program's screen", |shown| shown.screen().alternate_screen());
    screen.wait_for("[Layout]");
    screen.key(Key::F(2));
    screen.wait_for("[Tape]");
    screen.key(Key::Press('q'));
    assert!(screen.exit_status().success());
    assert!(screen.is_restored());
}

#[test]
fn without_colour_the_selection_still_stands_out() {
    let home = Home::new();
    let start = Start {
        args: EXAMPLE,
        env: &[("NO_COLOR", "1")],
        ..Start::default()
    };
    let mut screen = Screen::start(&home, &start);
    screen.wait_for("[Layout]");
    screen.key(Key::F(2));
    screen.wait_for("[Tape]");
    screen.key(Key::Down);
    screen.wait("a reversed row", |shown| cells(shown).any(vt100::Cell::inverse));
    let shown = screen.shown();
    // 39, 49 and 59 go back to the terminal's own colours.
    let colours: Vec<u16> = looks(shown.sent())
        .into_iter()
        .filter(|n| matches!(n, 30..=38 | 40..=48 | 58 | 90..=97 | 100..=107))
        .collect();
    assert!(colours.is_empty(), "{colours:?}:\n{shown}");
}

#[test]
fn with_colour_there_is_some() {
    let home = Home::new();
    let screen = Screen::start(
        &home,
        &Start {
            args: EXAMPLE,
            ..Start::default()
        },
    );
    screen.wait_for("[Layout]");
    assert!(
        looks(screen.shown().sent())
            .iter()
            .any(|n| matches!(n, 30..=37 | 90..=97 | 38))
    );
}

#[test]
fn plain_characters_are_enough() {
    let home = Home::new();
    let args = ["example", "orchard-flatbed", "--open", "--ascii"];
    let mut screen = Screen::start(
        &home,
        &Start {
            args: &args,
            size: (120, 44),
            env: &[],
        },
    );
    let all_plain = |screen: &Screen, page: &str| {
        screen.wait_for(page);
        let shown = screen.shown();
        let odd: Vec<&str> = cells(&shown)
            .map(vt100::Cell::contents)
            .filter(|c| !c.is_ascii())
            .collect();
        assert!(odd.is_empty(), "{odd:?} on {page}:\n{shown}");
    };
    all_plain(&screen, "[Layout]");
    for (key, page) in [
        (2, "[Tape]"),
        (3, "[Modules]"),
        (5, "[Pack]"),
        (6, "[Boxes]"),
        (7, "[Papers]"),
    ] {
        screen.key(Key::F(key));
        all_plain(&screen, page);
    }
    screen.key(Key::Press('?'));
    all_plain(&screen, "help: Papers");
}
