//! What the ways in rest on, by name.

use geometry::{Axis, Face};
use tape::{Allow, Length, Units, notation};

use super::access::{MOST_ROOM, choice};
use super::slot::{Otherwise, Slot, Wrong};
use crate::{BedName, BedPart, BedRoomName, Cavity, FaceName, Id, Job, Len, Opening, assumed};

/// Names one value that the ways in rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(
    missing_docs,
    reason = "the label of each field says what it is; see `label` and `help`"
)]
pub enum WayField {
    Bed,
    Raised,
    Jack,
    Pitch,
    Hand,
    HingeX,
    HingeZ,
    Tilt,
    BedRoom,
    /// The place of a part is its index in the list.
    PartName(usize),
    PartFrom(usize),
    PartTo(usize),
    PartLowest(usize),
    PartHighest(usize),
    /// A face of a cavity.
    Opening(Id, Face),
    /// Where in its face an opening is that is smaller than that.
    OpeningAt(Id, Face),
}

/// Those of the job itself.
pub(super) const OF_WAY: [WayField; 9] = [
    WayField::Bed,
    WayField::Raised,
    WayField::Jack,
    WayField::Pitch,
    WayField::Hand,
    WayField::HingeX,
    WayField::HingeZ,
    WayField::Tilt,
    WayField::BedRoom,
];

/// Those of a part of the bed.
pub(super) const OF_BED_PART: [fn(usize) -> WayField; 5] = [
    WayField::PartName,
    WayField::PartFrom,
    WayField::PartTo,
    WayField::PartLowest,
    WayField::PartHighest,
];

/// Nobody stands a truck higher than this, and no hinge is higher.
const MOST_HIGH: Length = Length::mm(3_000);
/// Beyond this a box lies on its side, and a bed falls over.
const MOST_DEG: u32 = 90;

/// Access to the value that `field` names; `None` when its subject is not in the job.
pub(super) fn slot(job: &mut Job, field: WayField) -> Option<Slot<'_>> {
    let units = job.units.units();
    let way = &mut job.way_in;
    let length = |to, most, default| Slot::Length {
        to,
        allow: Allow::ZeroOrMore,
        most,
        otherwise: Otherwise::Assumed(assumed::text(default, units)),
    };
    let place = |to| Slot::Length {
        to,
        allow: Allow::Signed,
        most: MOST_HIGH * 4,
        otherwise: Otherwise::Open,
    };
    let at = |to| Slot::Place {
        to,
        allow: Allow::Signed,
    };
    Some(match field {
        WayField::Bed => choice(&mut way.bed, BedName::ALL, BedName::name, assumed::BED.name()),
        WayField::Raised => length(&mut way.raised, MOST_HIGH, assumed::RAISED),
        WayField::Jack => length(&mut way.jack, MOST_ROOM, assumed::jack(units)),
        WayField::Pitch => Slot::Count {
            to: &mut way.pitch_deg,
            most: MOST_DEG,
            otherwise: Otherwise::Assumed(assumed::PITCH_DEG.to_string()),
        },
        WayField::Hand => length(&mut way.hand, MOST_ROOM, assumed::HAND),
        WayField::HingeX => place(&mut way.hinge_x),
        WayField::HingeZ => place(&mut way.hinge_z),
        WayField::Tilt => Slot::Count {
            to: &mut way.tilt_deg,
            most: MOST_DEG,
            otherwise: Otherwise::Open,
        },
        WayField::BedRoom => choice(
            &mut way.bed_room,
            BedRoomName::ALL,
            BedRoomName::name,
            assumed::BED_ROOM.name(),
        ),
        WayField::PartName(i) => Slot::Text {
            to: &mut part(way, i)?.name,
            needed: true,
        },
        WayField::PartFrom(i) => at(&mut part(way, i)?.from),
        WayField::PartTo(i) => at(&mut part(way, i)?.to),
        WayField::PartLowest(i) => at(&mut part(way, i)?.lowest),
        WayField::PartHighest(i) => at(&mut part(way, i)?.highest),
        WayField::Opening(id, face) => {
            let cavity = job.cavities.iter_mut().find(|c| c.id == id)?;
            opening(cavity, face, units)
        }
        WayField::OpeningAt(id, face) => {
            let name = FaceName::of(face);
            let cavity = job.cavities.iter_mut().find(|c| c.id == id)?;
            let narrowed = |o: &&mut Opening| o.face == name && o.clear.is_some();
            opening_at(cavity.openings.iter_mut().find(narrowed)?, units)
        }
    })
}

fn part(way: &mut crate::WayIn, i: usize) -> Option<&mut BedPart> {
    way.bed_parts.get_mut(i)
}

/// Open, closed, or open with a clear size.
fn opening(cavity: &mut Cavity, face: Face, units: Units) -> Slot<'_> {
    let name = FaceName::of(face);
    let told = cavity.openings.iter().position(|o| o.face == name);
    let now = match told {
        Some(at) => Some(match &cavity.openings[at].clear {
            None => OPEN.to_owned(),
            Some([a, b]) => format!("{} x {}", a.text(), b.text()),
        }),
        None => (!cavity.openings.is_empty()).then(|| CLOSED.to_owned()),
    };
    let default = if face == assumed::OPENING { OPEN } else { CLOSED };
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        // What is taken for open while nothing was entered stays open when the first thing is.
        if cavity.openings.is_empty() && text.is_some() && face != assumed::OPENING {
            cavity.openings.push(Opening {
                face: FaceName::of(assumed::OPENING),
                clear: None,
                at: None,
                note: String::new(),
            });
        }
        let Some(text) = text.filter(|text| !text.eq_ignore_ascii_case(CLOSED)) else {
            if text.is_some() && cavity.openings.iter().all(|o| o.face == name) {
                let problem = "the cavity would have no face that a box may pass".to_owned();
                return Err((problem, "open another face first".to_owned()));
            }
            cavity.openings.retain(|o| o.face != name);
            return Ok(());
        };
        let clear = if text.eq_ignore_ascii_case(OPEN) {
            None
        } else {
            Some(clear(text, face, units)?)
        };
        match cavity.openings.iter_mut().find(|o| o.face == name) {
            Some(opening) => {
                opening.at = opening.at.take().filter(|_| clear.is_some());
                opening.clear = clear;
            }
            None => cavity.openings.push(Opening {
                face: name,
                clear,
                at: None,
                note: String::new(),
            }),
        }
        Ok(())
    };
    Slot::words(now, put, Otherwise::Assumed(default.to_owned()))
}

