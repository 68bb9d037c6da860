//! Writing the recovery file in the background, so that drawing never waits for a disk.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use super::fingerprint::Fingerprint;
use super::recovery::{Recovery, RecoveryError};
use super::trouble::{FileTrouble, Tried};

/// A pause in the edits this long is used to get them onto the disk.
const PAUSE: Duration = Duration::from_millis(300);

/// Without a pause, edits get onto the disk this often.
const NO_PAUSE: Duration = Duration::from_secs(2);

/// Keeps a recovery file up to date from a thread of its own.
///
/// Every edit is written at once, or skipped for a later one that came while the file was being
/// written: the latest wins. A program killed at any moment loses nothing written, because the
/// system has it. A power cut loses what was not yet on the disk, at most the edits since the
/// last pause of 300 ms, or the last two seconds; what was there before is kept until then.
///
/// Dropping a writer writes what is left and stops; the file stays unless discarded.
#[derive(Debug)]
pub struct Writer {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

#[derive(Debug)]
struct Shared {
    state: Mutex<State>,
    changed: Condvar,
}

/// What was asked for and how far it got. Orders are counted; each replaces the one before.
#[derive(Debug)]
struct State {
    base: Option<Fingerprint>,
    /// What the file should be, `None` for no file.
    wanted: Option<Arc<[u8]>>,
    /// Orders given.
    ordered: u64,
    /// Orders carried out or overtaken by one that was.
    written: u64,
    /// Those of them that a power cut does not undo.
    settled: u64,
    /// Orders somebody waits for.
    flush: u64,
    error: Option<Arc<RecoveryError>>,
    finish: bool,
    /// The thread is gone.
    stopped: bool,
}

/// The next thing for the thread to do.
enum Next {
    Write {
        order: u64,
        base: Option<Fingerprint>,
        content: Option<Arc<[u8]>>,
        settle: bool,
    },
    Settle {
        order: u64,
    },
    Stop,
}

impl Writer {
    /// Starts the thread. Nothing is written before the first [`Writer::put`].
    ///
    /// - `base`: the job's file as it was read, `None` if there is none.
    ///
    /// # Errors
    ///
    /// [`RecoveryError::Failed`] if the system gives no thread.
    pub fn start(recovery: Recovery, base: Option<Fingerprint>) -> Result<Self, RecoveryError> {
        let shared = Arc::new(Shared::new(base));
        let path = recovery.path().to_path_buf();
        let for_thread = Arc::clone(&shared);
        let thread = thread::Builder::new()
            .name("recovery".to_owned())
            .spawn(move || work(&for_thread, &recovery))
            .map_err(FileTrouble::on(&path, Tried::StartWriting))?;
        Ok(Self {
            shared,
            thread: Some(thread),
        })
    }

    /// Has `bytes` written, in place of anything still waiting; returns at once.
    pub fn put(&self, bytes: Vec<u8>) {
        self.shared.order(|state| state.wanted = Some(bytes.into()));
    }

    /// Says that `bytes` were saved to the job's file.
    ///
    /// The recovery file is removed, unless something else was put meanwhile; that is written
    /// again, as edits of the job now saved.
    pub fn saved(&self, bytes: &[u8]) {
        self.shared.order(|state| {
            state.base = Some(Fingerprint::of(bytes));
            state.wanted = state.wanted.take().filter(|wanted| **wanted != *bytes);
        });
    }

    /// Has the recovery file removed: its edits are not wanted. Returns at once.
    pub fn discard(&self) {
        self.shared.order(|state| state.wanted = None);
    }

    /// Waits until everything asked for so far is done and on the disk.
    ///
    /// What failed before is tried once more.
    ///
    /// # Errors
    ///
    /// What [`Writer::last_error`] says then.
    pub fn flush(&self) -> Result<(), Arc<RecoveryError>> {
        let mut state = self.shared.lock();
        if state.error.is_some() {
            state.ordered += 1;
        }
        let order = state.ordered;
        state.flush = order;
        self.shared.changed.notify_all();
        while state.settled < order && !state.stopped {
            state = self.shared.wait(state);
        }
        state.error.clone().map_or(Ok(()), Err)
    }

    /// Why the last write failed, `None` if it did not.
    pub fn last_error(&self) -> Option<Arc<RecoveryError>> {
        self.shared.lock().error.clone()
    }

