//! A liner: insulating sheets on floor and walls, open under the lid.

use tape::Length;

use super::{AddedError, Block, Group, Piece, above_zero};
use crate::build::wall_holes::doubled;
use crate::{BoxSpec, Hole, Part, Role, Sheet, Wall, WallHole};

/// Sheets that lie on the inside of the steel.
///
/// The floor's covers all of it and the walls stand on that, the long ones from corner to corner, the ends between
/// them: what is left inside is smaller by twice the thickness in length and width, and by once in height.
#[derive(Clone, Debug, PartialEq)]
pub struct Lining {
    /// Material and thickness.
    pub sheet: Sheet,
    /// Holes to leave for what is let into walls and floor, each as wide as what goes through there.
    pub holes: Vec<WallHole>,
}

/// The sheets, and the holes that they have not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lined {
    /// The parts and their solids.
    pub group: Group,
    /// Holes that run over a sheet's edge or into each other: they are cut in place.
    pub in_place: Vec<WallHole>,
}

/// A wall's sheet, as it stands: which wall, from where to where along it and up.
struct Panel {
    role: Role,
    wall: Wall,
    along: [Length; 2],
    up: [Length; 2],
    block: Block,
    thin: usize,
}

impl Lining {
    /// The parts and their solids in a box with straight walls.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for sheets without thickness, or so thick that they leave nothing inside.
    pub fn group(&self, spec: &BoxSpec) -> Result<Lined, AddedError> {
        let t = self.sheet.thickness;
        above_zero("liner, thickness", t)?;
        let [length, width, height] = spec.inside;
        above_zero("liner, what it leaves of the length", length - t * 2)?;
        above_zero("liner, what it leaves of the width", width - t * 2)?;
        above_zero("liner, what it leaves of the height", height - t)?;
        let mut lined = Lined::default();
        self.floor(spec, &mut lined);
        let long = spec.long_axis();
        for across in [1 - long, long] {
            self.pair(spec, across, across != long, &mut lined);
        }
        Ok(lined)
    }

    fn floor(&self, spec: &BoxSpec, lined: &mut Lined) {
        let [length, width, _] = spec.inside;
        let mut part = Part::plate(Role::LinerFloor, 1, self.sheet, [length.max(width), length.min(width)]);
        let size = [part.length, part.width];
        part.holes = self.placed(Wall::Floor, size, lined, |hole| {
            let [right, up] = doubled(spec, [hole.along, hole.up]);
            [(size[0] + right).half_down(), (size[1] + up).half_down()]
        });
        lined.group.pieces.push(Piece {
            part: lined.group.parts.len(),
            role: Role::LinerFloor,
            block: Block::of([
                [Length::ZERO, length],
                [Length::ZERO, width],
                [Length::ZERO, self.sheet.thickness],
            ]),
            thin: 2,
        });
        lined.group.parts.push(part);
    }

    /// The two sheets that close one level axis; the long ones run from corner to corner.
    fn pair(&self, spec: &BoxSpec, across: usize, runs: bool, lined: &mut Lined) {
        let t = self.sheet.thickness;
        let side = spec.inside[1 - across];
        let along = if runs { [Length::ZERO, side] } else { [t, side - t] };
        let up = [t, spec.inside[2]];
        let role = if runs { Role::LinerSide } else { Role::LinerEnd };
        let walls = if across == 0 {
            [Wall::Front, Wall::Rear]
        } else {
            [Wall::Left, Wall::Right]
        };
        let panels = [[Length::ZERO, t], [spec.inside[across] - t, spec.inside[across]]];
        let panels = walls.into_iter().zip(panels).map(|(wall, out)| Panel {
            role,
            wall,
            along,
            up,
            block: super::level(across, out, along, up),
            thin: across,
        });
        let made: Vec<(Panel, Part)> = panels.map(|panel| self.panel(panel, lined)).collect();
        let alike = made.iter().all(|(_, part)| part.holes.is_empty());
        for (index, (panel, mut part)) in made.into_iter().enumerate() {
            if !alike {
                part.wall = Some(panel.wall);
            }
            if alike && index > 0 {
                if let Some(first) = lined.group.parts.last_mut() {
                    first.quantity += 1;
                }
            } else {
                lined.group.parts.push(part);
            }
            lined.group.pieces.push(Piece {
                part: lined.group.parts.len() - 1,
                role: panel.role,
                block: panel.block,
                thin: panel.thin,
            });
        }
    }

    /// Drawn from inside the box, its lower edge on the floor's sheet.
    fn panel(&self, panel: Panel, lined: &mut Lined) -> (Panel, Part) {
        let [along, up] = [panel.along, panel.up];
        let size = [along[1] - along[0], up[1] - up[0]];
        let mut part = Part::plate(panel.role, 1, self.sheet, size);
        part.holes = self.placed(panel.wall, size, lined, |hole| {
            let x = if panel.wall.runs_back() {
                along[1] - hole.along
            } else {
                hole.along - along[0]
            };
            [x, hole.up - up[0]]
        });
        (panel, part)
    }

    /// The holes of a wall that lie wholly on its sheet and clear of each other; the rest is cut in place.
    fn placed(
        &self,
        wall: Wall,
        size: [Length; 2],
        lined: &mut Lined,
        place: impl Fn(&WallHole) -> [Length; 2],
    ) -> Vec<Hole> {
        let mut holes: Vec<Hole> = Vec::new();
        for told in self.holes.iter().filter(|hole| hole.wall == wall) {
            let [x, y] = place(told);
            let hole = Hole {
                x,
                y,
                diameter: told.diameter,
                purpose: told.purpose,
            };
            let radius = told.diameter - told.diameter.half_down();
            let is_on = [x, y]
                .iter()
                .zip(size)
                .all(|(&at, side)| radius < at && at + radius < side);
            if is_on && holes.iter().all(|other| !meet(&hole, other)) {
                holes.push(hole);
            } else {
                lined.in_place.push(*told);
            }
        }
        holes.sort_by_key(|hole| (hole.x, hole.y));
        holes
    }
}

/// Whether two holes touch: twice the distance against the sum of the diameters, so that nothing is halved.
fn meet(one: &Hole, other: &Hole) -> bool {
    let (x, y) = (one.x - other.x, one.y - other.y);
    let reach = one.diameter + other.diameter;
    ((x * x + y * y) * 4).nm2() <= (reach * reach).nm2()
}
