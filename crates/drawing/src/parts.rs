//! The pieces of a box in their places.

use enclosure::cutlist::Line;
use enclosure::{Part, Role as PartRole, Step, Wall};
use geometry::{Axis, Cuboid, Point};
use job::{BoxResult, Evaluation, Subject};
use tape::Length;

use crate::solids::bare;
use crate::{Direction, Outline, Role, Side};

/// The pieces of a box as they show from one side.
///
/// From above the lid is off; from the side the walls that face the viewer or away are left out, as in a cut through
/// the middle. Every piece comes with its mark from the cut list.
pub(crate) fn of(evaluation: &Evaluation, battery_box: &BoxResult, side: Side) -> Vec<Outline> {
    let (Some(built), Some(body)) = (&battery_box.built, &battery_box.body) else {
        return Vec::new();
    };
    let mut outlines = Vec::new();
    for piece in pieces(evaluation, battery_box, body, built) {
        let off = side == Side::Plan && piece.with_lid;
        let thin = piece.thin;
        let shows = (piece.role.is_added() && !piece.role.is_liner())
            || thin == side.axis(Direction::U)
            || thin == side.axis(Direction::V)
            || is_bar(piece.role);
        if shows && !off {
            outlines.push(Outline {
                label: piece.mark,
                sub: piece.role.name().to_owned(),
                ..bare(Role::Part, &piece.solid, side, Subject::Box(battery_box.id))
            });
        }
    }
    outlines
}

/// A solid of a part, in its place. A folded part has one for each of its flat faces, its bends drawn sharp.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its mark on the cut list.
    pub mark: String,
    /// What it is in the box.
    pub role: PartRole,
    /// Where it is, in the frame of the body it was asked for.
    pub solid: Cuboid,
    /// Along which axis its thickness lies.
    pub thin: Axis,
    /// Whether it comes off with the lid.
    pub with_lid: bool,
    /// Solids of one number are one flat piece: a wall beside a step is two blocks.
    pub flat: usize,
}

/// Every solid of a box's parts round `body`.
pub(crate) fn pieces(
    evaluation: &Evaluation,
    battery_box: &BoxResult,
    body: &Cuboid,
    built: &enclosure::Built,
) -> Vec<Piece> {
    let place = Place::new(body, built);
    let marks = marks(evaluation, battery_box);
    let mark = |part: &Part| {
        let is_it = |line: &Line| {
            line.roles.contains(&part.role)
                && part.wall.is_none_or(|wall| line.walls.contains(&wall))
                && [line.length.exact, line.width.exact] == [part.length, part.width]
                && line.sheet == part.sheet
                && line.holes == part.holes
        };
        let known = marks.iter().find(|(line, _)| is_it(line));
        known.map_or_else(String::new, |&(_, mark)| mark.to_owned())
    };
    let of_part = |part: &Part| {
        let (role, mark) = (part.role, mark(part));
        place.of_wall(part).into_iter().map(move |(solid, thin)| Piece {
            mark: mark.clone(),
            role,
            solid,
            thin,
            with_lid: role.is_of_lid(),
            flat: 0,
        })
    };
    let from = body.lo() + Point([built.beside, built.beside, built.under]);
    let added = built.added.iter().map(|piece| Piece {
        mark: mark(&built.parts[piece.part]),
        role: piece.role,
        solid: Cuboid::between(from + Point(piece.block.lo), from + Point(piece.block.hi)),
        thin: Axis::ALL[piece.thin],
        with_lid: built.goes_with_lid(piece),
        flat: 0,
    });
    let mut all: Vec<Piece> = built.parts.iter().flat_map(of_part).chain(added).collect();
    number(&mut all, built);
    all
}

/// Numbers the flat pieces: the two blocks of a wall beside a step are one, everything else is one by itself.
fn number(pieces: &mut [Piece], built: &enclosure::Built) {
    let mut next = 0;
    for index in 0..pieces.len() {
        let (before, own) = pieces.split_at_mut(index);
        let own = &mut own[0];
        let is_upper = |last: &&Piece| {
            built.step.is_some()
                && matches!(own.role, PartRole::LongSide | PartRole::End)
                && last.role == own.role
                && last.thin == own.thin
                && last.solid.lo()[own.thin] == own.solid.lo()[own.thin]
        };
        own.flat = before.last().filter(is_upper).map_or(next, |last| last.flat);
        next = own.flat + 1;
    }
}

const fn is_bar(role: PartRole) -> bool {
    matches!(
        role,
        PartRole::FlangeLong
            | PartRole::FlangeShort
            | PartRole::RingLong
            | PartRole::RingShort
            | PartRole::FrameLong
            | PartRole::FrameShort
    )
}

