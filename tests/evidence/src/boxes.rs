//! Checks of how boxes are mounted, held together, lined, filled, lifted and wired.
//!
//! Some are put to a function of a crate, some to a whole job, which the case holds as a job file would.

mod bolt_groups;
mod bolt_sizes;
mod floor_rails;
mod glands;
mod jobs;
mod joints;
mod lifting;
mod liners;
mod load_sets;
mod rivets;
mod seams;
mod shopping;
mod states;
mod tool_room;

use enclosure::material::Material;
use enclosure::{BoxSpec, Construction, Corners, Lid, Sheet};
use serde_json::Value;
use tape::Length;

use crate::compare::integers_exact;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};
use crate::read::{Section, entries, numbered};

/// Works out what is expected of a case from its inputs.
type Work = fn(Inputs<'_>) -> Clear<Value>;

/// The cases of one section.
pub(crate) fn section<'a>(section: &str, value: &'a Value) -> Section<'a> {
    let work: Work = match section {
        "bolt_groups" => bolt_groups::worked,
        "bolt_sizes" => bolt_sizes::worked,
        "electrical_shopping" => shopping::worked,
        "floor_rails" => floor_rails::worked,
        "glands" => glands::worked,
        "joints" => joints::worked,
        "lifting" => lifting::worked,
        "liners" => liners::worked,
        "load_sets" => load_sets::worked,
        "rivets" => rivets::worked,
        "seams" => seams::worked,
        "states" => states::worked,
        "tool_room" => tool_room::worked,
        _ => return Ok(None),
    };
    let case = |(index, entry)| case(section, index, entry, work);
    Ok(Some(entries(section, value)?.iter().enumerate().map(case).collect()))
}

fn case<'a>(section: &str, index: usize, entry: &'a Value, work: Work) -> Question<'a> {
    Question::of(section, entry, &numbered(section, index))
        .of_kind(section)
        .worked_out(move || {
            let got = work(Inputs(&entry["inputs"]))?;
            Ok(Outcome::compared(
                &entry["expected"],
                got,
                &integers_exact(&entry["tolerance"]),
            ))
        })
}

/// A length of the inputs, in inches or in millimetres by the last letters of its key.
fn length(inputs: Inputs<'_>, key: &str) -> Clear<Length> {
    let unit = if key.ends_with("_in") { 25.4 } else { 1.0 };
    Ok(Length::from_mm(inputs.float(key)? * unit))
}

/// Lengths of the inputs, in inches or in millimetres by the last letters of the key.
fn lengths<const N: usize>(inputs: Inputs<'_>, key: &str) -> Clear<[Length; N]> {
    let unit = if key.ends_with("_in") { 25.4 } else { 1.0 };
    Ok(floats(inputs, key)?.map(|number| Length::from_mm(number * unit)))
}

/// So many numbers.
fn floats<const N: usize>(inputs: Inputs<'_>, key: &str) -> Clear<[f64; N]> {
    let numbers: Option<Vec<f64>> = inputs.list(key)?.iter().map(Value::as_f64).collect();
    numbers
        .and_then(|numbers| numbers.try_into().ok())
        .ok_or_else(|| Unclear(format!("{key} should be {N} numbers")))
}

/// A welded box of mild steel without a lid, of this size inside.
fn open_box(inside: [Length; 3], thickness: Length) -> BoxSpec {
    let sheet = Sheet {
        material: Material::MildSteel,
        thickness,
    };
    BoxSpec {
        inside,
        wall: sheet,
        floor: sheet,
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::None,
        frame: None,
        step: None,
    }
}
