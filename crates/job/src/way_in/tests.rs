//! Cases worked by hand, and what holds of the built-in jobs.

mod bed;
mod fixes;
mod jobs;
mod level;
mod lids;
mod loading;
mod motions;
mod service;

use geometry::{Axis, Cuboid, Face, Faces, Point, Size};
use rstest::rstest;
use tape::Length;
use tape::show::{Fraction, Style};

use super::*;
use crate::{BedEdit, EXAMPLES, Edit, Evaluation, Field, Id, Job, WayField, evaluate, load};

fn block(lo: [i64; 3], hi: [i64; 3]) -> Cuboid {
    Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))
}

/// The hollow of every case: 1000 long, 500 wide, 300 high, with its floor 400 over the ground.
fn hollow() -> Cuboid {
    block([0, 0, 0], [1000, 500, 300])
}

fn thing(id: u32, lo: [i64; 3], hi: [i64; 3]) -> (usize, Thing) {
    let solid = block(lo, hi);
    let thing = Thing {
        name: format!("thing {id}"),
        what: What::KeepOut(Id(id)),
        expected: solid,
        sure: solid,
    };
    (0, thing)
}

/// The closed faces of a space, each a slab beyond it.
fn walls(space: &Cuboid, through: &[Face], thick: Length) -> Vec<Thing> {
    let closed = Face::ALL.into_iter().filter(|face| !through.contains(face));
    let wall = |face: Face| {
        let mut grown = Faces::all(Length::ZERO);
        grown[face] = thick;
        grown[face.opposite()] = -space.size()[face.axis()];
        let solid = space.grown(grown).unwrap();
        Thing {
            name: format!("{} wall", face.name()),
            what: What::Wall(face),
            expected: solid,
            sure: solid,
        }
    };
    closed.map(wall).collect()
}

/// A box in the hollow, open at these faces alone.
fn moved(id: u32, solids: &[Cuboid], through: &[Face]) -> Moved {
    let part = |(i, &solid): (usize, &Cuboid)| Part {
        name: ["body", "flange", "cable gland"][i].to_owned(),
        solid,
        open: Some(solid),
        loose: None,
        own: Vec::new(),
    };
    Moved {
        id: Id(id),
        name: format!("box {id}"),
        cavity: Id(1),
        world: 0,
        from_cavity: Point::ZERO,
        parts: solids.iter().enumerate().map(part).collect(),
        lid_stays: None,
        space: hollow(),
        through: through.to_vec(),
        walls: walls(&hollow(), through, Length::mm(2000)),
        in_the_middle: Vec::new(),
        free: [Length::mm(100); 3],
        bay: None,
        mass_g: 60_000,
        empty_g: 12_000,
    }
}

fn asked(boxes: Vec<Moved>, things: Vec<(usize, Thing)>) -> Question {
    Question {
        style: Style {
            units: tape::Units::Millimetre,
            fraction: Fraction::Sixteenth,
        },
        bed: crate::BedName::Off,
        bed_names: Vec::new(),
        bed_outlines: Vec::new(),
        other_beds: Vec::new(),
        closed_above: None,
        assumed: Vec::new(),
        not_looked_at: Vec::new(),
        loading: Vec::new(),
        left_out: Vec::new(),
        boxes,
        things,
        ground: Length::mm(-400),
        jack: Length::mm(100),
        pitch_deg: 20.0,
    }
}

fn worked_out(boxes: Vec<Moved>, things: Vec<(usize, Thing)>) -> WaysIn {
    answer(asked(boxes, things), WORK, &mut |_| true)
}

/// 600 long, 460 wide, 200 high, 20 from both side walls and 100 under the roof at most.
fn body() -> Cuboid {
    block([100, 20, 50], [700, 480, 250])
}

fn built_in(name: &str) -> (Job, Evaluation) {
    let example = EXAMPLES.iter().find(|e| e.name == name).unwrap();
    let job = load(example.text.as_bytes()).unwrap();
    let evaluation = evaluate(&job);
    (job, evaluation)
}

fn set(job: &Job, field: WayField, text: &str) -> Job {
    let field = Field::Way(field);
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).unwrap()
}

