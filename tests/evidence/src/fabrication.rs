//! Checks of sheet, bars, cut lists and what is made of them.

mod bends;
mod cut_lists;
mod formats;
mod identities;
mod materials;
mod nest_identities;
mod nesting;
mod structure;

use enclosure::material::Material;
use serde_json::{Number, Value};

use crate::compare::magnitude;
use crate::inputs::{Clear, Inputs};
use crate::question::{Outcome, Question};
use crate::read::{Section, entries, numbered};

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
    let work: Work = match section {
        "gauge" => materials::gauge,
        "stock" => materials::stock,
        "sections" => materials::bar,
        "cut_lists" => cut_lists::compared,
        "identities" => identities::held,
        "bending" => bends::bent,
        "flat_patterns" => bends::flat,
        "one_d" => nesting::one_d,
        "two_d" => nesting::two_d,
        "shop_bars" => nesting::shop_bars,
        "shop_nesting" => nesting::shop_nesting,
        "formats" => formats::written,
        "structure" => structure::strength,
        "sealing" => structure::sealing,
        _ => return Ok(None),
    };
    let case = |(index, entry)| case(section, index, entry, work);
    Ok(Some(entries(section, value)?.iter().enumerate().map(case).collect()))
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
            // A length without a unit in its key is in the entry's own.
            is_length(key).then(|| number("abs_in")).flatten(),
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
    named.or_else(|| is_length(key).then_some("mm"))
}

/// Whether a key is of a length and names no unit.
fn is_length(key: &str) -> bool {
    const LENGTHS: [&str; 10] = [
        "length",
        "width",
        "pitch_long",
        "pitch_short",
        "outside",
        "t",
        "BA",
        "BD",
        "OSSB",
        "notch",
    ];
    LENGTHS.contains(&key)
        || key.starts_with("line_")
        || key.starts_with("blank_")
        || key.ends_with("bend_line_from_edge")
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
