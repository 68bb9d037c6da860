//! What each command does.

use ::tape::Length;
use geometry::Axis;
use job::layout::Aim;
use job::{Edit, Field, State, UnitsEdit, field};

use super::{back, nests, overlay, papers, pick, survey, tasks, walk, ways, wiring};
use crate::form::{Form, Group, Row};
use crate::keys::{Command, Toward};
use crate::model::{About, Ask, Effect, Goal, Model, Overlay, Prompt, job_edit::Removal};
use crate::page::Page;
use crate::pages::layout::{Reach, Thing, hand, steps};
use crate::pages::{self, boxes, start, tape, truck, units};

/// Does what `command` says.
pub(super) fn carry_out(model: &mut Model, command: Command) -> Vec<Effect> {
    match command {
        Command::Help => model.overlay = Some(Overlay::Help(0)),
        Command::Findings => model.overlay = Some(Overlay::Findings(0)),
        Command::Quit => return overlay::leave(model, true),
        Command::Another => return overlay::leave(model, false),
        Command::Save => return save(model),
        Command::SaveAs => overlay::ask_file(model, None),
        Command::Undo => back::undo(model),
        Command::Redo => back::redo(model),
        Command::NextPage => turn_to(model, model.page.step(1)),
        Command::PreviousPage => turn_to(model, model.page.step(-1)),
        Command::To(page) => turn_to(model, page),
        Command::Mouse => {
            model.mouse = !model.mouse;
            let words = if model.mouse {
                "the mouse selects here"
            } else {
                "the mouse selects text; M takes it back"
            };
            model.tell(words);
            return vec![Effect::Mouse(model.mouse)];
        }
        Command::Stop => return tasks::stop(model),
        Command::Fit => return tasks::fit(model, Aim::Whole),
        Command::FitPart => tasks::ask_fit(model),
        Command::Spread => tasks::ask_spread(model),
        Command::Takes => tasks::show_takes(model),
        Command::Wiring => {
            let to = if model.page == Page::Wiring {
                Page::Layout
            } else {
                Page::Wiring
            };
            turn_to(model, to);
            wiring::settle(model);
        }
        Command::Ways => return ways::show(model),
        _ => return on_page(model, command),
    }
    Vec::new()
}

fn on_page(model: &mut Model, command: Command) -> Vec<Effect> {
    match model.page {
        Page::Start => return on_start(model, command),
        Page::Layout => on_layout(model, command),
        Page::Papers => return papers::carry_out(model, command),
        Page::Wiring => return wiring::carry_out(model, command),
        Page::Tape | Page::Modules | Page::Pack | Page::Boxes | Page::Units | Page::Truck => {
            return on_form(model, command);
        }
    }
    Vec::new()
}

pub(super) fn turn_to(model: &mut Model, page: Page) {
    if model.page != page {
        // What was told of the page before says nothing here.
        model.tell("");
    }
    model.page = page;
    let rows = pages::rows(model);
    if let Some(form) = model.form_mut() {
        form.settle(&rows);
    }
}

fn save(model: &mut Model) -> Vec<Effect> {
    match (&model.file, &model.read_only) {
        (_, Some(why)) => {
            let why = why.clone();
            model.refuse(format!("{why}; S saves under another name"));
            Vec::new()
        }
        (Some(file), None) => vec![Effect::Save(file.clone())],
        (None, None) => {
            overlay::ask_file(model, None);
            Vec::new()
        }
    }
}

fn on_start(model: &mut Model, command: Command) -> Vec<Effect> {
    let offers = start::offers(model);
    match command {
        Command::Up => model.start.cursor = model.start.cursor.saturating_sub(1),
        Command::Down => model.start.cursor = (model.start.cursor + 1).min(offers.len().saturating_sub(1)),
        Command::New => {
            return start::take(model, &start::Offer::New(model.job().units))
                .into_iter()
                .collect();
        }
        Command::Open => overlay::ask_open(model),
        Command::Enter => match offers.get(model.start.cursor) {
            Some(start::Offer::Open) => overlay::ask_open(model),
            Some(offer) => return start::take(model, offer).into_iter().collect(),
            None => {}
        },
        _ => {}
    }
    Vec::new()
}

