//! The picture: everything shown is already in the model; drawing computes nothing but places.

use job::{Evaluation, field};
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::form::{self, Form};
use crate::keys::table;
use crate::model::{About, Model, Overlay, Prompt, Running, Tone, finding_meaning};
use crate::page::Page;
use crate::pages::{self, layout, papers, start, takes, tape};
use crate::theme::Meaning;
use crate::widgets::confirm::Confirm;
use crate::widgets::field::FieldView;
use crate::widgets::help::{HelpPage, HelpSection};
use crate::widgets::key_bar::{KeyBar, KeyHint};
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::progress::Progress;
use crate::widgets::rows::{Row, RowsView, ValueRow};
use crate::widgets::title_block::TitleBlock;
use crate::widgets::toast::{MessageLine, wrap};
use crate::widgets::too_small::TooSmall;

/// The least window, columns and rows.
const LEAST: (u16, u16) = (80, 24);

/// Where the parts of the window stand.
pub(crate) struct Areas {
    tabs: Rect,
    /// The page.
    pub(crate) body: Rect,
    message: Rect,
    title: Rect,
    keys: Rect,
}

/// The places in a window of this size.
pub(crate) fn areas((columns, rows): (u16, u16)) -> Areas {
    let line = |y: u16, height: u16| Rect::new(0, y, columns, height);
    let key_rows = if rows >= 30 { 2 } else { 1 };
    let (keys, title, message) = (rows.saturating_sub(key_rows), 3, if rows >= 30 { 2 } else { 1 });
    let title_y = keys.saturating_sub(title);
    let message_y = title_y.saturating_sub(message);
    Areas {
        tabs: line(0, 1),
        body: line(1, message_y.saturating_sub(1)),
        message: line(message_y, message),
        title: line(title_y, title),
        keys: line(keys, key_rows),
    }
}

/// Draws the whole window.
pub fn draw(model: &Model, frame: &mut Frame<'_>) {
    let area = frame.area();
    let too_small = TooSmall {
        needed: LEAST,
        theme: model.theme,
    };
    if too_small.is_needed(area) {
        frame.render_widget(&too_small, area);
        return;
    }
    let areas = areas((area.width, area.height));
    let buf = frame.buffer_mut();
    draw_tabs(model, areas.tabs, buf);
    match model.page {
        Page::Start => draw_start(model, areas.body, buf),
        Page::Layout => layout::picture::draw(model, areas.body, buf),
        Page::Papers => draw_papers(model, areas.body, buf),
        Page::Tape | Page::Modules | Page::Pack | Page::Boxes => draw_form(model, areas.body, buf),
    }
    draw_message(model, areas.message, buf);
    if model.page != Page::Start {
        draw_title(model, areas.title, buf);
    }
    draw_keys(model, areas.keys, buf);
    draw_overlay(model, area, &areas, buf);
    if let Some(cursor) = cursor(model, &areas) {
        frame.set_cursor_position(cursor);
    }
}

/// The tabs: each page's key and name, the page shown in brackets, and what is open.
fn tabs(model: &Model) -> Vec<(Page, u16, String)> {
    let mut x = 1;
    Page::ALL
        .into_iter()
        .zip(2..)
        .map(|(page, n)| {
            let text = if page == model.page {
                format!("[{}]", page.name())
            } else {
                format!("F{n} {}", page.name())
            };
            let at = x;
            x += width(&text) + 2;
            (page, at, text)
        })
        .collect()
}

