//! Boxes that go in with their lid off, and the lid after them.

use geometry::{Axis, Cuboid, Faces};
use tape::Length;

use super::look::Meter;
use super::scene::Scene;
use super::search;
use super::{Known, Loose, Moved, Off, Part, Thing};

/// What may be off a box: nothing first, then each choice that its parts allow, the most last.
pub(super) fn choices(scene: &Scene<'_>) -> (Off, Vec<Off>) {
    let moved = scene.moved;
    let has = |loose| moved.parts.iter().any(|part| part.loose == Some(loose));
    let (fittings, brackets) = (has(Loose::Fitting), has(Loose::Bracket));
    let lid = moved.lid_stays.is_none() && moved.has_lid();
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
///
/// # Errors
///
/// What is known where it does not.
pub(super) fn goes_on(scene: &Scene<'_>, off: Off, meter: &mut Meter<'_>) -> Result<(), Known> {
    let lid = of(scene.moved);
    if lid.parts.is_empty() {
        return Ok(());
    }
    let found = search::way(&around(scene, &lid, off), meter);
    found
        .map(|_| ())
        .map_err(|tried| Known::all(tried.iter().map(|tried| tried.known)))
}

/// The lid by itself, with the open box among what is round it.
pub(super) fn around<'a>(scene: &Scene<'_>, lid: &'a Moved, off: Off) -> Scene<'a> {
    let own = scene
        .moved
        .parts
        .iter()
        .filter_map(|part| Some((part, part.with(off)?)));
    // What goes round the body goes round the skirt of its cap, too.
    let solids = |(part, solid): (&Part, Cuboid)| {
        let all = if part.own.is_empty() {
            vec![solid]
        } else {
            part.own.clone()
        };
        let name = format!("{}, {}", scene.moved.name, part.name);
        all.into_iter().map(move |solid| (name.clone(), solid))
    };
    let id = scene.moved.id;
    let own = own.flat_map(solids).map(|(name, solid)| Thing::of_box(name, id, solid));
    Scene {
        moved: lid,
        things: scene.things.iter().cloned().chain(own).collect(),
        ground: scene.ground,
        pitch_deg: scene.pitch_deg,
    }
}

/// The lid of a box as a thing to be brought in.
pub(super) fn of(moved: &Moved) -> Moved {
    let over = |part: &Part| -> Vec<Cuboid> {
        let Some(open) = part.open else {
            let block = part.own.is_empty().then_some(part.solid);
            return block.into_iter().chain(part.own.iter().copied()).collect();
        };
        let mut low = part.solid.lo();
        low[Axis::Z] = open.hi()[Axis::Z];
        let above = (low[Axis::Z] < part.solid.hi()[Axis::Z]).then(|| Cuboid::between(low, part.solid.hi()));
        above.into_iter().collect()
    };
    let part = |solid| Part {
        name: "lid".to_owned(),
        solid,
        open: Some(solid),
        loose: None,
        own: Vec::new(),
    };
    let own = moved.parts.iter().filter(|part| part.loose != Some(Loose::Clamp));
    Moved {
        parts: own.flat_map(over).map(part).collect(),
        ..moved.clone()
    }
}

/// The steel of a cap of this sheet: its plate, which lies on the rim, and its skirts, which hang round the body.
pub(super) fn cap(band: &Cuboid, rim: Length, sheet: Length) -> Vec<Cuboid> {
    let mut plate = band.lo();
    plate[Axis::Z] = rim;
    let inner = band.grown(Faces::floor_walls_top(Length::ZERO, -sheet, Length::ZERO));
    let skirts = inner.map_or_else(Vec::new, |inner| ring(band, &inner));
    [Cuboid::between(plate, band.hi())].into_iter().chain(skirts).collect()
}

/// What of a block is level round another one: four walls as high as the block, fewer where they are flush.
pub(super) fn ring(block: &Cuboid, round: &Cuboid) -> Vec<Cuboid> {
    let mut left = *block;
    let mut walls = Vec::new();
    for axis in [Axis::Y, Axis::X] {
        let (mut lo, mut hi) = (left.lo(), left.hi());
        if lo[axis] < round.lo()[axis] {
            let mut end = left.hi();
            end[axis] = round.lo()[axis];
            walls.push(Cuboid::between(lo, end));
            lo[axis] = round.lo()[axis];
        }
        if hi[axis] > round.hi()[axis] {
            let mut start = left.lo();
            start[axis] = round.hi()[axis];
            walls.push(Cuboid::between(start, left.hi()));
            hi[axis] = round.hi()[axis];
        }
        left = Cuboid::between(lo, hi);
    }
    walls
}
