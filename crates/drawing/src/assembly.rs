//! A box put together, as a drawing for the shop shows it: its pieces, the holes of its lid, its seams.

use enclosure::weld::Seam;
use enclosure::{Form, HolePattern, Purpose, Role, Wall, WallHole};
use geometry::{Axis, Cuboid, Point, Size};
use job::{BoxResult, Evaluation};
use tape::Length;

use crate::edges::{EdgeLine, edges_of_pieces};
use crate::parts::{self, Piece};
use crate::{Rect, Side};

/// A box put together, in its own frame: x rearward, y to the right, z up, with the front-left-bottom corner of the body
/// at the origin. Sizes are those it is built to, before coating, whatever was taped afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Its name.
    pub name: String,
    /// The letter that its marks begin with.
    pub letter: String,
    /// Every solid of every part.
    pub pieces: Vec<Piece>,
    /// The body: over the walls, from under the floor to the top of the lid.
    pub body: Cuboid,
    /// What the body lacks under a step in its underside.
    pub step: Option<Cuboid>,
    /// The axis that the step runs in along; that of the length without one.
    pub step_axis: Axis,
    /// Everything but screw heads and nuts.
    pub whole: Cuboid,
    /// Everything, screw heads and nuts too ([`enclosure::Built::hull`]).
    pub with_heads: Cuboid,
    /// Shell, rim and lid, without what goes on them: what holes of the lid are measured from.
    pub lidded: Cuboid,
    /// The space inside floor and walls, up to the rim.
    pub inside: Cuboid,
    /// The middles of the holes for the lid's screws, `[x, y]`, those nearest the front-left corner first.
    pub holes: Vec<[Length; 2]>,
    /// Their diameter; `None` for a lid without screws.
    pub hole: Option<Length>,
    /// The holes of what is let into its walls, floor and lid, in the job's order.
    pub openings: Vec<Opening>,
    /// How they are laid out.
    pub pattern: Option<HolePattern>,
    /// The longer horizontal axis, along which the pattern's length lies.
    pub long: Axis,
    /// From the rim to the top of the lid: gasket when squeezed, and lid.
    pub above_rim: Length,
    /// What is welded, as numbered on the weld map; empty when nothing is.
    pub seams: Vec<Seam>,
}

/// The hole of something let into a wall, floor or lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opening {
    /// As it was told, inside the box.
    pub hole: WallHole,
    /// Its middle, on the outermost face of the body at that wall; of a riser on its own outer face.
    pub at: Point,
    /// The wall that it faces with: of a hole in the riser the one at the step.
    pub faces: Wall,
}

/// Something that goes on or in a box, as one block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AddedPiece<'a> {
    /// Its first solid.
    pub piece: &'a Piece,
    /// All of it.
    pub block: Cuboid,
    /// Whether it is inside the box.
    pub inside: bool,
}

/// A round hole as seen from a side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Its middle on the sheet.
    pub at: [Length; 2],
    /// Whether something lies between it and the viewer.
    pub hidden: bool,
}

