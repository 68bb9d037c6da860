//! What is written in words of its own: sections, threads, bends, places.

use enclosure::BendRule;
use enclosure::bend::NoRule;
use pack::conductor::Section;
use tape::{Allow, notation};

use super::MOST_SIZE;
use crate::assumed;
use crate::document::quantity::to_thousandths;
use crate::evaluate::bolt;
use crate::field::slot::{Otherwise, Slot, Wrong};
use crate::{Figure, Len, Places, PlacesOf, Seat};

/// What a conductor is made of, in words that name a section.
pub(super) fn section<'a>(to: &'a mut Option<String>, default: &str) -> Slot<'a> {
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                let section = Section::from_text(text).map_err(|e| (e.to_string(), e.mend().to_owned()))?;
                Some(section.name())
            }
        };
        Ok(())
    };
    Slot::words(now, put, Otherwise::Assumed(default.to_owned()))
}

/// A figure that people write as a name.
pub(super) struct NamedFigure {
    pub(super) figure: Figure,
    read: fn(&str) -> Option<f64>,
    text: fn(f64) -> String,
    allowed: &'static str,
}

pub(super) const THREAD: NamedFigure = NamedFigure {
    figure: Figure::MountBolt,
    read: bolt::read_thread,
    text: bolt::thread_text,
    allowed: bolt::THREADS,
};

pub(super) const GRADE: NamedFigure = NamedFigure {
    figure: Figure::MountGrade,
    read: bolt::read_grade,
    text: bolt::grade_text,
    allowed: bolt::GRADES,
};

/// A thread or a class of bolts.
pub(super) fn named_figure<'a>(to: &'a mut Option<i64>, named: &'static NamedFigure, usual: Option<i64>) -> Slot<'a> {
    #[expect(clippy::cast_precision_loss, reason = "within the range of the figure")]
    let text = |n: i64| (named.text)(n as f64 / 1000.0);
    let row = named.figure.row();
    let now = to.map(text);
    let default = usual.map_or(Otherwise::Open, |n| Otherwise::Assumed(text(n)));
    let put = move |typed: Option<&str>| -> Result<(), Wrong> {
        *to = match typed {
            None => None,
            Some(typed) => {
                let figure = (named.read)(typed).and_then(|number| to_thousandths(number).ok());
                let within = figure.filter(|&n| row.takes(n));
                Some(within.ok_or_else(|| {
                    let problem = format!("{typed:?} is not one of those on the list");
                    (problem, format!("write {}", named.allowed))
                })?)
            }
        };
        Ok(())
    };
    Slot::words(now, put, default)
}

/// How the length of a bend is worked out.
pub(super) fn bend_rule(to: &mut Option<String>) -> Slot<'_> {
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                let rule: BendRule = text
                    .parse()
                    .map_err(|e: NoRule| (e.to_string(), NoRule::MEND.to_owned()))?;
                Some(rule.text())
            }
        };
        Ok(())
    };
    Slot::words(now, put, Otherwise::Assumed(assumed::BEND_RULE.text()))
}

/// Where something goes in or on a box: places with a semicolon between, a hole's three lengths with an x.
pub(super) fn places(to: &mut Places, which: PlacesOf, units: tape::Units) -> Slot<'_> {
    let now = to.text(which);
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let entry = |entry: &str| -> Result<Vec<Len>, Wrong> {
            let parts: Vec<&str> = entry.split('x').collect();
            let wanted = which.lengths();
            if parts.len() != wanted {
                let what = if wanted == 1 {
                    "one length"
                } else {
                    "three lengths, as 120 x 60 x 11"
                };
                let given = format!("{:?} has {} where each entry is {what}", entry.trim(), parts.len());
                return Err((given, "put a semicolon between one place and the next".to_owned()));
            }
            let len = |(i, part): (usize, &&str)| {
                // Across a hole is a size; all else is a place.
                let allow = if i == 2 { Allow::AboveZero } else { Allow::Signed };
                let read = notation::read(part, units, allow).map_err(|e| (e.to_string(), e.mend()))?;
                if read.value().abs() > MOST_SIZE {
                    let most = assumed::text(MOST_SIZE, units);
                    return Err((format!("{part} is beyond {most}"), "check the unit".to_owned()));
                }
                Ok(Len::new(read))
            };
            parts.iter().enumerate().map(len).collect()
        };
        let list = match text {
            None => Vec::new(),
            Some(text) => text.split(';').map(entry).collect::<Result<_, _>>()?,
        };
        to.put(which, list);
        Ok(())
    };
    Slot::words(now, put, Otherwise::Open)
}

/// Where a unit is built in.
pub(super) fn seat(to: &mut Option<Seat>) -> Slot<'_> {
    let now = to.map(|seat| seat.to_string());
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let mend = || "write M7 for a module, S7.3 for the third of a stack".to_owned();
        *to = text
            .map(str::parse)
            .transpose()
            .map_err(|e: crate::SeatError| (e.to_string(), mend()))?;
        Ok(())
    };
    Slot::words(now, put, Otherwise::Open)
}
