//! The order of the wiring.

use pack::wiring::{
    Goal, Joined, Module, Place, Proof, Question as Wiring, WORK, best_places, disconnected, link_counts, order,
};
use serde_json::{Value, json};

use super::{Answer, volts};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "link_counts" => counts,
        "mid_disconnect" => middle,
        "neighbour_voltage" => neighbours,
        _ => return None,
    })
}

fn odd(key: &str) -> Unclear {
    Unclear(format!("{key} makes no sense"))
}

fn whole_numbers(inputs: Inputs<'_>, key: &str) -> Clear<Vec<u32>> {
    let number = |v: &Value| v.as_u64().and_then(|n| u32::try_from(n).ok()).ok_or_else(|| odd(key));
    inputs.list(key)?.iter().map(number).collect()
}

fn counts(inputs: Inputs<'_>) -> Clear<Value> {
    let found = link_counts(
        &whole_numbers(inputs, "groups_per_box")?,
        inputs.count("modules_parallel")?,
    );
    Ok(json!({
        "in_box": found.in_box,
        "between_boxes": found.between_boxes,
        "series_joins": found.series_joins,
        "parallel_links": found.parallel_links,
        "box_terminals": found.box_terminals,
    }))
}

fn middle(inputs: Inputs<'_>) -> Clear<Value> {
    let (series, after) = (inputs.count("modules_series")?, inputs.count("after")?);
    let module = volts(inputs, "module_v_max")?;
    let found = disconnected(series, after, module);
    let best = best_places(series);
    let best_volts = best.first().map(|&k| disconnected(series, k, module).largest().get());
    Ok(json!({
        "v_first": found.halves[0].get(),
        "v_second": found.halves[1].get(),
        "v_largest": found.largest().get(),
        "best_k": best,
        "v_largest_best": best_volts,
        "all_halves_class_A": found.class_a,
    }))
}

/// A grid of modules that touch, one along the chain after the other: worked out as any layout is.
fn neighbours(inputs: Inputs<'_>) -> Clear<Value> {
    let columns = i64::from(inputs.count("columns")?.max(1));
    let chain: Vec<usize> = whole_numbers(inputs, "chain")?
        .into_iter()
        .map(|n| n as usize)
        .collect();
    let modules: Vec<Module> = (0..)
        .zip(&chain)
        .map(|(i, _): (i64, _)| {
            let low = [i % columns * 10, i / columns * 10, 0];
            Module {
                plus: low,
                minus: low,
                body: [low, [low[0] + 10, low[1] + 10, 10]],
                in_box: 0,
                may_turn: false,
            }
        })
        .collect();
    let question = Wiring {
        series: modules.len(),
        ..asked(&modules)
    };
    let order = pack::wiring::Order {
        turned: vec![false; modules.len()],
        order: chain,
    };
    let (steps, _) = pack::wiring::worst_neighbours(&question, &order).ok_or_else(|| odd("chain"))?;
    let steps = u32::try_from(steps).map_err(|_| odd("chain"))?;
    let worst = volts(inputs, "module_v_max")? * steps;
    Ok(json!({ "worst_steps": steps, "worst_v": worst.get() }))
}

fn asked(modules: &[Module]) -> Wiring<'_> {
    Wiring {
        modules,
        series: modules.len(),
        parallel: 1,
        joined: Joined::Strings,
        exits: [None, None],
        disconnect: None,
        locks: &[],
        reach: 0,
    }
}

/// Millimetres of the file as nanometres, flat on the ground.
fn place(value: &Value, key: &str) -> Clear<Place> {
    let number = |i: usize| value[i].as_i64().ok_or_else(|| odd(key));
    Ok([number(0)? * 1_000_000, number(1)? * 1_000_000, 0])
}

/// A layout to be wired: the length has to be proved.
pub(super) fn instance<'a>(entry: &'a Value, fallback: &str) -> Question<'a> {
    Question::of("wiring_instances", entry, fallback)
        .of_kind("wiring_instances")
        .worked_out(move || {
            let inputs = Inputs(entry);
            let may_turn = entry["flips_allowed"].as_bool().unwrap_or(false);
            let modules: Vec<Module> = inputs
                .list("modules")?
                .iter()
                .map(|m| {
                    let (plus, minus) = (place(&m["pos"], "pos")?, place(&m["neg"], "neg")?);
                    Ok(Module {
                        plus,
                        minus,
                        body: [plus, plus],
                        in_box: 0,
                        may_turn,
                    })
                })
                .collect::<Clear<_>>()?;
            let at = |key| inputs.has(key).then(|| place(&entry[key], key)).transpose();
            let question = Wiring {
                exits: [at("pack_neg")?, at("pack_pos")?],
                disconnect: at("mid_disconnect")?,
                ..asked(&modules)
            };
            let found = order(&question, Goal::Shortest, WORK, &mut |_| true).ok_or_else(|| odd("modules"))?;
            if found.proof != Proof::Proved {
                return Ok(Outcome::not_yet("found, but not proved"));
            }
            let got = json!({ "min_total_length_mm": found.length / 1_000_000 });
            Ok(Outcome::compared(&entry["expected"], got, &|_, _| 0.0))
        })
}