    /// Does everything asked for, gets it onto the disk and stops.
    ///
    /// # Errors
    ///
    /// As [`Writer::flush`].
    pub fn finish(mut self) -> Result<(), Arc<RecoveryError>> {
        let flushed = self.flush();
        self.stop();
        flushed
    }

    fn stop(&mut self) {
        self.shared.lock().finish = true;
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join(); // it does not panic, and if it did there is nothing to do
        }
    }
}

impl Drop for Writer {
    fn drop(&mut self) {
        self.stop();
    }
}

impl Shared {
    fn new(base: Option<Fingerprint>) -> Self {
        let state = State {
            base,
            wanted: None,
            ordered: 0,
            written: 0,
            settled: 0,
            flush: 0,
            error: None,
            finish: false,
            stopped: false,
        };
        Self {
            state: Mutex::new(state),
            changed: Condvar::new(),
        }
    }

    /// A panic elsewhere leaves the state usable: every change of it is a plain assignment.
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait<'a>(&self, state: MutexGuard<'a, State>) -> MutexGuard<'a, State> {
        let woken = self.changed.wait(state);
        woken.unwrap_or_else(PoisonError::into_inner)
    }

    fn order(&self, change: impl FnOnce(&mut State)) {
        let mut state = self.lock();
        change(&mut state);
        state.ordered += 1;
        drop(state);
        self.changed.notify_all();
    }

    /// Waits for something to do. `since`: when the first edit not yet on the disk was written.
    fn next(&self, since: Option<Instant>) -> Next {
        let mut state = self.lock();
        loop {
            let long_ago = since.is_some_and(|since| since.elapsed() >= NO_PAUSE);
            let settle = state.finish || state.flush > state.settled || long_ago;
            if state.written < state.ordered {
                return Next::Write {
                    order: state.ordered,
                    base: state.base,
                    content: state.wanted.clone(),
                    settle,
                };
            }
            let order = state.written;
            let is_settled = state.settled == order;
            if !is_settled && settle {
                return Next::Settle { order };
            }
            if state.finish {
                return Next::Stop;
            }
            if is_settled {
                state = self.wait(state);
                continue;
            }
            let (woken, timeout) = self
                .changed
                .wait_timeout(state, PAUSE)
                .unwrap_or_else(PoisonError::into_inner);
            state = woken;
            if timeout.timed_out() && state.written == state.ordered {
                return Next::Settle { order };
            }
        }
    }

    fn done(&self, order: u64, is_settled: bool, result: Result<(), RecoveryError>) {
        let mut state = self.lock();
        state.written = order;
        // A failure is reported, not waited for.
        if is_settled || result.is_err() {
            state.settled = order;
        }
        state.error = result.err().map(Arc::new);
        drop(state);
        self.changed.notify_all();
    }
}

/// The thread.
fn work(shared: &Shared, recovery: &Recovery) {
    let _says_so_when_gone = SayStopped(shared);
    // When the first edit not yet on the disk was written; `None` if the file is on the disk.
    let mut since: Option<Instant> = None;
    let mut has_settled_file = false;
    loop {
        match shared.next(since) {
            Next::Write {
                order, content: None, ..
            } => {
                shared.done(order, true, recovery.discard());
                since = None;
                has_settled_file = false;
            }
            Next::Write {
                order,
                base,
                content: Some(content),
                settle: true,
            } => {
                let result = recovery.write(base, &content);
                if result.is_ok() {
                    since = None;
                    has_settled_file = true;
                }
                shared.done(order, true, result);
            }
            Next::Write {
                order,
                base,
                content: Some(content),
                settle: false,
            } => {
                let kept = if has_settled_file {
                    recovery.keep_older()
                } else {
                    Ok(())
                };
                let result = kept.and_then(|()| recovery.write_unsettled(base, &content));
                has_settled_file = false;
                since = since.or_else(|| Some(Instant::now()));
                shared.done(order, false, result);
            }
            Next::Settle { order } => {
                let result = recovery.settle();
                has_settled_file = result.is_ok();
                since = None;
                shared.done(order, true, result);
            }
            Next::Stop => return,
        }
    }
}

/// Nobody is left waiting for a thread that is gone.
struct SayStopped<'a>(&'a Shared);

impl Drop for SayStopped<'_> {
    fn drop(&mut self) {
        self.0.lock().stopped = true;
        self.0.changed.notify_all();
    }
}

#[cfg(test)]
mod tests;
