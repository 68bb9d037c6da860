//! Saving, killed at any moment: the file is whole, and nothing that was saved is lost.

use std::env;
use std::fs;
use std::io::{self, BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use job::store::{self, Lock};
use job::to_text;

use crate::harness::Home;

/// How the parent tells this test binary that it is to save: the file, and the generation to begin with.
const FILE: &str = "PACKWRIGHT_TEST_SAVE_TO";
const FROM: &str = "PACKWRIGHT_TEST_SAVE_FROM";

/// Saves in all, over every child.
const SAVES: u32 = 200;

/// The job as it is the `number`th time, long enough that writing it is no single step.
fn generation(number: u32) -> String {
    let text = job::example("mountain-rescue").expect("it is built in").text;
    let mut job = job::load(text.as_bytes()).expect("a built-in job loads");
    job.name = format!("generation {number}");
    to_text(&job)
}

/// Which generation these bytes are; fails unless they are one, whole.
fn number_of(bytes: &[u8], what: &str) -> u32 {
    let job = job::load(bytes).unwrap_or_else(|e| panic!("{what} does not load: {e}"));
    let number = job.name.strip_prefix("generation ").and_then(|n| n.parse().ok());
    let number = number.unwrap_or_else(|| panic!("{what} is no generation: {}", job.name));
    assert!(
        bytes == generation(number).as_bytes(),
        "{what} is not the whole of generation {number}"
    );
    number
}

/// The same numbers every time, spread well enough to kill at different moments.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % limit
    }
}

/// No test by itself: the child that [`a_kill_at_any_moment_loses_nothing_saved`] starts and kills. It saves until then.
#[test]
fn child_that_saves() {
    let (Some(file), Ok(from)) = (env::var_os(FILE), env::var(FROM)) else {
        return;
    };
    let file = Path::new(&file);
    let _lock = Lock::take(file).expect("a killed program's lock is gone with it");
    let mut out = io::stdout();
    for number in from.parse::<u32>().expect("a number").. {
        store::save(file, generation(number).as_bytes()).expect("it can be saved");
        writeln!(out, "saved {number}")
            .and_then(|()| out.flush())
            .expect("the parent listens");
    }
}

#[test]
fn a_kill_at_any_moment_loses_nothing_saved() {
    let home = Home::new();
    let file = home.file("job.json");
    let backup = home.file("job.json.bak");
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let (mut last, mut kills) = (0, 0);
    while last < SAVES {
        let told = save_and_kill(&file, last + 1, &mut dice);
        kills += 1;
        let found = number_of(&fs::read(&file).expect("the file is there"), "the file");
        assert!(found >= told, "generation {told} was saved, the file holds {found}");
        assert!(found <= told + 1, "generation {found} was never begun");
        if let Ok(bytes) = fs::read(&backup) {
            let kept = number_of(&bytes, "the backup");
            assert!(kept == found || kept + 1 == found, "backup {kept} of file {found}");
        }
        last = found;
    }
    assert!(kills > 20, "only {kills} kills");
    store::sweep_stale(&file);
    let left: Vec<_> = fs::read_dir(home.file("."))
        .expect("the home can be read")
        .filter_map(|f| Some(f.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "tmp"))
        .collect();
    assert!(left.is_empty(), "half-written files are left: {left:?}");
}

/// Starts a child that saves from generation `from` on, kills it somewhere after a few, and returns the last generation
/// that it told of.
fn save_and_kill(file: &Path, from: u32, dice: &mut Dice) -> u32 {
    let mut child = Command::new(env::current_exe().expect("this binary"))
        .args(["saves::child_that_saves", "--exact", "--nocapture"])
        .env(FILE, file)
        .env(FROM, from.to_string())
        .stdout(Stdio::piped())
        .spawn()
        .expect("this binary starts again");
    let told = BufReader::new(child.stdout.take().expect("it is piped")).lines();
    // The test runner's own words may stand before the first.
    let mut told = told.filter_map(|line| {
        let line = line.expect("the child writes text");
        line.rsplit_once("saved ").and_then(|(_, n)| n.parse::<u32>().ok())
    });
    let count = 1 + dice.below(8);
    let mut last = 0;
    for _ in 0..count {
        last = told.next().expect("the child saves on until it is killed");
    }
    // Not just when a save has ended, but anywhere in the next one.
    for _ in 0..dice.below(200_000) {
        std::hint::spin_loop();
    }
    child.kill().expect("it runs");
    child.wait().expect("it was killed");
    told.last().unwrap_or(last)
}
