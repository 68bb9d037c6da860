//! Keeping a job on disk: saving, backup, lock and recovery.
//!
//! A job is only bytes here; what they mean is the document's business.
//!
//! ```text
//! job.pack                 the job                    save
//! job.pack.bak             the job before this save   save
//! .job.pack.lock           held while it is edited    Lock
//! .job.pack.recovery       edits not saved yet        Recovery, Writer
//! .job.pack.recovery.old   the same, a moment earlier Writer
//! .job.pack.<pid>.<n>.tmp  half-written, of a killed program: sweep_stale
//! ```
//!
//! A job that has no file yet keeps its recovery, and that file's lock, in the folder for
//! the program's state.
//!
//! Opening a job: [`Lock::take`], [`sweep_stale`], read it, [`find`] and offer what was found,
//! then [`Recovery::beside`] and [`Writer::start`]. After each edit [`Writer::put`]; after a good
//! [`save`] [`Writer::saved`]; on leaving with nothing to keep [`Writer::discard`].

mod fingerprint;
mod header;
mod lock;
mod place;
mod recovery;
mod replace;
mod save;
mod sweep;
mod trouble;
mod unsaved;
mod writer;

pub use fingerprint::Fingerprint;
pub use lock::{Lock, LockError};
pub use recovery::{Base, Recovered, Recovery, RecoveryError, find, read, set_aside};
pub use save::{SaveError, save};
pub use sweep::sweep_stale;
pub use trouble::{FileTrouble, Tried};
pub use unsaved::{Found, find_beside, find_unsaved};
pub use writer::Writer;
