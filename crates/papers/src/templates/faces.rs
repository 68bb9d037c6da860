//! The faces that the cardboard mock-up of a box is made of, in full size.

use drawing::Assembly;
use enclosure::{Form, Purpose, Role, Wall};
use geometry::{Axis, Cuboid};
use job::{BoxResult, Evaluation};
use plot::{Ink, Item, Layer, Line, Path, Pen, Point, Rect};
use tape::Length;

use crate::words;

/// How deep a tab for glue is.
const TAB: f64 = 20.0;
const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
/// Folds, and what stands on the face.
const FOLD: Ink = Ink::new(Pen::new(0.35, Line::Dashed), Layer::new("FOLD"));
const HEAD: Ink = Ink::new(Pen::new(0.25, Line::Continuous), Layer::new("HEADS"));
/// Across a screw head or washer, for its hole: common practice, no source.
const HEAD_OF_HOLE: f64 = 2.0;

/// One face.
pub(crate) struct FaceSheet {
    /// Its name, with how many are alike.
    pub(crate) name: String,
    /// Level and upright size, without tabs.
    pub(crate) sides: [Length; 2],
    /// What is written along its left edge.
    pub(super) left: &'static str,
    /// What is written along its upper edge.
    pub(super) top: &'static str,
    /// What is said of it besides its size.
    pub(super) says: Vec<String>,
    /// How deep the tabs at its lower, right, upper and left edge are; 0 for none.
    tabs: [f64; 4],
    /// What is drawn on it.
    marks: Vec<Item>,
}

impl FaceSheet {
    /// Its edge with the tabs, its folds, and what is on it, in its own millimetres from the lower left corner without tabs.
    pub(super) fn items(&self) -> Vec<Item> {
        let [width, height] = self.sides.map(Length::as_mm);
        let corners: [Point; 4] = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
        let out: [Point; 4] = [[0.0, -1.0], [1.0, 0.0], [0.0, 1.0], [-1.0, 0.0]];
        let mut edge = Vec::new();
        let mut items = Vec::new();
        for side in 0..4 {
            let (from, to) = (corners[side], corners[(side + 1) % 4]);
            edge.push(from);
            let deep = self.tabs[side];
            if deep <= 0.0 {
                continue;
            }
            let long = libm::hypot(to[0] - from[0], to[1] - from[1]);
            let slope = (deep * 0.5).min(long / 4.0);
            let at = |along: f64| -> Point {
                [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) / long * along + out[side][axis] * deep)
            };
            edge.extend([at(slope), at(long - slope)]);
            items.push(Item::line(from, to, FOLD));
        }
        items.push(Item::path(Path::through(edge, true), CUT));
        items.extend(self.marks.iter().cloned());
        items
    }

    /// How many lines are drawn on it.
    #[cfg(test)]
    pub(crate) fn marks_count(&self) -> usize {
        self.marks.len()
    }

    /// A plain face.
    fn new(name: impl Into<String>, sides: [Length; 2], [left, top]: [&'static str; 2]) -> Self {
        Self {
            name: name.into(),
            sides,
            left,
            top,
            says: Vec::new(),
            tabs: [0.0; 4],
            marks: Vec::new(),
        }
    }
}

