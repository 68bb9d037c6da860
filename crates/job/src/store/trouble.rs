//! What went wrong with a file, and what can be done about it.

use std::fmt;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// What was being done to a file when it failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tried {
    /// Finding out which file a name stands for.
    Find,
    /// Reading the file.
    Read,
    /// Making a new file in the folder.
    Create,
    /// Giving a new file the permissions of the one it replaces.
    Permit,
    /// Writing the content.
    Write,
    /// Waiting until the content is on the disk.
    Settle,
    /// Putting the new file in the place of the old one.
    Replace,
    /// Waiting until the folder's new entry is on the disk.
    SettleFolder,
    /// Taking the lock that keeps a second program away.
    Lock,
    /// Removing the file.
    Remove,
    /// Starting the thread that writes in the background.
    StartWriting,
}

impl fmt::Display for Tried {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Find => "find the file",
            Self::Read => "read the file",
            Self::Create => "make a new file in its folder",
            Self::Permit => "set the permissions",
            Self::Write => "write the content",
            Self::Settle => "get the content onto the disk",
            Self::Replace => "put the new file in place",
            Self::SettleFolder => "get the folder's new entry onto the disk",
            Self::Lock => "take the lock",
            Self::Remove => "remove the file",
            Self::StartWriting => "start writing in the background",
        })
    }
}

/// One file, one thing tried, and the system's reason why it failed.
#[derive(Debug, thiserror::Error)]
#[error("{}: could not {tried}: {reason}", path.display())]
pub struct FileTrouble {
    /// The file it is about.
    pub path: PathBuf,
    /// What was tried.
    pub tried: Tried,
    /// The system's reason.
    pub reason: io::Error,
}

impl FileTrouble {
    /// Names the file and the attempt; for `map_err`.
    pub(super) fn on(path: &Path, tried: Tried) -> impl FnOnce(io::Error) -> Self {
        move |reason| Self {
            path: path.to_path_buf(),
            tried,
            reason,
        }
    }

    /// Whether the file was simply not there.
    pub fn is_not_found(&self) -> bool {
        self.reason.kind() == ErrorKind::NotFound
    }

    /// What the builder can do, as an instruction.
    pub fn fix(&self) -> String {
        let folder = match self.path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.display().to_string(),
            _ => "the current folder".to_owned(),
        };
        match self.reason.kind() {
            ErrorKind::NotFound if self.tried == Tried::Read => "check the name and the folder".to_owned(),
            ErrorKind::NotFound | ErrorKind::NotADirectory => {
                format!("make the folder {folder}, or save in another one")
            }
            ErrorKind::PermissionDenied if self.tried == Tried::Read => {
                format!("allow reading {}", self.path.display())
            }
            ErrorKind::PermissionDenied => format!(
                "allow writing in {folder} and close other programs using the file, \
                 or save in another folder"
            ),
            ErrorKind::ReadOnlyFilesystem => {
                format!("{folder} is on a read-only disk: save on another one")
            }
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
                format!("free some space on the disk that holds {folder}, or save on another one")
            }
            ErrorKind::InvalidFilename => "choose a shorter, plainer file name".to_owned(),
            ErrorKind::InvalidInput if self.tried == Tried::Find => "give the name of a file".to_owned(),
            _ => "try again; if it keeps failing, save on another disk".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case::disk_full(Tried::Write, ErrorKind::StorageFull, "free some space")]
    #[case::locked_folder(Tried::Create, ErrorKind::PermissionDenied, "allow writing in shop")]
    #[case::locked_file(Tried::Read, ErrorKind::PermissionDenied, "allow reading shop/van.pack")]
    #[case::no_folder(Tried::Create, ErrorKind::NotFound, "make the folder shop")]
    #[case::read_only_disk(Tried::Create, ErrorKind::ReadOnlyFilesystem, "save on another")]
    #[case::long_name(Tried::Create, ErrorKind::InvalidFilename, "shorter")]
    #[case::anything_else(Tried::Settle, ErrorKind::Other, "try again")]
    fn says_what_to_do(#[case] tried: Tried, #[case] kind: ErrorKind, #[case] fix: &str) {
        let trouble = FileTrouble::on(Path::new("shop/van.pack"), tried)(kind.into());
        assert!(trouble.fix().contains(fix), "{}", trouble.fix());
        assert!(trouble.to_string().starts_with("shop/van.pack: could not "));
    }
}
