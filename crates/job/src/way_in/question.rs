//! From a job and its evaluation to the question.

use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use super::lid;
use super::{Loose, Moved, Part, Question, Thing, What, bed, loading};
use crate::evaluate::wall_name;
use crate::field::{self, WayField};
use crate::{
    BedName, BoxResult, CapHeldName, Cavity, CavityResult, Closing, Evaluation, Field, Id, Job, Len, Opening, State,
    assumed,
};

/// How thick a closed face is taken: nothing goes round it.
const WALL: Length = Length::mm(3_000);
/// How thick the lip of a narrowed opening is taken: what its sheet may be.
const LIP: Length = Length::mm(3);
/// What toggle clamps on the walls are called.
const CLAMPS: &str = "toggle clamps";

/// Everything that is asked of a job.
pub fn question(job: &Job, evaluation: &Evaluation) -> Question {
    let bed = assumed::handling(&job.way_in, evaluation.units).bed;
    let others = BedName::ALL.iter().copied().filter(|&other| other != bed);
    let (known, unknown): (Vec<BedName>, _) = others.partition(|&other| bed::standing(job, other).is_ok());
    let closed = unknown.contains(&BedName::On);
    Question {
        other_beds: known
            .into_iter()
            .map(|other| with_bed(job, evaluation, other))
            .collect(),
        closed_above: closed.then(|| Box::new(with_bed(job, evaluation, BedName::On))),
        ..with_bed(job, evaluation, bed)
    }
}

/// The same with the bed as it may stand.
fn with_bed(job: &Job, evaluation: &Evaluation, bed: BedName) -> Question {
    let handling = assumed::handling(&job.way_in, evaluation.units);
    let mut asked = Question {
        style: evaluation.style(),
        bed,
        bed_names: job.way_in.bed_parts.iter().map(|part| part.name.clone()).collect(),
        bed_outlines: bed::outlines(job, bed),
        other_beds: Vec::new(),
        closed_above: None,
        assumed: assumed_words(job),
        not_looked_at: Vec::new(),
        boxes: Vec::new(),
        left_out: Vec::new(),
        things: Vec::new(),
        ground: -handling.raised,
        jack: handling.jack,
        pitch_deg: f64::from(handling.pitch_deg),
        loading: Vec::new(),
    };
    for (index, (told, cavity)) in job.cavities.iter().zip(&evaluation.cavities).enumerate() {
        let (world, at) = world(index, told);
        let counts = cavity.keep_outs.iter().filter(|k| k.counts);
        asked.things.extend(counts.map(|k| {
            let thing = Thing {
                name: k.name.clone(),
                what: What::KeepOut(k.id),
                expected: k.cuboid.moved(at),
                sure: k.sure.moved(at),
            };
            (world, thing)
        }));
        for unplaced in &cavity.unplaced {
            asked.not_looked_at.push(format!("{}: {}", unplaced.name, unplaced.why));
        }
    }
    bed::put(job, bed, &mut asked);
    for battery_box in &evaluation.boxes {
        let found = job.cavities.iter().zip(&evaluation.cavities).enumerate();
        let mut found = found.filter(|(_, (told, _))| told.id == battery_box.cavity);
        let moved = match found.next() {
            Some((index, (told, cavity))) => moved(job, evaluation, battery_box, (index, told, cavity), bed),
            None => Err("it stands in no cavity".to_owned()),
        };
        match moved {
            Ok(moved) => {
                if moved.world > 0 {
                    let bed = if handling.bed == BedName::Off {
                        ""
                    } else {
                        " and the bed at"
                    };
                    asked.not_looked_at.push(format!(
                        "the ground under{bed} {}: its cavity has no place in the truck",
                        moved.name
                    ));
                }
                asked
                    .loading
                    .push(loading::Open::of(job, battery_box, evaluation, handling.hand));
                asked.boxes.push(moved);
            }
            Err(why) => asked.left_out.push((battery_box.name.clone(), why)),
        }
    }
    asked
}

/// The world of a cavity, and the step from its frame to that.
pub(super) fn world(index: usize, told: &Cavity) -> (usize, Point) {
    match &told.place {
        Some(place) => (0, Point(place.each_ref().map(Len::value))),
        None => (index + 1, Point::ZERO),
    }
}

