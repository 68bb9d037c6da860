//! `packwright nest`: what is cut from which sheet and bar.

mod stock;

use std::fs;
use std::io::{self, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use job::nesting::{self, Nesting, Progress, Question, WORK, parts_question, question, read_parts};
use job::shopping::ToBuy;
use job::{Evaluation, Job, UnitsName};

use crate::input::is_standard_input;
use crate::number::{self, MILLION};
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Lay the parts on sheets and bars, with a proof or a bound of how few it takes
///
/// FILE is a job, or a list of parts: a table as text with the columns mark, number off, length, width, stock, name, in any
/// order with heads. A part without a width is cut from bar; parts of one stock (as mild steel 3 mm) are laid together.
/// What is told here wins over what the job says.
#[derive(Debug, Args)]
pub(crate) struct NestArgs {
    /// The job, or the list of parts; - reads standard input
    #[arg(value_name = "FILE|PARTS.CSV")]
    path: PathBuf,
    #[command(flatten)]
    stock: stock::StockArgs,
    /// Steps of work for each stock, in millions
    #[arg(long, value_name = "MILLIONS", default_value_t = (WORK / MILLION).to_string(), allow_negative_numbers = true)]
    work: String,
    /// Bare lengths of a list of parts, and of what is told here, are millimetres
    #[arg(long)]
    mm: bool,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// Enough for any list or job.
const MOST_BYTES: u64 = 64 << 20;

/// What is read.
enum Given {
    Job(Box<(Job, Evaluation)>),
    Parts(Question),
}

pub(crate) fn run(args: &NestArgs) -> Result<Verdict, Trouble> {
    let work = number::work(&args.work)?;
    let read = read(args)?;
    let asked = match &read {
        Given::Job(of) => {
            let (job, evaluation) = of.as_ref();
            question(job, evaluation)
        }
        Given::Parts(question) => question.clone(),
    };
    let nesting = watched(asked, work);
    if args.json {
        let value = match &read {
            Given::Job(of) => papers::nests_json(&ToBuy::of(&of.0, &of.1, nesting.clone())),
            Given::Parts(_) => papers::nesting_json(&nesting),
        };
        output::json(&value)?;
    } else {
        output::data(&papers::nests_text(&nesting))?;
    }
    let left_out = nesting.stocks.iter().any(|stock| !stock.left_out.is_empty());
    if left_out {
        output::message(
            "caution: not every part is on a sheet or bar\n  fix: add stock that is large enough, as --stock \"5x10 ft\", or \
             make the box smaller",
        );
    }
    match &read {
        Given::Job(of) => {
            output::tell_stops(&of.1, &args.path);
            Ok(if left_out { Verdict::Stop } else { Verdict::of(&of.1) })
        }
        Given::Parts(_) => Ok(if left_out { Verdict::Stop } else { Verdict::Fine }),
    }
}

/// Reads a job or a list of parts, whichever it is, with what is told in place of its own.
fn read(args: &NestArgs) -> Result<Given, Trouble> {
    let (name, text) = text_of(&args.path)?;
    if text.trim_start_matches('\u{feff}').trim_start().starts_with('{') {
        let job = job::load(text.as_bytes()).map_err(|error| Trouble::new(format!("{name}: {error}"), error.fix()))?;
        let units = if args.mm { UnitsName::Millimetre } else { job.units };
        let job = args.stock.put_into(job, units)?;
        let evaluation = job::evaluate(&job);
        return Ok(Given::Job(Box::new((job, evaluation))));
    }
    let units = if args.mm {
        UnitsName::Millimetre
    } else {
        UnitsName::Inch
    };
    let sheet = read_parts(&text, units.units());
    for fault in &sheet.faults {
        output::message(&format!("{name}, {fault}\n  fix: {}", fault.mend));
    }
    if !sheet.faults.is_empty() {
        let problem = format!(
            "{name}: {} faults, {} lines could be read",
            sheet.faults.len(),
            sheet.parts.len()
        );
        return Err(Trouble::new(problem, "mend the lines told above; nothing was laid out"));
    }
    if sheet.parts.is_empty() {
        return Err(Trouble::new(
            format!("{name}: no parts in it"),
            "write one line for each part: mark, number off, length, width, stock",
        ));
    }
    // A job without boxes takes what is told, so that both are read and refused in the same words.
    let told = args.stock.put_into(Job::empty(units), units)?;
    Ok(Given::Parts(parts_question(&sheet, &told)))
}

fn text_of(path: &Path) -> Result<(String, String), Trouble> {
    let (name, bytes) = if is_standard_input(path) {
        ("standard input".to_owned(), some(io::stdin().lock()))
    } else {
        (path.display().to_string(), fs::File::open(path).and_then(some))
    };
    let bytes = bytes.map_err(|reason| {
        Trouble::new(
            format!("{name}: could not read: {reason}"),
            "check the name; it is a job file, or a list of parts saved as text (CSV)",
        )
    })?;
    let text = String::from_utf8(bytes).map_err(|error| {
        Trouble::new(
            format!(
                "{name}: byte {} is not text (UTF-8)",
                error.utf8_error().valid_up_to() + 1
            ),
            "save the list as CSV text, UTF-8",
        )
    })?;
    Ok((name, text))
}

fn some(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(MOST_BYTES).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Lays out, with a line of the terminal that tells how far it is.
fn watched(question: Question, work: u64) -> Nesting {
    let terminal = io::stderr().is_terminal();
    let mut shown = None;
    let nesting = nesting::nest(question, work, &mut |progress: Progress| {
        let percent = progress.done.saturating_mul(100) / progress.work.max(1);
        if terminal && shown != Some((percent, progress.so_far)) {
            shown = Some((percent, progress.so_far));
            write_over(&format!(
                "stock {} of {}: {} so far, at least {} ({percent} %)",
                progress.group, progress.of, progress.so_far, progress.at_least
            ));
        }
        true
    });
    if shown.is_some() {
        write_over("");
    }
    nesting
}

/// Writes over the line: back to its start, the text, and nothing behind it.
fn write_over(line: &str) {
    let mut terminal = io::stderr().lock();
    let _ = write!(terminal, "\r{line}\u{1b}[K").and_then(|()| terminal.flush());
}
