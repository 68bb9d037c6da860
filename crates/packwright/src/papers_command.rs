//! `packwright papers`: every output file, into a folder.

use std::fs;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use job::{Job, PaperName, ProjectionName};
use serde_json::{Value, json};

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
    /// Print what was written as JSON: of each file its path, its name, its title and who reads it
    #[arg(long)]
    json: bool,
    /// Draw for this paper, whatever the job says
    #[arg(long, value_name = "SIZE")]
    paper: Option<PaperSize>,
    /// Stand the views of drawings to each other like this, whatever the job says
    #[arg(long, value_name = "ANGLE")]
    projection: Option<Angle>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum PaperSize {
    A4,
    A3,
    Letter,
    Tabloid,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Angle {
    First,
    Third,
}

impl PapersArgs {
    /// Puts what was asked for in place of what the job says.
    fn choose(&self, job: &mut Job) {
        let sheets = &mut job.settings.sheets;
        if let Some(paper) = self.paper {
            sheets.paper = Some(match paper {
                PaperSize::A4 => PaperName::A4,
                PaperSize::A3 => PaperName::A3,
                PaperSize::Letter => PaperName::Letter,
                PaperSize::Tabloid => PaperName::Tabloid,
            });
        }
        if let Some(angle) = self.projection {
            sheets.projection = Some(match angle {
                Angle::First => ProjectionName::First,
                Angle::Third => ProjectionName::Third,
            });
        }
    }
}

pub(crate) fn run(args: &PapersArgs) -> Result<Verdict, Trouble> {
    let mut job = args.job.read()?;
    args.choose(&mut job);
    let evaluation = job::evaluate(&job);
    let to_buy = job::shopping::to_buy(&job, &evaluation);
    let all = papers::all(&job, &evaluation, &to_buy, &date::today());
    let papers = chosen(all, &args.only)?;
    let paths: Vec<PathBuf> = papers.iter().map(|paper| args.to.join(&paper.file_name)).collect();
    for path in &paths {
        output::not_over_the_job(path, args.job.path())?;
    }
    fs::create_dir_all(&args.to).map_err(|reason| output::could_not_write(&args.to, &reason))?;
    for (path, paper) in paths.iter().zip(&papers) {
        output::file(path, &paper.content)?;
    }
    let names: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
    if args.json {
        output::json(&json!({ "written": written(&papers, &names) }))?;
    } else {
        output::data(&(names.join("\n") + "\n"))?;
    }
    output::tell_stops(&evaluation, args.job.path());
    output::tell_revision(&evaluation, args.job.path());
    Ok(Verdict::of(&evaluation))
}

/// Each file with what it is and who reads it, in the order of the list of papers.
fn written(papers: &[papers::Paper], names: &[String]) -> Vec<Value> {
    let of_entry = |entry: papers::Entry| {
        let (title, reader) = (entry.title, entry.reader.heading());
        let files = entry.files.into_iter();
        files
            .map(move |at| json!({ "path": names[at], "file": papers[at].file_name, "title": title, "reader": reader }))
    };
    papers::catalog(papers).into_iter().flat_map(of_entry).collect()
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
