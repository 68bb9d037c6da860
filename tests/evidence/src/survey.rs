//! Checks of tape readings: how they are written, how far they may be off, and the shape they make.

mod accuracy;
mod inside;
mod notation;

use serde_json::Value;

use crate::inputs::Inputs;
use crate::question::Question;
use crate::read::{Misshapen, Section, all_not_yet, entries};

/// The cases of one section.
pub(crate) fn section<'a>(file: &'a Value, section: &str, value: &'a Value) -> Section<'a> {
    Ok(Some(match section {
        "critical_values" => vec![
            Question::of(section, value, section)
                .of_kind(section)
                .about("limits of the statistical tests of a survey")
                .not_yet("tests of an adjusted survey"),
        ],
        "a_published_networks" => all_not_yet(section, entries(section, value)?, "adjustment of networks"),
        "a_nonlinear_regression_certified" => {
            all_not_yet(section, entries(section, value)?, "a general least-squares solver")
        }
        "b_synthetic_hexahedra" => sourced(
            all_not_yet(
                section,
                entries(section, value)?,
                "adjustment of a cavity out of square",
            ),
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
