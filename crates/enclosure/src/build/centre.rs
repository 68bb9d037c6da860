//! The middle of the mass of an empty box with a step, from its parts.
//!
//! A plain box is alike at both ends and both sides; one with a step is heavier where it is deep, and lacks mass low down at
//! the step. Each plate counts at its middle, holes not taken off; what was added counts at the middles of its solids.

use tape::Length;

use crate::{BoxSpec, Built, Part, Role, Step};

/// The middle of the mass of all parts in millimetres, in the frame of the space inside the steel; `None` of a box without a
/// step.
///
/// Centroid of composite bodies: the sum of mass times place over the sum of masses (mechanics of any textbook).
pub fn empty_middle_mm(spec: &BoxSpec, built: &Built) -> Option<[f64; 3]> {
    let step = spec.step?;
    let mut sum = [0.0; 3];
    let mut grams = 0.0;
    for (index, part) in built.parts.iter().enumerate() {
        let own = part.solid_grams * f64::from(part.quantity);
        let at = if part.role.is_added() {
            of_added(built, index)
        } else {
            Some(of_shell(spec, built, &step, part))
        };
        let Some(at) = at else { continue };
        grams += own;
        for (to, at) in sum.iter_mut().zip(at) {
            *to += at * own;
        }
    }
    (grams > 0.0).then(|| sum.map(|moment| moment / grams))
}

/// The middle of the solids of an added part, all that there are of it together.
fn of_added(built: &Built, index: usize) -> Option<[f64; 3]> {
    let mut sum = [0.0; 3];
    let mut volume = 0.0;
    for piece in built.added.iter().filter(|piece| piece.part == index) {
        let (lo, hi) = (piece.block.lo.map(Length::as_mm), piece.block.hi.map(Length::as_mm));
        let own: f64 = (0..3).map(|axis| hi[axis] - lo[axis]).product();
        volume += own;
        for axis in 0..3 {
            sum[axis] += own * f64::midpoint(lo[axis], hi[axis]);
        }
    }
    (volume > 0.0).then(|| sum.map(|moment| moment / volume))
}

/// The middle of a plate of shell, rim or lid, the two of a pair together.
fn of_shell(spec: &BoxSpec, built: &Built, step: &Step, part: &Part) -> [f64; 3] {
    let inside = spec.inside.map(Length::as_mm);
    let (wall, floor) = (spec.wall.thickness.as_mm(), spec.floor.thickness.as_mm());
    let (run, rise) = (step.run.as_mm(), step.rise.as_mm());
    let (wide, high) = (part.width.as_mm(), part.sheet.thickness.as_mm());
    let axis = step.axis();
    // Along the step's axis from the wall at it, and up from the deep floor; across it everything is in the middle.
    let floor_at = |raised: bool| {
        let [from, to] = step.floor_reaches(spec, raised).map(Length::as_mm);
        let middle = f64::midpoint(from, to);
        if step.is_high() { inside[axis] - middle } else { middle }
    };
    let middle = inside[axis] / 2.0;
    let under_lid = inside[2] + built.above_rim.as_mm();
    let (along, up) = match part.role {
        Role::Floor => (floor_at(false), -floor / 2.0),
        Role::RaisedFloor => (floor_at(true), rise - floor / 2.0),
        Role::Riser => (run - wall / 2.0, rise - wide / 2.0),
        Role::LongSide | Role::End => match part.notch() {
            Some(notch) => {
                let (whole, long) = (wide * part.length.as_mm(), part.length.as_mm());
                let [cut_long, cut_high] = notch.size.map(Length::as_mm);
                let cut = cut_long * cut_high;
                let start = middle - long / 2.0;
                let foot = inside[2] - wide;
                let of = |all: f64, lacking: f64| (whole * all - cut * lacking) / (whole - cut);
                (
                    start + of(long / 2.0, cut_long / 2.0),
                    foot + of(wide / 2.0, cut_high / 2.0),
                )
            }
            None => {
                let at_step = part.wall == Some(step.at);
                let along = if at_step {
                    -wall / 2.0
                } else {
                    inside[axis] + wall / 2.0
                };
                (along, inside[2] - wide / 2.0)
            }
        },
        Role::FlangeLong | Role::FlangeShort => (middle, inside[2] - high / 2.0),
        Role::LidPlate => (middle, under_lid - high / 2.0),
        Role::SkirtLong | Role::SkirtShort => (middle, under_lid - high - wide / 2.0),
        // Nothing else is in a welded box without a frame.
        _ => (middle, inside[2] / 2.0),
    };
    let mut at = [inside[0] / 2.0, inside[1] / 2.0, up];
    at[axis] = if step.is_high() { inside[axis] - along } else { along };
    at
}
