//! Limits of the tests of a survey.

use serde_json::{Value, json};
use tape::survey::chance::{chi_square_limit, detectable, two_sided_limit};

use crate::compare::within;
use crate::inputs::{Clear, Unclear};
use crate::question::{Outcome, Question};

/// All limits in the section as one case.
pub(super) fn values<'a>(case: Question<'a>, value: &'a Value) -> Question<'a> {
    // Sentences are for people.
    let tables = value
        .as_object()
        .into_iter()
        .flatten()
        .filter(|(_, table)| !table.is_string());
    let expected: Value = Value::Object(tables.map(|(key, table)| (key.clone(), table.clone())).collect());
    case.expecting(expected.clone()).worked_out(move || {
        let got = json!({
            "w_critical_two_sided": by_row(value, "w_critical_two_sided", |row| {
                let alpha = row.strip_prefix("alpha ")?.parse().ok()?;
                Some(json!(two_sided_limit(alpha)))
            })?,
            "delta0_alpha_0_001_power_0_80": detectable(0.001, 0.8),
            "chi2_two_sided_95": by_row(value, "chi2_two_sided_95", |row| {
                let freedoms = row.parse().ok()?;
                Some(json!([0.025, 0.975].map(|below| chi_square_limit(below, freedoms))))
            })?,
            "chi2_upper_95": by_row(value, "chi2_upper_95", |row| {
                Some(json!(chi_square_limit(0.95, row.parse().ok()?)))
            })?,
        });
        // Printed to five places.
        Ok(Outcome::compared(&expected, got, &within(5.1e-6)))
    })
}

/// What is worked out for the name of each row of a table.
fn by_row(value: &Value, key: &str, of: impl Fn(&str) -> Option<Value>) -> Clear<Value> {
    let mut rows = serde_json::Map::new();
    for name in value[key].as_object().into_iter().flatten().map(|(name, _)| name) {
        let found = of(name).ok_or_else(|| Unclear(format!("{key}: {name} is no row")))?;
        rows.insert(name.clone(), found);
    }
    Ok(rows.into())
}
