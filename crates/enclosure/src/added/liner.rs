//! A liner: insulating sheets on floor and walls, open under the lid.

use tape::Length;

use super::{AddedError, Block, Group, Piece, above_zero};
use crate::build::wall_holes::doubled;
use crate::{BoxSpec, Hole, Notch, Part, Role, Sheet, Step, Wall, WallHole};

/// Sheets that lie on the inside of the steel.
///
/// The floor's covers all of it and the walls stand on that, the long ones from corner to corner, the ends between
/// them: what is left inside is smaller by twice the thickness in length and width, and by once in height. Over a step
/// the raised floor's sheet covers the upper edge of the riser's, which stands on the deep floor's; the walls beside it
/// lack the corner that these take.
///
/// Dividers that are welded in before it part floor and walls: between them each has a sheet of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Lining {
    /// Material and thickness.
    pub sheet: Sheet,
    /// Holes to leave for what is let into walls and floor, each as wide as what goes through there.
    pub holes: Vec<WallHole>,
    /// The axis that dividers stand across: 0 length, 1 width.
    pub across: usize,
    /// From face to face of each along that axis, in order.
    pub dividers: Vec<[Length; 2]>,
}

/// The sheets, and the holes that they have not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lined {
    /// The parts and their solids.
    pub group: Group,
    /// Holes that run over a sheet's edge or into each other: they are cut in place.
    pub in_place: Vec<WallHole>,
}

/// A wall's sheet, as it stands: which wall, from where to where along it and up, and where it is out from the middle.
struct Panel {
    role: Role,
    wall: Wall,
    along: [Length; 2],
    up: [Length; 2],
    across: usize,
    out: [Length; 2],
    /// From where to where its holes are its own: to the middles of the dividers beside it.
    own: [Length; 2],
}

/// A step that a wall's sheet stands beside.
#[derive(Clone, Copy)]
struct Beside {
    /// From where to where along the wall its raised floor's sheet, or the riser's, reaches.
    over: [Length; 2],
    /// How high that sheet's top is.
    rise: Length,
    is_high: bool,
}

impl Beside {
    /// How much of a range along the wall is over it.
    fn takes(&self, [from, to]: [Length; 2]) -> Length {
        (to.min(self.over[1]) - from.max(self.over[0])).max(Length::ZERO)
    }
}

impl Lining {
    /// What dividers leave of a range along an axis of a box so long there: each piece with the range whose holes are its own. All
    /// of the axis is owned, so that no hole is lost that a sheet ends on.
    fn pieces(&self, axis: usize, side: Length, [from, to]: [Length; 2]) -> Vec<[[Length; 2]; 2]> {
        let here = self
            .dividers
            .iter()
            .filter(|[lo, hi]| axis == self.across && *hi > from && *lo < to);
        let mut pieces = Vec::new();
        let (mut start, mut low) = (from, Length::ZERO);
        for &[lo, hi] in here {
            let middle = (lo + hi).half_down();
            if lo > start {
                pieces.push([[start, lo], [low, middle]]);
                low = middle;
            }
            start = hi;
        }
        if to > start {
            pieces.push([[start, to], [low, side]]);
        } else if let Some([_, own]) = pieces.last_mut() {
            own[1] = side;
        }
        pieces
    }

    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for sheets without thickness, or so thick that they leave nothing inside or of a step's rise.
    pub fn group(&self, spec: &BoxSpec) -> Result<Lined, AddedError> {
        let t = self.sheet.thickness;
        above_zero("liner, thickness", t)?;
        let [length, width, height] = spec.inside;
        above_zero("liner, what it leaves of the length", length - t * 2)?;
        above_zero("liner, what it leaves of the width", width - t * 2)?;
        above_zero("liner, what it leaves of the height", height - t)?;
        let mut lined = Lined::default();
        match spec.step {
            None => self.floor(
                spec,
                Role::LinerFloor,
                [[Length::ZERO, length], [Length::ZERO, width]],
                &mut lined,
            ),
            Some(step) => {
                above_zero("liner, what it leaves of the step's rise", step.rise - t)?;
                let long = spec.inside[step.axis()];
                let room = long - step.run - t * 2;
                above_zero("liner, what it leaves of the deep floor", room)?;
                above_zero("liner, what it leaves over the step", height - step.rise - t)?;
                let ranges = |along: [Length; 2]| {
                    let mut ranges = [[Length::ZERO, length], [Length::ZERO, width]];
                    ranges[step.axis()] = step.at_its_wall(along, long);
                    ranges
                };
                self.floor(spec, Role::LinerFloor, ranges([step.run, long]), &mut lined);
                self.floor(
                    spec,
                    Role::LinerRaised,
                    ranges([Length::ZERO, step.run + t]),
                    &mut lined,
                );
                self.riser(spec, &step, &mut lined);
            }
        }
        let long = spec.long_axis();
        for across in [1 - long, long] {
            self.pair(spec, across, across != long, &mut lined);
        }
        Ok(lined)
    }