fn draw_tabs(model: &Model, area: Rect, buf: &mut Buffer) {
    let mut pen = Pen::new(buf, area, model.theme);
    if model.page == Page::Start {
        pen.text(1, area.y, "packwright", model.theme.style(Meaning::Heading));
        return;
    }
    let mut end = 0;
    for (page, x, text) in tabs(model) {
        let meaning = if page == model.page {
            Meaning::Selected
        } else {
            Meaning::Dim
        };
        pen.text(x, area.y, &text, model.theme.style(meaning));
        end = x + width(&text);
    }
    // The mark comes first: it must stand even when the name is cut.
    let changed = if model.is_changed() { "* " } else { "" };
    let name = format!("{changed}{}", model.job().name);
    let name = cut(&name, area.width.saturating_sub(end + 3));
    pen.text(
        area.width.saturating_sub(width(&name) + 1),
        area.y,
        &name,
        model.theme.style(Meaning::Heading),
    );
}

/// The page whose tab is at this cell.
pub(crate) fn tab_at(model: &Model, x: u16, y: u16) -> Option<Page> {
    let on = |(_, from, text): &&(Page, u16, String)| (*from..from + width(text)).contains(&x);
    if y != 0 || model.page == Page::Start {
        return None;
    }
    tabs(model).iter().find(on).map(|(page, ..)| *page)
}

fn draw_message(model: &Model, area: Rect, buf: &mut Buffer) {
    let mut area = area;
    if let Some(running) = &model.running {
        let text = running_words(running);
        let progress = Progress {
            done: running.done.0,
            total: Some(running.done.1),
            text: &text,
            theme: model.theme,
        };
        (&progress).render(area, buf);
        // What else there is to say stands under it, when there is room.
        area.y += 1;
        area.height -= 1;
        if area.height == 0 {
            return;
        }
    }
    let meaning = match model.message.grave {
        Tone::Fine => Meaning::Plain,
        Tone::Refused => Meaning::Caution,
    };
    (&MessageLine {
        meaning,
        text: &model.message.words,
        fix: "",
        theme: model.theme,
    })
        .render(area, buf);
}

/// How far the running task is, in words.
fn running_words(running: &Running) -> String {
    let doing = running.task.doing();
    if running.stopping {
        return format!("{doing}: stopping");
    }
    let margin = if running.narrower { " with a smaller margin" } else { "" };
    let best = match running.count {
        (_, 0) => String::new(),
        (count, at_most) => format!("{margin}: best so far {count}, at most {at_most}"),
    };
    let look = if running.live.is_some() && !running.watching {
        "f shows it, "
    } else {
        ""
    };
    format!("{doing}{best}; {look}Esc stops")
}

fn draw_title(model: &Model, area: Rect, buf: &mut Buffer) {
    let shown = model.shown();
    let facts = &shown.headline;
    let mark = |assumed: bool| if assumed { "~" } else { "" };
    let volts = facts.volts.map(|v| [v.empty, v.nominal, v.full].map(|v| v.shown(1)));
    let [empty, nominal, full] = volts.unwrap_or_else(|| ["-".to_owned(), "-".to_owned(), "-".to_owned()]);
    let empty = format!("{}{empty}", mark(facts.assumed.volts && facts.volts.is_some()));
    let pack = facts
        .arrangement
        .map_or(String::new(), |a| format!(" {}s{}p", a.series, a.parallel));
    let energy = facts.energy_kwh.map_or("-".to_owned(), |kwh| {
        format!("{}{kwh:.2} kWh{pack}", mark(facts.assumed.energy))
    });
    let mass = facts.mass_g.map_or("-".to_owned(), |g| {
        format!("{}{:.0} kg", mark(facts.assumed.mass), job::Grams(g).kg())
    });
    let (tightest, at, short) = tightest(shown);
    let block = TitleBlock {
        volts: [&empty, &nominal, &full],
        energy: &energy,
        mass: &mass,
        tightest: &tightest,
        tightest_at: &at,
        tightest_is: short,
        stops: facts.stops,
        cautions: facts.cautions,
        assumed: shown.assumptions.len(),
        theme: model.theme,
    };
    (&block).render(area, buf);
}

