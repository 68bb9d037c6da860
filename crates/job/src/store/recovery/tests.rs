use proptest::prelude::*;
use rstest::rstest;
use tempfile::TempDir;

use super::super::{Lock, find_beside, find_unsaved, save};
use super::*;

const BASE: &[u8] = b"as saved";

/// A folder with a saved job and a folder for the program's state.
struct Shop {
    folder: TempDir,
}

impl Shop {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        save(&folder.path().join("van.pack"), BASE).unwrap();
        Self { folder }
    }

    fn job(&self) -> PathBuf {
        self.folder.path().join("van.pack")
    }

    fn state(&self) -> PathBuf {
        self.folder.path().join("state")
    }

    fn of_job(&self) -> Recovery {
        Recovery::beside(Some(&self.job()), &self.state()).unwrap()
    }

    fn unsaved(&self) -> Recovery {
        Recovery::beside(None, &self.state()).unwrap()
    }

    /// The edits to the job that are found.
    fn found(&self) -> Option<(Vec<u8>, Base)> {
        let found = find(&self.job()).unwrap()?;
        assert_eq!(found.job_path.as_deref(), Some(&*self.job()));
        Some((found.bytes, found.base))
    }
}

#[test]
fn edits_of_a_saved_job_are_found_again() {
    let shop = Shop::new();
    assert_eq!(shop.found(), None);
    let recovery = shop.of_job();
    recovery.write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    recovery.write(Some(Fingerprint::of(BASE)), b"edited more").unwrap();
    drop(recovery);
    assert_eq!(shop.found(), Some((b"edited more".to_vec(), Base::Same)));
    assert!(shop.folder.path().join(".van.pack.recovery").exists());
    shop.of_job().discard().unwrap();
    assert_eq!(shop.found(), None);
    shop.of_job().discard().unwrap();
}

#[test]
fn tells_what_became_of_the_job_meanwhile() {
    let shop = Shop::new();
    shop.of_job().write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    save(&shop.job(), b"by somebody else").unwrap();
    assert_eq!(shop.found(), Some((b"edited".to_vec(), Base::Changed)));
    fs::remove_file(shop.job()).unwrap();
    assert_eq!(shop.found(), Some((b"edited".to_vec(), Base::Missing)));
    shop.of_job().write(None, b"never there").unwrap();
    assert_eq!(shop.found(), Some((b"never there".to_vec(), Base::Same)));
}

#[test]
fn nothing_is_offered_that_is_saved_already() {
    let shop = Shop::new();
    let recovery = shop.of_job();
    recovery.write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    save(&shop.job(), b"edited").unwrap(); // and killed before it could discard
    assert_eq!(shop.found(), None);
    assert!(recovery.path().exists());
}

#[test]
fn a_folder_may_be_moved_with_job_and_recovery_file() {
    let shop = Shop::new();
    shop.of_job().write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    let moved = tempfile::tempdir().unwrap();
    for name in ["van.pack", ".van.pack.recovery"] {
        fs::rename(shop.folder.path().join(name), moved.path().join(name)).unwrap();
    }
    save(&shop.job(), b"another job").unwrap();
    let found = read(&moved.path().join(".van.pack.recovery")).unwrap();
    assert_eq!(found.job_path, Some(moved.path().join("van.pack")));
    assert_eq!(found.base, Base::Same);
}

#[rstest]
#[case::cut(|file: &mut Vec<u8>| file.truncate(file.len() - 1))]
#[case::empty(|file: &mut Vec<u8>| file.clear())]
#[case::zeros(|file: &mut Vec<u8>| file.fill(0))]
fn a_damaged_file_is_reported_and_left(#[case] damage: fn(&mut Vec<u8>)) {
    let shop = Shop::new();
    let recovery = shop.of_job();
    recovery.write(None, b"edited").unwrap();
    let mut file = fs::read(recovery.path()).unwrap();
    damage(&mut file);
    fs::write(recovery.path(), &file).unwrap();

    let error = find(&shop.job()).unwrap_err();
    assert!(matches!(error, RecoveryError::Damaged { .. }), "{error}");
    assert_eq!(fs::read(recovery.path()).unwrap(), file);

    let aside = set_aside(recovery.path()).unwrap();
    assert_eq!(aside, shop.folder.path().join("van.pack.recovery-1"));
    assert_eq!(fs::read(&aside).unwrap(), file);
    assert_eq!(shop.found(), None);
    assert!(set_aside(recovery.path()).is_err(), "nothing there any more");
    assert_eq!(fs::read(&aside).unwrap(), file);
}

#[test]
fn a_newer_file_is_reported_and_left() {
    let shop = Shop::new();
    let recovery = shop.of_job();
    fs::write(recovery.path(), "packwright-recovery 7 x\n").unwrap();
    let error = find(&shop.job()).unwrap_err();
    assert!(matches!(error, RecoveryError::Newer { version: 7, .. }));
    assert!(recovery.path().exists());
}

