//! Whether a box can be opened, emptied and loaded where it stands: its lid lifted off, each module lifted over the rim and
//! out by the top or an open side.

use geometry::way_in::straight::{Straight, straight};
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use super::loading::{Lifted, Open};
use super::look::Meter;
use super::scene::{Scene, Start, Trust};
use super::search::Look;
use super::{Moved, lid, search};

/// What keeps the lid or a module from coming off a box where it stands, or from going in there: the way in is the way out
/// reversed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Barred {
    /// What does not move: `the lid`, `M14`.
    pub part: String,
    /// What bars it.
    pub bar: Bar,
}

/// What bars it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Bar {
    /// Something over it is too low.
    Low {
        /// What it is called.
        by: String,
        /// The room it needs: a module its height and a hand over the rim, a lid its own height over its top.
        needs: Length,
        /// The room there is.
        has: Length,
    },
    /// It comes off, and meets something on its way out.
    OnTheWay {
        /// The side it would leave by.
        through: Face,
        /// What it is called.
        by: String,
        /// The smallest sideways step that clears it.
        overlap: (Axis, Length),
    },
    /// It comes off, and neither the top nor a side of the cavity is open.
    Closed,
    /// Its screws or clamps cannot be reached.
    Screws {
        /// Why not.
        why: String,
    },
}

/// A lid or a module on its way.
struct Thing {
    part: String,
    /// Its solids where they are, in the frame of the vehicle.
    solids: Vec<Cuboid>,
    /// How far up it is free of the box.
    lift: Length,
    /// Room for the hand over it.
    hand: Length,
    /// The room told of begins so far over its top: at the rim, that is below it.
    from: Length,
}

/// Steps for the way of a lid or a module: some 50 000 places.
const LID_WORK: u64 = 2_500_000;

impl Thing {
    /// Its solids when it is free of the box, with the room for the hand over each.
    fn raised(&self) -> Vec<Cuboid> {
        let up = Point::along(Axis::Z, self.lift);
        let mut hand = Faces::all(Length::ZERO);
        hand[Face::Top] = self.hand;
        let solids = self.solids.iter().map(|solid| solid.moved(up));
        solids.map(|solid| solid.grown(hand).unwrap_or(solid)).collect()
    }
}

/// What bars the lid; `None` when it lifts off and leaves, or can be brought in and out level.
pub(super) fn lid_barred(scene: &Scene<'_>) -> Option<Barred> {
    let part = "the lid".to_owned();
    if let Some(why) = &scene.moved.lid_stays {
        let bar = Bar::Screws { why: why.clone() };
        return Some(Barred { part, bar });
    }
    let own = lid::of(scene.moved);
    let barred = leaves(scene, &lid_of(&own)?)?;
    let open = super::Off {
        lid: true,
        fittings: true,
        ..super::Off::default()
    };
    let around = lid::around(scene, &own, open);
    let goes = search::simple(&around).is_some()
        || Look::new(&around, Trust::Expected, super::Off::default())
            .level(&mut Meter::new(LID_WORK, &mut |_| true))
            .is_ok();
    (!goes).then_some(barred)
}

/// The lid of a box as something lifted; `None` of a box without one.
fn lid_of(own: &Moved) -> Option<Thing> {
    let solids: Vec<Cuboid> = own.parts.iter().map(|part| part.solid).collect();
    let hull = Cuboid::hull_of(&solids)?;
    Some(Thing {
        part: "the lid".to_owned(),
        lift: hull.size()[Axis::Z],
        hand: Length::ZERO,
        from: Length::ZERO,
        solids,
    })
}

/// A module as something lifted over the rim, with a hand over it.
fn module_of(moved: &Moved, open: &Open, lifted: &Lifted) -> Thing {
    let solid = lifted.solid.moved(moved.from_cavity);
    let rim = moved.parts.first().map_or(solid.face(Face::Top), |body| {
        body.open.unwrap_or(body.solid).face(Face::Top)
    });
    Thing {
        part: lifted.label.clone(),
        lift: (rim - solid.face(Face::Bottom)).max(Length::ZERO),
        hand: open.hand,
        from: rim.max(solid.face(Face::Bottom)) - solid.face(Face::Top),
        solids: vec![solid],
    }
}

/// What bars a module of a box whose lid is off.
pub(super) fn module_barred(scene: &Scene<'_>, open: &Open, lifted: &Lifted) -> Option<Barred> {
    leaves(scene, &module_of(scene.moved, open, lifted))
}