fn tightest(shown: &Evaluation) -> (String, String, Meaning) {
    match &shown.headline.tightest {
        None => ("-".to_owned(), String::new(), Meaning::Plain),
        Some(t) => {
            let mark = if shown.headline.assumed.clearance { "~" } else { "" };
            let size = format!("{mark}{}", shown.down(t.clearance.distance));
            let is = match (t.clearance.distance.is_negative(), t.clearance.is_short()) {
                (true, _) => Meaning::Stop,
                (false, true) => Meaning::Caution,
                (false, false) => Meaning::Plain,
            };
            // Where it is comes first: a name that is cut still tells the direction and the thing.
            (
                size,
                format!("{} to {}, {}", t.clearance.face.name(), t.clearance.name, t.name),
                is,
            )
        }
    }
}

fn draw_keys(model: &Model, area: Rect, buf: &mut Buffer) {
    let hint = |key, words, rank| KeyHint { key, words, rank };
    let typing = model.form().is_some_and(|f| f.typing.is_some());
    let hints: Vec<KeyHint<'_>> = match &model.overlay {
        Some(Overlay::Help(_) | Overlay::Findings(_)) => {
            vec![hint("up down", "scroll", 1), hint("any other key", "back", 0)]
        }
        Some(Overlay::Ask(ask)) if ask.about == About::Recover => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0)],
        Some(Overlay::Ask(ask)) => vec![hint("y", ask.yes, 0), hint("n", ask.no, 0), hint("Esc", "stay", 1)],
        Some(Overlay::Prompt(_)) => vec![hint("Enter", "do it", 0), hint("Esc", "leave", 0)],
        Some(Overlay::Offer(_)) => vec![
            hint("Enter", "take over", 0),
            hint("Esc", "keep what is there", 0),
            hint("up down", "other layout", 1),
            hint("v", "view", 2),
            hint("c", "next cavity", 2),
            hint("z", "zoom", 3),
        ],
        Some(Overlay::Choose(choose)) => {
            let keys = ["1", "1 2", "1 2 3"][choose.tasks.len().clamp(1, 3) - 1];
            vec![
                hint(keys, "do it", 0),
                hint("up down Enter", "choose", 1),
                hint("Esc", "leave", 0),
            ]
        }
        Some(Overlay::Takes) if model.running.is_some() => vec![
            hint("up down", "scroll", 1),
            hint("Enter", "to the value", 1),
            hint("Esc", "stop", 0),
        ],
        Some(Overlay::Takes) => vec![
            hint("up down", "scroll", 1),
            hint("Enter", "to the value", 1),
            hint("w", "ask of another part", 2),
            hint("Esc", "back", 0),
        ],
        None if typing => vec![
            hint("Enter", "take it, next", 0),
            hint("up down", "take it, move", 1),
            hint("Esc", "leave it as it was", 0),
        ],
        None => {
            let shown = table(model.page).into_iter().filter(|b| b.bar || area.height > 1);
            shown
                .map(|b| hint(b.show, b.words, if b.bar { 1 } else { 2 }))
                .collect()
        }
    };
    (&KeyBar {
        keys: &hints,
        theme: model.theme,
    })
        .render(area, buf);
}

/// The rows of a form as the widget draws them.
fn value_rows(model: &Model, rows: &[form::Row]) -> Vec<Row> {
    rows.iter()
        .map(|row| match row {
            form::Row::Heading(title) => Row::Section(title.clone()),
            form::Row::Text(text, meaning)
            | form::Row::Choice {
                words: text, meaning, ..
            } => Row::Text(text.clone(), *meaning),
            form::Row::Group {
                title, detail, open, ..
            } => {
                let mark = if *open { "-" } else { "+" };
                Row::Text(format!("   {mark} {title}  {detail}"), Meaning::Plain)
            }
            form::Row::NewReading { line, needed, .. } => {
                let meaning = if *needed { Meaning::Caution } else { Meaning::Plain };
                let note = if *needed {
                    "needed: type what the tape says"
                } else {
                    "one more, if you taped it"
                };
                Row::Value(ValueRow::new(meaning, line.to_string(), "").note(note))
            }
            form::Row::Field(field) => field_row(model, *field),
        })
        .collect()
}

