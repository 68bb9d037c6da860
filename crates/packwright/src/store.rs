//! Saving a job from the command line.

use std::path::Path;

use job::Job;
use job::store::{self, SaveError};

use crate::output;
use crate::trouble::Trouble;

/// Saves a job; what was saved but not settled on the disk is said, and no trouble.
pub(crate) fn save(job: &Job, path: &Path) -> Result<(), Trouble> {
    match store::save(path, job::to_text(job).as_bytes()) {
        Err(error @ SaveError::NotSettled(_)) => {
            output::message(&format!("caution: {error}\n  fix: {}", error.fix()));
            Ok(())
        }
        other => Ok(other?),
    }
}
