//! What is round a box while it moves.

use geometry::{Axis, Cuboid, Face, Faces};
use tape::Length;

use super::{Moved, Off, Part, Question, Thing, Way, What};

/// Which of the two spaces of each thing counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Trust {
    /// What it may take for sure.
    Sure,
    /// What it takes as taped.
    Expected,
}

impl Trust {
    pub(super) const fn of(self, thing: &Thing) -> Cuboid {
        match self {
            Self::Sure => thing.sure,
            Self::Expected => thing.expected,
        }
    }
}

/// A box, what is round it, and where it may start.
#[derive(Clone, Debug)]
pub(super) struct Scene<'a> {
    pub(super) moved: &'a Moved,
    pub(super) things: Vec<Thing>,
    pub(super) ground: Option<Ground>,
    pub(super) pitch_deg: f64,
}

/// The ground under the truck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ground {
    pub(super) at: Length,
    pub(super) jack: Length,
}

/// How far off what it has to pass a box starts, where there is room: touching from the start, a way would have no margin.
pub(super) const OFF: Length = Length::mm(50);

/// How a box starts from outside a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Start {
    /// So far off its place.
    From(Length),
    /// The ground leaves too little room under the truck, by so much.
    NoRoom(Length),
}

impl<'a> Scene<'a> {
    /// With these other boxes in their places.
    pub(super) fn of(question: &'a Question, moved: usize, others: &[usize]) -> Self {
        let moved = &question.boxes[moved];
        let mut things = moved.walls.clone();
        let here = question.things.iter().filter(|(world, _)| *world == moved.world);
        things.extend(here.map(|(_, thing)| thing.clone()));
        for other in others.iter().map(|&other| &question.boxes[other]) {
            if other.world != moved.world || other.id == moved.id {
                continue;
            }
            let named = |part: &Part| Thing::of_box(format!("{}, {}", other.name, part.name), other.id, part.solid);
            things.extend(other.parts.iter().map(named));
        }
        Self {
            moved,
            things,
            ground: (moved.world == 0).then_some(Ground {
                at: question.ground,
                jack: question.jack,
            }),
            pitch_deg: question.pitch_deg,
        }
    }

    pub(super) fn solids(&self, off: Off) -> Vec<Cuboid> {
        self.moved.parts.iter().filter_map(|part| part.with(off)).collect()
    }

    pub(super) fn obstacles(&self, trust: Trust) -> Vec<Cuboid> {
        self.things.iter().map(|thing| trust.of(thing)).collect()
    }

    /// How far a box still has to go out through a face to be outside, and past everything that is level with it there.
    pub(super) fn to_go(&self, hull: &Cuboid, through: Face, trust: Trust) -> Length {
        let is_behind = |thing: &&Thing| !is_over(thing, through) && is_in_column(hull, thing, through, trust);
        self.past(hull, through, trust, self.things.iter().filter(is_behind))
    }

    /// The same, and past everything that is round it, level with it or not.
    pub(super) fn past_all(&self, hull: &Cuboid, through: Face, trust: Trust) -> Length {
        let all = self.things.iter().filter(|thing| !is_over(thing, through));
        self.past(hull, through, trust, all)
    }

    fn past<'t>(&self, hull: &Cuboid, through: Face, trust: Trust, things: impl Iterator<Item = &'t Thing>) -> Length {
        let faces = things.map(|thing| trust.of(thing).face(through));
        let own = self.moved.space.face(through);
        let axis = through.axis();
        let by = if through.is_high() {
            faces.fold(own, Length::max) - hull.lo()[axis]
        } else {
            hull.hi()[axis] - faces.fold(own, Length::min)
        };
        by.max(Length::ZERO)
    }

    /// How far off its place the box is when it is outside the face, and past everything that is level with it there.
    pub(super) fn start(&self, solids: &[Cuboid], through: Face, trust: Trust) -> Start {
        let hull = Cuboid::hull_of(solids).unwrap_or_default();
        let from = self.to_go(&hull, through, trust);
        let room = match (through, self.ground) {
            (Face::Bottom, Some(ground)) => hull.face(Face::Bottom) - from - ground.at - ground.jack,
            _ => OFF,
        };
        if room.is_negative() {
            Start::NoRoom(-room)
        } else {
            Start::From(from + room.min(OFF))
        }
    }
}

/// The raised bed is over a box that comes from above where it starts, not behind it.
fn is_over(thing: &Thing, through: Face) -> bool {
    through == Face::Top && matches!(thing.what, What::Bed(_))
}

/// The block round a box all along a way, with so much room round it; `None` of a box without solids.
pub(super) fn swept(moved: &Moved, way: &Way, room: Length) -> Option<Cuboid> {
    let solids: Vec<Cuboid> = moved.parts.iter().filter_map(|part| part.with(way.off)).collect();
    let hull = Cuboid::hull_of(&solids)?;
    // However it is turned, it stays within this of its middle.
    let half = |axis: Axis| hull.size()[axis].half_down() + Length::from_nm(1);
    let radius: Length = Axis::ALL.into_iter().map(half).sum();
    let is_turned = way.steps.iter().any(|step| step.turn_deg.abs() > 0.0);
    let mut by = Faces::all(room);
    for face in Face::ALL.into_iter().filter(|_| is_turned) {
        by[face] += radius - half(face.axis());
    }
    let poses: Vec<Cuboid> = way.steps.iter().map(|step| hull.moved(step.by)).collect();
    Cuboid::hull_of(&poses)?.grown(by)
}

/// Whether a thing is level with the box, seen along the travel.
fn is_in_column(hull: &Cuboid, thing: &Thing, through: Face, trust: Trust) -> bool {
    let mut others = Axis::ALL.into_iter().filter(|&a| a != through.axis());
    let solid = trust.of(thing);
    others.all(|axis| hull.gap_along(&solid, axis).is_negative())
}
