//! Pages of rows, and the value being typed in one of them.

use job::field;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::{areas, clear};
use crate::form::{self, Form};
use crate::model::Model;
use crate::page::Page;
use crate::pages::{self, beside, boxes, tape};
use crate::theme::Meaning;
use crate::widgets::field::FieldView;
use crate::widgets::pen::{Pen, cut};
use crate::widgets::rows::{Row, RowsView, ValueRow};
use crate::widgets::toast::wrap;

/// The rows of a form as the widget draws them.
fn value_rows(model: &Model, rows: &[form::Row]) -> Vec<Row> {
    rows.iter()
        .map(|row| match row {
            form::Row::Heading(title) => Row::Section(title.clone()),
            form::Row::Text(text, meaning)
            | form::Row::Line(text, meaning)
            | form::Row::Choice {
                words: text, meaning, ..
            } => Row::Text(text.clone(), *meaning),
            form::Row::Group {
                title, detail, open, ..
            } => {
                let mark = if *open { "-" } else { "+" };
                Row::Text(format!("   {mark} {title}  {detail}"), Meaning::Plain)
            }
            form::Row::NewReading { cavity, line, needed } => {
                let corners = line.of_survey();
                let is_out = corners.is_some_and(|line| {
                    let cavity = model.job().cavity(*cavity);
                    cavity.is_some_and(|c| tape::lines::is_out_of_reach(c, line))
                });
                let (meaning, note) = match (*needed, is_out, corners) {
                    (true, _, _) => (Meaning::Caution, "needed: type what the tape says"),
                    (_, true, _) => (Meaning::Dim, "out of reach"),
                    (_, _, Some(_)) => (Meaning::Plain, ""),
                    _ => (Meaning::Plain, "one more, if you taped it"),
                };
                Row::Value(ValueRow::new(meaning, tape::line_label(line), "").note(note))
            }
            form::Row::Field(field) => field_row(model, *field),
        })
        .collect()
}

fn field_row(model: &Model, field: job::Field) -> Row {
    let Some((_, shown)) = field::show(model.job(), &[field]).pop() else {
        return Row::Blank;
    };
    let mut mark = form::state_meaning(shown.state);
    let (label, note) = match field {
        job::Field::ReadingValue(cavity, index) => {
            let (note, meaning) = tape::reading_note(model, cavity, index);
            if matches!(meaning, Meaning::Stop | Meaning::Caution | Meaning::Note) {
                mark = meaning;
            }
            (tape::reading_label(model, cavity, index), note)
        }
        job::Field::StatementWithin(cavity, index) => {
            let off = tape::statement_note(model, cavity, index);
            (tape::statement_label(model, cavity, index), off)
        }
        _ => {
            let note = match shown.state {
                job::State::Missing => "needed",
                job::State::Open => "not given",
                job::State::Assumed | job::State::Given => &shown.beside,
            };
            (shown.label.to_owned(), note.to_owned())
        }
    };
    let label = tape::keep_out_label(model, field).unwrap_or(label);
    let text = match shown.state {
        job::State::Assumed => format!("~ {}", shown.read_text()),
        _ => shown.read_text(),
    };
    Row::Value(ValueRow::new(mark, label, text).note(note))
}

/// The part of the body that holds the rows; below it stand two lines of help for the row under the cursor.
const fn rows_area(body: Rect) -> Rect {
    Rect {
        x: body.x + 1,
        width: body.width.saturating_sub(2),
        height: body.height.saturating_sub(2),
        ..body
    }
}

/// The part of the page that the rows take: beside its picture, over what the last edit changed.
fn for_rows(model: &Model, body: Rect) -> Rect {
    let (rows, _) = beside::split(model, body);
    let changed = changed_height(model, rows);
    let taken = if changed > 0 { changed } else { more_help(model, body) };
    Rect {
        height: rows.height.saturating_sub(taken),
        ..rows
    }
}

/// Lines of help that a page of rows always has.
const USUAL_HELP: u16 = 2;
/// The most lines of help: a refusal with how to mend it is read whole in a window of 80 columns.
const MOST_HELP: u16 = 5;

