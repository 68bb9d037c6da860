//! How far a reading may be off.

use serde_json::{Map, Value, json};
use tape::Length;
use tape::reading::{
    Reading, Tape, TapeClass, combine_repeats, default_sigma, limits, limits_sigma, root_sum_square, worst_case,
};
use tape::show::{Fraction, Rounding, inches_bare};

use crate::compare::within;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};
use crate::read::numbered;

/// All cases of the section.
pub(super) fn cases<'a>(section: &str, file: &'a Value, value: &'a Value) -> Vec<Question<'a>> {
    let stated = &file["convention"]["tolerances"]["standard_deviation"];
    let off = stated.as_f64().unwrap_or(1e-5);
    let mut cases = Vec::new();
    let mut add = |id: &str, part: &'a Value, entry: &'a Value, expected: Value, work: Work| {
        let kind = id.split(' ').next().unwrap_or(id);
        let case = Question::of(section, entry, id)
            .of_kind(kind)
            .expecting(expected.clone())
            .sourced(Inputs(part));
        cases.push(case.worked_out(move || {
            let got = work(Inputs(entry))?;
            Ok(Outcome::compared(&expected, got, &within(off)))
        }));
    };
    let classes = &value["tape_classes"];
    for (name, row) in classes["table"].as_object().into_iter().flatten() {
        let named = |name: &str| format!("tape_classes {name}");
        match name.as_str() {
            "I" => add(&named(name), classes, row, row.clone(), |_| Ok(row_of(TapeClass::I))),
            "II" => add(&named(name), classes, row, row.clone(), |_| Ok(row_of(TapeClass::II))),
            "III" => add(&named(name), classes, row, row.clone(), |_| Ok(row_of(TapeClass::III))),
            _ => add(&named(name), classes, row, row.clone(), |_| Ok(json!({}))),
        }
    }
    for (id, example) in list(value, "examples") {
        let expected = only(example, |key| key.starts_with("class_"));
        add(&id, classes, example, expected, limits_of_classes);
    }
    for (id, budget) in list(value, "reading_budget") {
        let expected = only(budget, |key| !matches!(key, "inputs" | "how_known" | "source"));
        add(&id, &value["combining"], budget, expected, reading_budget);
    }
    let rectangular = &value["rectangular"];
    if rectangular.is_object() {
        let expected = only(&rectangular["example"], |key| key == "sigma");
        add(
            "rectangular",
            rectangular,
            &rectangular["example"],
            expected,
            rectangular_sigma,
        );
    }
    if value["combining"].is_object() {
        // By the rule itself: 3 and 4 make 5; of four readings the part of the tape, 3, stays, the rest, 4, is halved.
        let expected = json!({ "combined": 5.0, "mean_of_four": 13.0_f64.sqrt() });
        add("combining", &value["combining"], &value["combining"], expected, |_| {
            Ok(combining())
        });
    }
    for (id, example) in list(&value["stack_up"], "examples") {
        let expected = only(example, |key| {
            matches!(key, "worst_case" | "rss" | "worst_case_gap" | "rss_gap")
        });
        let id = id.replace("examples", "stack_up");
        add(&id, &value["stack_up"], example, expected, stack_up);
    }
    let metal = &value["us_metal_tapes"];
    if metal.is_object() {
        let expected = json!({ "table_in": metal["table_in"] });
        add("us_metal_tapes", metal, metal, expected, metal_tapes);
    }
    cases
}

/// Works out what is expected of an entry.
type Work = fn(Inputs<'_>) -> Clear<Value>;

/// The entries of a list that may not be there, with a name for each.
fn list<'a>(value: &'a Value, key: &str) -> Vec<(String, &'a Value)> {
    let entries = value[key].as_array().into_iter().flatten().enumerate();
    entries.map(|(index, entry)| (numbered(key, index), entry)).collect()
}

/// An entry with only some of its keys.
fn only(entry: &Value, keep: impl Fn(&str) -> bool) -> Value {
    let keys = entry.as_object().into_iter().flatten();
    let kept: Map<String, Value> = keys
        .filter(|(key, _)| keep(key))
        .map(|(key, value)| (key.clone(), value.clone()))
        .collect();
    kept.into()
}

fn tape(class: TapeClass, hook: bool) -> Tape {
    Tape {
        class,
        hook,
        ..Tape::default()
    }
}

/// The three figures of a class, from what they make of one and of two metres.
fn row_of(class: TapeClass) -> Value {
    let at = |metres: i64, hook| limits(Length::mm(1000) * metres, &tape(class, hook));
    let per_metre = at(2, false) - at(1, false);
    json!({
        "a_mm": (at(1, false) - per_metre).as_mm(),
        "b_mm_per_m": per_metre.as_mm(),
        "c_mm": (at(1, true) - at(1, false)).as_mm(),
    })
}

