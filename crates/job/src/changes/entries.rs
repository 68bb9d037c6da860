//! What was entered otherwise.

use crate::{Field, Job, State, field};

/// An entry that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryChange {
    /// Of which cavity, kind, box or unit; empty when it is of the whole job.
    pub of: String,
    /// What it is called.
    pub label: &'static str,
    /// As it was shown; empty when there was none.
    pub before: String,
    /// As it is shown; empty when there is none.
    pub after: String,
}

impl EntryChange {
    /// As `left box: bay length 3" -> 4"`.
    pub fn words(&self) -> String {
        let of = if self.of.is_empty() {
            String::new()
        } else {
            format!("{}: ", self.of)
        };
        let or_none = |text: &str| if text.is_empty() { "none" } else { text }.to_owned();
        format!(
            "{of}{} {} -> {}",
            self.label,
            or_none(&self.before),
            or_none(&self.after)
        )
    }
}

/// The entries that differ, in the order of the new job; those that only the old one has, at the end. A default that follows
/// another entry is not among them, nor is where modules stand.
pub(super) fn compare(old: &Job, new: &Job) -> Vec<EntryChange> {
    let (was, is) = (shown(old), shown(new));
    let mut changes = Vec::new();
    for entry in &is {
        let before = was.iter().find(|before| before.field == entry.field);
        changes.extend(change(entry, before, Some(entry)));
    }
    for entry in &was {
        if !is.iter().any(|after| after.field == entry.field) {
            changes.extend(change(entry, Some(entry), None));
        }
    }
    changes
}

fn change(entry: &Entry, before: Option<&Entry>, after: Option<&Entry>) -> Option<EntryChange> {
    let text = |entry: Option<&Entry>| entry.map_or_else(String::new, |entry| entry.text.clone());
    let given = [before, after].into_iter().flatten().any(|entry| entry.given);
    (given && text(before) != text(after)).then(|| EntryChange {
        of: entry.of.clone(),
        label: entry.field.label(),
        before: text(before),
        after: text(after),
    })
}

struct Entry {
    of: String,
    field: Field,
    text: String,
    given: bool,
}

fn shown(job: &Job) -> Vec<Entry> {
    let fields: Vec<(String, Field)> = field::named(job)
        .into_iter()
        .filter(|(_, field)| !matches!(field, Field::PlacedAt(..)) && field.is_asked(&job.design))
        .collect();
    let asked: Vec<Field> = fields.iter().map(|(_, field)| *field).collect();
    let mut texts = field::show(job, &asked).into_iter().peekable();
    let mut entries = Vec::with_capacity(fields.len());
    for (of, field) in fields {
        // A field whose subject has no such value is left out of what is shown.
        if let Some((_, shown)) = texts.next_if(|(shown, _)| *shown == field) {
            entries.push(Entry {
                of,
                field,
                given: shown.state == State::Given,
                text: shown.text,
            });
        }
    }
    entries
}
