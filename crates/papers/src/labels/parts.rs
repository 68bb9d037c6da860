//! A label for each piece to cut.

use drawing::svg::escape;
use enclosure::cutlist::{Line, Table};
use job::{BoxResult, Evaluation};

use super::{line, revision, short};
use crate::{outline, row, words};

/// Labels in the order of boxes and marks; of a line with several off one for each piece.
pub(super) fn labels(evaluation: &Evaluation) -> Vec<String> {
    let tables = evaluation.cut.list.tables.iter();
    let mut lines: Vec<(&Table, &Line)> = tables
        .flat_map(|table| table.lines.iter().map(move |line| (table, line)))
        .collect();
    lines.sort_by_key(|(_, line)| {
        let letters = letters(&line.mark).len();
        (
            letters,
            line.mark[..letters].to_owned(),
            line.mark.len(),
            line.mark.clone(),
        )
    });
    let each = |(table, line): (&Table, &Line)| {
        let all = text(evaluation, table, line);
        (1..=line.quantity)
            .map(|piece| {
                let number = format!("<span>piece {piece} of {}</span>", line.quantity);
                format!("<p class=\"mark\">{}{number}</p>{all}", escape(&line.mark))
            })
            .collect::<Vec<_>>()
    };
    lines.into_iter().flat_map(each).collect()
}

/// The letters that a mark begins with.
fn letters(mark: &str) -> &str {
    mark.trim_end_matches(|c: char| c.is_ascii_digit())
}

fn text(evaluation: &Evaluation, table: &Table, part: &Line) -> String {
    let mark = words::mark(evaluation.headline.assumed.cut);
    let [mm, inches] = [
        [part.length, part.width].map(job::Evaluation::cut_mm),
        [part.length, part.width].map(|size| evaluation.cut_inches(size)),
    ];
    let size = words::own_first(
        evaluation,
        &format!("{mark}{} x {mark}{} mm", mm[0], mm[1]),
        &format!("{mark}{} x {mark}{}", inches[0], inches[1]),
    );
    let battery_box = box_of(evaluation, part);
    let cavity = battery_box.and_then(|b| evaluation.cavity(b.cavity));
    let cavity = cavity.map_or_else(String::new, |cavity| {
        format!(", {}", job::Cavity::said(&short(&cavity.name, 24)))
    });
    [
        line("strong", &short(&row::name(evaluation, part), 52)),
        line("", &format!("in {}{cavity}", short(&part.box_name, 24))),
        line("", &format!("{}, {}", part.sheet.material.name(), row::section(table))),
        line("", &size),
        line(
            "",
            &format!(
                "{}; machine: {}",
                bends(part, evaluation.units),
                part.machine(evaluation.sheet.cutting)
            ),
        ),
        line(
            "",
            &format!("{}, {}", short(&evaluation.name, 30), revision(evaluation)),
        ),
    ]
    .concat()
}

/// The box of a line, by the letter of its mark.
fn box_of<'a>(evaluation: &'a Evaluation, part: &Line) -> Option<&'a BoxResult> {
    // The list has a letter for each box that can be built, in the job's order.
    let built = evaluation.boxes.iter().filter(|b| b.built.is_some());
    let mut lettered = built.zip(&evaluation.cut.list.boxes);
    let own = letters(&part.mark);
    lettered.find(|(_, summary)| summary.letter == own).map(|(b, _)| b)
}

/// `no bends`; `bends: 4 up 90° R3`.
fn bends(part: &Line, units: tape::Units) -> String {
    let mut kinds: Vec<(String, usize)> = Vec::new();
    for bend in part.bends.iter().map(|bend| outline::bend_words(bend, units)) {
        match kinds.iter_mut().find(|(known, _)| *known == bend) {
            Some((_, count)) => *count += 1,
            None => kinds.push((bend, 1)),
        }
    }
    if kinds.is_empty() {
        return "no bends".to_owned();
    }
    let kinds: Vec<String> = kinds.iter().map(|(bend, count)| format!("{count} {bend}")).collect();
    format!("bends: {}", kinds.join(", "))
}
