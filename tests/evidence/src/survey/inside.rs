//! The largest cuboid inside a cavity out of square.

use serde_json::{Value, json};
use tape::Length;
use tape::inside::{Cavity, Frame, KeepBack, NoCuboid, Shape, Side};

use crate::Verdict;
use crate::compare::magnitude;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

/// The corners, in the order of the crate.
const LETTERS: [&str; 8] = ["A", "B", "C", "D", "E", "F", "G", "H"];

/// One case for each cavity.
pub(super) fn cases<'a>(section: &str, value: &'a Value, entries: &'a [Value]) -> Vec<Question<'a>> {
    let stated = &value["rules"]["tolerances"];
    let share = |key: &str| stated[key].as_f64().unwrap_or(1e-4);
    let (dims, volume) = (share("dims_relative"), share("volume_relative"));
    let case = |entry: &'a Value| {
        Question::of(section, entry, section)
            .of_kind("largest_box")
            .worked_out(move || compared(Inputs(entry), dims, volume))
    };
    entries.iter().map(case).collect()
}

/// A volume that the safe rule has to reach.
const LEAST: &str = "volume_if_all_four_corner_triple_planes_of_each_face_are_kept";
/// A volume that nothing safe can exceed; it comes from a search, so a thousandth above it is allowed.
const MOST: &str = "volume_upper_limit_both_triangulations";

/// Compares sides and volumes; a warped cavity also has to land between the limits that the case gives.
fn compared(entry: Inputs<'_>, dims: f64, volume: f64) -> Clear<Outcome> {
    let got = largest(entry)?;
    let given = got["volume"].as_f64().unwrap_or_default();
    let told = |key: &str| entry.part("expected").0[key].as_f64();
    let mut outside = Vec::new();
    if let Some(least) = told(LEAST).filter(|least| given < *least) {
        outside.push(format!("{LEAST}: {given} is below {least}"));
    }
    if let Some(most) = told(MOST).filter(|most| given > most * 1.001) {
        outside.push(format!("{MOST}: {given} is above {most}"));
    }
    let mut expected = entry.0["expected"].clone();
    if let Some(keys) = expected.as_object_mut() {
        // Where a cuboid can slide any place is as good: said not to be compared. The rule is words.
        keys.retain(|key, _| ![LEAST, MOST, "box_low_corner_in_frame", "rule"].contains(&key.as_str()));
    }
    let allowed = |key: &str, expected: &serde_json::Number| match key {
        "dims_x_y_z" => dims * magnitude(expected),
        "volume" => volume * magnitude(expected),
        // How warped the faces are is told to the fourth decimal.
        _ => 1e-4,
    };
    let mut outcome = Outcome::compared(&expected, got, &allowed);
    if !outside.is_empty() {
        outcome.verdict = Verdict::Fail;
        outcome.note = [outside.join("; "), outcome.note].join("; ");
    }
    Ok(outcome)
}

fn largest(entry: Inputs<'_>) -> Clear<Value> {
    let unit = match entry.text("unit")? {
        "in" => Length::inches(1),
        "mm" => Length::mm(1),
        other => return Err(Unclear(format!("unit {other} is neither in nor mm"))),
    };
    let mut corners = [[0.0; 3]; 8];
    for (corner, letter) in corners.iter_mut().zip(LETTERS) {
        let place = entry.part("corners").list(letter)?;
        let numbers: Option<Vec<f64>> = place.iter().map(Value::as_f64).collect();
        let numbers: Option<[f64; 3]> = numbers.and_then(|numbers| numbers.try_into().ok());
        let numbers = numbers.ok_or_else(|| Unclear(format!("corner {letter} should be three numbers")))?;
        *corner = numbers.map(|number| number * unit.as_mm());
    }
    let refused = |why: NoCuboid| Unclear(why.to_string());
    let shape = Shape::exact(corners).map_err(refused)?;
    let cavity = Cavity::new(&shape, Frame::default()).map_err(refused)?;
    let figures = |keep: KeepBack| {
        let usable = cavity.largest(keep).map_err(refused)?;
        let sides = usable.space.size().map(|side| side.as_mm() / unit.as_mm());
        Ok(json!({ "dims_x_y_z": sides, "volume": sides.iter().product::<f64>() }))
    };
    let mut got = figures(KeepBack::default())?;
    let shift = entry.part("expected").part("with_margin");
    if shift.has("inward_shift_of_every_face") {
        let shift = shift.float("inward_shift_of_every_face")?;
        got["with_margin"] = figures(KeepBack::fixed(Length::from_mm(shift * unit.as_mm())))?;
        got["with_margin"]["inward_shift_of_every_face"] = json!(shift);
    }
    if entry.0["warped"] == json!(true) {
        // The file names walls by the page, x to the right and y away; the crate by the truck, x rearward.
        let warps = cavity.warps();
        let warp = |side: Side| warps[side.index()].as_mm() / unit.as_mm();
        got["face_warp_between_diagonals"] = json!({
            "floor": warp(Side::Bottom), "roof": warp(Side::Top), "front": warp(Side::Left),
            "back": warp(Side::Right), "left": warp(Side::Front), "right": warp(Side::Rear),
        });
    }
    Ok(got)
}
