//! Placing by hand: what each key makes of the selected thing. Every change is an edit.

use drawing::{Direction, Side};
use geometry::{Axis, Face, Orientation, Point, Size};
use job::layout::{next_place, start_corner};
use job::{Edit, Evaluation, Field, Id, KindResult, Near};
use tape::Length;

use super::{Reach, Sheet, Thing};
use crate::model::Model;

/// A step of `by` towards `face`.
fn toward(face: Face, by: Length) -> Point {
    Point::along(face.axis(), if face.is_high() { by } else { -by })
}

/// Moves what is selected towards `face` by one step, or as far as was asked for.
pub fn move_it(model: &mut Model, face: Face) {
    let by = match model.sheet.reach.take() {
        None => Some(model.sheet.nudge(model.evaluation.units)),
        Some(reach) => as_far_as(&model.sheet, &model.evaluation, face, reach),
    };
    match (model.sheet.selected, by) {
        (Some(thing), Some(by)) => nudge(model, thing, toward(face, by)),
        _ => model.refuse("nothing is selected: n selects, a adds a module, f lays out"),
    }
}

/// Moves `thing` by a vector.
pub fn nudge(model: &mut Model, thing: Thing, by: Point) {
    // A refusal is already told in the message line.
    let _ = model.apply(nudging(thing, by));
}

/// Moves `thing` by a vector, as the first step of a drag or as one more; whether it moved.
pub fn drag(model: &mut Model, thing: Thing, by: Point, begun: bool) -> bool {
    // A refusal is already told in the message line.
    model.drag(nudging(thing, by), begun).is_ok()
}

const fn nudging(thing: Thing, by: Point) -> Edit {
    match thing {
        Thing::Box(battery_box) => Edit::NudgeBox { battery_box, by },
        Thing::Module(module) => Edit::NudgeModule { module, by },
    }
}

/// How far the selected thing can go towards `face`: until it may touch, with what the readings may be off held back, or
/// until just what was asked for is left for sure.
///
/// A module at the edge of a box that wraps its modules takes the wall with it, so there the box's clearance counts.
fn as_far_as(sheet: &Sheet, evaluation: &Evaluation, face: Face, reach: Reach) -> Option<Length> {
    let own = &sheet.around(evaluation)?.faces[face.index()];
    let left = |asked: Length| match reach {
        Reach::Touch => Length::ZERO,
        Reach::Keep => asked,
    };
    if let (Thing::Module(_), Near::Liner(_)) = (sheet.selected?, own.near) {
        let battery_box = evaluation.battery_box(sheet.battery_box(evaluation)?)?;
        if !battery_box.fixed {
            let outside = &battery_box.around.as_ref()?.faces[face.index()];
            return Some(own.distance - own.asked + outside.sure() - left(outside.asked));
        }
    }
    Some(own.sure() - left(own.asked))
}

/// Selects the next (or previous) thing of the cavity.
pub fn select_next(model: &mut Model, by: isize) {
    let things = model.sheet.things(&model.evaluation);
    let here = things.iter().position(|&t| Some(t) == model.sheet.selected);
    let n = things.len().cast_signed();
    if n == 0 {
        model.refuse("nothing is here yet: f lays out, a adds a module");
        return;
    }
    let next = here.map_or(0, |i| (i.cast_signed() + by).rem_euclid(n).cast_unsigned());
    model.sheet.selected = Some(things[next]);
}

/// From a module to its box, and from a box to its first module.
pub fn outer(model: &mut Model) {
    let evaluation = &model.evaluation;
    model.sheet.selected = match model.sheet.selected {
        Some(Thing::Module(id)) => evaluation.module(id).map(|(b, _)| Thing::Box(b.id)),
        Some(Thing::Box(id)) => {
            let first = evaluation.battery_box(id).and_then(|b| b.modules.first());
            first.map_or(Some(Thing::Box(id)), |m| Some(Thing::Module(m.id)))
        }
        None => None,
    };
}

/// Shows the next cavity.
pub fn next_cavity(model: &mut Model) {
    let cavities = &model.evaluation.cavities;
    let here = cavities.iter().position(|c| Some(c.id) == model.sheet.cavity);
    if let Some(next) = here.and_then(|i| cavities.get((i + 1) % cavities.len())) {
        model.sheet.cavity = Some(next.id);
        model.sheet.selected = None;
        model.sheet.settle(&model.evaluation);
    }
}

/// Looks from the next side.
pub fn next_view(model: &mut Model) {
    model.sheet.side = match model.sheet.side {
        Side::Plan => Side::FromLeft,
        Side::FromLeft => Side::FromRear,
        Side::FromRear => Side::Plan,
    };
}

