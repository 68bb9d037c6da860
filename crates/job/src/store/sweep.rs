//! Removing the half-written files of killed programs.

use std::ffi::{OsStr, OsString};
use std::fs::{self, OpenOptions};
use std::path::Path;

use super::place::Place;

/// Removes half-written files that a killed program left beside the job at `path`; returns how
/// many.
///
/// A file still being written is locked by its writer and stays. Best called with the job's
/// [`super::Lock`] held. Trouble is passed over: such a file is only in the way, and the next
/// opening tries again.
pub fn sweep_stale(path: &Path) -> usize {
    let Ok(place) = Place::of(path) else {
        return 0;
    };
    let backup = place.backup();
    let recovery = place.recovery();
    let ours = [Some(place.name()), backup.file_name(), recovery.file_name()];
    sweep(place.folder(), |target| ours.contains(&Some(target)))
}

/// Removes the half-written files in `folder` made for a target whose name `is_ours`.
pub(super) fn sweep(folder: &Path, is_ours: impl Fn(&OsStr) -> bool) -> usize {
    let Ok(entries) = fs::read_dir(folder) else {
        return 0;
    };
    entries
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()))
        .filter(|entry| names_target(&entry.file_name(), &is_ours))
        .filter(|entry| remove_unless_in_use(&entry.path()))
        .count()
}

/// Whether `name` is `.TARGET.<process>.<number>.tmp` with a target that `is_ours`.
fn names_target(name: &OsStr, is_ours: impl Fn(&OsStr) -> bool) -> bool {
    // `Path` cuts the last extension off any name, UTF-8 or not.
    let cut = |name: &OsStr, expect: &dyn Fn(&str) -> bool| {
        let name = Path::new(name);
        let matches = name.extension().and_then(OsStr::to_str).is_some_and(expect);
        matches.then(|| name.file_stem().map(OsStr::to_os_string)).flatten()
    };
    let number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    cut(name, &|text| text == "tmp")
        .and_then(|name| cut(&name, &number))
        .and_then(|name| cut(&name, &number))
        .is_some_and(|name| strip_dot(&name).is_some_and(|target| is_ours(&target)))
}

/// `name` without its first character, if that is a dot.
fn strip_dot(name: &OsStr) -> Option<OsString> {
    #[cfg(unix)]
    {
        use std::os::unix::ffi::OsStrExt;
        let target = name.as_bytes().strip_prefix(b".")?;
        Some(OsStr::from_bytes(target).to_os_string())
    }
    #[cfg(not(unix))]
    {
        name.to_str()?.strip_prefix('.').map(Into::into)
    }
}

fn remove_unless_in_use(temporary: &Path) -> bool {
    let Ok(file) = OpenOptions::new().write(true).open(temporary) else {
        return false;
    };
    file.try_lock().is_ok() && fs::remove_file(temporary).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case::of_the_job(".van.pack.12.0.tmp", true)]
    #[case::of_another_job(".bus.pack.12.0.tmp", false)]
    #[case::of_a_job_with_a_longer_name(".van.pack.2.12.0.tmp", false)]
    #[case::one_number_only(".van.pack.12.tmp", false)]
    #[case::not_a_number(".van.pack.12.x.tmp", false)]
    #[case::no_dot_in_front("van.pack.12.0.tmp", false)]
    #[case::the_job("van.pack", false)]
    #[case::no_name(".12.0.tmp", false)]
    fn knows_the_names_of_its_half_written_files(#[case] name: &str, #[case] ours: bool) {
        let is_ours = |target: &OsStr| target == "van.pack";
        assert_eq!(names_target(OsStr::new(name), is_ours), ours);
    }

    #[test]
    fn removes_what_is_stale_and_leaves_what_is_in_use() {
        let shop = tempfile::tempdir().unwrap();
        let path = |name: &str| shop.path().join(name);
        let stale = [
            ".van.pack.1.0.tmp",
            ".van.pack.bak.1.1.tmp",
            "..van.pack.recovery.1.2.tmp",
        ];
        let kept = ["van.pack", ".van.pack.lock", ".bus.pack.1.0.tmp"];
        for name in stale.iter().chain(&kept) {
            fs::write(path(name), "half").unwrap();
        }
        let in_use = fs::File::create(path(".van.pack.2.0.tmp")).unwrap();
        in_use.try_lock().unwrap();

        assert_eq!(sweep_stale(&path("van.pack")), stale.len());

        for name in stale {
            assert!(!path(name).exists(), "{name}");
        }
        for name in kept.iter().chain(&[".van.pack.2.0.tmp"]) {
            assert!(path(name).exists(), "{name}");
        }
        drop(in_use);
        assert_eq!(sweep_stale(&path("van.pack")), 1);
    }
}
