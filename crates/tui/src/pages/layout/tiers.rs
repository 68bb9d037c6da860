//! Modules that stand over one another in a view: the tier of the selected one lies on top.

use drawing::{Outline, Role, Side, View};
use tape::Length;

use super::picture::thing_of;
use crate::model::Model;

/// How deep something lies: nearest and farthest.
type Depth = [Length; 2];

fn is_module(outline: &Outline) -> bool {
    matches!(outline.role, Role::Module | Role::Stack)
}

fn meets(a: Depth, b: Depth) -> bool {
    a[0] < b[1] && b[0] < a[1]
}

/// How deep the selected module lies in a view; `None` when none is selected in it.
pub(super) fn selected(model: &Model, view: &View) -> Option<Depth> {
    let selected = model.sheet.selected_in(model.shown());
    let mut modules = view.outlines.iter().filter(|o| is_module(o));
    modules.find(|o| thing_of(o) == selected).map(|o| o.depth)
}

/// Whether a module lies behind another one when the tier at `depth` is on top; `None` to leave it as it is seen from
/// outside.
pub(super) fn is_behind(view: &View, depth: Option<Depth>, outline: &Outline) -> Option<bool> {
    let depth = depth.filter(|_| is_module(outline))?;
    if meets(outline.depth, depth) {
        return Some(false);
    }
    let mut on_top = view.outlines.iter().filter(|o| is_module(o) && meets(o.depth, depth));
    let own = &outline.rect;
    let covers = |o: &Outline| o.rect.u0 < own.u1 && own.u0 < o.rect.u1 && o.rect.v0 < own.v1 && own.v0 < o.rect.v1;
    on_top.any(covers).then_some(true)
}

/// Which tier is on top, in words; `None` where all modules stand side by side.
pub(super) fn words(model: &Model, view: &View) -> Option<String> {
    let mut depths: Vec<Depth> = view.outlines.iter().filter(|o| is_module(o)).map(|o| o.depth).collect();
    depths.sort_unstable();
    let mut tiers: Vec<Depth> = Vec::new();
    for depth in depths {
        match tiers.last_mut() {
            Some(tier) if meets(*tier, depth) => tier[1] = tier[1].max(depth[1]),
            _ => tiers.push(depth),
        }
    }
    let here = selected(model, view)?;
    let at = tiers.iter().position(|tier| meets(*tier, here))?;
    let of = tiers.len();
    match view.side {
        _ if of < 2 => None,
        // Tiers count as they are stacked.
        Side::Plan => Some(format!("tier {} of {of} on top", of - at)),
        Side::FromLeft | Side::FromRear => Some(format!("row {} of {of} in front", at + 1)),
    }
}
