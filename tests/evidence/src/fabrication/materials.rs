//! Gauges, densities, stock and bars.

use enclosure::gauge::{self, Scale};
use enclosure::material::Material;
use enclosure::{Sheet, section, stock as shop};
use serde_json::{Map, Value, json};
use tape::Length;

use super::{Entry, material, no_material};
use crate::compare::within;
use crate::inputs::{Clear, Unclear};
use crate::question::Outcome;

/// The thickness of a gauge number on its scale.
pub(super) fn gauge(entry: &Entry<'_>) -> Clear<Outcome> {
    let scale = match entry.inputs.text("system")? {
        "MSG steel" => Scale::SheetSteel,
        "galvanised" => Scale::Galvanised,
        "B&S" => Scale::Aluminium,
        "US Standard (stainless)" => Scale::Stainless,
        other => return Ok(Outcome::not_yet(format!("no gauge scale {other}"))),
    };
    let number = entry.inputs.count("gauge")?;
    let Some(thickness) = gauge::thickness(scale, number) else {
        let scale = scale.name();
        return Ok(Outcome::not_yet(format!("no gauge {number} of {scale}")));
    };
    Ok(entry.compared(json!({
        "thickness_in": thickness.as_inches(),
        "thickness_mm": thickness.as_mm(),
    })))
}

/// A density, the mass of a sheet, or the lists of stock, by what is expected.
pub(super) fn stock(entry: &Entry<'_>) -> Clear<Outcome> {
    let asked = |key: &str| entry.expected.get(key).is_some();
    if asked("density") {
        let Some(material) = material(entry.inputs)? else {
            return Ok(no_material(entry.inputs));
        };
        Ok(entry.compared(json!({ "density": material.density_kg_m3() })))
    } else if asked("mass_kg") {
        sheet_mass(entry)
    } else if asked("lb") {
        pounds_by_gauge(entry)
    } else if asked("sheets_mm") || asked("bars_mm") {
        Ok(stock_lists(entry))
    } else {
        Ok(Outcome::not_yet("unknown kind"))
    }
}

fn sheet_mass(entry: &Entry<'_>) -> Clear<Outcome> {
    let Some(material) = material(entry.inputs)? else {
        return Ok(no_material(entry.inputs));
    };
    let sheet = Sheet {
        material,
        thickness: entry.inputs.mm("t_mm")?,
    };
    let area = entry.inputs.mm("w_mm")? * entry.inputs.mm("h_mm")?;
    Ok(entry.compared(json!({
        "area_m2": area.as_m2(),
        "mass_kg": sheet.grams(area) / 1e3,
    })))
}

/// The gauge's own definition of mass: 41.82 lb per square foot and inch of thickness.
fn pounds_by_gauge(entry: &Entry<'_>) -> Clear<Outcome> {
    let number = entry.inputs.count("gauge")?;
    let Some(thickness) = gauge::thickness(Scale::SheetSteel, number) else {
        return Ok(Outcome::not_yet(format!("no gauge {number} of sheet steel")));
    };
    let feet: Vec<f64> = entry.inputs.list("ft")?.iter().filter_map(Value::as_f64).collect();
    let [width, length] = feet[..] else {
        return Err(Unclear("ft should be two numbers".to_owned()));
    };
    Ok(entry.compared(json!({ "lb": thickness.as_inches() * 41.82 * width * length })))
}

/// The sheets and bars that are offered, by name.
fn stock_lists(entry: &Entry<'_>) -> Outcome {
    let sheets: Map<String, Value> = shop::sheets()
        .iter()
        .map(|sheet| (sheet.name.to_owned(), json!(sheet.sides.map(Length::as_mm))))
        .collect();
    let bars: Map<String, Value> = shop::bars()
        .iter()
        .map(|bar| (bar.name.to_owned(), json!(bar.length.as_mm())))
        .collect();
    let off = entry.tolerance["abs_mm"].as_f64().unwrap_or(0.0);
    let thicknesses: Vec<f64> = shop::thicknesses().iter().map(|t| t.as_mm()).collect();
    let got = json!({ "sheets_mm": sheets, "bars_mm": bars, "sheet_thickness_mm": thicknesses });
    Outcome::compared(&entry.expected, got, &within(off))
}

/// The mass of a bar from its shape.
pub(super) fn bar(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    if inputs.has("leg_mm") {
        let [leg, thickness, root] = ["leg_mm", "t_mm", "root_radius_mm"].map(|key| inputs.mm(key));
        let (leg, thickness, root) = (leg?, thickness?, root?);
        Ok(entry.compared(json!({
            "area_mm2": section::equal_angle_area_mm2(leg, thickness, root),
            "kg_per_m": section::angle_kg_per_m(leg, thickness, root),
        })))
    } else if inputs.has("b_mm") {
        let flat = Sheet {
            material: Material::MildSteel,
            thickness: inputs.mm("t_mm")?,
        };
        let mass = section::flat_kg_per_m(flat, inputs.mm("b_mm")?);
        Ok(entry.compared(json!({ "kg_per_m": mass })))
    } else if inputs.has("area_in2") {
        Ok(inch_section(entry, inputs.float("area_in2")?))
    } else if inputs.has("b_in") {
        let [width, thickness] =
            ["b_in", "t_in"].map(|key| inputs.float(key).map(|inches| Length::from_mm(inches * 25.4)));
        Ok(inch_section(entry, section::square_inches(width? * thickness?)))
    } else {
        Ok(Outcome::not_yet("unknown kind"))
    }
}

/// The mass of a bar in both units from its cross section, at 490 lb per cubic foot.
fn inch_section(entry: &Entry<'_>, area_in2: f64) -> Outcome {
    entry.compared(json!({
        "lb_per_ft": section::lb_per_ft(area_in2),
        "kg_per_m": section::us_kg_per_m(area_in2),
    }))
}
