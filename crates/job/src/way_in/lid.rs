//! Boxes that go in with their lid off, and the lid after them.

use geometry::Cuboid;

use super::look::Meter;
use super::scene::Scene;
use super::search;
use super::{Loose, Moved, Off, Part, Thing, What};

/// What may be off a box: nothing first, then each choice that its parts allow, the most last.
pub(super) fn choices(scene: &Scene<'_>) -> (Off, Vec<Off>) {
    let moved = scene.moved;
    let has = |loose| moved.parts.iter().any(|part| part.loose == Some(loose));
    let (fittings, brackets) = (has(Loose::Fitting), has(Loose::Bracket));
    let lid = moved.lid_stays.is_none() && moved.parts.iter().any(|part| part.open != Some(part.solid));
    let mut more = Vec::new();
    for (lid_off, brackets_off) in [(false, false), (true, false), (false, true), (true, true)] {
        let off = Off {
            fittings,
            lid: lid && lid_off,
            brackets: brackets && brackets_off,
        };
        if off != Off::default() && !more.contains(&off) {
            more.push(off);
        }
    }
    (Off::default(), more)
}

/// Whether the lid goes on when the box stands open in its place: brought there like a box of its own, past the box too.
pub(super) fn goes_on(scene: &Scene<'_>, off: Off, meter: &mut Meter<'_>) -> bool {
    let lid = of(scene.moved);
    lid.parts.is_empty() || search::way(&around(scene, &lid, off), meter).is_ok()
}

/// The lid by itself, with the open box among what is round it.
pub(super) fn around<'a>(scene: &Scene<'_>, lid: &'a Moved, off: Off) -> Scene<'a> {
    let own = scene
        .moved
        .parts
        .iter()
        .filter_map(|part| Some((part, part.with(off)?)));
    let own = own.map(|(part, solid)| Thing {
        name: format!("{}, {}", scene.moved.name, part.name),
        what: What::Box(scene.moved.id),
        expected: solid,
        sure: solid,
    });
    Scene {
        moved: lid,
        things: scene.things.iter().cloned().chain(own).collect(),
        ground: scene.ground,
        pitch_deg: scene.pitch_deg,
    }
}

/// The lid of a box as a thing to be brought in.
pub(super) fn of(moved: &Moved) -> Moved {
    let over = |part: &Part| -> Option<Cuboid> {
        let Some(open) = part.open else {
            return Some(part.solid);
        };
        let mut low = part.solid.lo();
        low[geometry::Axis::Z] = open.hi()[geometry::Axis::Z];
        (low[geometry::Axis::Z] < part.solid.hi()[geometry::Axis::Z]).then(|| Cuboid::between(low, part.solid.hi()))
    };
    let part = |solid| Part {
        name: "lid".to_owned(),
        solid,
        open: Some(solid),
        loose: None,
    };
    let own = moved.parts.iter().filter(|part| part.loose != Some(Loose::Clamp));
    Moved {
        parts: own.filter_map(over).map(part).collect(),
        ..moved.clone()
    }
}