/// The letter that the marks of a box begin with; `None` when it is not on the cut list.
pub(crate) fn letter(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<String> {
    // The list has a letter for each box that can be built, in the job's order.
    let mut built = evaluation.boxes.iter().filter(|b| b.built.is_some());
    let index = built.position(|b| b.id == battery_box.id)?;
    Some(evaluation.cut.list.boxes.get(index)?.letter.clone())
}

/// The lines of this box on the cut list, each with its mark.
fn marks<'a>(evaluation: &'a Evaluation, battery_box: &BoxResult) -> Vec<(&'a Line, &'a str)> {
    let list = &evaluation.cut.list;
    let Some(letter) = letter(evaluation, battery_box) else {
        return Vec::new();
    };
    let is_ours = |mark: &str| {
        let number = mark.strip_prefix(letter.as_str());
        number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
    };
    let lines = list
        .tables
        .iter()
        .flat_map(|table| &table.lines)
        .filter(|line| is_ours(&line.mark));
    lines.map(|line| (line, line.mark.as_str())).collect()
}

/// Where the pieces of a box go.
struct Place {
    /// The outside of floor and walls, up to the top of the lid: without the angle round them.
    body: Cuboid,
    /// How far the angle of a frame stands out from them, the adhesive on bonded panels with it.
    angle: Length,
    /// The longer and the shorter horizontal axis of the box.
    long: Axis,
    short: Axis,
    /// The step in the underside, and how thick the floor is.
    step: Option<Step>,
    under: Length,
    /// The top of the walls.
    rim: Length,
    /// How far a cap's skirt, lips or a ring stand out from the walls.
    out: Length,
    /// How far a pan lid hangs down from the top.
    deep: Length,
    lid: Length,
}

impl Place {
    fn new(body: &Cuboid, built: &enclosure::Built) -> Self {
        // What was taped may make the body another size; the angle is as thick as drawn.
        let angle = (built.body[0] - built.shell[0]).half_down();
        let inward = geometry::Faces::floor_walls_top(-angle, -angle, Length::ZERO);
        let walls = body.grown(inward).unwrap_or(*body);
        let size = body.size();
        let (long, short) = if size[Axis::Y] > size[Axis::X] {
            (Axis::Y, Axis::X)
        } else {
            (Axis::X, Axis::Y)
        };
        let lid = built.parts.iter().find(|p| p.role == PartRole::LidPlate);
        Self {
            body: walls,
            angle,
            long,
            short,
            rim: body.hi()[Axis::Z] - built.above_rim,
            step: built.step,
            under: built.under,
            // The first is flange or skirt; what stands out from it is drawn apart.
            out: angle + built.rims.first().map_or(Length::ZERO, |rim| rim.out),
            deep: built.rims.first().map_or(Length::ZERO, |rim| rim.below_top),
            lid: lid.map_or(Length::ZERO, |p| p.sheet.thickness),
        }
    }

    /// The solids of a part, of one of a pair only its own.
    fn of_wall(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let mut cuboids = self.cuboids(part);
        // Those of a pair come low end first, half and half.
        let is_pair = matches!(cuboids.len(), 2 | 4);
        if let Some(wall) = part.wall.filter(|_| is_pair) {
            let far = cuboids.split_off(cuboids.len() / 2);
            return if matches!(wall, Wall::Rear | Wall::Right) {
                far
            } else {
                cuboids
            };
        }
        cuboids
    }

    /// The solids of a part, each with the axis that its thickness lies along. None for what is not drawn.
    fn cuboids(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let (lo, hi) = (self.body.lo(), self.body.hi());
        match part.role {
            PartRole::Floor | PartRole::RaisedFloor | PartRole::Riser if self.step.is_some() => self.stepped(part),
            PartRole::Floor => vec![(self.plate(part, lo[Axis::Z]), Axis::Z)],
            PartRole::LongSide | PartRole::End if part.notch().is_some() => self.notched(part),
            PartRole::LidPlate => vec![(self.plate(part, hi[Axis::Z] - thickness), Axis::Z)],
            PartRole::LongSide => self.pair(part, self.short, Length::ZERO, thickness, Self::upright(part, self.rim)),
            PartRole::End => self.pair(part, self.long, Length::ZERO, thickness, Self::upright(part, self.rim)),
            PartRole::SkirtLong => self.skirt(part, self.short),
            PartRole::SkirtShort => self.skirt(part, self.long),
            PartRole::FlangeLong => self.level_bars(part, self.short),
            PartRole::FlangeShort => self.level_bars(part, self.long),
            PartRole::RingLong => self.ring(part, self.short),
            PartRole::RingShort => self.ring(part, self.long),
            PartRole::FrameLong => self.foot(part, self.short),
            PartRole::FrameShort => self.foot(part, self.long),
            PartRole::Tray => self.tray(part),
            PartRole::PanLid => self.pan(thickness),
            PartRole::Post => self.posts(part),
            // A riser and a raised floor are only there with a step; what is added tells its own places.
            PartRole::RaisedFloor
            | PartRole::Riser
            | PartRole::Bracket
            | PartRole::HoldDownBar
            | PartRole::HoldDownAngle
            | PartRole::Lug
            | PartRole::HoldDownRod
            | PartRole::Divider
            | PartRole::Standoff
            | PartRole::EndPlate
            | PartRole::EyePlate
            | PartRole::TieRod
            | PartRole::Stiffener
            | PartRole::FloorRail
            | PartRole::LinerFloor
            | PartRole::LinerRaised
            | PartRole::LinerRiser
            | PartRole::LinerSide
            | PartRole::LinerEnd => Vec::new(),
        }
    }

