//! The floors and walls of the body, with what stands on them and how their tabs are folded.

use drawing::Assembly;
use enclosure::{Role, Wall};
use geometry::{Axis, Cuboid};
use plot::{Item, Rect};
use tape::Length;

use super::sheet::{FOLD, FaceSheet, Lacks};
use super::{FLOOR, hole};

/// How deep a tab for glue is.
const TAB: f64 = 20.0;
const OUTSIDE: &str = "outside of the body before coating, full size";
/// A floor is drawn as seen from above.
const UPWARD: &str = "the print faces up, into the box";
const INSIDE: &str = "tabs: fold up, towards the print, glue inside the walls";
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
pub(super) fn square(assembly: &Assembly) -> Vec<FaceSheet> {
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
pub(super) fn stepped(assembly: &Assembly, step: &Cuboid) -> Vec<FaceSheet> {
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