/// A box put together; `None` for one that cannot be built.
pub fn assembly(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Assembly> {
    let built = battery_box.built.as_ref()?;
    let body = Cuboid::at(Point::ZERO, Size(built.body));
    let pieces = parts::pieces(evaluation, battery_box, &body, built);
    let whole = pieces.iter().fold(body, |all, piece| all.hull(&piece.solid));
    let own = pieces.iter().filter(|piece| !piece.role.is_added());
    let lidded = own.fold(body, |all, piece| all.hull(&piece.solid));
    let long = if built.body[1] > built.body[0] {
        Axis::Y
    } else {
        Axis::X
    };
    let from = inside(&body, built).lo();
    let corner = |corner: [Length; 3]| Point([0, 1, 2].map(|axis| from.0[axis] + corner[axis]));
    let (holes, hole) = lid_holes(built, &pieces, long);
    Some(Assembly {
        name: battery_box.name.clone(),
        letter: parts::letter(evaluation, battery_box).unwrap_or_default(),
        step: built.step.map(|step| {
            let [lo, hi] = step.block(built.body).map(Point);
            Cuboid::between(lo, hi)
        }),
        step_axis: Axis::ALL[built.step.map_or(0, |step| step.axis())],
        body,
        whole,
        with_heads: Cuboid::between(corner(built.hull.lo), corner(built.hull.hi)).hull(&whole),
        lidded,
        inside: inside(&body, built),
        holes,
        hole,
        openings: openings(built),
        pattern: built.lid_holes,
        long,
        above_rim: built.above_rim,
        seams: battery_box
            .welds
            .as_ref()
            .map_or_else(Vec::new, |welds| welds.seams.clone()),
        pieces,
    })
}

impl Assembly {
    /// Its edges from a side, lid on, without what is inside: a dozen dashed bars behind one another tell nothing, and those
    /// of a liner lie beside the walls' own.
    pub fn edges(&self, side: Side) -> Vec<EdgeLine> {
        let shown = self.pieces.iter().filter(|piece| !self.is_inside(piece));
        let solids: Vec<(Cuboid, usize)> = shown.map(|piece| (piece.solid, piece.flat)).collect();
        edges_of_pieces(&solids, side)
    }

    /// Whether a piece is one of those that were added, and is not seen with the lid on.
    pub fn is_inside(&self, piece: &Piece) -> bool {
        piece.role.is_added() && self.body.contains(&piece.solid)
    }

    /// What goes on and in the box, each as one block: both legs of a piece of angle together. The liner is none of it: it
    /// lies on the walls.
    pub fn added(&self) -> Vec<AddedPiece<'_>> {
        let is_placed = |piece: &&Piece| piece.role.is_added() && !piece.role.is_liner();
        let added: Vec<&Piece> = self.pieces.iter().filter(is_placed).collect();
        let mut items = Vec::new();
        let mut rest = added.as_slice();
        while let Some((first, others)) = rest.split_first() {
            // The legs of an angle follow one another.
            let legs = |next: &&&Piece| first.role.form() == Form::Angle && next.mark == first.mark;
            let (block, left) = match others.first().filter(legs) {
                Some(second) => (first.solid.hull(&second.solid), &others[1..]),
                None => (first.solid, others),
            };
            items.push(AddedPiece {
                piece: first,
                block,
                inside: self.is_inside(first),
            });
            rest = left;
        }
        items
    }

    /// Where a hole shows from a side; `None` where its wall is seen on edge.
    ///
    /// It is hidden when its wall is the far one, or when a piece that stands further out covers any of it.
    pub fn seen(&self, opening: &Opening, side: Side) -> Option<Seen> {
        let (faces, far) = match side {
            Side::Plan => (Wall::Lid, Wall::Floor),
            Side::FromLeft => (Wall::Left, Wall::Right),
            Side::FromRear => (Wall::Rear, Wall::Front),
        };
        let wall = opening.faces;
        if wall != faces && wall != far {
            return None;
        }
        let flat = Cuboid::between(opening.at, opening.at);
        let middle = side.rect(&flat);
        let radius = opening.hole.diameter.half_down();
        let around = Rect {
            u0: middle.u0 - radius,
            v0: middle.v0 - radius,
            u1: middle.u1 + radius,
            v1: middle.v1 + radius,
        };
        let covers = |piece: &Piece| {
            let rect = side.rect(&piece.solid);
            let meets = rect.u0 < around.u1 && around.u0 < rect.u1 && rect.v0 < around.v1 && around.v0 < rect.v1;
            meets && side.depth(&piece.solid)[1] <= side.depth(&flat)[0]
        };
        Some(Seen {
            at: [middle.u0, middle.v0],
            hidden: wall == far || self.pieces.iter().any(covers),
        })
    }

    /// All of it on the sheet.
    pub fn rect(&self, side: Side) -> Rect {
        side.rect(&self.whole)
    }

    /// From the top of a cap to the lower edge of its skirt; `None` for a flat lid.
    pub fn skirt_depth(&self) -> Option<Length> {
        let is_cap = |role| matches!(role, Role::SkirtLong | Role::SkirtShort | Role::PanLid);
        let pieces = self.pieces.iter().filter(|piece| is_cap(piece.role));
        let lowest = pieces.map(|piece| piece.solid.lo()[Axis::Z]).min()?;
        Some(self.body.hi()[Axis::Z] - lowest)
    }

    /// What a cut across the middle of an axis goes through, in the order of the parts.
    pub fn cut_through(&self, axis: Axis) -> impl Iterator<Item = &Piece> {
        let middle = (self.whole.lo()[axis] + self.whole.hi()[axis]).half_down();
        let goes = move |piece: &&Piece| piece.solid.lo()[axis] < middle && middle < piece.solid.hi()[axis];
        self.pieces.iter().filter(goes)
    }
}

