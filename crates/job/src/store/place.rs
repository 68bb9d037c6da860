//! Where a job's file really is, and the names of the files kept beside it.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::trouble::{FileTrouble, Tried};

/// As many links in a row as are followed before it must be a circle.
const LINKS: usize = 40;

/// A file's folder and name, after following links.
///
/// A link to a job is written through, never replaced by a file; and two names of one job share
/// its lock and its recovery.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Place {
    folder: PathBuf,
    name: OsString,
}

impl Place {
    /// The place `path` stands for; the file need not exist.
    pub(super) fn of(path: &Path) -> Result<Self, FileTrouble> {
        let refuse = |kind: ErrorKind, why| FileTrouble::on(path, Tried::Find)(io::Error::new(kind, why));
        let mut file = path.to_path_buf();
        let mut links = 0;
        while let Ok(target) = fs::read_link(&file) {
            links += 1;
            if links > LINKS {
                return Err(refuse(ErrorKind::Other, "the links go round in a circle"));
            }
            file = folder_of(&file).join(target);
        }
        let name = file
            .file_name()
            .ok_or_else(|| refuse(ErrorKind::InvalidInput, "this is not the name of a file"))?;
        Ok(Self {
            folder: folder_of(&file).to_path_buf(),
            name: name.to_os_string(),
        })
    }

    pub(super) fn folder(&self) -> &Path {
        &self.folder
    }

    pub(super) fn name(&self) -> &OsStr {
        &self.name
    }

    pub(super) fn file(&self) -> PathBuf {
        self.beside("", "")
    }

    pub(super) fn backup(&self) -> PathBuf {
        self.beside("", ".bak")
    }

    pub(super) fn lock(&self) -> PathBuf {
        self.beside(".", ".lock")
    }

    pub(super) fn recovery(&self) -> PathBuf {
        self.beside(".", ".recovery")
    }

    /// A file in the same folder, `name` between `before` and `after`.
    pub(super) fn beside(&self, before: &str, after: &str) -> PathBuf {
        let mut name = OsString::from(before);
        name.push(&self.name);
        name.push(after);
        self.folder.join(name)
    }
}

/// The folder that holds `file`, `.` for a bare name.
pub(super) fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_the_files_beside_a_job() {
        let place = Place::of(Path::new("shop/van.pack")).unwrap();
        assert_eq!(place.file(), Path::new("shop/van.pack"));
        assert_eq!(place.backup(), Path::new("shop/van.pack.bak"));
        assert_eq!(place.lock(), Path::new("shop/.van.pack.lock"));
        assert_eq!(place.recovery(), Path::new("shop/.van.pack.recovery"));
    }

    #[test]
    fn refuses_what_names_no_file() {
        for path in ["", "/", "shop/.."] {
            let trouble = Place::of(Path::new(path)).unwrap_err();
            assert_eq!(trouble.tried, Tried::Find);
            assert_eq!(trouble.fix(), "give the name of a file");
        }
    }

    #[cfg(unix)]
    #[test]
    fn follows_links_and_stops_at_a_circle() {
        use std::os::unix::fs::symlink;
        let shop = tempfile::tempdir().unwrap();
        let path = |name: &str| shop.path().join(name);
        symlink("not-there-yet", path("first")).unwrap();
        symlink("first", path("second")).unwrap();
        let place = Place::of(&path("second")).unwrap();
        assert_eq!(place.file(), path("not-there-yet"));

        symlink("round", path("about")).unwrap();
        symlink("about", path("round")).unwrap();
        assert!(Place::of(&path("round")).is_err());
    }
}
