//! The columns of a cut list, the same in every form it is written in.

use std::fmt::Write as _;

use enclosure::Form;
use enclosure::cutlist::{Line, Rounded, Rounding, Table};
use job::nesting::Nesting;
use job::{Evaluation, TurningName};
use tape::{Length, Units};

use crate::words;

/// The columns of the cut list, in order. Their names and order are a promise to those who read the file.
pub const COLUMNS: [&str; 21] = [
    "mark",
    "name",
    "number off",
    "material",
    "thickness or section",
    "length in",
    "width in",
    "length mm",
    "width mm",
    "rounding",
    "end cuts",
    "bends",
    "holes",
    "mass each kg",
    "mass all kg",
    "box",
    "made",
    "checked",
    "machine",
    "grain",
    "deburr",
];

/// Where the number off stands.
pub(crate) const NUMBER_OFF: usize = 2;
/// Where the rounding stands.
pub(crate) const ROUNDING: usize = 9;
/// Where the bends stand.
pub(crate) const BENDS: usize = 11;
/// Where the grain stands.
const GRAIN: usize = 19;
/// The boxes to tick.
pub(crate) const MADE: std::ops::Range<usize> = 16..18;
/// Which columns are sizes.
pub(crate) const SIZES: std::ops::Range<usize> = 5..9;
/// Which columns are masses.
pub(crate) const MASSES: std::ops::Range<usize> = 13..15;

/// A line as the text of each column; user text as the user wrote it, `made` and `checked` empty.
pub(crate) fn cells(evaluation: &Evaluation, table: &Table, line: &Line) -> [String; COLUMNS.len()] {
    [
        line.mark.clone(),
        name(evaluation, line),
        line.quantity.to_string(),
        line.sheet.material.name().to_owned(),
        section(table),
        evaluation.cut_inches(line.length),
        evaluation.cut_inches(line.width),
        Evaluation::cut_mm(line.length),
        Evaluation::cut_mm(line.width),
        rounding(line),
        end_cuts(evaluation, line),
        line.bends.len().to_string(),
        holes(evaluation, line),
        words::kg(line.grams_each),
        words::kg(line.grams_all),
        line.box_name.clone(),
        String::new(),
        String::new(),
        line.machine(evaluation.sheet.cutting),
        grain(evaluation, line).to_owned(),
        line.deburr(),
    ]
}

/// What a piece is; of a wall beside a step also the corner that it lacks: `long side, less 250.0 x 80.0 mm
/// (9 7/8" x 3 3/16") at a lower corner`, the person's own unit first, rounded up, since it is an opening. Of a divider what is cut
/// off its corners.
pub(crate) fn name(evaluation: &Evaluation, line: &Line) -> String {
    if let Some(cut) = line.cut_corner() {
        let cut = Rounded::new(cut, Rounding::Up, evaluation.cut.list.fineness);
        let mm = format!("{} mm", words::tenth_mm(cut.tenth_mm));
        let less = words::own_first(evaluation, &mm, &evaluation.near_inches(cut.inches));
        return format!("{}, less {less} at 45° at both corners of its foot", line.name);
    }
    let Some(notch) = line.notch() else {
        return line.name.clone();
    };
    let sides = notch
        .size
        .map(|side| Rounded::new(side, Rounding::Up, evaluation.cut.list.fineness));
    let [mm, inches] = [
        sides.map(|side| words::tenth_mm(side.tenth_mm)),
        sides.map(|side| evaluation.near_inches(side.inches)),
    ]
    .map(|texts| texts.join(" x "));
    let less = words::own_first(evaluation, &format!("{mm} mm"), &inches);
    format!("{}, less {less} at a lower corner", line.name)
}

/// `3 mm sheet`, `25 x 3 mm flat bar`: the table's heading without the material.
pub(crate) fn section(table: &Table) -> String {
    let label = table.label();
    label
        .strip_prefix(table.sheet.material.name())
        .unwrap_or(&label)
        .trim()
        .to_owned()
}

/// Which way a piece lies to the grain of its sheet; empty for bars, and while nobody told.
fn grain(evaluation: &Evaluation, line: &Line) -> &'static str {
    match (line.form(), evaluation.sheet.grain) {
        (Form::Sheet, Some(TurningName::WithGrain)) => "along the length",
        (Form::Sheet, Some(TurningName::Either)) => "either way",
        _ => "",
    }
}

fn rounding(line: &Line) -> String {
    let [length, mut width] = [line.length, line.width].map(|size| words::direction(size.direction));
    if line.form() != Form::Sheet && line.bought_width() != line.width.exact {
        width = "as cut down";
    }
    if length == width {
        length.to_owned()
    } else {
        format!("length {length}, width {width}")
    }
}

