//! Opening the screens.

use std::io::{self, IsTerminal};
use std::path::PathBuf;

use job::Example;
use tui::{Open, Options};

use crate::trouble::{Trouble, Verdict};
use crate::{date, input, state_dir};

/// Opens the screens with the job in `file`, or with the start page.
pub(crate) fn open_at_start(file: Option<PathBuf>, ascii: bool) -> Result<Verdict, Trouble> {
    let Some(path) = file else {
        return run(Open::Start, ascii, "FILE");
    };
    if input::is_standard_input(&path) {
        return Err(Trouble::new(
            "the screens need the keyboard, so they cannot read a job from standard input",
            "put the job in a file and open that; packwright check - reads standard input",
        ));
    }
    need_terminal(&path.display().to_string())?;
    // A file that is no job is refused here, where the message stays readable.
    input::read(&path)?;
    run(Open::File(path), ascii, "FILE")
}

/// Opens the screens with a built-in job, which has no file yet.
pub(crate) fn open_example(example: &Example, ascii: bool) -> Result<Verdict, Trouble> {
    need_terminal("FILE")?;
    let job = job::load(example.text.as_bytes())
        .map_err(|error| Trouble::new(format!("{}: {error}", example.name), error.fix()))?;
    run(Open::Job(Box::new(job)), ascii, "FILE")
}

fn run(open: Open, ascii: bool, name: &str) -> Result<Verdict, Trouble> {
    need_terminal(name)?;
    let options = Options {
        ascii,
        state_dir: state_dir::state_dir(),
        date: date::today(),
        clock: date::now,
    };
    tui::run(open, &options).map_err(|reason| {
        Trouble::new(
            format!("the terminal could not be used: {reason}"),
            "try another terminal window",
        )
    })?;
    Ok(Verdict::Fine)
}

/// Refuses to draw screens into a file or a pipe, or without a keyboard.
fn need_terminal(name: &str) -> Result<(), Trouble> {
    let what = match (io::stdin().is_terminal(), io::stdout().is_terminal()) {
        (true, true) => return Ok(()),
        (false, _) => "standard input",
        (true, false) => "standard output",
    };
    Err(Trouble::new(
        format!("the screens need a terminal, and {what} is none"),
        format!("without a terminal use packwright check {name}, fit {name} or cutlist {name}; see packwright --help"),
    ))
}
