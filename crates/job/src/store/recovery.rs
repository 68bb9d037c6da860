//! The recovery file: the whole job after the latest edit, for when the program is killed.

use std::ffi::OsString;
use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::fingerprint::Fingerprint;
use super::header::{Header, Unusable};
use super::lock::{Lock, LockError};
use super::place::{Place, folder_of};
use super::replace::{Access, Survives, replace, settle_folder};
use super::trouble::{FileTrouble, Tried};
use super::unsaved;

/// Where the edits of one open job are kept until they are saved.
///
/// Dropping it leaves the file, which is the point of it; [`Recovery::discard`] removes it.
#[derive(Debug)]
pub struct Recovery {
    path: PathBuf,
    /// The job's file, in full; `None` for a job never saved.
    job: Option<PathBuf>,
    /// Shows other programs that a job never saved is still open here. A saved job has a lock
    /// of its own.
    _lock: Option<Lock>,
}

/// What a recovery file held.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recovered {
    /// The recovery file.
    pub path: PathBuf,
    /// The job, as it was given to [`Recovery::write`].
    pub bytes: Vec<u8>,
    /// The job's file, `None` for a job never saved.
    pub job_path: Option<PathBuf>,
    /// What became of the job's file since the edits began.
    pub base: Base,
    /// The latest content was damaged or missing; this is from a moment earlier.
    pub lost_latest: bool,
}

/// What became of a job's file since the edits in a recovery file began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// It is as it was; so is a job never saved.
    Same,
    /// Somebody changed it, or it cannot be read: the edits do not follow from it.
    Changed,
    /// It is gone.
    Missing,
}

/// Why a recovery file could not be written, read or removed.
#[derive(Debug, thiserror::Error)]
pub enum RecoveryError {
    /// The file is not what was written.
    #[error("{}: this recovery file is damaged: {why}", path.display())]
    Damaged {
        /// The recovery file.
        path: PathBuf,
        /// What is wrong with it.
        why: &'static str,
    },
    /// A newer packwright wrote it.
    #[error(
        "{}: a newer packwright wrote this recovery file (version {version})", path.display()
    )]
    Newer {
        /// The recovery file.
        path: PathBuf,
        /// The version it has.
        version: u32,
    },
    /// The job it belongs to is open in another program.
    #[error("{}: already open in {}", path.display(), by.as_deref().unwrap_or("another program"))]
    InUse {
        /// The recovery file.
        path: PathBuf,
        /// Who, such as `process 123`, where it can be read.
        by: Option<String>,
    },
    /// The folder or the disk refused.
    #[error("recovery file: {0}")]
    Failed(FileTrouble),
}

impl From<FileTrouble> for RecoveryError {
    fn from(trouble: FileTrouble) -> Self {
        Self::Failed(trouble)
    }
}

impl RecoveryError {
    /// What the builder can do, as an instruction.
    pub fn fix(&self) -> String {
        match self {
            Self::Damaged { .. } => {
                "go on from the saved job; the damaged file can be set aside and looked at as text".to_owned()
            }
            Self::Newer { .. } => "open the job with the newer packwright".to_owned(),
            Self::InUse { .. } => "go on where it is open".to_owned(),
            Self::Failed(trouble) => trouble.fix(),
        }
    }

    /// Names the file a header was read from; for `map_err`.
    fn unusable(path: &Path) -> impl FnOnce(Unusable) -> Self {
        let path = path.to_path_buf();
        move |unusable| match unusable {
            Unusable::Damaged(why) => Self::Damaged { path, why },
            Unusable::Newer(version) => Self::Newer { path, version },
        }
    }
}

impl Recovery {
    /// The recovery file for the job at `job_path`, or a new one in `state_dir` for a job never
    /// saved. Nothing is written yet, except that `state_dir` is made if need be.
    ///
    /// - `job_path`: the file is `.NAME.recovery` beside it. Hold the job's [`Lock`], and ask
    ///   [`find`] first: what an earlier program left there is overwritten by the first write.
    /// - `state_dir`: the folder for the program's state. The file there is
    ///   `unsaved-<process>-<number>.recovery`, locked as long as this lives.
    ///
    /// # Errors
    ///
    /// [`RecoveryError::Failed`] if `job_path` names no file or `state_dir` cannot be made.
    pub fn beside(job_path: Option<&Path>, state_dir: &Path) -> Result<Self, RecoveryError> {
        let Some(job_path) = job_path else {
            let (path, lock) = unsaved::new_file(state_dir)?;
            return Ok(Self {
                path,
                job: None,
                _lock: lock,
            });
        };
        let place = Place::of(job_path)?;
        let job = std::path::absolute(place.file()).map_err(FileTrouble::on(job_path, Tried::Find))?;
        Ok(Self {
            path: place.recovery(),
            job: Some(job),
            _lock: None,
        })
    }

