//! `packwright example`: the built-in jobs.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use job::store::{self, Lock};
use job::{EXAMPLES, Example};

use crate::trouble::{Trouble, Verdict};
use crate::{output, screens};

/// List the built-in jobs, or take one
///
/// Without a name: one job a line, its name first. With a name: the job file on standard output, in a file, or open in
/// the screens.
#[derive(Debug, Args)]
pub(crate) struct ExampleArgs {
    /// Which job
    name: Option<String>,
    /// Write it to this file
    #[arg(long, value_name = "FILE", requires = "name")]
    to: Option<PathBuf>,
    /// Write over a file that is there already; what it held is kept with .bak behind its name
    #[arg(long, requires = "to")]
    force: bool,
    /// Open it in the screens
    #[arg(long, requires = "name", conflicts_with = "to")]
    open: bool,
    /// Draw with plain characters only
    #[arg(long, requires = "open")]
    ascii: bool,
}

pub(crate) fn run(args: &ExampleArgs) -> Result<Verdict, Trouble> {
    let Some(name) = &args.name else {
        output::data(&list())?;
        return Ok(Verdict::Fine);
    };
    let example = job::example(name).ok_or_else(|| unknown(name))?;
    if args.open {
        return screens::open_example(example, args.ascii);
    }
    match &args.to {
        None => output::data(example.text)?,
        Some(path) => {
            write(example, path, args.force)?;
            output::message(&format!("{name} written to {}", path.display()));
        }
    }
    Ok(Verdict::Fine)
}

/// One job a line: its name, then what it is.
fn list() -> String {
    let width = EXAMPLES.iter().map(|e| e.name.len()).max().unwrap_or(0) + 2;
    let lines = EXAMPLES.map(|e| format!("{:width$}{}", e.name, e.about));
    lines.join("\n") + "\n"
}

fn unknown(name: &str) -> Trouble {
    let names = EXAMPLES.map(|e| e.name).join(", ");
    Trouble::new(
        format!("no built-in job has the name {name:?}"),
        format!("use one of {names}"),
    )
}

fn write(example: &Example, path: &Path, force: bool) -> Result<(), Trouble> {
    if force {
        let _lock = Lock::take(path)?;
        return Ok(store::save(path, example.text.as_bytes())?);
    }
    let made = OpenOptions::new().write(true).create_new(true).open(path);
    made.and_then(|mut file| file.write_all(example.text.as_bytes()))
        .map_err(|reason| match reason.kind() {
            ErrorKind::AlreadyExists => Trouble::new(
                format!("{}: there is a file of this name already", path.display()),
                "choose another name, or add --force to write over it",
            ),
            _ => output::could_not_write(path, &reason),
        })
}
