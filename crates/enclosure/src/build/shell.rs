//! Floor, sides and ends.

use tape::{Area, Length};

use crate::{BoxSpec, Corners, Part, Role};

/// The shell's sizes, along its longer and shorter side instead of along its axes.
pub(super) struct Shell {
    /// Inside, along the longer horizontal side.
    long: Length,
    /// Inside, along the shorter.
    short: Length,
    /// Inside, floor to rim.
    depth: Length,
    /// Wall thickness.
    wall: Length,
    /// Floor thickness.
    floor: Length,
}

impl Shell {
    pub(super) fn of(spec: &BoxSpec) -> Self {
        let long_axis = spec.long_axis();
        Self {
            long: spec.inside[long_axis],
            short: spec.inside[1 - long_axis],
            depth: spec.inside[2],
            wall: spec.wall.thickness,
            floor: spec.floor.thickness,
        }
    }

    /// The longer and the shorter side over the walls.
    pub(super) fn outside(&self) -> [Length; 2] {
        [self.long + self.wall * 2, self.short + self.wall * 2]
    }

    /// Length and width over the walls and height from under the floor to the rim, along the box's axes.
    pub(super) fn over_walls(&self, long_axis: usize) -> [Length; 3] {
        let [long, short] = self.outside();
        let height = self.height();
        if long_axis == 0 {
            [long, short, height]
        } else {
            [short, long, height]
        }
    }

    /// From under the floor to the rim.
    fn height(&self) -> Length {
        self.depth + self.floor
    }

    /// Once round over the walls.
    pub(super) fn girth(&self) -> Length {
        let [long, short] = self.outside();
        (long + short) * 2
    }

    /// The floor's underside and the walls' outside.
    pub(super) fn coat_area(&self) -> Area {
        let [long, short] = self.outside();
        long * short + self.girth() * self.height()
    }

    /// Floor, a pair of long sides, a pair of ends.
    pub(super) fn panels(&self, spec: &BoxSpec) -> [Part; 3] {
        let inside = [self.long, self.short];
        let [outside_long, outside_short] = self.outside();
        let depth = self.depth;
        let (floor, side, end) = match spec.corners {
            Corners::LongSidesRun => (self.outside(), [outside_long, depth], [self.short, depth]),
            Corners::WallsWrapFloor => (inside, [outside_long, self.height()], [self.short, self.height()]),
            Corners::EndsRun => (self.outside(), [self.long, depth], [outside_short, depth]),
            Corners::CornerToCorner => (inside, [self.long, depth], [self.short, depth]),
        };
        [
            Part::plate(Role::Floor, 1, spec.floor, floor),
            Part::plate(Role::LongSide, 2, spec.wall, side),
            Part::plate(Role::End, 2, spec.wall, end),
        ]
    }
}
