//! The bars that hold modules down: each lies on the highest of those that it crosses, and holds what it lies on.

use enclosure::added::hold_down::least_edge;
use enclosure::{Built, Role};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::super::boxes::ModuleResult;
use super::super::electric::seats;
use super::super::reach;
use super::super::strength::whole;
use super::{AddedResult, NearTheEnd, Site, places, put, ruled};
use crate::document::PlacesOf;
use crate::{Figure, PartSize, assumed};

/// The bars that hold the modules of a box down.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldDown {
    /// Bars in all.
    pub bars: u32,
    /// Mass of the modules that the bar that holds most lies on, kilograms, with what stands under those: modules under
    /// several bars are shared evenly.
    pub mass_kg: f64,
    /// From stud to stud.
    pub span: Length,
    /// Their section.
    pub bar: enclosure::added::Bar,
    /// Their thickness.
    pub thickness: Length,
    /// What they are bolted to.
    pub fixed: enclosure::added::Fixed,
    /// From a stud to the upright leg of its lug; `None` on rods.
    pub lug_lever: Option<Length>,
    /// Thread of the studs.
    pub thread: Length,
    /// Modules that no bar lies on, by name.
    pub not_held: Vec<String>,
    /// Where a bar passes over a module without touching it.
    pub lower: Vec<Lower>,
    /// Places of the bars that lie over no module.
    pub idle: Vec<Length>,
}

/// A module that ends lower than another that the same bar crosses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lower {
    /// The module.
    pub module: String,
    /// The one that the bar lies on.
    pub on: String,
    /// The middle of the bar, from the inside of the steel.
    pub bar: Length,
    /// By how much it ends lower.
    pub by: Length,
    /// The pad that fills it together with what every module has under its bar; `None` where it is too thick for one.
    pub pad: Option<Length>,
}

impl HeldDown {
    /// Says which modules no bar lies on; nothing when one lies on each.
    pub(in crate::evaluate) fn not_held_words(&self) -> String {
        if self.not_held.is_empty() {
            String::new()
        } else {
            format!("; no bar lies on {}", self.not_held.join(", "))
        }
    }
}

/// What a bar crosses: modules by their place in the list.
struct Crossed {
    /// Top of the highest of them above the floor.
    highest: Length,
    /// The highest ones, which it lies on.
    on: Vec<usize>,
    /// Those that end lower and have none over them, with how much lower.
    lower: Vec<(usize, Length)>,
}

pub(super) fn hold_down(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let Some(highest) = here.highest() else { return };
    let Some(mut bars) = assumed::hold_down(&here.job.design, here.build.material) else {
        return;
    };
    bars.along = 1 - here.long.index();
    let own = here.places.of(PlacesOf::Bars);
    bars.places = match here.figures().get(Figure::HoldDownBars) {
        _ if !own.is_empty() => own,
        Some(count) => enclosure::added::spread_evenly(whole(count), here.steel.size()[here.long]),
        None => places::over_each(&here.ranges()),
    };
    let crossed: Vec<Option<Crossed>> = bars
        .places
        .iter()
        .map(|&place| crossed(here, place, bars.bar.width()))
        .collect();
    let pad = here.size(PartSize::BarPad);
    let top = |crossed: &Option<Crossed>| crossed.as_ref().map_or(highest, |crossed| crossed.highest);
    bars.unders = crossed.iter().map(|crossed| top(crossed) + pad).collect();
    if !put(here, made, result, bars.group(&here.spec)) {
        return;
    }
    ruled(here, result, PlacesOf::Bars, &bars.places);
    let wants = least_edge(bars.thread);
    result.near_the_end = (bars.edge() < wants).then(|| NearTheEnd {
        has: bars.edge(),
        wants,
        lug: bars.least_lug(),
    });
    result.held_down = Some(held_down(here, &bars, &crossed, pad));
    let is_bar = |role| matches!(role, Role::HoldDownBar | Role::HoldDownAngle);
    let over: Vec<Cuboid> = made
        .added
        .iter()
        .filter(|piece| is_bar(piece.role))
        .map(|piece| here.cuboid(&piece.block))
        .collect();
    let before = |rooms: &[Cuboid]| rooms.iter().any(|room| over.iter().any(|bar| bar.overlaps(room)));
    for module in here.modules {
        match terminal_rooms(here, module) {
            Some(rooms) if before(&rooms) => result.over_terminals.push(module.label.clone()),
            None if before(&module.service) => result.over_terminal_faces.push(module.label.clone()),
            _ => {}
        }
    }
}

