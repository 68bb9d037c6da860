//! `packwright issue`: notes what the shop gets, under the next letter.

use clap::Args;
use job::changes::issue;
use job::store::Lock;

use crate::input::JobFile;
use crate::trouble::{Trouble, Verdict};
use crate::{date, output, store};

/// Note in the job what the shop gets, and raise the revision letter
///
/// Keeps the cut list as it is, by mark, so that what changes after it can be told. The letter goes up by one when it was
/// issued before. Write the papers after it, so that they bear the letter. The job before is kept with .bak behind its name.
#[derive(Debug, Args)]
pub(crate) struct IssueArgs {
    #[command(flatten)]
    job: JobFile,
    /// This letter instead of the next one
    #[arg(long, value_name = "LETTER")]
    revision: Option<String>,
}

pub(crate) fn run(args: &IssueArgs) -> Result<Verdict, Trouble> {
    if args.job.is_standard_input() {
        return Err(Trouble::new(
            "standard input cannot be written to",
            "give the name of the job file",
        ));
    }
    // Taken before reading, so that nobody else's work is written over.
    let _lock = Lock::take(args.job.path())?;
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let edit = issue(&job, &evaluation, &date::today(), args.revision.as_deref())
        .map_err(|why| Trouble::new(format!("{}: {why}", args.job.path().display()), why.mend()))?;
    let issued = job
        .with(&edit)
        .map_err(|refused| Trouble::new(refused.to_string(), refused.mend()))?;
    store::save(&issued, args.job.path())?;
    let evaluation = job::evaluate(&issued);
    let mut told = format!("revision {} issued", issued.revision);
    if let Some((since, by_it)) = evaluation.issued.as_ref().and_then(|s| Some((s, s.by_it.as_ref()?))) {
        let before = since.earlier.last().map_or("", |[letter, _]| letter.as_str());
        told = format!("{told}; against revision {before}: {}", by_it.words());
    }
    output::data(&format!("{told}\n"))?;
    output::message(&format!(
        "saved in {path}; write its papers with: packwright papers {path} --to papers",
        path = args.job.path().display()
    ));
    output::tell_stops(&evaluation, args.job.path());
    Ok(Verdict::of(&evaluation))
}
