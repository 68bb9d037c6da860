//! The pieces of a box in their places.

use enclosure::{Part, Role as PartRole};
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
    let place = Place::new(body, built);
    let marks = marks(evaluation, battery_box);
    let mut outlines = Vec::new();
    for part in &built.parts {
        let off = side == Side::Plan
            && matches!(
                part.role,
                PartRole::LidPlate | PartRole::SkirtLong | PartRole::SkirtShort | PartRole::PanLid
            );
        if off {
            continue;
        }
        let mark = marks
            .iter()
            .find(|(role, _)| *role == part.role)
            .map_or("", |(_, mark)| mark);
        for (cuboid, thin) in place.cuboids(part) {
            let shows = thin == side.axis(Direction::U) || thin == side.axis(Direction::V) || is_bar(part.role);
            if shows {
                outlines.push(Outline {
                    label: mark.to_owned(),
                    sub: part.role.name().to_owned(),
                    ..bare(Role::Part, &cuboid, side, Subject::Box(battery_box.id))
                });
            }
        }
    }
    outlines
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

/// The mark of each role of this box on the cut list.
fn marks(evaluation: &Evaluation, battery_box: &BoxResult) -> Vec<(PartRole, String)> {
    // The list has a letter for each box that can be built, in the job's order.
    let index = evaluation
        .boxes
        .iter()
        .filter(|b| b.built.is_some())
        .position(|b| b.id == battery_box.id);
    let list = &evaluation.cut.list;
    let Some(summary) = index.and_then(|i| list.boxes.get(i)) else {
        return Vec::new();
    };
    let is_ours = |mark: &str| {
        let number = mark.strip_prefix(summary.letter.as_str());
        number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
    };
    let lines = list
        .tables
        .iter()
        .flat_map(|table| &table.lines)
        .filter(|line| is_ours(&line.mark));
    lines
        .flat_map(|line| line.roles.iter().map(|&role| (role, line.mark.clone())))
        .collect()
}