    /// Takes over the recovery file of a job never saved, to go on writing it.
    ///
    /// - `path`: as [`super::find_unsaved`] found it. Read it after this, not before.
    ///
    /// # Errors
    ///
    /// [`RecoveryError::InUse`] if another program was quicker.
    pub fn adopt(path: &Path) -> Result<Self, RecoveryError> {
        let lock = match Lock::take(path) {
            Ok(lock) => Some(lock),
            Err(LockError::Held { path, by }) => return Err(RecoveryError::InUse { path, by }),
            // Better a job that two programs may open than one that none can.
            Err(LockError::Unavailable(_)) => None,
        };
        Ok(Self {
            path: path.to_path_buf(),
            job: None,
            _lock: lock,
        })
    }

    /// The recovery file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the job as it is now; it is on the disk when this returns.
    ///
    /// - `base`: the job's file as it was when the edits began, `None` if there was none.
    ///
    /// # Errors
    ///
    /// [`RecoveryError::Failed`]; what was written before is still there.
    pub fn write(&self, base: Option<Fingerprint>, bytes: &[u8]) -> Result<(), RecoveryError> {
        self.replace(base, bytes, Survives::PowerCut)
    }

    /// Writes the job so that it survives the program, but not yet a power cut: many times
    /// quicker than [`Recovery::write`]. [`Recovery::settle`] makes up for it.
    pub(super) fn write_unsettled(&self, base: Option<Fingerprint>, bytes: &[u8]) -> Result<(), RecoveryError> {
        self.replace(base, bytes, Survives::Kill)
    }

    fn replace(&self, base: Option<Fingerprint>, bytes: &[u8], survives: Survives) -> Result<(), RecoveryError> {
        let header = Header {
            base,
            job: self.job.clone(),
        };
        let access = match &self.job {
            Some(job) => Access::Like(job),
            None => Access::Private,
        };
        let file = header.with(bytes);
        replace(&self.path, &file, access, survives, &mut ())?;
        Ok(())
    }

    /// Waits until what was written last is on the disk.
    pub(super) fn settle(&self) -> Result<(), RecoveryError> {
        OpenOptions::new()
            .write(true)
            .open(&self.path)
            .and_then(|file| file.sync_all())
            .map_err(FileTrouble::on(&self.path, Tried::Settle))?;
        settle_folder(folder_of(&self.path)).map_err(FileTrouble::on(&self.path, Tried::SettleFolder))?;
        Ok(())
    }

    /// Keeps the file, which is on the disk for sure, under a second name, because what is
    /// written next will not be for a while. On some file systems a power cut leaves such a
    /// file empty, with nothing of the file it replaced.
    pub(super) fn keep_older(&self) -> Result<(), RecoveryError> {
        match fs::rename(&self.path, older(&self.path)) {
            Err(reason) if reason.kind() == ErrorKind::NotFound => Ok(()),
            done => Ok(done.map_err(FileTrouble::on(&self.path, Tried::Replace))?),
        }
    }

    /// Removes the file: the job is saved, or its edits are not wanted.
    ///
    /// # Errors
    ///
    /// [`RecoveryError::Failed`]; that there is no file is no error.
    pub fn discard(&self) -> Result<(), RecoveryError> {
        // The older one first: alone, it would look like edits that were lost.
        remove(&older(&self.path))?;
        remove(&self.path)?;
        Ok(())
    }
}

/// Reads a recovery file.
///
/// # Errors
///
/// [`RecoveryError::Damaged`], [`RecoveryError::Newer`], or [`RecoveryError::Failed`] if it is
/// not there or cannot be read. The file is left as it is.
pub fn read(path: &Path) -> Result<Recovered, RecoveryError> {
    let latest = match read_one(path) {
        Ok(recovered) => return Ok(recovered),
        Err(newer @ RecoveryError::Newer { .. }) => return Err(newer),
        Err(error) => error,
    };
    match read_one(&older(path)) {
        Ok(recovered) => Ok(Recovered {
            path: path.to_path_buf(),
            lost_latest: true,
            ..recovered
        }),
        Err(RecoveryError::Failed(trouble)) if trouble.is_not_found() => Err(latest),
        // A damaged file says more than one that is not there.
        Err(older) if matches!(&latest, RecoveryError::Failed(t) if t.is_not_found()) => Err(older),
        Err(_) => Err(latest),
    }
}

