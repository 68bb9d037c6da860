//! The faces that the cardboard mock-up of a box is made of, in full size.

use drawing::Assembly;
use enclosure::{Form, Purpose, Role, Wall};
use geometry::{Axis, Cuboid};
use job::{BoxResult, Evaluation};
use plot::{Ink, Item, Layer, Line, Path, Pen, Point, Rect};
use tape::Length;

use crate::words;

/// From an edge to what is written along it.
const INSET: f64 = 7.0;
/// How deep a tab for glue is.
const TAB: f64 = 20.0;
const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
/// Folds, and what stands on the face.
const FOLD: Ink = Ink::new(Pen::new(0.35, Line::Dashed), Layer::new("FOLD"));
const HEAD: Ink = Ink::new(Pen::new(0.25, Line::Continuous), Layer::new("HEADS"));
/// Across a screw head or washer, for its hole: common practice, no source.
const HEAD_OF_HOLE: f64 = 2.0;

/// One face.
#[derive(Clone)]
pub(crate) struct FaceSheet {
    /// Its name, with how many are alike.
    pub(crate) name: String,
    /// Level and upright size, without tabs.
    pub(crate) sides: [Length; 2],
    /// What is written along its left edge.
    pub(super) left: &'static str,
    /// What is written along its upper edge.
    pub(super) top: &'static str,
    /// How far inside its edges these stand.
    pub(super) inset: f64,
    /// What is said of it besides its size.
    pub(crate) says: Vec<String>,
    /// How deep the tabs at its lower, right, upper and left edge are; 0 for none.
    tabs: [f64; 4],
    /// The lower corner that it lacks beside a step.
    lacks: Option<Lacks>,
    /// What is drawn on it.
    marks: Vec<Item>,
}

/// A rectangle that a lower corner lacks.
#[derive(Clone, Copy)]
struct Lacks {
    /// Whether it is the right corner.
    right: bool,
    /// Level and upright size.
    sides: [Length; 2],
}

impl FaceSheet {
    /// Where there is room to write on it, in its own millimetres: beside or over the corner that it lacks, whichever is more.
    pub(super) fn room(&self) -> Rect {
        let [width, height] = self.sides.map(Length::as_mm);
        let whole = Rect::new(0.0, 0.0, width, height);
        let Some(lacks) = self.lacks else { return whole };
        let [run, rise] = lacks.sides.map(Length::as_mm);
        let over = Rect {
            y: rise,
            height: height - rise,
            ..whole
        };
        let beside = Rect {
            x: if lacks.right { 0.0 } else { run },
            width: width - run,
            ..whole
        };
        if over.width * over.height > beside.width * beside.height {
            over
        } else {
            beside
        }
    }

    /// The rectangle that a lower corner lacks, level and upright.
    pub(super) fn lacking(&self) -> Option<[Length; 2]> {
        self.lacks.map(|lacks| lacks.sides)
    }

    /// Its corners against the clock from the lower left, each with the depth of the tab on the edge that follows.
    fn corners(&self) -> Vec<(Point, f64)> {
        let [width, height] = self.sides.map(Length::as_mm);
        let [lower, right, upper, left] = self.tabs;
        let top = [([width, height], upper), ([0.0, height], left)];
        // Along a corner that is lacking others have the tabs.
        let bottom = match self.lacks.map(|lacks| (lacks.right, lacks.sides.map(Length::as_mm))) {
            None => return [vec![([0.0, 0.0], lower), ([width, 0.0], right)], top.to_vec()].concat(),
            Some((true, [run, rise])) => {
                let inner = width - run;
                let step = [([inner, 0.0], 0.0), ([inner, rise], 0.0), ([width, rise], right)];
                return [vec![([0.0, 0.0], lower)], step.to_vec(), top.to_vec()].concat();
            }
            Some((false, [run, rise])) => [
                ([run, 0.0], lower),
                ([width, 0.0], right),
                top[0],
                top[1],
                ([0.0, rise], 0.0),
                ([run, rise], 0.0),
            ],
        };
        bottom.to_vec()
    }