fn field_row(model: &Model, field: job::Field) -> Row {
    let Some((_, shown)) = field::show(model.job(), &[field]).pop() else {
        return Row::Blank;
    };
    let (label, note) = match field {
        job::Field::ReadingValue(cavity, index) => (
            tape::reading_label(model, cavity, index),
            tape::reading_note(model, cavity, index).0,
        ),
        _ => {
            let note = match shown.state {
                job::State::Missing => "needed",
                job::State::Open => "not given",
                job::State::Assumed | job::State::Given => "",
            };
            (shown.label.to_owned(), note.to_owned())
        }
    };
    let text = match shown.state {
        job::State::Assumed => format!("~ {}", shown.text),
        _ => shown.text,
    };
    Row::Value(ValueRow::new(form::state_meaning(shown.state), label, text).note(note))
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

fn draw_form(model: &Model, body: Rect, buf: &mut Buffer) {
    let Some(form) = model.form() else { return };
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(body);
    let view = RowsView {
        rows: &shown,
        cursor: Some(form.cursor),
        theme: model.theme,
    };
    (&view).render(area, buf);
    draw_row_help(model, form, &rows, body, buf);
    if let Some((field, place)) = typing_field(model, body) {
        clear(place, buf);
        (&field).render(place, buf);
    }
}

fn clear(area: Rect, buf: &mut Buffer) {
    ratatui::widgets::Clear.render(area, buf);
}

/// Help for the row under the cursor, or why what was typed is refused.
fn draw_row_help(model: &Model, form: &Form, rows: &[form::Row], body: Rect, buf: &mut Buffer) {
    let y = body.bottom().saturating_sub(2);
    let room = body.width.saturating_sub(2);
    let refused = form.typing.as_ref().and_then(|t| t.refused.as_ref());
    let lines: Vec<(String, Meaning)> = match (refused, form.row(rows)) {
        (Some(refusal), _) => {
            let text = format!("!! {}; {}", refusal.problem, refusal.mend);
            wrap(&text, room).into_iter().map(|l| (l, Meaning::Stop)).collect()
        }
        (None, Some(form::Row::Field(field))) => {
            let choices = field::show(model.job(), &[*field])
                .pop()
                .map(|(_, s)| s.options)
                .unwrap_or_default();
            let choices = if choices.is_empty() {
                String::new()
            } else {
                format!(": {}", choices.join(" | "))
            };
            let text = format!("{}: {}{choices}", field.label(), field.help());
            wrap(&text, room).into_iter().map(|l| (l, Meaning::Dim)).collect()
        }
        (None, Some(form::Row::NewReading { .. })) => {
            let text =
                "what the tape says, as 41 5/8, 1057 mm or 41 5/8 +- 1/16; take the smallest place, and several places";
            wrap(text, room).into_iter().map(|l| (l, Meaning::Dim)).collect()
        }
        (None, Some(form::Row::Group { open, .. })) => {
            let text = if *open { "Enter closes" } else { "Enter opens" };
            vec![(text.to_owned(), Meaning::Dim)]
        }
        _ => Vec::new(),
    };
    let mut pen = Pen::new(buf, body, model.theme);
    for (i, (line, meaning)) in (0..2).zip(&lines) {
        pen.text(body.x + 1, y + i, line, model.theme.style(*meaning));
    }
}

/// The field that is being typed in, and where it stands: over its row.
fn typing_field(model: &Model, body: Rect) -> Option<(FieldView<'_>, Rect)> {
    let form = model.form()?;
    let typing = form.typing.as_ref()?;
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(body);
    let view = RowsView {
        rows: &shown,
        cursor: Some(form.cursor),
        theme: model.theme,
    };
    let line = form.cursor.checked_sub(view.first_in_sight(area.height))?;
    let y = area.y + u16::try_from(line).ok()?;
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
    let x = area.x + view.value_column(area.width);
    (y < area.bottom()).then(|| {
        (
            field,
            Rect {
                x,
                y,
                width: area.right().saturating_sub(x),
                height: 1,
            },
        )
    })
}

/// The row of the form that stands at this line of the screen.
pub(crate) fn form_row_at(model: &Model, y: u16) -> Option<usize> {
    let form = model.form()?;
    let rows = pages::rows(model);
    let shown = value_rows(model, &rows);
    let area = rows_area(areas(model.size).body);
    RowsView {
        rows: &shown,
        cursor: Some(form.cursor),
        theme: model.theme,
    }
    .row_at(area, y)
}

fn draw_start(model: &Model, body: Rect, buf: &mut Buffer) {
    let rows: Vec<Row> = start::offers(model)
        .iter()
        .map(|offer| {
            let (title, about) = start::words(model, offer);
            Row::Value(ValueRow::new(Meaning::Plain, title, "").note(about))
        })
        .collect();
    let intro = "Salvaged modules into boxes under an old truck: tape readings in, cut list out.";
    let mut pen = Pen::new(buf, body, model.theme);
    pen.text(body.x + 1, body.y + 1, intro, model.theme.style(Meaning::Plain));
    let below = Rect {
        x: body.x + 1,
        y: body.y + 3,
        width: body.width - 2,
        height: body.height.saturating_sub(12),
    };
    (&RowsView {
        rows: &rows,
        cursor: Some(model.start.cursor),
        theme: model.theme,
    })
        .render(below, buf);
    let mut y = body.bottom().saturating_sub(8);
    let mut pen = Pen::new(buf, body, model.theme);
    for caution in ::papers::cautions().iter().take(4) {
        for line in wrap(&format!("! {caution}"), body.width.saturating_sub(2)) {
            if y < body.bottom() {
                pen.text(body.x + 1, y, &line, model.theme.style(Meaning::Caution));
            }
            y += 1;
        }
    }
}

fn draw_papers(model: &Model, body: Rect, buf: &mut Buffer) {
    let mut rows: Vec<Row> = papers_rows();
    rows.push(Row::Blank);
    let shown = &model.evaluation;
    rows.push(Row::Section("what stands on them".to_owned()));
    for table in &shown.cut.list.tables {
        rows.push(Row::Text(
            format!("{}: {}", table.label(), pieces(table.pieces)),
            Meaning::Plain,
        ));
    }
    let assumed = shown.assumptions.len();
    if assumed > 0 {
        let text =
            format!("~ {assumed} values are assumed; sizes and masses that rest on them say so. c confirms one.");
        rows.push(Row::Text(text, Meaning::Assumed));
    }
    for finding in shown.findings.iter().filter(|f| f.grave == job::Grave::Stop) {
        rows.push(Row::Text(
            format!("!! {} {}", finding.name, finding.words),
            Meaning::Stop,
        ));
    }
    rows.push(Row::Text(
        "Try a cardboard mock-up in the real opening before steel is cut.".to_owned(),
        Meaning::Caution,
    ));
    let area = Rect {
        x: body.x + 1,
        y: body.y + 1,
        width: body.width - 2,
        height: body.height.saturating_sub(1),
    };
    (&RowsView {
        rows: &rows,
        cursor: Some(model.paper),
        theme: model.theme,
    })
        .render(area, buf);
}

fn papers_rows() -> Vec<Row> {
    papers::ACTIONS
        .iter()
        .map(|(_, title, about)| Row::Value(ValueRow::new(Meaning::Plain, *title, "").note(*about)))
        .collect()
}

/// The window without the key bar.
const fn above_keys(window: Rect, areas: &Areas) -> Rect {
    Rect {
        height: window.height - areas.keys.height,
        ..window
    }
}

/// A long text over the page, from line `scroll` on.
fn draw_long(model: &Model, title: &str, sections: &[HelpSection], scroll: u16, place: Rect, buf: &mut Buffer) {
    let page = HelpPage {
        title,
        sections,
        scroll: usize::from(scroll),
        theme: model.theme,
    };
    (&page).render(place, buf);
}

fn draw_overlay(model: &Model, area: Rect, areas: &Areas, buf: &mut Buffer) {
    match &model.overlay {
        None => {}
        Some(Overlay::Help(scroll)) => {
            let title = format!("help: {}", model.page.name());
            draw_long(
                model,
                &title,
                &help_sections(model),
                *scroll,
                above_keys(area, areas),
                buf,
            );
        }
        Some(Overlay::Findings(scroll)) => {
            let title = "everything the program has to say";
            draw_long(
                model,
                title,
                &finding_sections(model),
                *scroll,
                above_keys(area, areas),
                buf,
            );
        }
        Some(Overlay::Ask(ask)) => {
            let answers = [("y", ask.yes), ("n", ask.no)];
            let confirm = Confirm {
                question: &ask.words,
                detail: "",
                answers: &answers,
                chosen: 0,
                theme: model.theme,
            };
            (&confirm).render(area, buf);
        }
        Some(Overlay::Prompt(prompt)) => {
            let place = prompt_area(areas);
            clear(place, buf);
            let mut pen = Pen::new(buf, place, model.theme);
            pen.text(
                place.x + 1,
                place.y,
                &cut(&prompt.help, place.width - 2),
                model.theme.style(Meaning::Dim),
            );
            let refused = prompt.typing.refused.as_ref();
            let error = refused.map(|r| format!("{}; {}", r.problem, r.mend));
            (&prompt_field(model, prompt, error.as_deref())).render(field_line(place), buf);
        }
        Some(Overlay::Offer(offer)) => {
            clear(areas.message, buf);
            let n = offer.found.candidates.len();
            let which = if n > 1 {
                format!("layout {} of {n}; ", offer.shown + 1)
            } else {
                String::new()
            };
            let text = format!("{which}{}", layout::verdict(&offer.found.proposal, &model.evaluation));
            (&MessageLine {
                meaning: Meaning::Caution,
                text: &text,
                fix: "",
                theme: model.theme,
            })
                .render(areas.message, buf);
        }
        Some(Overlay::Choose(choose)) => {
            let numbers = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];
            let tasks = choose.tasks.iter().zip(numbers);
            let answers: Vec<(&str, &str)> = tasks.map(|((_, words), n)| (n, words.as_str())).collect();
            let confirm = Confirm {
                question: choose.question,
                detail: "",
                answers: &answers,
                chosen: choose.cursor,
                theme: model.theme,
            };
            (&confirm).render(area, buf);
        }
        Some(Overlay::Takes) => draw_takes(model, areas.body, buf),
    }
}

