//! How a command ends.

use std::fmt;
use std::process::ExitCode;

use job::Evaluation;
use job::store::{LockError, SaveError};

/// How a command ends that did its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// All is fine.
    Fine,
    /// The job has a stop.
    Stop,
}

impl Verdict {
    pub(crate) fn of(evaluation: &Evaluation) -> Self {
        if evaluation.has_stop() { Self::Stop } else { Self::Fine }
    }

    pub(crate) fn exit_code(self) -> ExitCode {
        match self {
            Self::Fine => ExitCode::SUCCESS,
            Self::Stop => ExitCode::from(1),
        }
    }
}

/// Why a command could not do its work, and what the person can do about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Trouble {
    what: String,
    fix: String,
}

impl Trouble {
    pub(crate) fn new(what: impl Into<String>, fix: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            fix: fix.into(),
        }
    }

    pub(crate) fn exit_code() -> ExitCode {
        ExitCode::from(2)
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error: {}\n  fix: {}", self.what, self.fix)
    }
}

impl From<LockError> for Trouble {
    fn from(error: LockError) -> Self {
        let fix = match error {
            // This program has no reading-only mode to offer here.
            LockError::Held { .. } => "close it there first".to_owned(),
            LockError::Unavailable(_) => error.fix(),
        };
        Self::new(error.to_string(), fix)
    }
}

impl From<SaveError> for Trouble {
    fn from(error: SaveError) -> Self {
        Self::new(error.to_string(), error.fix())
    }
}
