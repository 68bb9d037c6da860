//! Which reading would make the tightest room of a cavity better known.

use geometry::Axis;
use tape::Length;
use tape::survey::{Corners, gains};

use super::verdict::{reachable, typical_sigma};
use super::{Next, Surveyed, Why};
use crate::document::Cavity;
use crate::evaluate::{BoxResult, CavityResult};

/// A reading that makes the figure better by less is not worth crawling for.
const WORTH: f64 = 0.95;

/// The line to tape next in a cavity whose shape is held, for the tightest room of its boxes (both sides of a box
/// together), or for the usable cuboid while there is none; `None` when no reading brings much.
pub(in crate::evaluate) fn next(cavity: &Cavity, result: &CavityResult, boxes: &[BoxResult]) -> Option<Next> {
    // What is wrong comes first.
    if !result.survey.next.is_empty() {
        return None;
    }
    let shape = result.survey.shape.as_deref()?;
    let slopes = tightest(shape, result, boxes).unwrap_or_else(|| of_usable(shape));
    let from = shape.sigma_mm(&slopes);
    let reachable = reachable(cavity);
    let sigma = typical_sigma(&shape.observed, cavity);
    let best = gains(&shape.adjustment, &slopes, sigma)
        .into_iter()
        .find(|gain| reachable.contains(&gain.line))?;
    (best.sigma < WORTH * from).then(|| Next {
        line: best.line,
        why: Why::Sharpens {
            from: Length::from_mm_up(from),
            to: Length::from_mm_up(best.sigma),
        },
    })
}

/// How the least room along an axis of any box changes with the corners.
fn tightest(shape: &Surveyed, cavity: &CavityResult, boxes: &[BoxResult]) -> Option<Corners> {
    let here = boxes.iter().filter(|b| b.cavity == cavity.id);
    let rooms = here.filter_map(|b| {
        let around = b.around.as_ref()?;
        let overall = b.solids.iter().copied().reduce(|a, b| a.hull(&b))?;
        let room = |axis: Axis| {
            let [low, high] = [geometry::Face::low(axis), geometry::Face::high(axis)].map(|f| &around.faces[f.index()]);
            low.distance + high.distance - low.asked - high.asked
        };
        let axis = Axis::ALL.into_iter().min_by_key(|&axis| room(axis))?;
        Some((room(axis), overall, axis))
    });
    let (_, overall, axis) = rooms.min_by_key(|(room, _, axis)| (*room, *axis))?;
    Some(shape.slack_slopes(&overall, axis))
}

/// How the clearance of the usable cuboid whose uncertainty costs most changes with the corners.
fn of_usable(shape: &Surveyed) -> Corners {
    let gradient = &shape.usable.tightest.gradient;
    std::array::from_fn(|corner| std::array::from_fn(|axis| gradient[3 * corner + axis]))
}