fn on_layout(model: &mut Model, command: Command) {
    let last_step = steps(model.evaluation.units).len() - 1;
    let only_looks = matches!(
        command,
        Command::View | Command::Zoom | Command::Cavity | Command::Finer | Command::Coarser
    );
    if !only_looks {
        model.look_away();
    }
    match command {
        Command::Left => hand::move_it(model, model.sheet.face(Toward::Left)),
        Command::Right => hand::move_it(model, model.sheet.face(Toward::Right)),
        Command::Up => hand::move_it(model, model.sheet.face(Toward::Up)),
        Command::Down => hand::move_it(model, model.sheet.face(Toward::Down)),
        Command::Lower => hand::move_it(model, model.sheet.depth()[0]),
        Command::Higher => hand::move_it(model, model.sheet.depth()[1]),
        Command::Touch => model.sheet.reach = Some(Reach::Touch),
        Command::Keep => model.sheet.reach = Some(Reach::Keep),
        Command::TouchNow(toward) => {
            model.sheet.reach = Some(Reach::Touch);
            hand::move_it(model, model.sheet.face(toward));
        }
        Command::Finer => model.sheet.step = model.sheet.step.saturating_sub(1),
        Command::Coarser => model.sheet.step = (model.sheet.step + 1).min(last_step),
        Command::Next => hand::select_next(model, 1),
        Command::Previous => hand::select_next(model, -1),
        Command::Outer => hand::outer(model),
        Command::Cavity => hand::next_cavity(model),
        Command::View => hand::next_view(model),
        Command::Zoom => model.sheet.zoomed = !model.sheet.zoomed,
        Command::Turn => hand::turn(model),
        Command::Add => hand::add(model),
        Command::AddBox => {
            hand::add_box(model);
        }
        Command::Remove => match model.sheet.selected {
            Some(Thing::Box(id)) if model.evaluation.battery_box(id).is_some_and(|b| !b.modules.is_empty()) => {
                overlay::ask_remove(model, Removal::Box(id));
            }
            _ => hand::remove(model),
        },
        Command::More => hand::restack(model, 1),
        Command::Fewer => hand::restack(model, -1),
        Command::MoveToBox => hand::to_next_box(model),
        Command::Pin => hand::pin(model),
        _ => {}
    }
}

fn on_form(model: &mut Model, command: Command) -> Vec<Effect> {
    let rows = pages::rows(model);
    let Some(form) = model.form_mut() else {
        return Vec::new();
    };
    match command {
        Command::Up => form.step(&rows, -1),
        Command::Down => form.step(&rows, 1),
        Command::PageUp => form.step(&rows, -10),
        Command::PageDown => form.step(&rows, 10),
        Command::First => form.to(&rows, 0),
        Command::Last => form.to(&rows, rows.len()),
        Command::SectionUp => form.to_section(&rows, false),
        Command::SectionDown => form.to_section(&rows, true),
        Command::Left => choose(model, &rows, -1),
        Command::Right => choose(model, &rows, 1),
        Command::Enter => return enter(model, &rows),
        Command::Clear => {
            if let Some(Row::Field(field)) = form.row(&rows) {
                // A refusal is already told in the message line.
                let _ = model.apply(Edit::Set {
                    field: *field,
                    text: String::new(),
                });
            }
        }
        Command::Confirm => {
            if let Some(Row::Field(field)) = form.row(&rows).cloned() {
                let _ = model.apply(Edit::Confirm(field));
                let rows = pages::rows(model);
                if let Some(form) = model.form_mut() {
                    form.step(&rows, 1);
                }
            }
        }
        Command::ConfirmAll => confirm_all(model, &rows),
        Command::Place => ask_place(model, &rows),
        Command::Decide => survey::decide(model, &rows),
        Command::Taken => survey::taken(model, &rows),
        Command::Again => survey::again(model, &rows),
        Command::Reach => survey::reach(model, &rows),
        Command::State => survey::ask_statement(model, &rows),
        Command::Details => {
            model.taping.details = !model.taping.details;
            model.tell(if model.taping.details {
                "details of each reading"
            } else {
                "without details"
            });
        }
        Command::Picture => model.other_way = !model.other_way,
        Command::Nests => return nests::show(model),
        Command::Changed if model.changed.is_some() => model.overlay = Some(Overlay::Changed(0)),
        Command::Changed => model.tell("nothing was changed on this page yet"),
        Command::Glands => glands(model),
        Command::AddStock => boxes::stock::add(model, false),
        Command::AddBedPart => boxes::bed::add(model),
        Command::AddOffcut => boxes::stock::add(model, true),
        Command::Add | Command::AddKeepOut | Command::AddPoint | Command::AddLoad => return add(model, command, &rows),
        Command::ToRoad => to_road(model, &rows),
        Command::Remove => remove(model, &rows),
        Command::ReadSheet => overlay::ask_sheet(model),
        Command::Match => return units::start_matching(model),
        _ => {}
    }
    Vec::new()
}

