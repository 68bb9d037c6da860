//! A box lifted empty, half loaded and loaded.

use job::way_in::{State, ways_in};
use serde_json::{Value, json};

use super::jobs;
use crate::inputs::{Clear, Inputs, Unclear};

/// What is lifted of the first box in each state, and by whom.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let (job, evaluation) = jobs::evaluated(inputs)?;
    let ways = ways_in(&job, &evaluation);
    let states = ways.states.first();
    let states = states.ok_or_else(|| Unclear("the job should have a box".to_owned()))?;
    Ok(json!({ "states": states.iter().map(told).collect::<Vec<_>>() }))
}

fn told(state: &State) -> Value {
    #[expect(clippy::cast_precision_loss, reason = "grams of a box")]
    let kg = state.mass_g.map(|grams| grams as f64 / 1e3);
    json!({
        "filled": state.filled.words(),
        "modules": state.within.len(),
        "mass_kg": kg,
        "hands": state.hands().map(truck::lift::Hands::words),
        "goes": state.goes,
    })
}
