//! Where text goes: data to standard output, messages to standard error, papers into files.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use job::Evaluation;
use job::changes::Since;
use serde_json::Value;

use crate::trouble::Trouble;

/// Prints data.
///
/// A reader that has seen enough and gone (`| head`) is no error.
pub(crate) fn data(text: &str) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(reason) if reason.kind() != ErrorKind::BrokenPipe => Err(Trouble::new(
            format!("could not write to standard output: {reason}"),
            "check where the output goes, and the space on that disk",
        )),
        _ => Ok(()),
    }
}

/// Prints data as JSON.
pub(crate) fn json(value: &Value) -> Result<(), Trouble> {
    data(&format!("{value:#}\n"))
}

/// Prints a message. Where nobody reads messages there is nobody to tell.
pub(crate) fn message(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Says why a command that wrote everything still does not end with 0.
pub(crate) fn tell_stops(evaluation: &Evaluation, job: &Path) {
    let stops = evaluation.headline.stops;
    if stops > 0 {
        let (word, them) = if stops == 1 { ("stop", "it") } else { ("stops", "them") };
        message(&format!(
            "caution: this job has {stops} {word}, ways in not counted\n  fix: see {them} with: packwright check {}",
            job.display()
        ));
    }
}

/// Says when papers bear the letter of others that the shop has, with other parts on them.
pub(crate) fn tell_revision(evaluation: &Evaluation, job: &Path) {
    let stale = |since: &&Since| since.same_letter && !since.changed.is_none();
    if let Some(since) = evaluation.issued.as_ref().filter(stale) {
        message(&format!(
            "caution: the shop has papers of revision {} with other parts: {}\n  fix: raise the letter with: packwright issue {}",
            since.revision,
            since.changed.words(),
            job.display()
        ));
    }
}

/// Writes a file that may be written anew at any time.
pub(crate) fn file(path: &Path, content: impl AsRef<[u8]>) -> Result<(), Trouble> {
    fs::write(path, content).map_err(|reason| could_not_write(path, &reason))
}

pub(crate) fn could_not_write(path: &Path, reason: &io::Error) -> Trouble {
    let fix = match reason.kind() {
        ErrorKind::NotFound => "make that folder first, or choose another",
        ErrorKind::IsADirectory => "give the name of a file, not of a folder",
        ErrorKind::AlreadyExists => "choose another name",
        _ => "check that the folder can be written, or choose another",
    };
    Trouble::new(format!("{}: could not write: {reason}", path.display()), fix)
}

/// Refuses a path for a folder on which a file stands, at its end or on the way there, and names one that would do.
pub(crate) fn folder(path: &Path) -> Result<(), Trouble> {
    match path.ancestors().find(|part| part.is_file()) {
        None => Ok(()),
        Some(file) => Err(Trouble::new(
            format!("{}: this is a file, and a folder is wanted", file.display()),
            format!("name a folder, as: --to {}-papers", file.with_extension("").display()),
        )),
    }
}

/// Refuses to write over the job that is being read.
pub(crate) fn not_over_the_job(path: &Path, job: &Path) -> Result<(), Trouble> {
    match (fs::canonicalize(path), fs::canonicalize(job)) {
        (Ok(a), Ok(b)) if a == b => Err(Trouble::new(
            format!("{}: this is the job itself", path.display()),
            "choose another name",
        )),
        _ => Ok(()),
    }
}
