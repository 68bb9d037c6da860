//! Holes through walls, floor and lid, for what is let into them: glands, breathers, drains, disconnects.
//!
//! A hole is told on the inside face of its wall, and lands on the piece that the wall is cut from: a panel, or the
//! flat sheet of a tray. Walls and floor are drawn from inside the box, the lid from above but for a pan lid, so no piece is mirrored.

use tape::Length;

use super::cap_hold;
use super::shell::Shell;
use super::tray::Tray;
use crate::check::folded_height;
use crate::{BoxSpec, Construction, Hole, Lid, Part, Role, SpecError, Wall, WallHole};

impl Wall {
    /// The horizontal axis that it closes: 0 for length, 1 for width; `None` for floor and lid.
    pub(super) const fn across(self) -> Option<usize> {
        match self {
            Self::Front | Self::Rear => Some(0),
            Self::Left | Self::Right => Some(1),
            Self::Floor | Self::Lid | Self::Riser => None,
        }
    }

    pub(super) const fn is_high(self) -> bool {
        matches!(self, Self::Rear | Self::Right)
    }

    /// Whether a length along it, from its front or left end, runs against the drawing: from inside, the left wall has
    /// the front at its right hand, and the rear wall the left side.
    pub(crate) const fn runs_back(self) -> bool {
        matches!(self, Self::Left | Self::Rear)
    }
}

impl BoxSpec {
    /// Where the middle of a hole may lie: rectangles, each a range along the wall and one up it; none when nowhere does.
    ///
    /// The whole hole lies on the flat of the wall: clear of bends, of the angle round the panels, and of what the lid
    /// is screwed and sealed to. A wall beside a step has two that overlap, a floor with a step one for each of its panels.
    pub fn hole_rooms(&self, wall: Wall, diameter: Length) -> Vec<[[Length; 2]; 2]> {
        if wall == Wall::Riser {
            return self.riser_room(diameter).into_iter().collect();
        }
        let whole = self.hole_room(wall, diameter);
        let (Some(step), Some([along, up])) = (self.step, whole) else {
            return whole.into_iter().collect();
        };
        let radius = diameter - diameter.half_down();
        let inside = self.inside[step.axis()];
        let deep = if step.is_high() {
            |range: [Length; 2], edge: Length| [range[0], range[1].min(edge)]
        } else {
            |range: [Length; 2], edge: Length| [range[0].max(edge), range[1]]
        };
        // The deep part's edge at the riser, and the raised floor's, whose plate ends at the riser's outer face.
        let [deep_edge, raised_edge] = if step.is_high() {
            [
                inside - step.run - radius,
                inside - step.run + self.wall.thickness + radius,
            ]
        } else {
            [step.run + radius, step.run - self.wall.thickness - radius]
        };
        let raised = |range: [Length; 2]| {
            if step.is_high() {
                [range[0].max(raised_edge), range[1]]
            } else {
                [range[0], range[1].min(raised_edge)]
            }
        };
        let over = [up[0] + step.rise, up[1]];
        let rooms = match wall {
            Wall::Lid => vec![[along, up]],
            Wall::Floor if step.axis() == 0 => vec![[deep(along, deep_edge), up], [raised(along), up]],
            Wall::Floor => vec![[along, deep(up, deep_edge)], [along, raised(up)]],
            _ if wall == step.at => vec![[along, over]],
            _ if wall == step.at.opposite() => vec![[along, up]],
            _ => vec![[deep(along, deep_edge), up], [along, over]],
        };
        let is_there = |room: &[[Length; 2]; 2]| room.iter().all(|range| range[0] <= range[1]);
        rooms.into_iter().filter(is_there).collect()
    }

    /// The room of the riser: between the walls beside it, from the deep floor up to the underside of the raised one, which
    /// ends at its outer face.
    fn riser_room(&self, diameter: Length) -> Option<[[Length; 2]; 2]> {
        let step = self.step?;
        let radius = diameter - diameter.half_down();
        let along = [radius, self.inside[1 - step.axis()] - radius];
        let up = [radius, step.rise - self.floor.thickness - radius];
        (along[0] <= along[1] && up[0] <= up[1]).then_some([along, up])
    }

    /// The room of a wall as if there were no step.
    fn hole_room(&self, wall: Wall, diameter: Length) -> Option<[[Length; 2]; 2]> {
        let [length, width, depth] = self.inside;
        let [along, up] = match wall.across() {
            Some(0) => [width, depth],
            Some(_) => [length, depth],
            None => [length, width],
        };
        let (ends, below, above) = match self.construction {
            Construction::Welded => (Length::ZERO, Length::ZERO, Length::ZERO),
            Construction::Folded(folding) => {
                let [below, above] = folded_height(self, &folding);
                (folding.gap.max(folding.radius), below, above)
            }
            Construction::Framed(skeleton) => {
                let [ends, below, above] = skeleton.covers(self);
                (ends, below, above)
            }
        };
        let flat = match wall {
            Wall::Lid => [Length::ZERO; 4],
            Wall::Floor => [ends; 4],
            _ => [ends, ends, below, above],
        };
        let radius = diameter - diameter.half_down();
        let along = [flat[0] + radius, along - flat[1] - radius];
        let up = [flat[2] + radius, up - flat[3] - radius];
        (along[0] <= along[1] && up[0] <= up[1]).then_some([along, up])
    }