/// Turns the selected module to the next way its kind may stand that looks different.
pub fn turn(model: &mut Model) {
    let Some(Thing::Module(id)) = model.sheet.selected else {
        model.refuse("a box turns with its modules: select a module (o)");
        return;
    };
    let Some((_, module)) = model.evaluation.module(id) else {
        return;
    };
    let Some(kind) = model.evaluation.kind(module.kind) else {
        return;
    };
    match next_stance(kind, module.stands, module.count) {
        Some(to) => {
            // A refusal is already told in the message line.
            let _ = model.apply(Edit::Turn { module: id, to });
        }
        None => model.refuse(format!("{} may stand in no other way", kind.name)),
    }
}

/// The next of the kind's orientations after `now` that differs in size or in where the terminals point.
fn next_stance(kind: &KindResult, now: Orientation, count: u32) -> Option<Orientation> {
    let size = kind.own_size(count)?;
    let look = |o: Orientation| -> (Size, Vec<Face>) {
        let mut terminals: Vec<Face> = kind.terminals.faces().iter().map(|&f| o.world_face(f)).collect();
        terminals.sort_unstable();
        (o.extents(size), terminals)
    };
    let mut different: Vec<Orientation> = Vec::new();
    for &orientation in &kind.orientations {
        if !different.iter().any(|&o| look(o) == look(orientation)) {
            different.push(orientation);
        }
    }
    let here = different.iter().position(|&o| look(o) == look(now));
    let next = different[here.map_or(0, |i| (i + 1) % different.len())];
    (look(next) != look(now)).then_some(next)
}

/// Adds one more module or stack of the selected kind to the selected box, making a box when there is none.
pub fn add(model: &mut Model) {
    let evaluation = &model.evaluation;
    let selected = match model.sheet.selected {
        Some(Thing::Module(id)) => evaluation.module(id).and_then(|(_, m)| evaluation.kind(m.kind)),
        _ => None,
    };
    let sized = |k: &&KindResult| k.size.is_some();
    let left = |k: &KindResult| k.on_hand.map_or(u32::MAX, |n| n.saturating_sub(k.placed));
    let kind = selected
        .or_else(|| evaluation.kinds.iter().filter(sized).find(|k| left(k) > 0))
        .or_else(|| evaluation.kinds.iter().find(sized));
    let Some(kind) = kind else {
        model.refuse("no module has a size yet: enter it on the Modules page (F3)");
        return;
    };
    let count = match &kind.stack {
        None => 1,
        Some(stack) => left(kind).clamp(stack.min, stack.max),
    };
    let (kind, here) = (kind.id, model.sheet.battery_box(evaluation));
    let into = here.or_else(|| {
        evaluation
            .boxes
            .iter()
            .find(|b| Some(b.cavity) == model.sheet.cavity)
            .map(|b| b.id)
    });
    let into = match into {
        Some(id) => Some(id),
        None => add_box(model),
    };
    let Some(into) = into else { return };
    let datum = model
        .job()
        .battery_box(into)
        .map(job::BatteryBox::datum)
        .unwrap_or_default();
    let Some((at, stands)) = next_place(&model.evaluation, into, kind, count, datum) else {
        model.refuse("there is no place beside the others: move one, or add a box (B)");
        return;
    };
    if model
        .apply(Edit::AddModule {
            into,
            kind,
            at,
            stands,
            count,
        })
        .is_ok()
    {
        let added = model
            .job()
            .battery_box(into)
            .and_then(|b| b.modules.last())
            .map(|m| m.id);
        model.sheet.selected = added.map(Thing::Module);
    }
}

/// Adds an empty box to the cavity shown, its datum far enough in that a first module keeps the margin.
pub fn add_box(model: &mut Model) -> Option<Id> {
    let cavity = model.sheet.cavity?;
    let start = start_corner(model.job(), &model.evaluation);
    // Behind the boxes that are there already, so that the first module does not land in one of them.
    let boxes = model.evaluation.boxes.iter().filter(|b| b.cavity == cavity);
    let behind = boxes.flat_map(|b| &b.solids).map(|solid| solid.hi()[Axis::X]).max();
    let at = start + Point::along(Axis::X, behind.unwrap_or(Length::ZERO));
    model.apply(Edit::AddBox { cavity, at }).ok()?;
    let id = model.job().boxes.last().map(|b| b.id)?;
    model.sheet.selected = Some(Thing::Box(id));
    Some(id)
}

