use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};

use proptest::prelude::*;
use rstest::rstest;
use tempfile::TempDir;

use super::super::sweep_stale;
use super::*;

/// How a save is stopped.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stop {
    /// The program is killed: nothing more is done, not even cleaning up.
    Kill,
    /// The disk is full.
    Fail,
}

/// Stops a save before its step number `at` and keeps a record of the steps.
struct Stopper {
    at: usize,
    how: Stop,
    record: Vec<(Tried, PathBuf)>,
}

impl Steps for Stopper {
    fn before(&mut self, tried: Tried, target: &Path) -> io::Result<()> {
        if self.record.len() == self.at {
            match self.how {
                Stop::Kill => resume_unwind(Box::new("killed")),
                Stop::Fail => return Err(ErrorKind::StorageFull.into()),
            }
        }
        self.record.push((tried, target.to_path_buf()));
        Ok(())
    }
}

struct Shop {
    folder: TempDir,
}

impl Shop {
    fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn job(&self) -> PathBuf {
        self.path("van.pack")
    }

    fn holds(&self, name: &str) -> Option<Vec<u8>> {
        fs::read(self.path(name)).ok()
    }

    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.folder.path()).unwrap();
        let mut names: Vec<_> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    /// Saves with a stop; `Ok(None)` when killed.
    fn save_stopped(&self, bytes: &[u8], at: usize, how: Stop) -> Result<Option<()>, SaveError> {
        let mut stopper = Stopper {
            at,
            how,
            record: Vec::new(),
        };
        let saving = || save_with(&self.job(), bytes, &mut stopper);
        match catch_unwind(AssertUnwindSafe(saving)) {
            Ok(result) => result.map(Some),
            Err(_) => Ok(None),
        }
    }
}

#[test]
fn saves_a_new_job_and_leaves_nothing_else() {
    let shop = Shop::new();
    save(&shop.job(), b"one").unwrap();
    assert_eq!(shop.holds("van.pack").unwrap(), b"one");
    assert_eq!(shop.names(), ["van.pack"]);
}

#[test]
fn keeps_the_version_before_as_a_backup() {
    let shop = Shop::new();
    for version in ["one", "two", "two", "three", "three"] {
        save(&shop.job(), version.as_bytes()).unwrap();
    }
    assert_eq!(shop.holds("van.pack").unwrap(), b"three");
    assert_eq!(shop.holds("van.pack.bak").unwrap(), b"two");
    assert_eq!(shop.names(), ["van.pack", "van.pack.bak"]);
}

#[test]
fn an_empty_file_does_not_push_out_the_backup() {
    let shop = Shop::new();
    fs::write(shop.job(), "").unwrap();
    fs::write(shop.path("van.pack.bak"), "good").unwrap();
    save(&shop.job(), b"new").unwrap();
    assert_eq!(shop.holds("van.pack.bak").unwrap(), b"good");
}

fn content() -> impl Strategy<Value = Vec<u8>> {
    // Up to three pieces, so that a kill can fall between two.
    proptest::collection::vec(any::<u8>(), 0..10_000)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]
    #[test]
    fn wherever_it_stops_job_and_backup_are_whole(
        before in proptest::option::of(content()),
        backup in proptest::option::of(content()),
        new in content(),
        at in 0..20_usize,
        how in prop_oneof![Just(Stop::Kill), Just(Stop::Fail)],
    ) {
        let shop = Shop::new();
        if let Some(before) = &before {
            fs::write(shop.job(), before).unwrap();
        }
        if let Some(backup) = &backup {
            fs::write(shop.path("van.pack.bak"), backup).unwrap();
        }
        let result = shop.save_stopped(&new, at, how);

        let now = shop.holds("van.pack");
        let is_new = now.as_ref() == Some(&new);
        prop_assert!(is_new || now == before, "the job is neither the old nor the new one");
        match &result {
            Ok(Some(())) | Err(SaveError::NotSettled(_)) => prop_assert!(is_new),
            Ok(None) => {}
            Err(_) => prop_assert_eq!(&now, &before, "an error changes nothing"),
        }
        let kept = shop.holds("van.pack.bak");
        prop_assert!(kept == backup || kept == before, "the backup is not whole");
        if is_new && before.as_ref().is_some_and(|b| !b.is_empty() && *b != new) {
            prop_assert_eq!(&kept, &before, "replaced without a backup");
        }
        if how == Stop::Fail {
            prop_assert!(!shop.names().iter().any(|name| name.ends_with("tmp")));
        }

        // What a killed program left is swept, and does not stop the next save.
        prop_assert!(sweep_stale(&shop.job()) <= 1);
        prop_assert!(!shop.names().iter().any(|name| name.ends_with("tmp")));
        save(&shop.job(), b"later").unwrap();
        prop_assert_eq!(shop.holds("van.pack").unwrap(), b"later");
    }
}