/// A box 120 high on the floor of the hollow, its lid the uppermost 10, with two modules 90 high that stand 10 over its
/// underside: lifted, each needs 90 and a hand of 20 over the rim at 110. Open at the bottom and these sides.
fn loaded(sides: &[Face]) -> (Moved, crate::way_in::loading::Open) {
    let mut through = vec![Face::Bottom];
    through.extend(sides);
    let mut low = moved(1, &[block([100, 20, 0], [700, 480, 120])], &through);
    low.parts[0].open = Some(block([100, 20, 0], [700, 480, 110]));
    let lifted = |id: u32, x: i64| crate::way_in::loading::Lifted {
        id: Id(id),
        label: format!("M{id}"),
        units: Vec::new(),
        mass_g: Some(18_000),
        solid: block([x, 40, 10], [x + 200, 240, 100]),
        room: vec![],
    };
    let open = crate::way_in::loading::Open {
        id: Id(1),
        name: "box 1".to_owned(),
        modules: vec![lifted(2, 120), lifted(3, 400)],
        fixed: Vec::new(),
        bars: Vec::new(),
        lift: Length::mm(100),
        hand: Length::mm(20),
    };
    (low, open)
}

fn with_modules(sides: &[Face], things: Vec<(usize, Thing)>) -> WaysIn {
    let (low, open) = loaded(sides);
    let mut question = asked(vec![low], things);
    question.loading = vec![open];
    answer(question, WORK, &mut |_| true)
}

fn bars(ways: &WaysIn, filled: Filled) -> Vec<(&str, &Bar)> {
    let state = ways.states[0].iter().find(|state| state.filled == filled);
    let barred = &state.expect("it is told of").barred;
    barred.iter().map(|b| (b.part.as_str(), &b.bar)).collect()
}

/// The job built in with its first cavity closed at the bottom: that cavity, all of the box in it, and its space.
fn closed_below() -> (Job, Id, Cuboid, Cuboid) {
    let (job, evaluation) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let side = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let hull = Cuboid::hull_of(&evaluation.boxes[0].solids).expect("it is built");
    let space = evaluation
        .cavity(cavity)
        .expect("it is there")
        .space
        .expect("it is taped");
    (side, cavity, hull, space)
}

/// A job open at the rear alone, with a bed whose tail hangs behind the box, level with it, and whose floor is over all.
fn under_a_bed(bed: &str) -> Job {
    let (job, evaluation) = built_in("orchard-flatbed");
    let cavity = job.cavities[0].id;
    let at = Point(
        job.cavities[0]
            .place
            .as_ref()
            .unwrap()
            .each_ref()
            .map(crate::Len::value),
    );
    let mut job = job;
    job.cavities[0].keep_outs.clear();
    let job = set(&job, WayField::Opening(cavity, Face::Rear), "open");
    let job = set(&job, WayField::Opening(cavity, Face::Left), "closed");
    let mut job = set(&job, WayField::Opening(cavity, Face::Bottom), "closed");
    let body = evaluation.boxes[0].solids[0].moved(at);
    let space = evaluation.cavity(cavity).unwrap().space.unwrap().moved(at);
    let text = |length: Length| format!("{} mm", length.as_mm());
    let parts = [
        (
            "bed floor",
            body.face(Face::Front),
            space.face(Face::Rear) + Length::mm(300),
            150,
            190,
        ),
        (
            "tail",
            space.face(Face::Rear) + Length::mm(200),
            space.face(Face::Rear) + Length::mm(300),
            -100,
            150,
        ),
    ];
    for (n, (name, from, to, low, high)) in parts.into_iter().enumerate() {
        job = job.with(&Edit::Bed(BedEdit::Add)).unwrap();
        let top = body.face(Face::Top);
        job = set(&job, WayField::PartName(n), name);
        // The rear first: the front may not be behind it.
        job = set(&job, WayField::PartTo(n), &text(to));
        job = set(&job, WayField::PartFrom(n), &text(from));
        job = set(&job, WayField::PartHighest(n), &text(top + Length::mm(high)));
        job = set(&job, WayField::PartLowest(n), &text(top + Length::mm(low)));
    }
    // Its hinge is over the tail: tilted by 60 degrees the tail is turned forward and up.
    job = set(&job, WayField::HingeX, &text(space.face(Face::Rear) + Length::mm(250)));
    job = set(&job, WayField::HingeZ, &text(body.face(Face::Top) + Length::mm(170)));
    job = set(&job, WayField::Tilt, "60");
    set(&job, WayField::Bed, bed)
}