/// Takes the selected module or box out.
pub fn remove(model: &mut Model) {
    let edit = match model.sheet.selected {
        Some(Thing::Module(id)) => Edit::RemoveModule(id),
        Some(Thing::Box(id)) => Edit::RemoveBox(id),
        None => return model.refuse("nothing is selected"),
    };
    let things = model.sheet.things(&model.evaluation);
    let here = things.iter().position(|&t| Some(t) == model.sheet.selected);
    if model.apply(edit).is_ok() {
        let things = model.sheet.things(&model.evaluation);
        let next = here.and_then(|i| things.get(i).or(things.last()));
        model.sheet.selected = next.copied().or(model.sheet.selected);
        model.sheet.settle(&model.evaluation);
    }
}

/// One module more (or fewer) in the selected stack.
pub fn restack(model: &mut Model, by: i32) {
    let Some(Thing::Module(id)) = model.sheet.selected else {
        return model.refuse("select a stack first (n)");
    };
    let Some((_, placed)) = model.job().placed(id) else {
        return;
    };
    let stacked = model.evaluation.kind(placed.kind).is_some_and(|k| k.stack.is_some());
    if !stacked {
        return model.refuse("this kind is built in loose: a adds another module");
    }
    let text = placed.count.saturating_add_signed(by).to_string();
    // A refusal is already told in the message line.
    let _ = model.apply(Edit::Set {
        field: Field::PlacedCount(id),
        text,
    });
}

/// Moves the selected module to the next box, in this cavity or another.
pub fn to_next_box(model: &mut Model) {
    let Some(Thing::Module(id)) = model.sheet.selected else {
        return model.refuse("select a module first (n)");
    };
    let evaluation = &model.evaluation;
    let Some((from, module)) = evaluation.module(id) else {
        return;
    };
    let here = evaluation.boxes.iter().position(|b| b.id == from.id).unwrap_or(0);
    let to = &evaluation.boxes[(here + 1) % evaluation.boxes.len()];
    if to.id == from.id {
        return model.refuse("there is no other box: B adds one");
    }
    let (to, cavity) = (to.id, to.cavity);
    let datum = model
        .job()
        .battery_box(to)
        .map(job::BatteryBox::datum)
        .unwrap_or_default();
    let Some((at, _)) = next_place(evaluation, to, module.kind, module.count, datum) else {
        return model.refuse("there is no place beside the others in that box");
    };
    if model.apply(Edit::MoveToBox { module: id, to, at }).is_ok() {
        model.sheet.cavity = Some(cavity);
        model.sheet.selected = Some(Thing::Module(id));
        model.sheet.settle(&model.evaluation);
    }
}

/// The vector in the cavity for a move of `du` to the right and `dv` down on the sheet, where all coordinates but u
/// grow the other way.
pub fn on_sheet(side: Side, du: Length, dv: Length) -> Point {
    Point::along(side.axis(Direction::U), du) + Point::along(side.axis(Direction::V), -dv)
}

/// Pins the selected module where it stands, or all of the selected box; lets go of what is pinned already.
pub fn pin(model: &mut Model) {
    let modules: Vec<(Id, bool)> = match model.sheet.selected {
        Some(Thing::Module(id)) => {
            let module = model.evaluation.module(id);
            module.map(|(_, m)| (m.id, m.pinned)).into_iter().collect()
        }
        Some(Thing::Box(id)) => {
            let battery_box = model.evaluation.battery_box(id);
            battery_box
                .map(|b| b.modules.iter().map(|m| (m.id, m.pinned)).collect())
                .unwrap_or_default()
        }
        None => Vec::new(),
    };
    if modules.is_empty() {
        return model.refuse("nothing to pin here: select a module (n) or a box with modules (o)");
    }
    // Of a box of which some are pinned, the rest is pinned too.
    let pinned = modules.iter().any(|(_, pinned)| !pinned);
    let changed: Vec<Id> = modules
        .iter()
        .filter(|(_, was)| *was != pinned)
        .map(|(id, _)| *id)
        .collect();
    for &module in &changed {
        if model.apply(Edit::Pin { module, pinned }).is_err() {
            return;
        }
    }
    let what = match (model.sheet.selected, changed.as_slice()) {
        (Some(Thing::Box(id)), [_, _, ..]) => {
            let name = model.job().battery_box(id).map_or("the box", |b| b.name.as_str());
            format!("all {} in {name}", modules.len())
        }
        (_, [one, ..]) => model
            .job()
            .placed(*one)
            .map_or_else(String::new, |(_, placed)| placed.label()),
        _ => String::new(),
    };
    model.tell(if pinned {
        format!("pinned {what}: stays where it is, a layout goes round it")
    } else {
        format!("let go of {what}")
    });
}
