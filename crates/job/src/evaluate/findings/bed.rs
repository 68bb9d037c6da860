//! A bed that meets a box, or comes nearer to one than the margin, while it tilts.

use super::{Look, finding};
use crate::finding::{Finding, Grave, Subject};

/// Where the figures come from.
const SOURCE: &str = "arcs about the hinge, seen from the side; closed forms";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    let style = look.evaluation.style();
    let swept = match &look.evaluation.bed_sweep {
        None => return,
        Some(Err(missing)) => {
            let words = format!("not checked: {missing}");
            let fix = "enter it on the Boxes page, how boxes go in";
            findings.push(finding(Grave::Note, Subject::Job, "bed sweep", words, "", fix));
            return;
        }
        Some(Ok(swept)) => swept,
    };
    for near in &swept.nearest {
        let (grave, limit) = match near.meets_deg {
            Some(_) => (Grave::Stop, String::new()),
            None if near.distance < look.evaluation.margin => (
                Grave::Caution,
                format!("; asked for {}", look.up(look.evaluation.margin)),
            ),
            None => continue,
        };
        findings.push(finding(
            grave,
            Subject::Box(near.battery_box),
            &near.box_name,
            format!("{}{limit}", near.words(style)),
            SOURCE,
            format!(
                "lower the box, move it away from the hinge, or cut {} back; tilt less than that until then",
                near.part_name
            ),
        ));
    }
    for name in &swept.not_placed {
        let words = format!("{name} was not checked: its cavity has no place in the truck");
        let fix = "enter the cavity's place on the Truck page: x behind the front axle, y right of the middle, z above the ground";
        findings.push(finding(Grave::Note, Subject::Job, "bed sweep", words, "", fix));
    }
}
