//! A narrowed opening made larger, and by how little that has to be.

use geometry::{Axis, Cuboid, Face};
use tape::Length;
use tape::show::Style;

use super::help::CLOSED;
use super::look::Meter;
use super::scene::{Scene, Trust};
use super::search::{self, Look};
use super::{Help, Thing, What};

/// The search for a pitched way halves so often, with so many steps for one question.
const HALVINGS: u32 = 6;
const EACH: u64 = 2_000_000;

/// By how much the lip at each end of an opening is cut back.
type Back = Vec<(Face, Length)>;

/// For each narrowed opening that it may come in by: how its lips are cut back for a way, where that alone does.
pub(super) fn of(scene: &Scene<'_>, style: Style, meter: &mut Meter<'_>) -> Vec<Help> {
    let openings = scene.moved.through.iter();
    openings
        .filter_map(|&through| wider(scene, through, style, meter))
        .collect()
}

fn wider(scene: &Scene<'_>, through: Face, style: Style, meter: &mut Meter<'_>) -> Option<Help> {
    let straight = in_the_way(scene, through);
    // A share of that may do, slid or pitched.
    let part = |share: f64| -> Back {
        let by = |by: Length| Length::from_mm_up(by.as_mm() * share).min(by);
        straight.iter().map(|&(end, back)| (end, by(back))).collect()
    };
    if straight.is_empty() || search::simple(&cut_back(scene, through, &straight)).is_none() {
        return None;
    }
    let (mut low, mut high) = (0.0, 1.0);
    let mut halve = |times: u32, goes: &mut dyn FnMut(&Scene<'_>) -> bool| {
        for _ in 0..times {
            let middle = f64::midpoint(low, high);
            if goes(&cut_back(scene, through, &part(middle))) {
                high = middle;
            } else {
                low = middle;
            }
        }
        low = 0.0;
        high
    };
    let simple = halve(40, &mut |scene| search::simple(scene).is_some());
    let pitched = meter.stage(meter.left() / 2, EACH, |meter| {
        halve(HALVINGS, &mut |scene| {
            Look::new(scene, Trust::Expected, CLOSED)
                .pitched(through, meter)
                .is_ok()
        })
    });
    [pitched, simple].into_iter().find_map(|share| {
        let told = part(share)
            .into_iter()
            .map(|(end, by)| (end, by.round_up_to(style.step())))
            .collect();
        let wide = cut_back(scene, through, &told);
        let way = search::some_way(&wide, meter)?;
        let across = Axis::ALL.into_iter().filter(|&axis| axis != through.axis());
        let sizes = across.map(|axis| (axis, clear(scene, through, axis), clear(&wide, through, axis)));
        Some(Help::Wider {
            opening: through,
            lips: told,
            sizes: sizes.filter(|(_, is, needs)| is != needs).collect(),
            then: way.then(),
        })
    })
}

/// Each lip that a straight way meets, with how far the box reaches over it.
fn in_the_way(scene: &Scene<'_>, through: Face) -> Back {
    let hull = Cuboid::hull_of(&scene.solids(CLOSED)).unwrap_or_default();
    let lips = scene.things.iter().filter_map(|thing| match thing.what {
        What::Lip(of, end) if of == through => Some((end, over(&hull, thing, end))),
        _ => None,
    });
    lips.filter(|(_, by)| *by > Length::ZERO).collect()
}

/// How far a box reaches over a lip.
fn over(hull: &Cuboid, lip: &Thing, end: Face) -> Length {
    let edge = Trust::Expected.of(lip).face(end.opposite());
    if end.is_high() {
        hull.face(end) - edge
    } else {
        edge - hull.face(end)
    }
}

/// The scene with lips of an opening cut back.
fn cut_back<'a>(scene: &Scene<'a>, through: Face, back: &Back) -> Scene<'a> {
    let mut wide = scene.clone();
    for &(end, by) in back {
        let axis = end.axis();
        let cut = |solid: Cuboid| {
            let (mut from, mut to) = (solid.lo(), solid.hi());
            if end.is_high() {
                from[axis] += by;
            } else {
                to[axis] -= by;
            }
            (from[axis] < to[axis]).then(|| Cuboid::between(from, to))
        };
        wide.things.retain_mut(|thing| {
            if thing.what != What::Lip(through, end) {
                return true;
            }
            let left = (cut(thing.expected), cut(thing.sure));
            let is_left = left.0.is_some() || left.1.is_some();
            // What is gone as taped may be there by the tape's uncertainty.
            if let Some(sure) = left.1.or(left.0) {
                (thing.expected, thing.sure) = (left.0.unwrap_or(sure), sure);
            }
            is_left
        });
    }
    wide
}

/// The clear size of an opening along an axis, as taped.
fn clear(scene: &Scene<'_>, through: Face, axis: Axis) -> Length {
    let edge = |end: Face| {
        let is = |thing: &&Thing| thing.what == What::Lip(through, end);
        let lip = scene.things.iter().find(is);
        lip.map_or(scene.moved.space.face(end), |lip| lip.expected.face(end.opposite()))
    };
    edge(Face::high(axis)) - edge(Face::low(axis))
}
