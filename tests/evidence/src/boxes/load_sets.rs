//! Load factors as sets: those on offer, the harshest, the person's own, and what a box is summed with.

use enclosure::strength::crash::{Choice, Direction, LoadSet, SETS, own_figures};
use enclosure::strength::force_n;
use serde_json::{Map, Value, json};

use super::{floats, jobs};
use crate::inputs::{Clear, Inputs, Unclear};

/// A set, the force of one, or the sums of a job, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        let (_, evaluation) = jobs::evaluated(inputs)?;
        return Ok(jobs::sums(jobs::strength(&evaluation)?));
    }
    if inputs.has("own_g") {
        return Ok(match own_figures(floats(inputs, "own_g")?) {
            Ok(set) => factors(&set),
            Err(refusal) => json!({ "refused": refusal.direction.name() }),
        });
    }
    if inputs.has("mass_kg") {
        let (mass, g) = (inputs.float("mass_kg")?, inputs.float("g")?);
        return Ok(json!({ "force_N": force_n(mass, g) }));
    }
    let name = inputs.text("set")?;
    if name == "harshest" {
        return Ok(factors(&Choice::Harshest.set()));
    }
    let set = SETS.iter().find(|set| set.name.contains(name));
    let set = set.ok_or_else(|| Unclear(format!("no set {name}")))?;
    Ok(factors(&Choice::One(*set).set()))
}

/// By direction; null where the set says nothing.
fn factors(set: &LoadSet) -> Value {
    let by = Direction::ALL.map(|direction| {
        let g = set.factor(direction).map(|factor| factor.g);
        (direction.name().to_owned(), json!(g))
    });
    Value::Object(Map::from_iter(by))
}
