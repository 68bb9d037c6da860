//! From one needed value to the next, until a first layout can be made.

use geometry::Axis;
use job::layout::Aim;
use job::{Field, State, field};

use crate::form::Row;
use crate::model::{Effect, Model};
use crate::page::Page;
use crate::pages;

/// A value that is needed before a first layout, and where it is entered.
#[derive(Clone, Debug, PartialEq)]
enum Needed {
    Reading(job::Id, Axis),
    Value(Page, Field),
}

/// The first value that is still needed, in the order of the job.
fn next_needed(model: &Model) -> Option<Needed> {
    let job = model.job();
    let cavity = model.evaluation.cavities.first()?;
    let open = |a: &Axis| cavity.space.is_none() && cavity.dimensions[a.index()].is_none();
    let axis = Axis::ALL.into_iter().find(open);
    if let Some(axis) = axis {
        return Some(Needed::Reading(cavity.id, axis));
    }
    let kind = job.kinds.first()?.id;
    let of_kind = pages::modules::needed(kind).map(|f| (Page::Modules, f));
    let of_drive = [Field::DriveMin, Field::DriveMax].map(|f| (Page::Pack, f));
    let wanted: Vec<(Page, Field)> = of_kind.into_iter().chain(of_drive).collect();
    let fields: Vec<Field> = wanted.iter().map(|(_, f)| *f).collect();
    let shown = field::show(job, &fields);
    let missing = shown.iter().find(|(_, s)| s.state == State::Missing).map(|(f, _)| *f)?;
    wanted
        .into_iter()
        .find(|(_, f)| *f == missing)
        .map(|(page, f)| Needed::Value(page, f))
}

/// Whether nothing is needed any more for a first layout.
pub(super) fn is_done(model: &Model) -> bool {
    next_needed(model).is_none()
}

/// Puts the cursor on the next needed value and opens it for typing; when nothing is needed any more, lays out.
pub(super) fn on(model: &mut Model) -> Vec<Effect> {
    if !model.walking {
        return Vec::new();
    }
    let Some(needed) = next_needed(model) else {
        model.walking = false;
        model.page = Page::Layout;
        return if model.job().boxes.is_empty() {
            super::tasks::fit(model, Aim::Whole)
        } else {
            Vec::new()
        };
    };
    model.page = match &needed {
        Needed::Reading(..) => Page::Tape,
        Needed::Value(page, _) => *page,
    };
    let rows = pages::rows(model);
    let at = rows.iter().position(|row| match (row, &needed) {
        (Row::NewReading { cavity, line, .. }, Needed::Reading(id, axis)) => {
            cavity == id && line.dimension().is_some_and(|(a, _)| a == *axis)
        }
        (Row::Field(field), Needed::Value(_, wanted)) => field == wanted,
        _ => false,
    });
    if let (Some(at), Some(form)) = (at, model.form_mut()) {
        form.cursor = at;
        form.type_in("");
    }
    Vec::new()
}
