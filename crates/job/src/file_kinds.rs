//! What a file holds in place of what it should, in words of a shop and not of programmers.

/// What a field takes, by the word of the reader of JSON.
const TAKES: [(&str, &str); 11] = [
    ("f64", "a plain number"),
    ("u64", "a whole number"),
    ("u32", "a whole number"),
    ("u16", "a whole number"),
    ("u8", "a whole number"),
    ("i64", "a whole number"),
    ("a string", "a text in quotes"),
    ("a boolean", "true or false"),
    ("a sequence", "a list in [ ]"),
    ("a map", "entries in { }"),
    ("struct ", "entries in { }"),
];

/// What is there, by its word, and what it is called.
const THERE: [(&str, &str); 8] = [
    ("string ", "a text"),
    ("integer ", "a number"),
    ("floating point ", "a number"),
    ("boolean ", "true or false"),
    ("null", "nothing"),
    ("sequence", "a list"),
    ("map", "entries in { }"),
    ("unit", "nothing"),
];

/// Endings of keys that name a unit, with the unit in words and an example.
const UNITS: [(&str, &str, &str); 8] = [
    ("_kg", "kilograms", "1050"),
    ("_volts", "volts", "144"),
    ("_amps", "amps", "150"),
    ("amp_hours", "amp-hours", "60"),
    ("_mohm", "milliohms", "0.7"),
    ("_deg", "degrees", "15"),
    ("_percent", "percent", "5"),
    ("_kw", "kilowatts", "60"),
];

/// `invalid type: string "2315 lb", expected f64` as `"2315 lb" is a text, and this field takes a plain number in kilograms, as
/// 1050: 2315 lb are 1050.066`; any other message as it is.
pub(crate) fn plain(path: &str, message: &str) -> String {
    let Some((there, expected)) = message
        .strip_prefix("invalid type: ")
        .and_then(|rest| rest.rsplit_once(", expected "))
    else {
        return message.to_owned();
    };
    let Some((_, takes)) = TAKES.iter().find(|(word, _)| expected.starts_with(word)) else {
        return message.to_owned();
    };
    let Some((word, is)) = THERE.iter().find(|(word, _)| there.starts_with(word)) else {
        return message.to_owned();
    };
    let quoted = there[word.len()..].trim_matches('`');
    let given = if quoted.is_empty() {
        format!("{is} stands there")
    } else {
        format!("{quoted} is {is}")
    };
    let unit = UNITS.iter().find(|(ending, ..)| path.ends_with(ending));
    let in_unit = match unit.filter(|_| takes.ends_with("number")) {
        Some((_, name, example)) => format!(" in {name} without its unit, as {example}"),
        None => String::new(),
    };
    let pounds = quoted.trim_matches('"').trim();
    let converted = match (
        unit,
        pounds.strip_suffix("lb").map(|number| number.trim().parse::<f64>()),
    ) {
        (Some(("_kg", ..)), Some(Ok(lb))) if lb.is_finite() => {
            format!(": {pounds} are {:.3}", lb * truck::units::KG_PER_LB)
        }
        _ => String::new(),
    };
    format!("{given}, and this field takes {takes}{in_unit}{converted}")
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::pounds(
        "vehicle.masses.front_before_kg",
        "invalid type: string \"2315 lb\", expected f64",
        "\"2315 lb\" is a text, and this field takes a plain number in kilograms without its unit, as 1050: 2315 lb are 1050.066"
    )]
    #[case::number_for_a_length(
        "vehicle.masses.wheelbase",
        "invalid type: integer `118`, expected a string",
        "118 is a number, and this field takes a text in quotes"
    )]
    #[case::list(
        "boxes",
        "invalid type: map, expected a sequence",
        "entries in { } stands there, and this field takes a list in [ ]"
    )]
    #[case::other("x", "unknown field `y`", "unknown field `y`")]
    fn a_wrong_sort_of_value_is_told_in_plain_words(#[case] path: &str, #[case] message: &str, #[case] words: &str) {
        assert_eq!(plain(path, message), words);
    }
}