    /// Its edge with the tabs, its folds, and what is on it, in its own millimetres from the lower left corner without tabs.
    pub(super) fn items(&self) -> Vec<Item> {
        let corners = self.corners();
        let mut edge = Vec::new();
        let mut items = Vec::new();
        for (index, &(from, deep)) in corners.iter().enumerate() {
            let (to, _) = corners[(index + 1) % corners.len()];
            edge.push(from);
            if deep <= 0.0 {
                continue;
            }
            let long = libm::hypot(to[0] - from[0], to[1] - from[1]);
            let slope = (deep * 0.5).min(long / 4.0);
            let along: Point = [0, 1].map(|axis| (to[axis] - from[axis]) / long);
            let out = [along[1], -along[0]];
            let at = |far: f64| -> Point { [0, 1].map(|axis| from[axis] + along[axis] * far + out[axis] * deep) };
            edge.extend([at(slope), at(long - slope)]);
            items.push(Item::line(from, to, FOLD));
        }
        items.push(Item::path(Path::through(edge, true), CUT));
        items.extend(self.marks.iter().cloned());
        items
    }

    /// Where holes and what stands on the face are.
    pub(crate) fn mark_bounds(&self) -> Vec<Rect> {
        self.marks.iter().filter_map(Item::bounds).collect()
    }

    /// The middles of the circles that are cut in it.
    #[cfg(test)]
    pub(crate) fn holes(&self) -> Vec<Point> {
        let cut = |item: &Item| match item {
            Item::Circle { centre, ink, .. } if *ink == CUT => Some(*centre),
            _ => None,
        };
        self.marks.iter().filter_map(cut).collect()
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
            inset: INSET,
            says: Vec::new(),
            tabs: [0.0; 4],
            lacks: None,
            marks: Vec::new(),
        }
    }
}

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

const OUTSIDE: &str = "outside of the body before coating, full size";
/// A floor is drawn as seen from above.
const UPWARD: &str = "the print faces up, into the box";
const INSIDE: &str = "tabs: fold up, towards the print, glue inside the walls";
const FLOOR: [&str; 2] = ["this side to cab", "right-hand side of the truck (seen from above)"];
const SIDE: [&str; 2] = ["this side to cab", "top"];
const END: [&str; 2] = ["left-hand side of the truck", "top"];
const ALL_ROUND: [f64; 4] = [TAB; 4];
const AT_ENDS: [f64; 4] = [0.0, TAB, 0.0, TAB];

/// A side, drawn as seen from the left of the truck whichever it is: so the print of the right one faces into the box.
fn flank(wall: Wall, name: &str, sides: [Length; 2]) -> FaceSheet {
    let faces = if wall == Wall::Left { "out of" } else { "into" };
    FaceSheet {
        says: vec![format!(
            "seen from the left of the truck: the print faces {faces} the box"
        )],
        ..FaceSheet::new(name, sides, SIDE)
    }
}

/// An end, drawn as seen from the rear of the truck whichever it is. Its tabs go to the inside of the box: at the front end that
/// is the side of the print.
fn end(wall: Wall, name: &str, sides: [Length; 2]) -> FaceSheet {
    let (faces, fold) = if wall == Wall::Rear {
        ("out of", "forward, away from the print")
    } else {
        ("into", "rearward, towards the print")
    };
    FaceSheet {
        tabs: AT_ENDS,
        says: vec![
            format!("seen from the rear of the truck: the print faces {faces} the box"),
            format!("tabs: fold {fold}, glue inside the sides"),
        ],
        ..FaceSheet::new(name, sides, END)
    }
}

/// Two sides on one sheet.
fn both_sides(sides: [FaceSheet; 2]) -> Vec<FaceSheet> {
    let says = [
        OUTSIDE,
        "seen from the left of the truck: as left side the print faces out of the box,",
        "as right side into it",
    ];
    pair(sides, "side x 2", &says)
}

/// Two ends on one sheet.
fn both_ends(ends: [FaceSheet; 2]) -> Vec<FaceSheet> {
    let says = [
        OUTSIDE,
        "seen from the rear of the truck: as rear end the print faces out of the box,",
        "as front end into it",
        "tabs of the rear end: fold forward, away from the print; of the front end: rearward,",
        "towards the print; glue them inside the sides",
    ];
    pair(ends, "end x 2", &says)
}

/// The body of a box without a step.
fn square(assembly: &Assembly) -> Vec<FaceSheet> {
    let outer = assembly.body.size();
    let [along, across, up] = Axis::ALL.map(|axis| outer[axis]);
    let floor = FaceSheet {
        tabs: ALL_ROUND,
        says: [UPWARD, INSIDE].map(str::to_owned).to_vec(),
        ..FaceSheet::new("floor", [along, across], FLOOR)
    };
    let on = |face: FaceSheet, wall| of_body(assembly, wall, geometry::Point::ZERO, face);
    let side = |wall, name: &str| on(flank(wall, name, [along, up]), wall);
    let end = |wall, name: &str| on(end(wall, name, [across, up]), wall);
    [
        vec![on(floor, Wall::Floor)],
        both_sides([side(Wall::Left, "left side"), side(Wall::Right, "right side")]),
        both_ends([end(Wall::Rear, "rear end"), end(Wall::Front, "front end")]),
    ]
    .concat()
}