/// The field under the cursor with its state and choices.
pub(super) fn field_here(model: &Model, rows: &[Row]) -> Option<(Field, field::Shown)> {
    match model.form()?.row(rows)? {
        Row::Field(field) => field::show(model.job(), &[*field]).pop(),
        _ => None,
    }
}

/// The next (or previous) of a field's choices.
fn choose(model: &mut Model, rows: &[Row], by: isize) {
    let Some((field, shown)) = field_here(model, rows) else {
        return;
    };
    let n = shown.options.len().cast_signed();
    if n == 0 {
        return model.tell("this value is typed: Enter opens it");
    }
    let here = shown.options.iter().position(|o| *o == shown.text).unwrap_or(0);
    let next = (here.cast_signed() + by).rem_euclid(n).cast_unsigned();
    // A refusal is already told in the message line.
    let _ = model.apply(Edit::Set {
        field,
        text: shown.options[next].to_owned(),
    });
}

fn enter(model: &mut Model, rows: &[Row]) -> Vec<Effect> {
    let here = field_here(model, rows);
    let Some(form) = model.form_mut() else {
        return Vec::new();
    };
    match (form.row(rows), here) {
        (Some(Row::Choice { arrangement, .. }), _) => return tasks::fit(model, Aim::Wanted((*arrangement).into())),
        (
            Some(&Row::Group {
                of: of @ Group::Cavity(id),
                open: false,
                ..
            }),
            _,
        ) => {
            form.open = Some(of);
            survey::start(model, id);
        }
        (Some(Row::Group { of, open, .. }), _) => form.open = if *open { None } else { Some(*of) },
        (Some(Row::NewReading { .. }), _) => form.type_in(""),
        (Some(Row::Field(_)), Some((field, shown))) if !shown.options.is_empty() => {
            pick::open(model, field, shown, None);
        }
        (Some(Row::Field(_)), Some((_, shown))) => {
            // What was assumed is not retyped by correcting it: an empty field shows the default beside it.
            let given = shown.state == State::Given;
            form.retype(if given { &shown.text } else { "" });
        }
        (None, _) if model.page == Page::Units => {
            model.tell("no unit is entered yet: i reads a test sheet, a adds one by hand");
        }
        _ => model.tell("there is nothing to open on this row"),
    }
    Vec::new()
}

fn confirm_all(model: &mut Model, rows: &[Row]) {
    let fields: Vec<Field> = rows
        .iter()
        .filter_map(|r| if let Row::Field(f) = r { Some(*f) } else { None })
        .collect();
    let assumed: Vec<Field> = field::show(model.job(), &fields)
        .into_iter()
        .filter(|(_, shown)| shown.state == State::Assumed)
        .map(|(field, _)| field)
        .collect();
    let mut confirmed = 0;
    for field in assumed {
        confirmed += usize::from(model.apply(Edit::Confirm(field)).is_ok());
    }
    model.tell(format!("{confirmed} assumed values of this page confirmed"));
}

fn ask_place(model: &mut Model, rows: &[Row]) {
    match model.form().and_then(|f| f.row(rows)) {
        Some(Row::Field(Field::ReadingValue(cavity, index))) => {
            let (cavity, index) = (*cavity, *index);
            let reading = model.job().cavity(cavity).and_then(|c| c.readings.get(index));
            let line = reading.map_or(String::new(), |r| r.line.to_string());
            let help = Field::ReadingLine(cavity, index).help();
            let goal = Goal::ReadingLine(cavity, index);
            model.overlay = Some(Overlay::Prompt(Prompt::new("where it was taken", help, goal, &line)));
        }
        _ => model.tell("put the cursor on a reading first"),
    }
}

/// Puts the cursor on the first row that `is`.
pub(super) fn go_to(model: &mut Model, is: impl Fn(&Row) -> bool) {
    let rows = pages::rows(model);
    if let (Some(at), Some(form)) = (rows.iter().position(is), model.form_mut()) {
        form.cursor = at;
    }
}

/// Rows of the window that no row of a form has: tabs, help, title block, keys.
const OTHER_ROWS: u16 = 7;

