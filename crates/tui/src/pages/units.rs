//! The Units page: the test sheet, who is built in where, what the groups come to.

use job::units::{Matching, kind_of_sheet};
use job::{Edit, Field, Id, Joined, Matched, UnitResult, UnitsEdit};
use pack::matching::Proof;

use crate::form::{Group, Row};
use crate::model::{About, Ask, Effect, Model, Overlay};
use crate::task::Task;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// The rows: what the pack comes to with these units, then each unit, then the groups.
pub fn rows(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    if model.job().tested.is_empty() {
        rows.push(Row::Heading("tested units".to_owned()));
        let room = model.size.0.saturating_sub(8).max(20);
        for (text, meaning) in [
            (
                "No unit is entered yet. i reads a test sheet: a table as text with each unit's name, amp-hours, \
                 milliohms and volts, columns in any order. a adds one by hand. With all of them measured, m puts each \
                 where the weakest group is as strong as can be.",
                Meaning::Plain,
            ),
            (
                "! Measure with insulated tools: a module is live on the bench and cannot be switched off.",
                Meaning::Caution,
            ),
        ] {
            rows.extend(wrap(text, room).into_iter().map(|line| Row::Text(line, meaning)));
        }
        return rows;
    }
    for kind in &model.evaluation.kinds {
        if model.job().tested.iter().any(|u| u.kind == kind.id) {
            of_kind(model, kind.id, &kind.name, &mut rows);
        }
    }
    rows
}

fn of_kind(model: &Model, kind: Id, name: &str, rows: &mut Vec<Row>) {
    let pack = model.evaluation.packs.iter().find(|p| p.kind == kind);
    let electric = pack.and_then(|p| p.electric.as_ref());
    let matched = electric.and_then(|e| e.matched.as_ref());
    rows.push(Row::Heading(format!("units of {name}")));
    if let (Some(matched), Some(electric)) = (matched, electric) {
        for text in words(matched, electric.joined) {
            let meaning = if text.starts_with('!') {
                Meaning::Caution
            } else {
                Meaning::Plain
            };
            rows.push(Row::Text(text, meaning));
        }
    }
    for (index, unit) in model.job().tested.iter().enumerate().filter(|(_, u)| u.kind == kind) {
        let of = Group::Unit(index);
        let open = model.units.open == Some(of);
        let result = matched.and_then(|m| m.unit(index));
        rows.push(Row::Group {
            of,
            title: unit.name.clone(),
            detail: result.map_or(String::new(), detail),
            open,
        });
        if open {
            rows.extend(
                [
                    Field::UnitName(index),
                    Field::UnitAmpHours(index),
                    Field::UnitResistance(index),
                    Field::UnitRestVolts(index),
                    Field::UnitSeat(index),
                    Field::UnitSetAside(index),
                    Field::UnitNote(index),
                ]
                .map(Row::Field),
            );
        }
    }
    if let (Some(matched), Some(electric)) = (matched, electric) {
        groups(matched, electric.joined, rows);
    }
}

fn detail(unit: &UnitResult) -> String {
    let number = |value: Option<f64>, decimals: usize, unit: &str| {
        value.map_or_else(
            || format!("{:>9}", "-"),
            |v| format!("{:>9}", format!("{v:.decimals$} {unit}")),
        )
    };
    let health = unit
        .health
        .map_or_else(|| "     ".to_owned(), |h| format!("{:>4.0} %", h * 100.0));
    let place = match (unit.set_aside, unit.place.is_empty()) {
        (true, _) => "set aside".to_owned(),
        (false, true) => "spare".to_owned(),
        (false, false) => format!("{} {}", unit.seat.map_or(String::new(), |s| s.to_string()), unit.place),
    };
    let odd = if unit.odd.is_empty() {
        String::new()
    } else {
        format!("  ! {}", unit.odd)
    };
    format!(
        "{} {} {} {health}  {place}{odd}",
        number(unit.amp_hours, 2, "Ah"),
        number(unit.milliohms, 2, "mohm"),
        number(unit.rest_volts, 3, "V")
    )
}

