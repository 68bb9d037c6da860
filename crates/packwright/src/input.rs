//! Reading a job from a file or from standard input.

use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use job::{Job, LoadError};

use crate::trouble::Trouble;

/// Enough for any job, and an end to what has none; loading refuses far less.
const MOST_BYTES: u64 = 64 << 20;

#[derive(Debug, Args)]
pub(crate) struct JobFile {
    /// The job file; - reads standard input
    #[arg(value_name = "FILE")]
    path: PathBuf,
}

impl JobFile {
    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    pub(crate) fn is_standard_input(&self) -> bool {
        is_standard_input(&self.path)
    }

    /// Reads the job.
    pub(crate) fn read(&self) -> Result<Job, Trouble> {
        read(&self.path)
    }
}

pub(crate) fn is_standard_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Reads the job at `path`.
pub(crate) fn read(path: &Path) -> Result<Job, Trouble> {
    let (name, bytes) = if is_standard_input(path) {
        ("standard input".to_owned(), read_some(io::stdin().lock()))
    } else {
        (path.display().to_string(), File::open(path).and_then(read_some))
    };
    let bytes = bytes.map_err(|reason| {
        let fix = match reason.kind() {
            ErrorKind::NotFound => {
                "check the name and the folder; a new job is begun with packwright alone, and named when it is saved"
            }
            ErrorKind::IsADirectory => "give the name of a job file, not of a folder",
            ErrorKind::PermissionDenied => "allow reading it",
            _ => "check the name, and the disk it is on",
        };
        Trouble::new(format!("{name}: could not read: {reason}"), fix)
    })?;
    job::load(&bytes).map_err(|error| {
        // What comes through a pipe has no backup beside it.
        let fix = match error {
            LoadError::NotText(_) | LoadError::NotJson { .. } if is_standard_input(path) => {
                "send a job file that packwright has saved, whole".to_owned()
            }
            _ => error.fix(),
        };
        Trouble::new(format!("{name}: {error}"), fix)
    })
}

fn read_some(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(MOST_BYTES).read_to_end(&mut bytes)?;
    Ok(bytes)
}