/// To the section of the truck on the road, the cursor so far into it that it begins at the top of the page; from within
/// it, back to the top.
fn to_road(model: &mut Model, rows: &[Row]) {
    let first = truck::road::first_row(rows).unwrap_or_default();
    let half = usize::from(model.size.1.saturating_sub(OTHER_ROWS) / 2);
    if let Some(form) = model.form_mut() {
        form.cursor = if form.cursor < first { first + half } else { 0 };
        form.settle(rows);
    }
}

fn add(model: &mut Model, command: Command, rows: &[Row]) -> Vec<Effect> {
    let cursor = model.form().map_or(0, |f: &Form| f.cursor);
    match (model.page, command) {
        (Page::Tape, Command::Add) => {
            if model.apply(Edit::AddCavity).is_ok()
                && let Some(id) = model.job().cavities.last().map(|c| c.id)
            {
                go_to(model, |r| matches!(r, Row::NewReading { cavity, .. } if *cavity == id));
                open_here(model);
            }
        }
        (Page::Tape, Command::AddKeepOut) => {
            let Some(cavity) = tape::cavity_at(model, rows, cursor) else {
                return Vec::new();
            };
            if model.apply(Edit::AddKeepOut(cavity)).is_ok() {
                let added = model
                    .job()
                    .cavity(cavity)
                    .and_then(|c| c.keep_outs.last())
                    .map(|k| k.id);
                model.tape.open = added.map(Group::KeepOut);
                if let Some(id) = added {
                    go_to(model, |r| *r == Row::Field(Field::KeepOutName(id)));
                    open_here(model);
                }
            }
        }
        (Page::Boxes, Command::Add) => add_fitting(model, rows, cursor),
        (Page::Units, Command::Add) => units::add(model),
        (Page::Truck, Command::Add) => truck::lists::add(model),
        (Page::Truck, Command::AddPoint) => truck::lists::add_point(model),
        (Page::Truck, Command::AddLoad) => truck::lists::add_carried(model),
        (Page::Modules, Command::Add) => {
            if model.apply(Edit::AddKind).is_ok()
                && let Some(id) = model.job().kinds.last().map(|k| k.id)
            {
                go_to(model, |r| *r == Row::Field(Field::KindSize(id, Axis::X)));
                open_here(model);
            }
        }
        _ => {}
    }
    Vec::new()
}

/// Lets a fitting into the box under the cursor, or into the first one.
fn add_fitting(model: &mut Model, rows: &[Row], cursor: usize) {
    let first = model.job().boxes.first().map(|b| b.id);
    let Some(id) = pages::boxes::box_at(rows, cursor).or(first) else {
        return model.tell("there is no box yet: lay the modules out first");
    };
    let inside = model.evaluation.battery_box(id).and_then(|b| b.inside);
    let half = |axis| inside.map_or(Length::ZERO, |space| space.size()[axis].half_down());
    let at = [Axis::Y, Axis::Z].map(half);
    if model.apply(Edit::AddFitting { into: id, at }).is_ok() {
        model.boxes.open = Some(Group::Box(id));
        let added = model.job().battery_box(id).and_then(|b| b.fittings.last());
        if let Some(fitting) = added.map(|f| f.id) {
            go_to(model, |r| *r == Row::Field(Field::FittingWhat(fitting)));
        }
    }
}

