//! What would make a way in work.

use tape::Length;

use super::query::{Query, QueryError};
use super::scene::Scene;
use super::{Decision, decided};
use crate::fit::Ended;
use crate::way_in::watch::{Budget, Meter, Watch};
use crate::{Cuboid, Face, Point};

/// About how many questions the search for one cut asks.
const ASKED: usize = 8;

/// One dimension of the moved thing taken down until it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change {
    /// The face that comes in, as [`brought_in`] has it: a flange at the top stays at the top, and as thick as it is.
    pub face: Face,
    /// With this much less there is a way.
    pub goes: Length,
    /// With this much less there is proved to be none; with something between, it is too close to call.
    pub not: Length,
}

/// What would make it work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changes {
    /// Obstacles any one of which, taken out, leaves a way.
    pub without: Vec<usize>,
    /// Smallest cuts of one dimension found, smallest first. A dimension is not there when no cut of it does.
    pub cuts: Vec<Change>,
    /// Why it ended: when the budget ran out or it was stopped, there may be more.
    pub ended: Ended,
    /// Steps done.
    pub work: u64,
}

/// Looks for single changes that make a way: each obstacle taken out, and each of the six faces brought in by the least that
/// does, to within `to`. A thing narrower across the plane passes beside what it met.
///
/// The budget is shared evenly; what is not decided with its share counts as not found.
///
/// # Errors
///
/// [`QueryError`] when the question makes no sense.
pub fn changes(query: &Query, to: Length, budget: Budget, watch: &mut dyn Watch) -> Result<Changes, QueryError> {
    query.check()?;
    let mut meter = Meter::new(budget, watch);
    let whole = Scene::of(query);
    let mut met: Vec<usize> = whole.pairs.iter().map(|pair| pair.obstacle).collect();
    met.sort_unstable();
    met.dedup();
    // Across the plane first: most of that is decided by one question, and what it leaves over goes to the others.
    let [first, second] = query.plane.axes();
    let faces = [query.plane.across(), first, second].map(|a| [Face::low(a), Face::high(a)]);
    let faces = faces.as_flattened();
    let mut open = false;
    let mut goes = |scene: &Scene, share: u64, meter: &mut Meter<'_>| {
        let decision = meter.stage(share, |meter| decided(scene, meter).decision);
        open |= decision == Decision::TooClose;
        decision
    };
    let mut without = Vec::new();
    let mut asked = met.len() + faces.len() * ASKED;
    for obstacle in met {
        let mut scene = whole.clone();
        scene.pairs.retain(|pair| pair.obstacle != obstacle);
        if goes(&scene, share(&meter, asked), &mut meter) == Decision::Goes {
            without.push(obstacle);
        }
        asked -= 1;
    }
    let mut cuts = Vec::new();
    for (n, &face) in faces.iter().enumerate() {
        let most = most(&query.parts[0], face) - to.max(Length::from_nm(1));
        let mut asked = (faces.len() - n) * ASKED;
        let mut cut = |by: Length| {
            let Some(parts) = brought_in(&query.parts, face, by) else {
                return Decision::Impossible;
            };
            let scene = Scene::of(&Query { parts, ..query.clone() });
            let decision = goes(&scene, share(&meter, asked), &mut meter);
            asked = asked.saturating_sub(1);
            decision
        };
        cuts.extend(least(face, most, to, &mut cut));
    }
    cuts.sort_by_key(|change| change.goes);
    let ended = if meter.stopped() || open {
        meter.ended()
    } else {
        Ended::Done
    };
    Ok(Changes {
        without,
        cuts,
        ended,
        work: meter.done(),
    })
}

/// The steps for one of so many questions left.
fn share(meter: &Meter<'_>, asked: usize) -> u64 {
    meter.left() / u64::try_from(asked.max(1)).unwrap_or(u64::MAX)
}

/// The least cut that goes, by halving between none and the most.
fn least(face: Face, most: Length, to: Length, goes: &mut impl FnMut(Length) -> Decision) -> Option<Change> {
    if most <= Length::ZERO || goes(most) != Decision::Goes {
        return None;
    }
    let mut change = Change {
        face,
        goes: most,
        not: Length::ZERO,
    };
    let mut low = Length::ZERO;
    while change.goes - low > to.max(Length::from_nm(1)) {
        let middle = (low + change.goes).half_down();
        match goes(middle) {
            Decision::Goes => change.goes = middle,
            Decision::TooClose => low = middle,
            Decision::Impossible | Decision::NoRoom { .. } => (low, change.not) = (middle, middle),
        }
    }
    Some(change)
}

/// How far the two ends of a part move along the axis of `face`, low end first, when that face of the body is brought in by
/// `by`: as on a thing that is made so much smaller from the start.
///
/// What reaches over the middle of the body and over half of it at least is as long as the body is, and gets shorter with it.
/// All else keeps its size: at the side of the face it rides along with it, at the other it stays.
pub fn ends_moved(body: &Cuboid, part: &Cuboid, face: Face, by: Length) -> [Length; 2] {
    let axis = face.axis();
    let middle = (body.lo()[axis] + body.hi()[axis]).half_down();
    let reaches_over = part.lo()[axis] <= middle && middle <= part.hi()[axis];
    let ends = if reaches_over && part.size()[axis] >= body.size()[axis].half_down() {
        [!face.is_high(), face.is_high()]
    } else {
        let is_high = (part.lo()[axis] + part.hi()[axis]).half_down() >= middle;
        [is_high == face.is_high(); 2]
    };
    let inward = if face.is_high() { -by } else { by };
    ends.map(|moves| if moves { inward } else { Length::ZERO })
}

/// A thing with one face brought in; its body is the first part. `None` by half the body or more: that is another thing.
pub fn brought_in(parts: &[Cuboid], face: Face, by: Length) -> Option<Vec<Cuboid>> {
    let body = parts.first()?;
    if by.is_negative() || by >= most(body, face) {
        return None;
    }
    let moved = |part: &Cuboid| {
        let [low, high] = ends_moved(body, part, face, by).map(|by| Point::along(face.axis(), by));
        Cuboid::between(part.lo() + low, part.hi() + high)
    };
    Some(parts.iter().map(moved).collect())
}

/// By less than this a face may come in.
fn most(body: &Cuboid, face: Face) -> Length {
    body.size()[face.axis()].half_down()
}
