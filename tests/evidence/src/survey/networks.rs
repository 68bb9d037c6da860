//! Published networks of distances, and certified regressions by the same solver.

use serde_json::{Map, Value, json};
use tape::survey::least_squares::{Misfits, fit};
use tape::survey::network::{Adjusted, Distance, Point, adjust};

use super::tolerance::Tolerances;
use crate::Verdict;
use crate::compare::{magnitude, within};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

/// Whether a network comes out as computed elsewhere and as it was published.
pub(super) fn network<'a>(case: Question<'a>, entry: &'a Value, tolerances: Tolerances) -> Question<'a> {
    let part = |key: &str| {
        let figures = entry[key].as_object().into_iter().flatten();
        // A standard deviation told in words is for people.
        let figures = figures.filter(|(key, value)| *key != "how_known" && !value.is_string());
        Value::Object(figures.map(|(key, value)| (key.clone(), value.clone())).collect())
    };
    let (computed, published) = (part("computed"), part("published"));
    let expected = json!({ "computed": computed, "published": published });
    case.expecting(expected).worked_out(move || {
        let got = match Inputs(entry).count("dimension")? {
            2 => figures::<2>(entry)?,
            3 => figures::<3>(entry)?,
            other => return Err(Unclear(format!("dimension {other} is neither 2 nor 3"))),
        };
        let by_computed = Outcome::compared(&computed, got.clone(), &tolerances.allowed());
        let digits = |key: &str| decimals(&published, key);
        let half_a_digit = |key: &str, _: &serde_json::Number| 0.5 * 10_f64.powi(-digits(key)) + 1e-7;
        let by_published = Outcome::compared(&published, got, &half_a_digit);
        Ok(if by_computed.verdict == Verdict::Pass {
            by_published
        } else {
            by_computed
        })
    })
}

/// The most decimals that a number under `key` is printed with.
fn decimals(value: &Value, key: &str) -> i32 {
    fn most(value: &Value, key: &str, inside: bool) -> usize {
        match value {
            Value::Object(parts) => parts
                .iter()
                .map(|(k, part)| most(part, key, k == key))
                .max()
                .unwrap_or(0),
            Value::Array(items) => items.iter().map(|item| most(item, key, inside)).max().unwrap_or(0),
            Value::Number(number) if inside => number.to_string().split_once('.').map_or(0, |(_, after)| after.len()),
            _ => 0,
        }
    }
    i32::try_from(most(value, key, false)).unwrap_or(0)
}

fn figures<const D: usize>(entry: &Value) -> Clear<Value> {
    let mut names = Vec::new();
    let mut points: Vec<Point<D>> = Vec::new();
    for (key, fixed) in [("fixed_points", true), ("starting_points", false)] {
        for (name, at) in entry[key].as_object().into_iter().flatten() {
            let at: Option<Vec<f64>> = at.as_array().and_then(|at| at.iter().map(Value::as_f64).collect());
            let at = at.and_then(|at| at.try_into().ok());
            points.push(Point {
                at: at.ok_or_else(|| Unclear(format!("{key}: {name} should be {D} numbers")))?,
                fixed,
            });
            names.push(name.as_str());
        }
    }
    let index = |name: &str| {
        let found = names.iter().position(|known| *known == name);
        found.ok_or_else(|| Unclear(format!("{name} is no point")))
    };
    let mut distances = Vec::new();
    for observation in Inputs(entry).list("observations")? {
        let observation = Inputs(observation);
        distances.push(Distance {
            from: index(observation.text("from_")?)?,
            to: index(observation.text("to")?)?,
            value: observation.float("distance")?,
            sigma: observation.float("sd")?,
        });
    }
    let adjusted = adjust(&points, &distances).ok_or_else(|| Unclear("no points fit the distances".to_owned()))?;
    let fixed = points.iter().map(|point| point.fixed);
    let moving = names
        .into_iter()
        .zip(fixed)
        .enumerate()
        .filter(|(_, (_, fixed))| !fixed);
    Ok(told(
        &adjusted,
        &distances,
        moving.map(|(index, (name, _))| (index, name)),
    ))
}