/// Lets in a gland for each cable that leaves a box and has none, box after box.
fn glands(model: &mut Model) {
    let proposals = job::glands::propose(model.job(), &model.evaluation);
    let before = model.evaluation.headline.clone();
    let (mut count, mut narrow) = (0, 0);
    let mut without: Vec<(String, String)> = Vec::new();
    for proposal in &proposals {
        if let Some(edit) = proposal.edit()
            && model.apply(edit).is_ok()
        {
            count += proposal.glands.len();
            narrow += proposal.glands.iter().filter(|gland| !gland.keeps_margin).count();
            model.boxes.open = Some(Group::Box(proposal.battery_box));
        }
        let of_box = proposal.without.iter();
        without.extend(of_box.map(|(_, why)| (proposal.name.clone(), why.clone())));
    }
    let mut told = Vec::new();
    told.push(match (proposals.is_empty(), count) {
        (true, _) => "no cable leaves a box yet: the pack has to be laid out whole".to_owned(),
        (false, 0) if without.is_empty() => "every cable that leaves a box has its gland".to_owned(),
        (false, 0) => "no gland let in".to_owned(),
        (false, count) => format!(
            "{count} gland{} let in; u takes one box's back",
            if count == 1 { "" } else { "s" }
        ),
    });
    if narrow > 0 {
        let now = &model.evaluation.headline;
        let new = |was: usize, is: usize, one: &str| match is.saturating_sub(was) {
            0 => None,
            1 => Some(format!("1 new {one}")),
            n => Some(format!("{n} new {one}s")),
        };
        let new: Vec<String> = [
            new(before.stops, now.stops, "stop"),
            new(before.cautions, now.cautions, "caution"),
        ]
        .into_iter()
        .flatten()
        .collect();
        let tells = if new.is_empty() {
            String::new()
        } else {
            format!(", {}: ! tells", new.join(" and "))
        };
        told.push(format!("{narrow} with less than the margin outside{tells}"));
    }
    // Whole in three lines of a small window: one reason stands for all, the box says the rest.
    if let Some((name, why)) = without.first() {
        let more = without.len() - 1;
        let more = if more > 0 {
            format!(", {more} more get none")
        } else {
            String::new()
        };
        told.push(format!("{name}: {why}{more}"));
    }
    model.tell(told.join("; "));
}

fn open_here(model: &mut Model) {
    if let Some(form) = model.form_mut() {
        form.type_in("");
    }
}

fn remove(model: &mut Model, rows: &[Row]) {
    let Some(form) = model.form() else { return };
    let cursor = form.cursor;
    match (model.page, form.row(rows).cloned()) {
        (Page::Tape, Some(Row::Field(Field::ReadingValue(cavity, index)))) => {
            // A refusal is already told in the message line.
            let _ = model.apply(Edit::RemoveReading { cavity, index });
        }
        (Page::Tape, Some(Row::Field(Field::StatementWithin(cavity, index)))) => {
            let _ = model.apply(Edit::RemoveStatement { cavity, index });
        }
        (Page::Tape, Some(Row::Field(Field::CavityName(id)))) => overlay::ask_remove(model, Removal::Cavity(id)),
        (Page::Modules, Some(_)) => {
            if let Some(id) = pages::modules::kind_at(model, rows, cursor) {
                overlay::ask_remove(model, Removal::Kind(id));
            }
        }
        (_, Some(Row::Group { of, .. })) => remove_group(model, of),
        (Page::Boxes, Some(Row::Field(field))) if field.fitting().is_some() => {
            if let Some(id) = field.fitting() {
                let _ = model.apply(Edit::RemoveFitting(id));
            }
        }
        _ => model.tell(
            "x removes a reading, a keep-out, a fitting, or with the cursor on its name a cavity, kind, box, stock or component",
        ),
    }
    let rows = pages::rows(model);
    if let Some(form) = model.form_mut() {
        form.settle(&rows);
    }
}

/// Takes what a group is of out of the job; what takes much with it is asked about first.
fn remove_group(model: &mut Model, of: Group) {
    match of {
        Group::Cavity(_) => model.tell("x on one of its lines removes that reading"),
        Group::KeepOut(id) => {
            // A refusal is already told in the message line.
            let _ = model.apply(Edit::RemoveKeepOut(id));
        }
        Group::Box(id) => overlay::ask_remove(model, Removal::Box(id)),
        Group::Faces(_) => model.tell("open it and write closed at a face"),
        Group::BedPart(index) => boxes::bed::remove(model, index),
        Group::Stock(index) => boxes::stock::remove(model, index),
        Group::Unit(index) => {
            let _ = model.apply(Edit::Units(UnitsEdit::Remove(index)));
        }
        Group::Component(_) | Group::Point(_) | Group::Carried(_) => truck::lists::remove(model, of),
    }
}

/// Starts the walk from needed value to needed value: a new job opens on its first reading.
///
/// One that needs nothing more only waits for the word: nothing is laid out unasked when a file is opened.
pub(super) fn begin_walk(model: &mut Model) {
    if walk::is_done(model) {
        model.page = Page::Layout;
        model.tell("nothing is laid out yet: f lays out, a adds a module by hand");
        return;
    }
    model.walking = true;
    walk::on(model);
}

impl Ask {
    /// A question with yes and no.
    pub fn new(words: impl Into<String>, yes: &'static str, no: &'static str, about: About) -> Self {
        Self {
            words: words.into(),
            yes,
            no,
            about,
        }
    }
}
