//! Cavities out of square: their readings, and what an adjustment elsewhere made of them.

use serde_json::{Map, Value, json};
use tape::Length;
use tape::survey::{
    Adjustment, Agreement, Corner, Corners, Line, Observation, Refusal, Search, Told, adjust, effect, repairs, search,
    square_box, start_box, strength, what_fixes,
};

use super::tolerance::Tolerances;
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::{Outcome, Question};

/// Below it neither w nor the smallest blunder is compared: they divide by its root.
const HARDLY_CHECKED: f64 = 1e-4;

/// One cavity.
pub(super) fn cavity<'a>(
    case: Question<'a>,
    file: &'a Value,
    entry: &'a Value,
    tolerances: Tolerances,
) -> Question<'a> {
    let expected = expected(entry);
    case.expecting(expected.clone()).worked_out(move || {
        let survey = Survey::read(file, entry)?;
        let mut got = match adjust(&survey.observations) {
            Ok(adjustment) => survey.solved(&adjustment)?,
            // No shape is given then, and the search for the slip goes on.
            Err(Refusal::CannotClose(_)) => json!({ "status": "solved" }),
            Err(Refusal::Short(_)) => survey.short(),
            Err(other) => return Err(Unclear(other.to_string())),
        };
        if got["status"] == "solved" {
            let found = search(&survey.observations).map_err(|refusal| Unclear(refusal.to_string()))?;
            survey.suspects(&found, entry, &mut got);
        }
        blank_hardly_checked(&expected, &mut got);
        Ok(Outcome::compared(&expected, got, &tolerances.allowed()))
    })
}

/// What is compared of a case, as its file says.
fn expected(entry: &Value) -> Value {
    let mut expected = entry["expected"].clone();
    let planted = &entry["planted_blunder"];
    let before = expected["compare_before_removal"] != json!(false);
    if !before {
        // Only the reading that is flagged and what comes of leaving it out.
        let kept = ["status", "largest_w", "after_removing_flagged"];
        let kept = kept.map(|key| (key.to_owned(), expected[key].clone()));
        expected = Value::Object(kept.into_iter().collect());
    }
    let Some(figures) = expected.as_object_mut() else {
        return expected;
    };
    if planted.is_object() {
        let mut told = Map::new();
        told.insert(
            "located_by_largest_w".to_owned(),
            planted["located_by_largest_w"].clone(),
        );
        if before {
            told.insert("w_of_planted".to_owned(), planted["w_of_planted"].clone());
        }
        figures.insert("planted_blunder".to_owned(), told.into());
    }
    if let Some(largest) = figures.get_mut("largest_w").and_then(Value::as_object_mut) {
        let named = largest["flagged_at_3_29"] == json!(true) && !largest.contains_key("tied_indices");
        if !before {
            largest.retain(|key, _| matches!(key.as_str(), "index" | "points" | "flagged_at_3_29"));
        } else if !named {
            // Of several as large it does not matter which.
            largest.retain(|key, _| !matches!(key.as_str(), "index" | "points"));
            let size = largest["w"].as_f64().map(f64::abs);
            largest.insert("w".to_owned(), json!(size));
        }
    }
    let redundancy: Vec<Value> = figures
        .get("redundancy_numbers")
        .and_then(Value::as_array)
        .cloned()
        .unwrap_or_default();
    for key in ["standardised_residuals", "minimal_detectable_blunder"] {
        let items = figures.get_mut(key).and_then(Value::as_array_mut).into_iter().flatten();
        for (item, redundancy) in items.zip(&redundancy) {
            if redundancy.as_f64().is_some_and(|r| r < HARDLY_CHECKED) {
                *item = Value::Null;
            }
        }
    }
    figures.remove("pairs_note");
    for key in [
        "fix_strength_18th_singular_value",
        "extra_distances_that_fix_only_weakly",
    ] {
        let each = figures
            .get_mut(key)
            .and_then(Value::as_object_mut)
            .into_iter()
            .flatten();
        each.for_each(|(_, value)| *value = fix_strength(value.as_f64()));
    }
    let lists = [
        "single_extra_distances_that_fix",
        "sets_of_three_extra_readings_that_fix",
    ];
    if lists.iter().any(|key| figures.contains_key(*key)) {
        figures.insert("advice_is_one_of_them".to_owned(), json!(true));
    }
    expected
}

