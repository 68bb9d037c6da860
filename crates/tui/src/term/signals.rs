//! Death by signal: the terminal is given back first, and the parent still sees which signal it was.

use std::io::{self, stdout};
use std::sync::Once;
use std::thread;

use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

use super::modes::leave_through;

/// Starts the thread that waits for `TERM`, `HUP` and `INT`; once in the life of the program.
pub(super) fn watch() -> io::Result<()> {
    static STARTED: Once = Once::new();
    let mut outcome = Ok(());
    STARTED.call_once(|| outcome = start());
    outcome
}

fn start() -> io::Result<()> {
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    thread::Builder::new()
        .name("signals".into())
        .spawn(move || {
            if let Some(signal) = signals.forever().next() {
                // The lock is held until death, so that no half-drawn frame follows on the restored screen.
                let mut out = stdout().lock();
                leave_through(&mut out);
                let _ = emulate_default_handler(signal);
            }
        })
        .map(drop)
}
