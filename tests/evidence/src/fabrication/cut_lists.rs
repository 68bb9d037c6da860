//! Boxes and the parts they are cut from.

use enclosure::material::Material;
use enclosure::{
    BoxSpec, Built, Construction, Corners, Fastener, Flange, Form, Frame, Hole, HolePattern, Joint, Lid, Part, Role,
    Sheet, build,
};
use serde_json::{Value, json};
use tape::{Length, Volume};

use super::{Entry, material, no_material};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::Outcome;

/// Builds the box of an entry and compares everything expected of it.
pub(super) fn compared(entry: &Entry<'_>) -> Clear<Outcome> {
    let Some(material) = material(entry.inputs)? else {
        return Ok(no_material(entry.inputs));
    };
    let spec = spec_of(entry.inputs, material)?;
    let built = build(&spec).map_err(|refusal| Unclear(format!("the box is refused: {refusal}")))?;
    let got = told(&built, &spec, &entry.expected)?;
    Ok(entry.compared(got))
}

fn spec_of(inputs: Inputs<'_>, material: Material) -> Clear<BoxSpec> {
    let sheet = |key| {
        Ok(Sheet {
            material,
            thickness: inputs.mm(key)?,
        })
    };
    let corners = match inputs.text("convention")? {
        "A" => Corners::LongSidesRun,
        "B" => Corners::WallsWrapFloor,
        "C" => Corners::EndsRun,
        "D" => Corners::CornerToCorner,
        other => return Err(Unclear(format!("convention {other} is none of A to D"))),
    };
    let inside: Vec<Length> = inputs
        .list("inside")?
        .iter()
        .filter_map(Value::as_f64)
        .map(Length::from_mm)
        .collect();
    let lid = if inputs.has("lid_t") {
        lid(inputs, sheet("lid_t")?)?
    } else {
        Lid::None
    };
    let frame = inputs.has("angle_frame").then(|| frame(inputs.part("angle_frame")));
    Ok(BoxSpec {
        inside: inside
            .try_into()
            .map_err(|_| Unclear("inside should be three numbers".to_owned()))?,
        wall: sheet("t")?,
        floor: sheet("t")?,
        construction: Construction::Welded,
        corners,
        lid,
        frame: frame.transpose()?,
        step: None,
    })
}

fn lid(inputs: Inputs<'_>, sheet: Sheet) -> Clear<Lid> {
    let holes = inputs.part("lid_holes");
    let drilled = inputs.has("lid_holes");
    let fastener = || {
        Ok(Fastener {
            // The entries do not say which screw, and nothing they expect rests on it.
            diameter: Length::mm(1),
            hole: Length::mm(1),
            head_height: Length::mm(1),
            below: Length::mm(1),
            most_pitch: holes.mm("max_pitch")?,
        })
    };
    let flange = inputs.has("flange").then(|| flange(inputs.part("flange")));
    Ok(Lid::Flat {
        sheet,
        flange: flange.transpose()?,
        gasket: None,
        fastener: drilled.then(fastener).transpose()?,
        edge: drilled.then(|| holes.mm("edge_distance")).transpose()?,
    })
}

fn flange(inputs: Inputs<'_>) -> Clear<Flange> {
    Ok(Flange {
        width: inputs.mm("width")?,
        thickness: inputs.mm("t")?,
        joint: joint(inputs)?,
    })
}

fn frame(inputs: Inputs<'_>) -> Clear<Frame> {
    #[expect(clippy::cast_possible_truncation, reason = "float to integer casts saturate")]
    let grams_per_m = (inputs.float("kg_per_m")? * 1e3).round() as i64;
    Ok(Frame {
        leg: inputs.mm("leg")?,
        thickness: inputs.mm("t")?,
        grams_per_m,
        joint: joint(inputs)?,
    })
}

fn joint(inputs: Inputs<'_>) -> Clear<Joint> {
    match inputs.text("joint")? {
        "butt" => Ok(Joint::Butt),
        "mitred" => Ok(Joint::Mitred),
        other => Err(Unclear(format!("joint {other} is neither butt nor mitred"))),
    }
}

