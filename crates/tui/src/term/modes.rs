//! The modes of the terminal: switched on together, and off together from wherever the program ends.

use std::io::{self, Write, stdout};
use std::panic::{self, PanicHookInfo};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, Once, PoisonError};
use std::thread::{self, ThreadId};

use ratatui::crossterm::cursor::Show;
use ratatui::crossterm::event::{
    DisableBracketedPaste, DisableFocusChange, DisableMouseCapture, EnableBracketedPaste, EnableFocusChange,
    EnableMouseCapture,
};
use ratatui::crossterm::execute;
use ratatui::crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};

/// Whether the terminal is ours at the moment.
///
/// Giving it back twice would move the cursor over whatever was printed in between, such as a panic message.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// The thread that draws: only its panics end the program.
static OWNER: Mutex<Option<ThreadId>> = Mutex::new(None);

/// What the last panic on another thread said.
static WORKER_PANIC: Mutex<Option<String>> = Mutex::new(None);

/// Switches the modes on.
pub(super) fn on(mouse: bool) -> io::Result<()> {
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    let done = execute!(stdout(), EnterAlternateScreen, EnableBracketedPaste, EnableFocusChange)
        .and_then(|()| if mouse { set_mouse(true) } else { Ok(()) });
    if done.is_err() {
        leave();
    }
    done
}

/// Switches mouse reports on or off. While they are off, the terminal's own text selection works.
pub(super) fn set_mouse(on: bool) -> io::Result<()> {
    if on {
        execute!(stdout(), EnableMouseCapture)
    } else {
        execute!(stdout(), DisableMouseCapture)
    }
}

/// Gives the terminal back; does nothing the second time. Errors are dropped: there is nothing left to show them on.
pub(super) fn leave() {
    leave_through(&mut stdout());
}

/// As [`leave`], through a handle that may hold the lock on standard output.
pub(super) fn leave_through(out: &mut impl Write) {
    if TAKEN.swap(false, Ordering::SeqCst) {
        let _ = execute!(
            out,
            DisableFocusChange,
            DisableBracketedPaste,
            DisableMouseCapture,
            LeaveAlternateScreen,
            Show
        );
        let _ = disable_raw_mode();
    }
}

/// Marks this thread as the one that draws and makes its panics restore the terminal before they are printed.
///
/// A panic on any other thread prints nothing, since it would write over the screen. The thread's boundary catches
/// it, and [`take_worker_panic`] says what it was.
pub(super) fn restore_on_panic() {
    static HOOK: Once = Once::new();
    *OWNER.lock().unwrap_or_else(PoisonError::into_inner) = Some(thread::current().id());
    HOOK.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if is_elsewhere() {
                note_worker_panic(info);
            } else {
                leave();
                before(info);
            }
        }));
    });
}

/// Whether the screen is taken and this is not the thread that draws on it.
fn is_elsewhere() -> bool {
    let owner = *OWNER.lock().unwrap_or_else(PoisonError::into_inner);
    TAKEN.load(Ordering::SeqCst) && owner != Some(thread::current().id())
}

fn note_worker_panic(info: &PanicHookInfo<'_>) {
    let payload = info.payload();
    let said = payload
        .downcast_ref::<&str>()
        .copied()
        .or_else(|| payload.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("no message");
    let text = match info.location() {
        Some(place) => format!("{said} ({}:{})", place.file(), place.line()),
        None => said.to_owned(),
    };
    *WORKER_PANIC.lock().unwrap_or_else(PoisonError::into_inner) = Some(text);
}

/// What the last panic on a thread other than the drawing one said, with its place in the source; taken once.
pub fn take_worker_panic() -> Option<String> {
    WORKER_PANIC.lock().unwrap_or_else(PoisonError::into_inner).take()
}
