//! Taking back and doing again: what is taken back is shown where it stands, whatever page is open.

use job::{Edit, Field, Id};

use super::commands::{go_to, turn_to};
use crate::form::{Group, Row};
use crate::model::Model;
use crate::page::Page;
use crate::pages::{self, layout::Thing};

/// Takes back the last edit.
pub(super) fn undo(model: &mut Model) {
    let from = model.page;
    turn_home(model, model.history.last_done().cloned());
    match (model.undo(), model.history.last_undone().cloned()) {
        (Some(words), Some(edit)) => show(model, &edit, from, "undid", &words),
        _ => model.tell("nothing to undo"),
    }
}

/// Makes an edit again that was taken back.
pub(super) fn redo(model: &mut Model) {
    let from = model.page;
    turn_home(model, model.history.last_undone().cloned());
    match (model.redo(), model.history.last_done().cloned()) {
        (Some(words), Some(edit)) => show(model, &edit, from, "did again", &words),
        _ => model.tell("nothing to do again"),
    }
}

/// Goes to where an edit is seen before it is taken back or made again, so that the cursor there keeps its row.
fn turn_home(model: &mut Model, edit: Option<Edit>) {
    if let Some(edit) = edit {
        turn_to(model, page_of(&edit, model.page));
    }
}

/// Shows what was done to one who was on the page `from`, and tells of it.
fn show(model: &mut Model, edit: &Edit, from: Page, done: &str, words: &str) {
    // Fields can be on several pages: the one that is open is looked at first.
    if let Edit::Set { field, .. } | Edit::Confirm(field) = edit
        && let Some(home) = find(model, *field)
    {
        turn_to(model, home);
    }
    select(model, edit);
    let home = model.page;
    model.tell(if home == from {
        format!("{done}: {words}")
    } else {
        format!("{done} on {}: {words}; you were on {}", home.name(), from.name())
    });
}

/// Where what an edit other than of a field is about is seen; `from` where it is seen there too.
const fn page_of(edit: &Edit, from: Page) -> Page {
    match edit {
        Edit::Set { .. } | Edit::Confirm(_) => from,
        Edit::AddCavity
        | Edit::RemoveCavity(_)
        | Edit::AddReading { .. }
        | Edit::RemoveReading { .. }
        | Edit::AddStatement { .. }
        | Edit::RemoveStatement { .. }
        | Edit::OutOfReach { .. }
        | Edit::AddKeepOut(_)
        | Edit::RemoveKeepOut(_) => Page::Tape,
        Edit::AddKind | Edit::RemoveKind(_) => Page::Modules,
        Edit::RemoveBox(_) if matches!(from, Page::Boxes) => from,
        Edit::AddBox { .. }
        | Edit::RemoveBox(_)
        | Edit::AddModule { .. }
        | Edit::RemoveModule(_)
        | Edit::NudgeModule { .. }
        | Edit::NudgeBox { .. }
        | Edit::Turn { .. }
        | Edit::MoveToBox { .. }
        | Edit::Pin { .. }
        | Edit::AcceptLayout(_)
        | Edit::AcceptWanted { .. }
        | Edit::Spread { .. } => Page::Layout,
        Edit::AddFitting { .. } | Edit::LetIn { .. } | Edit::RemoveFitting(_) | Edit::Stock(_) | Edit::Bed(_) => {
            Page::Boxes
        }
        Edit::Wiring(_) => Page::Wiring,
        Edit::Units(_) => Page::Units,
        Edit::Truck(_) => Page::Truck,
        Edit::Issue(_) => Page::Papers,
    }
}

/// Finds the row of a field, on the page that is open before the others; opens its group there and puts the cursor on it.
/// Gives its page; `None` for a field that no page shows now, as one that another choice asks for.
fn find(model: &mut Model, field: Field) -> Option<Page> {
    let from = model.page;
    let found = std::iter::once(from).chain(Page::ALL).find(|page| {
        model.page = *page;
        puts_cursor_on(model, field)
    });
    model.page = from;
    found
}

/// Puts the cursor of the page that is open on the row of a field, in the group that is open or in any other; leaves
/// the page as it was where it has none.
fn puts_cursor_on(model: &mut Model, field: Field) -> bool {
    let Some(was_open) = model.form().map(|form| form.open) else {
        return false;
    };
    let is_field = |row: &Row| *row == Row::Field(field);
    let groups = pages::rows(model).into_iter().filter_map(|row| match row {
        Row::Group { of, .. } => Some(Some(of)),
        _ => None,
    });
    let opens: Vec<Option<Group>> = std::iter::once(was_open).chain(groups).collect();
    for open in opens {
        if let Some(form) = model.form_mut() {
            form.open = open;
        }
        if pages::rows(model).iter().any(is_field) {
            go_to(model, is_field);
            return true;
        }
    }
    if let Some(form) = model.form_mut() {
        form.open = was_open;
    }
    false
}

/// Selects on the sheet, or opens in the list, what the edit is about.
fn select(model: &mut Model, edit: &Edit) {
    match edit {
        Edit::RemoveModule(id)
        | Edit::NudgeModule { module: id, .. }
        | Edit::Turn { module: id, .. }
        | Edit::MoveToBox { module: id, .. }
        | Edit::Pin { module: id, .. } => {
            let cavity = model.evaluation.module(*id).map(|(b, _)| b.cavity);
            on_sheet(model, cavity, Thing::Module(*id));
        }
        Edit::NudgeBox { battery_box: id, .. } | Edit::RemoveBox(id) => {
            let cavity = model.evaluation.battery_box(*id).map(|b| b.cavity);
            on_sheet(model, cavity, Thing::Box(*id));
        }
        Edit::AddFitting { into, .. } | Edit::LetIn { into, .. } if model.page == Page::Boxes => {
            let of = Group::Box(*into);
            model.boxes.open = Some(of);
            go_to(model, |row| matches!(row, Row::Group { of: other, .. } if *other == of));
        }
        _ => {}
    }
}

/// Selects a thing in its cavity; what is gone with the edit leaves the selection as it is.
fn on_sheet(model: &mut Model, cavity: Option<Id>, thing: Thing) {
    if let Some(cavity) = cavity {
        model.sheet.cavity = Some(cavity);
        model.sheet.selected = Some(thing);
    }
}
