//! The published checks of pack electrics that this crate answers.

use std::collections::BTreeMap;

use pack::arithmetic::{
    charger_reach, full_overshoot, pack_resistance, series_window, units_resistance, usable_energy,
};
use pack::arrangement::{Arrangement, figures};
use pack::chemistry::Chemistry;
use pack::hazard::{Current, VoltageClass, voltage_class};
use pack::window::{ChargerWindow, DriveWindow};
use pack::{AmpHours, CellVolts, Module, Ohms, Volts, WattHours};
use serde_json::{Value, json};

fn cases() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/cases/electrical.json");
    let text = std::fs::read_to_string(path).expect("the checks are in the repository");
    serde_json::from_str(&text).expect("the checks are JSON")
}

/// The inputs of one check.
struct Inputs<'a>(&'a Value);

impl Inputs<'_> {
    fn float(&self, key: &str) -> f64 {
        self.0[key].as_f64().unwrap_or_else(|| panic!("{key} is a number"))
    }

    fn count(&self, key: &str) -> u32 {
        let whole = self.0[key].as_u64().unwrap_or_else(|| panic!("{key} is a count"));
        u32::try_from(whole).expect("counts here are small")
    }

    fn volts(&self, key: &str) -> Volts {
        Volts::nearest(self.float(key))
    }

    fn milliohms(&self, key: &str) -> Ohms {
        Ohms::nearest_milliohms(self.float(key))
    }

    /// Volts of a cell; what a check does not give is zero.
    fn cell(&self) -> CellVolts {
        let volts = |key| self.0.get(key).map_or(Volts::default(), |_| self.volts(key));
        CellVolts {
            empty: volts("cell_v_min"),
            nominal: volts("cell_v_nom"),
            full: volts("cell_v_max"),
        }
    }

    fn module(&self, cells_series: u32, cells_parallel: u32) -> Module {
        Module {
            cells_series,
            cells_parallel,
            volts: self.cell().in_series(cells_series),
            capacity: AmpHours::nearest(self.float("cell_Ah")) * cells_parallel,
            continuous: None,
            peak: None,
        }
    }
}

/// What the crate answers to a check; `None` for a kind that it does not deal with.
fn answer(kind: &str, inputs: &Inputs) -> Option<Value> {
    Some(match kind {
        "pack_arithmetic" => {
            let arrangement = Arrangement {
                series: inputs.count("series"),
                parallel: inputs.count("parallel"),
            };
            let figures = figures(&inputs.module(1, 1), arrangement);
            json!({
                "cells": figures.cells.0 * figures.cells.1,
                "v_min": figures.volts.empty.get(),
                "v_nom": figures.volts.nominal.get(),
                "v_max": figures.volts.full.get(),
                "Ah": figures.capacity.get(),
                "kWh_nominal": figures.energy.kwh(),
            })
        }
        "pack_from_modules" => {
            let arrangement = Arrangement {
                series: inputs.count("ms"),
                parallel: inputs.count("mp"),
            };
            let figures = figures(
                &inputs.module(inputs.count("mod_s"), inputs.count("mod_p")),
                arrangement,
            );
            let [module, link, cables] = ["module_mohm", "link_mohm", "cable_mohm"].map(|key| inputs.milliohms(key));
            json!({
                "modules": arrangement.modules(),
                "series": figures.cells.0,
                "parallel": figures.cells.1,
                "v_nom": figures.volts.nominal.get(),
                "v_max": figures.volts.full.get(),
                "Ah": figures.capacity.get(),
                "kWh_nominal": figures.energy.kwh(),
                "r_pack_mohm": pack_resistance(module, arrangement, link, cables).milliohms(),
            })
        }
        "usable_energy" => {
            let energy = WattHours::nearest(inputs.float("kWh_nominal") * 1000.0);
            let [health, low, high] = ["soh", "soc_lo", "soc_hi"].map(|key| inputs.float(key));
            json!({ "kWh_usable": usable_energy(energy, health, low, high).kwh() })
        }
        "pack_resistance" => {
            let arrangement = Arrangement {
                series: inputs.count("series"),
                parallel: inputs.count("parallel"),
            };
            let resistance = units_resistance(inputs.milliohms("cell_mohm"), arrangement);
            json!({ "r_pack_mohm": resistance.milliohms() })
        }
        "controller_window" => {
            let drive = DriveWindow {
                min: inputs.volts("v_min_controller"),
                max: inputs.volts("v_max_controller"),
                absolute_max: None,
                peak: None,
                continuous: None,
            };
            let cells = series_window(&inputs.cell(), &drive)?;
            json!({
                "s_max": cells.most,
                "s_min": cells.least,
                "module_counts": cells.module_counts(inputs.count("module_series")),
            })
        }
        "full_overshoot" => {
            let limit = inputs.volts("v_max_controller");
            let found = full_overshoot(inputs.volts("cell_v_max"), inputs.count("series"), limit);
            json!({
                "v_full": found.full.get(),
                "over_v": found.over.get(),
                "fits": found.fits,
                "cell_v_stop": found.cell_stop_v,
            })
        }
        "charger_window" => {
            let charger = ChargerWindow {
                min: Some(inputs.volts("charger_v_min")),
                max: inputs.volts("charger_v_max"),
            };
            let found = charger_reach(&inputs.cell(), inputs.count("series"), &charger);
            json!({
                "reaches_full": found.reaches_full,
                "starts_empty": found.starts_empty,
                "cell_v_reached": found.cell_reached_v,
            })
        }
        "voltage_class" => {
            json!({ "voltage_class": voltage_class(inputs.volts("v_max_dc"), Current::Dc).name() })
        }
        _ => return None,
    })
}

