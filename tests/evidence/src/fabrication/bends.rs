//! Bends, and the flat sheets of folded pieces.

use enclosure::bend::{din_correction_mm, din_k};
use enclosure::material::Material;
use enclosure::{
    Bend, BendRule, BoxSpec, Construction, Corners, Flange, Folding, Joint, Lid, Part, Role, Sheet, Temper, build,
};
use serde_json::{Value, json};
use tape::Length;

use super::{Entry, structure};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::Outcome;

const INCH: f64 = 25.4;

/// One bend, by the method that the entry is of.
pub(super) fn bent(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    if inputs.has("bends") {
        handbook_example(entry)
    } else if inputs.has("class") {
        let bend = handbook_bend(inputs, 1.0, inputs.float("R")?, inputs.float("angle")?)?;
        Ok(entry.compared(json!({ "bend_length": bend })))
    } else if inputs.has("K") {
        let bend = Bend {
            turn_deg: inputs.float("angle")?,
            radius: inputs.mm("R")?,
            thickness: inputs.mm("T")?,
            rule: BendRule::K(inputs.float("K")?),
        };
        Ok(entry.compared(json!({
            "BA": bend.allowance().as_mm(),
            "OSSB": bend.set_back().as_mm(),
            "BD": bend.deduction().as_mm(),
        })))
    } else if inputs.has("opening_angle") {
        let [opening, r, s] = ["opening_angle", "r", "s"].map(|key| inputs.float(key));
        let (opening, r, s) = (opening?, r?, s?);
        Ok(entry.compared(json!({ "k": din_k(r / s), "v": din_correction_mm(opening, r, s) })))
    } else if entry.expected.get("half-hard").is_some() {
        Ok(entry.compared(json!({
            "soft": Temper::Soft.as_k(),
            "half-hard": Temper::HalfHard.as_k(),
            "hard": Temper::Hard.as_k(),
        })))
    } else if entry.expected.get("min_flange_rule").is_some() {
        structure::v_die(entry)
    } else {
        Ok(structure::relief_hole(entry))
    }
}

fn temper(name: &str) -> Clear<Temper> {
    match name {
        "soft" => Ok(Temper::Soft),
        "half-hard" => Ok(Temper::HalfHard),
        "hard" => Ok(Temper::Hard),
        other => Err(Unclear(format!("class {other} is none of the handbook's"))),
    }
}

/// The length of a bend, in the unit that is `unit` millimetres, of which the entry's thickness is.
fn handbook_bend(inputs: Inputs<'_>, unit: f64, radius: f64, turn_deg: f64) -> Clear<f64> {
    let thickness = if unit > 1.0 { "T_in" } else { "T" };
    let bend = Bend {
        turn_deg,
        radius: Length::from_mm(radius * unit),
        thickness: Length::from_mm(inputs.float(thickness)? * unit),
        rule: BendRule::Handbook(temper(inputs.text("class")?)?),
    };
    Ok(bend.allowance().as_mm() / unit)
}

fn handbook_example(entry: &Entry<'_>) -> Clear<Outcome> {
    let mut lengths = Vec::new();
    for bend in entry.inputs.list("bends")? {
        let [Some(radius), Some(turn)] = [bend[0].as_f64(), bend[1].as_f64()] else {
            return Err(Unclear("a bend should be a radius and an angle".to_owned()));
        };
        lengths.push(handbook_bend(entry.inputs, INCH, radius, turn)?);
    }
    let [first, second] = lengths[..] else {
        return Err(Unclear("two bends are expected".to_owned()));
    };
    Ok(entry.compared(json!({
        "bend1_in": first,
        "bend2_in": second,
        "total_in": entry.inputs.float("straight_in")? + first + second,
    })))
}

/// The flat sheet of a tray, from the box that is built of it.
pub(super) fn flat(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let unit = if inputs.text("unit")? == "in" { INCH } else { 1.0 };
    let length = |key| Ok(Length::from_mm(inputs.float(key)? * unit));
    let sheet = Sheet {
        material: Material::MildSteel,
        thickness: length("t")?,
    };
    let folding = Folding {
        radius: length("r")?,
        rule: rule(inputs)?,
        gap: length("gap")?,
        relief: Length::ZERO,
    };
    let lip = inputs.has("lip_outward_from_wall_face");
    let flange = lip
        .then(|| {
            Ok(Flange {
                width: length("lip_outward_from_wall_face")?,
                thickness: sheet.thickness,
                joint: Joint::Mitred,
            })
        })
        .transpose()?;
    let spec = BoxSpec {
        inside: [
            length("inside_length")?,
            length("inside_width")?,
            length("inside_depth")?,
        ],
        wall: sheet,
        floor: sheet,
        construction: Construction::Folded(folding),
        corners: Corners::LongSidesRun,
        lid: flange.map_or(Lid::None, |flange| Lid::Flat {
            sheet,
            flange: Some(flange),
            gasket: None,
            fastener: None,
            edge: None,
        }),
        frame: None,
        step: None,
    };
    let built = build(&spec).map_err(|refusal| Unclear(format!("the tray is refused: {refusal}")))?;
    let tray = built
        .parts
        .iter()
        .find(|part| part.role == Role::Tray)
        .ok_or_else(|| Unclear("a folded box has no tray".to_owned()))?;
    let bend = Bend::square(folding.radius, sheet.thickness, folding.rule);
    Ok(entry.compared(told(inputs, tray, bend, unit)?))
}

fn rule(inputs: Inputs<'_>) -> Clear<BendRule> {
    match inputs.text("method")? {
        "K factor" => Ok(BendRule::K(inputs.float("method_value")?)),
        "Machinery's Handbook" => Ok(BendRule::Handbook(temper(inputs.text("method_value")?)?)),
        "DIN 6935" => Ok(BendRule::Din6935),
        other => Err(Unclear(format!("method {other} is none that is known"))),
    }
}

/// What the entries ask for, in their own unit.
fn told(inputs: Inputs<'_>, tray: &Part, bend: Bend, unit: f64) -> Clear<Value> {
    let show = |length: Length| length.as_mm() / unit;
    let mm2 = tray.area.as_mm2();
    let volume = mm2 * tray.sheet.thickness.as_mm() / unit.powi(3);
    // The entries' densities are per cubic metre, or pounds per cubic inch.
    let per = if unit > 1.0 { 1.0 } else { 1e-9 };
    let of_lip = tray.bends.get(4);
    Ok(json!({
        "BA": show(bend.allowance()),
        "BD": show(bend.deduction()),
        "OSSB": show(bend.set_back()),
        "blank_length": show(tray.length),
        "blank_width": show(tray.width),
        "notch": show(tray.bends[0].from[0]),
        "bend_line_from_edge": show(tray.bends[0].from[1]),
        "floor_bend_line_from_edge": show(tray.bends[0].from[1]),
        "lip_bend_line_from_edge": of_lip.map(|line| show(line.from[1])),
        "flat_area": mm2 / unit.powi(2),
        "flat_area_unnotched": (tray.length * tray.width).as_mm2() / unit.powi(2),
        "mass": volume * inputs.float("density")? * per,
    }))
}
