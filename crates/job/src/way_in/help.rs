//! What single change would make a way. Each is told only when a way was found with the thing really changed.

use super::look::Meter;
use super::scene::{Ground, Scene, Start, Trust};
use super::search::{self, Look};
use super::{HELP_EACH, Help, Known, Off, Question, What, in_place, lid, smaller, wider};

/// With its lid on and all else off that can be put on afterwards.
pub(super) const CLOSED: Off = Off {
    fittings: true,
    lid: false,
    brackets: true,
};

/// Changes for a box that does not go with these others in their places, in so many steps at most: how the bed stands, things
/// taken out, the truck, then sizes, the smallest first.
pub(super) fn of(question: &Question, at: usize, others: &[usize], work: u64, meter: &mut Meter<'_>) -> Vec<Help> {
    let scene = Scene::of(question, at, others);
    meter.stage(work, HELP_EACH, |meter| {
        let mut help = Vec::new();
        help.extend(other_bed(question, at, others, meter));
        help.extend(lid_on(&scene, meter));
        help.extend(taken_out(question, &scene, meter));
        help.extend(sizes(question, &scene, meter));
        if help.is_empty() {
            help.extend(together(question, &scene, meter));
        }
        help
    })
}

/// How the bed may stand instead, where it goes then.
fn other_bed(question: &Question, at: usize, others: &[usize], meter: &mut Meter<'_>) -> Vec<Help> {
    let told = question.other_beds.iter().filter_map(|other| {
        let scene = Scene::of(other, at, others);
        let way = search::some_way(&scene, meter)?;
        Some(Help::Bed {
            bed: other.bed,
            then: way.then(),
        })
    });
    told.collect()
}

/// Sizes that would do: of an opening, under the truck, of the box.
fn sizes(question: &Question, scene: &Scene<'_>, meter: &mut Meter<'_>) -> Vec<Help> {
    let mut sizes = wider::of(scene, question.style, meter);
    sizes.extend(raised(scene, meter));
    sizes.extend(smaller::of(scene, question.style, meter));
    sizes
}

/// Why its lid keeps it out, where it goes straight in without it.
fn lid_on(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Option<Help> {
    let open = Off { lid: true, ..CLOSED };
    Look::new(scene, Trust::Expected, open).straight_or_slid()?;
    if let Some(why) = scene.moved.lid_stays.clone() {
        return Some(Help::LidOn { why });
    }
    if lid::goes_on(scene, open, meter).is_ok() {
        return None;
    }
    let barred = in_place::lid_barred(scene).map(|barred| Help::LidBarred { barred });
    barred.or_else(|| {
        let why = "it does not go over the box there".to_owned();
        Some(Help::LidOn { why })
    })
}

/// Things any one of which, taken out, leaves a way. Walls stay.
fn taken_out(question: &Question, scene: &Scene<'_>, meter: &mut Meter<'_>) -> Vec<Help> {
    let met = met(question, scene);
    let without = met.into_iter().filter_map(|(name, what)| {
        let mut without = scene.clone();
        without.things.retain(|thing| thing.what != what);
        let way = search::some_way(&without, meter)?;
        Some(Help::TakeOut {
            name,
            what,
            then: way.then(),
        })
    });
    without.collect()
}

/// What can be taken out of all that a box meets by any of its openings. The bed is laid down, tilted or taken off as a whole,
/// and a lip is cut back.
fn met(question: &Question, scene: &Scene<'_>) -> Vec<(String, What)> {
    let look = Look::new(scene, Trust::Expected, CLOSED);
    let faces = scene.moved.through.iter();
    let stops = faces.flat_map(|&through| look.tried(through, Known::Steps).stops);
    let mut met: Vec<(String, What)> = Vec::new();
    for stop in stops {
        let name = match stop.what {
            What::Wall(_) | What::Ground | What::Bed(_) | What::Lip(..) => continue,
            What::Box(id) => question.boxes.iter().find(|b| b.id == id).map(|b| b.name.clone()),
            What::KeepOut(_) => None,
        };
        if met.iter().all(|(_, what)| *what != stop.what) {
            met.push((name.unwrap_or(stop.name), stop.what));
        }
    }
    met
}

/// All that it meets taken out, behind it what it meets then, too; and the first change of a size that makes a way
/// then, where that alone does not.
fn together(question: &Question, scene: &Scene<'_>, meter: &mut Meter<'_>) -> Option<Help> {
    let mut without = scene.clone();
    let mut out: Vec<(String, What)> = Vec::new();
    loop {
        let more = met(question, &without);
        if more.is_empty() {
            break;
        }
        without
            .things
            .retain(|thing| more.iter().all(|(_, what)| *what != thing.what));
        out.extend(more);
    }
    if out.is_empty() {
        return None;
    }
    if let Some(way) = search::some_way(&without, meter) {
        let (and, then) = (None, way.then());
        return Some(Help::Together { out, and, then });
    }
    let and = sizes(question, &without, meter).into_iter().next()?;
    let then = and.then()?;
    let and = Some(Box::new(and));
    Some(Help::Together { out, and, then })
}

/// By how much the truck has to stand higher for the box on its jack, where it goes in then.
fn raised(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Option<Help> {
    let ground = scene.ground?;
    let solids = scene.solids(CLOSED);
    let faces = scene.moved.through.iter();
    let short = faces.filter_map(|&through| match scene.start(&solids, through, Trust::Expected) {
        Start::NoRoom(by) => Some(by),
        Start::From(_) => None,
    });
    let by = short.min()?;
    let higher = Scene {
        ground: Some(Ground {
            at: ground.at - by,
            ..ground
        }),
        ..scene.clone()
    };
    let way = search::some_way(&higher, meter)?;
    Some(Help::Raise { by, then: way.then() })
}
