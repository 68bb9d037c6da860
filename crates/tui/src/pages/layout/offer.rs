//! The layouts that are offered, side by side in a table under the sheet that shows the chosen one.

use job::Evaluation;
use job::layout::Figures;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::model::{Model, Offer};
use crate::theme::Meaning;
use crate::widgets::pen::{Edges, Pen, cut};
use crate::widgets::table::{Column, lines};

/// The columns; which layout and whether it has stops come first, so that they stand even when room is short.
const COLUMNS: [Column; 13] = [
    Column::words("", 0, 4),
    Column::number("modules", 0),
    Column::number("S x P", 1),
    Column::number("volts", 6),
    Column::number("kWh", 4),
    Column::number("boxes", 3),
    Column::number("tightest", 2),
    Column::words("where", 5, 14),
    Column::number("heaviest", 7),
    Column::number("crossing", 8),
    Column::words("centre of modules", 10, 17),
    Column::number("stops", 9),
    Column::words("at", 11, 10),
];

/// Rows of the page that the table takes: its heads, the job as it is, and each layout.
pub fn height(offer: &Offer, room: u16) -> u16 {
    let rows = u16::try_from(offer.found.candidates.len()).unwrap_or(u16::MAX);
    rows.saturating_add(2).min(room / 2)
}

/// Draws the table; when not all layouts have room, those round the chosen one.
pub fn draw(model: &Model, offer: &Offer, area: Rect, buf: &mut Buffer) {
    let theme = model.theme;
    let now = ("now".to_owned(), Figures::of(&model.evaluation), &model.evaluation);
    let found = offer.found.candidates.iter().zip(1..);
    let found = found.map(|(c, n)| (n.to_string(), c.figures.clone(), &c.evaluation));
    let rows: Vec<Vec<String>> = std::iter::once(now)
        .chain(found)
        .map(|(name, figures, evaluation)| cells(&name, &figures, evaluation))
        .collect();
    let lines = lines(&columns(&rows), &rows, area.width.saturating_sub(3));
    let mut pen = Pen::new(buf, area, theme);
    let head = lines.iter().take(2).zip([Meaning::Heading, Meaning::Dim]);
    for ((line, meaning), y) in head.zip(area.top()..) {
        pen.text(area.x + 2, y, line, theme.style(meaning));
    }
    let room = usize::from(area.height.saturating_sub(2));
    let first = (offer.shown + 1).saturating_sub(room);
    for ((line, i), y) in lines
        .iter()
        .skip(2)
        .zip(0..)
        .skip(first)
        .zip(area.top() + 2..area.bottom())
    {
        let is_shown = i == offer.shown;
        let meaning = if is_shown { Meaning::Selected } else { Meaning::Plain };
        let text = format!("{line} ");
        pen.text(
            area.x + 2,
            y,
            &cut(&text, area.width.saturating_sub(2)),
            theme.style(meaning),
        );
        if is_shown {
            let pointer = pen.glyphs().right;
            pen.stamp(area.x, y, pointer, theme.style(Meaning::Selected));
            let whole = Edges {
                left: area.x,
                right: area.x + 1,
                top: y,
                bottom: y,
            };
            pen.restyle(whole, theme.style(Meaning::Selected));
        }
    }
}

/// The columns, those in which the layouts differ from each other before those in which they do not: when room is short
/// what tells them apart stays, right after the number of the layout.
fn columns(rows: &[Vec<String>]) -> Vec<Column> {
    let layouts = &rows[1..];
    let differs = |i: usize| layouts.iter().any(|row| row[i] != layouts[0][i]);
    let rank = |i: usize, column: &Column| match i {
        0 => 0,
        _ if differs(i) => column.rank + 1,
        _ => column.rank + 1 + SAME,
    };
    COLUMNS
        .iter()
        .enumerate()
        .map(|(i, column)| Column {
            rank: rank(i, column),
            ..*column
        })
        .collect()
}

/// What the rank of a column grows by in which all layouts are the same: beyond all others.
const SAME: u8 = 100;

/// A layout's cells, in the order of the columns.
fn cells(name: &str, figures: &Figures, evaluation: &Evaluation) -> Vec<String> {
    let or_none = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let tightest = figures.tightest.as_ref();
    let mark = match (figures.stops, tightest) {
        (0, Some(t)) if t.clearance.is_short() => " !",
        (0, _) => "",
        _ => " !!",
    };
    vec![
        format!("{name}{mark}"),
        figures.count.to_string(),
        or_none(figures.strings()),
        or_none(
            figures
                .volts
                .map(|v| format!("{}/{}", v.empty.shown(0), v.full.shown(0))),
        ),
        or_none(figures.energy()),
        figures.boxes.to_string(),
        or_none(tightest.map(|t| evaluation.down(t.clearance.distance))),
        tightest.map_or_else(String::new, |t| {
            format!("{} to {}", t.clearance.face.name(), t.clearance.name)
        }),
        or_none(figures.heaviest_box()),
        figures.crossing.to_string(),
        or_none(figures.centre_over(evaluation)),
        figures.stops.to_string(),
        tightest.map_or_else(String::new, |t| t.name.clone()),
    ]
}
