//! Whole jobs, as a job file holds them.

use enclosure::strength::crash::Direction;
use job::{BoxResult, BoxStrength, Evaluation, Job, StrengthCheck, Sum, evaluate, load};
use serde_json::{Value, json};

use crate::inputs::{Clear, Inputs, Unclear};

/// The job of a case, and what follows from it.
pub(super) fn evaluated(inputs: Inputs<'_>) -> Clear<(Job, Evaluation)> {
    let text = inputs.0["job"].to_string();
    let job = load(text.as_bytes()).map_err(|refusal| Unclear(format!("the job is refused: {refusal}")))?;
    let evaluation = evaluate(&job);
    Ok((job, evaluation))
}

/// Its first box.
pub(super) fn first_box(evaluation: &Evaluation) -> Clear<&BoxResult> {
    let first = evaluation.boxes.first();
    first.ok_or_else(|| Unclear("the job should have a box".to_owned()))
}

/// The sums of its first box.
pub(super) fn strength(evaluation: &Evaluation) -> Clear<&BoxStrength> {
    let strength = first_box(evaluation)?.strength.as_ref();
    strength.ok_or_else(|| Unclear("the box cannot be built".to_owned()))
}

/// The sums that a case may ask for, by their names in the case: load, limit and share of each that is made.
pub(super) fn sums(strength: &BoxStrength) -> Value {
    let told = NAMES.iter().filter_map(|&(name, sum)| {
        let StrengthCheck { of, factor, .. } = strength.check(sum)?;
        let figures = json!({ "load": of.load, "limit": of.limit, "share": of.share, "g": factor.map(|f| f.g) });
        Some((name.to_owned(), figures))
    });
    Value::Object(told.collect())
}

const NAMES: [(&str, Sum); 14] = [
    ("floor_stress", Sum::FloorStress),
    ("floor_gives", Sum::FloorGives),
    ("floor_pressed", Sum::FloorPressed),
    ("floor_rail", Sum::FloorRail),
    ("bolts_front", Sum::Bolts(Direction::Front)),
    ("bolts_rear", Sum::Bolts(Direction::Rear)),
    ("bolts_side", Sum::Bolts(Direction::Side)),
    ("bolts_up", Sum::Bolts(Direction::Up)),
    ("rivets_front", Sum::Rivets(Direction::Front)),
    ("rivets_side", Sum::Rivets(Direction::Side)),
    ("rivets_down", Sum::Rivets(Direction::Down)),
    ("bond_front", Sum::Bond(Direction::Front)),
    ("bond_down", Sum::Bond(Direction::Down)),
    ("eye", Sum::Eye),
];