#[test]
fn nothing_is_renamed_before_it_is_on_the_disk() {
    let shop = Shop::new();
    save(&shop.job(), b"old").unwrap();
    let mut steps = Stopper {
        at: usize::MAX,
        how: Stop::Kill,
        record: Vec::new(),
    };
    save_with(&shop.job(), b"new", &mut steps).unwrap();
    let order = [
        Tried::Create,
        Tried::Permit,
        Tried::Write,
        Tried::Settle,
        Tried::Replace,
        Tried::SettleFolder,
    ];
    let of = |name: &str| order.map(|tried| (tried, shop.path(name)));
    let expected = [of("van.pack.bak"), of("van.pack")].concat();
    assert_eq!(steps.record, expected);
}

#[test]
fn a_full_disk_is_named_with_file_attempt_and_fix() {
    let shop = Shop::new();
    let error = shop.save_stopped(b"new", 2, Stop::Fail).unwrap_err();
    let SaveError::Failed(trouble) = &error else {
        panic!("{error}");
    };
    assert_eq!((trouble.tried, &trouble.path), (Tried::Write, &shop.job()));
    assert!(error.fix().starts_with("free some space on the disk that holds "));
    assert!(error.to_string().starts_with("not saved: "));
}

#[test]
fn an_unconfirmed_save_says_that_it_is_saved() {
    let shop = Shop::new();
    let error = shop.save_stopped(b"new", 5, Stop::Fail).unwrap_err();
    assert!(matches!(error, SaveError::NotSettled(_)), "{error}");
    assert_eq!(shop.holds("van.pack").unwrap(), b"new");
}

#[rstest]
#[case::a_folder(".", "choose another name")]
#[case::no_such_folder("gone/van.pack", "make the folder ")]
#[case::a_file_as_folder("note.txt/van.pack", "make the folder ")]
#[case::read_only("read-only.pack", "make the file writable")]
fn refuses_with_a_way_out(#[case] name: &str, #[case] fix: &str) {
    let shop = Shop::new();
    fs::write(shop.path("note.txt"), "note").unwrap();
    fs::write(shop.path("read-only.pack"), "old").unwrap();
    let mut permissions = fs::metadata(shop.path("read-only.pack")).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(shop.path("read-only.pack"), permissions).unwrap();

    let before = shop.names();
    let error = save(&shop.path(name), b"new").unwrap_err();
    assert!(error.fix().starts_with(fix), "{error}: {}", error.fix());
    assert_eq!(shop.names(), before);
    assert_eq!(shop.holds("read-only.pack").unwrap(), b"old");
}

#[test]
fn a_name_too_long_is_refused() {
    let shop = Shop::new();
    let error = save(&shop.path(&"v".repeat(250)), b"new").unwrap_err();
    if cfg!(unix) {
        assert_eq!(error.fix(), "choose a shorter, plainer file name");
    }
}

#[cfg(unix)]
mod on_unix {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    use std::os::unix::fs::{PermissionsExt, symlink};

    use super::*;

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[rstest]
    #[case(0o600)]
    #[case(0o664)]
    #[case(0o640)]
    fn permissions_are_kept_for_job_and_backup(#[case] permissions: u32) {
        let shop = Shop::new();
        fs::write(shop.job(), "old").unwrap();
        fs::set_permissions(shop.job(), PermissionsExt::from_mode(permissions)).unwrap();
        save(&shop.job(), b"new").unwrap();
        assert_eq!(mode(&shop.job()), permissions);
        assert_eq!(mode(&shop.path("van.pack.bak")), permissions);
    }

    #[test]
    fn a_new_job_has_the_permissions_of_any_new_file() {
        let shop = Shop::new();
        fs::write(shop.path("other"), "").unwrap();
        save(&shop.job(), b"new").unwrap();
        assert_eq!(mode(&shop.job()), mode(&shop.path("other")));
    }

    #[rstest]
    #[case::to_a_job(true)]
    #[case::to_nothing_yet(false)]
    fn a_link_is_written_through(#[case] exists: bool) {
        let shop = Shop::new();
        fs::create_dir(shop.path("jobs")).unwrap();
        if exists {
            fs::write(shop.path("jobs/van.pack"), "old").unwrap();
        }
        symlink("jobs/van.pack", shop.path("today.pack")).unwrap();
        save(&shop.path("today.pack"), b"new").unwrap();
        assert!(shop.path("today.pack").is_symlink());
        assert_eq!(shop.holds("jobs/van.pack").unwrap(), b"new");
        assert_eq!(shop.holds("jobs/van.pack.bak").is_some(), exists);
        assert_eq!(shop.names(), ["jobs", "today.pack"]);
    }

    #[test]
    fn a_name_that_is_not_unicode_is_saved_and_swept() {
        let shop = Shop::new();
        let name = OsStr::from_bytes(b"v\xffan.pack");
        let job = shop.folder.path().join(name);
        let stale = OsStr::from_bytes(b".v\xffan.pack.1.0.tmp");
        fs::write(shop.folder.path().join(stale), "half").unwrap();
        save(&job, b"new").unwrap();
        assert_eq!(fs::read(&job).unwrap(), b"new");
        assert_eq!(sweep_stale(&job), 1);
    }
}