/// In words, since a spreadsheet takes `45/45` for a date.
fn end_cuts(evaluation: &Evaluation, line: &Line) -> String {
    let [first, second] = line.ends;
    let cuts = if first == second {
        format!("both {}", first.label())
    } else {
        format!("{} and {}", first.label(), second.label())
    };
    match cope_words(evaluation, line) {
        Some(cope) => format!("{cuts}: {cope}"),
        None => cuts,
    }
}

/// `foot off 26.0 mm (1 1/16") long, 4.0 mm deep, R5.0 to the root`: what a saw takes off a coped end, the person's own unit
/// first. Its length is rounded up: the foot of the bar it meets goes in.
pub(crate) fn cope_words(evaluation: &Evaluation, line: &Line) -> Option<String> {
    let cope = line.cope()?;
    let long = Rounded::new(cope.length, Rounding::Up, evaluation.cut.list.fineness);
    let mm = format!("{} mm", words::tenth_mm(long.tenth_mm));
    let long = words::own_first(evaluation, &mm, &evaluation.near_inches(long.inches));
    let deep = tape::show::caliper(cope.depth, evaluation.units);
    let root = if cope.root > Length::ZERO {
        let radius = match evaluation.units {
            Units::Millimetre => words::tenth_mm(cope.root),
            Units::Inch => tape::show::caliper(cope.root, evaluation.units),
        };
        format!(", R{radius} to the root")
    } else {
        String::new()
    };
    Some(format!("foot off {long} long, {deep} deep{root}"))
}

