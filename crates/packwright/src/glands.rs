//! `packwright glands`: a gland for each cable that leaves a box.

use std::fmt::Write as _;

use clap::Args;
use job::glands::{Proposal, propose};
use job::store::Lock;
use serde_json::{Value, json};

use crate::input::JobFile;
use crate::trouble::{Trouble, Verdict};
use crate::{output, store};

/// Propose a gland for each cable that leaves a box: its size, and where in which wall
///
/// The cables are those of the wiring's order, so the pack has to be laid out whole. With --write they are let in; the job
/// before is kept with .bak behind its name.
#[derive(Debug, Args)]
pub(crate) struct GlandsArgs {
    #[command(flatten)]
    job: JobFile,
    /// Let them in and save the job
    #[arg(long)]
    write: bool,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &GlandsArgs) -> Result<Verdict, Trouble> {
    if args.write && args.job.is_standard_input() {
        return Err(Trouble::new(
            "--write: standard input cannot be written to",
            "give the name of the job file",
        ));
    }
    // Taken before reading, so that nobody else's work is written over.
    let _lock = args.write.then(|| Lock::take(args.job.path())).transpose()?;
    let mut job = args.job.read()?;
    let mut evaluation = job::evaluate(&job);
    let proposals = propose(&job, &evaluation);
    if args.json {
        output::json(&json!({ "boxes": proposals.iter().map(as_json).collect::<Vec<_>>() }))?;
    } else {
        output::data(&text(&proposals, evaluation.units))?;
    }
    if args.write {
        for edit in proposals.iter().filter_map(Proposal::edit) {
            job = job
                .with(&edit)
                .map_err(|refused| Trouble::new(refused.to_string(), refused.mend()))?;
        }
        store::save(&job, args.job.path())?;
        output::message(&format!("saved in {}", args.job.path().display()));
        evaluation = job::evaluate(&job);
    }
    output::tell_stops(&evaluation, args.job.path());
    Ok(Verdict::of(&evaluation))
}

fn text(proposals: &[Proposal], units: tape::Units) -> String {
    if proposals.is_empty() {
        return "no cable leaves a box: the pack has to be laid out whole\n".to_owned();
    }
    let mut out = String::new();
    for proposal in proposals {
        let _ = writeln!(out, "{}:", proposal.name);
        let glands = proposal.glands.iter().map(|gland| gland.words(units));
        let without = proposal
            .without
            .iter()
            .map(|(cable, why)| format!("none for {cable}: {why}"));
        let mut lines: Vec<String> = glands.chain(without).collect();
        if lines.is_empty() {
            lines.push("every cable that leaves it has its gland".to_owned());
        }
        for line in lines {
            let _ = writeln!(out, "  {line}");
        }
    }
    let _ = writeln!(out, "sizes: {}", job::glands::SIZES_SOURCE);
    out
}

fn as_json(proposal: &Proposal) -> Value {
    let length = |length: &Option<job::Len>| length.as_ref().map(|length| length.value().as_mm());
    json!({
        "box": proposal.battery_box.0,
        "name": proposal.name,
        "glands": proposal.glands.iter().map(|gland| json!({
            "size": gland.size,
            "cable": gland.cable,
            "wall": gland.fitting.wall.name(),
            "along_mm": gland.fitting.along.value().as_mm(),
            "up_mm": gland.fitting.up.value().as_mm(),
            "hole_mm": length(&gland.fitting.hole),
            "out_mm": length(&gland.fitting.out),
            "clear_outside": gland.is_clear_outside,
            "keeps_margin": gland.keeps_margin,
        })).collect::<Vec<_>>(),
        "without": proposal.without.iter().map(|(cable, why)| json!({ "cable": cable, "why": why })).collect::<Vec<_>>(),
    })
}
