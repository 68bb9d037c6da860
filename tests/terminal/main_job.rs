//! The main job from an empty page: readings in, modules laid out, figures read, cut list out.

use std::fs;

use serde_json::Value;

use crate::harness::{Home, Key, Screen, Shown, Start};

/// Length, width and height of the cavity, in inches, as a tape shows them.
const READINGS: [&str; 3] = ["50 7/8", "16 3/4", "11 13/16"];

/// Size, kilograms, volts and amp-hours of a module, and how many there are.
const MODULE: [&str; 7] = ["12", "5 1/2", "8 1/4", "18", "25.6", "105", "14"];

/// The drive's least and most volts.
const DRIVE: [&str; 2] = ["90", "160"];

/// As many key presses as the whole job may take, without the characters of names and numbers.
const MOST_PRESSES: u32 = 60;

/// The facts of the title block: volts empty, nominal and full, and kilowatt-hours.
fn title_facts(shown: &Shown) -> Option<([f64; 3], f64)> {
    let row = shown.rows().into_iter().find(|row| row.contains(" kWh"))?;
    let mut cells = row
        .split('│')
        .map(|cell| cell.trim().trim_start_matches('~').to_owned());
    let volts = cells.find(|cell| cell.ends_with(" V"))?;
    let volts: Vec<f64> = volts
        .trim_end_matches(" V")
        .split(" / ")
        .map(str::parse)
        .collect::<Result<_, _>>()
        .ok()?;
    let energy = cells.find(|cell| cell.contains(" kWh"))?;
    let energy = energy.split(' ').next()?.parse().ok()?;
    Some((volts.try_into().ok()?, energy))
}

/// What the panel says of the first clearance in this direction: the selected module's.
fn clearance(shown: &Shown, direction: &str) -> Option<String> {
    let label = format!(" {direction} ");
    let row = shown.row_with(&label)?;
    let words = &row[row.find(&label)? + label.len()..];
    Some(words.trim().trim_end_matches('│').trim().to_owned())
}

/// Types one value after the other, each taken with Enter.
fn fill_in(screen: &mut Screen, values: &[&str]) {
    for value in values {
        screen.type_text(value);
        screen.key(Key::Enter);
    }
}

/// Clears the line being filled in and types another.
fn name_it(screen: &mut Screen, label: &str, name: &str) {
    screen.wait_for(label);
    screen.key(Key::Ctrl('u'));
    screen.type_text(name);
    screen.key(Key::Enter);
}

#[test]
fn from_an_empty_job_to_a_cut_list() {
    let home = Home::new();
    let mut screen = Screen::start(&home, &Start::default());
    screen.wait_for("new job in inches");

    screen.key(Key::Enter);
    screen.wait_for("cavity 1: not yet measured");
    fill_in(&mut screen, &READINGS);
    screen.wait_for("[Modules]");
    fill_in(&mut screen, &MODULE);
    screen.wait_for("[Pack]");
    fill_in(&mut screen, &DRIVE);
    // The first layout comes without a key.
    screen.wait_for("laid out 5 modules");
    screen.wait_for("[Layout]");

    // A nudge towards the next module is seen at once, and the way back too.
    let before = clearance(&screen.shown(), "rear").expect("a module is selected");
    screen.key(Key::Right);
    screen.wait("other clearance", |shown| {
        clearance(shown, "rear").is_some_and(|c| c != before)
    });
    screen.key(Key::Left);
    screen.wait("clearance as before", |shown| {
        clearance(shown, "rear").as_ref() == Some(&before)
    });

    screen.key(Key::Press('f'));
    screen.wait_for("take over");
    screen.key(Key::Press('n'));
    screen.wait_for("kept as it was");

    screen.key(Key::Press('s'));
    name_it(&mut screen, "save as", "saddle.json");
    screen.wait_for("saved as saddle.json");
    let (volts, energy) = title_facts(&screen.shown()).expect("the title block has volts and kWh");

    screen.key(Key::F(7));
    screen.wait_for("[x] cut list");
    screen.key(Key::Press('w'));
    name_it(&mut screen, "folder for the papers", "papers");
    screen.wait_for("written to ");

    screen.key(Key::Press('q'));
    let status = screen.exit_status();
    assert!(status.success(), "{status:?}");
    assert!(screen.is_restored(), "{}", screen.shown());
    println!(
        "the main job took {} key presses beside names and numbers",
        screen.presses()
    );
    assert!(screen.presses() < MOST_PRESSES, "{} key presses", screen.presses());

    let saved = fs::read(home.file("saddle.json")).expect("the job was saved");
    let job = job::load(&saved).expect("the saved job loads");
    assert_eq!(job.boxes.iter().map(|b| b.modules.len()).sum::<usize>(), 5);

    let cut_list = fs::read_to_string(home.file("papers/cut-list.csv")).expect("the cut list was written");
    let marks: usize = job::evaluate(&job)
        .cut
        .list
        .tables
        .iter()
        .map(|table| table.lines.len())
        .sum();
    assert!(marks > 0);
    assert_eq!(cut_list.lines().count(), 1 + marks, "{cut_list}");

    // The command line tells the figures that the screen showed.
    let check = home.command(&["check", "saddle.json", "--json"]);
    assert!(check.status.success(), "{}", String::from_utf8_lossy(&check.stderr));
    let figures: Value = serde_json::from_slice(&check.stdout).expect("the figures are JSON");
    let headline = &figures["headline"];
    let told = [
        &headline["volts"]["empty_v"],
        &headline["volts"]["nominal_v"],
        &headline["volts"]["full_v"],
        &headline["energy_kwh"],
    ];
    let [empty, nominal, full] = volts;
    for (told, (shown, half)) in told
        .into_iter()
        .zip([(empty, 0.05), (nominal, 0.05), (full, 0.05), (energy, 0.005)])
    {
        let told = told
            .as_f64()
            .unwrap_or_else(|| panic!("a number is missing in {headline}"));
        // Half of the last place that the screen shows, and a hair for the binary fraction.
        assert!(
            (told - shown).abs() <= half + 1e-9,
            "{told} on the command line, {shown} on screen"
        );
    }
}