/// The panel that tells what one more module would take, over the page.
fn draw_takes(model: &Model, body: Rect, buf: &mut Buffer) {
    clear(body, buf);
    let mut pen = Pen::new(buf, body, model.theme);
    let title = cut(&takes::title(model), body.width.saturating_sub(2));
    pen.text(body.x + 1, body.y, &title, model.theme.style(Meaning::Heading));
    let area = Rect {
        x: body.x + 1,
        y: body.y + 1,
        width: body.width.saturating_sub(2),
        height: body.height.saturating_sub(1),
    };
    let (rows, cursor) = takes::rows(model, area.width);
    (&RowsView {
        rows: &rows,
        cursor,
        theme: model.theme,
    })
        .render(area, buf);
}

/// Three lines at the bottom of the page.
const fn prompt_area(areas: &Areas) -> Rect {
    let body = areas.body;
    Rect {
        y: body.y + body.height.saturating_sub(3),
        height: 4,
        ..body
    }
}

const fn field_line(place: Rect) -> Rect {
    Rect {
        x: place.x + 1,
        y: place.y + 1,
        width: place.width.saturating_sub(2),
        height: 2,
    }
}

fn prompt_field<'a>(model: &'a Model, prompt: &'a Prompt, error: Option<&'a str>) -> FieldView<'a> {
    FieldView {
        label: prompt.label,
        label_width: 22,
        text: &prompt.typing.input,
        text_width: 50,
        unit: "",
        error,
        assumed: false,
        focused: true,
        theme: model.theme,
    }
}