/// Where the pieces of a box go.
struct Place {
    /// The outside of floor and walls, up to the top of the lid: without the angle round them.
    body: Cuboid,
    /// The longer and the shorter horizontal axis of the box.
    long: Axis,
    short: Axis,
    /// The top of the walls.
    rim: Length,
    /// The thickness of an angle frame round the walls; nothing without one.
    angle: Length,
    /// How far a cap's skirt, lips or a ring stand out from the walls.
    out: Length,
    /// Whether a tray has lips: it has when its lid is flat.
    lips: bool,
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
            long,
            short,
            rim: body.hi()[Axis::Z] - built.above_rim,
            angle,
            out: angle + built.rims.iter().map(|rim| rim.out).max().unwrap_or(Length::ZERO),
            lips: lid.is_some(),
            deep: built.rims.iter().map(|rim| rim.below_top).max().unwrap_or(Length::ZERO),
            lid: lid.map_or(Length::ZERO, |p| p.sheet.thickness),
        }
    }

    /// The solids of a part, each with the axis that its thickness lies along. None for what is not drawn.
    fn cuboids(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let thickness = part.sheet.thickness;
        let (lo, hi) = (self.body.lo(), self.body.hi());
        match part.role {
            PartRole::Floor => vec![(self.plate(part, lo[Axis::Z]), Axis::Z)],
            PartRole::LidPlate => vec![(self.plate(part, hi[Axis::Z] - thickness), Axis::Z)],
            PartRole::LongSide => self.pair(part, self.short, Length::ZERO, thickness, Self::upright(part, self.rim)),
            PartRole::End => self.pair(part, self.long, Length::ZERO, thickness, Self::upright(part, self.rim)),
            PartRole::SkirtLong | PartRole::SkirtShort => {
                let across = if part.role == PartRole::SkirtLong {
                    self.short
                } else {
                    self.long
                };
                let top = hi[Axis::Z] - self.lid;
                self.pair(part, across, self.out, thickness, Self::upright(part, top))
            }
            PartRole::FlangeLong | PartRole::FlangeShort => {
                let across = if part.role == PartRole::FlangeLong {
                    self.short
                } else {
                    self.long
                };
                let flat = [self.rim - thickness, self.rim];
                let mut bars = self.pair(part, across, part.width, part.width, flat);
                for (_, thin) in &mut bars {
                    *thin = Axis::Z;
                }
                bars
            }
            PartRole::Tray => self.tray(thickness),
            PartRole::PanLid => self.pan(thickness),
            PartRole::FrameLong | PartRole::FrameShort => {
                let across = if part.role == PartRole::FrameLong {
                    self.short
                } else {
                    self.long
                };
                let foot = lo[Axis::Z] - thickness;
                self.pair(part, across, thickness, thickness, [foot, foot + part.width])
            }
            PartRole::RingLong | PartRole::RingShort => {
                let across = if part.role == PartRole::RingLong {
                    self.short
                } else {
                    self.long
                };
                let level = [self.rim - thickness, self.rim];
                let mut bars = self.pair(part, across, part.width, part.width, level);
                for (_, thin) in &mut bars {
                    *thin = Axis::Z;
                }
                bars.extend(self.pair(part, across, thickness, thickness, Self::upright(part, self.rim)));
                bars
            }
            PartRole::Post => self.posts(part),
        }
    }

    /// Floor, walls and lips of a tray, its bends drawn sharp.
    fn tray(&self, thickness: Length) -> Vec<(Cuboid, Axis)> {
        let (lo, hi) = (self.body.lo(), self.body.hi());
        let wall_from = lo[Axis::Z];
        let mut solids = vec![(
            slab(&self.body, Axis::Z, [lo[Axis::Z], lo[Axis::Z] + thickness]),
            Axis::Z,
        )];
        for across in [self.short, self.long] {
            for [from, to] in [
                [lo[across], lo[across] + thickness],
                [hi[across] - thickness, hi[across]],
            ] {
                let wall = slab(&self.body, across, [from, to]);
                solids.push((slab(&wall, Axis::Z, [wall_from, self.rim]), across));
            }
            if self.out > Length::ZERO && self.lips {
                for [from, to] in [[lo[across] - self.out, lo[across]], [hi[across], hi[across] + self.out]] {
                    let lip = slab(&self.body, across, [from, to]);
                    solids.push((slab(&lip, Axis::Z, [self.rim - thickness, self.rim]), Axis::Z));
                }
            }
        }
        solids
    }

    /// Plate and skirt of a pan lid, its bends drawn sharp.
    fn pan(&self, thickness: Length) -> Vec<(Cuboid, Axis)> {
        let top = self.body.hi()[Axis::Z];
        let over = self
            .body
            .grown(geometry::Faces::floor_walls_top(Length::ZERO, self.out, Length::ZERO))
            .unwrap_or(self.body);
        let mut solids = vec![(slab(&over, Axis::Z, [top - thickness, top]), Axis::Z)];
        for across in [self.short, self.long] {
            let (low, high) = (over.lo()[across], over.hi()[across]);
            for [from, to] in [[low, low + thickness], [high - thickness, high]] {
                let skirt = slab(&over, across, [from, to]);
                solids.push((slab(&skirt, Axis::Z, [top - self.deep, top]), across));
            }
        }
        solids
    }

    /// The posts of an angle frame, as they show from the side: one leg along each wall.
    fn posts(&self, part: &Part) -> Vec<(Cuboid, Axis)> {
        let foot = self.body.lo()[Axis::Z] - self.angle + part.width;
        let mut solids = Vec::new();
        for across in [self.short, self.long] {
            let along = if across == self.long { self.short } else { self.long };
            let (low, high) = (self.body.lo(), self.body.hi());
            for [from, to] in [
                [low[across] - self.angle, low[across]],
                [high[across], high[across] + self.angle],
            ] {
                for [start, end] in [
                    [low[along] - self.angle, low[along] - self.angle + part.width],
                    [high[along] + self.angle - part.width, high[along] + self.angle],
                ] {
                    let (mut a, mut b) = (Point::ZERO, Point::ZERO);
                    (a[across], b[across]) = (from, to);
                    (a[along], b[along]) = (start, end);
                    (a[Axis::Z], b[Axis::Z]) = (foot, foot + part.length);
                    solids.push((Cuboid::between(a, b), across));
                }
            }
        }
        solids
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
        let low = self.body.lo()[across] - out;
        let high = self.body.hi()[across] + out;
        [(low, low + deep), (high - deep, high)]
            .into_iter()
            .map(|(from, to)| {
                let (mut a, mut b) = (Point::ZERO, Point::ZERO);
                (a[across], b[across]) = (from, to);
                (a[along], b[along]) = (start, start + part.length);
                [a[Axis::Z], b[Axis::Z]] = heights;
                (Cuboid::between(a, b), across)
            })
            .collect()
    }
}

/// The part of a block between two places along one axis, or what lies beyond it there.
fn slab(block: &Cuboid, axis: Axis, [from, to]: [Length; 2]) -> Cuboid {
    let (mut lo, mut hi) = (block.lo(), block.hi());
    (lo[axis], hi[axis]) = (from, to);
    Cuboid::between(lo, hi)
}