/// A singular value, told so that its own tolerance holds.
fn fix_strength(value: Option<f64>) -> Value {
    json!({ "fix_strength": value })
}

/// Leaves out of what was given what the expected leaves out of a list.
fn blank_hardly_checked(expected: &Value, got: &mut Value) {
    for key in ["standardised_residuals", "minimal_detectable_blunder"] {
        let wanted = expected[key].as_array().into_iter().flatten();
        let given = got[key].as_array_mut().into_iter().flatten();
        let redundancy = expected["redundancy_numbers"].as_array().into_iter().flatten();
        for ((wanted, given), redundancy) in wanted.zip(given).zip(redundancy) {
            if wanted.is_null() && redundancy.as_f64().is_some_and(|r| r < HARDLY_CHECKED) {
                *given = Value::Null;
            }
        }
    }
}

struct Survey {
    observations: Vec<Observation>,
    told: Vec<Told>,
    /// All lines by the letters of their corners, in the order of the file.
    pairs: Vec<(String, Line)>,
    true_corners: Corners,
    /// Millimetres in the unit of the case.
    unit: f64,
}

impl Survey {
    fn read(file: &Value, entry: &Value) -> Clear<Self> {
        let inputs = Inputs(entry);
        let unit = match inputs.text("unit")? {
            "in" => 25.4,
            "mm" => 1.0,
            other => return Err(Unclear(format!("unit {other} is neither in nor mm"))),
        };
        let list = inputs.list("observations")?;
        let observations: Clear<Vec<Observation>> = list.iter().map(|o| observation(Inputs(o), unit)).collect();
        let observations = observations?;
        let mut pairs = Vec::new();
        for key in ["edges", "face_diagonals", "space_diagonals"] {
            for pair in Inputs(&file["convention"]).list(key)? {
                let pair = pair.as_str().unwrap_or_default();
                let ends: Clear<Vec<Corner>> = pair.chars().map(corner).collect();
                pairs.push((pair.to_owned(), line(&ends?)?));
            }
        }
        let mut true_corners = [[0.0; 3]; 8];
        for (letter, at) in entry["true_corners"].as_object().into_iter().flatten() {
            let index = corner(letter.chars().next().unwrap_or('?'))?.index();
            for (i, part) in at.as_array().into_iter().flatten().enumerate().take(3) {
                true_corners[index][i] = part.as_f64().unwrap_or(f64::NAN) * unit;
            }
        }
        Ok(Self {
            told: observations.iter().map(|o| o.told).collect(),
            observations,
            pairs,
            true_corners,
            unit,
        })
    }

    fn by_pair(&self, figure: impl Fn(Line) -> f64) -> Value {
        let each = self
            .pairs
            .iter()
            .map(|(pair, line)| (pair.clone(), json!(figure(*line) / self.unit)));
        Value::Object(each.collect())
    }

    fn lengths_and_sds(&self, adjustment: &Adjustment) -> [Value; 2] {
        [
            self.by_pair(|line| adjustment.line(line).mm),
            self.by_pair(|line| adjustment.line(line).sigma_mm),
        ]
    }

    fn solved(&self, adjustment: &Adjustment) -> Clear<Value> {
        let [lengths, sds] = self.lengths_and_sds(adjustment);
        let squares = adjustment.weighted_squares;
        let start = adjustment.start.map(|side| side / self.unit);
        let corners: Map<String, Value> = ('A'..='H')
            .map(|letter| {
                let at = adjustment.corners[corner(letter)?.index()].map(|part| part / self.unit);
                Ok((letter.to_string(), json!(at)))
            })
            .collect::<Clear<_>>()?;
        let list = |of: &dyn Fn(&tape::survey::Figure) -> Option<f64>| -> Value {
            adjustment.figures.iter().map(|figure| json!(of(figure))).collect()
        };
        let limits = |below: f64| tape::survey::chance::chi_square_limit(below, adjustment.spare);
        let global = (adjustment.spare > 0).then(|| {
            json!({
                "chi2_low_95_two_sided": limits(0.025),
                "chi2_high_95_two_sided": limits(0.975),
                "passes_two_sided": adjustment.agreement() == Agreement::AsExpected,
                "chi2_high_95_one_sided": limits(0.95),
                "passes_one_sided": squares <= limits(0.95),
            })
        });
        Ok(json!({
            "status": "solved",
            "rank": adjustment.strength.held,
            "degrees_of_freedom": adjustment.spare,
            "start_box": start,
            "smallest_singular_value_unit_rows": adjustment.strength.smallest,
            "adjusted_distances": lengths,
            "sd_of_adjusted_distances": sds,
            "redundancy_numbers": list(&|f| Some(f.redundancy)),
            "residuals_adjusted_minus_read": list(&|f| Some(f.residual_mm / self.unit)),
            "weighted_sum_of_squares": squares,
            "corners_tape_frame": corners,
            "corners_level_frame": corners,
            "reference_variance": adjustment.reference_variance(),
            "standardised_residuals": (adjustment.spare > 0).then(|| list(&|f| f.standardised)),
            "global_test": global,
            "minimal_detectable_blunder": list(&|f| f.detectable_mm.map(|mm| mm / self.unit)),
            "largest_w": Self::largest(adjustment),
        }))
    }

