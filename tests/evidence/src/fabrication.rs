//! Checks of sheet, bars, cut lists and what is made of them.

mod cut_lists;
mod formats;
mod identities;
mod materials;

use enclosure::material::Material;
use serde_json::{Number, Value};

use crate::compare::magnitude;
use crate::inputs::{Clear, Inputs};
use crate::question::{Outcome, Question};
use crate::read::{Section, all_not_yet, entries, numbered};

/// An entry of a section that can be worked out.
struct Entry<'a> {
    what: &'a str,
    inputs: Inputs<'a>,
    /// Without what is for information.
    expected: Value,
    tolerance: &'a Value,
}

impl Entry<'_> {
    fn compared(&self, got: Value) -> Outcome {
        Outcome::compared(&self.expected, got, &tolerance(self.tolerance))
    }
}

type Work = fn(&Entry<'_>) -> Clear<Outcome>;

/// The cases of one section.
pub(crate) fn section<'a>(section: &str, value: &'a Value) -> Section<'a> {
    let work: Result<Work, &str> = match section {
        "gauge" => Ok(materials::gauge),
        "stock" => Ok(materials::stock),
        "sections" => Ok(materials::bar),
        "cut_lists" => Ok(cut_lists::compared),
        "identities" => Ok(identities::held),
        "bending" => Err("bends"),
        "flat_patterns" => Err("flat patterns"),
        "one_d" | "shop_bars" => Err("nesting of bars"),
        "two_d" | "shop_nesting" => Err("nesting of sheet"),
        "formats" => Ok(formats::written),
        "structure" => Err("panel strength and fasteners"),
        "sealing" => Err("sealing, bonding and breathing of a box"),
        _ => return Ok(None),
    };
    let list = entries(section, value)?;
    Ok(Some(match work {
        Err(missing) => all_not_yet(section, list, missing),
        Ok(work) => {
            let case = |(index, entry)| case(section, index, entry, work);
            list.iter().enumerate().map(case).collect()
        }
    }))
}

fn case<'a>(section: &str, index: usize, raw: &'a Value, work: Work) -> Question<'a> {
    let entry = Entry {
        what: raw["what"].as_str().unwrap_or_default(),
        inputs: Inputs(&raw["inputs"]),
        expected: without_information(&raw["expected"]),
        tolerance: &raw["tolerance"],
    };
    Question::of(section, raw, &numbered(section, index))
        .of_kind(section)
        .expecting(entry.expected.clone())
        .worked_out(move || work(&entry))
}

/// What is expected, without the keys that are for people.
fn without_information(expected: &Value) -> Value {
    let information = |key: &str| {
        key.starts_with("table_")
            || key.starts_with("stress_area_formula_")
            || matches!(key, "alpha_recomputed" | "note")
    };
    let mut kept = expected.clone();
    if let Some(kept) = kept.as_object_mut() {
        kept.retain(|key, _| !information(key));
    }
    kept
}

/// The tolerance of a fabrication check: `rel` and `abs` for all, `abs_X` for what is in unit X, `rel_mass` for masses;
/// what none of them covers: masses 1e-4, areas and volumes 2e-6 of the figure, all else exactly.
fn tolerance(stated: &Value) -> impl Fn(&str, &Number) -> f64 {
    move |key, expected| {
        let size = magnitude(expected);
        let number = |name: &str| stated[name].as_f64();
        let is_mass = key.contains("mass") || key.ends_with("_kg");
        let is_space = ["area", "volume", "_mm2", "_mm3", "_m2"]
            .iter()
            .any(|part| key.contains(part));
        let covering = [
            number("rel").map(|rel| rel * size),
            number("abs"),
            unit_of(key).and_then(|unit| number(&format!("abs_{unit}"))),
            number("rel_mass").filter(|_| is_mass).map(|rel| rel * size),
        ];
        let otherwise = match (is_mass, is_space) {
            (true, _) => 1e-4 * size,
            (false, true) => 2e-6 * size,
            (false, false) => 0.0,
        };
        covering.into_iter().flatten().reduce(f64::max).unwrap_or(otherwise)
    }
}

/// The unit that a key is in; lengths without one are millimetres.
fn unit_of(key: &str) -> Option<&'static str> {
    const UNITS: [&str; 6] = ["kg_per_m", "lb_per_ft", "mm2", "mm3", "mm", "in"];
    let named = UNITS.into_iter().find(|unit| {
        key.strip_suffix(unit)
            .is_some_and(|rest| rest.is_empty() || rest.ends_with('_'))
    });
    let plain_length =
        ["length", "width", "pitch_long", "pitch_short", "outside", "t"].contains(&key) || key.starts_with("line_");
    named.or_else(|| plain_length.then_some("mm"))
}

/// The material of that name.
fn material(inputs: Inputs<'_>) -> Clear<Option<Material>> {
    let name = inputs.text("material")?;
    let mut all = Material::ALL.into_iter();
    Ok(all.find(|material| material.name() == name))
}

/// What to say when a material is none of the crate's.
fn no_material(inputs: Inputs<'_>) -> Outcome {
    Outcome::not_yet(format!("no material {}", inputs.0["material"]))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::json;

    use super::*;

    #[rstest]
    #[case::by_unit("thickness_in", 0.1345, json!({"abs_in": 5e-5, "abs_mm": 0.002}), 5e-5)]
    #[case::other_unit("thickness_mm", 3.4, json!({"abs_in": 5e-5, "abs_mm": 0.002}), 0.002)]
    #[case::length_without_unit("width", 506.0, json!({"abs_mm": 0.01}), 0.01)]
    #[case::not_for_areas("area_mm2", 100.0, json!({"abs_mm": 0.01}), 2e-4)]
    #[case::volumes("shell_volume_mm3", 1e6, json!({"abs_mm": 0.01}), 2.0)]
    #[case::masses("total_mass_kg", 40.0, json!({"abs_mm": 0.01, "rel_mass": 0.001}), 0.04)]
    #[case::masses_not_covered("mass_each_kg", 40.0, json!({"abs_mm": 0.01}), 0.004)]
    #[case::counts("qty", 2.0, json!({"abs_mm": 0.01, "rel_mass": 0.001}), 0.0)]
    #[case::rel_for_all("density", 8000.0, json!({"rel": 0.01}), 80.0)]
    #[case::per_metre("kg_per_m", 2.4, json!({"abs_kg_per_m": 0.01}), 0.01)]
    fn a_tolerance_covers_what_it_is_for(
        #[case] key: &str,
        #[case] figure: f64,
        #[case] stated: Value,
        #[case] allowed: f64,
    ) {
        let number = Number::from_f64(figure).unwrap();
        assert!((tolerance(&stated)(key, &number) - allowed).abs() < 1e-12);
    }
}
