//! A list of parts from a table as text, for what is cut without a job.

use std::collections::BTreeMap;

use tape::{Allow, Length, Units, notation};

use super::{Group, Piece, Question, Wanted, question};
use crate::{Job, assumed};

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, {column}: {problem}")]
pub struct PartsFault {
    /// The line of the text, from 1.
    pub line: usize,
    /// The column, by its head.
    pub column: String,
    /// What is wrong, with what was given and what is allowed.
    pub problem: String,
    /// How to mend it.
    pub mend: String,
}

/// A list of parts as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartsSheet {
    /// The parts with what each is cut from, in the order of the text.
    pub parts: Vec<(String, Wanted)>,
    /// What is wrong; nothing is to be cut while there is anything.
    pub faults: Vec<PartsFault>,
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Mark,
    NumberOff,
    /// Bare numbers in these units, else in those of the whole list.
    Length(Option<Units>),
    /// The same.
    Width(Option<Units>),
    Stock,
    Name,
    Box,
    Other,
}

/// The columns when there are no heads.
const ORDER: [Column; 6] = [
    Column::Mark,
    Column::NumberOff,
    Column::Length(None),
    Column::Width(None),
    Column::Stock,
    Column::Name,
];

/// How the stock of a bar ends on a cut list; its width is its section, and not cut.
const BARS: [&str; 3] = ["flat bar", "angle", "threaded rod"];

/// The most lines that are read.
const MOST_LINES: usize = 4_096;
/// The most of one part.
const MOST_OFF: u32 = 10_000;
/// The longest side of a part.
const MOST_SIDE: Length = Length::mm(20_000);

/// Reads a list of parts: `mark`, `number off`, `length`, `width`, `stock`, `name`, in any order with heads, in this
/// order without. An empty width is a bar, and so is a stock whose name ends with flat bar, angle or threaded rod. Heads
/// such as `length in` and `length mm` tell the units of bare numbers; of two such columns that in `units` counts, so the
/// product's own cut list is read. Lengths are as people write them, bare ones in `units`. Columns are parted by
/// tabs, semicolons or commas; lines that begin with # are passed over.
///
/// The `stock` is whatever tells what is cut from the same sheets or bars, as `mild steel 3 mm` or `40 x 40 x 4 angle`;
/// parts of one `stock` are all sheet or all bar.
pub fn read_parts(text: &str, units: Units) -> PartsSheet {
    let text = text
        .trim_start_matches('\u{feff}')
        .replace("\r\n", "\n")
        .replace('\r', "\n");
    let mut sheet = PartsSheet::default();
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(crate::units::separator(&text))
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut columns: Option<Vec<Column>> = None;
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let at = error.position().map_or(0, |p| usize::try_from(p.line()).unwrap_or(0));
                sheet.fault(at, "the line", "it is no text in columns", "save the table as CSV text");
                continue;
            }
        };
        let line = record.position().map_or(0, |p| usize::try_from(p.line()).unwrap_or(0));
        if record.iter().all(str::is_empty) {
            continue;
        }
        if sheet.parts.len() >= MOST_LINES {
            sheet.fault(
                line,
                "the line",
                &format!("more than {MOST_LINES} lines"),
                "split the list",
            );
            break;
        }
        match &columns {
            Some(columns) => sheet.line(&record, line, columns, units),
            None => match heads(&record, units) {
                Some(found) => {
                    if !found.iter().any(|column| matches!(column, Column::Length(_))) {
                        sheet.fault(
                            line,
                            "the heads",
                            "no column is headed length, length in or length mm",
                            "head one column length",
                        );
                    }
                    columns = Some(found);
                }
                None => {
                    sheet.line(&record, line, &ORDER, units);
                    columns = Some(ORDER.to_vec());
                }
            },
        }
    }
    sheet
}

/// The columns by their heads; `None` when the line holds a part. Where sizes stand in inches and in millimetres, as on a
/// cut list, those in `units` count.
fn heads(record: &csv::StringRecord, units: Units) -> Option<Vec<Column>> {
    let mut columns: Vec<Column> = record.iter().map(head).collect();
    for sort in [Column::Length, Column::Width] {
        if columns.contains(&sort(Some(units))) {
            for column in &mut columns {
                let other = [Units::Inch, Units::Millimetre]
                    .into_iter()
                    .find(|&other| other != units);
                if *column == sort(other) {
                    *column = Column::Other;
                }
            }
        }
    }
    let known = columns.iter().filter(|&&column| column != Column::Other).count();
    (known >= 2 && !record.iter().any(|cell| cell.starts_with(|c: char| c.is_ascii_digit()))).then_some(columns)
}

