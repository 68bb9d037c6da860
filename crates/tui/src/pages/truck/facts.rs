//! The big facts of the truck, and its loads step by step.

use job::{AxleRow, Axles, Grave};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::toast::wrap;

/// Columns of a fact's name.
const NAME: usize = 17;

/// The facts; what is still needed; loads and limits.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let evaluation = &model.evaluation;
    let vehicle = &evaluation.vehicle;
    let room = model.size.0.saturating_sub(8).max(30);
    let mut rows = Vec::new();
    let mut say = |words: &str, meaning: Meaning| {
        rows.extend(wrap(words, room).into_iter().map(|line| Row::Line(line, meaning)));
    };
    if !vehicle.needed.is_empty() {
        let words = format!(
            "{} The axle loads need {}: taped from hub to hub, and from a weighbridge, each axle by itself.",
            Meaning::Note.mark(),
            vehicle.needed.join(", ")
        );
        say(&words, Meaning::Note);
    }
    for fault in &vehicle.faults {
        say(&format!("{} {fault}", Meaning::Caution.mark()), Meaning::Caution);
    }
    for missing in &vehicle.uncounted {
        let words = format!(
            "{} {} does not count: {}; {}",
            Meaning::Caution.mark(),
            missing.name,
            missing.why,
            missing.fix
        );
        say(&words, Meaning::Caution);
    }
    for fact in evaluation.truck_facts() {
        let meaning = match fact.grave {
            Some(Grave::Stop) => Meaning::Stop,
            Some(_) => Meaning::Caution,
            None => Meaning::Plain,
        };
        let mark = format!("{:<2} ", meaning.mark());
        let lines = wrap(&fact.text, room.saturating_sub(u16::try_from(NAME).unwrap_or(0) + 3));
        for (i, line) in lines.into_iter().enumerate() {
            let (mark, name) = if i == 0 {
                (mark.as_str(), fact.name)
            } else {
                ("   ", "")
            };
            rows.push(Row::Line(format!("{mark}{name:<NAME$}{line}"), meaning));
        }
    }
    if let Some(axles) = &vehicle.axles {
        loads(axles, &mut rows);
        limits(axles, usize::from(room), &mut rows);
        if let Some(share) = axles.wanted_rear {
            rows.push(Row::Heading(format!(
                "for {:.0} % on the rear axle one box alone moves",
                share * 100.0
            )));
            rows.extend(
                evaluation
                    .move_words()
                    .into_iter()
                    .map(|line| Row::Line(line, Meaning::Plain)),
            );
        }
    }
    rows
}

fn loads(axles: &Axles, rows: &mut Vec<Row>) {
    rows.push(Row::Heading("axle loads, kg".to_owned()));
    let line = |name: &str, [front, rear, both]: [String; 3]| format!("{name:<31}{front:>9}{rear:>9}{both:>10}");
    let head = line("", ["front", "rear", "together"].map(ToOwned::to_owned));
    rows.push(Row::Line(head, Meaning::Dim));
    let figures = |row: &AxleRow| {
        let mark = if row.assumed { "~" } else { "" };
        [row.loads.front_kg, row.loads.rear_kg, row.loads.total_kg()].map(|kg| format!("{mark}{:.0}", kg.round() + 0.0))
    };
    let body = axles.rows();
    rows.extend(
        body.iter()
            .map(|row| Row::Line(line(&row.name, figures(row)), Meaning::Plain)),
    );
    let again = axles.reweighed_words();
    rows.extend(again.map(|words| Row::Line(format!("weighed after: {words}"), Meaning::Plain)));
}

/// Every limit with as much aboard as was entered.
fn limits(axles: &Axles, room: usize, rows: &mut Vec<Row>) {
    let Some(stated) = axles.stated.last().filter(|stated| !stated.margins.is_empty()) else {
        return;
    };
    rows.push(Row::Heading(format!("limits, {}", stated.aboard.words())));
    for margin in &stated.margins {
        let (mark, meaning) = if margin.within() {
            ("ok", Meaning::Plain)
        } else {
            (Meaning::Stop.mark(), Meaning::Stop)
        };
        let words = axles.margin_words(margin, axles.aboard_assumed);
        let lines = wrap(&words, u16::try_from(room.saturating_sub(3)).unwrap_or(u16::MAX));
        for (i, line) in lines.into_iter().enumerate() {
            let mark = if i == 0 { mark } else { "" };
            rows.push(Row::Line(format!("{mark:<3}{line}"), meaning));
        }
    }
}
