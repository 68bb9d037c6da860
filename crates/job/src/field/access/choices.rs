//! One of several.

use tape::Length;

use crate::Len;
use crate::field::slot::{Choice, Otherwise, Slot};

pub(in crate::field) fn choice<'a, T: Copy + PartialEq>(
    to: &'a mut Option<T>,
    all: &'a [T],
    name: fn(T) -> &'static str,
    default: &str,
) -> Slot<'a> {
    let now = to.and_then(|value| all.iter().position(|&v| v == value));
    let pick = Box::new(move |i: Option<usize>| *to = i.map(|i| all[i]));
    let options = all.iter().map(|&v| name(v)).collect();
    Slot::Choice(Choice { options, now, pick }, Otherwise::Assumed(default.to_owned()))
}

/// A choice that may stay open, with nothing resting on it.
pub(in crate::field) fn open_choice<'a, T: Copy + PartialEq>(
    to: &'a mut Option<T>,
    all: &'a [T],
    name: fn(T) -> &'static str,
) -> Slot<'a> {
    match choice(to, all, name, "") {
        Slot::Choice(choice, _) => Slot::Choice(choice, Otherwise::Open),
        other => other,
    }
}

pub(in crate::field) fn needed_choice<'a, T: Copy + PartialEq>(
    to: &'a mut T,
    all: &'a [T],
    name: fn(T) -> &'static str,
) -> Slot<'a> {
    let now = all.iter().position(|v| v == to);
    let options = all.iter().map(|&v| name(v)).collect();
    let pick = Box::new(move |i: Option<usize>| {
        if let Some(i) = i {
            *to = all[i];
        }
    });
    Slot::Choice(Choice { options, now, pick }, Otherwise::Missing)
}

pub(super) fn yes_no(to: &mut bool) -> Slot<'_> {
    needed_choice(to, &[false, true], |yes| if yes { "yes" } else { "no" })
}

/// Whether a box wraps its modules or has a fixed inside size.
pub(super) fn fixed_or_wraps(battery_box: &mut crate::BatteryBox, units: tape::Units) -> Slot<'_> {
    let now = Some(usize::from(battery_box.fixed.is_some()));
    let pick = Box::new(move |i: Option<usize>| match (i, &battery_box.fixed) {
        (Some(1), None) => {
            let size = |mm| Len::exactly(Length::mm(mm), units);
            battery_box.fixed = Some([size(600), size(300), size(250)]);
        }
        (Some(0), Some(_)) => battery_box.fixed = None,
        _ => {}
    });
    Slot::Choice(
        Choice {
            options: vec!["wraps its modules", "fixed"],
            now,
            pick,
        },
        Otherwise::Missing,
    )
}
