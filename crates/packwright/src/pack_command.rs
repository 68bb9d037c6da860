//! `packwright pack`: the pack of a job, its wiring order, and its tested units.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use job::store::Lock;
use job::units::{kind_of_sheet, matching, units_of};
use job::wiring::orders;
use job::{Edit, Job, UnitsEdit};
use pack::matching::Goal as MatchGoal;
use pack::wiring::WORK;

use crate::input::JobFile;
use crate::match_units::{self, Sheet};
use crate::output;
use crate::store;
use crate::trouble::{Trouble, Verdict};

/// What the wiring order is worked out for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Order {
    /// The shortest links
    Shortest,
    /// Low volts between neighbours, then short links
    LowVolts,
}

/// Work out the pack: choices, volts under load, conductors, protection, wiring, tested units
///
/// With --units a test sheet is taken over and each unit put where the pack gets strongest; with --order the order of
/// the wiring is worked out. Nothing is saved without --write. Ends with 1 when the job has a stop.
#[derive(Debug, Args)]
pub(crate) struct PackArgs {
    #[command(flatten)]
    job: JobFile,
    /// Work out the order of the wiring
    #[arg(long, value_name = "GOAL")]
    order: Option<Order>,
    /// A test sheet of units to take over and match; - reads standard input
    #[arg(long, value_name = "CSV")]
    units: Option<PathBuf>,
    /// Save the job with the order and the units
    #[arg(long)]
    write: bool,
    /// Print the figures as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &PackArgs) -> Result<Verdict, Trouble> {
    if args.write && args.job.is_standard_input() {
        return Err(Trouble::new(
            "--write: the job came from standard input, there is no file to save it in",
            "give the name of the job file, or leave out --write",
        ));
    }
    let _lock = args.write.then(|| Lock::take(args.job.path())).transpose()?;
    let mut job = args.job.read()?;
    if let Some(path) = &args.units {
        job = with_units(&job, &match_units::read_sheet(path)?)?;
    }
    if let Some(order) = args.order {
        job = with_order(&job, order)?;
    }
    let evaluation = job::evaluate(&job);
    if args.write {
        store::save(&job, args.job.path())?;
    }
    if args.json {
        output::json(&papers::pack_json(&evaluation))?;
    } else {
        output::data(&papers::pack_text(&evaluation))?;
    }
    Ok(Verdict::of(&evaluation))
}

/// The job with a test sheet taken over and matched.
fn with_units(job: &Job, sheet: &Sheet) -> Result<Job, Trouble> {
    let kind = kind_of_sheet(job).ok_or_else(|| Trouble::new("the job has no kind of module", "add one first"))?;
    let take = Edit::Units(UnitsEdit::TakeSheet(units_of(&sheet.rows, kind)));
    let job = edited(job, &take)?;
    let evaluation = job::evaluate(&job);
    let found = matching(&job, &evaluation, kind, MatchGoal::Strongest)
        .map_err(|(problem, mend)| Trouble::new(format!("--units: {problem}"), mend))?;
    edited(&job, &Edit::Units(UnitsEdit::Seats(found.seats)))
}

/// The job with the wiring order worked out.
fn with_order(job: &Job, order: Order) -> Result<Job, Trouble> {
    let evaluation = job::evaluate(job);
    let laid_out = evaluation.laid_out().next().map(|p| p.kind);
    let found = laid_out.and_then(|kind| orders(job, &evaluation, kind, WORK, &mut |_| true));
    let [shortest, low] = found.ok_or_else(|| {
        Trouble::new(
            "--order: the pack is not laid out whole",
            "place all its modules first: packwright fit FILE --write",
        )
    })?;
    let chosen = match order {
        Order::Shortest => shortest,
        Order::LowVolts => low,
    };
    let proof = chosen.at_least.map_or("proved".to_owned(), |least| {
        format!("at least {}", evaluation.down(least))
    });
    output::message(&format!(
        "wiring: links of {} ({proof}), nearest to nearest {}; {} modules in series between neighbours at most",
        evaluation.up(chosen.length),
        evaluation.up(chosen.nearest),
        chosen.neighbour
    ));
    edited(job, &Edit::Wiring(chosen.edit))
}

fn edited(job: &Job, edit: &Edit) -> Result<Job, Trouble> {
    job.with(edit)
        .map_err(|error| Trouble::new(error.to_string(), error.mend()))
}
