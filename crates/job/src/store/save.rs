//! Saving a job, with the version before kept as a backup.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::place::Place;
use super::replace::{Access, Steps, Survives, replace};
use super::trouble::{FileTrouble, Tried};

/// Why a job could not be saved.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// The name stands for a folder, a device or the like.
    #[error("{}: this is not an ordinary file", path.display())]
    NotAFile {
        /// The name given.
        path: PathBuf,
    },
    /// Somebody made the file read-only, so it is not to be replaced.
    #[error("{}: this file is read-only", path.display())]
    ReadOnly {
        /// The name given.
        path: PathBuf,
    },
    /// The job is saved, but the disk did not confirm it.
    #[error("saved, but a power cut now could bring the old version back: {0}")]
    NotSettled(FileTrouble),
    /// The job is not saved; the file is as it was.
    #[error("not saved: {0}")]
    Failed(FileTrouble),
}

impl From<FileTrouble> for SaveError {
    fn from(trouble: FileTrouble) -> Self {
        Self::Failed(trouble)
    }
}

impl SaveError {
    /// What the builder can do, as an instruction.
    pub fn fix(&self) -> String {
        match self {
            Self::NotAFile { .. } => "choose another name".to_owned(),
            Self::ReadOnly { .. } => "make the file writable, or save under another name".to_owned(),
            Self::NotSettled(_) => "save once more".to_owned(),
            Self::Failed(trouble) => trouble.fix(),
        }
    }
}

/// Saves `bytes` at `path`, whole or not at all.
///
/// The new content is on the disk when this returns: a kill or a power cut at any moment leaves
/// either the old version or the new one, whole. Permissions are kept, and a link is written
/// through.
///
/// If the content changes, the version before is first kept as `NAME.bak` beside the file, just
/// as safely. An empty file holds no job and does not push out an older backup.
///
/// # Errors
///
/// [`SaveError`]. Only with [`SaveError::NotSettled`] has the file changed.
pub fn save(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    save_with(path, bytes, &mut ())
}

fn save_with(path: &Path, bytes: &[u8], steps: &mut dyn Steps) -> Result<(), SaveError> {
    let place = Place::of(path)?;
    let target = place.file();
    let access = Access::Like(&target);
    if let Some(before) = version_before(&target)?
        && !before.is_empty()
        && before != bytes
    {
        replace(&place.backup(), &before, access, Survives::PowerCut, steps)?;
    }
    replace(&target, bytes, access, Survives::PowerCut, steps).map_err(|trouble| {
        if trouble.tried == Tried::SettleFolder {
            SaveError::NotSettled(trouble)
        } else {
            SaveError::Failed(trouble)
        }
    })
}

/// The content about to be replaced, `None` if there is no file yet.
fn version_before(target: &Path) -> Result<Option<Vec<u8>>, SaveError> {
    let path = || target.to_path_buf();
    match fs::metadata(target) {
        Err(reason) if reason.kind() == ErrorKind::NotFound => return Ok(None),
        Err(reason) => return Err(FileTrouble::on(target, Tried::Find)(reason).into()),
        Ok(found) if !found.is_file() => return Err(SaveError::NotAFile { path: path() }),
        Ok(found) if found.permissions().readonly() => {
            return Err(SaveError::ReadOnly { path: path() });
        }
        Ok(_) => {}
    }
    let before = fs::read(target).map_err(FileTrouble::on(target, Tried::Read))?;
    Ok(Some(before))
}

#[cfg(test)]
mod tests;