/// What the tested units come to, a line each.
fn words(matched: &Matched, joined: Joined) -> Vec<String> {
    let mut lines = vec![format!(
        "{} unit{}: {} built in, {} spare, {} without one",
        matched.units.len(),
        if matched.units.len() == 1 { "" } else { "s" },
        matched.seated,
        matched.spare,
        match matched.unassigned {
            1 => "1 module".to_owned(),
            n => format!("{n} modules"),
        }
    )];
    if let Some([mean, least]) = matched.health {
        lines.push(format!(
            "state of health: {:.0} % on the mean, {:.0} % the least",
            mean * 100.0,
            least * 100.0
        ));
    }
    if let Some(ah) = matched.amp_hours {
        let loss = matched.loss.map_or(String::new(), |l| {
            format!(", {:.1} % under groups all alike", l * 100.0)
        });
        let what = match joined {
            Joined::Groups => "the weakest group",
            Joined::Strings => "the strings together",
        };
        lines.push(format!("the pack has {ah:.2} Ah with them: {what}{loss}"));
    }
    if let Some(limit) = matched.may_be_apart {
        lines.push(format!("join only {} ({})", limit.words(), limit.source));
    }
    lines
}

fn groups(matched: &Matched, joined: Joined, rows: &mut Vec<Row>) {
    if matched.groups.iter().all(|g| g.units.is_empty()) {
        return;
    }
    let word = match joined {
        Joined::Groups => "group",
        Joined::Strings => "string",
    };
    rows.push(Row::Heading(format!("{word}s from the pack's minus")));
    for group in &matched.groups {
        let names: Vec<&str> = group.units.iter().map(|&i| matched.units[i].name.as_str()).collect();
        let ah = group.amp_hours.map_or("-".to_owned(), |ah| format!("{ah:.2} Ah"));
        let weakest = if group.weakest { "  < the weakest" } else { "" };
        let apart = group
            .apart
            .map_or(String::new(), |v| format!("  {} V apart", v.shown(3)));
        rows.push(Row::Text(
            format!(
                "{word} {:>2}: {ah:>9}  {}{apart}{weakest}",
                group.number,
                names.join(" ")
            ),
            if group.weakest {
                Meaning::Heading
            } else {
                Meaning::Plain
            },
        ));
    }
}

/// Adds a unit, and opens it.
pub fn add(model: &mut Model) {
    let Some(kind) = kind_of_sheet(model.job()) else {
        return model.refuse("no kind of module yet; add one on the Modules page (F3)");
    };
    if model.apply(Edit::Units(UnitsEdit::Add { kind })).is_ok() {
        let last = model.job().tested.len().saturating_sub(1);
        model.units.open = Some(Group::Unit(last));
        let rows = rows(model);
        if let Some(at) = rows.iter().position(|r| *r == Row::Field(Field::UnitName(last))) {
            model.units.cursor = at;
            model.units.type_in("");
        }
    }
}

/// Starts matching the units of the kind most placed.
pub fn start_matching(model: &mut Model) -> Vec<Effect> {
    match kind_of_sheet(model.job()) {
        Some(kind) => crate::update::start_task(model, Task::Match(kind)),
        None => Vec::new(),
    }
}

/// Offers what was found.
pub(crate) fn offer(model: &mut Model, matching: Matching) {
    let [here, label, chance] = matching.amp_hours;
    let proof = match matching.proof {
        Proof::Proved | Proof::FirstProved => "proved".to_owned(),
        #[expect(clippy::cast_precision_loss, reason = "milliamp-hours of a group")]
        Proof::AtMost(most) => format!("best found, at most {:.2} Ah", most as f64 / 1000.0),
    };
    let spares = match matching.spares.len() {
        0 => String::new(),
        n if n <= 6 => format!(" Spare: {}.", matching.spares.join(", ")),
        n => format!(" {n} spare."),
    };
    let unmeasured = match matching.unmeasured {
        0 => String::new(),
        n => format!(" {n} without amp-hours left out."),
    };
    let words = format!(
        "{here:.2} Ah matched so ({proof}); {label:.2} in the order of the sheet, {chance:.2} by chance.{spares}{unmeasured} Take it over?"
    );
    let about = About::Take(Box::new(Edit::Units(UnitsEdit::Seats(matching.seats))));
    model.overlay = Some(Overlay::Ask(Ask::new(words, "take it over", "leave it", about)));
}
