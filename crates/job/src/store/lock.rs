//! The lock that keeps two programs from editing one job.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use super::place::Place;
use super::trouble::{FileTrouble, Tried};

/// Times a lock file may vanish between being opened and being locked before giving up.
const TRIES: usize = 100;

/// Held while a job is edited; given up when dropped, or when the program dies however it dies.
///
/// What is locked is a file of its own, `.NAME.lock`, because every save puts a new file in the
/// place of the job.
#[derive(Debug)]
pub struct Lock {
    path: PathBuf,
    file: File,
}

/// Why a lock could not be taken.
#[derive(Debug, thiserror::Error)]
pub enum LockError {
    /// Somebody else holds it.
    #[error(
        "{}: already open in {}", path.display(), by.as_deref().unwrap_or("another program"),
    )]
    Held {
        /// The job.
        path: PathBuf,
        /// Who, such as `process 123`, where it can be read.
        by: Option<String>,
    },
    /// The folder or the disk does not let a lock be taken, so nobody can tell.
    #[error("not locked: {0}")]
    Unavailable(FileTrouble),
}

impl LockError {
    /// What the builder can do, as an instruction.
    pub fn fix(&self) -> String {
        match self {
            Self::Held { .. } => "close it there first, or open it here for reading only".to_owned(),
            Self::Unavailable(trouble) => trouble.fix(),
        }
    }
}

impl From<FileTrouble> for LockError {
    fn from(trouble: FileTrouble) -> Self {
        Self::Unavailable(trouble)
    }
}

impl Lock {
    /// Takes the lock of the job at `path`, which need not exist yet, without waiting.
    ///
    /// # Errors
    ///
    /// [`LockError::Held`] if another program, or another part of this one, holds it;
    /// [`LockError::Unavailable`] if the lock file cannot be made or locked.
    pub fn take(path: &Path) -> Result<Self, LockError> {
        let lock_path = Place::of(path)?.lock();
        for _ in 0..TRIES {
            let mut file = open(&lock_path).map_err(FileTrouble::on(&lock_path, Tried::Lock))?;
            match file.try_lock() {
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => {
                    return Err(LockError::Held {
                        path: path.to_path_buf(),
                        by: read_holder(&mut file),
                    });
                }
                Err(TryLockError::Error(reason)) => {
                    return Err(FileTrouble::on(&lock_path, Tried::Lock)(reason).into());
                }
            }
            // The holder before may have removed the file after it was opened here. A lock on
            // a file without a name keeps nobody out.
            if is_still_at(&file, &lock_path) {
                // For the message the other program shows; the lock is what counts.
                let _ = write_holder(&mut file);
                return Ok(Self { path: lock_path, file });
            }
        }
        let reason = io::Error::other("the lock file keeps vanishing");
        Err(FileTrouble::on(&lock_path, Tried::Lock)(reason).into())
    }
}

impl Drop for Lock {
    /// Removes the lock file while the lock is held. Whoever opened it just before then finds
    /// that it has no name any more, and opens anew.
    ///
    /// Where that cannot be found out the file stays, empty; it does no harm.
    fn drop(&mut self) {
        if cfg!(unix) && is_still_at(&self.file, &self.path) {
            let _ = fs::remove_file(&self.path);
        } else {
            let _ = self.file.set_len(0);
        }
    }
}

fn open(lock_path: &Path) -> io::Result<File> {
    // Writing through a link, or waiting at a pipe, is not what a lock file is for.
    if let Ok(found) = fs::symlink_metadata(lock_path)
        && !found.is_file()
    {
        return Err(io::Error::new(
            ErrorKind::AlreadyExists,
            "something else has the lock file's name",
        ));
    }
    OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false) // somebody else's until it is locked
        .open(lock_path)
}

#[cfg(unix)]
fn is_still_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let Ok(opened) = file.metadata() else {
        return false;
    };
    fs::symlink_metadata(path).is_ok_and(|named| named.dev() == opened.dev() && named.ino() == opened.ino())
}