fn read_one(path: &Path) -> Result<Recovered, RecoveryError> {
    let file = read_ordinary_file(path).map_err(FileTrouble::on(path, Tried::Read))?;
    let (header, content) = Header::split(&file).map_err(RecoveryError::unusable(path))?;
    let job_path = header.job.map(|job| now_beside(path, job));
    Ok(Recovered {
        path: path.to_path_buf(),
        bytes: content.to_vec(),
        base: base_now(job_path.as_deref(), header.base),
        job_path,
        lost_latest: false,
    })
}

/// `job`, or the file of that name beside its recovery file if the folder was moved with both.
fn now_beside(recovery: &Path, job: PathBuf) -> PathBuf {
    let Some(name) = job.file_name() else {
        return job;
    };
    let here = folder_of(recovery).join(name);
    let Ok(place) = Place::of(&here) else {
        return job;
    };
    let names = [place.recovery(), older(&place.recovery())];
    if names.iter().any(|path| path.file_name() == recovery.file_name()) {
        here
    } else {
        job
    }
}

/// Looks for edits of the job at `job_path` that were never saved.
///
/// `None` if there are none, or if they are what the job's file holds.
///
/// # Errors
///
/// As [`read`]: there is a recovery file, but it is of no use. Show it and [`set_aside`] the
/// file; otherwise the next edit overwrites it.
pub fn find(job_path: &Path) -> Result<Option<Recovered>, RecoveryError> {
    let place = Place::of(job_path)?;
    match read(&place.recovery()) {
        Ok(recovered) => {
            let nothing_lost = fs::read(place.file()).is_ok_and(|saved| saved == recovered.bytes);
            Ok((!nothing_lost).then_some(recovered))
        }
        Err(RecoveryError::Failed(trouble)) if trouble.is_not_found() => Ok(None),
        Err(error) => Err(error),
    }
}

/// Renames a recovery file so that nothing here touches it again; returns its new, visible name.
///
/// # Errors
///
/// [`RecoveryError::Failed`]; the file is still there under its old name.
pub fn set_aside(path: &Path) -> Result<PathBuf, RecoveryError> {
    let aside = free_name(path)?;
    let mut moved = None;
    for from in [path.to_path_buf(), older(path)] {
        let to = if moved.is_none() { aside.clone() } else { older(&aside) };
        match fs::rename(&from, &to) {
            Ok(()) => moved = moved.or(Some(to)),
            Err(reason) if reason.kind() == ErrorKind::NotFound => {}
            Err(reason) => return Err(FileTrouble::on(&from, Tried::Replace)(reason).into()),
        }
    }
    moved.ok_or_else(|| FileTrouble::on(path, Tried::Find)(ErrorKind::NotFound.into()).into())
}

/// `NAME.recovery-1`, or the next number not taken, for `.NAME.recovery`.
fn free_name(path: &Path) -> Result<PathBuf, FileTrouble> {
    let place = Place::of(path)?;
    let name = place.name().to_string_lossy();
    let stem = name.trim_start_matches('.');
    (1..1000)
        .map(|number| place.folder().join(format!("{stem}-{number}")))
        .find(|free| !free.exists() && !older(free).exists())
        .ok_or_else(|| FileTrouble::on(path, Tried::Replace)(ErrorKind::AlreadyExists.into()))
}

/// The name under which [`Recovery::keep_older`] keeps a recovery file.
pub(super) fn older(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".old");
    name.into()
}

fn base_now(job: Option<&Path>, base: Option<Fingerprint>) -> Base {
    let Some(job) = job else {
        return Base::Same;
    };
    match (fs::read(job), base) {
        (Ok(now), Some(base)) if Fingerprint::of(&now) == base => Base::Same,
        (Err(reason), base) if reason.kind() == ErrorKind::NotFound => match base {
            None => Base::Same,
            Some(_) => Base::Missing,
        },
        _ => Base::Changed,
    }
}

/// Reading a pipe would wait for ever.
fn read_ordinary_file(path: &Path) -> io::Result<Vec<u8>> {
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::other("this is not an ordinary file"));
    }
    fs::read(path)
}

fn remove(path: &Path) -> Result<(), FileTrouble> {
    match fs::remove_file(path) {
        Err(reason) if reason.kind() == ErrorKind::NotFound => Ok(()),
        done => done.map_err(FileTrouble::on(path, Tried::Remove)),
    }
}

#[cfg(test)]
mod tests;