/// The space between floor, walls and rim.
fn inside(body: &Cuboid, built: &enclosure::Built) -> Cuboid {
    let (lo, hi) = (body.lo(), body.hi());
    let low = Point([
        lo[Axis::X] + built.beside,
        lo[Axis::Y] + built.beside,
        lo[Axis::Z] + built.under,
    ]);
    let high = Point([
        hi[Axis::X] - built.beside,
        hi[Axis::Y] - built.beside,
        hi[Axis::Z] - built.above_rim,
    ]);
    Cuboid::between(low, high)
}

/// The holes of fittings, on the outside of the shell's sheet.
fn openings(built: &enclosure::Built) -> Vec<Opening> {
    let low = [built.beside, built.beside, built.under];
    let outside = [
        [Length::ZERO, built.body[0]],
        [Length::ZERO, built.body[1]],
        [Length::ZERO, built.body[2]],
    ];
    let place = |hole: &WallHole| {
        let (along, up) = (hole.along, hole.up);
        let [x, y, z] = outside;
        let at = match hole.wall {
            Wall::Front => [x[0], low[1] + along, low[2] + up],
            Wall::Rear => [x[1], low[1] + along, low[2] + up],
            Wall::Left => [low[0] + along, y[0], low[2] + up],
            Wall::Right => [low[0] + along, y[1], low[2] + up],
            Wall::Floor => {
                let raised = built.step.filter(|step| {
                    let [lo, hi] = step.block(built.body);
                    let at = [low[0] + along, low[1] + up][step.axis()];
                    (lo[step.axis()]..=hi[step.axis()]).contains(&at)
                });
                let floor = z[0] + raised.map_or(Length::ZERO, |step| step.rise);
                [low[0] + along, low[1] + up, floor]
            }
            Wall::Lid => [low[0] + along, low[1] + up, z[1]],
            Wall::Riser => in_riser(built, along, low[2] + up),
        };
        Opening {
            hole: *hole,
            faces: match built.step {
                Some(step) if hole.wall == Wall::Riser => step.at,
                _ => hole.wall,
            },
            at: Point(at),
        }
    };
    built.wall_holes.iter().map(place).collect()
}

/// A place on the outer face of the riser.
fn in_riser(built: &enclosure::Built, along: Length, z: Length) -> [Length; 3] {
    let Some(step) = built.step else {
        return [Length::ZERO, along, z];
    };
    let mut at = [along + built.beside, along + built.beside, z];
    at[step.axis()] = if step.is_high() {
        built.body[step.axis()] - step.run
    } else {
        step.run
    };
    at
}

/// The screw holes of the lid plate, moved to where it lies.
fn lid_holes(built: &enclosure::Built, pieces: &[Piece], long: Axis) -> (Vec<[Length; 2]>, Option<Length>) {
    let plate = built.parts.iter().find(|part| part.role == Role::LidPlate);
    let placed = pieces.iter().find(|piece| piece.role == Role::LidPlate);
    let (Some(plate), Some(placed)) = (plate, placed) else {
        return (Vec::new(), None);
    };
    let corner = placed.solid.lo();
    let mut holes: Vec<[Length; 2]> = plate
        .holes_for(Purpose::LidScrew)
        .map(|hole| {
            let [x, y] = if long == Axis::X {
                [hole.x, hole.y]
            } else {
                [hole.y, hole.x]
            };
            [corner[Axis::X] + x, corner[Axis::Y] + y]
        })
        .collect();
    holes.sort_unstable();
    let diameter = plate.holes_for(Purpose::LidScrew).next().map(|hole| hole.diameter);
    (holes, diameter)
}

#[cfg(test)]
mod tests {
    use job::{ConstructionName, EXAMPLES, evaluate, example, load};

    use super::*;