/// Where the terminal's own cursor stands, when something is being typed.
fn cursor(model: &Model, areas: &Areas) -> Option<ratatui::layout::Position> {
    match &model.overlay {
        Some(Overlay::Prompt(prompt)) => prompt_field(model, prompt, None).cursor(field_line(prompt_area(areas))),
        Some(_) => None,
        None => typing_field(model, areas.body).and_then(|(field, place)| field.cursor(place)),
    }
}

fn help_sections(model: &Model) -> Vec<HelpSection> {
    let keys = table(model.page)
        .iter()
        .map(|b| (b.show.to_owned(), b.words.to_owned()))
        .collect();
    let about = match model.page {
        Page::Start => "Start a job, open one, or look at an example.",
        Page::Tape => {
            "Tape each hollow at several places: the smallest reading less a few sigma is what counts, and the cavity is taken as square. A number goes straight into the field under the cursor. Keep-outs are what must stay free: from and to, from the front-left-bottom corner."
        }
        Page::Modules => {
            "Seven values make a first layout; everything else has a default, marked ~ until you confirm it."
        }
        Page::Layout => {
            "Select with n or the mouse, nudge with the arrows by the step shown. A box wraps its modules, so a module at its edge takes the wall with it. ! less than asked for, !! in the way."
        }
        Page::Pack => {
            "Every series and parallel that the units on hand allow, against the drive and the charger, with the reason beside each that does not fit."
        }
        Page::Boxes => "Open a box with Enter to see its clearances and where every millimetre goes.",
        Page::Papers => "Write the cut list, or all papers, into files.",
    };
    let marks = "!! stop: cannot work or outside a limit   ! caution   ~ rests on an assumed value   * not saved";
    vec![
        HelpSection {
            title: "this page".to_owned(),
            keys: Vec::new(),
            text: about.to_owned(),
        },
        HelpSection {
            title: "keys".to_owned(),
            keys,
            text: String::new(),
        },
        HelpSection {
            title: "marks".to_owned(),
            keys: Vec::new(),
            text: marks.to_owned(),
        },
        HelpSection {
            title: "cautions".to_owned(),
            keys: ::papers::cautions()
                .iter()
                .map(|c| ("!".to_owned(), (*c).to_owned()))
                .collect(),
            text: String::new(),
        },
    ]
}

fn finding_sections(model: &Model) -> Vec<HelpSection> {
    let shown = model.shown();
    let keys = shown
        .findings
        .iter()
        .map(|f| {
            let fix = if f.fix.is_empty() {
                String::new()
            } else {
                format!("; fix: {}", f.fix)
            };
            let source = if f.source.is_empty() {
                String::new()
            } else {
                format!(" (limit from: {})", f.source)
            };
            (
                finding_meaning(f).mark().to_owned(),
                format!("{}: {}{fix}{source}", f.name, f.words),
            )
        })
        .collect();
    let assumed = shown
        .assumptions
        .iter()
        .map(|a| ("~".to_owned(), format!("{}: {}", a.label, a.text)))
        .collect();
    vec![
        HelpSection {
            title: "findings, the grave first".to_owned(),
            keys,
            text: String::new(),
        },
        HelpSection {
            title: "assumed until you confirm it".to_owned(),
            keys: assumed,
            text: String::new(),
        },
    ]
}

/// A number of pieces in words.
fn pieces(n: u32) -> String {
    format!("{n} piece{}", if n == 1 { "" } else { "s" })
}
