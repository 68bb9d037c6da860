//! The allowance ledger: every millimetre between the cavity's walls along one direction through a box, listed once
//! and summed.

use geometry::{Axis, Cuboid, Face};
use tape::Length;

use super::boxes::{Allowances, BoxResult, ModuleResult};
use super::cavity::CavityResult;
use crate::assumed::Build;

/// Every millimetre along one direction through a box, from the low wall to the high wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ledger {
    /// Which direction.
    pub axis: Axis,
    /// What takes up room, in order; lengths of zero are left out. A negative one is an overlap.
    pub entries: Vec<LedgerEntry>,
    /// The sum of all entries: the cavity in this direction, up to where its walls are expected.
    pub total: Length,
}

/// What nothing asks for, in and beside a row of modules.
const FREE: &str = "room for terminals, links and cable";
const EMPTY: &str = "empty inside";

impl Ledger {
    /// What of the box's inside nothing asks for in this direction: by so much it can be smaller with the modules that it has.
    pub(crate) fn free(&self) -> Length {
        let is_free = |entry: &&LedgerEntry| [FREE, EMPTY].contains(&entry.words.as_str());
        let free: Length = self.entries.iter().filter(is_free).map(|entry| entry.length).sum();
        free.max(Length::ZERO)
    }
}

/// One line of a ledger.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LedgerEntry {
    /// What it is.
    pub words: String,
    /// How much it takes.
    pub length: Length,
}

pub(super) fn of(
    battery_box: &BoxResult,
    cavity: Option<&CavityResult>,
    build: &Build,
    allowances: &Allowances,
) -> Vec<Ledger> {
    let (Some(inside), Some(cavity), Some(coated)) = (battery_box.inside, cavity, battery_box.coated.as_ref()) else {
        return Vec::new();
    };
    let Some(space) = cavity.space else { return Vec::new() };
    let overall = battery_box.overall().unwrap_or(*coated);
    Axis::ALL
        .into_iter()
        .map(|axis| {
            let mut list = List::default();
            let (low_face, high_face) = (Face::low(axis), Face::high(axis));
            let held = [low_face, high_face].map(|face| cavity.held(face));
            list.add_at("held back for the tape", low_face, held[0]);
            list.add_at(
                "clearance for sure",
                low_face,
                overall.lo()[axis] - space.lo()[axis] - held[0],
            );
            let low = side(battery_box, low_face, inside, coated, &overall, build, allowances);
            let high = side(battery_box, high_face, inside, coated, &overall, build, allowances);
            for (words, length) in low {
                list.add(words, length);
            }
            for (words, length) in row(&battery_box.modules, axis, inside) {
                list.add(words, length);
            }
            for (words, length) in high.into_iter().rev() {
                list.add(words, length);
            }
            list.add_at(
                "clearance for sure",
                high_face,
                space.hi()[axis] - overall.hi()[axis] - held[1],
            );
            list.add_at("held back for the tape", high_face, held[1]);
            Ledger {
                axis,
                total: list.0.iter().map(|e| e.length).sum(),
                entries: list.0,
            }
        })
        .collect()
}

/// Entries of a ledger under way; lengths of zero are not listed.
#[derive(Default)]
struct List(Vec<LedgerEntry>);

impl List {
    fn add(&mut self, words: impl Into<String>, length: Length) {
        if length != Length::ZERO {
            let words = words.into();
            self.0.push(LedgerEntry { words, length });
        }
    }

    fn add_at(&mut self, what: &str, face: Face, length: Length) {
        if length != Length::ZERO {
            self.add(format!("{what} at the {}", face.name()), length);
        }
    }
}

