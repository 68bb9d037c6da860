//! How far the automatic layout is, on one line of the terminal.

use std::io::{self, IsTerminal, Write};

use geometry::fit;

/// Shows on standard error how far a layout is, when that is a terminal.
pub(super) struct Progress {
    shown: Option<Shown>,
    terminal: bool,
}

/// What stands on the line: it is written anew only when that changes.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Shown {
    percent: u64,
    count: u32,
    upper_bound: u32,
}

impl Progress {
    pub(super) fn new() -> Self {
        Self {
            shown: None,
            terminal: io::stderr().is_terminal(),
        }
    }

    /// Takes the line away.
    pub(super) fn clear(&mut self) {
        if self.shown.take().is_some() {
            write("");
        }
    }
}

impl fit::Watch for Progress {
    fn carry_on(&mut self, progress: fit::Progress) -> bool {
        let percent = progress.done.saturating_mul(100) / progress.of.max(1);
        let now = Shown {
            percent,
            count: progress.count,
            upper_bound: progress.upper_bound,
        };
        if self.terminal && self.shown != Some(now) {
            write(&format!(
                "laying out: {} modules so far, at most {} ({percent} %)",
                now.count, now.upper_bound
            ));
            self.shown = Some(now);
        }
        true
    }
}

/// A line of the terminal that tells how far other work is; nothing where nobody looks.
#[derive(Clone, Copy)]
pub(super) struct Line {
    terminal: bool,
}

impl Line {
    pub(super) fn new() -> Self {
        Self {
            terminal: io::stderr().is_terminal(),
        }
    }

    pub(super) fn tell(self, text: &str) {
        if self.terminal {
            write(text);
        }
    }

    /// Takes the line away.
    pub(super) fn clear(self) {
        self.tell("");
    }
}

/// Writes over the line: back to its start, the text, and nothing behind it.
fn write(line: &str) {
    let mut terminal = io::stderr().lock();
    let _ = write!(terminal, "\r{line}\u{1b}[K").and_then(|()| terminal.flush());
}
