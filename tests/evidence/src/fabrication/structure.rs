//! Strength of panels and bolts, sealing, and what can be bent.

use enclosure::bend_limits;
use enclosure::seal::{self, ip};
use enclosure::strength::beam::Strip;
use enclosure::strength::bolt::grade::{Grade, NEWTONS_PER_LBF};
use enclosure::strength::bolt::mount::{Mount, Pull};
use enclosure::strength::bolt::{Bolt, Pitch};
use enclosure::strength::crash::{Direction, LoadSet, SETS, SHOCK_PULSES};
use enclosure::strength::plate::{self, Edges, Panel};
use serde_json::{Map, Value, json};
use tape::Length;

use super::Entry;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::Outcome;

const MM2_PER_IN2: f64 = 645.16;

/// A panel, a strip, a bolt, a mount, or load factors, by what is asked and given.
pub(super) fn strength(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let asked = |key: &str| entry.expected.get(key).is_some();
    if inputs.has("a_over_b") {
        coefficients(entry)
    } else if inputs.has("edges") {
        panel(entry)
    } else if inputs.has("w_N_per_mm") {
        strip(entry)
    } else if inputs.has("bolts") {
        mount(entry)
    } else if inputs.has("thread") {
        bolt(entry)
    } else if asked("g") {
        Ok(entry.compared(fixing_factors()))
    } else if asked("front_g") {
        Ok(entry.compared(conversions()))
    } else if asked("M1/N1") {
        Ok(entry.compared(shock_pulses()))
    } else {
        Ok(Outcome::not_yet("unknown kind"))
    }
}

/// Poisson's ratio of the tables that coefficients are compared with, where the entry names none.
const TABLE_NU: f64 = 0.3;

fn coefficients(entry: &Entry<'_>) -> Clear<Outcome> {
    let clamped = entry.expected.get("beta_edge").is_some();
    let edges = if clamped { Edges::Clamped } else { Edges::Simple };
    let nu = entry.inputs.float("nu").unwrap_or(TABLE_NU);
    let ratios = entry.inputs.list("a_over_b")?.iter().filter_map(Value::as_f64);
    let (alpha, beta): (Vec<f64>, Vec<f64>) = ratios
        .map(|ratio| plate::coefficients(edges, ratio, nu))
        .map(|both| (both.alpha, both.beta))
        .unzip();
    let beta_key = if clamped { "beta_edge" } else { "beta" };
    Ok(entry.compared(json!({ "alpha": alpha, beta_key: beta })))
}

fn panel(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let edges = match inputs.text("edges")? {
        "simple" => Edges::Simple,
        "clamped" => Edges::Clamped,
        other => return Err(Unclear(format!("edges {other} are neither simple nor clamped"))),
    };
    let sides = [inputs.mm("a_mm")?, inputs.mm("b_mm")?];
    let panel = Panel::new(sides, inputs.mm("t_mm")?, edges)
        .map_err(|refusal| Unclear(format!("the panel is refused: {refusal}")))?;
    let pressure = panel.pressure_mpa(inputs.float("mass_kg")?, inputs.float("g_factor")?);
    let bent = panel.under(pressure, inputs.float("E_MPa")?, inputs.float("nu")?);
    Ok(entry.compared(json!({
        "pressure_MPa": pressure,
        "alpha": bent.alpha,
        "deflection_mm": bent.deflection_mm,
        "stress_MPa": bent.stress_mpa,
        "small_deflection_valid": bent.small_deflection_valid,
    })))
}

fn strip(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let strip = Strip {
        span: inputs.mm("span_mm")?,
        width: inputs.mm("width_mm")?,
        thickness: inputs.mm("t_mm")?,
    };
    let bent = strip.under(inputs.float("w_N_per_mm")?, inputs.float("E_MPa")?);
    Ok(entry.compared(json!({ "deflection_mm": bent.deflection_mm, "stress_MPa": bent.stress_mpa })))
}