    /// Whatever it is made of, it is as large as it was worked out, and its lid has all the holes.
    #[test]
    fn pieces_add_up_to_the_size_of_the_box() {
        for name in EXAMPLES.iter().map(|e| e.name) {
            for construction in ConstructionName::ALL {
                let mut job = load(example(name).unwrap().text.as_bytes()).unwrap();
                job.design.construction = Some(*construction);
                let evaluation = evaluate(&job);
                for battery_box in &evaluation.boxes {
                    let assembly = assembly(&evaluation, battery_box).unwrap();
                    let built = battery_box.built.as_ref().unwrap();
                    let size = assembly.whole.size();
                    assert_eq!(
                        [size[Axis::X], size[Axis::Y]],
                        built.overall[..2],
                        "{name} {construction:?}"
                    );
                    assert_eq!(assembly.body.hi()[Axis::Z], assembly.whole.hi()[Axis::Z]);
                    let count = built.lid_holes.map_or(0, |pattern| pattern.count);
                    assert_eq!(assembly.holes.len(), usize::try_from(count).unwrap());
                    let inside = |[x, y]: &[Length; 2]| {
                        let (lo, hi) = (assembly.whole.lo(), assembly.whole.hi());
                        lo[Axis::X] < *x && *x < hi[Axis::X] && lo[Axis::Y] < *y && *y < hi[Axis::Y]
                    };
                    assert!(assembly.holes.iter().all(inside));
                    let own = |piece: &Piece| piece.mark.starts_with(&assembly.letter) && piece.mark.len() > 1;
                    assert!(assembly.pieces.iter().all(own));
                    assert!(!assembly.seams.is_empty());
                }
            }
        }
    }

    /// The pieces of a box with a step fill its outside but for the step, and the walls beside it show no line where they are
    /// whole.
    #[test]
    fn a_box_with_a_step_is_an_l_from_beside() {
        let text = include_str!("../../job/tests/stepped.json");
        for (wall, side) in [
            ("front", Side::FromLeft),
            ("rear", Side::FromLeft),
            ("left", Side::FromRear),
            ("right", Side::FromRear),
        ] {
            for corners in ["A", "B", "C", "D"] {
                let text = text
                    .replace("\"at\": \"front\", \"run\"", &format!("\"at\": \"{wall}\", \"run\""))
                    .replace("\"corners\": \"A\"", &format!("\"corners\": \"{corners}\""));
                let job = load(text.as_bytes()).unwrap();
                let evaluation = evaluate(&job);
                let own = &evaluation.boxes[0];
                assert_eq!(own.fault, None);
                let assembly = assembly(&evaluation, own).unwrap();
                let under = assembly.step.unwrap();
                assert!(
                    assembly.pieces.iter().all(|piece| !piece.solid.overlaps(&under)),
                    "{wall} {corners}"
                );
                let shell: Vec<&Piece> = assembly
                    .pieces
                    .iter()
                    .filter(|p| p.solid.hi()[Axis::Z] <= assembly.body.hi()[Axis::Z] - assembly.above_rim)
                    .collect();
                for (index, one) in shell.iter().enumerate() {
                    let other = shell[..index].iter().find(|other| other.solid.overlaps(&one.solid));
                    assert!(other.is_none(), "{wall} {corners}: {one:?} and {other:?}");
                }
                assert!(assembly.pieces.iter().all(|piece| piece.mark.len() > 1));
                // Seen edges level with the raised underside end at the riser, or at its sheet.
                let seen = side.rect(&under);
                let level = assembly
                    .edges(side)
                    .into_iter()
                    .filter(|line| !line.hidden && line.along == crate::Direction::U && line.at == seen.v0);
                let sheet = Length::mm(4);
                for line in level {
                    assert!(seen.u0 - sheet <= line.from && line.to <= seen.u1 + sheet, "{line:?}");
                }
            }
        }
    }

    /// Brackets stand out beyond the lid: its holes are still measured from its own corner.
    #[test]
    fn brackets_move_no_hole_of_the_lid() {
        let mut job = load(example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
        let first = |job: &job::Job| {
            let evaluation = evaluate(job);
            assembly(&evaluation, &evaluation.boxes[0]).unwrap()
        };
        let bare = first(&job);
        assert_eq!(bare.lidded, bare.whole);
        job.design.added.brackets = Some(job::BracketsName::OwnRail);
        let with = first(&job);
        assert_ne!(with.whole, bare.whole);
        assert_eq!((with.lidded, &with.holes), (bare.lidded, &bare.holes));
    }
}