fn head(text: &str) -> Column {
    match text.to_ascii_lowercase().trim() {
        "mark" | "id" | "part" => Column::Mark,
        "number off" | "off" | "number" | "count" | "quantity" | "qty" | "pieces" => Column::NumberOff,
        "length" => Column::Length(None),
        "length in" => Column::Length(Some(Units::Inch)),
        "length mm" => Column::Length(Some(Units::Millimetre)),
        "width" => Column::Width(None),
        "width in" => Column::Width(Some(Units::Inch)),
        "width mm" => Column::Width(Some(Units::Millimetre)),
        "stock" | "material" | "section" | "thickness" | "thickness or section" | "from" => Column::Stock,
        "name" | "what" => Column::Name,
        "box" => Column::Box,
        _ => Column::Other,
    }
}

impl PartsSheet {
    fn fault(&mut self, line: usize, column: &str, problem: &str, mend: &str) {
        self.faults.push(PartsFault {
            line,
            column: column.to_owned(),
            problem: problem.to_owned(),
            mend: mend.to_owned(),
        });
    }

    fn line(&mut self, record: &csv::StringRecord, line: usize, columns: &[Column], units: Units) {
        let cell = |wanted: Column| {
            let cells = columns.iter().zip(record.iter());
            let of_column: Vec<&str> = cells
                .filter(|&(&column, cell)| column == wanted && !cell.is_empty())
                .map(|(_, cell)| cell)
                .collect();
            of_column.join(" ")
        };
        // The column of a size, and the units of its bare numbers.
        let of_size = |sort: fn(Option<Units>) -> Column| {
            let own = [Some(Units::Inch), Some(Units::Millimetre)];
            let own = own.into_iter().find(|&own| columns.contains(&sort(own))).flatten();
            (cell(sort(own)), own.unwrap_or(units))
        };
        let before = self.faults.len();
        let quantity = match cell(Column::NumberOff) {
            text if text.is_empty() => 1,
            text => match text.parse::<u32>() {
                Ok(n) if (1..=MOST_OFF).contains(&n) => n,
                _ => {
                    let problem = format!("{text:?} is not a whole number from 1 to {MOST_OFF}");
                    self.fault(line, "number off", &problem, "write how many of it are cut");
                    0
                }
            },
        };
        let (length_text, of_length) = of_size(Column::Length);
        let length = self.side(&length_text, line, "length", of_length);
        if length.is_none() && length_text.is_empty() {
            self.fault(
                line,
                "length",
                "it is empty",
                "write the length as cut, as 41 5/8 or 1057 mm",
            );
        }
        let stock = cell(Column::Stock);
        let (width, of_width) = of_size(Column::Width);
        let width = if width.is_empty() || BARS.iter().any(|bar| stock.ends_with(bar)) {
            Some(Length::ZERO)
        } else {
            self.side(&width, line, "width", of_width)
        };
        let is_bar = width == Some(Length::ZERO);
        let other = |(label, part): &&(String, Wanted)| *label == stock && (part.sides[1] == Length::ZERO) != is_bar;
        if width.is_some() && self.parts.iter().find(other).is_some() {
            let problem = if is_bar {
                "it is empty, and other parts of this stock have a width"
            } else {
                "other parts of this stock have none"
            };
            self.fault(line, "width", problem, "tell sheet and bars apart in the stock column");
        }
        if self.faults.len() > before {
            return;
        }
        let mark = match cell(Column::Mark) {
            mark if mark.is_empty() => format!("P{}", self.parts.len() + 1),
            mark => mark,
        };
        self.parts.push((
            stock,
            Wanted {
                mark,
                name: cell(Column::Name),
                box_name: cell(Column::Box),
                sides: [length.unwrap_or_default(), width.unwrap_or_default()],
                quantity,
                cut_out_mm2: 0.0,
            },
        ));
    }

    /// A side of a part; a fault, and nothing, when it is none.
    fn side(&mut self, text: &str, line: usize, column: &str, units: Units) -> Option<Length> {
        if text.is_empty() {
            return None;
        }
        match notation::read(text, units, Allow::AboveZero) {
            Ok(read) if read.value() <= MOST_SIDE => Some(read.value()),
            Ok(_) => {
                self.fault(line, column, &format!("{text:?} is more than 20 m"), "check the unit");
                None
            }
            Err(error) => {
                self.fault(line, column, &error.to_string(), &error.mend());
                None
            }
        }
    }
}