    /// The sheets on the floor, or on one of the two of a step, over these ranges of length and width.
    fn floor(&self, spec: &BoxSpec, role: Role, ranges: [[Length; 2]; 2], lined: &mut Lined) {
        for [piece, own] in self.pieces(self.across, spec.inside[self.across], ranges[self.across]) {
            let mut of = ranges;
            of[self.across] = piece;
            self.floor_piece(spec, role, (of, own), lined);
        }
    }

    fn floor_piece(
        &self,
        spec: &BoxSpec,
        role: Role,
        (ranges, own): ([[Length; 2]; 2], [Length; 2]),
        lined: &mut Lined,
    ) {
        let long = spec.long_axis();
        let sides = [long, 1 - long].map(|axis| ranges[axis][1] - ranges[axis][0]);
        let mut part = Part::plate(role, 1, self.sheet, sides);
        let size = [part.length, part.width];
        // Of the sheet's middle, four times, so that nothing is halved on the way.
        let [low, high] = [0, 1].map(|end| doubled(spec, ranges.map(|range| range[end])));
        let is_here = |hole: &WallHole| {
            let raised = spec.step.is_some_and(|step| {
                let middle = [hole.along, hole.up][step.axis()];
                step.is_over([middle; 2], spec.inside[step.axis()]) == Some(true)
            });
            let at = [hole.along, hole.up][self.across];
            hole.wall == Wall::Floor && raised == (role == Role::LinerRaised) && (own[0]..own[1]).contains(&at)
        };
        part.holes = self.placed(is_here, (size, None), lined, |hole| {
            let at = doubled(spec, [hole.along, hole.up]);
            [0, 1].map(|k| {
                let quadrupled = size[k] * 2 + at[k] * 2 - low[k] - high[k];
                quadrupled.half_down().half_down()
            })
        });
        let t = self.sheet.thickness;
        let from = match spec.step {
            Some(step) if role == Role::LinerRaised => step.rise,
            _ => Length::ZERO,
        };
        let part = lined.group.one_more(part);
        lined.group.pieces.push(Piece {
            part,
            role,
            block: Block::of([ranges[0], ranges[1], [from, from + t]]),
            thin: 2,
        });
    }

    /// The riser's sheet, on the deep floor's and under the raised one's, from wall to wall.
    fn riser(&self, spec: &BoxSpec, step: &Step, lined: &mut Lined) {
        let t = self.sheet.thickness;
        let wide = spec.inside[1 - step.axis()];
        let up = [t, step.rise];
        let mut part = Part::plate(Role::LinerRiser, 1, self.sheet, [wide, up[1] - up[0]]);
        let size = [part.length, part.width];
        let is_here = |hole: &WallHole| hole.wall == Wall::Riser;
        part.holes = self.placed(is_here, (size, None), lined, |hole| {
            let x = if step.at.runs_back() {
                wide - hole.along
            } else {
                hole.along
            };
            [x, hole.up - up[0]]
        });
        let out = step.at_its_wall([step.run, step.run + t], spec.inside[step.axis()]);
        lined.group.pieces.push(Piece {
            part: lined.group.parts.len(),
            role: Role::LinerRiser,
            block: super::level(step.axis(), out, [Length::ZERO, wide], up),
            thin: step.axis(),
        });
        lined.group.parts.push(part);
    }

    /// The sheets that close one level axis; the long ones run from corner to corner.
    fn pair(&self, spec: &BoxSpec, across: usize, runs: bool, lined: &mut Lined) {
        let t = self.sheet.thickness;
        let side = spec.inside[1 - across];
        let along = if runs { [Length::ZERO, side] } else { [t, side - t] };
        for piece in self.pieces(1 - across, side, along) {
            self.pair_between(spec, across, (runs, piece), lined);
        }
    }

