//! `packwright cutlist`: what to cut.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use job::Evaluation;
use job::shopping::{ToBuy, to_buy};
use serde_json::Value;

use crate::input::JobFile;
use crate::trouble::{Trouble, Verdict};
use crate::{date, output};

/// Print what to cut for the boxes and what to buy, or write it to a file
///
/// The list is printed even when the job has a stop; the command then ends with 1.
#[derive(Debug, Args)]
pub(crate) struct CutlistArgs {
    #[command(flatten)]
    job: JobFile,
    /// In which form; without it, the one that the ending of --to names, else markdown
    #[arg(long)]
    format: Option<Format>,
    /// Print it as JSON; the same as --format json
    #[arg(long, conflicts_with = "format")]
    json: bool,
    /// Write it to this file (.html, .csv, .md or .json)
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// One page to print
    Html,
    /// A table for a spreadsheet
    Csv,
    /// Plain text
    Markdown,
    /// For other programs
    Json,
}

impl Format {
    fn by_ending(path: &Path) -> Option<Self> {
        match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
            "html" | "htm" => Some(Self::Html),
            "csv" => Some(Self::Csv),
            "md" | "markdown" => Some(Self::Markdown),
            "json" => Some(Self::Json),
            _ => None,
        }
    }

    fn write(self, evaluation: &Evaluation, to_buy: &ToBuy) -> String {
        match self {
            Self::Html => papers::cutlist_html(evaluation, to_buy, &date::today()),
            Self::Csv => papers::cutlist_csv(evaluation),
            Self::Markdown => papers::cutlist_markdown(evaluation, to_buy),
            Self::Json => format!("{:#}\n", json(evaluation, to_buy)),
        }
    }
}

/// The cut list out of the figures, with what it belongs to and what it rests on.
fn json(evaluation: &Evaluation, to_buy: &ToBuy) -> Value {
    let mut figures = papers::evaluation_json(evaluation);
    figures["to_buy"] = papers::nests_json(to_buy);
    let part = |name: &str| (name.to_owned(), figures[name].clone());
    [
        "job",
        "truck",
        "revision",
        "units",
        "fraction",
        "cut",
        "to_buy",
        "assumptions",
        "cautions",
    ]
    .map(part)
    .into_iter()
    .collect()
}

pub(crate) fn run(args: &CutlistArgs) -> Result<Verdict, Trouble> {
    let format = format(args)?;
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let text = format.write(&evaluation, &to_buy(&job, &evaluation));
    match &args.to {
        None => output::data(&text)?,
        Some(path) => {
            output::not_over_the_job(path, args.job.path())?;
            output::file(path, &text)?;
            output::message(&format!("cut list written to {}", path.display()));
        }
    }
    output::tell_stops(&evaluation, args.job.path());
    Ok(Verdict::of(&evaluation))
}

fn format(args: &CutlistArgs) -> Result<Format, Trouble> {
    let told = args.format.or(args.json.then_some(Format::Json));
    match (told, &args.to) {
        (Some(format), _) => Ok(format),
        (None, None) => Ok(Format::Markdown),
        (None, Some(path)) => Format::by_ending(path).ok_or_else(|| {
            Trouble::new(
                format!("{}: its ending does not say in which form to write", path.display()),
                "end the name with .html, .csv, .md or .json, or add --format",
            )
        }),
    }
}
