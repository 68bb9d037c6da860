//! What a person does to the list of tested units.

use crate::{EditError, Id, Job, Seat, Unit};

/// One thing done to the list of tested units.
#[derive(Clone, Debug, PartialEq)]
pub enum UnitsEdit {
    /// Adds a unit without results.
    Add {
        /// Its kind.
        kind: Id,
    },
    /// Removes the unit at a place in the list.
    Remove(usize),
    /// Takes over a test sheet: units of a name that is there are replaced and stay where they are built in, others
    /// are added.
    TakeSheet(Vec<Unit>),
    /// Takes over where each unit of the list is built in.
    Seats(Vec<Option<Seat>>),
}

pub(super) fn apply(job: &mut Job, edit: &UnitsEdit) -> Result<(), EditError> {
    match edit {
        UnitsEdit::Add { kind } => {
            let name = super::free_name("unit", job.tested.iter().map(|u| u.name.as_str()));
            job.tested.push(Unit {
                name,
                kind: *kind,
                ..Unit::default()
            });
        }
        UnitsEdit::Remove(at) => {
            if *at >= job.tested.len() {
                return Err(EditError::Gone("the unit"));
            }
            job.tested.remove(*at);
        }
        UnitsEdit::TakeSheet(units) => {
            for unit in units {
                match job
                    .tested
                    .iter_mut()
                    .find(|u| u.name == unit.name && u.kind == unit.kind)
                {
                    Some(there) => {
                        // A sheet says nothing by a blank, and cannot bring a unit back into use.
                        there.amp_hours = unit.amp_hours.or(there.amp_hours);
                        there.resistance_mohm = unit.resistance_mohm.or(there.resistance_mohm);
                        there.rest_volts = unit.rest_volts.or(there.rest_volts);
                        there.seat = unit.seat.or(there.seat);
                        there.set_aside |= unit.set_aside;
                        if !unit.note.is_empty() {
                            there.note.clone_from(&unit.note);
                        }
                    }
                    None => job.tested.push(unit.clone()),
                }
            }
        }
        UnitsEdit::Seats(seats) => {
            if seats.len() != job.tested.len() {
                return Err(EditError::Gone("a unit"));
            }
            for (unit, seat) in job.tested.iter_mut().zip(seats) {
                unit.seat = *seat;
            }
        }
    }
    Ok(())
}

impl UnitsEdit {
    pub(super) fn words(&self, job: &Job) -> String {
        match self {
            Self::Add { .. } => "add a unit".to_owned(),
            Self::Remove(at) => format!("remove {}", job.tested.get(*at).map_or("a unit", |u| u.name.as_str())),
            Self::TakeSheet(units) => format!(
                "take over a test sheet of {} unit{}",
                units.len(),
                if units.len() == 1 { "" } else { "s" }
            ),
            Self::Seats(_) => "take over the matching".to_owned(),
        }
    }
}