/// The built box in the words of the check.
fn told(built: &Built, spec: &BoxSpec, expected: &Value) -> Clear<Value> {
    let (bars, panels): (Vec<&Part>, Vec<&Part>) = built.parts.iter().partition(|part| part.role.form() == Form::Angle);
    let [shell, shell_panels] = [shell_volume(built, spec), panel_volume(built)];
    let ordered: Length = bars.iter().map(|bar| bar.length * i64::from(bar.quantity)).sum();
    // The checks tell what a piece weighs before its holes are made.
    let kg = |parts: &[&Part]| {
        let all = parts.iter().map(|part| part.solid_grams * f64::from(part.quantity));
        all.sum::<f64>() / 1e3
    };
    let mut got = json!({
        "outside": built.shell.map(Length::as_mm),
        "parts": rows(&panels, &expected["parts"])?,
        "total_mass_kg": kg(&panels),
        "shell_volume_mm3": shell.as_mm3(),
        "box_panel_volume_mm3": shell_panels.as_mm3(),
        "weld_groove_volume_mm3": (shell - shell_panels).as_mm3(),
        "frame": rows(&bars, &expected["frame"])?,
        "frame_total_length_mm": ordered.as_mm(),
        "frame_mass_kg_from_ordered_length": kg(&bars),
    });
    let lid = built.parts.iter().find(|part| part.role == Role::LidPlate);
    if let Some((pattern, lid)) = built.lid_holes.zip(lid) {
        got["holes"] = holes(&pattern, lid);
    }
    Ok(got)
}

/// The parts in the order and under the names that the check tells them; those it does not tell come last.
fn rows(parts: &[&Part], expected: &Value) -> Clear<Vec<Value>> {
    let mut left = parts.to_vec();
    let mut rows = Vec::new();
    for row in expected.as_array().into_iter().flatten() {
        let name = Inputs(row).text("part")?;
        let found = left.iter().position(|part| Some(part.role) == role(name));
        rows.extend(found.map(|index| told_part(name, left.remove(index))));
    }
    rows.extend(left.into_iter().map(|part| told_part(part.role.name(), part)));
    Ok(rows)
}

fn told_part(name: &str, part: &Part) -> Value {
    json!({
        "part": name,
        "length": part.length.as_mm(),
        "width": part.width.as_mm(),
        "t": part.sheet.thickness.as_mm(),
        "qty": part.quantity,
        "mass_each_kg": part.solid_grams / 1e3,
    })
}

/// The role that the name of a part means; what follows the name tells how its ends are cut.
fn role(name: &str) -> Option<Role> {
    const NAMES: [(&str, Role); 8] = [
        ("floor", Role::Floor),
        ("long side", Role::LongSide),
        ("end", Role::End),
        ("lid plate", Role::LidPlate),
        ("flange long", Role::FlangeLong),
        ("flange short", Role::FlangeShort),
        ("frame long", Role::FrameLong),
        ("frame short", Role::FrameShort),
    ];
    let found = NAMES.iter().find(|(start, _)| name.starts_with(start));
    found.map(|(_, role)| *role)
}

pub(super) fn shell_volume(built: &Built, spec: &BoxSpec) -> Volume {
    let [length, width, height] = built.shell;
    let [inside_length, inside_width, depth] = spec.inside;
    length * width * height - inside_length * inside_width * depth
}

pub(super) fn panel_volume(built: &Built) -> Volume {
    let is_panel = |part: &&Part| matches!(part.role, Role::Floor | Role::LongSide | Role::End);
    let panels = built.parts.iter().filter(is_panel);
    panels
        .map(|part| part.length * part.width * part.sheet.thickness * i64::from(part.quantity))
        .sum()
}

/// The pattern as told, and the pitches as drilled.
fn holes(pattern: &HolePattern, lid: &Part) -> Value {
    json!({
        "line_length": pattern.line_length.as_mm(),
        "line_width": pattern.line_width.as_mm(),
        "intervals_long": pattern.intervals_long,
        "intervals_short": pattern.intervals_short,
        "count": lid.holes.len(),
        "pitch_long": widest(lid, |hole| hole.y, |hole| hole.x),
        "pitch_short": widest(lid, |hole| hole.x, |hole| hole.y),
    })
}

/// The widest pitch along the first edge of a lid, in millimetres.
fn widest(lid: &Part, from_edge: fn(&Hole) -> Length, along: fn(&Hole) -> Length) -> Option<f64> {
    let edge = lid.holes.iter().map(from_edge).min()?;
    let mut line: Vec<Length> = lid
        .holes
        .iter()
        .filter(|hole| from_edge(hole) == edge)
        .map(along)
        .collect();
    line.sort_unstable();
    line.windows(2).map(|two| (two[1] - two[0]).as_mm()).reduce(f64::max)
}
