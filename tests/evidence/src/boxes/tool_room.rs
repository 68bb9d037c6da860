//! What stands where a spanner, a socket or a hand has to go.

use job::{NoRoom, ToolAt};
use serde_json::{Value, json};

use super::jobs;
use crate::inputs::{Clear, Inputs, Unclear};

/// At how many places of the first box the tool has no room, and of how many; nothing stands in the way of none.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let (_, evaluation) = jobs::evaluated(inputs)?;
    let at = match inputs.text("at")? {
        "gland" => ToolAt::Gland,
        "disconnect" => ToolAt::Disconnect,
        "bolt in a foot" => ToolAt::MountBolt,
        "bolt in a web" => ToolAt::WebBolt,
        other => return Err(Unclear(format!("nothing asks for room at {other}"))),
    };
    let tools = &jobs::first_box(&evaluation)?.tools;
    let told: Vec<&NoRoom> = tools.iter().filter(|tool| tool.at == at).collect();
    Ok(json!({
        "without_room": told.iter().map(|tool| tool.count).sum::<u32>(),
        "by": told.iter().map(|tool| tool.by.as_str()).collect::<Vec<_>>(),
    }))
}
