//! The faces that the cardboard mock-up of a box is made of, in full size.

mod body;
mod sheet;

use drawing::Assembly;
use enclosure::{Form, Purpose, Role, Wall};
use geometry::{Axis, Cuboid};
use job::{BoxResult, Evaluation};
use plot::{Ink, Item, Layer, Line, Pen, Point, Rect};
use tape::Length;

use crate::words;
use body::{square, stepped};
pub(crate) use sheet::FaceSheet;
use sheet::{CUT, FOLD, INSET};

const HEAD: Ink = Ink::new(Pen::new(0.25, Line::Continuous), Layer::new("HEADS"));
/// Across a screw head or washer, for its hole: common practice, no source.
const HEAD_OF_HOLE: f64 = 2.0;
const FLOOR: [&str; 2] = ["this side to cab", "right-hand side of the truck (seen from above)"];

/// Floor, walls and lid of a box, its brackets, and the faces of its modules where those were asked for; `None` for one that
/// is not built. Walls that are the same stand on one sheet.
pub(crate) fn faces(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Vec<FaceSheet>> {
    let assembly = drawing::assembly(evaluation, battery_box)?;
    let mut all = match assembly.step {
        Some(step) => stepped(&assembly, &step),
        None => square(&assembly),
    };
    all.extend(lid(evaluation, &assembly));
    all.extend(brackets(evaluation, &assembly));
    if evaluation.sheet.dummies {
        all.extend(modules(evaluation, battery_box));
    }
    Some(all)
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
    assembly.pieces.iter().find(|piece| piece.role.is_lid_plate())?;
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
    let deep = assembly.skirt_depth();
    let mut says = vec![
        "the print faces up, out of the box".to_owned(),
        format!(
            "{} beyond the body (dashed) on each side",
            crate::words::both(evaluation, inner_gap(lidded, body))
        ),
    ];
    if let Some(deep) = deep {
        says.push(format!(
            "tabs are the skirt, {} deep: fold down, away from the print",
            crate::words::both(evaluation, deep)
        ));
    }
    Some(FaceSheet {
        // Inside the row of holes.
        inset: inner_gap(lidded, body).as_mm() + INSET,
        tabs: [deep.map_or(0.0, Length::as_mm); 4],
        marks,
        says,
        ..FaceSheet::new("lid", sides, FLOOR)
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
