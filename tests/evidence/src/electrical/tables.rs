//! The tables that other checks read: each compared cell by cell with the one that a crate carries.

use pack::CellVolts;
use pack::Volts;
use pack::chemistry::Chemistry;
use pack::conductor::ampacity::{self, Table};
use pack::conductor::{Metal, awg, bar, class5};
use pack::protection::{adiabatic, distance, fuse};
use pack::source::Source;
use serde_json::{Map, Value, json};

use crate::compare::within;
use crate::question::{Outcome, Question};
use crate::read::Misshapen;

/// One case for each row of the cell limits, one for each other table.
pub(super) fn tables(value: &Value) -> Result<Vec<Question<'_>>, Misshapen> {
    let tables = value
        .as_object()
        .ok_or_else(|| Misshapen("tables should be an object".to_owned()))?;
    let mut questions = Vec::new();
    for (name, table) in tables {
        match table["rows"].as_object() {
            Some(rows) if name == "cell_limits" => {
                questions.extend(rows.iter().map(|row| cell_limits(table, row)));
            }
            _ => questions.push(one(name, table)),
        }
    }
    Ok(questions)
}

fn one<'a>(name: &str, table: &'a Value) -> Question<'a> {
    let question = Question::of("tables", table, name).of_kind("table");
    let Some(carried) = carried(name) else {
        return question.not_yet("a table that no crate carries");
    };
    // Of a table with rows the rows and how they are known; of one without, what it holds.
    let keys: Vec<&String> = carried.as_object().into_iter().flat_map(Map::keys).collect();
    let expected: Map<String, Value> = keys.iter().map(|&key| (key.clone(), table[key].clone())).collect();
    let expected = Value::Object(expected);
    question
        .about(format!("the table {name} as a crate carries it"))
        .expecting(expected.clone())
        .worked_out(move || Ok(Outcome::compared(&expected, carried.clone(), &within(1e-9))))
}

fn known(source: &Source) -> &'static str {
    source.known_by.name()
}

/// What a crate carries of the table with that name, in the shape of the file.
fn carried(name: &str) -> Option<Value> {
    Some(match name {
        "awg" => json!({
            "rho20_ohm_mm2_per_m": Metal::Copper.resistivity(),
            "known_by": known(&awg::SOURCE),
        }),
        "resistivity_20C" => json!({
            "rows": by_metal(|metal| json!(metal.resistivity())),
            "known_by": by_metal(|metal| json!(known(&metal.resistivity_source()))),
        }),
        "temperature_coefficient" => json!({
            "rows": by_metal(|metal| json!(metal.per_kelvin())),
            "known_by": known(&Metal::PER_KELVIN_SOURCE),
        }),
        "class5_max_resistance" => json!({
            "rows": object(class5::ROWS.iter().map(|row| (row.0.to_string(), json!([row.1, row.2])))),
            "known_by": known(&class5::SOURCE),
        }),
        "nec_310_16" => nec(),
        "single_flexible_cable" => json!({
            "rows": plain(&ampacity::SINGLE_FLEXIBLE),
            "known_by": known(&ampacity::SINGLE_FLEXIBLE.source),
            "conditions": ampacity::SINGLE_FLEXIBLE.conditions,
        }),
        "iec_method_F_touching" => json!({
            "ambient_C": ampacity::METHOD_F_70.columns,
            "rows": {
                "conductor_70C": plain(&ampacity::METHOD_F_70),
                "conductor_90C": plain(&ampacity::METHOD_F_90),
            },
            "known_by": known(&ampacity::METHOD_F_70.source),
            "conditions": ampacity::METHOD_F_70.conditions,
        }),
        "k_factors" => json!({
            "rows": object(adiabatic::ALL.iter().map(|i| (i.key.to_owned(), json!({
                "B": i.beta, "Qc": i.heat_capacity, "rho20": i.rho20,
                "t_initial": i.initial_c, "t_final": i.final_c, "k": i.k,
            })))),
            "known_by": known(&adiabatic::SOURCE),
        }),
        "fuse_ratings" => json!({ "rows": fuse::RATINGS, "known_by": known(&fuse::RATINGS_SOURCE) }),
        "busbar_rating" => json!({ "known_by": {
            "formula": known(&bar::RATING_SOURCE),
            "quick_rule": known(&bar::QUICK_SOURCE),
            "rescale": known(&bar::RESCALE_SOURCE),
        } }),
        "creepage_mm" => json!({
            "rows": object(distance::CREEPAGE.iter().map(|(volts, row)| (volts.to_string(), json!(row)))),
            "known_by": known(&distance::CREEPAGE_SOURCE),
        }),
        "altitude_factor" => json!({
            "rows": object(distance::ALTITUDE.iter().map(|(m, factor)| (m.to_string(), json!(factor)))),
            "known_by": {
                "2000": known(&distance::altitude_source(2000)),
                "5000": known(&distance::altitude_source(5000)),
                "others": known(&distance::altitude_source(3000)),
            },
        }),
        "clearance_mm" => json!({
            "rows": object(distance::CLEARANCE.iter().map(|(kv, row)| (format!("{kv:.1}"), json!(row)))),
            "known_by": object(distance::CLEARANCE.iter().map(|(kv, _)| {
                (format!("{kv:.1}"), json!(known(&distance::clearance_source(*kv))))
            })),
        }),
        _ => return None,
    })
}

fn object(entries: impl Iterator<Item = (String, Value)>) -> Value {
    Value::Object(entries.collect())
}

fn by_metal(value: impl Fn(Metal) -> Value) -> Value {
    object(
        Metal::ALL
            .into_iter()
            .map(|metal| (metal.name().to_owned(), value(metal))),
    )
}

fn plain<const N: usize>(table: &Table<N>) -> Value {
    object(
        table
            .rows
            .iter()
            .map(|(size, amps)| ((*size).to_owned(), json!(&amps[..]))),
    )
}

fn nec() -> Value {
    let (copper, aluminium) = (&ampacity::NEC_COPPER, &ampacity::NEC_ALUMINIUM);
    let rows = copper.rows.iter().zip(aluminium.rows).map(|((size, cu), (_, al))| {
        let columns = copper.columns.iter().enumerate().flat_map(|(i, column)| {
            [
                (format!("cu{column}"), json!(cu[i])),
                (format!("al{column}"), json!(al[i])),
            ]
        });
        ((*size).to_owned(), object(columns))
    });
    json!({ "rows": object(rows), "known_by": known(&copper.source), "conditions": copper.conditions })
}

/// Empty, nominal, full and absolute least volts of a family of cells, and how they are known.
fn cell_limits<'a>(table: &'a Value, (name, row): (&'a String, &Value)) -> Question<'a> {
    let expected = json!({ "volts": row, "known_by": table["known_by"][name] });
    Question::of("tables", table, &format!("cell_limits {name}"))
        .of_kind("cell_limits")
        .about(format!(
            "volts of one {name} cell: empty, nominal, full, absolute least"
        ))
        .expecting(expected.clone())
        .worked_out(move || {
            let Some(family) = Chemistry::from_name(name) else {
                return Ok(Outcome::not_yet("no such family of cells"));
            };
            let CellVolts { empty, nominal, full } = family.cell_volts();
            let volts = [empty, nominal, full, family.absolute_min()].map(Volts::get);
            let got = json!({ "volts": volts, "known_by": family.known_by() });
            Ok(Outcome::compared(&expected, got, &within(1e-9)))
        })
}
