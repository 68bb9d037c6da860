//! A box put together, as a drawing for the shop shows it: its pieces, the holes of its lid, its seams.

use enclosure::{HolePattern, Role};
use geometry::{Axis, Cuboid, Point, Size};
use job::{BoxResult, Evaluation};
use tape::Length;

use crate::edges::{EdgeLine, edges};
use crate::parts::{self, Piece};
use crate::seam::{Seam, seams};
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
    /// Everything but screw heads and nuts.
    pub whole: Cuboid,
    /// The middles of the lid's holes, `[x, y]`, those nearest the front-left corner first.
    pub holes: Vec<[Length; 2]>,
    /// Their diameter; `None` for a lid without holes.
    pub hole: Option<Length>,
    /// How they are laid out.
    pub pattern: Option<HolePattern>,
    /// The longer horizontal axis, along which the pattern's length lies.
    pub long: Axis,
    /// From the rim to the top of the lid: gasket when squeezed, and lid.
    pub above_rim: Length,
    /// What is welded.
    pub seams: Vec<Seam>,
}

/// A box put together; `None` for one that cannot be built.
pub fn assembly(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Assembly> {
    let built = battery_box.built.as_ref()?;
    let body = Cuboid::at(Point::ZERO, Size(built.body));
    let pieces = parts::pieces(evaluation, battery_box, &body, built);
    let whole = pieces.iter().fold(body, |all, piece| all.hull(&piece.solid));
    let long = if built.body[1] > built.body[0] {
        Axis::Y
    } else {
        Axis::X
    };
    let (holes, hole) = lid_holes(built, &pieces, long);
    Some(Assembly {
        name: battery_box.name.clone(),
        letter: parts::letter(evaluation, battery_box).unwrap_or_default(),
        body,
        whole,
        holes,
        hole,
        pattern: built.lid_holes,
        long,
        above_rim: built.above_rim,
        seams: seams(built),
        pieces,
    })
}

impl Assembly {
    /// Its edges from a side, lid on.
    pub fn edges(&self, side: Side) -> Vec<EdgeLine> {
        let solids: Vec<Cuboid> = self.pieces.iter().map(|piece| piece.solid).collect();
        edges(&solids, side)
    }

    /// All of it on the sheet.
    pub fn rect(&self, side: Side) -> Rect {
        side.rect(&self.whole)
    }

    /// What a cut across the middle of an axis goes through, in the order of the parts.
    pub fn cut_through(&self, axis: Axis) -> impl Iterator<Item = &Piece> {
        let middle = (self.whole.lo()[axis] + self.whole.hi()[axis]).half_down();
        let goes = move |piece: &&Piece| piece.solid.lo()[axis] < middle && middle < piece.solid.hi()[axis];
        self.pieces.iter().filter(goes)
    }
}

/// The holes of the lid plate, moved to where it lies.
fn lid_holes(built: &enclosure::Built, pieces: &[Piece], long: Axis) -> (Vec<[Length; 2]>, Option<Length>) {
    let plate = built.parts.iter().find(|part| part.role == Role::LidPlate);
    let placed = pieces.iter().find(|piece| piece.role == Role::LidPlate);
    let (Some(plate), Some(placed)) = (plate, placed) else {
        return (Vec::new(), None);
    };
    let corner = placed.solid.lo();
    let mut holes: Vec<[Length; 2]> = plate
        .holes
        .iter()
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
    (holes, plate.holes.first().map(|hole| hole.diameter))
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
}
