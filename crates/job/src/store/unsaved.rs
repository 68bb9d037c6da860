//! Recovery files of jobs that have no file of their own yet.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs::{self, DirBuilder};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::lock::{Lock, LockError};
use super::place::Place;
use super::recovery::{Recovered, RecoveryError, older, read};
use super::sweep::sweep;
use super::trouble::{FileTrouble, Tried};

/// Jobs never saved that one program can have open; more is a sign of something wrong.
const OPEN_AT_ONCE: u32 = 10_000;

/// A job that was never saved and is not open any more.
#[derive(Debug)]
pub struct Found {
    /// Its recovery file; [`super::Recovery::adopt`] takes it over.
    pub path: PathBuf,
    /// When it was written, where the file system tells.
    pub written: Option<SystemTime>,
    /// What it holds, or why that cannot be read.
    pub content: Result<Recovered, RecoveryError>,
}

/// Looks in `state_dir` for jobs that were never saved and whose program is gone, in the order
/// of their names.
///
/// Those still open anywhere are left out. Half-written files and locks of killed programs are
/// removed on the way; recovery files never are, damaged or not. A folder that is not there or
/// cannot be read holds none.
pub fn find_unsaved(state_dir: &Path) -> Vec<Found> {
    sweep(state_dir, |target| is_unsaved(Path::new(target)));
    sweep_locks(state_dir);
    let paths: BTreeSet<PathBuf> = files_in(state_dir)
        .into_iter()
        .map(without_old)
        .filter(|path| is_unsaved(path))
        .collect();
    paths.into_iter().filter_map(look_at).collect()
}

/// Job files in `folder` beside which a killed program left edits that were never saved, in the order of their names; what is
/// open anywhere is left out. [`super::find`] gives the edits of one.
pub fn find_beside(folder: &Path) -> Vec<PathBuf> {
    let jobs: BTreeSet<PathBuf> = files_in(folder)
        .into_iter()
        .map(without_old)
        .filter_map(|path| {
            let job = path
                .file_name()?
                .to_str()?
                .strip_prefix('.')?
                .strip_suffix(".recovery")?;
            Some(folder.join(job))
        })
        .collect();
    let lost = |job: &PathBuf| {
        let held = matches!(Lock::take(job), Err(LockError::Held { .. }));
        // One that cannot be read is told too: opening the job says what is wrong with it.
        !held && job.is_file() && !matches!(super::find(job), Ok(None))
    };
    jobs.into_iter().filter(lost).collect()
}

fn look_at(path: PathBuf) -> Option<Found> {
    // Held until it is read, so that nobody takes it over or discards it meanwhile.
    let _lock = match Lock::take(&path) {
        Ok(lock) => Some(lock),
        Err(LockError::Held { .. }) => return None,
        Err(LockError::Unavailable(_)) => None,
    };
    let content = read(&path);
    // Saved or taken over, and gone, just before.
    if matches!(&content, Err(RecoveryError::Failed(trouble)) if trouble.is_not_found()) {
        return None;
    }
    let written = [path.clone(), older(&path)]
        .iter()
        .find_map(|file| fs::metadata(file).and_then(|found| found.modified()).ok());
    Some(Found { path, written, content })
}

/// A file name for a job never saved that nobody uses, and its lock where there are locks.
pub(super) fn new_file(state_dir: &Path) -> Result<(PathBuf, Option<Lock>), RecoveryError> {
    make_private_folder(state_dir)?;
    let process = std::process::id();
    for number in 0..OPEN_AT_ONCE {
        let path = state_dir.join(format!("unsaved-{process}-{number}.recovery"));
        let lock = match Lock::take(&path) {
            Ok(lock) => Some(lock),
            Err(LockError::Held { .. }) => continue,
            Err(LockError::Unavailable(_)) => None,
        };
        // A killed program with the same process number may have left one.
        if !path.exists() && !older(&path).exists() {
            return Ok((path, lock));
        }
    }
    let taken = ErrorKind::AlreadyExists.into();
    Err(FileTrouble::on(state_dir, Tried::Create)(taken).into())
}

fn make_private_folder(folder: &Path) -> Result<(), FileTrouble> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    builder.create(folder).map_err(FileTrouble::on(folder, Tried::Create))
}

/// Removes locks of killed programs that left nothing to recover: taking and dropping does.
fn sweep_locks(state_dir: &Path) {
    for lock in files_in(state_dir) {
        let Some(name) = lock.file_name().and_then(OsStr::to_str) else {
            continue;
        };
        let locked = name.strip_prefix('.').and_then(|name| name.strip_suffix(".lock"));
        if let Some(locked) = locked.map(|name| state_dir.join(name))
            && is_unsaved(&locked)
            && !locked.exists()
            && Place::of(&locked).is_ok_and(|place| place.lock() == lock)
        {
            drop(Lock::take(&locked));
        }
    }
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    entries.filter_map(Result::ok).map(|entry| entry.path()).collect()
}

/// Whether a file is named as [`new_file`] names them.
fn is_unsaved(path: &Path) -> bool {
    path.file_name()
        .and_then(OsStr::to_str)
        .is_some_and(|name| name.starts_with("unsaved-") && name.ends_with(".recovery"))
}

fn without_old(path: PathBuf) -> PathBuf {
    if path.extension() == Some(OsStr::new("old")) {
        path.with_extension("")
    } else {
        path
    }
}
