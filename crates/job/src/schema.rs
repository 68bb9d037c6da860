//! The JSON Schema of the job file.

/// The JSON Schema of the job file, as text: for editors and for programs that write job files.
///
/// It tells fields and types; ranges, and how one field rests on another, are checked when a file is loaded.
pub const fn schema_text() -> &'static str {
    include_str!("../../../assets/job.schema.json")
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use serde_json::Value;

    use super::*;
    use crate::{EXAMPLES, Job, to_text};

    #[test]
    fn the_schema_in_assets_is_that_of_the_job() {
        let schema = schemars::schema_for!(Job);
        let mut text = serde_json::to_string_pretty(&schema).expect("a schema is JSON");
        text.push('\n');
        if std::env::var_os("PACKWRIGHT_UPDATE").is_some() {
            let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/job.schema.json");
            std::fs::write(path, &text).expect("the schema can be written");
        } else {
            assert!(
                text == schema_text(),
                "assets/job.schema.json is out of date: run this test with PACKWRIGHT_UPDATE=1"
            );
        }
    }

    #[test]
    fn the_examples_and_an_empty_job_keep_to_the_schema() {
        let schema: Value = serde_json::from_str(schema_text()).unwrap();
        let empty = to_text(&Job::empty(crate::UnitsName::Inch));
        for text in EXAMPLES.iter().map(|e| e.text).chain([empty.as_str()]) {
            let job = serde_json::from_str(text).unwrap();
            assert_eq!(faults(&schema, &schema, &job, "job"), Vec::<String>::new());
        }
    }

    /// Spoils a job.
    type Slip = fn(&mut Value);

    #[test]
    fn the_schema_refuses_what_loading_refuses() {
        let schema: Value = serde_json::from_str(schema_text()).unwrap();
        let job: Value = serde_json::from_str(EXAMPLES[0].text).unwrap();
        let slips: [(&str, Slip); 6] = [
            ("an unknown field", |j| j["design"]["wal"] = "3 mm".into()),
            ("another format", |j| j["format"] = "other".into()),
            ("a newer version", |j| j["version"] = 2.into()),
            ("a number for a length", |j| j["design"]["wall"] = 3.into()),
            ("an unknown word", |j| j["design"]["closing"] = "hinge".into()),
            ("a field that is missing", |j| {
                j["boxes"][0].as_object_mut().unwrap().remove("cavity");
            }),
        ];
        for (what, slip) in slips {
            let mut changed = job.clone();
            slip(&mut changed);
            assert!(!faults(&schema, &schema, &changed, "job").is_empty(), "{what} passes");
            assert!(crate::load(changed.to_string().as_bytes()).is_err(), "{what} loads");
        }
    }

    /// What is wrong with `value`, by the few words of JSON Schema that ours uses.
    fn faults(root: &Value, schema: &Value, value: &Value, place: &str) -> Vec<String> {
        if let Some(target) = schema["$ref"].as_str() {
            let target = root
                .pointer(target.trim_start_matches('#'))
                .expect("a reference leads somewhere");
            return faults(root, target, value, place);
        }
        for choice in ["anyOf", "oneOf"] {
            if let Some(choices) = schema[choice].as_array() {
                let fits = choices.iter().any(|c| faults(root, c, value, place).is_empty());
                return if fits {
                    Vec::new()
                } else {
                    vec![format!("{place} is none of the choices")]
                };
            }
        }
        let mut found = Vec::new();
        let mut must = |holds: bool, what: &str| {
            if !holds {
                found.push(format!("{place}: {what}"));
            }
        };
        let types: Vec<&str> = match &schema["type"] {
            Value::String(one) => vec![one],
            Value::Array(several) => several.iter().filter_map(Value::as_str).collect(),
            _ => Vec::new(),
        };
        must(
            types.is_empty() || types.iter().any(|t| is(value, t)),
            "has another type",
        );
        must(schema.get("const").is_none_or(|c| c == value), "is another value");
        must(
            schema["enum"].as_array().is_none_or(|words| words.contains(value)),
            "is an unknown word",
        );
        if let Some(fields) = value.as_object() {
            for name in schema["required"]
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
            {
                must(fields.contains_key(name), &format!("{name} is missing"));
            }
            for (name, field) in fields {
                match schema["properties"].get(name) {
                    Some(of_field) => found.extend(faults(root, of_field, field, &format!("{place}.{name}"))),
                    None if schema["additionalProperties"] == false => found.push(format!("{place}.{name} is unknown")),
                    None => {}
                }
            }
        }
        if let (Some(items), Some(list)) = (schema.get("items").filter(|i| i.is_object()), value.as_array()) {
            for (i, item) in list.iter().enumerate() {
                found.extend(faults(root, items, item, &format!("{place}[{i}]")));
            }
        }
        found
    }

    fn is(value: &Value, name: &str) -> bool {
        match name {
            "null" => value.is_null(),
            "boolean" => value.is_boolean(),
            "string" => value.is_string(),
            "number" => value.is_number(),
            "integer" => value.is_u64() || value.is_i64(),
            "array" => value.is_array(),
            "object" => value.is_object(),
            _ => panic!("unknown type {name}"),
        }
    }
}