/// The body of a box with a step: both floors, the riser, the two walls beside the step, the wall at it and the one across
/// from it.
fn stepped(assembly: &Assembly, step: &Cuboid) -> Vec<FaceSheet> {
    let (body, axis) = (&assembly.body, assembly.step_axis);
    let outer = body.size();
    let [along, across, up] = Axis::ALL.map(|axis| outer[axis]);
    let (run, rise) = (step.size()[axis], step.size()[Axis::Z]);
    let right = step.lo()[axis] > body.lo()[axis];
    let lacks = Some(Lacks {
        right,
        sides: [run, rise],
    });
    let of_floor = |name, run| {
        let sides = if axis == Axis::X { [run, across] } else { [along, run] };
        FaceSheet::new(name, sides, FLOOR)
    };
    // Where the deep and the raised floor begin.
    let from = |length: Length| {
        let mut corner = geometry::Point::ZERO;
        corner[axis] = length;
        corner
    };
    let (deep, raised) = if right {
        (from(Length::ZERO), from(outer[axis] - run))
    } else {
        (from(run), from(Length::ZERO))
    };
    // The riser has the tab between it and the raised floor.
    let bare = match (axis == Axis::X, right) {
        (true, true) => 3,
        (true, false) => 1,
        (false, true) => 0,
        (false, false) => 2,
    };
    let mut tabs = ALL_ROUND;
    tabs[bare] = 0.0;
    let deep_floor = FaceSheet {
        tabs: ALL_ROUND,
        says: vec![
            UPWARD.to_owned(),
            "tabs: fold up, towards the print, glue inside the walls and to the riser".to_owned(),
        ],
        ..of_floor("deep floor", outer[axis] - run)
    };
    let raised_floor = FaceSheet {
        tabs,
        says: [UPWARD, INSIDE].map(str::to_owned).to_vec(),
        ..of_floor("raised floor", run)
    };
    let over = geometry::Point([Length::ZERO, Length::ZERO, rise]);
    let on = |face: FaceSheet, wall, from| of_body(assembly, wall, from, face);
    let floors = [on(deep_floor, Wall::Floor, deep), on(raised_floor, Wall::Floor, raised)];
    let whole = |face: FaceSheet, wall| on(face, wall, geometry::Point::ZERO);
    let beside = |face: FaceSheet, wall| whole(FaceSheet { lacks, ..face }, wall);
    let at_the_step = |low: Wall, high: Wall| if right { [high, low] } else { [low, high] };
    let (walls, wide) = if axis == Axis::X {
        let [at, across_from] = at_the_step(Wall::Front, Wall::Rear);
        let side = |wall, name: &str| beside(flank(wall, name, [along, up]), wall);
        let [near, far] = [at, across_from].map(|wall| if wall == Wall::Rear { "rear end" } else { "front end" });
        let ends = vec![
            on(end(at, &format!("{near}, at the step"), [across, up - rise]), at, over),
            whole(
                end(across_from, &format!("{far}, across from the step"), [across, up]),
                across_from,
            ),
        ];
        let sides = [side(Wall::Left, "left side"), side(Wall::Right, "right side")];
        ([both_sides(sides), ends], across)
    } else {
        let [at, across_from] = at_the_step(Wall::Left, Wall::Right);
        let end = |wall, name: &str| beside(end(wall, name, [across, up]), wall);
        let [near, far] = [at, across_from].map(|wall| if wall == Wall::Left { "left side" } else { "right side" });
        let sides = vec![
            on(flank(at, &format!("{near}, at the step"), [along, up - rise]), at, over),
            whole(
                flank(across_from, &format!("{far}, across from the step"), [along, up]),
                across_from,
            ),
        ];
        let ends = [end(Wall::Rear, "rear end"), end(Wall::Front, "front end")];
        ([both_ends(ends), sides], along)
    };
    let riser = whole(riser([wide, rise], axis, right), Wall::Riser);
    [floors.to_vec(), vec![riser], walls.concat()].concat()
}

