//! The nests: what is bought of each stock, and one sheet or bar with what is cut from it.

use std::sync::Arc;

use job::Job;
use job::nesting::{Nest, Nested, Nesting, place_text};
use tape::Length;

use crate::model::{Model, Nests};
use crate::theme::Meaning;
use crate::widgets::pen::cut;
use crate::widgets::rows::Row;
use crate::widgets::sheet::{Outline, ViewBox};
use crate::widgets::toast::wrap;

/// The nests of the job as it is.
pub fn of_job(model: &Model) -> Option<&Nests> {
    of(model, &model.history.shared())
}

/// The nests that were worked out for this state of the job.
pub fn of<'a>(model: &'a Model, job: &Arc<Job>) -> Option<&'a Nests> {
    model.nests.as_ref().filter(|nests| Arc::ptr_eq(&nests.job, job))
}

/// Which nest is shown, with its stock and its number; `None` when nothing is cut.
pub fn shown(nests: &Nests) -> Option<(usize, &Nested, &Nest)> {
    let last = count(&nests.nesting).checked_sub(1)?;
    nests.nesting.numbered().nth(nests.at.min(last))
}

/// How many there are.
pub fn count(nesting: &Nesting) -> usize {
    nesting.stocks.iter().map(|stock| stock.nests.len()).sum()
}

/// A line for each stock, the one of the nest that is shown marked; at most so many lines, around that one, and of those
/// left out how many.
pub fn summaries(nests: &Nests, most: usize, columns: u16) -> Vec<Row> {
    let units = nests.nesting.question.units;
    let here = shown(nests).map(|(_, nested, _)| nested);
    let stocks = &nests.nesting.stocks;
    let at = here.and_then(|here| stocks.iter().position(|stock| std::ptr::eq(stock, here)));
    // The last line tells what is left out.
    let lines = if stocks.len() > most {
        most.saturating_sub(1)
    } else {
        most
    };
    let first = at.map_or(0, |at| (at + 1).saturating_sub(lines));
    let room = columns.saturating_sub(4);
    let mut rows: Vec<Row> = stocks
        .iter()
        .enumerate()
        .skip(first)
        .take(lines)
        .map(|(index, stock)| {
            let meaning = match (Some(index) == at, stock.left_out.is_empty()) {
                (_, false) => Meaning::Caution,
                (true, true) => Meaning::Heading,
                (false, true) => Meaning::Plain,
            };
            let mark = if Some(index) == at { ">" } else { " " };
            let line = format!("{mark} {}: {}", stock.label, stock.summary(units));
            Row::Text(cut(&line, room), meaning)
        })
        .collect();
    let below = stocks.len().saturating_sub(first + lines);
    let left_out = match (first, below) {
        (0, 0) => return rows,
        (0, below) => format!("{below} more below"),
        (above, 0) => format!("{above} more above"),
        (above, below) => format!("{above} more above, {below} below"),
    };
    let line = format!("  ... {left_out}: the nest you step to brings its own");
    rows.push(Row::Text(cut(&line, room), Meaning::Dim));
    rows
}

/// What stands over the picture.
pub fn heading(nests: &Nests) -> String {
    let units = nests.nesting.question.units;
    let Some((number, nested, nest)) = shown(nests) else {
        return "nothing to cut".to_owned();
    };
    let mark = if nest.piece.assumed { "~" } else { "" };
    let there = if nest.piece.on_hand.is_some() { " on hand" } else { "" };
    format!(
        "nest {number} of {}: {} of {mark}{}{there}, {:.0} % waste",
        count(&nests.nesting),
        nested.stock_word(1),
        nest.piece.size_text(units),
        nest.waste * 100.0
    )
}

/// What stands under the picture: the parts, what is kept, what nobody entered; so many lines of each at most.
pub fn below(nests: &Nests, columns: u16, lines_each: usize) -> Vec<Row> {
    let units = nests.nesting.question.units;
    let mut rows = Vec::new();
    if let Some((_, _, nest)) = shown(nests) {
        let cut = format!("cut {}", nest.marks());
        let words = match nest.offcuts_text(units) {
            kept if kept.is_empty() => cut,
            kept => format!("{cut}; keep {kept}"),
        };
        let lines = wrap(&words, columns.saturating_sub(4));
        rows.extend(
            lines
                .into_iter()
                .take(lines_each)
                .map(|line| Row::Text(line, Meaning::Plain)),
        );
    }
    let assumed = nests.nesting.assumed_text();
    if !assumed.is_empty() && lines_each == 1 {
        let words = "~ rests on assumed values: how it is cut, or what is on sale";
        rows.push(Row::Text(words.to_owned(), Meaning::Assumed));
    } else if !assumed.is_empty() {
        let lines = wrap(&format!("~ {assumed}"), columns.saturating_sub(4));
        rows.extend(
            lines
                .into_iter()
                .take(lines_each)
                .map(|line| Row::Text(line, Meaning::Assumed)),
        );
    }
    rows
}

/// The nest that is shown as a picture: x across, y up.
pub fn picture(nests: &Nests) -> Vec<ViewBox> {
    let units = nests.nesting.question.units;
    let Some((_, nested, nest)) = shown(nests) else {
        return Vec::new();
    };
    // A bar is drawn a twelfth as high as it is long, or nothing of it would be seen.
    let high = if nested.is_bar {
        Length::from_nm(nested.longest.nm() / 12)
    } else {
        nest.piece.sides[1]
    };
    // Drawn with the kerf beyond it, a part shares its edge with the next one: a gap of its own would take a cell.
    let how = nests.nesting.question.how;
    let kerf = if nested.is_bar { how.saw_kerf } else { how.kerf };
    let along = |axis: usize, at: Length, side: Length| [at, (at + side + kerf).min(nest.piece.sides[axis])];
    let across = |at: Length, side: Length| {
        if nested.is_bar {
            [Length::ZERO, high]
        } else {
            along(1, at, side)
        }
    };
    let mut boxes = vec![ViewBox::new(
        Outline::Space,
        [Length::ZERO, nest.piece.sides[0]],
        [Length::ZERO, high],
        "",
    )];
    for offcut in &nest.offcuts {
        let u = along(0, offcut.x, offcut.sides[0]);
        boxes.push(ViewBox::new(
            Outline::Service,
            u,
            across(offcut.y, offcut.sides[1]),
            "keep",
        ));
    }
    for part in &nest.parts {
        let u = along(0, part.at[0], part.sides[0]);
        let mut drawn = ViewBox::new(Outline::Module, u, across(part.at[1], part.sides[1]), part.mark.clone());
        let [wide, deep] = part.sides.map(|side| place_text(side, units));
        drawn.sub = if nested.is_bar {
            wide
        } else {
            format!("{wide} x {deep}")
        };
        boxes.push(drawn);
    }
    boxes
}