fn moved(
    job: &Job,
    evaluation: &Evaluation,
    battery_box: &BoxResult,
    (index, told, cavity): (usize, &Cavity, &CavityResult),
    bed: BedName,
) -> Result<Moved, String> {
    let Some(space) = cavity.space else {
        return Err(format!("{} has no space yet: tape it first", cavity.name));
    };
    if let Some(fault) = &battery_box.fault {
        return Err(fault.words(job.units.units()));
    }
    if battery_box.solids.is_empty() {
        return Err("it is empty and wraps nothing: put modules in it".to_owned());
    }
    let (world, at) = world(index, told);
    let (through, walls) = faces(told, cavity, space, at, bed);
    Ok(Moved {
        id: battery_box.id,
        name: battery_box.name.clone(),
        cavity: cavity.id,
        world,
        from_cavity: at,
        parts: parts(job, battery_box, at),
        lid_stays: lid_stays(battery_box, space, through.contains(&Face::Top), evaluation.style()),
        space: space.moved(at),
        through,
        in_the_middle: told
            .openings
            .iter()
            .filter(|o| o.at.is_none())
            .map(|o| o.face.face())
            .filter(|face| {
                walls
                    .iter()
                    .any(|wall| matches!(wall.what, What::Lip(of, _) if of == *face))
            })
            .collect(),
        walls,
        free: Axis::ALL.map(|axis| {
            let along = battery_box.ledgers.iter().find(|ledger| ledger.axis == axis);
            along.map_or(Length::ZERO, crate::Ledger::free)
        }),
        bay: battery_box.bay.map(|face| (face, assumed::build(&job.design).bay)),
        mass_g: battery_box.mass.total_g(),
        empty_g: battery_box.mass.empty_g(),
    })
}

/// The solids of a box by name: body first, then what stands out round its rim and over its lid, fittings, brackets.
fn parts(job: &Job, battery_box: &BoxResult, at: Point) -> Vec<Part> {
    let capped = job.design.closed_by() == Closing::Cap;
    let held = match job.design.cap_held_by() {
        CapHeldName::Toggles => CLAMPS,
        CapHeldName::Screws | CapHeldName::Nothing => "screw heads",
    };
    let sheet = assumed::build(&job.design).lid;
    let bodies = 1 + usize::from(battery_box.step.is_some());
    let first = battery_box.solids.first();
    let top = first.map_or(Length::ZERO, |body| body.face(Face::Top));
    let floor = battery_box
        .body
        .zip(battery_box.built.as_ref())
        .map(|(body, built)| body.face(Face::Bottom) + built.under);
    // Coated like the rest of the body, and without what lies on the rim.
    let rim = battery_box
        .body
        .zip(battery_box.built.as_ref())
        .map_or(top, |(body, built)| top - built.above_rim.min(body.size()[Axis::Z]));
    let outside: Vec<_> = battery_box
        .fittings
        .iter()
        .filter_map(|f| Some((f, f.outside?)))
        .collect();
    let own = battery_box
        .solids
        .iter()
        .filter(|solid| !outside.iter().any(|(_, space)| space == *solid));
    let solid = |(i, solid): (usize, &Cuboid)| {
        let name = match i {
            0 => "body",
            _ if i < bodies => "body over the step",
            _ if solid.face(Face::Bottom) >= top => "stiffeners of the lid",
            _ if floor.is_some_and(|floor| solid.face(Face::Top) <= floor) => "rails under the floor",
            _ if capped && i == bodies => "cap",
            _ if capped => held,
            _ if solid.face(Face::Top) > top => "screw heads",
            _ => "flange",
        };
        // The screws of a cap come out with it; clamps stay on the walls.
        let is_of_cap = name == "cap" || (capped && name == "screw heads");
        let is_clamp = capped && name == CLAMPS;
        let is_of_lid = is_of_cap || solid.face(Face::Bottom) >= rim;
        // What holds a cap is beside its skirt.
        let skirt = capped.then(|| battery_box.solids.get(bodies)).flatten();
        let own = match (name, skirt) {
            ("cap", _) => lid::cap(solid, rim, sheet),
            ("screw heads" | CLAMPS, Some(skirt)) => lid::ring(solid, skirt),
            _ => Vec::new(),
        };
        Part {
            name: name.to_owned(),
            solid: solid.moved(at),
            open: (!is_of_lid).then(|| below(solid, rim).moved(at)),
            loose: is_clamp.then_some(Loose::Clamp),
            own: own.iter().map(|solid| solid.moved(at)).collect(),
        }
    };
    let loose = |name: &str, space: &Cuboid, loose| {
        let solid = space.moved(at);
        Part {
            name: name.to_owned(),
            solid,
            open: Some(solid),
            loose,
            own: Vec::new(),
        }
    };
    let mut parts: Vec<Part> = own.enumerate().map(solid).collect();
    parts.extend(outside.into_iter().map(|(fitting, space)| {
        // A lifting eye is what it hangs from; a stud stays in.
        let comes_off = !matches!(
            fitting.what,
            crate::FittingName::LiftingEye | crate::FittingName::EarthStud
        );
        loose(&fitting.label, &space, comes_off.then_some(Loose::Fitting))
    }));
    let brackets = battery_box.added.brackets.iter();
    parts.extend(brackets.map(|space| loose("brackets", space, Some(Loose::Bracket))));
    parts
}

