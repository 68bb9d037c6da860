//! What of the electrics is on the shopping list of a job.

use job::shopping::{Item, to_buy};
use serde_json::{Map, Value, json};

use super::jobs;
use crate::inputs::{Clear, Inputs, Unclear};

/// The lines that a case asks for, by how they begin: how much is needed and how much is bought, and whether their notes
/// say what the case has under `says`.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let (job, evaluation) = jobs::evaluated(inputs)?;
    let items = to_buy(&job, &evaluation).items;
    let lines = inputs.list("lines")?.iter().map(|start| {
        let start = start
            .as_str()
            .ok_or_else(|| Unclear("lines should be texts".to_owned()))?;
        let says = inputs.0["says"][start].as_str().unwrap_or_default();
        Ok((start.to_owned(), told(&items, start, says)))
    });
    Ok(Value::Object(lines.collect::<Clear<Map<String, Value>>>()?))
}

/// All lines that begin so, together; null when there is none.
fn told(items: &[Item], start: &str, says: &str) -> Value {
    let found: Vec<&Item> = items.iter().filter(|item| item.what.starts_with(start)).collect();
    if found.is_empty() {
        return Value::Null;
    }
    let sum = |of: fn(&Item) -> f64| found.iter().map(|item| of(item)).sum::<f64>();
    json!({
        "needed": sum(|item| item.needed),
        "buy": sum(|item| item.buy),
        "says": found.iter().all(|item| item.note.contains(says)),
    })
}
