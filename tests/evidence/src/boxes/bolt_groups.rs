//! Bolts that hold a stiff body which is pulled at beside their middle.

use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::group::{Three, shares_n};
use enclosure::strength::bolt::mount::{Mount, Pull};
use serde_json::{Value, json};

use super::{floats, jobs};
use crate::inputs::{Clear, Inputs, Unclear};

/// The forces of a group, one bolt pulled two ways at once, or the sums of a job, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        let (_, evaluation) = jobs::evaluated(inputs)?;
        Ok(jobs::sums(jobs::strength(&evaluation)?))
    } else if inputs.has("bolts_mm") {
        group(inputs)
    } else {
        one_bolt(inputs)
    }
}

fn group(inputs: Inputs<'_>) -> Clear<Value> {
    let places = inputs.list("bolts_mm")?.iter();
    let bolts: Clear<Vec<Three>> = places
        .map(|place| floats(Inputs(&json!({ "bolt": place })), "bolt"))
        .collect();
    let [at, force] = ["at_mm", "force_N"].map(|key| floats(inputs, key));
    let Some(shares) = shares_n(&bolts?, at?, force?) else {
        return Ok(json!({ "held": false }));
    };
    let size = |share: &Three| share.iter().map(|part| part * part).sum::<f64>().sqrt();
    let sizes: Vec<f64> = shares.iter().map(size).collect();
    Ok(json!({
        "held": true,
        "shares_N": shares,
        "sizes_N": sizes,
        "most_N": sizes.iter().copied().fold(0.0, f64::max),
    }))
}

/// Of a table's stress area, by the strength of its class.
fn one_bolt(inputs: Inputs<'_>) -> Clear<Value> {
    let class = inputs.text("class")?;
    let grade = Grade::ALL.into_iter().find(|grade| grade.name() == class);
    let mount = Mount {
        bolts: 1,
        grade: grade.ok_or_else(|| Unclear(format!("no class {class}")))?,
        area_mm2: inputs.float("stress_area_mm2")?,
    };
    let [shear, tension] = [Pull::Shear, Pull::Tension].map(|pull| pull.resistance_n(mount.grade, mount.area_mm2));
    let pulled = [inputs.float("across_N")?, inputs.float("along_N")?];
    Ok(json!({
        "shear_resistance_N": shear,
        "tension_resistance_N": tension,
        "share": mount.combined("", pulled, "").share,
    }))
}
