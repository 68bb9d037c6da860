//! The real program in a pseudo-terminal: keys in, screen out.
//!
//! Nothing here sleeps. A wait ends when the program has drawn what is waited for, or fails after [`LIMIT`] with the
//! screen as it is then. It looks at whole frames only. It has to name something that is not on the screen yet, or it
//! proves nothing.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};
use rustix::process::{Pid, Signal, WaitOptions, kill_process, waitpid};
use rustix::termios::LocalModes;
use tempfile::TempDir;

pub(crate) use crate::keys::{Key, Mouse};
pub(crate) use crate::shown::Shown;

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
        Self {
            args: &[],
            size: (80, 24),
            env: &[],
        }
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
        let pair = native_pty_system()
            .openpty(pty_size(start.size))
            .expect("a pseudo-terminal");
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
        let shown = Shown::new(start.size);
        let shared: Shared = Arc::new((Mutex::new(shown), Condvar::new()));
        let writer = pair.master.take_writer().expect("the writing end is free");
        let writer: Writer = Arc::new(Mutex::new(writer));
        let input = pair.master.try_clone_reader().expect("the reading end can be had");
        let reader = {
            let (shared, writer) = (Arc::clone(&shared), Arc::clone(&writer));
            std::thread::spawn(move || read(input, &shared, &writer))
        };
        let master = pair.master;
        Self {
            shared,
            master,
            writer,
            child,
            reader: Some(reader),
            presses: 0,
            gone: false,
        }
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
    pub(crate) fn mouse(&mut self, what: Mouse, cell: (u16, u16)) {
        self.send(&what.bytes(cell));
    }

    /// How many keys were pressed, without the characters of names and numbers.
    pub(crate) const fn presses(&self) -> u32 {
        self.presses
    }

    fn send(&self, bytes: &[u8]) {
        let mut writer = self.writer.lock().unwrap_or_else(PoisonError::into_inner);
        writer
            .write_all(bytes)
            .and_then(|()| writer.flush())
            .expect("the terminal takes input");
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
        self.shown().resize(size);
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
            state
                .expect("the program is our child")
                .is_some_and(|(_, status)| status.stopped())
        });
    }

    /// Waits until the program has ended and everything it wrote is shown; how it ended.
    pub(crate) fn exit_status(&mut self) -> ExitStatus {
        self.wait("end of the program", Shown::has_ended);
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
            let replies = shown.take_in(&bytes[..count]);
            shared.1.notify_all();
            replies
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
    PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    }
}
