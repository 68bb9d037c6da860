//! Checks of the chance of fit, and of what a shop holds.

use enclosure::tolerance::{FlatnessClass, LengthClass};
use serde_json::{Number, Value, json};
use tape::Length;
use tape::reading::{limits_sigma, root_sum_square};
use tape::survey::chance::normal_below;

use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};
use crate::read::{Section, entries, numbered};

/// The cases of one section.
pub(crate) fn section<'a>(section: &str, value: &'a Value) -> Section<'a> {
    let work: fn(Inputs<'_>) -> Clear<Value> = match section {
        "chance_of_fit" => fits,
        "shop_tolerance" => held,
        _ => return Ok(None),
    };
    let case = |(index, entry): (usize, &'a Value)| {
        Question::of(section, entry, &numbered(section, index))
            .of_kind(section)
            .worked_out(move || {
                let allowed = |key: &str, _: &Number| entry["tolerance"][key].as_f64().unwrap_or(0.0);
                Ok(Outcome::compared(
                    &entry["expected"],
                    work(Inputs(&entry["inputs"]))?,
                    &allowed,
                ))
            })
    };
    Ok(Some(entries(section, value)?.iter().enumerate().map(case).collect()))
}

/// What independent errors come to, and the chance that more than what is asked for is left.
fn fits(inputs: Inputs<'_>) -> Clear<Value> {
    let mut sigmas = numbers(inputs, "sigmas_mm")?;
    let limits = numbers(inputs, "limits_mm")?;
    sigmas.extend(
        limits
            .iter()
            .map(|&limits| limits_sigma(Length::from_mm(limits)).as_mm()),
    );
    let sigma = root_sum_square(&sigmas);
    let left = inputs.float("room_mm")? - inputs.float("asked_mm")?;
    Ok(json!({ "sigma_mm": sigma, "chance": normal_below(left / sigma) }))
}

fn numbers(inputs: Inputs<'_>, key: &str) -> Clear<Vec<f64>> {
    let numbers = inputs.list(key)?.iter().map(Value::as_f64);
    numbers
        .collect::<Option<_>>()
        .ok_or_else(|| Unclear(format!("{key} should be numbers")))
}

/// The limits of a size or a surface by its class.
fn held(inputs: Inputs<'_>) -> Clear<Value> {
    let size = inputs.mm("size_mm")?;
    let unknown = || Unclear("class should be A to D for lengths, E to H for flatness".to_owned());
    let limits = match (inputs.text("of")?, inputs.text("class")?) {
        ("length", class) => match class {
            "A" => LengthClass::A,
            "B" => LengthClass::B,
            "C" => LengthClass::C,
            "D" => LengthClass::D,
            _ => return Err(unknown()),
        }
        .limits(size),
        ("flatness", class) => match class {
            "E" => FlatnessClass::E,
            "F" => FlatnessClass::F,
            "G" => FlatnessClass::G,
            "H" => FlatnessClass::H,
            _ => return Err(unknown()),
        }
        .limits(size),
        _ => return Err(Unclear("of should be length or flatness".to_owned())),
    };
    Ok(json!({ "limits_mm": limits.as_mm() }))
}