/// Stress area and proof load; a metric pitch has to be that of the list.
fn bolt(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let name = inputs.text("thread")?;
    let Some(bolt) = Bolt::named(name) else {
        return Ok(Outcome::not_yet(format!("no bolt {name}")));
    };
    if inputs.has("pitch_mm") && bolt.pitch != Pitch::Metric(inputs.mm("pitch_mm")?) {
        return Ok(Outcome::not_yet(format!(
            "{name} with another pitch than the coarse one"
        )));
    }
    let Some(grade) = grade(inputs)? else {
        return Ok(Outcome::not_yet("another class than 8.8, 10.9, grade 5 and 8"));
    };
    let [area, load] = [bolt.stress_area_mm2(), grade.proof_load(bolt).force_n];
    Ok(entry.compared(json!({
        "stress_area_mm2": area,
        "proof_load_N": load,
        "stress_area_in2": area / MM2_PER_IN2,
        "proof_load_lbf": load / NEWTONS_PER_LBF,
    })))
}

/// The class or grade, by the number it is written as.
fn grade(inputs: Inputs<'_>) -> Clear<Option<Grade>> {
    let (key, before) = if inputs.has("grade") {
        ("grade", "grade ")
    } else {
        ("class", "")
    };
    let name = format!("{before}{}", inputs.float(key)?);
    Ok(Grade::ALL.into_iter().find(|grade| grade.name() == name))
}

fn mount(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let ultimate = inputs.float("fub_MPa")?;
    let of_that_strength = |grade: &Grade| (grade.ultimate_mpa() - ultimate).abs() < 1e-9;
    let Some(grade) = Grade::ALL.into_iter().find(of_that_strength) else {
        return Ok(Outcome::not_yet(format!("no bolts of {ultimate} MPa")));
    };
    let mount = Mount {
        bolts: inputs.count("bolts")?,
        grade,
        area_mm2: inputs.float("stress_area_mm2")?,
    };
    let shared = mount.share(Pull::Shear, inputs.float("mass_kg")?, inputs.float("g_factor")?);
    Ok(entry.compared(json!({
        "force_N": shared.force_n,
        "per_bolt_N": shared.per_bolt_n,
        "shear_resistance_per_bolt_N": shared.resistance_n,
        "min_bolts": shared.least_bolts,
        "ok": shared.enough(mount.bolts),
    })))
}

fn g(set: &LoadSet, direction: Direction) -> Option<f64> {
    set.factor(direction).map(|factor| factor.g)
}

/// The sets by vehicle category. Along the truck is told once, so both ways have to be the same.
fn fixing_factors() -> Value {
    let categories = ["M1/N1", "M2/N2", "M3/N3"];
    let sets: Map<String, Value> = categories
        .into_iter()
        .zip(&SETS)
        .map(|(category, set)| {
            let [front, rear] = [Direction::Front, Direction::Rear].map(|direction| g(set, direction));
            let travel = front.filter(|_| front == rear);
            (
                category.to_owned(),
                json!({ "travel": travel, "side": g(set, Direction::Side) }),
            )
        })
        .collect();
    json!({ "g": sets })
}

fn conversions() -> Value {
    let set = SETS.iter().find(|set| set.name == "Australian conversions");
    let by = |direction| set.and_then(|set| g(set, direction));
    let [up, down] = [Direction::Up, Direction::Down].map(by);
    json!({
        "front_g": by(Direction::Front),
        "side_g": by(Direction::Side),
        "rear_g": by(Direction::Rear),
        "vertical_g": up.filter(|_| up == down),
    })
}

fn shock_pulses() -> Value {
    let pulses: Map<String, Value> = SHOCK_PULSES
        .iter()
        .map(|pulse| {
            let plateau = json!({ "longitudinal": pulse.longitudinal, "transverse": pulse.transverse });
            (pulse.categories.to_owned(), plateau)
        })
        .collect();
    Value::Object(pulses)
}