#[rstest]
#[case::damaged_by_a_power_cut(true)]
#[case::killed_between_two_renames(false)]
fn falls_back_to_a_moment_earlier(#[case] damaged: bool) {
    let shop = Shop::new();
    let recovery = shop.of_job();
    recovery.write(Some(Fingerprint::of(BASE)), b"earlier").unwrap();
    recovery.keep_older().unwrap();
    if damaged {
        fs::write(recovery.path(), "").unwrap();
    }
    let found = find(&shop.job()).unwrap().unwrap();
    assert_eq!(found.bytes, b"earlier");
    assert_eq!(found.base, Base::Same);
    assert_eq!(found.path, recovery.path());
    assert!(found.lost_latest);

    recovery.write_unsettled(Some(Fingerprint::of(BASE)), b"later").unwrap();
    recovery.settle().unwrap();
    assert_eq!(shop.found(), Some((b"later".to_vec(), Base::Same)));
    recovery.discard().unwrap();
    assert_eq!(shop.found(), None);
}

#[test]
fn jobs_of_a_folder_with_lost_edits_are_listed_once_nobody_has_them_open() {
    let shop = Shop::new();
    let listed = || find_beside(shop.folder.path());
    assert!(listed().is_empty(), "nothing was left");
    shop.of_job().write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    let open = Lock::take(&shop.job()).unwrap();
    assert!(listed().is_empty(), "it is open");
    drop(open);
    assert_eq!(listed(), [shop.job()]);
    assert!(shop.found().is_some(), "looking takes nothing away");
    shop.of_job().write(Some(Fingerprint::of(BASE)), BASE).unwrap();
    assert!(listed().is_empty(), "it is what was saved");
    shop.of_job().write(Some(Fingerprint::of(BASE)), b"edited").unwrap();
    std::fs::remove_file(shop.job()).unwrap();
    assert!(listed().is_empty(), "there is no job to open");
}

#[test]
fn unsaved_jobs_are_found_once_their_program_is_gone() {
    let shop = Shop::new();
    assert!(find_unsaved(&shop.state()).is_empty(), "no folder yet");
    let open = shop.unsaved();
    let killed = shop.unsaved();
    assert_ne!(open.path(), killed.path());
    open.write(None, b"still open").unwrap();
    killed.write(None, b"lost").unwrap();
    assert!(find_unsaved(&shop.state()).is_empty(), "both are open");

    let path = killed.path().to_path_buf();
    drop(killed);
    let found = find_unsaved(&shop.state());
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].path, path);
    assert!(found[0].written.is_some());
    let recovered = found[0].content.as_ref().unwrap();
    assert_eq!(recovered.bytes, b"lost");
    assert_eq!((&recovered.job_path, recovered.base), (&None, Base::Same));

    let adopted = Recovery::adopt(&path).unwrap();
    assert!(find_unsaved(&shop.state()).is_empty(), "it is open again");
    let second = Recovery::adopt(&path).unwrap_err();
    assert!(matches!(second, RecoveryError::InUse { .. }), "{second}");
    adopted.discard().unwrap();
    drop(adopted);
    assert!(find_unsaved(&shop.state()).is_empty());
}

#[test]
fn a_name_left_by_a_killed_program_is_not_used_again() {
    let shop = Shop::new();
    let killed = shop.unsaved();
    killed.write(None, b"lost").unwrap();
    let path = killed.path().to_path_buf();
    drop(killed);
    assert_ne!(shop.unsaved().path(), path);
}

#[test]
fn damaged_unsaved_jobs_are_listed_and_litter_is_swept() {
    let shop = Shop::new();
    fs::create_dir(shop.state()).unwrap();
    let put = |name: &str| fs::write(shop.state().join(name), "?").unwrap();
    for name in [
        "unsaved-1-0.recovery",
        "unsaved-1-1.recovery.old",
        "notes.txt",
        ".unsaved-1-2.recovery.1.0.tmp",
        ".unsaved-1-2.recovery.lock",
    ] {
        put(name);
    }
    let found = find_unsaved(&shop.state());
    let names: Vec<_> = found
        .iter()
        .map(|found| found.path.file_name().unwrap().to_str().unwrap())
        .collect();
    assert_eq!(names, ["unsaved-1-0.recovery", "unsaved-1-1.recovery"]);
    for found in &found {
        assert!(matches!(found.content, Err(RecoveryError::Damaged { .. })));
    }
    let left = fs::read_dir(shop.state()).unwrap().count();
    if cfg!(unix) {
        assert_eq!(left, 3, "half-written file and lock are gone");
    }
    set_aside(&found[0].path).unwrap();
    set_aside(&found[1].path).unwrap();
    assert!(find_unsaved(&shop.state()).is_empty());
    assert!(shop.state().join("unsaved-1-0.recovery-1").exists());
}

#[cfg(unix)]
#[test]
fn only_those_who_may_read_the_job_may_read_its_edits() {
    use std::os::unix::fs::PermissionsExt;
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let shop = Shop::new();
    fs::set_permissions(shop.job(), PermissionsExt::from_mode(0o640)).unwrap();
    let recovery = shop.of_job();
    recovery.write(None, b"edited").unwrap();
    assert_eq!(mode(recovery.path()), 0o640);
    let unsaved = shop.unsaved();
    unsaved.write(None, b"edited").unwrap();
    assert_eq!(mode(unsaved.path()), 0o600);
    assert_eq!(mode(&shop.state()), 0o700);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]
    #[test]
    fn any_bytes_come_back(bytes in any::<Vec<u8>>()) {
        let shop = Shop::new();
        shop.of_job().write(Some(Fingerprint::of(BASE)), &bytes).unwrap();
        let expected = (bytes != BASE).then_some((bytes, Base::Same));
        prop_assert_eq!(shop.found(), expected);
    }
}
