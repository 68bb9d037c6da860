//! `packwright fit`: the automatic layout.

mod candidates;
mod find;
mod progress;
mod rows;
mod show;
mod spread;
mod table;
mod what_if;

use clap::Args;
use job::layout::Figures;
use job::store::Lock;
use job::{Evaluation, Job};
use serde_json::json;

use crate::input::JobFile;
use crate::number::Asked;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Lay the modules out by themselves
///
/// Whole strings that fit the drive, in all cavities, with the most room to spare; or a wanted number, one cavity
/// filled, one box laid out anew. Says how many modules go in, of how many at most, and shows the boxes. Pinned modules
/// stay where they are. Nothing is saved without --write. Ends with 1 when nothing goes in, or when the job so laid out
/// has a stop.
#[derive(Debug, Args)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is an option of its own on the command line"
)]
pub(crate) struct FitArgs {
    #[command(flatten)]
    job: JobFile,
    /// This number instead of what fits the drive: 96s2p, 12s for as many strings of 12 as go in, or several acceptable
    /// ones with commas, most liked first; --write sets it as the one wanted
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true, conflicts_with_all = ["fill", "box_name"])]
    wanted: Option<String>,
    /// Fill this cavity with as many modules as go in, whatever the strings; boxes elsewhere stay
    #[arg(long, value_name = "CAVITY-NAME", conflicts_with = "box_name")]
    fill: Option<String>,
    /// Lay this box out anew with as many modules of its kind as go in; all other boxes stay
    #[arg(long = "box", value_name = "BOX-NAME")]
    box_name: Option<String>,
    /// Show all layouts that were found side by side
    #[arg(long)]
    candidates: bool,
    /// Which of them is shown and saved, counted from 1
    #[arg(long, value_name = "N", default_value = "1", allow_negative_numbers = true)]
    take: String,
    /// Also say what one more module (or whole string) would take, what each keep-out costs, and how wrong each reading
    /// may be
    #[arg(long)]
    what_if: bool,
    /// Lay nothing out: move the boxes that there are apart, so that the smallest clearance is as large as it can be;
    /// with --fill those of one cavity, with --box the modules of one box
    #[arg(long, conflicts_with_all = ["wanted", "candidates", "take", "what_if", "budget"])]
    spread: bool,
    /// Steps of search for each layout that is tried; the same number always gives the same answer
    #[arg(long, value_name = "STEPS", allow_negative_numbers = true)]
    budget: Option<String>,
    /// Take the layout over into the job file; the job before is kept with .bak behind its name
    #[arg(long)]
    write: bool,
    /// Print everything as JSON, placements included, lengths in mm
    #[arg(long)]
    json: bool,
}

/// Steps that may be searched.
const BUDGET: Asked = Asked {
    option: "--budget",
    what: "steps",
    example: "2000000",
    allowed: 1..=1_000_000_000,
};

impl FitArgs {
    /// The steps of search that were asked for.
    fn steps(&self) -> Result<Option<u64>, Trouble> {
        let budget = self.budget.as_deref();
        budget.map(|text| BUDGET.read(text)).transpose()
    }
}

/// A job as it is with what was worked out, to be shown and saved.
struct Worked {
    /// The job with it taken over.
    job: Job,
    /// What was done, in words.
    words: String,
    /// Its figures.
    evaluation: Evaluation,
    /// Whether there is anything to save.
    any: bool,
    /// What is printed.
    text: String,
    /// The same as data.
    json: serde_json::Value,
}

pub(crate) fn run(args: &FitArgs) -> Result<Verdict, Trouble> {
    if args.write && args.job.is_standard_input() {
        return Err(Trouble::new(
            "standard input cannot be written to",
            "give the name of the job file, or leave out --write",
        ));
    }
    // Taken before reading, so that nobody else's work is written over.
    let _lock = if args.write {
        Some(Lock::take(args.job.path())?)
    } else {
        None
    };
    let job = args.job.read()?;
    let mut result = if args.spread {
        spread::run(&job, args)?
    } else {
        lay_out(&job, args)?
    };
    let written = args.write && result.any;
    if written {
        crate::store::save(&result.job, args.job.path())?;
    }
    if args.json {
        result.json["written"] = written.into();
        output::json(&result.json)?;
    } else {
        output::data(&result.text)?;
    }
    if written {
        let path = args.job.path().display();
        output::message(&format!(
            "{}: saved in {path}\nways in not looked at: packwright way-in {path}",
            result.words
        ));
    } else if args.write {
        output::message("nothing goes in, so the job file is left as it was");
    }
    Ok(if result.any {
        Verdict::of(&result.evaluation)
    } else {
        Verdict::Stop
    })
}

fn lay_out(job: &Job, args: &FitArgs) -> Result<Worked, Trouble> {
    let found = find::find(job, args)?;
    let mut text = show::text(&found.words(), &found.chosen().evaluation);
    let mut data = show::json(&found);
    if args.candidates {
        text.push_str(&candidates::text(&found));
        data["candidates"] = candidates::json(&found);
    }
    if args.what_if {
        let asked = what_if::ask(job, &found, args)?;
        text.push_str(&asked.text(&found.before, &found.chosen().evaluation));
        let [what_if, gains, tolerances] = asked.json(&found.before);
        data["what_if"] = what_if;
        data["keep_outs"] = gains;
        data["readings"] = tolerances;
    }
    let figures: &Figures = &found.chosen().figures;
    data["stops"] = json!(figures.stops);
    Ok(Worked {
        any: found.count() > 0,
        job: found.job.clone(),
        words: found.chosen().edit.words(&found.job),
        evaluation: found.chosen().evaluation.clone(),
        text,
        json: data,
    })
}
