//! What a person does to the order of the wiring.

use crate::{EditError, FaceName, Id, Job, Seat};

/// One thing done to the order of the wiring.
#[derive(Clone, Debug, PartialEq)]
pub enum WiringEdit {
    /// Takes over the order of a kind: string after string or group after group, and which of these modules are built in
    /// the other way round. Modules that are not named stay as they are.
    Order {
        /// From the pack's minus to its plus.
        order: Vec<Seat>,
        /// Built in the other way round.
        turned: Vec<Seat>,
    },
    /// Keeps two modules next to each other when the order is worked out anew, or lets them go.
    Lock {
        /// The first, nearer to the pack's minus, and the second.
        pair: [Seat; 2],
        /// Whether they are kept.
        locked: bool,
    },
    /// Says where both leads leave the pack; `None` for wherever is shortest.
    ExitAt(Option<(Id, FaceName)>),
    /// Forgets the order, so that it is worked out from the layout again.
    Forget,
}

pub(super) fn apply(job: &mut Job, edit: &WiringEdit) -> Result<(), EditError> {
    let wiring = &mut job.wiring;
    match edit {
        WiringEdit::Order { order, turned } => {
            for (list, new) in [(&mut wiring.order, order), (&mut wiring.turned, turned)] {
                list.retain(|seat| !order.contains(seat));
                list.splice(0..0, new.iter().copied());
            }
        }
        WiringEdit::Lock { pair, locked } => {
            // A module has one before it and one behind it: a new pair takes the place of older ones.
            wiring.locks.retain(|l| l[0] != pair[0] && l[1] != pair[1]);
            if *locked {
                wiring.locks.push(*pair);
            }
        }
        WiringEdit::ExitAt(place) => {
            if let Some((id, _)) = place
                && !job.boxes.iter().any(|b| b.id == *id)
            {
                return Err(EditError::Gone("the box"));
            }
            (wiring.exit_box, wiring.exit_side) = place.unzip();
        }
        WiringEdit::Forget => {
            wiring.order.clear();
            wiring.turned.clear();
        }
    }
    Ok(())
}

impl WiringEdit {
    pub(super) fn words(&self, job: &Job) -> String {
        match self {
            Self::Order { .. } => "take over the wiring order".to_owned(),
            Self::Lock {
                pair: [a, b],
                locked: true,
            } => format!("keep {a} before {b}"),
            Self::Lock {
                pair: [a, b],
                locked: false,
            } => format!("let {a} and {b} go"),
            Self::ExitAt(None) => "let leads leave wherever is shortest".to_owned(),
            Self::ExitAt(Some((id, side))) => {
                let name = job.battery_box(*id).map_or("the box", |b| b.name.as_str());
                format!("let leads leave {name} at its {}", side.face().name())
            }
            Self::Forget => "forget the wiring order".to_owned(),
        }
    }
}
