//! `packwright way-in`: whether each box goes in, which way and in which order; what comes off before a module comes out.

use std::io::{self, IsTerminal, Write};
use std::path::Path;

use clap::Args;
use job::Evaluation;
use job::way_in::{Service, WORK, WaysIn, answer, bed_words, question, unit_named};
use serde_json::json;

use crate::input::JobFile;
use crate::number::{self, MILLION};
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// Tell whether each box goes in, which way, in which order, and what stops it
///
/// Straight ways are tried first, then off its place and slid over, then pitched in a plane; past walls, keep-outs, the bed
/// and the boxes that are in already. Which faces of a cavity are open is entered with the cavity.
#[derive(Debug, Args)]
pub(crate) struct WayInArgs {
    #[command(flatten)]
    job: JobFile,
    /// Tell of this box alone
    #[arg(long = "box", value_name = "NAME")]
    battery_box: Option<String>,
    /// Tell what comes off before this module comes out: M17 (or 17), a stack as S17, or the name of a tested unit
    #[arg(long, value_name = "N")]
    take_out: Option<String>,
    /// Steps of work for each box, in millions
    #[arg(long, value_name = "MILLIONS", default_value_t = (WORK / MILLION).to_string(), allow_negative_numbers = true)]
    work: String,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &WayInArgs) -> Result<Verdict, Trouble> {
    let work = number::work(&args.work)?;
    let job = args.job.read()?;
    let evaluation = job::evaluate(&job);
    let asked = question(&job, &evaluation);
    let only = args
        .battery_box
        .as_deref()
        .map(|name| box_named(&evaluation, name))
        .transpose()?;
    let ways = watched(|watch| answer(asked, work, watch));
    let service = args
        .take_out
        .as_deref()
        .map(|given| taken_out(&ways, &evaluation, given))
        .transpose()?;
    if args.json {
        output::json(&data(&ways, &evaluation, service.as_ref(), only))?;
    } else {
        output::data(&text(&ways, &evaluation, service.as_ref(), only))?;
    }
    Ok(verdict(&ways, &evaluation, service.as_ref(), only, args.job.path()))
}

/// The end is about what was asked: of one module, of one box, or of the whole job with its other stops.
fn verdict(
    ways: &WaysIn,
    evaluation: &Evaluation,
    service: Option<&Service>,
    only: Option<&str>,
    path: &Path,
) -> Verdict {
    let is_whole = service.is_none() && only.is_none();
    let is_asked = |name: &str| only.map_or(is_whole, |only| only == name);
    let stays = |b: &&job::way_in::BoxWay| is_asked(&b.name) && b.outcome.way().is_none();
    let stuck = ways.stuck.iter().flat_map(|stuck| &stuck.names);
    let mut names = ways.question.left_out.iter().map(|(name, _)| name).chain(stuck);
    let stop = ways.boxes.iter().any(|b| stays(&b))
        || names.any(|name| is_asked(name))
        || ways.not_loadable().iter().any(|(b, _)| is_asked(&b.name))
        || service.is_some_and(|service| !service.troubles().is_empty());
    if is_whole {
        output::tell_stops(evaluation, path);
    }
    match (stop, is_whole) {
        (true, _) => Verdict::Stop,
        (false, true) => Verdict::of(evaluation),
        (false, false) => Verdict::Fine,
    }
}

/// The box of this name.
fn box_named<'a>(evaluation: &'a Evaluation, given: &str) -> Result<&'a str, Trouble> {
    let found = evaluation.boxes.iter().find(|b| b.name == given);
    found.map(|b| b.name.as_str()).ok_or_else(|| {
        let names: Vec<String> = evaluation.boxes.iter().map(|b| format!("{:?}", b.name)).collect();
        if names.is_empty() {
            return Trouble::new(
                format!("--box: {given:?} is no box of this job; it has none"),
                "lay the modules out first: packwright fit FILE --write",
            );
        }
        Trouble::new(
            format!("--box: {given:?} is no box of this job; there are {}", names.join(", ")),
            "write the name of one of these, in quotes",
        )
    })
}

fn taken_out(ways: &WaysIn, evaluation: &Evaluation, given: &str) -> Result<Service, Trouble> {
    let refuse = |what: String, mend: String| Trouble::new(format!("--take-out: {what}"), mend);
    let module = unit_named(ways, given).map_err(|e| refuse(e.to_string(), e.mend()))?;
    ways.take_out(evaluation, module).ok_or_else(|| {
        refuse(
            format!("{given:?} is in no box that can be looked at"),
            "name one of a box that stands in a cavity".to_owned(),
        )
    })
}

fn text(ways: &WaysIn, evaluation: &Evaluation, service: Option<&Service>, only: Option<&str>) -> String {
    let mut text = String::new();
    if let Some(service) = service {
        text.push_str(&service.text());
        text.push('\n');
    }
    if service.is_none() || only.is_some() {
        text.push_str(&ways.text_of(only));
        if let Some(swept) = &evaluation.bed_sweep {
            for piece in ["\n", &bed_words(swept, ways.question.style, only), "\n"] {
                text.push_str(piece);
            }
        }
    }
    text
}

fn data(ways: &WaysIn, evaluation: &Evaluation, service: Option<&Service>, only: Option<&str>) -> serde_json::Value {
    let mut ways = papers::ways_json(ways);
    if let (Some(only), Some(boxes)) = (only, ways["boxes"].as_array_mut()) {
        boxes.retain(|b| b["box"] == only);
    }
    if let (Some(only), Some(left_out)) = (only, ways["left_out"].as_array_mut()) {
        left_out.retain(|b| b["box"] == only);
    }
    let mut bed = evaluation.bed_sweep.as_ref().map(papers::bed_json);
    if let (Some(only), Some(bed)) = (only, &mut bed) {
        if let Some(nearest) = bed["nearest"].as_array_mut() {
            nearest.retain(|near| near["box"] == only);
        }
        if let Some(not_placed) = bed["not_placed"].as_array_mut() {
            not_placed.retain(|name| name == only);
        }
    }
    json!({
        "ways_in": ways,
        "bed_sweep": bed,
        "take_out": service.map(papers::service_json),
    })
}

/// Works, with a line of the terminal that tells how far it is.
fn watched(work: impl FnOnce(&mut dyn FnMut(u64) -> bool) -> WaysIn) -> WaysIn {
    let terminal = io::stderr().is_terminal();
    let mut shown = None;
    let found = work(&mut |done| {
        let millions = done / MILLION;
        if terminal && shown != Some(millions) {
            shown = Some(millions);
            write_over(&format!("looking for ways in: {millions} million steps"));
        }
        true
    });
    if shown.is_some() {
        write_over("");
    }
    found
}

/// Writes over the line: back to its start, the text, and nothing behind it.
fn write_over(line: &str) {
    let mut terminal = io::stderr().lock();
    let _ = write!(terminal, "\r{line}\u{1b}[K").and_then(|()| terminal.flush());
}