/// The question for a list of parts, cut as `told` says from what it has on sale, which serves all of them alike; where
/// it has nothing, from the usual sizes.
pub fn parts_question(sheet: &PartsSheet, told: &Job) -> Question {
    let units = told.units;
    let on_sale = told.stock.pieces.iter().map(question::piece);
    let mut pieces: Vec<Piece> = on_sale.filter(|piece| piece.on_hand.is_none()).collect();
    for usual in question::usual(units) {
        if pieces.iter().all(|piece| piece.is_bar() != usual.is_bar()) {
            pieces.push(usual);
        }
    }
    let mut groups: BTreeMap<(bool, &str), Vec<Wanted>> = BTreeMap::new();
    for (label, part) in &sheet.parts {
        let is_bar = part.sides[1] == Length::ZERO;
        groups.entry((is_bar, label)).or_default().push(part.clone());
    }
    let groups: Vec<Group> = groups
        .into_iter()
        .map(|((is_bar, label), parts)| Group {
            label: match (label, is_bar) {
                ("", false) => "sheet".to_owned(),
                ("", true) => "bar".to_owned(),
                (label, _) => label.to_owned(),
            },
            is_bar,
            form: None,
            parts,
            pieces: (0..pieces.len()).filter(|&i| pieces[i].is_bar() == is_bar).collect(),
        })
        .collect();
    Question {
        units: units.units(),
        how: assumed::how(&told.stock, units),
        assumed: question::assumed_words(
            told,
            [false, true].map(|is_bar| groups.iter().any(|g| g.is_bar == is_bar)),
        ),
        pieces,
        groups,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> PartsSheet {
        read_parts(text, Units::Inch)
    }

    #[test]
    fn a_list_with_heads_is_read_in_any_order() {
        let sheet = read("length;mark;off;width;stock\n30;A1;2;12 1/2;steel 3 mm\n20;B1;4;;angle\n");
        assert_eq!(sheet.faults, []);
        let (stock, part) = &sheet.parts[0];
        assert_eq!(
            (stock.as_str(), part.mark.as_str(), part.quantity, part.sides),
            ("steel 3 mm", "A1", 2, [Length::inches(30), Length::sixty_fourths(800)])
        );
        assert_eq!(sheet.parts[1].1.sides[1], Length::ZERO, "no width is a bar");
    }

    #[test]
    fn a_cut_list_is_read_as_it_is_written() {
        let text = "mark,name,number off,material,thickness or section,length in,width in,length mm,width mm,rounding,box\n\
                    A1,floor,1,mild steel,3 mm sheet,30 1/2\",12\",775.0,305.0,down,left\n\
                    A2,flange,2,mild steel,25 x 3 mm flat bar,30\",0.9843\",762.0,25.0,down,left\n";
        for (units, length) in [
            (Units::Inch, Length::sixty_fourths(30 * 64 + 32)),
            (Units::Millimetre, Length::mm(775)),
        ] {
            let sheet = read_parts(text, units);
            assert_eq!(sheet.faults, []);
            let (stock, floor) = &sheet.parts[0];
            assert_eq!((stock.as_str(), floor.sides[0]), ("mild steel 3 mm sheet", length));
            assert_eq!(floor.box_name, "left");
            assert_eq!(sheet.parts[1].1.sides[1], Length::ZERO, "a bar's width is not cut");
        }
    }

    #[test]
    fn a_list_without_heads_is_mark_off_length_width_stock() {
        let sheet = read("A1,2,30,12,sheet\n\n# a remark\nA2,,500 mm,100 mm,sheet\n");
        assert_eq!(sheet.faults, []);
        assert_eq!(sheet.parts[1].1.quantity, 1, "none told is one");
        assert_eq!(sheet.parts[1].1.sides, [Length::mm(500), Length::mm(100)]);
    }

    #[test]
    fn every_slip_is_told_with_its_line_and_column() {
        let sheet =
            read("mark,off,length,width,stock\nA1,0,30,12,s\nA2,1,,12,s\nA3,1,30,12 5/6,s\nA4,1,30,12,s\nA5,1,30,,s\n");
        let told: Vec<(usize, &str)> = sheet.faults.iter().map(|f| (f.line, f.column.as_str())).collect();
        assert_eq!(told, [(2, "number off"), (3, "length"), (4, "width"), (6, "width")]);
        assert!(sheet.faults.iter().all(|fault| !fault.mend.is_empty()));
        assert_eq!(sheet.parts.len(), 1);
    }

    #[test]
    fn heads_without_a_length_are_told() {
        assert_eq!(read("mark,width\nA1,12\n").faults[0].column, "the heads");
    }
}
