//! The panels of a box with a step.
//!
//! The two walls beside the step lack a lower corner. The riser stands between them, where the deep floor ends, from as low
//! as the walls stand to the top of the raised floor; the raised floor ends at its outer face. All other edges meet as
//! [`Corners`] tells of a plain box: floor under the walls or walls round the floor. Only corner to corner the walls beside
//! the step begin behind the riser, so that the groove for the weld is left there too, and the raised floor, whose inner
//! edge is no inside corner, is shorter than its inside face by the riser's thickness.

use tape::Length;

use crate::{BoxSpec, Corners, Notch, Part, Role, Step, Wall};

/// How the panels of one convention reach past the inside of the box.
#[derive(Clone, Copy)]
pub(crate) struct Reaches {
    /// Floors, at every edge.
    pub(crate) floor: Length,
    /// Walls, below the inside of the floor.
    foot: Length,
    /// Long sides and ends, at each of their ends.
    walls: [Length; 2],
}

impl Reaches {
    pub(crate) fn of(spec: &BoxSpec) -> Self {
        let (t, zero) = (spec.wall.thickness, Length::ZERO);
        let (floor, foot, walls) = match spec.corners {
            Corners::LongSidesRun => (t, zero, [t, zero]),
            Corners::WallsWrapFloor => (zero, spec.floor.thickness, [t, zero]),
            Corners::EndsRun => (t, zero, [zero, t]),
            Corners::CornerToCorner => (zero, zero, [zero; 2]),
        };
        Self { floor, foot, walls }
    }
}

impl Step {
    /// From where to where a floor reaches along the step's axis, from the inside of the box.
    pub(crate) fn floor_reaches(&self, spec: &BoxSpec, raised: bool) -> [Length; 2] {
        let inside = spec.inside[self.axis()];
        let edge = Reaches::of(spec).floor;
        let [from, to] = if raised {
            [-edge, self.run - spec.wall.thickness]
        } else {
            [self.run - edge, inside + edge]
        };
        if self.is_high() {
            [inside - to, inside - from]
        } else {
            [from, to]
        }
    }
}

/// Deep floor, raised floor, riser, the two walls beside the step, the wall at it, the wall across from it.
pub(super) fn panels(spec: &BoxSpec, step: &Step) -> Vec<Part> {
    let t = spec.wall.thickness;
    let reach = Reaches::of(spec);
    let axes = [spec.long_axis(), 1 - spec.long_axis()];
    // 0 when it cuts the long sides, 1 when it cuts the ends.
    let cut = usize::from(step.axis() != spec.long_axis());
    let inside = axes.map(|axis| spec.inside[axis]);
    let roles = [Role::LongSide, Role::End];
    let wall = |role: usize| [inside[role] + reach.walls[role] * 2, spec.inside[2] + reach.foot];
    let floor = |raised: bool| {
        let [from, to] = step.floor_reaches(spec, raised);
        let mut sides = inside.map(|side| side + reach.floor * 2);
        sides[cut] = to - from;
        sides
    };
    // What the cut walls lack: to the riser's outer face; corner to corner, to its inner one.
    let behind = if spec.corners == Corners::CornerToCorner {
        t
    } else {
        Length::ZERO
    };
    let notch = Notch {
        at_far_end: step.is_high(),
        size: [step.run + behind - (t - reach.walls[cut]), step.rise],
    };
    let mut cut_walls = Part::plate(roles[cut], 2, spec.wall, wall(cut));
    cut_walls.cut_out(notch);
    let [across, height] = wall(1 - cut);
    let one = |wall: Wall, height: Length| Part {
        wall: Some(wall),
        ..Part::plate(roles[1 - cut], 1, spec.wall, [across, height])
    };
    vec![
        Part::plate(Role::Floor, 1, spec.floor, floor(false)),
        Part::plate(Role::RaisedFloor, 1, spec.floor, floor(true)),
        Part::plate(Role::Riser, 1, spec.wall, [inside[1 - cut], step.rise + reach.foot]),
        cut_walls,
        one(step.at, height - step.rise),
        one(step.at.opposite(), height),
    ]
}
