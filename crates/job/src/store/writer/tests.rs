use std::fs;
use std::path::PathBuf;

use tempfile::TempDir;

use super::super::recovery::{Base, find, older};
use super::super::save;
use super::*;

const BASE: &[u8] = b"as saved";

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

    fn recovery(&self) -> Recovery {
        Recovery::beside(Some(&self.job()), self.folder.path()).unwrap()
    }

    fn writer(&self) -> Writer {
        Writer::start(self.recovery(), Some(Fingerprint::of(BASE))).unwrap()
    }

    fn found(&self) -> Option<Vec<u8>> {
        let found = find(&self.job()).unwrap()?;
        assert_eq!(found.base, Base::Same);
        assert!(!found.lost_latest);
        Some(found.bytes)
    }
}

#[test]
fn after_a_flush_the_latest_is_on_the_disk() {
    let shop = Shop::new();
    let writer = shop.writer();
    writer.flush().unwrap();
    assert_eq!(shop.found(), None, "nothing was put");
    for edit in 0..500 {
        writer.put(format!("edit {edit}").into_bytes());
        if edit % 100 == 0 {
            writer.flush().unwrap();
            assert_eq!(shop.found(), Some(format!("edit {edit}").into_bytes()));
        }
    }
    drop(writer);
    assert_eq!(shop.found(), Some(b"edit 499".to_vec()), "dropping writes what is left");
}

#[test]
fn the_latest_overtakes_those_still_waiting() {
    let shop = Shop::new();
    let shared = Shared::new(None);
    for edit in ["one", "two", "three"] {
        shared.order(|state| state.wanted = Some(edit.as_bytes().into()));
    }
    let Next::Write {
        order, content, settle, ..
    } = shared.next(None)
    else {
        panic!("there is something to write");
    };
    assert_eq!((order, settle), (3, false));
    assert_eq!(content.as_deref(), Some(&b"three"[..]));
    shared.done(order, false, shop.recovery().write_unsettled(None, b"three"));
    // Nothing more comes: after a pause it is to be settled, and then it is.
    assert!(matches!(shared.next(None), Next::Settle { order: 3 }));
    shared.done(order, true, Ok(()));
    shared.lock().finish = true;
    assert!(matches!(shared.next(None), Next::Stop));
}

#[test]
fn saving_removes_the_recovery_file() {
    let shop = Shop::new();
    let writer = shop.writer();
    writer.put(b"edited".to_vec());
    save(&shop.job(), b"edited").unwrap();
    writer.saved(b"edited");
    writer.flush().unwrap();
    assert!(!shop.recovery().path().exists());

    // The next edit follows from what was saved.
    writer.put(b"edited more".to_vec());
    writer.finish().unwrap();
    assert_eq!(shop.found(), Some(b"edited more".to_vec()));
}

#[test]
fn an_edit_made_while_saving_is_kept() {
    let shop = Shop::new();
    let writer = shop.writer();
    writer.put(b"edited".to_vec());
    save(&shop.job(), b"edited").unwrap();
    writer.put(b"edited meanwhile".to_vec());
    writer.saved(b"edited");
    writer.finish().unwrap();
    assert_eq!(shop.found(), Some(b"edited meanwhile".to_vec()));
}

#[test]
fn discarding_removes_both_files() {
    let shop = Shop::new();
    let writer = shop.writer();
    for edit in ["one", "two"] {
        writer.put(edit.as_bytes().to_vec());
        writer.flush().unwrap();
    }
    fs::write(older(shop.recovery().path()), "an older one").unwrap();
    writer.put(b"not wanted".to_vec());
    writer.discard();
    writer.finish().unwrap();
    assert!(!shop.recovery().path().exists());
    assert!(!older(shop.recovery().path()).exists());
}

#[test]
fn an_error_is_kept_until_a_write_succeeds() {
    let shop = Shop::new();
    let in_the_way = shop.recovery().path().to_path_buf();
    fs::create_dir_all(in_the_way.join("x")).unwrap();
    let writer = shop.writer();
    assert!(writer.last_error().is_none());
    writer.put(b"edited".to_vec());
    let error = writer.flush().unwrap_err();
    assert!(matches!(&*error, RecoveryError::Failed(_)), "{error}");
    assert!(writer.last_error().is_some());

    fs::remove_dir_all(in_the_way).unwrap();
    writer.flush().unwrap();
    assert!(writer.last_error().is_none());
    assert_eq!(shop.found(), Some(b"edited".to_vec()), "flush tried it again");
}
