//! `packwright schema`: the JSON Schema of the job file.

use crate::output;
use crate::trouble::{Trouble, Verdict};

pub(crate) fn run() -> Result<Verdict, Trouble> {
    output::data(job::schema_text())?;
    Ok(Verdict::Fine)
}