/// Here the lock file is never removed, so it is always the one.
#[cfg(not(unix))]
fn is_still_at(_: &File, _: &Path) -> bool {
    true
}

fn write_holder(file: &mut File) -> io::Result<()> {
    file.set_len(0)?;
    file.write_all(format!("process {}\n", std::process::id()).as_bytes())
}

/// What [`write_holder`] wrote, and nothing else that may stand in the file.
fn read_holder(file: &mut File) -> Option<String> {
    let mut text = String::new();
    file.take(64).read_to_string(&mut text).ok()?;
    let process: u32 = text.strip_prefix("process ")?.trim_end().parse().ok()?;
    Some(format!("process {process}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held_by(error: LockError) -> Option<String> {
        match error {
            LockError::Held { by, .. } => by,
            LockError::Unavailable(trouble) => panic!("{trouble}"),
        }
    }

    #[test]
    fn refuses_a_second_editor_and_frees_on_drop() {
        let shop = tempfile::tempdir().unwrap();
        let job = shop.path().join("van.pack");
        let first = Lock::take(&job).unwrap();
        let by = held_by(Lock::take(&job).unwrap_err());
        if cfg!(unix) {
            assert_eq!(by, Some(format!("process {}", std::process::id())));
        }
        drop(first);
        drop(Lock::take(&job).unwrap());
        if cfg!(unix) {
            assert_eq!(fs::read_dir(shop.path()).unwrap().count(), 0, "no litter");
        }
    }

    #[test]
    fn takes_over_from_a_killed_program() {
        let shop = tempfile::tempdir().unwrap();
        let job = shop.path().join("van.pack");
        fs::write(shop.path().join(".van.pack.lock"), "process 123456789\n").unwrap();
        let lock = Lock::take(&job).unwrap();
        if cfg!(unix) {
            let by = held_by(Lock::take(&job).unwrap_err());
            assert_eq!(by, Some(format!("process {}", std::process::id())));
        }
        drop(lock);
    }

    #[test]
    fn shows_nothing_but_a_process_number() {
        let shop = tempfile::tempdir().unwrap();
        let path = shop.path().join(".van.pack.lock");
        fs::write(&path, "process \u{1b}[31m\n").unwrap();
        let held = File::open(&path).unwrap();
        held.try_lock().unwrap();
        let error = Lock::take(&shop.path().join("van.pack")).unwrap_err();
        assert!(error.to_string().ends_with("already open in another program"));
        assert_eq!(held_by(error), None);
    }

    #[test]
    fn one_at_a_time_while_the_lock_file_comes_and_goes() {
        use std::sync::atomic::{AtomicUsize, Ordering};
        let shop = tempfile::tempdir().unwrap();
        let job = shop.path().join("van.pack");
        let inside = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    for _ in 0..500 {
                        if let Ok(lock) = Lock::take(&job) {
                            assert_eq!(inside.fetch_add(1, Ordering::SeqCst), 0);
                            std::thread::yield_now();
                            inside.fetch_sub(1, Ordering::SeqCst);
                            drop(lock);
                        }
                    }
                });
            }
        });
    }

    #[cfg(unix)]
    #[test]
    fn two_names_of_one_job_share_its_lock() {
        let shop = tempfile::tempdir().unwrap();
        let job = shop.path().join("van.pack");
        let link = shop.path().join("today.pack");
        fs::write(&job, "{}").unwrap();
        std::os::unix::fs::symlink("van.pack", &link).unwrap();
        let lock = Lock::take(&job).unwrap();
        held_by(Lock::take(&link).unwrap_err());
        drop(lock);
    }

    #[test]
    fn says_when_there_is_no_folder_to_lock_in() {
        let shop = tempfile::tempdir().unwrap();
        let error = Lock::take(&shop.path().join("gone/van.pack")).unwrap_err();
        assert!(error.fix().starts_with("make the folder "), "{}", error.fix());
    }
}
