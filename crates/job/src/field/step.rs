//! The step in the underside of a box: at which wall, and how large.

use tape::{Length, Units};

use super::slot::{Choice, Otherwise, Slot};
use crate::document::{BatteryBox, BoxStep, FaceName, Len};

/// What the choice says where there is no step.
const NONE: &str = "none";

/// At which wall the step is. A new one has a size that can be seen, to be filled in; nothing, or none, takes it out.
pub(super) fn wall(battery_box: &mut BatteryBox, units: Units) -> Slot<'_> {
    let step = &mut battery_box.step;
    let now = step.as_ref().map_or(Some(0), |step| {
        BoxStep::WALLS.iter().position(|&wall| wall == step.at).map(|i| i + 1)
    });
    let pick = Box::new(move |i: Option<usize>| {
        let wall = i.and_then(|i| i.checked_sub(1)).and_then(|i| BoxStep::WALLS.get(i));
        match (wall, step.as_mut()) {
            (Some(&at), Some(step)) => step.at = at,
            (Some(&at), None) => *step = Some(new(at, units)),
            (None, _) => *step = None,
        }
    });
    let options = [NONE].into_iter().chain(BoxStep::WALLS.map(|wall| wall.face().name()));
    Slot::Choice(
        Choice {
            options: options.collect(),
            now,
            pick,
        },
        Otherwise::Open,
    )
}

fn new(at: FaceName, units: Units) -> BoxStep {
    let [run, rise] = match units {
        Units::Inch => [4, 2].map(Length::inches),
        Units::Millimetre => [100, 50].map(Length::mm),
    };
    let len = |length| Len::exactly(length, units);
    BoxStep {
        at,
        run: len(run),
        rise: len(rise),
    }
}
