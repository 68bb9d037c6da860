//! Floor, sides and ends.

use tape::{Area, Length};

use super::step;
use super::tray::Tray;
use crate::{BoxSpec, Construction, Corners, Folding, Lid, Part, Role};

/// The shell's sizes, along its longer and shorter side instead of along its axes.
pub(crate) struct Shell {
    /// Inside, along the longer horizontal side.
    long: Length,
    /// Inside, along the shorter.
    short: Length,
    /// Inside, floor to rim.
    depth: Length,
    /// Wall thickness.
    pub(crate) wall: Length,
    /// Floor thickness.
    pub(crate) floor: Length,
    /// What adhesive stands between the panels and the angle of a frame.
    pub(crate) line: Length,
    /// What a step takes off the faces of the two walls beside it, together.
    beside_step: Area,
}

impl Shell {
    pub(crate) fn of(spec: &BoxSpec) -> Self {
        let long_axis = spec.long_axis();
        Self {
            long: spec.inside[long_axis],
            short: spec.inside[1 - long_axis],
            depth: spec.inside[2],
            wall: spec.wall.thickness,
            floor: spec.floor.thickness,
            line: match spec.construction {
                Construction::Framed(skeleton) => skeleton.held.line(),
                Construction::Welded | Construction::Folded(_) => Length::ZERO,
            },
            beside_step: spec.step.map_or_else(Area::default, |step| step.run * step.rise * 2),
        }
    }

    /// The longer and the shorter side over the walls.
    pub(crate) fn outside(&self) -> [Length; 2] {
        [self.long + self.wall * 2, self.short + self.wall * 2]
    }

    /// The longer and the shorter side over the walls and the adhesive on them: what stands within the angle of a frame.
    pub(crate) fn within_angle(&self) -> [Length; 2] {
        self.outside().map(|side| side + self.line * 2)
    }

    /// Length and width over the walls and height from under the floor to the rim, along the box's axes.
    pub(crate) fn over_walls(&self, long_axis: usize) -> [Length; 3] {
        let [long, short] = self.outside();
        let height = self.height();
        if long_axis == 0 {
            [long, short, height]
        } else {
            [short, long, height]
        }
    }

    /// From under the floor to the rim.
    pub(crate) fn height(&self) -> Length {
        self.depth + self.floor
    }

    /// Once round over the walls.
    pub(crate) fn girth(&self) -> Length {
        let [long, short] = self.outside();
        (long + short) * 2
    }

    /// The underside and the walls' outside; a riser is as large as what the wall at the step lacks.
    pub(crate) fn coat_area(&self) -> Area {
        let [long, short] = self.outside();
        long * short + self.girth() * self.height() - self.beside_step
    }

    /// The tray that a folded box is, with lips where a lid is screwed to a flange.
    pub(crate) fn tray(&self, spec: &BoxSpec, folding: Folding) -> Tray {
        let lip = match spec.lid {
            Lid::Flat { flange, .. } => flange.map(|flange| flange.width),
            Lid::None | Lid::Cap { .. } => None,
        };
        Tray {
            inside: [self.long, self.short],
            depth: self.depth,
            lip,
            sheet: spec.wall,
            folding,
        }
    }

    /// Floor, a pair of long sides, a pair of ends; with a step, see [`step::panels`].
    pub(crate) fn panels(&self, spec: &BoxSpec) -> Vec<Part> {
        if let Some(step) = &spec.step {
            return step::panels(spec, step);
        }
        let inside = [self.long, self.short];
        let [outside_long, outside_short] = self.outside();
        let depth = self.depth;
        // In a frame the floor lies on the foot of the angle and the long sides run through.
        let corners = match spec.construction {
            Construction::Framed(_) => Corners::LongSidesRun,
            Construction::Welded | Construction::Folded(_) => spec.corners,
        };
        let (floor, side, end) = match corners {
            Corners::LongSidesRun => (self.outside(), [outside_long, depth], [self.short, depth]),
            Corners::WallsWrapFloor => (inside, [outside_long, self.height()], [self.short, self.height()]),
            Corners::EndsRun => (self.outside(), [self.long, depth], [outside_short, depth]),
            Corners::CornerToCorner => (inside, [self.long, depth], [self.short, depth]),
        };
        vec![
            Part::plate(Role::Floor, 1, spec.floor, floor),
            Part::plate(Role::LongSide, 2, spec.wall, side),
            Part::plate(Role::End, 2, spec.wall, end),
        ]
    }
}