fn told<'n, const D: usize>(
    adjusted: &Adjusted<D>,
    distances: &[Distance],
    moving: impl Iterator<Item = (usize, &'n str)>,
) -> Value {
    let variance = adjusted.weighted_squares / f64::from(u32::try_from(adjusted.freedoms).unwrap_or(u32::MAX));
    let s0 = variance.sqrt();
    let points: Map<String, Value> = moving
        .map(|(index, name)| {
            let scaled = |by: f64| adjusted.sigmas[index].map(|sigma| sigma * by).to_vec();
            let figures = json!({
                "adjusted": adjusted.points[index].to_vec(),
                "sd_a_priori": scaled(1.0),
                "sd_scaled_by_s0": scaled(s0),
                "sd_cm": scaled(s0 * 100.0),
            });
            (name.to_owned(), figures)
        })
        .collect();
    let residuals = &adjusted.residuals;
    let lengths: Vec<f64> = distances
        .iter()
        .zip(residuals)
        .map(|(d, residual)| d.value + residual)
        .collect();
    json!({
        "points": points,
        "s0": s0,
        "reference_variance": variance,
        "weighted_sum_of_squares": adjusted.weighted_squares,
        "residuals_adjusted_minus_read": residuals,
        "residuals_cm_adjusted_minus_read": residuals.iter().map(|r| r * 100.0).collect::<Vec<f64>>(),
        "redundancy_numbers": adjusted.redundancy,
        "standardised_residuals": adjusted.standardised,
        "adjusted_distances": lengths,
    })
}

/// Whether a regression comes out as certified, from the nearer start and from the farther.
pub(super) fn regression<'a>(case: Question<'a>, entry: &'a Value) -> Question<'a> {
    let certified = entry["certified"].clone();
    let about = entry["model"].as_str().unwrap_or_default();
    case.about(about).expecting(certified.clone()).worked_out(move || {
        let got = regressed(Inputs(entry))?;
        // Six digits of each.
        let six = |_: &str, expected: &serde_json::Number| 5e-7 * magnitude(expected);
        let outcome = Outcome::compared(&certified, got, &six);
        let freedoms = json!({ "degrees_of_freedom": certified["degrees_of_freedom"] });
        let exact = Outcome::compared(&freedoms, outcome.got.clone(), &within(0.0));
        Ok(if outcome.verdict == Verdict::Pass {
            Outcome {
                got: outcome.got,
                ..exact
            }
        } else {
            outcome
        })
    })
}

fn regressed(entry: Inputs<'_>) -> Clear<Value> {
    let numbers = |key: &str| -> Clear<Vec<f64>> {
        let numbers: Option<Vec<f64>> = entry.list(key)?.iter().map(Value::as_f64).collect();
        numbers.ok_or_else(|| Unclear(format!("{key} should be numbers")))
    };
    let curve = Curve {
        kind: match entry.text("model")? {
            "y = b1*(1-exp(-b2*x))" => Kind::Saturating,
            "y = b1*(x^2+x*b2)/(x^2+x*b3+b4)" => Kind::Rational,
            other => return Err(Unclear(format!("{other} is no model known here"))),
        },
        x: numbers("x")?,
        y: numbers("y")?,
    };
    let start = numbers("start2")?;
    let found = fit(&curve, &start).ok_or_else(|| Unclear("the fit does not settle".to_owned()))?;
    let freedoms = curve.x.len() - start.len();
    let sd = (found.sum_of_squares / f64::from(u32::try_from(freedoms).unwrap_or(u32::MAX))).sqrt();
    let sds = found.cofactors().map(|cofactors| {
        let own = (0..start.len()).map(|i| sd * cofactors[i][i].sqrt());
        own.collect::<Vec<f64>>()
    });
    Ok(json!({
        "parameters": found.unknowns,
        "standard_deviations": sds,
        "residual_sum_of_squares": found.sum_of_squares,
        "residual_standard_deviation": sd,
        "degrees_of_freedom": freedoms,
    }))
}

enum Kind {
    /// `b1·(1 - exp(-b2·x))`.
    Saturating,
    /// `b1·(x² + x·b2)/(x² + x·b3 + b4)`.
    Rational,
}

struct Curve {
    kind: Kind,
    x: Vec<f64>,
    y: Vec<f64>,
}

impl Misfits for Curve {
    fn count(&self) -> usize {
        self.x.len()
    }

    fn at(&self, unknowns: &[f64], misfits: &mut [f64], slopes: &mut [f64]) {
        let rows = slopes.chunks_mut(unknowns.len()).zip(misfits);
        for ((row, misfit), (&x, &y)) in rows.zip(self.x.iter().zip(&self.y)) {
            let value = match (&self.kind, unknowns) {
                (Kind::Saturating, &[b1, b2]) => {
                    let left = (-b2 * x).exp();
                    row.copy_from_slice(&[1.0 - left, b1 * x * left]);
                    b1 * (1.0 - left)
                }
                (Kind::Rational, &[b1, b2, b3, b4]) => {
                    let (above, below) = (x * x + x * b2, x * x + x * b3 + b4);
                    let value = b1 * above / below;
                    row.copy_from_slice(&[above / below, b1 * x / below, -value * x / below, -value / below]);
                    value
                }
                _ => f64::NAN,
            };
            *misfit = value - y;
        }
    }
}