/// `12 of 6.6 mm (lid screw)`, for a person who works in inches `12 of 0.260" (6.6 mm; lid screw)`, one for each diameter and
/// purpose; the places are in the hole table.
fn holes(evaluation: &Evaluation, line: &Line) -> String {
    let mut sizes: Vec<(String, usize)> = Vec::new();
    for hole in &line.holes {
        let (mm, purpose) = (tape::show::hole_mm(hole.diameter), hole.purpose.name());
        let size = match evaluation.units {
            Units::Millimetre => format!("{mm} mm ({purpose})"),
            Units::Inch => format!("{} ({mm} mm; {purpose})", tape::show::hole_inches(hole.diameter)),
        };
        match sizes.iter_mut().find(|(known, _)| *known == size) {
            Some((_, count)) => *count += 1,
            None => sizes.push((size, 1)),
        }
    }
    if sizes.is_empty() {
        return "none".to_owned();
    }
    sizes
        .into_iter()
        .map(|(size, count)| format!("{count} of {size}"))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Which columns of the cut list stand on paper over which stock, in their order: its heading tells material and section, the
/// person's own unit comes before the other, and of the grain is told where it counts.
pub(crate) fn printed(evaluation: &Evaluation) -> Vec<usize> {
    let told_by_heading = 3..5;
    let sizes = match evaluation.units {
        Units::Inch => [5, 6, 7, 8],
        Units::Millimetre => [7, 8, 5, 6],
    };
    let (before, after) = (0..SIZES.start, SIZES.end..COLUMNS.len());
    before
        .filter(|column| !told_by_heading.contains(column))
        .chain(sizes)
        .chain(after.filter(|&column| column != GRAIN || evaluation.sheet.grain.is_some()))
        .collect()
}

/// The head of a column on paper: of masses with pounds in an inch job, whose file for machines has kilograms alone.
pub(crate) fn head(evaluation: &Evaluation, column: usize) -> String {
    let head = COLUMNS[column];
    if MASSES.contains(&column) {
        head.replace("kg", words::mass_unit(evaluation))
    } else {
        head.to_owned()
    }
}

/// A line as [`cells`] has it, masses as they stand on paper under [`head`].
pub(crate) fn paper_cells(evaluation: &Evaluation, table: &Table, line: &Line) -> [String; COLUMNS.len()] {
    let mut cells = cells(evaluation, table, line);
    for (column, grams) in MASSES.zip([line.grams_each, line.grams_all]) {
        cells[column] = words::mass_cell(evaluation, grams);
    }
    cells
}

/// One hole as number, x and y in inches and millimetres, diameter, what it is for: the columns of a hole table in a file for
/// machines.
pub(crate) const HOLE_COLUMNS: [&str; 7] = ["hole", "x in", "y in", "x mm", "y mm", "diameter mm", "for"];

/// The hole table of a line.
pub(crate) fn hole_cells(evaluation: &Evaluation, line: &Line) -> Vec<[String; HOLE_COLUMNS.len()]> {
    let mark = words::mark(evaluation.headline.assumed.cut);
    line.holes
        .iter()
        .enumerate()
        .map(|(index, hole)| {
            [
                (index + 1).to_string(),
                format!("{mark}{}", evaluation.near_inches(hole.x)),
                format!("{mark}{}", evaluation.near_inches(hole.y)),
                format!("{mark}{}", words::tenth_mm(hole.x)),
                format!("{mark}{}", words::tenth_mm(hole.y)),
                tape::show::hole_mm(hole.diameter),
                hole.purpose.name().to_owned(),
            ]
        })
        .collect()
}

/// The hole table of a line on paper.
pub(crate) struct HoleTable {
    /// The heads of its columns.
    pub(crate) heads: Vec<&'static str>,
    /// A line for each hole.
    pub(crate) rows: Vec<Vec<String>>,
    /// What all holes are for, where that is one thing; else the last column tells it of each.
    pub(crate) purpose: Option<&'static str>,
}

impl HoleTable {
    /// The one thing that all holes are for, to stand behind the name of the piece: ` (lid screw)`; else empty.
    pub(crate) fn purpose_words(&self) -> String {
        self.purpose.map_or_else(String::new, |purpose| format!(" ({purpose})"))
    }
}

/// The holes of a line as people read them, the person's own unit first; one who works in inches drills by both.
pub(crate) fn hole_table(evaluation: &Evaluation, line: &Line) -> HoleTable {
    let holes = hole_cells(evaluation, line);
    let mut purposes = line.holes.iter().map(|hole| hole.purpose);
    let purpose = purposes.next().filter(|first| purposes.all(|other| other == *first));
    let (mut heads, order) = match evaluation.units {
        Units::Inch => (
            vec!["hole", "x in", "y in", "⌀ in", "x mm", "y mm", "⌀ mm"],
            [1, 2, 3, 4],
        ),
        Units::Millimetre => (vec!["hole", "x mm", "y mm", "⌀ mm", "x in", "y in"], [3, 4, 1, 2]),
    };
    let row = |(cells, hole): ([String; HOLE_COLUMNS.len()], &enclosure::Hole)| {
        let [own, other] = [&order[..2], &order[2..]].map(|places| places.iter().map(|&place| cells[place].clone()));
        let mut row = vec![cells[0].clone()];
        row.extend(own);
        match evaluation.units {
            Units::Inch => {
                row.push(tape::show::hole_inches(hole.diameter).replace('"', ""));
                row.extend(other);
                row.push(cells[5].clone());
            }
            Units::Millimetre => {
                row.push(cells[5].clone());
                row.extend(other);
            }
        }
        if purpose.is_none() {
            row.push(cells[6].clone());
        }
        row
    };
    let rows = holes.into_iter().zip(&line.holes).map(row).collect();
    if purpose.is_none() {
        heads.push("for");
    }
    HoleTable {
        heads,
        rows,
        purpose: purpose.map(enclosure::Purpose::name),
    }
}

/// From which face a piece of sheet is drawn, and where it serves for several walls, which way its edges lie on each: `seen from
/// the inside of the box`. `None` of bars.
pub(crate) fn seen(line: &Line) -> Option<String> {
    let mut words = line.seen_words()?.to_owned();
    for (wall, [left, right]) in line.sides_by_wall() {
        let _ = write!(
            words,
            "; as {} wall its left edge is {left}, its right edge {right}",
            wall.name()
        );
    }
    Some(words)
}

/// The same behind the heading of a table of holes; empty of bars.
pub(crate) fn seen_behind(line: &Line) -> String {
    seen(line).map_or_else(String::new, |words| format!(", {words}"))
}

/// What a table sums up to, and the stock it takes.
pub(crate) fn foot(evaluation: &Evaluation, nesting: &Nesting, index: usize, table: &Table) -> String {
    let assumed = evaluation.headline.assumed;
    let size = words::mark(assumed.cut);
    let mut parts = vec![
        format!("{} piece{}", table.pieces, if table.pieces == 1 { "" } else { "s" }),
        format!("{}{}", words::mark(assumed.mass), words::mass(evaluation, table.grams)),
    ];
    parts.push(match table.form {
        Form::Sheet => format!("{size}{} net", words::area(evaluation, table.net_m2(), 3)),
        Form::FlatBar | Form::Angle | Form::Rod => {
            format!(
                "{size}{} laid end to end",
                words::run(evaluation, table.length.as_mm() / 1000.0)
            )
        }
    });
    if let Some(nested) = nesting.stocks.get(index) {
        parts.push(format!("to buy: {}", nested.summary(evaluation.units)));
    }
    parts.join(", ")
}