/// Floor, walls and lid of a box, its brackets, and the faces of its modules where those were asked for; `None` for one that
/// is not built. Walls that are the same stand on one sheet.
pub(crate) fn faces(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Vec<FaceSheet>> {
    let assembly = drawing::assembly(evaluation, battery_box)?;
    let outside = "outside of the body before coating, full size".to_owned();
    let size = assembly.body.size();
    let [along, across, up] = Axis::ALL.map(|axis| size[axis]);
    let floor = FaceSheet {
        tabs: [TAB; 4],
        marks: marks(&assembly, Wall::Floor),
        says: vec![outside.clone(), "tabs: fold up, glue inside the walls".to_owned()],
        ..FaceSheet::new(
            "floor",
            [along, across],
            ["this side to cab", "right-hand side of the truck (seen from above)"],
        )
    };
    let side = |name: &str, wall: Wall| FaceSheet {
        marks: marks(&assembly, wall),
        says: vec![outside.clone()],
        ..FaceSheet::new(
            name,
            [along, up],
            ["this side to cab (right side of the box: turn it over)", "top"],
        )
    };
    let end = |name: &str, wall: Wall| FaceSheet {
        tabs: [0.0, TAB, 0.0, TAB],
        marks: marks(&assembly, wall),
        says: vec![outside.clone(), "tabs: fold forward, glue inside the sides".to_owned()],
        ..FaceSheet::new(name, [across, up], ["left side (front end: turn it over)", "top"])
    };
    let mut all = vec![floor];
    all.extend(pair(
        [side("left side", Wall::Left), side("right side", Wall::Right)],
        "side x 2",
    ));
    all.extend(pair(
        [end("rear end", Wall::Rear), end("front end", Wall::Front)],
        "end x 2",
    ));
    all.extend(lid(evaluation, &assembly));
    all.extend(brackets(evaluation, &assembly));
    if evaluation.sheet.dummies {
        all.extend(modules(evaluation, battery_box));
    }
    Some(all)
}

/// Two faces as one where they are the same.
fn pair([one, other]: [FaceSheet; 2], both: &str) -> Vec<FaceSheet> {
    if one.marks == other.marks {
        vec![FaceSheet {
            name: both.to_owned(),
            ..one
        }]
    } else {
        vec![one, other]
    }
}

/// From the box to a wall: along it and up it, from its lower left corner, as it is seen from the left, the rear or above.
fn on_wall(assembly: &Assembly, wall: Wall, block: &Cuboid) -> Rect {
    let (u, v) = match wall {
        Wall::Left | Wall::Right => (Axis::X, Axis::Z),
        Wall::Front | Wall::Rear => (Axis::Y, Axis::Z),
        Wall::Floor | Wall::Lid => (Axis::X, Axis::Y),
    };
    let from = assembly.body.lo();
    let at = |corner: geometry::Point| [u, v].map(|axis| (corner[axis] - from[axis]).as_mm());
    Rect::between(at(block.lo()), at(block.hi()))
}

/// The holes of a wall, with the outline of what covers them, and where brackets go on it.
fn marks(assembly: &Assembly, wall: Wall) -> Vec<Item> {
    let mut items = Vec::new();
    for opening in assembly.openings.iter().filter(|opening| opening.hole.wall == wall) {
        let place = on_wall(assembly, wall, &Cuboid::between(opening.at, opening.at));
        items.extend(hole(place.low(), opening.hole.diameter));
    }
    let (across, low) = match wall {
        Wall::Left => (Axis::Y, true),
        Wall::Right => (Axis::Y, false),
        Wall::Front => (Axis::X, true),
        Wall::Rear => (Axis::X, false),
        Wall::Floor | Wall::Lid => return items,
    };
    let body = &assembly.body;
    for item in assembly.added().iter().filter(|item| item.piece.role == Role::Bracket) {
        let is_on = if low {
            item.block.hi()[across] <= body.lo()[across]
        } else {
            item.block.lo()[across] >= body.hi()[across]
        };
        if is_on {
            items.push(Item::rect(on_wall(assembly, wall, &item.block), FOLD));
        }
    }
    items
}

/// A hole to cut out, and round it the head or nut that covers it.
fn hole(at: Point, diameter: Length) -> [Item; 2] {
    let radius = diameter.as_mm() / 2.0;
    [
        Item::circle(at, radius, CUT),
        Item::circle(at, radius * HEAD_OF_HOLE, HEAD),
    ]
}

/// The lid with its overhang: what passes an opening has to pass it too.
fn lid(evaluation: &Evaluation, assembly: &Assembly) -> Option<FaceSheet> {
    let is_lid = |role| matches!(role, Role::LidPlate | Role::PanLid);
    assembly.pieces.iter().find(|piece| is_lid(piece.role))?;
    let (lidded, body) = (&assembly.lidded, &assembly.body);
    let sides = [Axis::X, Axis::Y].map(|axis| lidded.size()[axis]);
    let from = lidded.lo();
    let at = |axis: Axis, place: Length| (place - from[axis]).as_mm();
    let inner = Rect::between(
        [at(Axis::X, body.lo()[Axis::X]), at(Axis::Y, body.lo()[Axis::Y])],
        [at(Axis::X, body.hi()[Axis::X]), at(Axis::Y, body.hi()[Axis::Y])],
    );
    let mut marks = vec![Item::rect(inner, FOLD)];
    if let Some(diameter) = assembly.hole {
        let holes = assembly.holes.iter();
        marks.extend(holes.flat_map(|&[x, y]| hole([at(Axis::X, x), at(Axis::Y, y)], diameter)));
    }
    for opening in assembly
        .openings
        .iter()
        .filter(|opening| opening.hole.wall == Wall::Lid)
    {
        let middle = [at(Axis::X, opening.at[Axis::X]), at(Axis::Y, opening.at[Axis::Y])];
        marks.extend(hole(middle, opening.hole.diameter));
    }
    let skirt = assembly
        .pieces
        .iter()
        .filter(|piece| matches!(piece.role, Role::SkirtLong | Role::SkirtShort | Role::PanLid));
    let lowest = skirt.map(|piece| piece.solid.lo()[Axis::Z]).min();
    let deep = lowest.map(|lowest| body.hi()[Axis::Z] - lowest);
    let mut says = vec![format!(
        "{} beyond the body (dashed) on each side",
        super::both(evaluation, inner_gap(lidded, body))
    )];
    if let Some(deep) = deep {
        says.push(format!(
            "tabs are the skirt, {} deep: fold down",
            super::both(evaluation, deep)
        ));
    }
    Some(FaceSheet {
        tabs: [deep.map_or(0.0, Length::as_mm); 4],
        marks,
        says,
        ..FaceSheet::new(
            "lid",
            sides,
            ["this side to cab", "right-hand side of the truck (seen from above)"],
        )
    })
}

fn inner_gap(lidded: &Cuboid, body: &Cuboid) -> Length {
    body.lo()[Axis::X] - lidded.lo()[Axis::X]
}

/// Each sort of bracket as a strip that is folded to its angle, with its holes.
fn brackets(evaluation: &Evaluation, assembly: &Assembly) -> Vec<FaceSheet> {
    let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
    let own = lines.filter(|line| {
        line.roles.contains(&Role::Bracket)
            && line.form() == Form::Angle
            && assembly.pieces.iter().any(|piece| piece.mark == line.mark)
    });
    own.map(|line| {
        let (length, leg) = (line.length.exact, line.width.exact);
        let fold = leg.as_mm();
        let mut marks = vec![Item::line([0.0, fold], [length.as_mm(), fold], FOLD)];
        let bolts = line.holes.iter().filter(|hole| hole.purpose == Purpose::MountBolt);
        // Places in a leg are told from the edge where both meet.
        marks.extend(bolts.flat_map(|bolt| hole([bolt.x.as_mm(), fold + bolt.y.as_mm()], bolt.diameter)));
        FaceSheet {
            marks,
            says: vec![
                "fold along the dashed line; the leg without holes goes on the wall, where it is dashed".to_owned(),
            ],
            ..FaceSheet::new(
                format!("bracket {} x {}", line.mark, line.quantity),
                [length, leg + leg],
                ["", ""],
            )
        }
    })
    .collect()
}

/// Three faces of each kind of module in the box.
fn modules(evaluation: &Evaluation, battery_box: &BoxResult) -> Vec<FaceSheet> {
    let mut sheets = Vec::new();
    for kind in &evaluation.kinds {
        let count: u32 = battery_box
            .modules
            .iter()
            .filter(|module| module.kind == kind.id)
            .map(|module| module.count)
            .sum();
        let Some(size) = kind.size.filter(|_| count > 0) else {
            continue;
        };
        let name = words::plain(&kind.name);
        for (face, [one, other]) in [
            ("top", [Axis::X, Axis::Y]),
            ("side", [Axis::X, Axis::Z]),
            ("end", [Axis::Y, Axis::Z]),
        ] {
            sheets.push(FaceSheet {
                says: vec![format!(
                    "dummy of a module: 2 of it for each of the {count} in this box"
                )],
                ..FaceSheet::new(format!("{name}, {face}"), [size[one], size[other]], ["", ""])
            });
        }
    }
    sheets
}
