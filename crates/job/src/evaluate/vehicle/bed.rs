//! What a bed that tilts leaves and takes at its stop: room over it, how far its tail comes down, and room to hoist each box
//! under it.

use geometry::Face;
use geometry::sweep::closed_forms::{headroom, least_tilt_deg, tail_drop};
use tape::Length;

use crate::evaluate::boxes::BoxResult;
use crate::{Id, Job};

/// The bed at its stop.
#[derive(Clone, Debug, PartialEq)]
pub struct BedAtStop {
    /// How far it tilts, in degrees.
    pub tilt_deg: u32,
    /// The highest that any part of it comes over its whole turn, above the ground, rounded up.
    pub reaches: Length,
    /// How low its tail comes; `None` where nothing of it is behind the hinge.
    pub tail: Option<Tail>,
    /// Room to hoist each box that is ahead of the hinge and has a place in the truck.
    pub boxes: Vec<HoistRoom>,
}

/// How low the tail of the bed comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Tail {
    /// Its part.
    pub part_name: String,
    /// How much lower than at rest.
    pub drop: Length,
    /// The lowest above the ground; below zero when it would strike.
    pub height: Length,
    /// The tilt at which that is, in degrees.
    pub at_deg: f64,
}

/// Room to hoist a box straight up, its rear edge being the nearest to the hinge.
#[derive(Clone, Debug, PartialEq)]
pub struct HoistRoom {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// How far it can be raised at the stop, rounded down; `None` where the bed is upright.
    pub rises: Option<Length>,
    /// The least tilt at which it can be raised by its own height, degrees; `None` where no tilt is enough.
    pub least_deg: Option<f64>,
}

/// `None` without hinge, tilt and parts.
pub(super) fn evaluate(job: &Job, boxes: &[BoxResult]) -> Option<BedAtStop> {
    let way = &job.way_in;
    let [hinge_x, hinge_z] = [way.hinge_x.as_ref()?.value(), way.hinge_z.as_ref()?.value()];
    let tilt_deg = way.tilt_deg?;
    let parts = &way.bed_parts;
    let turn_deg = f64::from(tilt_deg);
    let corners = parts.iter().flat_map(|part| {
        let ends = [part.from.value(), part.to.value()];
        ends.map(|x| [(hinge_x - x).as_mm(), (part.highest.value() - hinge_z).as_mm()])
    });
    let highest_mm = corners
        .map(|[ahead, up]| highest_mm(ahead, up, turn_deg.to_radians()))
        .fold(None, |most: Option<f64>, mm| Some(most.map_or(mm, |most| most.max(mm))))?;
    let tails = parts
        .iter()
        .filter(|part| part.to.value() > hinge_x)
        .filter_map(|part| {
            let found = tail_drop(part.to.value() - hinge_x, hinge_z - part.lowest.value(), turn_deg).ok()?;
            Some(Tail {
                part_name: part.name.clone(),
                drop: found.drop,
                height: hinge_z - found.lowest,
                at_deg: found.at_deg,
            })
        });
    // The lowest of what is ahead of the hinge, as if it were flat all along: no room is told that a rib takes.
    let ahead = parts.iter().filter(|part| part.from.value() < hinge_x);
    let depth = ahead.map(|part| hinge_z - part.lowest.value()).max();
    let hoists = boxes.iter().filter_map(|battery_box| {
        let place = job.cavity(battery_box.cavity)?.place.as_ref()?;
        let solids = || battery_box.solids.iter().chain(&battery_box.added.brackets);
        let rear = place[0].value() + solids().map(|solid| solid.face(Face::Rear)).max()?;
        let top = place[2].value() + solids().map(|solid| solid.face(Face::Top)).max()?;
        let bottom = place[2].value() + solids().map(|solid| solid.face(Face::Bottom)).min()?;
        let forward = hinge_x - rear;
        let under = headroom(forward, depth?, turn_deg).ok();
        if forward.is_negative() {
            return None;
        }
        let raised = top + (top - bottom) - hinge_z;
        Some(HoistRoom {
            battery_box: battery_box.id,
            name: battery_box.name.clone(),
            rises: under.map(|under| (hinge_z + under - top).max(Length::ZERO)),
            least_deg: least_tilt_deg(forward, depth?, raised).ok(),
        })
    });
    Some(BedAtStop {
        tilt_deg,
        reaches: hinge_z + Length::from_mm_up(highest_mm),
        tail: tails.min_by_key(|tail| tail.height),
        boxes: hoists.collect(),
    })
}

/// The highest that a corner comes over the hinge on its circle, from rest to the stop, millimetres.
fn highest_mm(ahead_mm: f64, up_mm: f64, turn_rad: f64) -> f64 {
    let at = ahead_mm.atan2(up_mm).clamp(0.0, turn_rad);
    ahead_mm * at.sin() + up_mm * at.cos()
}
