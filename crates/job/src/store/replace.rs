//! Putting a whole new file in the place of an old one, or failing with the old one untouched.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use super::place::folder_of;
use super::trouble::{FileTrouble, Tried};

/// Bytes written in one go; a program can be killed between two.
const PIECE: usize = 4096;

/// Names tried for the new file before giving up.
const NAMES: usize = 1000;

/// Who may read and write the new file.
#[derive(Clone, Copy, Debug)]
pub(super) enum Access<'a> {
    /// The same people as this file, or as for any new file when it does not exist.
    Like(&'a Path),
    /// Only its owner.
    Private,
}

/// What the new content has to survive once [`replace`] has returned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Survives {
    /// The program being killed.
    Kill,
    /// Power being cut.
    PowerCut,
}

/// Told before each step; tests stop the work there.
pub(super) trait Steps {
    /// Called before `tried` is done for `target`; an error takes the place of the step.
    fn before(&mut self, tried: Tried, target: &Path) -> io::Result<()>;
}

/// Nobody is listening.
impl Steps for () {
    fn before(&mut self, _: Tried, _: &Path) -> io::Result<()> {
        Ok(())
    }
}

/// Replaces `target` by a file holding `bytes`, made in the same folder and renamed.
///
/// Whoever opens `target` sees the old content whole or the new content whole, never a mixture,
/// wherever a kill stops the work; after a power cut too, with [`Survives::PowerCut`].
///
/// An error before or at [`Tried::Replace`] means the old file is untouched; an error at
/// [`Tried::SettleFolder`] means the new one is in place but may not survive a power cut.
pub(super) fn replace(
    target: &Path,
    bytes: &[u8],
    access: Access<'_>,
    survives: Survives,
    steps: &mut dyn Steps,
) -> Result<(), FileTrouble> {
    let mut doing = Tried::Create;
    // No clean-up on unwinding: a test unwinds to stand for a killed program.
    replace_step_by_step(target, bytes, access, survives, steps, &mut doing)
        .map_err(|reason| FileTrouble::on(target, doing)(reason))
}

fn replace_step_by_step(
    target: &Path,
    bytes: &[u8],
    access: Access<'_>,
    survives: Survives,
    steps: &mut dyn Steps,
    doing: &mut Tried,
) -> io::Result<()> {
    let mut begin = |tried| {
        *doing = tried;
        steps.before(tried, target)
    };
    begin(Tried::Create)?;
    let (temporary, mut file) = create_beside(target, access)?;
    // Tells `sweep_stale` that this file is in use. Where there are no locks, nothing is swept.
    let _ = file.try_lock();
    let mut put_in_place = || {
        begin(Tried::Permit)?;
        permit(&file, access)?;
        for piece in bytes.chunks(PIECE) {
            begin(Tried::Write)?;
            file.write_all(piece)?;
        }
        if survives == Survives::PowerCut {
            begin(Tried::Settle)?;
            file.sync_all()?;
        }
        begin(Tried::Replace)?;
        fs::rename(&temporary, target)
    };
    if let Err(reason) = put_in_place() {
        let _ = fs::remove_file(&temporary);
        return Err(reason);
    }
    if survives == Survives::PowerCut {
        begin(Tried::SettleFolder)?;
        settle_folder(folder_of(target))?;
    }
    Ok(())
}

/// Makes a new file `.NAME.<process>.<number>.tmp` in the folder of `target`.
///
/// A file left by a killed program with the same process number is passed over.
fn create_beside(target: &Path, access: Access<'_>) -> io::Result<(PathBuf, File)> {
    static NEXT: AtomicU64 = AtomicU64::new(0);
    let name = target.file_name().ok_or(ErrorKind::InvalidInput)?;
    for _ in 0..NAMES {
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let mut temporary = OsString::from(".");
        temporary.push(name);
        temporary.push(format!(".{}.{number}.tmp", std::process::id()));
        let temporary = folder_of(target).join(temporary);
        match new_file(access).open(&temporary) {
            Err(reason) if reason.kind() == ErrorKind::AlreadyExists => {}
            opened => return opened.map(|file| (temporary, file)),
        }
    }
    Err(ErrorKind::AlreadyExists.into())
}

#[cfg(unix)]
fn new_file(access: Access<'_>) -> OpenOptions {
    use std::os::unix::fs::OpenOptionsExt;
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    let as_any_new_file = matches!(access, Access::Like(pattern) if !pattern.exists());
    if !as_any_new_file {
        options.mode(0o600); // until `permit` has given it the pattern's
    }
    options
}

#[cfg(not(unix))]
fn new_file(_: Access<'_>) -> OpenOptions {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    options
}

/// Gives `file` the owner (where allowed) and the permissions of the pattern.
fn permit(file: &File, access: Access<'_>) -> io::Result<()> {
    let Access::Like(pattern) = access else {
        return Ok(());
    };
    let Ok(pattern) = fs::metadata(pattern) else {
        return Ok(());
    };
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        let new = file.metadata()?;
        // Only the superuser may give a file away; a group can be kept more often.
        if new.uid() != pattern.uid() {
            let _ = fchown(file, Some(pattern.uid()), None);
        }
        if new.gid() != pattern.gid() {
            let _ = fchown(file, None, Some(pattern.gid()));
        }
    }
    file.set_permissions(pattern.permissions())
}

/// Waits until a change of the entries of `folder` is on the disk.
#[cfg(unix)]
pub(super) fn settle_folder(folder: &Path) -> io::Result<()> {
    let folder = match File::open(folder) {
        // A folder that may be written but not listed cannot be waited for.
        Err(reason) if reason.kind() == ErrorKind::PermissionDenied => return Ok(()),
        opened => opened?,
    };
    match folder.sync_all() {
        // Some network disks have no such thing.
        Err(reason) if matches!(reason.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        done => done,
    }
}

/// Other systems cannot open a folder; their renames are written by the file system's journal.
#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "one signature on all systems")]
pub(super) fn settle_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