/// Lines of help beyond the usual ones, which the rows make room for.
fn more_help(model: &Model, body: Rect) -> u16 {
    let Some(form) = model.form() else { return 0 };
    let lines = row_help(model, form, &pages::rows(model), body.width.saturating_sub(2));
    let lines = u16::try_from(lines.len()).unwrap_or(u16::MAX);
    lines.clamp(USUAL_HELP, MOST_HELP) - USUAL_HELP
}

/// The most lines that tell what changed, in a small and in a roomy window.
const CHANGED: [u16; 2] = [5, 14];
/// The least rows of a page that tells it.
const LEAST_FOR_CHANGED: u16 = 12;

/// Rows that what changed takes above the two lines of help, with the one that sets it off.
fn changed_height(model: &Model, body: Rect) -> u16 {
    let lines = u16::try_from(changed_lines(model, body).len()).unwrap_or(u16::MAX);
    let most = CHANGED[usize::from(body.height >= 30)];
    // Rows under which a picture stands have no room for it.
    let no_room = model.page != Page::Boxes || model.boxes.typing.is_some() || body.height < LEAST_FOR_CHANGED;
    if lines == 0 || no_room { 0 } else { lines.min(most) + 1 }
}

/// What the last edit changed, over as many lines as it takes: no figure is cut.
fn changed_lines(model: &Model, body: Rect) -> Vec<(String, Meaning)> {
    let width = body.width.saturating_sub(2);
    let told = boxes::changed::lines(model).into_iter();
    told.flat_map(|(text, meaning)| {
        let before = text.len() - text.trim_start().len();
        let lines = wrap(&text, width.saturating_sub(4)).into_iter().enumerate();
        lines
            .map(move |(i, line)| {
                let set_in = " ".repeat(before + if i > 0 { 2 } else { 0 });
                (format!("{set_in}{line}"), meaning)
            })
            .collect::<Vec<_>>()
    })
    .collect()
}

/// What the last edit on the page changed; what does not go in is told in the last line.
fn draw_changed(model: &Model, body: Rect, buf: &mut Buffer) {
    let height = changed_height(model, body);
    if height == 0 {
        return;
    }
    let lines = changed_lines(model, body);
    let (first, room) = (body.bottom().saturating_sub(height + 1), usize::from(height - 1));
    let left_out = if lines.len() > room {
        lines.len() - (room - 1)
    } else {
        0
    };
    let mut pen = Pen::new(buf, body, model.theme);
    let width = body.width.saturating_sub(2);
    for ((line, meaning), y) in lines
        .iter()
        .take(lines.len().min(room) - usize::from(left_out > 0))
        .zip(first..)
    {
        pen.text(body.x + 1, y, &cut(line, width), model.theme.style(*meaning));
    }
    if left_out > 0 {
        let words = format!("{left_out} more lines: d shows all");
        let y = body.bottom().saturating_sub(3);
        pen.text(body.x + 1, y, &words, model.theme.style(Meaning::Dim));
    }
}

pub(super) fn draw(model: &Model, whole: Rect, buf: &mut Buffer) {
    let Some(form) = model.form() else { return };
    if let Some(place) = beside::split(model, whole).1 {
        beside::draw(model, place, buf);
    }
    let body = for_rows(model, whole);
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(body);
    let view = RowsView {
        rows: &shown,
        cursor: form.row(&rows).map(|_| form.cursor),
        theme: model.theme,
    };
    (&view).render(area, buf);
    if model.page == Page::Boxes && changed_height(model, whole) > 0 {
        draw_changed(model, beside::split(model, whole).0, buf);
    }
    draw_row_help(model, form, &rows, whole, buf);
    if let Some((field, place)) = typing_field(model, whole) {
        clear(place, buf);
        (&field).render(place, buf);
    }
}

/// A text with as much of a list behind it as two lines hold; what is left off is told by two points.
fn with_as_much_of(told: &str, list: &str, room: u16) -> String {
    let fits = |text: &String| wrap(text, room).len() <= 2;
    let whole = format!("{told}; {list}");
    if fits(&whole) {
        return whole;
    }
    let cuts = list.rmatch_indices(", ").map(|(at, _)| at);
    let cut = cuts.map(|at| format!("{told}; {}, ..", &list[..at])).find(fits);
    cut.unwrap_or_else(|| told.to_owned())
}