    /// The two opposite sheets from one divider, or end, to the next.
    fn pair_between(
        &self,
        spec: &BoxSpec,
        across: usize,
        (runs, [along, own]): (bool, [[Length; 2]; 2]),
        lined: &mut Lined,
    ) {
        let t = self.sheet.thickness;
        let side = spec.inside[1 - across];
        let role = if runs { Role::LinerSide } else { Role::LinerEnd };
        let walls = if across == 0 {
            [Wall::Front, Wall::Rear]
        } else {
            [Wall::Left, Wall::Right]
        };
        let outs = [[Length::ZERO, t], [spec.inside[across] - t, spec.inside[across]]];
        let panels = walls.into_iter().zip(outs).map(|(wall, out)| {
            let over = spec.step.filter(|step| step.at == wall);
            let foot = t + over.map_or(Length::ZERO, |step| step.rise);
            Panel {
                role,
                wall,
                along,
                up: [foot, spec.inside[2]],
                across,
                out,
                own,
            }
        });
        let beside = spec.step.filter(|step| step.axis() != across).map(|step| {
            let [run, rise] = self.corner(&step);
            Beside {
                over: step.at_its_wall([Length::ZERO, run], side),
                rise,
                is_high: step.is_high(),
            }
        });
        let made: Vec<(Panel, Part)> = panels.map(|panel| self.panel(beside, panel, lined)).collect();
        let alike = made.iter().all(|(_, part)| part.holes.is_empty()) && made[0].1.width == made[1].1.width;
        for (panel, mut part) in made {
            if !alike {
                part.wall = Some(panel.wall);
            } else if let Some(notch) = part.notch().filter(|_| panel.wall.runs_back()) {
                // A pair is drawn as the one on which lengths run with the drawing.
                part.cut_out(notch.turned_over());
            }
            // As long between other dividers it is the same piece.
            let at = if alike {
                lined.group.one_more(part)
            } else {
                lined.group.parts.push(part);
                lined.group.parts.len() - 1
            };
            let blocks = Self::blocks(beside, &panel);
            lined.group.pieces.extend(blocks.into_iter().map(|block| Piece {
                part: at,
                role: panel.role,
                block,
                thin: panel.across,
            }));
        }
    }

    /// How far up and along from the box's inner corner the sheets of floor and riser reach that a wall beside a step
    /// leaves room for.
    fn corner(&self, step: &Step) -> [Length; 2] {
        [step.run, step.rise].map(|size| size + self.sheet.thickness)
    }

    /// A wall's sheet as blocks: beside a step what is lower than its raised floor's sheet, then what is over that.
    fn blocks(beside: Option<Beside>, panel: &Panel) -> Vec<Block> {
        let block = |along, up| super::level(panel.across, panel.out, along, up);
        let [from, to] = panel.along;
        match beside {
            Some(beside) if beside.takes(panel.along) > Length::ZERO => {
                let deep = if beside.is_high {
                    [from, to.min(beside.over[0])]
                } else {
                    [from.max(beside.over[1]), to]
                };
                let lower = (deep[0] < deep[1]).then(|| block(deep, [panel.up[0], beside.rise]));
                let upper = block(panel.along, [beside.rise, panel.up[1]]);
                lower.into_iter().chain([upper]).collect()
            }
            _ => vec![block(panel.along, panel.up)],
        }
    }

    /// Drawn from inside the box, its lower edge on the floor's sheet.
    fn panel(&self, beside: Option<Beside>, panel: Panel, lined: &mut Lined) -> (Panel, Part) {
        let along = panel.along;
        let length = along[1] - along[0];
        let taken = beside.map_or(Length::ZERO, |beside| beside.takes(along));
        // Wholly over the step it stands on the raised floor's sheet.
        let up = match beside {
            Some(beside) if taken == length => [beside.rise, panel.up[1]],
            _ => panel.up,
        };
        let size = [length, up[1] - up[0]];
        let mut part = Part::plate(panel.role, 1, self.sheet, size);
        let is_notched = taken > Length::ZERO && taken < length;
        let notch = beside.filter(|_| is_notched).map(|beside| Notch {
            at_far_end: beside.is_high != panel.wall.runs_back(),
            size: [taken, beside.rise - up[0]],
        });
        if let Some(notch) = notch {
            part.cut_out(notch);
        }
        let own = panel.own;
        let is_here = |hole: &WallHole| hole.wall == panel.wall && (own[0]..own[1]).contains(&hole.along);
        part.holes = self.placed(is_here, (size, notch), lined, |hole| {
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
        is_here: impl Fn(&WallHole) -> bool,
        (size, notch): ([Length; 2], Option<Notch>),
        lined: &mut Lined,
        place: impl Fn(&WallHole) -> [Length; 2],
    ) -> Vec<Hole> {
        let mut holes: Vec<Hole> = Vec::new();
        for told in self.holes.iter().filter(|hole| is_here(hole)) {
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
            let is_off_corner = notch.is_none_or(|notch| {
                let from_end = if notch.at_far_end { size[0] - x } else { x };
                from_end - radius > notch.size[0] || y - radius > notch.size[1]
            });
            if is_on && is_off_corner && holes.iter().all(|other| !meet(&hole, other)) {
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
