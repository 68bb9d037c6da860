//! Rails under a floor: their section, the spans that they make, and what floor and rail bear and give.

use enclosure::added::Bar;
use enclosure::strength::beam::Strip;
use serde_json::{Value, json};

use super::jobs;
use crate::inputs::{Clear, Inputs};

/// A section, a bar on two supports, or the floor of a job, by what is given.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    if inputs.has("job") {
        return of_job(inputs);
    }
    if inputs.has("leg_mm") {
        let bar = Bar::Angle {
            leg: inputs.mm("leg_mm")?,
        };
        return Ok(json!({ "section_modulus_mm3": bar.section_modulus_mm3(inputs.mm("t_mm")?) }));
    }
    let strip = Strip {
        span: inputs.mm("span_mm")?,
        width: inputs.mm("width_mm")?,
        thickness: inputs.mm("t_mm")?,
    };
    let bent = strip.under(inputs.float("N_per_mm")?, inputs.float("E_MPa")?);
    Ok(json!({ "stress_MPa": bent.stress_mpa, "deflection_mm": bent.deflection_mm }))
}

fn of_job(inputs: Inputs<'_>) -> Clear<Value> {
    let (_, evaluation) = jobs::evaluated(inputs)?;
    let mut got = jobs::sums(jobs::strength(&evaluation)?);
    if let Some(rails) = &jobs::first_box(&evaluation)?.added.floor_rails {
        got["rails"] = json!({
            "count": rails.count,
            "span_mm": rails.span.as_mm(),
            "bears_mm": rails.bears.as_mm(),
            "length_mm": rails.length.as_mm(),
        });
    }
    Ok(got)
}