/// The room before each terminal of a module or stack: as wide as a ring spanner on its stud, out to where the service space
/// ends. `None` where nobody entered the places of both.
fn terminal_rooms(here: &Site<'_>, module: &ModuleResult) -> Option<Vec<Cuboid>> {
    let entered = here.job.kind(module.kind)?;
    let kind = here.kinds.iter().find(|kind| kind.id == module.kind)?;
    let is_entered = |at: &[Option<crate::Len>; 3]| at.iter().any(Option::is_some);
    if !is_entered(&entered.plus) || !is_entered(&entered.minus) {
        return None;
    }
    let points = seats::terminals(entered, kind, module)?;
    let across = reach::ring(Length::from_mm_up(here.figures().sure(Figure::Stud)));
    let service = kind.service_towards(module.stands);
    let room = |point: Point| {
        let off = |face: &&Face| (module.cuboid.face(**face) - point[face.axis()]).abs();
        let face = *module.terminals.iter().min_by_key(off)?;
        let (mut lo, mut hi) = (point, point);
        for axis in Axis::ALL.into_iter().filter(|&axis| axis != face.axis()) {
            lo[axis] -= across.half_down();
            hi[axis] += across - across.half_down();
        }
        let (axis, end) = (face.axis(), module.cuboid.face(face));
        if face.is_high() {
            hi[axis] = hi[axis].max(end + service[face]);
        } else {
            lo[axis] = lo[axis].min(end - service[face]);
        }
        Some(Cuboid::between(lo, hi))
    };
    points.into_iter().map(room).collect()
}

/// What a bar here crosses; `None` when that is nothing.
fn crossed(here: &Site<'_>, place: Length, width: Length) -> Option<Crossed> {
    let from = here.steel.lo()[here.long] + place - width.half_down();
    let floor = here.steel.lo()[Axis::Z];
    let is_under = |m: &ModuleResult| m.cuboid.hi()[here.long] > from && m.cuboid.lo()[here.long] < from + width;
    let under = || here.modules.iter().enumerate().filter(|(_, m)| is_under(m));
    let highest = under().map(|(_, m)| m.cuboid.hi()[Axis::Z]).max()?;
    let mut found = Crossed {
        highest: highest - floor,
        on: Vec::new(),
        lower: Vec::new(),
    };
    for (index, module) in under() {
        let by = highest - module.cuboid.hi()[Axis::Z];
        if by == Length::ZERO {
            found.on.push(index);
        } else if over(here, module).next().is_none() {
            found.lower.push((index, by));
        }
    }
    Some(found)
}

/// The modules that stand over another, by their places in the list.
fn over<'a>(here: &'a Site<'_>, module: &'a ModuleResult) -> impl Iterator<Item = usize> + 'a {
    let is_over = |other: &ModuleResult| {
        other.cuboid.lo()[Axis::Z] >= module.cuboid.hi()[Axis::Z]
            && [Axis::X, Axis::Y]
                .iter()
                .all(|&axis| module.cuboid.gap_along(&other.cuboid, axis) < Length::ZERO)
    };
    let modules = here.modules.iter().enumerate();
    modules.filter(move |(_, other)| is_over(other)).map(|(index, _)| index)
}

/// What the bars hold: each module's mass goes evenly to the bars that lie on it, or on what stands over it.
fn held_down(here: &Site<'_>, bars: &enclosure::added::HoldDown, crossed: &[Option<Crossed>], pad: Length) -> HeldDown {
    let mut by: Vec<Vec<usize>> = vec![Vec::new(); here.modules.len()];
    let mut lower = Vec::new();
    for ((bar, &place), crossed) in bars.places.iter().enumerate().zip(crossed) {
        let Some(crossed) = crossed else { continue };
        for &on in &crossed.on {
            by[on].push(bar);
        }
        for &(module, less) in &crossed.lower {
            // As much again as the pad is what a thicker one, or a second, fills (common practice, no source).
            let fills = (less <= pad).then_some(pad + less);
            if fills.is_some() {
                by[module].push(bar);
            }
            lower.push(Lower {
                module: here.modules[module].label.clone(),
                on: here.modules[crossed.on[0]].label.clone(),
                bar: place,
                by: less,
                pad: fills,
            });
        }
    }
    // From the top down, so that what stands over a module is known before it.
    let mut order: Vec<usize> = (0..here.modules.len()).filter(|&index| by[index].is_empty()).collect();
    order.sort_by_key(|&index| std::cmp::Reverse(here.modules[index].cuboid.hi()[Axis::Z]));
    for index in order {
        let mut through: Vec<usize> = over(here, &here.modules[index])
            .flat_map(|over| by[over].iter().copied())
            .collect();
        through.sort_unstable();
        through.dedup();
        by[index] = through;
    }
    let mut each = vec![0.0; bars.places.len()];
    let mut not_held = Vec::new();
    for (module, by) in here.modules.iter().zip(&by) {
        if by.is_empty() {
            not_held.push(module.label.clone());
            continue;
        }
        let kind = here.kinds.iter().find(|kind| kind.id == module.kind);
        let grams = kind.and_then(|kind| kind.mass_g).unwrap_or(0) * i64::from(module.count);
        let share = crate::Grams(grams).kg() / f64::from(u32::try_from(by.len()).unwrap_or(u32::MAX));
        for &bar in by {
            each[bar] += share;
        }
    }
    let idle = bars.places.iter().zip(crossed).filter(|(_, crossed)| crossed.is_none());
    HeldDown {
        bars: u32::try_from(bars.places.len()).unwrap_or(u32::MAX),
        mass_kg: each.into_iter().fold(0.0, f64::max),
        span: bars.span(here.steel.size().0[bars.along]),
        bar: bars.bar,
        thickness: bars.sheet.thickness,
        fixed: bars.fixed,
        lug_lever: bars.lug_lever(),
        thread: bars.thread,
        not_held,
        lower,
        idle: idle.map(|(&place, _)| place).collect(),
    }
}
