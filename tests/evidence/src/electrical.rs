//! Checks of pack electrics.

mod conductors;
mod load;
mod matching;
mod protection;
mod rest;
mod tables;
mod wiring;

use pack::arithmetic::{
    charger_reach, full_overshoot, pack_resistance, series_window, units_resistance, usable_energy,
};
use pack::arrangement::{Arrangement, Figures, figures};
use pack::hazard::{Current, voltage_class};
use pack::window::{ChargerWindow, DriveWindow};
use pack::{AmpHours, CellVolts, Module, Ohms, Volts, WattHours};
use serde_json::{Value, json};

use crate::compare::integers_exact;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};
use crate::read::Section;

/// Works out every expected key of a check from its inputs.
type Answer = fn(Inputs<'_>) -> Clear<Value>;

/// How a kind of check is answered; `None` when the kind is none of ours.
fn kind_of(kind: &str) -> Option<Answer> {
    Some(match kind {
        "pack_arithmetic" => pack_arithmetic,
        "pack_from_modules" => pack_from_modules,
        "usable_energy" => usable,
        "pack_resistance" => resistance,
        "controller_window" => controller_window,
        "full_overshoot" => overshoot,
        "charger_window" => charger_window,
        "voltage_class" => class,
        other => {
            return load::answer(other)
                .or_else(|| conductors::answer(other))
                .or_else(|| protection::answer(other))
                .or_else(|| matching::answer(other))
                .or_else(|| wiring::answer(other))
                .or_else(|| rest::answer(other));
        }
    })
}

/// The case of a check of this topic; `None` when the kind is none of ours.
pub(crate) fn check<'a>(kind: &str, entry: &'a Value, fallback: &str) -> Option<Question<'a>> {
    let answer = kind_of(kind)?;
    Some(Question::of("checks", entry, fallback).worked_out(move || {
        let got = answer(Inputs(&entry["inputs"]))?;
        let allowed = integers_exact(&entry["tolerance"]);
        Ok(Outcome::compared(&entry["expected"], got, &allowed))
    }))
}

/// The cases of the other sections.
pub(crate) fn section<'a>(section: &str, value: &'a Value) -> Section<'a> {
    let case: fn(&'a Value, &str) -> Question<'a> = match section {
        "tables" => return tables::tables(value).map(Some),
        "partition_literature" => |entry, fallback| matching::literature(entry, fallback),
        "partition_instances" => |entry, fallback| matching::instance(entry, fallback),
        "wiring_instances" => |entry, fallback| wiring::instance(entry, fallback),
        _ => return Ok(None),
    };
    let entries = crate::read::entries(section, value)?.iter().enumerate();
    Ok(Some(
        entries
            .map(|(index, entry)| case(entry, &crate::read::numbered(section, index)))
            .collect(),
    ))
}

fn pack_arithmetic(inputs: Inputs<'_>) -> Clear<Value> {
    let found = figures(&module(inputs, 1, 1)?, arrangement(inputs)?);
    Ok(json!({
        "cells": found.cells.0 * found.cells.1,
        "v_min": found.volts.empty.get(),
        "v_nom": found.volts.nominal.get(),
        "v_max": found.volts.full.get(),
        "Ah": found.capacity.get(),
        "kWh_nominal": found.energy.kwh(),
    }))
}

fn pack_from_modules(inputs: Inputs<'_>) -> Clear<Value> {
    let arrangement = Arrangement {
        series: inputs.count("ms")?,
        parallel: inputs.count("mp")?,
    };
    let module = module(inputs, inputs.count("mod_s")?, inputs.count("mod_p")?)?;
    let Figures {
        volts,
        capacity,
        energy,
        cells,
        ..
    } = figures(&module, arrangement);
    let [each, link, cables] = ["module_mohm", "link_mohm", "cable_mohm"].map(|key| milliohms(inputs, key));
    let resistance = pack_resistance(each?, arrangement, link?, cables?);
    Ok(json!({
        "modules": arrangement.modules(),
        "series": cells.0,
        "parallel": cells.1,
        "v_min": volts.empty.get(),
        "v_nom": volts.nominal.get(),
        "v_max": volts.full.get(),
        "Ah": capacity.get(),
        "kWh_nominal": energy.kwh(),
        "r_pack_mohm": resistance.milliohms(),
    }))
}

