//! Lids that do not come off with the box in its place.

use geometry::Face;
use tape::Length;

use super::{Look, finding, for_all_boxes};
use crate::document::{CapHeldName, Closing};
use crate::evaluate::{BoxResult, LidReach, NoRoom};
use crate::finding::{Finding, Grave, Subject};

const SOURCE: &str =
    "common practice, no source: socket and ratchet take 60 mm over a head, a hand with a spanner 50 mm";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    findings.extend(not_held(look));
    let reached = look
        .evaluation
        .boxes
        .iter()
        .filter_map(|b| Some((b, b.reach.as_ref()?)));
    for (battery_box, reach) in reached.clone() {
        findings.extend(heads(battery_box, reach));
    }
    findings.extend(nuts(look, reached));
    for battery_box in &look.evaluation.boxes {
        findings.extend(
            battery_box
                .tools
                .iter()
                .map(|no_room| no_tool(look, battery_box, no_room)),
        );
    }
}

fn not_held(look: &Look<'_>) -> Option<Finding> {
    let design = &look.job.design;
    let (words, fix) = match design.closed_by() {
        Closing::Cap if design.cap_held_by() == CapHeldName::Nothing => (
            "nothing holds the lid down: no screw or clamp is drawn that squeezes its gasket or keeps the cap on",
            "choose what holds the cap on the Boxes page, or draw your own and have it checked",
        ),
        Closing::Flat => (
            "nothing holds the lid down: it lies on the rim, and no screw, clamp or weld is drawn that squeezes its gasket or \
             keeps it on",
            "close it by a flange with screws, or by a cap that is held, on the Boxes page, or draw your own and have it checked",
        ),
        Closing::Cap | Closing::Flange => return None,
    };
    for_all_boxes(look, Grave::Caution, words, "", fix)
}

/// Beside the lid: bolts, nuts, glands, the disconnect.
fn no_tool(look: &Look<'_>, battery_box: &BoxResult, no_room: &NoRoom) -> Finding {
    finding(
        Grave::Note,
        Subject::Box(battery_box.id),
        &battery_box.name,
        format!(
            "no room of {} {}, at {} of {}: {}",
            look.up(no_room.at.needs()),
            no_room.at.words(),
            no_room.count,
            no_room.of,
            no_room.by
        ),
        TOOLS,
        no_room.at.fix(),
    )
}

const TOOLS: &str = "common practice, no source: a socket takes 60 mm over a head, a jaw 20 mm beside a gland, a ring spanner 20 mm before a bolt in a web and 150 mm to swing its handle, a hand 100 mm before a handle";

/// One for the box, whatever stands there: it is mended in one way.
fn heads(battery_box: &BoxResult, reach: &LidReach) -> Option<Finding> {
    let all: u32 = reach.over.iter().map(|(_, count)| count).sum();
    let by = match reach.over.as_slice() {
        [] => return None,
        [(name, _)] => name.clone(),
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|(name, count)| format!("{name} at {count}"))
                .collect();
            each.join(", ")
        }
    };
    Some(finding(
        Grave::Caution,
        Subject::Box(battery_box.id),
        &battery_box.name,
        format!(
            "no room for {} {all} of the {} {} of its lid: {by}",
            reach.tool, reach.screws, reach.what
        ),
        SOURCE,
        "move the box, or plan to take it down whenever it is opened".to_owned(),
    ))
}

/// One for all boxes: it is mended in one way.
fn nuts<'a>(look: &Look<'_>, reached: impl Iterator<Item = (&'a BoxResult, &'a LidReach)>) -> Option<Finding> {
    let tight: Vec<(&BoxResult, &(Face, Length))> = reached
        .filter_map(|(battery_box, reach)| Some((battery_box, reach.beside.iter().min_by_key(|(_, room)| *room)?)))
        .collect();
    let (first, (face, room)) = tight.iter().min_by_key(|(_, (_, room))| *room)?;
    let names: Vec<&str> = tight.iter().map(|(b, _)| b.name.as_str()).collect();
    Some(finding(
        Grave::Note,
        Subject::Box(first.id),
        &names.join(", "),
        format!(
            "a hand with a spanner needs {} beside the flange to hold the nuts under it; at the {} of {} there is {}",
            look.up(LidReach::fingers()),
            face.name(),
            first.name,
            look.evaluation.down((*room).max(Length::ZERO))
        ),
        SOURCE,
        "weld or rivet the nuts to the flange, so that the lid opens from above".to_owned(),
    ))
}