/// What of a solid is below a height.
fn below(solid: &Cuboid, height: Length) -> Cuboid {
    let mut high = solid.hi();
    high[Axis::Z] = high[Axis::Z].min(height);
    Cuboid::between(solid.lo(), high)
}

/// Why its lid cannot be fastened in its place; `None` when it can. What holds a cap is got at from beside; that the cap has
/// to go up by its skirt is looked at with the way of the lid.
fn lid_stays(battery_box: &BoxResult, space: Cuboid, is_open_above: bool, style: tape::show::Style) -> Option<String> {
    let reach = battery_box.reach.as_ref()?;
    if let Some((name, count)) = reach.over.first() {
        return Some(format!(
            "there is no room for {} {count} of its {} (in the way: {name})",
            reach.tool, reach.what
        ));
    }
    let top = battery_box.solids.iter().map(|solid| solid.face(Face::Top)).max()?;
    let room = space.face(Face::Top) - top;
    (reach.from_above && !is_open_above && room < crate::LidReach::tool()).then(|| {
        format!(
            "a spanner needs {} over its screws, and there is {}",
            style.up(crate::LidReach::tool()),
            style.down(room.max(Length::ZERO))
        )
    })
}

/// The open faces of a cavity in the order they were entered, and everything that closes or narrows others.
fn faces(told: &Cavity, cavity: &CavityResult, space: Cuboid, at: Point, bed: BedName) -> (Vec<Face>, Vec<Thing>) {
    let entered: Vec<(Face, Option<Clear>)> = told.openings.iter().map(|o| (o.face.face(), Clear::of(o))).collect();
    let entered = if entered.is_empty() {
        vec![(assumed::OPENING, None)]
    } else {
        entered
    };
    let usable = cavity.usable.unwrap_or(space);
    let mut walls = Vec::new();
    let mut through = Vec::new();
    for face in Face::ALL {
        let opening = entered.iter().find(|(open, _)| *open == face);
        let under_the_bed = face == Face::Top && bed == BedName::On;
        let mut wall = |name: String, what, expected: Cuboid, sure: Cuboid| {
            walls.push(Thing {
                name,
                what,
                expected: expected.moved(at),
                sure: sure.moved(at),
            });
        };
        match opening {
            Some((_, clear)) if !under_the_bed => {
                if let Some(clear) = clear {
                    for (end, expected, sure) in clear.lips(&space, &usable, face) {
                        let name = format!("{} lip of the {} opening", end.name(), face.name());
                        wall(name, What::Lip(face, end), expected, sure);
                    }
                }
            }
            _ => {
                let name = if opening.is_some() { "bed" } else { wall_name(face) };
                wall(
                    name.to_owned(),
                    What::Wall(face),
                    beyond(&space, face, WALL),
                    beyond(&usable, face, WALL),
                );
            }
        }
    }
    for (face, _) in &entered {
        if !(through.contains(face) || *face == Face::Top && bed == BedName::On) {
            through.push(*face);
        }
    }
    (through, walls)
}

