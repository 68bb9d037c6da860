//! The job file: JSON with `format` and `version` first, refused politely when it cannot be read.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use serde_json::Value;

use crate::{FieldError, Job, field, file_kinds, whole};

/// The `format` that every job file names.
pub const FORMAT: &str = "packwright-job";
/// The version that this program writes, and the newest that it reads.
pub const VERSION: u32 = 1;
/// A job is small; a larger file is surely something else.
const MOST_BYTES: usize = 16 << 20;

/// The `format` field: always [`FORMAT`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct FormatName;

/// The `version` field: always [`VERSION`] once a file is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Version;

impl Serialize for FormatName {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(FORMAT)
    }
}

impl<'de> Deserialize<'de> for FormatName {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let name = String::deserialize(d)?;
        if name == FORMAT {
            Ok(Self)
        } else {
            Err(D::Error::custom(format!("must be {FORMAT:?}")))
        }
    }
}

impl Serialize for Version {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_u32(VERSION)
    }
}

impl<'de> Deserialize<'de> for Version {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let version = u32::deserialize(d)?;
        if version == VERSION {
            Ok(Self)
        } else {
            Err(D::Error::custom(format!("must be {VERSION}")))
        }
    }
}

#[cfg(test)]
impl schemars::JsonSchema for FormatName {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Format".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "description": "Says that the file is a job.", "type": "string", "const": FORMAT })
    }
}

#[cfg(test)]
impl schemars::JsonSchema for Version {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Version".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "description": "The version of the format.", "type": "integer", "const": VERSION })
    }
}

/// A file that cannot be read as a job. The file is left as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LoadError {
    /// Far too large for a job.
    #[error("the file has {0} bytes, far too many for a job")]
    TooLarge(usize),
    /// Bytes that are not text.
    #[error("byte {0} is not text (UTF-8): the file is damaged, or no job file")]
    NotText(usize),
    /// Not well-formed JSON.
    #[error("line {line}, column {column}: {problem}")]
    NotJson {
        /// Counted from 1.
        line: usize,
        /// Counted from 1.
        column: usize,
        /// What is wrong there.
        problem: String,
    },
    /// JSON, but no job.
    #[error("it is not a packwright job: {0}")]
    NotAJob(&'static str),
    /// Written by a newer program.
    #[error("it has version {given}, and this program reads up to version {VERSION}")]
    Newer {
        /// Its version.
        given: u64,
    },
    /// A field that cannot be understood.
    #[error("{place} (line {line}): {problem}")]
    Field {
        /// The field's place, as `boxes[0].modules[2].at[1]`.
        place: String,
        /// Line in the file, counted from 1.
        line: usize,
        /// What is wrong with it.
        problem: String,
    },
    /// A value that its field does not take.
    #[error("{place}: {error}")]
    Value {
        /// Of what, as `kinds[0]`.
        place: String,
        /// Which field, and what is wrong with it.
        error: Box<FieldError>,
    },
    /// Fields that contradict each other.
    #[error(transparent)]
    NotWhole(#[from] whole::Fault),
}

impl LoadError {
    /// What the person can do, as an instruction.
    pub fn fix(&self) -> String {
        match self {
            Self::TooLarge(_) | Self::NotAJob(_) => "open a file that packwright has saved".to_owned(),
            Self::NotText(_) | Self::NotJson { .. } => {
                "open a job file; of one that was damaged take the backup (the same name with .bak behind it), or mend that \
                 place in a text editor"
                    .to_owned()
            }
            Self::Newer { .. } => "open it with the newer program; it has not been changed".to_owned(),
            Self::Field { .. } => "mend that field in a text editor, or take the backup (.bak)".to_owned(),
            Self::Value { error, .. } => error.mend.clone(),
            Self::NotWhole(fault) => fault.mend.to_owned(),
        }
    }
}

/// Reads a job file.
///
/// # Errors
///
/// [`LoadError`] with the place of the first thing that cannot be read.
pub fn load(bytes: &[u8]) -> Result<Job, LoadError> {
    if bytes.len() > MOST_BYTES {
        return Err(LoadError::TooLarge(bytes.len()));
    }
    let text = std::str::from_utf8(bytes).map_err(|e| LoadError::NotText(e.valid_up_to() + 1))?;
    let value: Value = serde_json::from_str(text).map_err(|e| LoadError::NotJson {
        line: e.line(),
        column: e.column(),
        problem: one_line(&without_place(&e.to_string())),
    })?;
    check_head(&value)?;
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let job: Job = serde_path_to_error::deserialize(&mut deserializer).map_err(|e| {
        let path = e.path().to_string();
        LoadError::Field {
            place: if path == "." {
                "the file".to_owned()
            } else {
                one_line(&path)
            },
            line: e.inner().line(),
            problem: one_line(&file_kinds::plain(&path, &without_place(&e.inner().to_string()))),
        }
    })?;
    whole::check(&job)?;
    field::check_all(&job).map_err(|(place, error)| LoadError::Value { place, error })?;
    Ok(job)
}

fn check_head(value: &Value) -> Result<(), LoadError> {
    let Value::Object(fields) = value else {
        return Err(LoadError::NotAJob("it holds no fields"));
    };
    match fields.get("format").and_then(Value::as_str) {
        Some(FORMAT) => {}
        Some(_) => return Err(LoadError::NotAJob("its format is another")),
        None => return Err(LoadError::NotAJob("it has no format field")),
    }
    match fields.get("version").and_then(Value::as_u64) {
        Some(0) | None => Err(LoadError::NotAJob("it has no version that makes sense")),
        Some(given) if given > u64::from(VERSION) => Err(LoadError::Newer { given }),
        Some(_) => Ok(()),
    }
}

/// The message without serde's own "at line 1 column 2", which is told apart.
fn without_place(message: &str) -> String {
    message
        .rfind(" at line ")
        .map_or(message, |at| &message[..at])
        .to_owned()
}

/// The longest part of a message that quotes the file.
const MOST_QUOTED: usize = 300;

/// Text that quotes the file, fit for one line of a terminal: no control characters, and no endless names.
fn one_line(text: &str) -> String {
    let plain = text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c });
    let mut line: String = plain.clone().take(MOST_QUOTED).collect();
    if plain.count() > MOST_QUOTED {
        line.push_str("...");
    }
    line
}

/// The job as a file's text, ending in a line end.
///
/// # Panics
///
/// Never: a job holds nothing that JSON cannot.
pub fn to_text(job: &Job) -> String {
    let mut text = serde_json::to_string_pretty(job).expect("a job holds only strings, numbers and lists");
    text.push('\n');
    text
}
