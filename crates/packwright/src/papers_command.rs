//! `packwright papers`: every output file, into a folder.

use std::fs;
use std::path::PathBuf;

use clap::Args;

use crate::input::JobFile;
use crate::trouble::{Trouble, Verdict};
use crate::{date, output};

/// Write all papers of a job into a folder
///
/// Prints the names of the files written. They are written even when the job has a stop; the command then ends with 1.
#[derive(Debug, Args)]
pub(crate) struct PapersArgs {
    #[command(flatten)]
    job: JobFile,
    /// The folder; made when it is not there, files of the same names are written anew
    #[arg(long, value_name = "FOLDER")]
    to: PathBuf,
    /// Only these, by name or kind, with commas between: drawing, pattern, cut-list.csv; all when left out
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    only: Vec<String>,
}

pub(crate) fn run(args: &PapersArgs) -> Result<Verdict, Trouble> {
    output::folder(&args.to)?;
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let to_buy = job::shopping::to_buy(&job, &evaluation);
    let all = papers::all(&job, &evaluation, &to_buy, &date::today());
    let papers: Vec<_> = chosen(all, &args.only)?
        .into_iter()
        .map(|paper| (args.to.join(&paper.file_name), paper.content))
        .collect();
    for (path, _) in &papers {
        output::not_over_the_job(path, args.job.path())?;
    }
    fs::create_dir_all(&args.to).map_err(|reason| output::could_not_write(&args.to, &reason))?;
    let mut written = Vec::new();
    for (path, content) in &papers {
        output::file(path, content)?;
        written.push(path.display().to_string());
    }
    output::data(&(written.join("\n") + "\n"))?;
    output::tell_stops(&evaluation, args.job.path());
    output::tell_revision(&evaluation, args.job.path());
    Ok(Verdict::of(&evaluation))
}

/// Those that were asked for; all when none were.
fn chosen(all: Vec<papers::Paper>, only: &[String]) -> Result<Vec<papers::Paper>, Trouble> {
    if only.is_empty() {
        return Ok(all);
    }
    let names: Vec<String> = all.iter().map(|paper| paper.file_name.clone()).collect();
    papers::chosen(all, only).map_err(|wrong| {
        Trouble::new(
            format!("--only: this job has no paper \"{wrong}\""),
            format!(
                "take of these, by name or by its beginning up to a dash or dot: {}",
                names.join(", ")
            ),
        )
    })
}