    /// Deep floor, raised floor or riser of a box with a step.
    fn stepped(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let Some(step) = self.step else { return Vec::new() };
        let (lo, hi) = (self.body.lo(), self.body.hi());
        let axis = Axis::ALL[step.axis()];
        let whole = hi[axis] - lo[axis];
        let long = if axis == self.long { part.length } else { part.width };
        let bottom = lo[Axis::Z];
        // From the wall at the step inward. Floors end as far off the outside at both ends, or at neither.
        let (from, to, z, thin) = match part.role {
            PartRole::Floor => {
                let edge = (whole - step.run - long).half_down();
                (step.run + edge, whole - edge, bottom, Axis::Z)
            }
            PartRole::RaisedFloor => (step.run - long, step.run, bottom + step.rise, Axis::Z),
            _ => {
                let top = bottom + step.rise + self.under;
                (step.run, step.run + part.sheet.thickness, top - part.width, axis)
            }
        };
        let mut solid = if thin == Axis::Z {
            self.plate(part, z)
        } else {
            let across = if axis == self.long { self.short } else { self.long };
            let start = self.middle(across, part.length);
            slab(
                &slab(&self.body, across, [start, start + part.length]),
                Axis::Z,
                [z, z + part.width],
            )
        };
        let [from, to] = if step.is_high() {
            [hi[axis] - to, hi[axis] - from]
        } else {
            [lo[axis] + from, lo[axis] + to]
        };
        solid = slab(&solid, axis, [from, to]);
        vec![(solid, thin)]
    }

    /// The pair of walls beside a step, each as two blocks: what stands lower than the step, then what stands over it.
    fn notched(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let (Some(step), Some(notch)) = (self.step, part.notch()) else {
            return Vec::new();
        };
        let across = if part.role == PartRole::LongSide {
            self.short
        } else {
            self.long
        };
        let along = if across == self.long { self.short } else { self.long };
        let [foot, rim] = Self::upright(part, self.rim);
        let level = foot + notch.size[1];
        let whole = self.pair(part, across, Length::ZERO, part.sheet.thickness, [foot, rim]);
        let blocks = |(wall, thin): (Cuboid, Axis)| {
            let [from, to] = [wall.lo()[along], wall.hi()[along]];
            let deep = if step.is_high() {
                [from, to - notch.size[0]]
            } else {
                [from + notch.size[0], to]
            };
            let lower = slab(&slab(&wall, along, deep), Axis::Z, [foot, level]);
            [(lower, thin), (slab(&wall, Axis::Z, [level, rim]), thin)]
        };
        whole.into_iter().flat_map(blocks).collect()
    }

    /// Two strips of a cap's skirt, under its plate.
    fn skirt(&self, part: &Part, across: Axis) -> Vec<(Cuboid, Axis)> {
        let top = self.body.hi()[Axis::Z] - self.lid;
        self.pair(part, across, self.out, part.sheet.thickness, Self::upright(part, top))
    }

    /// Two bars that stand out from the walls, flat and flush with the rim.
    fn level_bars(&self, part: &Part, across: Axis) -> Vec<(Cuboid, Axis)> {
        let flat = [self.rim - part.sheet.thickness, self.rim];
        let out = part.width + self.off(part.sheet.thickness);
        let bars = self.pair(part, across, out, part.width, flat);
        bars.into_iter().map(|(bar, _)| (bar, Axis::Z)).collect()
    }