const OPEN: &str = "open";
const CLOSED: &str = "closed";

/// Where in its face it is.
fn opening_at(opening: &mut Opening, units: Units) -> Slot<'_> {
    let now = opening.at.as_ref().map(|[a, b]| format!("{} x {}", a.text(), b.text()));
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        let text = text.filter(|text| !text.eq_ignore_ascii_case(MIDDLE));
        opening.at = match text {
            None => None,
            Some(text) => Some(two(text, units, Allow::ZeroOrMore, || {
                format!(
                    "write {MIDDLE}, or how far its edges are from the {} of the face, as 30 mm x 20 mm",
                    low_edges(opening.face.face())
                )
            })?),
        };
        Ok(())
    };
    Slot::words(now, put, Otherwise::Assumed(MIDDLE.to_owned()))
}

const MIDDLE: &str = "middle";

/// The edges of a face that places in it are measured from.
const fn low_edges(face: Face) -> &'static str {
    match face {
        Face::Bottom | Face::Top => "front and left edges",
        Face::Left | Face::Right => "front and lower edges",
        Face::Front | Face::Rear => "left and lower edges",
    }
}

/// Two sides, in the order of the axes.
fn clear(text: &str, face: Face, units: Units) -> Result<[Len; 2], Wrong> {
    let across: Vec<&str> = Axis::ALL
        .into_iter()
        .filter(|&axis| axis != face.axis())
        .map(Axis::extent_name)
        .collect();
    two(text, units, Allow::AboveZero, || {
        format!(
            "write open, closed, or its clear {} by {}, as 630 mm x 770 mm",
            across[0], across[1]
        )
    })
}

/// Two lengths with an x between them.
fn two(text: &str, units: Units, allow: Allow, mend: impl Fn() -> String) -> Result<[Len; 2], Wrong> {
    let sides: Vec<&str> = text.split(['x', 'X']).map(str::trim).collect();
    let [first, second] = sides[..] else {
        return Err((format!("{text:?} is not two lengths with an x between them"), mend()));
    };
    let side = |word: &str| {
        let read = notation::read(word, units, allow);
        read.map(Len::new).map_err(|e| (format!("{word:?}: {e}"), mend()))
    };
    Ok([side(first)?, side(second)?])
}

/// What it is called, and what it takes.
pub(super) const fn words(field: WayField) -> (&'static str, &'static str) {
    match field {
        WayField::Bed => (
            "bed while boxes go in",
            "on the frame, off the truck, or tilted up about its hinge",
        ),
        WayField::Raised => (
            "truck raised by",
            "how much higher its frame is on stands than on its wheels",
        ),
        WayField::Jack => (
            "jack all the way down",
            "the height of its saddle or of the trolley, with the board on it",
        ),
        WayField::Pitch => ("most pitch, degrees", "how far a box may be tipped while it goes in"),
        WayField::Hand => (
            "room for a hand",
            "beside a module at two sides while it is lifted; 0 when it hangs from straps",
        ),
        WayField::HingeX => ("bed hinge, rearward", "its axis, from the front axle"),
        WayField::HingeZ => ("bed hinge, up", "its axis above the ground, the truck on its wheels"),
        WayField::Tilt => ("bed tilts by, degrees", "to its stop"),
        WayField::BedRoom => (
            "room that the bed sweeps",
            "kept free by the automatic layout, or used for boxes when the bed comes off whole",
        ),
        WayField::PartName(_) => ("part of the bed", "floor, crossmember, tail, latch hook"),
        WayField::PartFrom(_) => ("its front", "rearward from the front axle, the bed at rest"),
        WayField::PartTo(_) => ("its rear", "rearward from the front axle, the bed at rest"),
        WayField::PartLowest(_) => ("its lowest edge", "above the ground, the bed at rest"),
        WayField::PartHighest(_) => ("its highest edge", "above the ground, the bed at rest"),
        WayField::Opening(_, face) => (
            match face {
                Face::Front => "front face",
                Face::Rear => "rear face",
                Face::Left => "left face",
                Face::Right => "right face",
                Face::Bottom => "bottom face",
                Face::Top => "top face",
            },
            "type open or closed for a box to pass, or its clear size where a lip narrows it, as 25 x 30",
        ),
        WayField::OpeningAt(_, face) => (
            "its place in the face",
            match face {
                Face::Bottom | Face::Top => {
                    "from the face's front and left edges to its own, as 3 x 2; middle is taken else"
                }
                Face::Left | Face::Right => {
                    "from the face's front and lower edges to its own, as 3 x 2; middle is taken else"
                }
                Face::Front | Face::Rear => {
                    "from the face's left and lower edges to its own, as 3 x 2; middle is taken else"
                }
            },
        ),
    }
}
