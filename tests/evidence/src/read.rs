//! From a file to its cases.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::question::Question;
use crate::{Options, boxes, chance, electrical, fabrication, packing, survey, vehicle};

/// A file that cannot be run.
#[derive(Debug, thiserror::Error)]
pub enum Unreadable {
    /// It cannot be opened or is no text.
    #[error("{file}: cannot be read: {why}; name a JSON file of checks")]
    File {
        /// The file.
        file: String,
        /// What the system says.
        why: std::io::Error,
    },
    /// It is no JSON.
    #[error("{file}: is no JSON: {why}")]
    Json {
        /// The file.
        file: String,
        /// What is wrong, with line and column.
        why: serde_json::Error,
    },
    /// Its parts are not what they should be.
    #[error("{file}: {what}; see tests/cases/README.md for the shape of a file of checks")]
    Shape {
        /// The file.
        file: String,
        /// What is wrong.
        what: String,
    },
}

/// What a section should be and is not.
pub(crate) struct Misshapen(pub(crate) String);

/// The cases of a section; `None` when the section is not of that topic.
pub(crate) type Section<'a> = Result<Option<Vec<Question<'a>>>, Misshapen>;

/// Parts of a file that are words for people, or data that checks refer to.
const NO_CASES: [&str; 3] = ["rules", "guidance", "reference"];

/// Reads a file.
pub(crate) fn file(path: &Path) -> Result<Value, Unreadable> {
    let name = || path.display().to_string();
    let text = fs::read_to_string(path).map_err(|why| Unreadable::File { file: name(), why })?;
    serde_json::from_str(&text).map_err(|why| Unreadable::Json { file: name(), why })
}

/// The cases of a file, section by section.
pub(crate) fn questions<'a>(name: &str, file: &'a Value, options: Options) -> Result<Vec<Question<'a>>, Unreadable> {
    let shape = |what: String| Unreadable::Shape {
        file: name.to_owned(),
        what,
    };
    let sections = file.as_object().ok_or_else(|| shape("is no JSON object".to_owned()))?;
    let mut questions = Vec::new();
    for (section, value) in sections {
        let found = section_cases(file, section, value, options).map_err(|Misshapen(what)| shape(what))?;
        questions.extend(found);
    }
    if questions.is_empty() {
        return Err(shape("holds no checks".to_owned()));
    }
    for question in &mut questions {
        name.clone_into(&mut question.file);
    }
    Ok(questions)
}

fn section_cases<'a>(
    file: &'a Value,
    section: &str,
    value: &'a Value,
    options: Options,
) -> Result<Vec<Question<'a>>, Misshapen> {
    if section == "checks" {
        let checks = entries(section, value)?.iter().enumerate();
        return Ok(checks.map(|(index, entry)| check(index, entry)).collect());
    }
    if let Some(found) = survey::section(file, section, value)? {
        return Ok(found);
    }
    if let Some(found) = chance::section(section, value)? {
        return Ok(found);
    }
    if let Some(found) = electrical::section(section, value)? {
        return Ok(found);
    }
    if let Some(found) = fabrication::section(section, value)? {
        return Ok(found);
    }
    if let Some(found) = boxes::section(section, value)? {
        return Ok(found);
    }
    if let Some(found) = packing::section(section, value, options)? {
        return Ok(found);
    }
    Ok(unknown(section, value))
}

/// One check that tells its own kind.
fn check(index: usize, entry: &Value) -> Question<'_> {
    let kind = entry["kind"].as_str().unwrap_or_default();
    let fallback = numbered("checks", index);
    electrical::check(kind, entry, &fallback)
        .or_else(|| vehicle::check(kind, entry, &fallback))
        .unwrap_or_else(|| Question::of("checks", entry, &fallback).not_yet("unknown kind"))
}

/// Entries of a section that nobody knows; none when it holds no entries.
fn unknown<'a>(section: &str, value: &'a Value) -> Vec<Question<'a>> {
    let entries = value
        .as_array()
        .filter(|list| !NO_CASES.contains(&section) && list.iter().all(Value::is_object))
        .map_or(&[][..], Vec::as_slice);
    all_not_yet(section, entries, "unknown kind")
}

/// A list that has to be there.
pub(crate) fn entries<'a>(section: &str, value: &'a Value) -> Result<&'a [Value], Misshapen> {
    value
        .as_array()
        .map(Vec::as_slice)
        .ok_or_else(|| Misshapen(format!("{section} should be a list")))
}

/// The name of a case that has none: its section and place, from 1.
pub(crate) fn numbered(section: &str, index: usize) -> String {
    format!("{section} {}", index + 1)
}

/// A case for each entry, none of which can be worked out yet.
pub(crate) fn all_not_yet<'a>(section: &str, entries: &'a [Value], missing: &str) -> Vec<Question<'a>> {
    let case = |(index, entry): (usize, &'a Value)| {
        Question::of(section, entry, &numbered(section, index))
            .of_kind(section)
            .not_yet(missing)
    };
    entries.iter().enumerate().map(case).collect()
}