/// Numbers with a point by the tolerance, everything else exactly, lists item by item.
fn agrees(expected: &Value, got: &Value, tolerance: &Value) -> bool {
    match (expected, got) {
        (Value::Array(expected), Value::Array(got)) => {
            expected.len() == got.len() && expected.iter().zip(got).all(|(e, g)| agrees(e, g, tolerance))
        }
        (Value::Number(e), Value::Number(g)) if e.is_f64() => {
            let (Some(e), Some(g)) = (e.as_f64(), g.as_f64()) else {
                return false;
            };
            let part = |key: &str| tolerance.get(key).and_then(Value::as_f64).unwrap_or(0.0);
            (e - g).abs() <= (part("rel") * e.abs()).max(part("abs"))
        }
        _ => expected == got,
    }
}

#[test]
fn every_check_agrees_in_every_key() {
    let mut passed: BTreeMap<String, usize> = BTreeMap::new();
    let mut failed = Vec::new();
    let cases = cases();
    for check in cases["checks"].as_array().unwrap() {
        let kind = check["kind"].as_str().unwrap();
        let Some(got) = answer(kind, &Inputs(&check["inputs"])) else {
            continue;
        };
        for (key, expected) in check["expected"].as_object().unwrap() {
            if !agrees(expected, &got[key], &check["tolerance"]) {
                failed.push(format!(
                    "{} {kind} {key}: expected {expected}, got {}",
                    check["id"], got[key]
                ));
            }
        }
        *passed.entry(kind.to_owned()).or_default() += 1;
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    let kinds: Vec<&str> = passed.keys().map(String::as_str).collect();
    // None is passed over for a misspelt name.
    assert_eq!(
        kinds,
        [
            "charger_window",
            "controller_window",
            "full_overshoot",
            "pack_arithmetic",
            "pack_from_modules",
            "pack_resistance",
            "usable_energy",
            "voltage_class",
        ]
    );
}

#[test]
fn cell_limits_are_those_of_the_table() {
    let cases = cases();
    let table = &cases["tables"]["cell_limits"];
    let rows = table["rows"].as_object().unwrap();
    assert_eq!(rows.len(), Chemistry::ALL.len());
    for (name, row) in rows {
        let family = Chemistry::from_name(name).unwrap();
        let CellVolts { empty, nominal, full } = family.cell_volts();
        let volts = [empty, nominal, full, family.absolute_min()].map(Volts::get);
        assert_eq!(json!(volts), *row, "{name}");
        assert_eq!(table["known_by"][name], family.known_by(), "{name}");
    }
}

#[test]
fn the_voltage_class_names_its_standard() {
    let cases = cases();
    let rule = cases["rules"]
        .as_array()
        .unwrap()
        .iter()
        .find(|rule| rule["topic"] == "voltage classes")
        .unwrap();
    assert_eq!(rule["standard"], VoltageClass::SOURCE);
    assert_eq!(rule["known_by"], VoltageClass::KNOWN_BY);
}
