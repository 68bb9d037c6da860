//! The real program in a pseudo-terminal: keys in, screen out.
//!
//! Nothing here sleeps. A wait ends when the program has drawn what is waited for, or fails after [`LIMIT`] with the
//! screen as it is then. It looks at whole frames only. It has to name something that is not on the screen yet, or it
//! proves nothing.

use std::fmt;
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};
use rustix::process::{Pid, Signal, WaitOptions, kill_process, waitpid};
use rustix::termios::LocalModes;
use tempfile::TempDir;

/// How long a failing test waits.
const LIMIT: Duration = Duration::from_secs(10);

/// The program under test.
const PROGRAM: &str = env!("CARGO_BIN_EXE_packwright");

/// The writing end towards the program; the reader answers the terminal's queries through it.
type Writer = Arc<Mutex<Box<dyn Write + Send>>>;

/// What the terminal shows, and the signal that it changed.
type Shared = Arc<(Mutex<Shown>, Condvar)>;

/// An empty home, with the folder that programs start in.
pub(crate) struct Home(TempDir);

impl Home {
    /// A new one, gone when dropped.
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().expect("a temporary folder"))
    }

    /// A file in it.
    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// The folder for jobs that have no file yet.
    pub(crate) fn state(&self) -> PathBuf {
        self.file("state").join("packwright")
    }

    /// Runs the command line in it, without a terminal.
    pub(crate) fn command(&self, args: &[&str]) -> Output {
        let mut command = Command::new(PROGRAM);
        command.args(args).env_clear().current_dir(self.0.path());
        for (name, value) in self.environment() {
            command.env(name, value);
        }
        command.output().expect("the program starts")
    }

    /// Everything the program gets to see of its surroundings.
    fn environment(&self) -> [(&'static str, String); 4] {
        let text = |path: &Path| path.display().to_string();
        [
            ("TERM", "xterm-256color".to_owned()),
            ("LANG", "C.UTF-8".to_owned()),
            ("HOME", text(self.0.path())),
            ("XDG_STATE_HOME", text(&self.file("state"))),
        ]
    }
}

/// How the program is started.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Start<'a> {
    /// Its arguments.
    pub(crate) args: &'a [&'a str],
    /// Columns and rows of the window.
    pub(crate) size: (u16, u16),
    /// What the environment holds beside the usual.
    pub(crate) env: &'a [(&'a str, &'a str)],
}

impl Default for Start<'_> {
    fn default() -> Self {
        Self { args: &[], size: (80, 24), env: &[] }
    }
}

/// A key without a character of its own, or with Ctrl.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Key {
    Enter,
    Esc,
    Left,
    Right,
    Down,
    /// F2 to F7, the pages.
    F(u8),
    /// A letter with Ctrl.
    Ctrl(char),
    /// A letter or sign that is a command.
    Press(char),
}

impl Key {
    /// What a terminal of the xterm family sends.
    fn bytes(self) -> Vec<u8> {
        let text = match self {
            Self::Enter => "\r",
            Self::Esc => "\x1b",
            Self::Left => "\x1b[D",
            Self::Right => "\x1b[C",
            Self::Down => "\x1b[B",
            Self::F(n) => {
                const FROM_F2: [&str; 6] =
                    ["\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~"];
                FROM_F2[usize::from(n) - 2]
            }
            Self::Ctrl(c) => return vec![c as u8 & 0x1f],
            Self::Press(c) => return c.to_string().into_bytes(),
        };
        text.as_bytes().to_vec()
    }
}

/// Waits until something is so that the program does beside its screen.
pub(crate) fn eventually(what: &str, mut ok: impl FnMut() -> bool) {
    let end = Instant::now() + LIMIT;
    while !ok() {
        assert!(Instant::now() < end, "no {what}");
        std::thread::yield_now();
    }
}

/// What the left button of the mouse does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mouse {
    Down,
    Drag,
    Up,
}

/// Answers that a terminal owes to queries; a program that gets none waits for them.
#[derive(Default)]
struct Replies(Vec<u8>);

impl vt100::Callbacks for Replies {
    fn unhandled_csi(
        &mut self,
        screen: &mut vt100::Screen,
        first: Option<u8>,
        _: Option<u8>,
        params: &[&[u16]],
        command: char,
    ) {
        match (first, command, params.first().and_then(|p| p.first())) {
            (None, 'n', Some(6)) => {
                let (row, column) = screen.cursor_position();
                self.0.extend(format!("\x1b[{};{}R", row + 1, column + 1).bytes());
            }
            (None, 'c', _) => self.0.extend(b"\x1b[?62;22c"),
            (Some(b'?'), 'u', _) => self.0.extend(b"\x1b[?0u"),
            _ => {}
        }
    }
}

/// What the terminal shows, and all it was sent.
pub(crate) struct Shown {
    term: vt100::Parser<Replies>,
    sent: Vec<u8>,
    ended: bool,
}

