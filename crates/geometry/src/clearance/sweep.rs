//! The clearances of all things at once.

use tape::Length;

use super::{Around, Scene, Solid};
use crate::{Axis, Face};

/// The clearances of every thing, in the order of their numbers; the same as [`around`](super::around) for each.
///
/// A number that no solid carries is left out.
pub fn all_around(scene: &Scene<'_>) -> Vec<Around> {
    let row = Row::new(scene);
    let mut found: Vec<(usize, Around)> = (0..row.solids.len())
        .map(|place| (row.solids[place].thing, row.around(scene, place)))
        .collect();
    found.sort_by_key(|&(thing, _)| thing);
    found
        .chunk_by(|a, b| a.0 == b.0)
        .filter_map(|of_thing| of_thing.iter().map(|&(_, around)| around).reduce(Around::least))
        .collect()
}

/// The solids in the order of their low ends along one axis.
///
/// From a solid one walks up and down the row only as far as its clearance along the axis reaches: what begins
/// beyond that can be neither beside it nor nearer.
pub(super) struct Row {
    pub(super) axis: Axis,
    pub(super) solids: Vec<Solid>,
    /// The farthest high end of the solids up to each place.
    reach: Vec<Length>,
}

impl Row {
    pub(super) fn new(scene: &Scene<'_>) -> Self {
        let axis = longest_row(scene);
        let mut solids = scene.solids.to_vec();
        solids.sort_by_key(|solid| solid.cuboid.lo()[axis]);
        let reach = solids
            .iter()
            .scan(Length::from_nm(i64::MIN), |farthest, solid| {
                *farthest = solid.cuboid.hi()[axis].max(*farthest);
                Some(*farthest)
            })
            .collect();
        Self { axis, solids, reach }
    }

    /// The clearances of the solid at one place of the row.
    fn around(&self, scene: &Scene<'_>, place: usize) -> Around {
        let solid = &self.solids[place];
        let (lo, hi) = (solid.cuboid.lo()[self.axis], solid.cuboid.hi()[self.axis]);
        let (low, high) = (Face::low(self.axis).index(), Face::high(self.axis).index());
        let mut around = Around::walls(&scene.space, &solid.cuboid);
        // What lies beside the solid must be met even when its end faces are already blocked: never stop below zero.
        for other in &self.solids[place + 1..] {
            if other.cuboid.lo()[self.axis] - hi > around.faces[high].distance.max(Length::ZERO) {
                break;
            }
            around.meet(solid, other);
        }
        for (other, &reach) in self.solids[..place].iter().zip(&self.reach).rev() {
            // A bound for this solid and for all before it.
            if lo.nm().saturating_sub(reach.nm()) > around.faces[low].distance.nm().max(0) {
                break;
            }
            around.meet(solid, other);
        }
        around
    }
}

/// The axis along which the most solids of middling size would stand one behind the other.
fn longest_row(scene: &Scene<'_>) -> Axis {
    let count = i64::try_from(scene.solids.len()).unwrap_or(i64::MAX).max(1);
    let in_a_row = |axis: &Axis| {
        let middling = scene
            .solids
            .iter()
            .map(|solid| solid.cuboid.size()[*axis])
            .sum::<Length>()
            .nm()
            / count;
        scene.space.size()[*axis].nm() / middling.max(1)
    };
    Axis::ALL.into_iter().max_by_key(in_a_row).unwrap_or(Axis::X)
}