/// Bolt pitch, IP codes, bonding, breathing, or the force on a lid, by what is asked.
pub(super) fn sealing(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let asked = |key: &str| entry.expected.get(key).is_some();
    let got = if asked("max_pitch_mm") {
        let pitch = seal::widest_pitch(inputs.mm("bolt_d_mm")?, inputs.mm("flange_t_mm")?, inputs.float("m")?);
        json!({ "max_pitch_mm": pitch.as_mm() })
    } else if asked("first") || asked("second") || asked("letters") {
        json!({ "first": words(&ip::FIRST), "second": words(&ip::SECOND), "letters": words(&ip::LETTERS) })
    } else if asked("max_ohm") {
        json!({ "max_ohm": seal::BONDING.below_ohm, "test_current_A_min": seal::BONDING.least_test_a })
    } else if inputs.has("free_air_l") {
        let [litres, from, to, minutes] = ["free_air_l", "T1_K", "T2_K", "minutes"].map(|key| inputs.float(key));
        let breath = seal::breath(litres?, from?, to?, minutes?);
        json!({
            "volume_l": breath.volume_l,
            "flow_ml_per_min": breath.flow_ml_per_min,
            "pressure_if_sealed_kPa": breath.pressure_if_sealed_kpa,
        })
    } else if inputs.has("height_m") {
        json!({ "kPa": seal::air::atmosphere_kpa(inputs.float("height_m")?) })
    } else if inputs.has("warmed_K") {
        let over = seal::air::trapped_kpa(inputs.float("warmed_K")?, inputs.float("climbed_m")?);
        json!({ "over_kPa": over })
    } else if inputs.has("kPa") {
        let sides = [inputs.mm("L_mm")?, inputs.mm("W_mm")?];
        json!({ "N": seal::lid_force_n(sides, inputs.float("kPa")?) })
    } else {
        return Ok(Outcome::not_yet("unknown kind"));
    };
    Ok(entry.compared(got))
}

fn words(list: &[ip::Meaning]) -> Map<String, Value> {
    let word = |meaning: &ip::Meaning| (meaning.mark.to_string(), json!(meaning.short));
    list.iter().map(word).collect()
}

/// The die for a sheet, its radius, and both shortest flanges.
pub(super) fn v_die(entry: &Entry<'_>) -> Clear<Outcome> {
    let die = bend_limits::v_die(entry.inputs.mm("t")?);
    Ok(entry.compared(json!({
        "V": die.opening.as_mm(),
        "r_air": die.inside_radius.as_mm(),
        "min_flange_rule": die.least_flange_by_rule.as_mm(),
        "min_flange_die_geometry": die.least_flange_in_die.as_mm(),
    })))
}

/// The least relief holes, at the ends of the ranges of sheet that each is for.
pub(super) fn relief_hole(entry: &Entry<'_>) -> Outcome {
    let least = |inches: f64| {
        let hole = bend_limits::relief_hole(Length::from_mm(inches * 25.4), Length::ZERO);
        hole.least.as_inches()
    };
    let same = |from: f64, to: f64| Some(least(to)).filter(|at_end| (at_end - least(from)).abs() < 1e-9);
    entry.compared(json!({
        "min_dia_in_to_0.064": same(0.020, 0.064),
        "min_dia_in_0.072_to_0.128": same(0.072, 0.128),
    }))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::Verdict;

    #[rstest]
    #[case::die(v_die, json!({"V": 24, "r_air": 3.84, "min_flange_rule": 9.84, "min_flange_die_geometry": 16.971}))]
    #[case::hole(|entry: &Entry<'_>| Ok(relief_hole(entry)), json!({"min_dia_in_to_0.064": 0.125, "min_dia_in_0.072_to_0.128": 0.1875}))]
    fn dies_and_relief_holes_are_compared_under_the_names_of_the_checks(
        #[case] work: super::super::Work,
        #[case] expected: Value,
    ) {
        let (inputs, tolerance) = (json!({"t": 3}), json!({"abs": 0.001}));
        let entry = Entry {
            what: "",
            inputs: Inputs(&inputs),
            expected,
            tolerance: &tolerance,
        };
        assert_eq!(work(&entry).map(|outcome| outcome.verdict), Ok(Verdict::Pass));
    }
}