impl Shown {
    /// The cells, modes and cursor.
    pub(crate) fn screen(&self) -> &vt100::Screen {
        self.term.screen()
    }

    /// Whether no frame is half drawn: a frame ends by hiding the cursor, or by showing it and putting it somewhere.
    fn is_whole(&self) -> bool {
        let ends_placed = || {
            let place = self.sent.windows(2).rposition(|two| two == b"\x1b[");
            place.is_some_and(|at| self.sent.ends_with(b"H") && self.sent[..at].ends_with(b"\x1b[?25h"))
        };
        let is_ours = self.screen().alternate_screen() && !self.ended;
        !is_ours || self.sent.ends_with(b"\x1b[?25l") || ends_placed()
    }

    /// Everything the program has written.
    pub(crate) fn sent(&self) -> &[u8] {
        &self.sent
    }

    /// The rows as text, of equal width.
    pub(crate) fn rows(&self) -> Vec<String> {
        let (rows, columns) = self.screen().size();
        let cell = |row, column| {
            let text = self.screen().cell(row, column).map_or("", vt100::Cell::contents);
            if text.is_empty() { " ".to_owned() } else { text.to_owned() }
        };
        (0..rows.get()).map(|row| (0..columns.get()).map(|column| cell(row, column)).collect()).collect()
    }

    /// Whether `text` stands on one row.
    pub(crate) fn has(&self, text: &str) -> bool {
        self.rows().iter().any(|row| row.contains(text))
    }

    /// Column and row of the first place where `text` stands, from 0.
    pub(crate) fn find(&self, text: &str) -> Option<(u16, u16)> {
        self.rows().iter().zip(0..).find_map(|(row, y)| {
            let x = row[..row.find(text)?].chars().count();
            Some((u16::try_from(x).ok()?, y))
        })
    }

    /// The row that holds `text`, without blanks at its end.
    pub(crate) fn row_with(&self, text: &str) -> Option<String> {
        let rows = self.rows();
        rows.iter().find(|row| row.contains(text)).map(|row| row.trim_end().to_owned())
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (rows, columns) = self.screen().size();
        writeln!(f, "{columns}x{rows}{}", if self.ended { ", the program has ended" } else { "" })?;
        self.rows().iter().try_for_each(|row| writeln!(f, "|{row}|"))
    }
}

/// The program at work in a terminal. Dropping it kills the program.
pub(crate) struct Screen {
    shared: Shared,
    master: Box<dyn MasterPty + Send>,
    writer: Writer,
    child: Box<dyn Child + Send + Sync>,
    reader: Option<JoinHandle<()>>,
    presses: u32,
    gone: bool,
}

impl Screen {
    /// Starts the program in `home`.
    pub(crate) fn start(home: &Home, start: &Start<'_>) -> Self {
        let pair = native_pty_system().openpty(pty_size(start.size)).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(PROGRAM);
        command.args(start.args);
        command.cwd(home.0.path());
        command.env_clear();
        for (name, value) in home.environment() {
            command.env(name, value);
        }
        for (name, value) in start.env {
            command.env(name, value);
        }
        let child = pair.slave.spawn_command(command).expect("the program starts");
        // While this end is open the reader would never see the program's end.
        drop(pair.slave);
        let (columns, rows) = start.size;
        let term =
            vt100::Parser::new_with_callbacks(cells(rows), cells(columns), 0, Replies::default());
        let shown = Shown { term, sent: Vec::new(), ended: false };
        let shared: Shared = Arc::new((Mutex::new(shown), Condvar::new()));
        let writer = pair.master.take_writer().expect("the writing end is free");
        let writer: Writer = Arc::new(Mutex::new(writer));
        let input = pair.master.try_clone_reader().expect("the reading end can be had");
        let reader = {
            let (shared, writer) = (Arc::clone(&shared), Arc::clone(&writer));
            std::thread::spawn(move || read(input, &shared, &writer))
        };
        let master = pair.master;
        Self { shared, master, writer, child, reader: Some(reader), presses: 0, gone: false }
    }

    /// Types characters of a name or a number, as one would; they are not counted as commands.
    pub(crate) fn type_text(&mut self, text: &str) {
        self.send(text.as_bytes());
    }

    /// Presses one key, and counts it.
    pub(crate) fn key(&mut self, key: Key) {
        self.presses += 1;
        self.send(&key.bytes());
    }

    /// Pastes text, marked as such.
    pub(crate) fn paste(&mut self, text: &str) {
        self.send(format!("\x1b[200~{text}\x1b[201~").as_bytes());
    }

    /// Uses the left button of the mouse on a cell, counted from 0.
    pub(crate) fn mouse(&mut self, what: Mouse, (x, y): (u16, u16)) {
        let (button, end) = match what {
            Mouse::Down => (0, 'M'),
            Mouse::Drag => (32, 'M'),
            Mouse::Up => (0, 'm'),
        };
        self.send(format!("\x1b[<{button};{};{}{end}", x + 1, y + 1).as_bytes());
    }