    /// Checks the holes, one by one and against each other; which is wrong first, and what is wrong with it.
    ///
    /// # Errors
    ///
    /// The place of the first hole in the list that cannot be made, with [`SpecError::HoleOffWall`] or
    /// [`SpecError::HolesMeet`].
    pub fn check_holes(&self, holes: &[WallHole]) -> Result<(), (usize, SpecError)> {
        let faulty = |index| Some((index, self.check_hole(&holes[index], &holes[..index]).err()?));
        (0..holes.len()).find_map(faulty).map_or(Ok(()), Err)
    }

    /// Checks a hole, by itself and against others that are sound.
    ///
    /// # Errors
    ///
    /// [`SpecError::HoleOffWall`] and its like, or [`SpecError::HolesMeet`].
    pub fn check_hole(&self, hole: &WallHole, others: &[WallHole]) -> Result<(), SpecError> {
        let wall = hole.wall;
        if hole.diameter <= Length::ZERO {
            return Err(SpecError::NotAboveZero {
                what: "the hole of a fitting",
            });
        }
        if wall == Wall::Lid && self.lid == Lid::None || wall == Wall::Riser && self.step.is_none() {
            return Err(SpecError::NoSuchWall { wall: wall.name() });
        }
        let rooms = self.hole_rooms(wall, hole.diameter);
        let within = |[along, up]: &[[Length; 2]; 2]| {
            (along[0]..=along[1]).contains(&hole.along) && (up[0]..=up[1]).contains(&hole.up)
        };
        if !rooms.iter().any(within) {
            return Err(SpecError::HoleOffWall {
                wall: wall.name(),
                diameter: hole.diameter,
                rooms,
            });
        }
        let meets = |other: &WallHole| {
            let (along, up) = (hole.along - other.along, hole.up - other.up);
            let reach = hole.diameter + other.diameter;
            // Twice the distance against the sum of the diameters: nothing is halved.
            other.wall == wall && ((along * along + up * up) * 4).nm2() <= (reach * reach).nm2()
        };
        if others.iter().chain(&cap_hold::holes(self)).any(meets) {
            return Err(SpecError::HolesMeet { wall: wall.name() });
        }
        Ok(())
    }
}

/// Puts checked holes into the parts: a pair of which one gets a hole becomes two.
pub(super) fn pierce(spec: &BoxSpec, shell: &Shell, parts: &mut Vec<Part>, holes: &[WallHole]) {
    for wall in Wall::ALL.into_iter().chain([Wall::Riser]) {
        for role in roles_of(spec, wall) {
            pierce_one(spec, shell, parts, holes, wall, role);
        }
    }
}

/// Puts the holes of a wall into the piece of it in one role.
fn pierce_one(spec: &BoxSpec, shell: &Shell, parts: &mut Vec<Part>, holes: &[WallHole], wall: Wall, role: Role) {
    let own: Vec<&WallHole> = holes
        .iter()
        .filter(|hole| hole.wall == wall && is_in(spec, role, hole))
        .collect();
    if own.is_empty() {
        return;
    }
    let Some(part) = own_part(parts, role, wall) else {
        return;
    };
    let placed: Vec<Hole> = own
        .iter()
        .map(|hole| {
            let [x, y] = match role {
                Role::Tray if wall.across().is_some() => match spec.construction {
                    Construction::Folded(folding) => on_tray(spec, &shell.tray(spec, folding), part, hole),
                    Construction::Welded | Construction::Framed(_) => [Length::ZERO; 2],
                },
                // Like a tray, a pan is drawn from inside: from under the lid.
                Role::PanLid => {
                    let [x, y] = on_level(spec, part, hole);
                    [x, part.width - y]
                }
                Role::Riser => on_riser(spec, part, hole),
                _ if wall.across().is_some() => on_panel(spec, part, hole),
                _ => on_level(spec, part, hole),
            };
            Hole {
                x,
                y,
                diameter: hole.diameter,
                purpose: hole.purpose,
            }
        })
        .collect();
    part.holes.extend(placed);
    part.holes.sort_by_key(|hole| (hole.x, hole.y));
}

/// Whether a hole of the floor is in this piece of it: over a step there are two.
fn is_in(spec: &BoxSpec, role: Role, hole: &WallHole) -> bool {
    let Some(step) = spec.step.filter(|_| hole.wall == Wall::Floor) else {
        return true;
    };
    let middle = [hole.along, hole.up][step.axis()];
    let raised = step.is_over([middle; 2], spec.inside[step.axis()]) == Some(true);
    raised == (role == Role::RaisedFloor)
}