    /// The largest standardised residual of all readings, suspect or not.
    fn largest(adjustment: &Adjustment) -> Value {
        if adjustment.spare == 0 {
            return Value::Null;
        }
        let figures = adjustment.figures.iter();
        let mut sizes: Vec<f64> = figures.filter_map(|f| f.standardised).map(f64::abs).collect();
        sizes.sort_by(|a, b| b.total_cmp(a));
        json!({
            "w": sizes.first(),
            "second_largest_abs_w": sizes.get(1),
            "flagged_at_3_29": sizes.first().is_some_and(|w| *w > tape::survey::chance::SUSPECT),
        })
    }

    /// What a search for slips says, put beside the rest.
    fn suspects(&self, found: &Search, entry: &Value, got: &mut Value) {
        let planted = Inputs(&entry["planted_blunder"]).count("index").ok();
        let planted = planted.and_then(|index| usize::try_from(index).ok());
        let first = found.suspects.first();
        got["planted_blunder"] = json!({
            "w_of_planted": planted.map(|index| got["standardised_residuals"][index].clone()),
            "located_by_largest_w": first.is_some_and(|first| first.readings.len() == 1 && first.readings.first() == planted.as_ref()),
        });
        let Some(first) = first else { return };
        got["largest_w"]["flagged_at_3_29"] = json!(true);
        let [index] = first.readings[..] else {
            got["largest_w"]["tied_indices"] = json!(first.readings);
            got["largest_w"]["locatable"] = json!(false);
            return;
        };
        got["largest_w"]["index"] = json!(index);
        let line = self.told[index].line();
        got["largest_w"]["points"] = json!(self.pairs.iter().find(|(_, l)| Some(*l) == line).map(|(pair, _)| pair));
        if !got["standardised_residuals"].is_null() {
            got["largest_w"]["w"] = json!(first.standardised);
        }
        let rest = &found.without;
        let [lengths, sds] = self.lengths_and_sds(rest);
        let (mm, sigma_mm) = first.predicted.unwrap_or((f64::NAN, f64::NAN));
        let sizes = rest.figures.iter().filter_map(|f| f.standardised).map(f64::abs);
        got["after_removing_flagged"] = json!({
            "degrees_of_freedom": rest.spare,
            "weighted_sum_of_squares": rest.weighted_squares,
            "reference_variance": rest.reference_variance(),
            "passes_two_sided": rest.agreement() == Agreement::AsExpected,
            "largest_abs_w": sizes.fold(0.0, f64::max),
            "predicted_value_of_removed_reading": mm / self.unit,
            "sd_of_prediction": sigma_mm / self.unit,
            "redundancy_numbers": rest.figures.iter().map(|f| f.redundancy).collect::<Vec<f64>>(),
            "sd_of_adjusted_distances": sds,
            "misread_estimate": (self.observations[index].value.as_mm() - mm) / self.unit,
            "adjusted_distances": lengths,
        });
    }

