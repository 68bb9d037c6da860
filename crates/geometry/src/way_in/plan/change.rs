//! What would make a way in work.

use tape::Length;

use super::query::{Query, QueryError};
use super::scene::Scene;
use super::{Decision, decided};
use crate::fit::Ended;
use crate::way_in::watch::{Budget, Meter, Watch};
use crate::{Axis, Cuboid, Face, Point};

/// One dimension of the moved thing taken down until it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change {
    /// The face that comes in. Everything on its side of the opposite face moves with it: a flange at the top stays at the
    /// top.
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

/// Looks for single changes that make a way: each obstacle taken out, and each of the four faces in the plane brought in
/// by the least that does, to within `to`.
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
    let [first, second] = query.plane.axes();
    let faces = [first, second].into_iter().flat_map(|a| [Face::low(a), Face::high(a)]);
    let size = extents(query);
    let mut asked = u64::try_from(met.len() + 4 * 12).unwrap_or(u64::MAX);
    let mut open = false;
    let mut goes = |scene: &Scene, meter: &mut Meter<'_>| {
        let share = meter.left() / asked.max(1);
        asked = asked.saturating_sub(1);
        let decision = meter.stage(share, |meter| decided(scene, meter).decision);
        open |= decision == Decision::TooClose;
        decision
    };
    let mut without = Vec::new();
    for obstacle in met {
        let mut scene = whole.clone();
        scene.pairs.retain(|pair| pair.obstacle != obstacle);
        if goes(&scene, &mut meter) == Decision::Goes {
            without.push(obstacle);
        }
    }
    let mut cuts = Vec::new();
    for face in faces {
        let most = size[face.axis().index()] - to.max(Length::from_nm(1));
        let mut cut = |by: Length| goes(&Scene::of(&cut(query, face, by)), &mut meter);
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

/// The query with one face of the moved thing brought in.
fn cut(query: &Query, face: Face, by: Length) -> Query {
    let axis = face.axis();
    let mut changed = query.clone();
    let hull = query
        .parts
        .iter()
        .copied()
        .reduce(|a, b| a.hull(&b))
        .unwrap_or_default();
    let end = hull.face(face.opposite());
    let bring = |value: Length| {
        if face.is_high() {
            (value - by).max(end)
        } else {
            (value + by).min(end)
        }
    };
    for part in &mut changed.parts {
        let mut corners = [part.lo(), part.hi()];
        for corner in &mut corners {
            // What is at the far face stays there.
            if corner[axis] != end {
                corner[axis] = bring(corner[axis]);
            }
        }
        *part = Cuboid::between(corners[0], corners[1]);
    }
    changed.parts.retain(|part| part.size()[axis] > Length::ZERO);
    changed
}

/// The extents of the moved thing.
fn extents(query: &Query) -> [Length; 3] {
    let hull = query
        .parts
        .iter()
        .copied()
        .reduce(|a, b| a.hull(&b))
        .unwrap_or_default();
    let Point(size) = hull.hi() - hull.lo();
    Axis::ALL.map(|axis| size[axis.index()])
}