/// The riser of a step that runs in along an axis, from the right of what is seen or from the left. Its print faces the rear or
/// the left. The upper tab goes under the step's own end of the box, on the raised floor; those at its ends the other way, where
/// the walls reach down to the deep floor.
fn riser(sides: [Length; 2], axis: Axis, right: bool) -> FaceSheet {
    let (from, left, low, high) = if axis == Axis::X {
        ("rear", END[0], "forward", "rearward")
    } else {
        ("left", SIDE[0], "to the left", "to the right")
    };
    let [to_the_step, to_the_deep] = if right { [high, low] } else { [low, high] };
    // Its print faces the rear or the left: the high end of x, the low end of y.
    let to_the_print = if axis == Axis::X { high } else { low };
    let fold = |way: &str| {
        let print = if way == to_the_print { "towards" } else { "away from" };
        format!("{way}, {print} the print")
    };
    let faces = if to_the_deep == to_the_print { "into" } else { "out of" };
    FaceSheet {
        tabs: [0.0, TAB, TAB, TAB],
        says: vec![
            format!("seen from the {from} of the truck: the print faces {faces} the deep part of the box"),
            format!("upper tab: fold {}, glue it on the raised floor", fold(to_the_step)),
            format!(
                "tabs at its ends: fold {}, glue them inside the walls",
                fold(to_the_deep)
            ),
        ],
        ..FaceSheet::new("riser", sides, [left, "top"])
    }
}

/// A face of the body that begins at a corner of it: with the holes and brackets that are on it.
fn of_body(assembly: &Assembly, wall: Wall, from: geometry::Point, face: FaceSheet) -> FaceSheet {
    let outside = std::iter::once(OUTSIDE.to_owned());
    FaceSheet {
        marks: marks(assembly, wall, from, face.sides),
        says: outside.chain(face.says).collect(),
        ..face
    }
}

/// Two faces as one where they are the same, with words for both.
fn pair([one, other]: [FaceSheet; 2], both: &str, says: &[&str]) -> Vec<FaceSheet> {
    if one.marks == other.marks {
        vec![FaceSheet {
            name: both.to_owned(),
            says: says.iter().map(|&words| words.to_owned()).collect(),
            ..one
        }]
    } else {
        vec![one, other]
    }
}

/// From the box to a wall that begins at a corner: along it and up it, from its lower left corner, as it is seen from the
/// left, the rear or above. A riser stands across the axis that its step runs in along.
fn on_wall(from: geometry::Point, wall: Wall, step_axis: Axis, block: &Cuboid) -> Rect {
    let (u, v) = match wall {
        Wall::Front | Wall::Rear => (Axis::Y, Axis::Z),
        Wall::Riser if step_axis == Axis::X => (Axis::Y, Axis::Z),
        Wall::Left | Wall::Right | Wall::Riser => (Axis::X, Axis::Z),
        Wall::Floor | Wall::Lid => (Axis::X, Axis::Y),
    };
    let at = |corner: geometry::Point| [u, v].map(|axis| (corner[axis] - from[axis]).as_mm());
    Rect::between(at(block.lo()), at(block.hi()))
}

/// The holes of a face of a wall, with the outline of what covers them, and where brackets go on it.
fn marks(assembly: &Assembly, wall: Wall, from: geometry::Point, sides: [Length; 2]) -> Vec<Item> {
    let mut items = Vec::new();
    let from = assembly.body.lo() + from;
    let [width, height] = sides.map(Length::as_mm);
    for opening in assembly.openings.iter().filter(|opening| opening.hole.wall == wall) {
        let at = on_wall(from, wall, assembly.step_axis, &Cuboid::between(opening.at, opening.at)).low();
        if (0.0..=width).contains(&at[0]) && (0.0..=height).contains(&at[1]) {
            items.extend(hole(at, opening.hole.diameter));
        }
    }
    let (across, low) = match wall {
        Wall::Left => (Axis::Y, true),
        Wall::Right => (Axis::Y, false),
        Wall::Front => (Axis::X, true),
        Wall::Rear => (Axis::X, false),
        Wall::Floor | Wall::Lid | Wall::Riser => return items,
    };
    let body = &assembly.body;
    for item in assembly.added().iter().filter(|item| item.piece.role == Role::Bracket) {
        let is_on = if low {
            item.block.hi()[across] <= body.lo()[across]
        } else {
            item.block.lo()[across] >= body.hi()[across]
        };
        if is_on {
            items.push(Item::rect(on_wall(from, wall, assembly.step_axis, &item.block), FOLD));
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
