//! What was entered, as a sentence.

use crate::{Field, Job};

/// `set wall to 4 mm`, `set "to, height" of exhaust to 12 3/4`, `clear "laid on"`.
pub(super) fn of_set(field: Field, text: &str, job: &Job) -> String {
    let text = text.trim();
    if text.is_empty() {
        return format!("clear {}", named(field, job));
    }
    if is_name(field) {
        return format!("name a {} {text}", field.label());
    }
    // Some choices are told with a word for where: `to the web`.
    format!(
        "set {} to {}",
        named(field, job),
        text.strip_prefix("to ").unwrap_or(text)
    )
}

/// What a field is called within a sentence: a label that is more than a name stands in quotes, as its row has it, and
/// behind it the thing that it is of.
pub(super) fn named(field: Field, job: &Job) -> String {
    let label = field.label();
    let label = if is_noun(label) {
        label.to_owned()
    } else {
        format!("\"{label}\"")
    };
    match subject(field, job) {
        Some(name) => format!("{label} of {name}"),
        None => label,
    }
}

/// Whether a label goes into a sentence as it is. Others are the beginnings of sentences, or have a comma.
fn is_noun(label: &str) -> bool {
    const BEGINS: [&str; 34] = [
        "angle that",
        "as",
        "bay on",
        "built",
        "clamp holds",
        "comes",
        "decided",
        "drawn",
        "from",
        "hanging",
        "in",
        "its",
        "laid",
        "links",
        "may",
        "measured",
        "modules stand",
        "more",
        "moves",
        "panels held",
        "parts lie",
        "reaches",
        "set",
        "sheets cut by",
        "shop",
        "stands",
        "step at",
        "step rises",
        "step runs",
        "taken",
        "terminals on",
        "to",
        "welded",
        "within",
    ];
    let begins = |word: &str| label == word || label.strip_prefix(word).is_some_and(|rest| rest.starts_with(' '));
    !label.contains(',') && !BEGINS.into_iter().any(begins)
}

const fn is_name(field: Field) -> bool {
    matches!(
        field,
        Field::CavityName(_) | Field::KeepOutName(_) | Field::KindName(_) | Field::BoxName(_)
    )
}

/// The keep-out, box, fitting, module, reading or cavity that a value is of, by its name.
fn subject(field: Field, job: &Job) -> Option<String> {
    if let Some(id) = field.fitting() {
        return Some(format!("a {}", job.fitting(id)?.what.name()));
    }
    match field {
        Field::KeepOutSource(id)
        | Field::KeepOutShape(id)
        | Field::KeepOutDiameter(id)
        | Field::KeepOutMeasured(id)
        | Field::KeepOutDistance(id, _)
        | Field::KeepOutTravel(id, _)
        | Field::KeepOutFrom(id, _)
        | Field::KeepOutTo(id, _)
        | Field::KeepOutMargin(id)
        | Field::KeepOutTaken(id)
        | Field::KeepOutNote(id) => Some(job.keep_out(id)?.name.clone()),
        Field::BoxAt(id, _)
        | Field::BoxBay(id)
        | Field::BoxSize(id)
        | Field::BoxFixed(id, _)
        | Field::BoxStep(id)
        | Field::BoxStepRun(id)
        | Field::BoxStepRise(id)
        | Field::BoxBuilt(id, _)
        | Field::BoxBracketLeg(id)
        | Field::BoxPlaces(id, _) => Some(job.battery_box(id)?.name.clone()),
        Field::LaidOn(id) => Some(job.cavity(id)?.name.clone()),
        Field::ReadingValue(id, at)
        | Field::ReadingTaken(id, at)
        | Field::ReadingDecided(id, at)
        | Field::ReadingNote(id, at) => Some(job.cavity(id)?.readings.get(at)?.line.to_string()),
        Field::PlacedAt(id, _) | Field::PlacedCount(id) => Some(job.placed(id)?.1.label()),
        _ => None,
    }
}