    /// Two bars of the angle ring at the rim: their level legs, then the upright ones against the wall.
    fn ring(&self, part: &Part, across: Axis) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let mut bars = self.level_bars(part, across);
        let out = thickness + self.off(thickness);
        bars.extend(self.pair(part, across, out, thickness, Self::upright(part, self.rim)));
        bars
    }

    /// How far off the walls and the floor a leg of this thickness stands: by the adhesive of bonded panels.
    fn off(&self, thickness: Length) -> Length {
        (self.angle - thickness).max(Length::ZERO)
    }

    /// The upright legs of two bars of the angle at the floor; their feet lie under it.
    fn foot(&self, part: &Part, across: Axis) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let out = thickness + self.off(thickness);
        let lowest = self.body.lo()[Axis::Z] - out;
        self.pair(part, across, out, thickness, [lowest, lowest + part.width])
    }

    /// Floor, walls and lips of a tray, its bends drawn sharp.
    fn tray(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let floor = self.body.lo()[Axis::Z];
        let mut solids = vec![(slab(&self.body, Axis::Z, [floor, floor + thickness]), Axis::Z)];
        for across in [self.short, self.long] {
            let walls = strips(&self.body, across, Length::ZERO, thickness);
            solids.extend(walls.map(|wall| (slab(&wall, Axis::Z, [floor, self.rim]), across)));
            if part.has_lips() {
                let level = [self.rim - thickness, self.rim];
                let lips = strips(&self.body, across, self.out, self.out);
                solids.extend(lips.map(|lip| (slab(&lip, Axis::Z, level), Axis::Z)));
            }
        }
        solids
    }

    /// Plate and skirt of a pan lid, its bends drawn sharp.
    fn pan(&self, thickness: Length) -> Vec<(Cuboid, Axis)> {
        let top = self.body.hi()[Axis::Z];
        let over = self.wider(self.out);
        let mut solids = vec![(slab(&over, Axis::Z, [top - thickness, top]), Axis::Z)];
        for across in [self.short, self.long] {
            let skirt = strips(&over, across, Length::ZERO, thickness);
            solids.extend(skirt.map(|strip| (slab(&strip, Axis::Z, [top - self.deep, top]), across)));
        }
        solids
    }

    /// The posts of an angle frame, as they show from the side: one leg along each wall.
    fn posts(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let out = thickness + self.off(thickness);
        let lowest = self.body.lo()[Axis::Z] - out + part.width;
        let heights = [lowest, lowest + part.length];
        let over = self.wider(out);
        let mut solids = Vec::new();
        for (across, along) in [(self.short, self.long), (self.long, self.short)] {
            for wall in strips(&over, across, Length::ZERO, thickness) {
                let legs = strips(&wall, along, Length::ZERO, part.width);
                solids.extend(legs.map(|leg| (slab(&leg, Axis::Z, heights), across)));
            }
        }
        solids
    }

    /// The body, this much wider on every side.
    fn wider(&self, by: Length) -> Cuboid {
        let outward = geometry::Faces::floor_walls_top(Length::ZERO, by, Length::ZERO);
        self.body.grown(outward).unwrap_or(self.body)
    }

    /// From the lower edge to `top`.
    fn upright(part: &Part, top: Length) -> [Length; 2] {
        [top - part.width, top]
    }

    /// A level plate in the middle of the body.
    fn plate(&self, part: &Part, bottom: Length) -> Cuboid {
        let mut cuboid = [Length::ZERO; 3];
        let mut size = [Length::ZERO; 3];
        for (axis, length) in [(self.long, part.length), (self.short, part.width)] {
            cuboid[axis.index()] = self.middle(axis, length);
            size[axis.index()] = length;
        }
        cuboid[Axis::Z.index()] = bottom;
        size[Axis::Z.index()] = part.sheet.thickness;
        Cuboid::at(Point(cuboid), geometry::Size(size))
    }

    /// Where something of this length begins to lie in the middle of the body.
    fn middle(&self, axis: Axis, length: Length) -> Length {
        let (lo, hi) = (self.body.lo()[axis], self.body.hi()[axis]);
        (lo + hi - length).half_down()
    }

    /// Two pieces at both ends of `across`: `deep` along it, beginning `out` outside the body, in the middle of the
    /// other horizontal axis, between two heights.
    fn pair(&self, part: &Part, across: Axis, out: Length, deep: Length, heights: [Length; 2]) -> Vec<(Cuboid, Axis)> {
        let along = if across == self.long { self.short } else { self.long };
        let start = self.middle(along, part.length);
        let length = slab(&self.body, along, [start, start + part.length]);
        strips(&slab(&length, Axis::Z, heights), across, out, deep)
            .map(|piece| (piece, across))
            .to_vec()
    }
}

/// The part of a block between two places along one axis, or what lies beyond it there.
fn slab(block: &Cuboid, axis: Axis, [from, to]: [Length; 2]) -> Cuboid {
    let (mut lo, mut hi) = (block.lo(), block.hi());
    (lo[axis], hi[axis]) = (from, to);
    Cuboid::between(lo, hi)
}

/// Two strips of a block at both ends of `across`: `deep` along it, beginning `out` outside the block.
fn strips(block: &Cuboid, across: Axis, out: Length, deep: Length) -> [Cuboid; 2] {
    let (low, high) = (block.lo()[across] - out, block.hi()[across] + out);
    [[low, low + deep], [high - deep, high]].map(|range| slab(block, across, range))
}