fn limits_of_classes(entry: Inputs<'_>) -> Clear<Value> {
    let length = metres(entry)?;
    let of = |class| {
        let from_hook = limits(length, &tape(class, true));
        json!({
            "mpe_mm": limits(length, &tape(class, false)).as_mm(),
            "mpe_with_end_surface_mm": from_hook.as_mm(),
            "sigma_mm_from_end_surface_limits": limits_sigma(from_hook).as_mm(),
        })
    };
    Ok(json!({
        "class_I": of(TapeClass::I),
        "class_II": of(TapeClass::II),
        "class_III": of(TapeClass::III),
    }))
}

fn metres(entry: Inputs<'_>) -> Clear<Length> {
    entry.float("length_m").map(|metres| Length::from_mm(metres * 1e3))
}

/// A reading from the hook.
fn reading_budget(entry: Inputs<'_>) -> Clear<Value> {
    let inputs = entry.part("inputs");
    let class = match inputs.text("tape_class")? {
        "I" => TapeClass::I,
        "II" => TapeClass::II,
        "III" => TapeClass::III,
        other => {
            return Err(Unclear(format!("tape_class {other} is none of I, II and III")));
        }
    };
    let tape = Tape {
        graduation: if inputs.has("graduation_in") {
            Length::from_mm(inputs.float("graduation_in")? * 25.4)
        } else {
            inputs.mm("graduation_mm")?
        },
        aim: inputs.mm("aim_limits_mm")?,
        ..tape(class, true)
    };
    let length = metres(inputs)?;
    let own = limits(length, &tape);
    let half = tape.graduation.half_down();
    let sigma = default_sigma(length, &tape);
    let aim = limits_sigma(tape.aim).as_mm();
    Ok(json!({
        "sigmas_mm": {
            "tape_limits": limits_sigma(own).as_mm(),
            "graduation_half_interval": limits_sigma(half).as_mm(),
            "aim_first_end": aim,
            "aim_second_end": aim,
        },
        "combined_sigma_mm": sigma.as_mm(),
        "combined_sigma_in": sigma.as_inches(),
        "worst_case_mm": worst_case(&[own, half, tape.aim, tape.aim].map(Length::as_mm)),
    }))
}

/// The limits over each row of the table: at its first and last foot and a hair over the foot before.
fn metal_tapes(entry: Inputs<'_>) -> Clear<Value> {
    let tape = tape(TapeClass::UsMetal, true);
    let row = |row: &Value| {
        let feet = Inputs(row).text("from_zero_ft")?;
        let unclear = || Unclear(format!("{feet} should be feet, as 6 or less, or 7 to 30"));
        let number = |text: &str| text.parse::<i64>().map_err(|_| unclear());
        let (least, most) = match feet.strip_suffix(" or less") {
            Some(most) => (1, number(most)?),
            None => {
                let (least, most) = feet.split_once(" to ").ok_or_else(unclear)?;
                (number(least)?, number(most)?)
            }
        };
        let foot = Length::inches(12);
        let lengths = [foot * (least - 1) + Length::from_nm(1), foot * least, foot * most];
        let mut told =
            lengths.map(|length| inches_bare(limits(length, &tape), Fraction::SixtyFourth, Rounding::Nearest));
        told.sort();
        let tolerance = if told[0] == told[2] {
            told[0].clone()
        } else {
            told.join(", ")
        };
        Ok(json!({ "from_zero_ft": feet, "tolerance_in": tolerance }))
    };
    let rows: Clear<Vec<Value>> = entry.list("table_in")?.iter().map(row).collect();
    Ok(json!({ "table_in": rows? }))
}

fn rectangular_sigma(example: Inputs<'_>) -> Clear<Value> {
    Ok(json!({ "sigma": limits_sigma(example.mm("a")?).as_mm() }))
}

fn combining() -> Value {
    let reading = Reading {
        value: Length::mm(1000),
        sigma: Length::mm(5),
        common: Length::mm(3),
    };
    let mean = combine_repeats(&[reading; 4]).expect("there are readings");
    json!({
        "combined": root_sum_square(&[3.0, 4.0]),
        "mean_of_four": mean.sigma.as_mm(),
    })
}

fn stack_up(example: Inputs<'_>) -> Clear<Value> {
    let tolerances: Option<Vec<f64>> = example.list("tolerances")?.iter().map(Value::as_f64).collect();
    let tolerances = tolerances.ok_or_else(|| Unclear("tolerances should be numbers".to_owned()))?;
    let (worst, rss) = (worst_case(&tolerances), root_sum_square(&tolerances));
    let mut got = json!({ "worst_case": worst, "rss": rss });
    if example.has("nominal_gap") {
        let gap = example.float("nominal_gap")?;
        got["worst_case_gap"] = json!([gap - worst, gap + worst]);
        got["rss_gap"] = json!([gap - rss, gap + rss]);
    }
    Ok(got)
}
