//! Checks of tape readings: how they are written, how far they may be off, and the shape they make.

mod accuracy;
mod critical;
mod hexahedra;
mod inside;
mod networks;
mod notation;
mod tolerance;

use serde_json::Value;

use crate::inputs::Inputs;
use crate::question::Question;
use crate::read::{Misshapen, Section, entries, numbered};
use tolerance::Tolerances;

/// The cases of one section.
pub(crate) fn section<'a>(file: &'a Value, section: &str, value: &'a Value) -> Section<'a> {
    let tolerances = Tolerances::of(file);
    let each = |run: &dyn Fn(Question<'a>, &'a Value) -> Question<'a>| -> Result<Vec<Question<'a>>, Misshapen> {
        let named = |(index, entry)| {
            (
                Question::of(section, entry, &numbered(section, index)).of_kind(section),
                entry,
            )
        };
        let cases = entries(section, value)?.iter().enumerate().map(named);
        Ok(cases.map(|(case, entry)| run(case, entry)).collect())
    };
    Ok(Some(match section {
        "critical_values" => {
            let case = Question::of(section, value, section).of_kind(section);
            vec![critical::values(
                case.about("limits of the statistical tests of a survey"),
                value,
            )]
        }
        "a_published_networks" => each(&|case, entry| networks::network(case, entry, tolerances))?,
        "a_nonlinear_regression_certified" => each(&networks::regression)?,
        "b_synthetic_hexahedra" => sourced(
            each(&|case, entry| hexahedra::cavity(case, file, entry, tolerances))?,
            &file["convention"],
        ),
        "c_largest_box" => sourced(
            inside::cases(section, value, part(section, value, "cases")?),
            &value["rules"],
        ),
        "d_tape_notation" => notation::cases(section, value, part(section, value, "cases")?),
        "e_tape_accuracy" => accuracy::cases(section, file, value),
        _ => return Ok(None),
    }))
}

/// Cases whose source is told once for all of them.
fn sourced<'a>(cases: Vec<Question<'a>>, told: &Value) -> Vec<Question<'a>> {
    let cases = cases.into_iter();
    cases.map(|case| case.sourced(Inputs(told))).collect()
}

/// A list within a section.
fn part<'a>(section: &str, value: &'a Value, key: &str) -> Result<&'a [Value], Misshapen> {
    entries(&format!("{section}.{key}"), &value[key])
}