/// From the outside of the box at `face` to its outermost module there.
fn side(
    battery_box: &BoxResult,
    face: Face,
    inside: Cuboid,
    coated: &Cuboid,
    overall: &Cuboid,
    build: &Build,
    allowances: &Allowances,
) -> Vec<(&'static str, Length)> {
    let out = |from: &Cuboid, to: &Cuboid| {
        if face.is_high() {
            to.face(face) - from.face(face)
        } else {
            from.face(face) - to.face(face)
        }
    };
    let rim = match face {
        Face::Top => "screw heads",
        Face::Bottom if build.under_floor > Length::ZERO => "rails under the floor",
        Face::Bottom if build.rivet().is_some() => "rivets under the floor",
        _ => "flange or cap beyond the body",
    };
    let hanging = if face == Face::Bottom {
        battery_box.hanging()
    } else {
        Length::ZERO
    };
    let mut entries = vec![
        ("brackets below the floor", hanging),
        (rim, out(coated, overall) - hanging),
        ("coating", allowances.coating),
    ];
    match face {
        Face::Top => {
            let above_rim = battery_box.built.as_ref().map_or(Length::ZERO, |b| b.above_rim);
            entries.push(("lid", build.lid.min(above_rim)));
            entries.push(("gasket, squeezed", above_rim - build.lid.min(above_rim)));
        }
        Face::Bottom => {
            entries.extend(build.frame_layers());
            entries.push(("floor", build.floor));
        }
        _ => {
            entries.extend(build.frame_layers());
            entries.push(("wall", build.wall));
        }
    }
    entries.push(("liner", allowances.liner[face]));
    let Some(modules) = battery_box.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b)) else {
        return entries;
    };
    let more = battery_box.drawn.map_or(Length::ZERO, |drawn| out(&drawn, coated));
    let as_built = if more.is_negative() {
        "as built, smaller than drawn"
    } else {
        "as built, larger than drawn"
    };
    entries.push((as_built, more));
    let mut free = out(&modules, &inside) - more;
    let mut take = |words: &'static str, most: Length| {
        let taken = most.min(free);
        free -= taken;
        entries.push((words, taken));
    };
    if battery_box.bay == Some(face) {
        take("bay for fuse, contactor and cable", allowances.bay);
    }
    match face {
        Face::Top => take("hold-down bars and lid stiffeners", allowances.over),
        Face::Bottom => take("standoffs", allowances.under),
        _ => {}
    }
    let lost = lost(battery_box, face);
    let [welds, rounding] = lost;
    take("may go: welds that draw in", welds);
    take("may go: sizes rounded down", rounding);
    let left = allowances.fit[face] - lost.into_iter().sum();
    take("fitting room", left.max(Length::ZERO));
    if face.axis() != Axis::Z {
        take("off the weld bead or bend in the corners", allowances.corner);
    }
    entries.push((FREE, free));
    entries
}

/// What welds and rounding may take at a face: half at each end of a level axis, all of it under the lid; nothing where
/// the box was taped as built.
fn lost(battery_box: &BoxResult, face: Face) -> [Length; 2] {
    let axis = face.axis().index();
    let losses = battery_box.losses;
    if battery_box.drawn.is_some() {
        return [Length::ZERO; 2];
    }
    [losses.welds[axis], losses.rounding[axis]].map(|most| match face {
        Face::Top => most,
        Face::Bottom => Length::ZERO,
        _ if face.is_high() => most - most.half_down(),
        _ => most.half_down(),
    })
}

/// The modules and gaps along one row through the box, from the lowest module on.
fn row(modules: &[ModuleResult], axis: Axis, inside: Cuboid) -> Vec<(String, Length)> {
    let Some(first) = modules.iter().min_by_key(|m| (m.cuboid.lo()[axis], m.id)) else {
        return vec![(EMPTY.to_owned(), inside.size()[axis])];
    };
    let end = modules
        .iter()
        .map(|m| m.cuboid.hi()[axis])
        .max()
        .unwrap_or(first.cuboid.hi()[axis]);
    let others: Vec<Axis> = Axis::ALL.into_iter().filter(|&a| a != axis).collect();
    let mut line: Vec<&ModuleResult> = modules
        .iter()
        .filter(|m| {
            others
                .iter()
                .all(|&a| first.cuboid.gap_along(&m.cuboid, a) < Length::ZERO)
        })
        .collect();
    line.sort_by_key(|m| (m.cuboid.lo()[axis], m.id));
    let (mut count, mut solid, mut reached) = (0_i64, Length::ZERO, first.cuboid.lo()[axis]);
    let mut gaps = Length::ZERO;
    for module in line {
        // One that stands over another takes no further room in this row.
        if module.cuboid.lo()[axis] < reached {
            continue;
        }
        gaps += module.cuboid.lo()[axis] - reached;
        solid += module.cuboid.size()[axis];
        reached = module.cuboid.hi()[axis];
        count += 1;
    }
    let what = if first.count > 1 { "stack" } else { "module" };
    let plural = if count == 1 { "" } else { "s" };
    vec![
        (format!("{count} {what}{plural} in a row"), solid),
        ("gaps between them".to_owned(), gaps),
        ("beyond the row".to_owned(), end - reached),
    ]
}