/// What a wall is cut from; the deep floor of one with a step.
pub(crate) fn role_of(spec: &BoxSpec, wall: Wall) -> Role {
    roles_of(spec, wall)[0]
}

/// What a wall is cut from: over a step the floor is two pieces.
fn roles_of(spec: &BoxSpec, wall: Wall) -> Vec<Role> {
    let folded = matches!(spec.construction, Construction::Folded(_));
    let role = match wall {
        Wall::Floor if spec.step.is_some() => return vec![Role::Floor, Role::RaisedFloor],
        Wall::Lid if folded && matches!(spec.lid, Lid::Cap { .. }) => Role::PanLid,
        Wall::Lid => Role::LidPlate,
        Wall::Riser => Role::Riser,
        _ if folded => Role::Tray,
        Wall::Floor => Role::Floor,
        _ if wall.across() == Some(spec.long_axis()) => Role::End,
        _ => Role::LongSide,
    };
    vec![role]
}

/// The part of a wall; one of a pair is taken out of it.
fn own_part(parts: &mut Vec<Part>, role: Role, wall: Wall) -> Option<&mut Part> {
    let index = parts
        .iter()
        .position(|part| part.role == role && part.wall.is_none_or(|own| own == wall))?;
    if parts[index].quantity == 2 {
        let opposite = wall.opposite();
        let own = Part {
            quantity: 1,
            wall: Some(wall),
            ..parts[index].clone()
        };
        parts[index].quantity = 1;
        parts[index].wall = Some(opposite);
        parts.insert(index, own);
        // A pair beside a step is drawn as the one on which lengths run with the drawing.
        for part in &mut parts[index..=index + 1] {
            if let Some(notch) = part.notch().filter(|_| part.wall.is_some_and(Wall::runs_back)) {
                part.cut_out(notch.turned_over());
            }
        }
    }
    parts.get_mut(index)
}

/// On a panel that stands, its rim at its upper edge, in the middle of the wall.
pub(super) fn on_panel(spec: &BoxSpec, panel: &Part, hole: &WallHole) -> [Length; 2] {
    let side = spec.inside[1 - hole.wall.across().unwrap_or(0)];
    let from_low = (panel.length - side).half_down() + hole.along;
    let x = if hole.wall.runs_back() {
        panel.length - from_low
    } else {
        from_low
    };
    [x, panel.width - spec.inside[2] + hole.up]
}

/// On the riser, seen from inside the box as the wall that it stands before; its top is that of the raised floor.
fn on_riser(spec: &BoxSpec, riser: &Part, hole: &WallHole) -> [Length; 2] {
    let Some(step) = spec.step else {
        return [hole.along, hole.up];
    };
    let x = if step.at.runs_back() {
        riser.length - hole.along
    } else {
        hole.along
    };
    [x, riser.width - step.rise + hole.up]
}

/// Twice the place of a hole from the middle of the box, along the longer side and to its left, seen from above.
///
/// Twice, so that nothing is halved. With the longer side across the truck, the drawing is turned, not mirrored.
pub(crate) fn doubled(spec: &BoxSpec, [x, y]: [Length; 2]) -> [Length; 2] {
    let [x, y] = [x * 2 - spec.inside[0], y * 2 - spec.inside[1]];
    if spec.long_axis() == 0 { [x, y] } else { [y, -x] }
}

/// On floor, lid or the middle of a flat sheet.
pub(super) fn on_level(spec: &BoxSpec, plate: &Part, hole: &WallHole) -> [Length; 2] {
    let mut at = [hole.along, hole.up];
    if let Some(step) = spec.step.filter(|_| plate.role != Role::LidPlate) {
        // The panel's middle is not the box's.
        let axis = step.axis();
        let [from, to] = step.floor_reaches(spec, plate.role == Role::RaisedFloor);
        at[axis] += (spec.inside[axis] - from - to).half_down();
    }
    let [right, up] = doubled(spec, at);
    [(plate.length + right).half_down(), (plate.width + up).half_down()]
}

/// On a wall of a tray, folded down flat: of the box, or of the pan that closes it.
pub(super) fn on_tray(spec: &BoxSpec, tray: &Tray, sheet: &Part, hole: &WallHole) -> [Length; 2] {
    let across = hole.wall.across().unwrap_or(0);
    // Where the wall stands, and where along it.
    let mut at = [hole.along; 2];
    at[across] = if hole.wall.is_high() {
        spec.inside[across]
    } else {
        Length::ZERO
    };
    let [right, up] = doubled(spec, at);
    let blank = [sheet.length, sheet.width];
    let mut place = [(blank[0] + right).half_down(), (blank[1] + up).half_down()];
    // The flat sheet's axis that runs over this wall, and whether it ends at the sheet's far edge.
    let (out, far) = if across == spec.long_axis() {
        (0, right > Length::ZERO)
    } else {
        (1, up > Length::ZERO)
    };
    let from_edge = tray.edge_to(hole.up);
    place[out] = if far { blank[out] - from_edge } else { from_edge };
    place
}
