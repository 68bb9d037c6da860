//! The tested units: reading their sheet, and putting them where they make the strongest pack.

mod propose;
mod sheet;

pub(crate) use propose::chain_of;
pub use propose::{Matching, matching};
pub(crate) use sheet::separator;
pub use sheet::{Row, Sheet, SheetFault, read_sheet, sheet_text};

use crate::{Id, Job, Unit};

/// The kind that a test sheet without one belongs to: the one most placed, the first of those.
pub fn kind_of_sheet(job: &Job) -> Option<Id> {
    let placed = |id: Id| -> u32 {
        let of_kind = job.boxes.iter().flat_map(|b| &b.modules).filter(|m| m.kind == id);
        of_kind.map(|m| m.count).sum()
    };
    job.kinds
        .iter()
        .map(|k| k.id)
        .max_by_key(|&id| (placed(id), std::cmp::Reverse(id)))
}

/// The rows of a sheet as units of a kind.
pub fn units_of(rows: &[Row], kind: Id) -> Vec<Unit> {
    rows.iter()
        .map(|row| Unit {
            name: row.name.clone(),
            kind,
            amp_hours: row.amp_hours,
            resistance_mohm: row.resistance_mohm,
            rest_volts: row.rest_volts,
            note: row.note.clone(),
            set_aside: false,
            seat: None,
        })
        .collect()
}