/// What is too low over lid or module when the box stands so far off its place, where it was taken down.
pub(super) fn low_over(scene: &Scene<'_>, open: &Open, lifted: &Lifted, by: Point) -> Option<Barred> {
    let own = lid::of(scene.moved);
    let things = lid_of(&own).into_iter().chain([module_of(scene.moved, open, lifted)]);
    things.into_iter().find_map(|thing| {
        let there = Thing {
            solids: thing.solids.iter().map(|solid| solid.moved(by)).collect(),
            ..thing
        };
        Some(Barred {
            bar: too_low(scene, &there)?,
            part: there.part,
        })
    })
}

/// Straight up where the top is open, else up and out by an open side. What bars the first of these is told.
fn leaves(scene: &Scene<'_>, thing: &Thing) -> Option<Barred> {
    let barred = |bar| {
        Some(Barred {
            part: thing.part.clone(),
            bar,
        })
    };
    let low = too_low(scene, thing);
    let open = |face: &&Face| **face != Face::Bottom;
    let mut faces: Vec<Face> = scene.moved.through.iter().filter(open).copied().collect();
    // Straight up is the least work.
    faces.sort_by_key(|face| *face != Face::Top);
    if let Some(low) = low {
        return barred(low);
    }
    let mut first = None;
    for through in faces {
        match on_the_way(scene, thing, through) {
            None => return None,
            Some(bar) => first = first.or(Some(bar)),
        }
    }
    if first.is_some() && leaves_level(scene, thing) {
        return None;
    }
    barred(first.unwrap_or(Bar::Closed))
}

/// Whether it leaves level by any opening but the one below, with turns on the way, once it is free of its open box.
fn leaves_level(scene: &Scene<'_>, thing: &Thing) -> bool {
    let parts = thing.raised();
    let mut moved = scene.moved.clone();
    moved.through.retain(|face| *face != Face::Bottom);
    let open = super::Off {
        lid: true,
        ..super::Off::default()
    };
    // Past the rest of its own box, too.
    let own = scene.solids(open).into_iter();
    let own = own.filter(|solid| !parts.iter().any(|part| part.overlaps(solid)));
    let own = own.map(|solid| super::Thing::of_box(scene.moved.name.clone(), scene.moved.id, solid));
    let above = Scene {
        moved: &moved,
        things: scene.things.iter().cloned().chain(own).collect(),
        ..scene.clone()
    };
    let mut look = Look::new(&above, Trust::Expected, super::Off::default());
    look.solids = parts;
    look.level(&mut Meter::new(LID_WORK, &mut |_| true)).is_ok()
}

/// What is too low over it to free it of the box, the lowest of them.
fn too_low(scene: &Scene<'_>, thing: &Thing) -> Option<Bar> {
    let mut up = Faces::all(Length::ZERO);
    up[Face::Top] = thing.lift + thing.hand;
    let over = |obstacle: &Cuboid| {
        let met = |solid: &&Cuboid| solid.grown(up).is_some_and(|swept| swept.overlaps(obstacle));
        let room = |solid: &Cuboid| obstacle.face(Face::Bottom) - solid.face(Face::Top);
        thing.solids.iter().filter(met).map(room).min()
    };
    let rooms = scene
        .things
        .iter()
        .filter_map(|other| Some((over(&Trust::Expected.of(other))?, &other.name)));
    let (room, by) = rooms.min_by_key(|(room, _)| *room)?;
    Some(Bar::Low {
        by: by.clone(),
        needs: thing.lift + thing.hand - thing.from,
        has: (room - thing.from).max(Length::ZERO),
    })
}

/// What it meets between where it is free of the box and outside of a face.
fn on_the_way(scene: &Scene<'_>, thing: &Thing, through: Face) -> Option<Bar> {
    let parts = thing.raised();
    let Start::From(from) = scene.start(&parts, through, Trust::Expected) else {
        return None;
    };
    let obstacles = scene.obstacles(Trust::Expected);
    let way = straight(&Straight {
        parts: &parts,
        obstacles: &obstacles,
        through,
        from,
    });
    // Of what it meets, that which it meets first on its way out.
    let stop = way.stops.last()?;
    Some(Bar::OnTheWay {
        through,
        by: scene.things[stop.obstacle].name.clone(),
        overlap: stop.overlap,
    })
}
