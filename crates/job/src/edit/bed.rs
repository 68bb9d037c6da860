//! What a person does to the list of what turns with the bed.

use tape::Length;

use crate::{BedPart, EditError, Job, Len, assumed};

/// One thing done to the list of what turns with the bed. What is entered of a part is set through its fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BedEdit {
    /// Adds a part of the usual section over the hinge's height, to be filled in: the floor first, then crossmembers.
    Add,
    /// Removes the part at a place in the list.
    Remove(usize),
}

pub(super) fn apply(job: &mut Job, edit: BedEdit) -> Result<(), EditError> {
    let units = job.units.units();
    let parts = &mut job.way_in.bed_parts;
    match edit {
        BedEdit::Add => {
            let [section, floor] = assumed::bed_part(units);
            let hinge = |at: &Option<Len>| at.as_ref().map_or(Length::ZERO, Len::value);
            let (x, z) = (hinge(&job.way_in.hinge_x), hinge(&job.way_in.hinge_z));
            let (name, from) = match parts.len() {
                0 => ("bed floor".to_owned(), x - floor),
                n => (format!("crossmember {n}"), x - section),
            };
            let [from, to, lowest, highest] = [from, x, z, z + section].map(|at| Len::exactly(at, units));
            parts.push(BedPart {
                name,
                from,
                to,
                lowest,
                highest,
            });
        }
        BedEdit::Remove(at) => {
            if at >= parts.len() {
                return Err(EditError::Gone("the part of the bed"));
            }
            parts.remove(at);
        }
    }
    Ok(())
}

impl BedEdit {
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Add => "add a part of the bed",
            Self::Remove(_) => "remove a part of the bed",
        }
    }
}