    /// A shape that is not determined: what would hold it.
    fn short(&self) -> Value {
        let start = square_box(start_box(&self.observations));
        let shapes = [self.true_corners, start];
        let [at_true, at_start] = shapes.map(|corners| strength(&self.told, &corners));
        let unread: Vec<Line> = self
            .pairs
            .iter()
            .map(|(_, line)| *line)
            .filter(|line| !self.told.iter().any(|told| told.line() == Some(*line)))
            .collect();
        let sets = |count: usize| -> Vec<String> {
            let mut sets: Vec<Vec<usize>> = repairs(&self.told, &unread, count, &shapes)
                .iter()
                .map(|repair| repair.lines.iter().map(|line| self.place(*line)).collect())
                .collect();
            sets.sort_unstable();
            let name = |set: &Vec<usize>| {
                let pairs: Vec<&str> = set.iter().map(|&index| self.pairs[index].0.as_str()).collect();
                pairs.join("+")
            };
            sets.iter().map(name).collect()
        };
        let (mut fixing, mut firmness, mut weakly, mut useless) = (sets(1), Map::new(), Map::new(), Vec::new());
        for (pair, line) in self.pairs.iter().filter(|(_, line)| unread.contains(line)) {
            let with = effect(&self.told, &[*line], &self.true_corners);
            if fixing.contains(pair) {
                firmness.insert(pair.clone(), fix_strength(Some(with.smallest)));
            } else if with.is_short() {
                useless.push(pair.clone());
            } else {
                weakly.insert(pair.clone(), fix_strength(Some(with.smallest)));
            }
        }
        let fewest = (1..=3).find(|&count| !sets(count).is_empty());
        let mut advice = what_fixes(&self.observations, &Line::all());
        advice.sort_by_key(|line| self.place(*line));
        let advice: Vec<&str> = advice
            .iter()
            .map(|line| self.pairs[self.place(*line)].0.as_str())
            .collect();
        let advice = advice.join("+");
        let advised = fewest.is_some_and(|count| sets(count).contains(&advice));
        fixing.sort_by_key(|pair| self.pairs.iter().position(|(known, _)| known == pair));
        let status = if at_true.is_short() {
            "not_enough_readings"
        } else {
            "right_count_but_weak_or_singular"
        };
        json!({
            "status": status,
            "rank_at_true_corners": at_true.held,
            "rank_at_start_box": at_start.held,
            "deficiency": at_true.wanted - at_true.held,
            "deficiency_at_start_box": at_start.wanted - at_start.held,
            "count": self.observations.len(),
            "smallest_singular_value_at_true_corners": at_true.smallest,
            "single_extra_distances_that_fix": fixing,
            "fix_strength_18th_singular_value": firmness,
            "extra_distances_that_fix_only_weakly": weakly,
            "extra_distances_that_do_not_help": useless,
            "pairs_of_extra_distances_that_fix": sets(2),
            "smallest_number_of_extra_readings_for_a_sound_set": fewest,
            "sets_of_three_extra_readings_that_fix": sets(3),
            "advice_is_one_of_them": advised,
        })
    }

    /// Where a line stands in the order of the file.
    fn place(&self, line: Line) -> usize {
        let found = self.pairs.iter().position(|(_, known)| *known == line);
        found.unwrap_or(self.pairs.len())
    }
}

fn corner(letter: char) -> Clear<Corner> {
    let index = u32::from(letter).wrapping_sub(u32::from('A'));
    let found = usize::try_from(index)
        .ok()
        .and_then(|index| Corner::ALL.get(index).copied());
    found.ok_or_else(|| Unclear(format!("{letter} is no corner")))
}

fn line(ends: &[Corner]) -> Clear<Line> {
    let line = match ends {
        [a, b] => Line::new(*a, *b),
        _ => None,
    };
    line.ok_or_else(|| Unclear("a line should be between two corners".to_owned()))
}

fn observation(entry: Inputs<'_>, unit: f64) -> Clear<Observation> {
    let points = entry.list("points")?.iter();
    let points: Clear<Vec<Corner>> = points
        .map(|point| corner(point.as_str().and_then(|text| text.chars().next()).unwrap_or('?')))
        .collect();
    let [value, sigma] = ["value", "sigma"].map(|key| entry.float(key).map(|v| Length::from_mm(v * unit)));
    let (value, sigma) = (value?, sigma?);
    match (entry.text("type")?, &points?[..]) {
        ("distance", &[a, b]) => Ok(Observation::distance(a, b, value, sigma)),
        ("level", &[a, b]) => Ok(Observation::rise(a, b, value, sigma)),
        ("offset_to_line", &[p, a, b]) => Ok(Observation::offset(p, line(&[a, b])?, value, sigma)),
        (other, points) => Err(Unclear(format!("{other} of {} corners is not known", points.len()))),
    }
}
