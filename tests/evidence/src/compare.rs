//! Whether what was given is what was expected.

use serde_json::Value;

/// How far a number may be off: told by its key (of a list, the list's key) and the expected number.
pub(crate) type Allowed<'a> = &'a dyn Fn(&str, &serde_json::Number) -> f64;

/// What differs between expected and given.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Differences {
    /// Each difference, in words.
    pub(crate) wrong: Vec<String>,
    /// Keys that nothing was given for.
    pub(crate) missing: Vec<String>,
}

/// Compares at any depth: numbers within what is allowed, lists item by item, all else exactly.
///
/// Keys that were given and not expected are passed over.
pub(crate) fn differences(expected: &Value, got: &Value, allowed: Allowed<'_>) -> Differences {
    let mut found = Differences::default();
    walk("", "", expected, got, allowed, &mut found);
    found
}

fn walk(place: &str, key: &str, expected: &Value, got: &Value, allowed: Allowed<'_>, found: &mut Differences) {
    match (expected, got) {
        (Value::Object(wanted), Value::Object(given)) => {
            for (key, wanted) in wanted {
                let place = if place.is_empty() {
                    key.clone()
                } else {
                    format!("{place}.{key}")
                };
                match given.get(key) {
                    Some(given) => walk(&place, key, wanted, given, allowed, found),
                    None => found.missing.push(place),
                }
            }
        }
        (Value::Array(wanted), Value::Array(given)) if wanted.len() == given.len() => {
            for (index, (wanted, given)) in wanted.iter().zip(given).enumerate() {
                let place = format!("{place}[{index}]");
                walk(&place, key, wanted, given, allowed, found);
            }
        }
        (Value::Number(wanted), Value::Number(given)) => {
            let off = wanted
                .as_f64()
                .zip(given.as_f64())
                .map(|(wanted, given)| (wanted - given).abs());
            let within = off.is_some_and(|off| off <= allowed(key, wanted));
            if !within {
                found.wrong.push(format!("{place}: expected {wanted}, got {given}"));
            }
        }
        _ if expected == got => {}
        _ => found.wrong.push(format!("{place}: expected {expected}, got {got}")),
    }
}

/// The tolerance of electrical checks: integers exactly, other numbers by `rel` or `abs`, the larger of the two.
pub(crate) fn integers_exact(tolerance: &Value) -> impl Fn(&str, &serde_json::Number) -> f64 {
    let [rel, abs] = ["rel", "abs"].map(|key| tolerance[key].as_f64().unwrap_or(0.0));
    move |_, expected| {
        if expected.is_f64() {
            (rel * magnitude(expected)).max(abs)
        } else {
            0.0
        }
    }
}

/// The same tolerance for every number.
pub(crate) fn within(abs: f64) -> impl Fn(&str, &serde_json::Number) -> f64 {
    move |_, _| abs
}

/// The size of a number without its sign.
pub(crate) fn magnitude(number: &serde_json::Number) -> f64 {
    number.as_f64().map_or(0.0, f64::abs)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::json;

    use super::*;

    fn wrong(expected: &Value, got: &Value, tolerance: &Value) -> bool {
        let allowed = integers_exact(tolerance);
        !differences(expected, got, &allowed).wrong.is_empty()
    }

    #[rstest]
    #[case::equal(json!({"v": 1.0}), json!({"v": 1.0}), json!({"exact": true}), false)]
    #[case::whole_and_float_of_one_value(json!({"v": 4.0}), json!({"v": 4}), json!({"exact": true}), false)]
    #[case::exact_means_exact(json!({"v": 1.0}), json!({"v": 1.000_000_1}), json!({"exact": true}), true)]
    #[case::within_rel(json!({"v": 100.0}), json!({"v": 100.9}), json!({"rel": 0.01}), false)]
    #[case::outside_rel(json!({"v": 100.0}), json!({"v": 101.1}), json!({"rel": 0.01}), true)]
    #[case::within_abs(json!({"v": 0.0}), json!({"v": 0.5}), json!({"abs": 0.5}), false)]
    #[case::larger_of_both(json!({"v": 100.0}), json!({"v": 100.9}), json!({"rel": 0.01, "abs": 0.1}), false)]
    #[case::integers_have_no_tolerance(json!({"n": 100}), json!({"n": 101}), json!({"rel": 0.1}), true)]
    #[case::a_float_is_no_integer(json!({"n": 100}), json!({"n": 100.5}), json!({"rel": 0.1}), true)]
    #[case::text(json!({"t": "A"}), json!({"t": "B"}), json!({"rel": 9.0}), true)]
    #[case::truth(json!({"t": true}), json!({"t": false}), json!({"rel": 9.0}), true)]
    #[case::no_number(json!({"t": 1.0}), json!({"t": null}), json!({"rel": 9.0}), true)]
    #[case::items(json!({"l": [1, 2]}), json!({"l": [1, 2]}), json!({}), false)]
    #[case::other_item(json!({"l": [1, 2]}), json!({"l": [1, 3]}), json!({}), true)]
    #[case::fewer_items(json!({"l": [1, 2]}), json!({"l": [1]}), json!({}), true)]
    #[case::more_items(json!({"l": [1, 2]}), json!({"l": [1, 2, 3]}), json!({}), true)]
    #[case::deep(json!({"a": {"b": [{"c": 1}]}}), json!({"a": {"b": [{"c": 2}]}}), json!({}), true)]
    fn numbers_by_tolerance_all_else_exactly(
        #[case] expected: Value,
        #[case] got: Value,
        #[case] tolerance: Value,
        #[case] differs: bool,
    ) {
        assert_eq!(wrong(&expected, &got, &tolerance), differs);
    }

    #[test]
    fn what_nothing_was_given_for_is_missing_not_wrong() {
        let found = differences(&json!({"a": 1, "b": {"c": 2}}), &json!({"a": 1, "b": {}}), &within(0.0));
        assert_eq!(found.wrong, [""; 0]);
        assert_eq!(found.missing, ["b.c"]);
    }

    #[test]
    fn a_difference_tells_its_place_and_both_figures() {
        let found = differences(
            &json!({"parts": [{"qty": 2}]}),
            &json!({"parts": [{"qty": 1}]}),
            &within(0.0),
        );
        assert_eq!(found.wrong, ["parts[0].qty: expected 2, got 1"]);
    }
}
