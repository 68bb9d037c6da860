//! Matching units into groups.

use pack::matching::{
    Goal, Matching, Proof, WORK, current_share, divide_freely, joining, lot_spread, match_groups, settled_charge,
    weakest_group,
};
use serde_json::{Value, json};

use super::Answer;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

pub(super) fn answer(kind: &str) -> Option<Answer> {
    Some(match kind {
        "parallel_join" => parallel_join,
        "current_share" => share,
        "weakest_group" => weakest,
        "lot_spread" => spread,
        _ => return None,
    })
}

fn odd(what: &str) -> Unclear {
    Unclear(format!("{what} makes no sense"))
}

fn floats(inputs: Inputs<'_>, key: &str) -> Clear<Vec<f64>> {
    let list = inputs.list(key)?.iter().map(Value::as_f64);
    list.collect::<Option<_>>()
        .ok_or_else(|| Unclear(format!("{key} should be numbers")))
}

fn pair(inputs: Inputs<'_>, keys: [&str; 2]) -> Clear<[f64; 2]> {
    Ok([inputs.float(keys[0])?, inputs.float(keys[1])?])
}

fn parallel_join(inputs: Inputs<'_>) -> Clear<Value> {
    let amp_hours = pair(inputs, ["ah1", "ah2"])?;
    let volts = pair(inputs, ["v1", "v2"])?;
    let milliohms = pair(inputs, ["r1_mohm", "r2_mohm"])?;
    let found = joining(volts, milliohms, inputs.float("r_lead_mohm")?, amp_hours).ok_or_else(|| odd("r1_mohm"))?;
    let (settled, moved) = settled_charge(amp_hours, pair(inputs, ["soc1", "soc2"])?);
    Ok(json!({
        "i0_a": found.amps,
        "c_rate_small": found.c_rate,
        "soc_final": settled,
        "ah_moved": moved,
        "heat_initial_W": found.heat_w,
    }))
}

fn share(inputs: Inputs<'_>) -> Clear<Value> {
    let found = current_share(inputs.float("i_a")?, &floats(inputs, "r_mohm")?, &floats(inputs, "ah")?)
        .ok_or_else(|| odd("r_mohm"))?;
    Ok(json!({
        "currents_a": found.amps,
        "r_group_mohm": found.milliohms,
        "worst_c_rate": found.worst_c_rate,
    }))
}

fn weakest(inputs: Inputs<'_>) -> Clear<Value> {
    let volts = inputs.float("cell_v_nom")? * f64::from(inputs.count("cells_per_group_series")?);
    let groups = floats(inputs, "group_ah")?;
    let found = weakest_group(&groups, volts, inputs.float("window")?).ok_or_else(|| odd("group_ah"))?;
    Ok(json!({
        "ah_usable": found.amp_hours,
        "kWh_usable": found.kwh,
        "kWh_if_equal": found.kwh_if_equal,
        "loss_fraction": found.loss,
        "limiting_group_index": found.group,
    }))
}

fn spread(inputs: Inputs<'_>) -> Clear<Value> {
    let rated = inputs.float("rated_ah")?;
    let found =
        lot_spread(&floats(inputs, "ah")?, rated, inputs.float("reject_below_soh")?).ok_or_else(|| odd("ah"))?;
    Ok(json!({
        "mean_ah": found.mean,
        "sd_ah": found.deviation,
        "cv": found.variation,
        "range_fraction": found.range,
        "mean_soh": found.mean_health,
        "min_soh": found.least_health,
        "rejected": found.rejected,
    }))
}

/// A lot of units to be put into groups: every value has to be proved, not only reached.
pub(super) fn instance<'a>(entry: &'a Value, fallback: &str) -> Question<'a> {
    Question::of("partition_instances", entry, fallback)
        .of_kind("partition_instances")
        .about("the weakest group as strong as can be, then groups as alike as can be".to_owned())
        .worked_out(move || {
            let inputs = Inputs(entry);
            let units: Vec<i64> = inputs
                .list("capacities")?
                .iter()
                .map(|c| c.as_i64().ok_or_else(|| odd("capacities")))
                .collect::<Clear<_>>()?;
            let groups = inputs.count("series_groups")? as usize;
            let each = inputs.count("parallel_per_group")? as usize;
            let find = |goal| match_groups(&units, &[], groups, each, goal, WORK).ok_or_else(|| odd("series_groups"));
            let (strongest, alike) = (find(Goal::Strongest)?, find(Goal::Alike)?);
            let proved = |m: &Matching| m.proof == Proof::Proved;
            if !proved(&strongest) || !proved(&alike) {
                return Ok(Outcome::not_yet("found, but not proved"));
            }
            let got = json!({
                "max_min_sum": strongest.smallest(),
                "spread_at_max_min": strongest.spread(),
                "min_spread": alike.spread(),
            });
            Ok(Outcome::compared(&entry["expected"], got, &|_, _| 0.0))
        })
}

/// Numbers in groups of any size.
pub(super) fn literature<'a>(entry: &'a Value, fallback: &str) -> Question<'a> {
    let expected = entry["optimum"].clone();
    Question::of("partition_literature", entry, fallback)
        .of_kind("partition_literature")
        .about("numbers in groups of any size".to_owned())
        .expecting(expected.clone())
        .worked_out(move || {
            let inputs = Inputs(entry);
            let numbers: Vec<i64> = inputs.list("numbers")?.iter().filter_map(Value::as_i64).collect();
            let found = divide_freely(&numbers, inputs.count("groups")? as usize).ok_or_else(|| odd("numbers"))?;
            let got = json!({
                "min_largest": found.largest,
                "max_smallest": found.smallest,
                "min_spread": found.spread,
            });
            Ok(Outcome::compared(&expected, got, &|_, _| 0.0))
        })
}