/// The slab straight beyond a face.
fn beyond(space: &Cuboid, face: Face, deep: Length) -> Cuboid {
    let mut grown = Faces::all(Length::ZERO);
    grown[face] = deep;
    grown[face.opposite()] = -space.size()[face.axis()];
    space.grown(grown).unwrap_or(*space)
}

/// An opening that is smaller than its face.
struct Clear {
    size: [Length; 2],
    /// From the low edges of the face; in its middle while nobody entered it.
    at: Option<[Length; 2]>,
}

impl Clear {
    fn of(opening: &Opening) -> Option<Self> {
        let two = |told: &[Len; 2]| told.each_ref().map(Len::value);
        Some(Self {
            size: two(opening.clear.as_ref()?),
            at: opening.at.as_ref().map(two),
        })
    }

    /// What it leaves closed of its face, by the end that it is at: as taped, and what it may be by the uncertainty of the tape.
    fn lips(&self, space: &Cuboid, usable: &Cuboid, face: Face) -> Vec<(Face, Cuboid, Cuboid)> {
        let (plane, sure) = (beyond(space, face, LIP), beyond(usable, face, LIP));
        let across = Axis::ALL.into_iter().filter(|&axis| axis != face.axis());
        let mut lips = Vec::new();
        for (k, axis) in across.enumerate() {
            let size = self.size[k];
            let span = |plane: &Cuboid| [plane.lo()[axis], plane.hi()[axis]];
            let middle = |[low, high]: [Length; 2]| {
                let each = (high - low - size).max(Length::ZERO).half_down();
                [low + each, high - each]
            };
            let ([low, high], [sure_low, sure_high]) = (span(&plane), span(&sure));
            let (edges, sure_edges) = match self.at {
                None => (middle([low, high]), middle([sure_low, sure_high])),
                // The edge that it is measured from may be off to either side.
                Some(at) => {
                    let (edge, off) = (low + at[k], sure_low - low);
                    ([edge, edge + size], [edge + off, edge + size - off])
                }
            };
            for end in [Face::low(axis), Face::high(axis)] {
                let cut = |plane: &Cuboid, edges: [Length; 2]| {
                    let (mut from, mut to) = (plane.lo(), plane.hi());
                    if end.is_high() {
                        from[axis] = from[axis].max(edges[1]);
                    } else {
                        to[axis] = to[axis].min(edges[0]);
                    }
                    (from[axis] < to[axis]).then(|| Cuboid::between(from, to))
                };
                let expected = cut(&plane, edges);
                lips.extend(expected.map(|lip| (end, lip, cut(&sure, sure_edges).map_or(lip, |sure| sure.hull(&lip)))));
            }
        }
        lips
    }
}

/// What of it nobody entered.
fn assumed_words(job: &Job) -> Vec<String> {
    let mut fields = vec![
        Field::Way(WayField::Raised),
        Field::Way(WayField::Jack),
        Field::Way(WayField::Pitch),
    ];
    let top = crate::FaceName::Top;
    let opens_above = |c: &Cavity| c.openings.iter().any(|o| o.face == top);
    if job.cavities.iter().any(opens_above) || !job.way_in.bed_parts.is_empty() {
        fields.insert(0, Field::Way(WayField::Bed));
    }
    let mut words: Vec<String> = field::show(job, &fields)
        .into_iter()
        .filter(|(_, shown)| shown.state == State::Assumed)
        .map(|(_, shown)| format!("{} {}", shown.label, shown.text))
        .collect();
    let used = |id: Id| job.boxes.iter().any(|b| b.cavity == id);
    let bare = job.cavities.iter().filter(|c| c.openings.is_empty() && used(c.id));
    words.extend(bare.map(|c| format!("{}: open at the {} alone", c.name, assumed::OPENING.name())));
    let narrowed = job.cavities.iter().filter(|c| used(c.id)).flat_map(|c| {
        let in_the_middle = c.openings.iter().filter(|o| o.clear.is_some() && o.at.is_none());
        in_the_middle.map(move |o| {
            format!(
                "{}: the {} opening in the middle of its face",
                c.name,
                o.face.face().name()
            )
        })
    });
    words.extend(narrowed);
    words
}
