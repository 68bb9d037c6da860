//! `evidence`: runs check values against the crates and prints what came of each.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::Context as _;
use clap::Parser;
use evidence::{Options, Report};

/// Run check values from outside the project against the crates.
///
/// Prints for each case what was expected, what the crates give, where the expected value comes from and the verdict;
/// the last line counts them. Exits with 1 when a case failed and with 2 when a file cannot be read.
#[derive(Parser)]
#[command(version)]
struct Arguments {
    /// Files of checks; all in tests/cases when none is named.
    files: Vec<PathBuf>,
    /// Print one JSON list of the cases instead, with the layouts made; the counts go to stderr.
    #[arg(long)]
    json: bool,
}

fn main() -> ExitCode {
    // A crash of a case is told in its verdict.
    std::panic::set_hook(Box::new(|_| {}));
    match answer(&Arguments::parse()) {
        Ok(report) if report.failed() => ExitCode::from(1),
        Ok(_) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(io::stderr(), "evidence: {error:#}");
            ExitCode::from(2)
        }
    }
}

fn answer(arguments: &Arguments) -> anyhow::Result<Report> {
    let files = if arguments.files.is_empty() {
        all_cases()?
    } else {
        arguments.files.clone()
    };
    let report = evidence::run(&files, Options::default())?;
    let mut out = io::stdout().lock();
    if arguments.json {
        writeln!(out, "{:#}", report.to_json())?;
        writeln!(io::stderr(), "{}", report.summary())?;
    } else {
        write!(out, "{}", report.text())?;
    }
    out.flush()?;
    Ok(report)
}

/// Every file of checks beside this crate, by name.
fn all_cases() -> anyhow::Result<Vec<PathBuf>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).with_file_name("cases");
    let entries = fs::read_dir(&folder).with_context(|| format!("{}: cannot look for checks", folder.display()))?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry?.path();
        if path.extension().is_some_and(|end| end == "json") {
            files.push(shortened(path));
        }
    }
    files.sort_unstable();
    Ok(files)
}

/// The path from where we stand, if it lies below.
fn shortened(path: PathBuf) -> PathBuf {
    std::env::current_dir()
        .ok()
        .and_then(|here| path.strip_prefix(here).ok().map(Path::to_path_buf))
        .unwrap_or(path)
}
