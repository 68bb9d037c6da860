//! The sheets of a liner, with what is cut out of them.

use enclosure::added::Lining;
use enclosure::liner::Liner;
use enclosure::material::Material;
use enclosure::{BoxSpec, Part, Purpose, Sheet, Step, Wall, WallHole};
use serde_json::{Value, json};

use super::{length, lengths, open_box};
use crate::inputs::{Clear, Inputs, Unclear};

/// Lines a box: each sort of sheet with its size, number, holes and mass, the space that all take, and what is cut in
/// place.
pub(super) fn worked(inputs: Inputs<'_>) -> Clear<Value> {
    let inches = inputs.has("inside_in");
    let [inside, thickness] = if inches {
        ["inside_in", "liner_in"]
    } else {
        ["inside_mm", "liner_mm"]
    };
    let unit = if inches { 25.4 } else { 1.0 };
    let spec = BoxSpec {
        step: step(inputs)?,
        ..open_box(lengths(inputs, inside)?, inputs.mm("t_mm")?)
    };
    let name = inputs.text("material")?;
    let sort = Liner::ALL.into_iter().find(|sort| sort.name() == name);
    let lining = Lining {
        sheet: Sheet {
            material: Material::Liner(sort.ok_or_else(|| Unclear(format!("no liner {name}")))?),
            thickness: length(inputs, thickness)?,
        },
        holes: holes(inputs)?,
        across: 0,
        dividers: Vec::new(),
    };
    let lined = lining
        .group(&spec)
        .map_err(|refusal| Unclear(format!("the liner is refused: {refusal}")))?;
    let parts = &lined.group.parts;
    let volume: f64 = parts
        .iter()
        .map(|part| (part.area * part.sheet.thickness).as_mm3() * f64::from(part.quantity))
        .sum();
    let grams: f64 = parts.iter().map(|part| part.grams() * f64::from(part.quantity)).sum();
    Ok(json!({
        "sheets": parts.iter().map(|part| told(part, unit)).collect::<Vec<_>>(),
        "volume_mm3": volume,
        "mass_kg": grams / 1e3,
        "cut_in_place": lined.in_place.len(),
    }))
}

fn told(part: &Part, unit: f64) -> Value {
    let holes = part
        .holes
        .iter()
        .map(|hole| [hole.x, hole.y, hole.diameter].map(|l| l.as_mm() / unit));
    json!({
        "part": part.role.name(),
        "length": part.length.as_mm() / unit,
        "width": part.width.as_mm() / unit,
        "qty": part.quantity,
        "holes": holes.collect::<Vec<_>>(),
    })
}

fn step(inputs: Inputs<'_>) -> Clear<Option<Step>> {
    let told = inputs.part("step");
    let made = || {
        Ok(Step {
            at: wall(told.text("at")?)?,
            run: told.mm("run_mm")?,
            rise: told.mm("rise_mm")?,
        })
    };
    inputs.has("step").then(made).transpose()
}

fn holes(inputs: Inputs<'_>) -> Clear<Vec<WallHole>> {
    if !inputs.has("holes") {
        return Ok(Vec::new());
    }
    let hole = |told: Inputs<'_>| {
        Ok(WallHole {
            wall: wall(told.text("wall")?)?,
            along: told.mm("along_mm")?,
            up: told.mm("up_mm")?,
            diameter: told.mm("diameter_mm")?,
            purpose: Purpose::CableGland,
        })
    };
    inputs.list("holes")?.iter().map(|told| hole(Inputs(told))).collect()
}

fn wall(name: &str) -> Clear<Wall> {
    let found = Wall::ALL.into_iter().find(|wall| wall.name() == name);
    found.ok_or_else(|| Unclear(format!("no wall {name}")))
}