/// Draws that help below the rows, over what the last edit changed where that is told.
fn draw_row_help(model: &Model, form: &Form, rows: &[form::Row], body: Rect, buf: &mut Buffer) {
    let lines = row_help(model, form, rows, body.width.saturating_sub(2));
    let is_told = changed_height(model, beside::split(model, body).0) > 0;
    let height = USUAL_HELP + if is_told { 0 } else { more_help(model, body) };
    let y = body.bottom().saturating_sub(height);
    let mut pen = Pen::new(buf, body, model.theme);
    for (i, (line, meaning)) in (0..height).zip(&lines) {
        pen.text(body.x + 1, y + i, line, model.theme.style(*meaning));
    }
}

/// Help for the row under the cursor, or why what was typed is refused.
fn row_help(model: &Model, form: &Form, rows: &[form::Row], room: u16) -> Vec<(String, Meaning)> {
    let refused = form.typing.as_ref().and_then(|t| t.refused.as_ref());
    match (refused, form.row(rows)) {
        (Some(refusal), _) => {
            let text = format!("!! {}; {}", refusal.problem, refusal.mend);
            wrap(&text, room).into_iter().map(|l| (l, Meaning::Stop)).collect()
        }
        (None, Some(form::Row::Field(field))) => {
            let choices = field::show(model.job(), &[*field])
                .pop()
                .map(|(_, s)| s.options)
                .unwrap_or_default();
            let mut told = format!("{}: {}", field.label(), field.help());
            if let Some(list) = job::on_sale(model.job(), *field) {
                told = with_as_much_of(&told, &list, room);
            }
            let all = format!("{told}: {}", choices.join(" | "));
            let text = match choices.len() {
                0 => told,
                // Choices that are cut are worse than none: the list shows them all.
                n if wrap(&all, room).len() > 2 => format!("{told}; Enter lists the {n} choices"),
                _ => all,
            };
            wrap(&text, room).into_iter().map(|l| (l, Meaning::Dim)).collect()
        }
        (None, Some(form::Row::NewReading { line, .. })) => {
            let text = match line.of_survey() {
                Some(line) => format!(
                    "{}: where the faces would meet, not the weld; Enter alone passes it over; r again, e decide, n no tape here",
                    line.words()
                ),
                None => {
                    "what the tape says, as 41 5/8, 1057 mm or 41 5/8 +- 1/16; take the smallest place, and several \
                         places"
                        .to_owned()
                }
            };
            wrap(&text, room).into_iter().map(|l| (l, Meaning::Dim)).collect()
        }
        (None, Some(form::Row::Group { open, .. })) => {
            let text = if *open { "Enter closes" } else { "Enter opens" };
            vec![(text.to_owned(), Meaning::Dim)]
        }
        _ => Vec::new(),
    }
}

/// Where the value of the row under the cursor stands: its first cell, and the rows round it.
pub(super) fn value_place(model: &Model, body: Rect) -> Option<((u16, u16), Rect)> {
    let form = model.form()?;
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(for_rows(model, body));
    let view = RowsView {
        rows: &shown,
        cursor: Some(form.cursor),
        theme: model.theme,
    };
    let line = form.cursor.checked_sub(view.first_in_sight(area.height))?;
    let y = area.y + u16::try_from(line).ok()?;
    let x = area.x + view.value_column(area.width);
    (y < area.bottom()).then_some(((x, y), area))
}

/// The field that is being typed in, and where it stands: over its row.
pub(super) fn typing_field(model: &Model, body: Rect) -> Option<(FieldView<'_>, Rect)> {
    let typing = model.form()?.typing.as_ref()?;
    let ((x, y), area) = value_place(model, body)?;
    let field = FieldView {
        label: "",
        label_width: 0,
        text: &typing.input,
        text_width: 34,
        unit: "",
        error: None,
        assumed: false,
        focused: true,
        theme: model.theme,
    };
    let place = Rect {
        x,
        y,
        width: area.right().saturating_sub(x),
        height: 1,
    };
    Some((field, place))
}

/// The row of the form that stands at this line of the screen.
pub(crate) fn form_row_at(model: &Model, y: u16) -> Option<usize> {
    let form = model.form()?;
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(for_rows(model, areas(model, model.size).body));
    RowsView {
        rows: &shown,
        cursor: Some(form.cursor),
        theme: model.theme,
    }
    .row_at(area, y)
}
