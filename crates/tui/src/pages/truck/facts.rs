//! The big facts of the truck, and its loads step by step.

use job::{AxleRow, Axles, Evaluation, Grave};

use crate::form::Row;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::pen::cut;
use crate::widgets::toast::wrap;

/// Columns of a fact's name.
const NAME: usize = 18;

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
    for half in &vehicle.halves {
        let words = format!("{} {}; {}", Meaning::Caution.mark(), half.words, half.fix);
        say(&words, Meaning::Caution);
    }
    for missing in &vehicle.uncounted {
        let words = format!("{} {}; {}", Meaning::Caution.mark(), missing.words(), missing.fix);
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
        ground(evaluation, &mut rows);
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

/// Clearance and angles with each much aboard, the springs having given.
fn ground(evaluation: &Evaluation, rows: &mut Vec<Row>) {
    let sunk = evaluation.ground_rows();
    if sunk.is_empty() {
        return;
    }
    rows.push(Row::Heading("under the truck, sunk; angles in degrees".to_owned()));
    let line = |name: &str, lowest: &str, [approach, breakover, departure]: [&str; 3]| {
        format!("{name:<25}{lowest:>10}{approach:>10}{breakover:>11}{departure:>11}")
    };
    let head = line("", "lowest", ["approach", "breakover", "departure"]);
    rows.push(Row::Line(head, Meaning::Dim));
    rows.extend(sunk.iter().map(|row| {
        let angles = row.angles.each_ref().map(String::as_str);
        Row::Line(line(&cut(&row.aboard, 24), &row.lowest, angles), Meaning::Plain)
    }));
}

/// Every limit with who and what is aboard when the least of it is left.
fn limits(axles: &Axles, room: usize, rows: &mut Vec<Row>) {
    let least = axles.least_margins();
    if least.is_empty() {
        return;
    }
    rows.push(Row::Heading("limits, the least that is left of each".to_owned()));
    for (margin, stated) in least {
        let (mark, meaning) = if margin.is_borne() {
            ("ok", Meaning::Plain)
        } else {
            (Meaning::Stop.mark(), Meaning::Stop)
        };
        let words = format!(
            "{}, {}",
            axles.margin_words(margin, stated.assumed),
            stated.aboard.words()
        );
        let lines = wrap(&words, u16::try_from(room.saturating_sub(3)).unwrap_or(u16::MAX));
        for (i, line) in lines.into_iter().enumerate() {
            let mark = if i == 0 { mark } else { "" };
            rows.push(Row::Line(format!("{mark:<3}{line}"), meaning));
        }
    }
}