fn usable(inputs: Inputs<'_>) -> Clear<Value> {
    let energy = WattHours::nearest(inputs.float("kWh_nominal")? * 1000.0);
    let [health, low, high] = ["soh", "soc_lo", "soc_hi"].map(|key| inputs.float(key));
    Ok(json!({ "kWh_usable": usable_energy(energy, health?, low?, high?).kwh() }))
}

fn resistance(inputs: Inputs<'_>) -> Clear<Value> {
    let each = milliohms(inputs, "cell_mohm")?;
    Ok(json!({ "r_pack_mohm": units_resistance(each, arrangement(inputs)?).milliohms() }))
}

fn controller_window(inputs: Inputs<'_>) -> Clear<Value> {
    let drive = DriveWindow {
        min: volts(inputs, "v_min_controller")?,
        max: volts(inputs, "v_max_controller")?,
        absolute_max: None,
        peak: None,
        continuous: None,
        returns: None,
    };
    let cells =
        series_window(&cell(inputs)?, &drive).ok_or_else(|| Unclear("cell volts should be above zero".to_owned()))?;
    Ok(json!({
        "s_max": cells.most,
        "s_min": cells.least,
        "module_counts": cells.module_counts(inputs.count("module_series")?),
    }))
}

fn overshoot(inputs: Inputs<'_>) -> Clear<Value> {
    let found = full_overshoot(
        volts(inputs, "cell_v_max")?,
        inputs.count("series")?,
        volts(inputs, "v_max_controller")?,
    );
    Ok(json!({
        "v_full": found.full.get(),
        "over_v": found.over.get(),
        "fits": found.fits,
        "cell_v_stop": found.cell_stop_v,
    }))
}

fn charger_window(inputs: Inputs<'_>) -> Clear<Value> {
    let least = inputs.has("charger_v_min");
    let charger = ChargerWindow {
        min: least.then(|| volts(inputs, "charger_v_min")).transpose()?,
        max: volts(inputs, "charger_v_max")?,
        amps: None,
    };
    let found = charger_reach(&cell(inputs)?, inputs.count("series")?, &charger);
    Ok(json!({
        "reaches_full": found.reaches_full,
        "starts_empty": found.starts_empty,
        "cell_v_reached": found.cell_reached_v,
    }))
}

fn class(inputs: Inputs<'_>) -> Clear<Value> {
    let class = voltage_class(volts(inputs, "v_max_dc")?, Current::Dc);
    Ok(json!({ "voltage_class": class.name() }))
}

fn volts(inputs: Inputs<'_>, key: &str) -> Clear<Volts> {
    inputs.float(key).map(Volts::nearest)
}

fn milliohms(inputs: Inputs<'_>, key: &str) -> Clear<Ohms> {
    inputs.float(key).map(Ohms::nearest_milliohms)
}

fn arrangement(inputs: Inputs<'_>) -> Clear<Arrangement> {
    Ok(Arrangement {
        series: inputs.count("series")?,
        parallel: inputs.count("parallel")?,
    })
}

/// Volts of a cell; those that a check does not give are zero, and nothing expected of it rests on them.
fn cell(inputs: Inputs<'_>) -> Clear<CellVolts> {
    let given = |key| {
        if inputs.has(key) {
            volts(inputs, key)
        } else {
            Ok(Volts::default())
        }
    };
    Ok(CellVolts {
        empty: given("cell_v_min")?,
        nominal: given("cell_v_nom")?,
        full: given("cell_v_max")?,
    })
}

fn module(inputs: Inputs<'_>, cells_series: u32, cells_parallel: u32) -> Clear<Module> {
    Ok(Module {
        cells_series,
        cells_parallel,
        volts: cell(inputs)?.in_series(cells_series),
        capacity: AmpHours::nearest(inputs.float("cell_Ah")?) * cells_parallel,
        continuous: None,
        peak: None,
        charge: None,
    })
}