    /// How many keys were pressed, without the characters of names and numbers.
    pub(crate) const fn presses(&self) -> u32 {
        self.presses
    }

    fn send(&self, bytes: &[u8]) {
        let mut writer = self.writer.lock().unwrap_or_else(PoisonError::into_inner);
        writer.write_all(bytes).and_then(|()| writer.flush()).expect("the terminal takes input");
    }

    /// Waits until the screen is as `ok` wants it.
    pub(crate) fn wait(&self, what: &str, mut ok: impl FnMut(&Shown) -> bool) {
        let end = Instant::now() + LIMIT;
        let mut shown = self.shown();
        while !(shown.is_whole() && ok(&shown)) {
            let left = end.saturating_duration_since(Instant::now());
            assert!(!left.is_zero(), "no {what}; screen:\n{shown}");
            let woken = self.shared.1.wait_timeout(shown, left);
            shown = woken.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    /// Waits until `text` stands on one row.
    pub(crate) fn wait_for(&self, text: &str) {
        self.wait(&format!("{text:?}"), |shown| shown.has(text));
    }

    /// Waits until `text` stands nowhere any more.
    pub(crate) fn wait_gone(&self, text: &str) {
        self.wait(&format!("end of {text:?}"), |shown| !shown.has(text));
    }

    /// What the terminal shows now.
    pub(crate) fn shown(&self) -> MutexGuard<'_, Shown> {
        self.shared.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Gives the window another size.
    pub(crate) fn resize(&self, size: (u16, u16)) {
        self.shown().term.set_size(cells(size.1), cells(size.0));
        self.master.resize(pty_size(size)).expect("the window takes a size");
    }

    /// Kills the program as a power cut would: it can do nothing about it.
    pub(crate) fn kill(&mut self) {
        self.signal(Signal::KILL);
        self.exit_status();
    }

    /// Sends a signal.
    pub(crate) fn signal(&self, signal: Signal) {
        kill_process(self.pid(), signal).expect("the program is there");
    }

    fn pid(&self) -> Pid {
        let id = self.child.process_id().and_then(|id| i32::try_from(id).ok());
        id.and_then(Pid::from_raw).expect("the program has a process number")
    }

    /// Waits until the program has stopped itself. A signal to go on that is sent before would be lost.
    pub(crate) fn wait_stopped(&self) {
        eventually("stop of the program", || {
            let state = waitpid(Some(self.pid()), WaitOptions::UNTRACED | WaitOptions::NOHANG);
            state.expect("the program is our child").is_some_and(|(_, status)| status.stopped())
        });
    }

    /// Waits until the program has ended and everything it wrote is shown; how it ended.
    pub(crate) fn exit_status(&mut self) -> ExitStatus {
        self.wait("end of the program", |shown| shown.ended);
        if let Some(reader) = self.reader.take() {
            reader.join().expect("the reader does not fail");
        }
        self.gone = true;
        self.child.wait().expect("the program can be waited for")
    }

    /// Whether the terminal is as a shell expects it.
    pub(crate) fn is_restored(&self) -> bool {
        let modes = self.master.get_termios().expect("the terminal's settings can be read");
        let modes = LocalModes::from_bits_retain(modes.local_flags.bits());
        let shown = self.shown();
        let screen = shown.screen();
        modes.contains(LocalModes::ECHO | LocalModes::ICANON)
            && !screen.alternate_screen()
            && !screen.hide_cursor()
            && !screen.bracketed_paste()
            && screen.mouse_protocol_mode() == vt100::MouseProtocolMode::None
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        if !self.gone {
            let _ = kill_process(self.pid(), Signal::KILL);
            let _ = self.child.wait();
        }
    }
}

/// Takes in what the program writes until it ends.
fn read(mut input: Box<dyn Read + Send>, shared: &Shared, writer: &Writer) {
    let mut bytes = [0; 8192];
    loop {
        let count = input.read(&mut bytes).unwrap_or(0);
        let replies = {
            let mut shown = shared.0.lock().unwrap_or_else(PoisonError::into_inner);
            shown.term.process(&bytes[..count]);
            shown.sent.extend_from_slice(&bytes[..count]);
            shown.ended = count == 0;
            shared.1.notify_all();
            std::mem::take(&mut shown.term.callbacks_mut().0)
        };
        if count == 0 {
            return;
        }
        if !replies.is_empty() {
            let mut writer = writer.lock().unwrap_or_else(PoisonError::into_inner);
            // The program may be gone by now.
            let _ = writer.write_all(&replies).and_then(|()| writer.flush());
        }
    }
}

fn pty_size((cols, rows): (u16, u16)) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).expect("a window has a row and a column")
}
