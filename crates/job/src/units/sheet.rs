//! Reading a test sheet of units: a table as people keep it, in any order of columns, with units in the heads or in the
//! cells, decimal points or commas.

use pack::{AmpHours, Volts};

use crate::Milliohms;
use crate::document::quantity::{MOST, thousandths_text};

/// One unit of a sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// The line of the text, from 1.
    pub line: usize,
    /// What is written on it.
    pub name: String,
    /// Capacity.
    pub amp_hours: Option<AmpHours>,
    /// Internal resistance.
    pub resistance_mohm: Option<Milliohms>,
    /// Open-circuit volts.
    pub rest_volts: Option<Volts>,
    /// State of health as written, in percent, in thousandths.
    pub health: Option<i64>,
    /// Date, notes and every other column.
    pub note: String,
}

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, {column}: {problem}")]
pub struct SheetFault {
    /// The line of the text, from 1.
    pub line: usize,
    /// The column, as its head says; `the heads` when it is about those.
    pub column: String,
    /// What is wrong, with what was given.
    pub problem: String,
    /// How to mend it.
    pub mend: &'static str,
}

/// A sheet as far as it could be read: what is wrong is told line by line, what is right is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// Units.
    pub rows: Vec<Row>,
    /// What is wrong.
    pub faults: Vec<SheetFault>,
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Name,
    AmpHours,
    Resistance,
    Volts,
    Health,
    Note,
}

/// A unit of measure, as thousandths of the unit that is kept: a milliamp-hour, a micro-ohm, a millivolt, a thousandth
/// of a percent.
type Scale = f64;

/// The most lines that are read.
const MOST_LINES: usize = 4_096;

/// Reads a test sheet. Columns are known by their heads: `unit`, `id` or `name`; `Ah`, `capacity`; `mohm`, `IR`, `R`,
/// `resistance`; `V`, `OCV`, `volts`; `SoH`, `health`; anything else is kept as a note. Without heads the columns are
/// unit, Ah, mohm, V, note. Cells and heads may carry units (Ah, mAh, ohm, mohm, uohm, V, mV, %). Columns are parted by
/// tabs, semicolons or commas; where it is not the comma, a comma is a decimal comma. Lines that begin with # are
/// passed over.
pub fn read_sheet(text: &str) -> Sheet {
    // Line ends of one kind, so that lines are counted as an editor does.
    let text = text
        .trim_start_matches('\u{feff}')
        .replace("\r\n", "\n")
        .replace('\r', "\n");
    let text = text.as_str();
    let mut sheet = Sheet::default();
    let separator = separator(text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut columns: Option<Vec<(Column, Option<Scale>, String)>> = None;
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let line = error.position().map_or(0, |p| usize::try_from(p.line()).unwrap_or(0));
                sheet.faults.push(fault(
                    line,
                    "the line",
                    "it is no text in columns",
                    "save the table as CSV text",
                ));
                continue;
            }
        };
        let line = record.position().map_or(0, |p| usize::try_from(p.line()).unwrap_or(0));
        if record.iter().all(str::is_empty) {
            continue;
        }
        if sheet.rows.len() >= MOST_LINES {
            let problem = format!("more than {MOST_LINES} units");
            sheet.faults.push(fault(line, "the line", &problem, "split the sheet"));
            break;
        }
        match &columns {
            None => {
                let (found, is_head) = heads(&record, line, &mut sheet.faults);
                columns = Some(found);
                if !is_head {
                    row(
                        &record,
                        line,
                        columns.as_deref().unwrap_or_default(),
                        separator,
                        &mut sheet,
                    );
                }
            }
            Some(columns) => row(&record, line, columns, separator, &mut sheet),
        }
    }
    same_names(&mut sheet);
    sheet
}

fn fault(line: usize, column: &str, problem: &str, mend: &'static str) -> SheetFault {
    SheetFault {
        line,
        column: column.to_owned(),
        problem: problem.to_owned(),
        mend,
    }
}

/// The separator of the first line that has one: tab before semicolon before comma.
pub(crate) fn separator(text: &str) -> u8 {
    let lines = text.lines().filter(|l| !l.trim_start().starts_with('#'));
    for line in lines {
        for separator in [b'\t', b';', b','] {
            if line.as_bytes().contains(&separator) {
                return separator;
            }
        }
    }
    b','
}

/// The columns by their heads; without heads by their order.
fn heads(
    record: &csv::StringRecord,
    line: usize,
    faults: &mut Vec<SheetFault>,
) -> (Vec<(Column, Option<Scale>, String)>, bool) {
    let is_head = record.len() < 2 && !record[0].bytes().any(|b| b.is_ascii_digit())
        || record.iter().skip(1).all(|cell| number(cell, b';').is_none())
            && record.iter().skip(1).any(|c| !c.is_empty());
    if !is_head {
        const ORDER: [(Column, &str); 5] = [
            (Column::Name, "unit"),
            (Column::AmpHours, "Ah"),
            (Column::Resistance, "mohm"),
            (Column::Volts, "V"),
            (Column::Note, "note"),
        ];
        let columns = (0..record.len())
            .map(|i| {
                let (column, name) = ORDER[i.min(4)];
                (column, None, name.to_owned())
            })
            .collect();
        return (columns, false);
    }
    let columns: Vec<(Column, Option<Scale>, String)> = record
        .iter()
        .map(|head| {
            let (column, scale) = head_of(head);
            (
                column,
                scale,
                if head.is_empty() {
                    "a column without a head".to_owned()
                } else {
                    head.to_owned()
                },
            )
        })
        .collect();
    if !columns.iter().any(|(c, ..)| *c == Column::Name) {
        let problem = "no column holds what is written on the units";
        faults.push(fault(line, "the heads", problem, "head one column unit, id or name"));
    }
    for once in [Column::Name, Column::AmpHours, Column::Resistance, Column::Volts] {
        let same: Vec<&str> = columns
            .iter()
            .filter(|(c, ..)| *c == once)
            .map(|(_, _, name)| name.as_str())
            .collect();
        if same.len() > 1 {
            let problem = format!("{} say the same", same.join(" and "));
            faults.push(fault(line, "the heads", &problem, "leave one of them out"));
        }
    }
    (columns, true)
}

/// What a head says, and in which unit.
fn head_of(head: &str) -> (Column, Option<Scale>) {
    let lower = head
        .to_lowercase()
        .replace(['\u{b5}', '\u{3bc}'], "u")
        .replace(['\u{3c9}', '\u{2126}'], "ohm");
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '%')
        .filter(|w| !w.is_empty())
        .collect();
    let has = |names: &[&str]| words.iter().any(|w| names.contains(w));
    if has(&["soh", "health"]) {
        return (Column::Health, Some(1000.0));
    }
    if has(&["capacity", "cap", "ah", "mah"]) {
        return (
            Column::AmpHours,
            has(&["mah"]).then_some(1.0).or(has(&["ah"]).then_some(1000.0)),
        );
    }
    if has(&[
        "resistance",
        "ir",
        "r",
        "ri",
        "dcir",
        "acir",
        "ohm",
        "ohms",
        "mohm",
        "mohms",
        "uohm",
        "milliohm",
        "milliohms",
    ]) {
        let scale = if has(&["uohm"]) {
            Some(1.0)
        } else if has(&["mohm", "mohms", "milliohm", "milliohms"]) {
            Some(1000.0)
        } else {
            has(&["ohm", "ohms"]).then_some(1_000_000.0)
        };
        return (Column::Resistance, scale);
    }
    if has(&["ocv", "volts", "voltage", "volt", "v", "mv", "rest"]) {
        return (
            Column::Volts,
            has(&["mv"])
                .then_some(1.0)
                .or(has(&["v", "volts", "volt"]).then_some(1000.0)),
        );
    }
    if has(&["unit", "id", "name", "module", "no", "nr", "number", "label", "serial"]) {
        return (Column::Name, None);
    }
    (Column::Note, None)
}

/// A plain decimal with what stands behind it.
fn number(cell: &str, separator: u8) -> Option<(f64, String)> {
    let cell = cell.trim();
    let end = cell
        .char_indices()
        .find(|(i, c)| !(c.is_ascii_digit() || matches!(c, '.' | ',') || *i == 0 && matches!(c, '-' | '+')))
        .map_or(cell.len(), |(i, _)| i);
    let (digits, unit) = cell.split_at(end);
    let commas = digits.matches(',').count();
    let digits = if separator == b',' || commas != 1 || digits.contains('.') {
        digits.to_owned()
    } else {
        digits.replace(',', ".")
    };
    if digits.contains(',') {
        return None;
    }
    let value: f64 = digits.parse().ok()?;
    Some((
        value,
        unit.trim()
            .to_lowercase()
            .replace(['\u{b5}', '\u{3bc}'], "u")
            .replace(['\u{3c9}', '\u{2126}'], "ohm"),
    ))
}

/// Thousandths of the kept unit for a unit of measure behind a number; `None` when it is none of that column.
fn scale_of(column: Column, unit: &str) -> Option<Scale> {
    Some(match (column, unit) {
        (Column::AmpHours, "ah")
        | (Column::Volts, "v")
        | (Column::Health, "%" | "")
        | (Column::Resistance, "mohm" | "mohms" | "mr") => 1000.0,
        (Column::AmpHours, "mah") | (Column::Volts, "mv") | (Column::Resistance, "uohm" | "uohms") => 1.0,
        (Column::Resistance, "ohm" | "ohms") => 1_000_000.0,
        _ => return None,
    })
}

fn row(
    record: &csv::StringRecord,
    line: usize,
    columns: &[(Column, Option<Scale>, String)],
    separator: u8,
    sheet: &mut Sheet,
) {
    let mut found = Row { line, ..Row::default() };
    let mut wrong = false;
    let mut notes: Vec<String> = Vec::new();
    for (i, cell) in record.iter().enumerate() {
        let Some((column, scale, head)) = columns.get(i) else {
            if !cell.is_empty() {
                notes.push(plain(cell));
            }
            continue;
        };
        if cell.is_empty() || matches!(cell, "-" | "n/a" | "?") {
            continue;
        }
        let value = match column {
            Column::Name => {
                found.name = plain(cell);
                continue;
            }
            Column::Note => {
                notes.push(plain(cell));
                continue;
            }
            _ => value(*column, *scale, cell, separator),
        };
        match (value, column) {
            (Ok(n), Column::AmpHours) => found.amp_hours = Some(AmpHours::from_milli(n)),
            (Ok(n), Column::Resistance) => found.resistance_mohm = Some(Milliohms(n)),
            (Ok(n), Column::Volts) => found.rest_volts = Some(Volts::from_milli(n)),
            (Ok(n), _) => found.health = Some(n),
            (Err((problem, mend)), _) => {
                wrong = true;
                sheet.faults.push(fault(line, head, &problem, mend));
            }
        }
    }
    found.note = notes.join(", ").chars().take(200).collect();
    if found.name.is_empty() {
        wrong = true;
        sheet.faults.push(fault(
            line,
            "unit",
            "it has no name",
            "write on each unit what tells it apart, and in the sheet",
        ));
    }
    if !wrong {
        sheet.rows.push(found);
    }
}

/// Words of a cell, fit for a line of a terminal.
fn plain(cell: &str) -> String {
    cell.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .take(200)
        .collect::<String>()
        .trim()
        .to_owned()
}

/// The figure of a cell in thousandths of the kept unit.
fn value(column: Column, head: Option<Scale>, cell: &str, separator: u8) -> Result<i64, (String, &'static str)> {
    let (unit, mend) = match column {
        Column::AmpHours => ("Ah", "write amp-hours as 52.3, 52.3 Ah or 52300 mAh"),
        Column::Resistance => ("milliohms", "write milliohms as 1.85, 1.85 mohm or 0.00185 ohm"),
        Column::Volts => ("V", "write volts as 29.41, 29.41 V or 29410 mV"),
        _ => ("%", "write percent as 87 or 87 %"),
    };
    let given = plain(cell);
    let refuse = |why: &str| Err((format!("{given:?} {why}"), mend));
    let Some((value, behind)) = number(cell, separator) else {
        return refuse("is not a plain number");
    };
    let scale = if behind.is_empty() {
        head.unwrap_or(1000.0)
    } else {
        match scale_of(column, &behind) {
            Some(scale) => scale,
            None => return refuse(&format!("is not in {unit}")),
        }
    };
    let thousandths = value * scale;
    if value <= 0.0 || thousandths < 0.5 {
        return refuse("must be above zero");
    }
    if thousandths > MOST * 1000.0 {
        return refuse("is more than any unit has");
    }
    #[expect(clippy::cast_possible_truncation, reason = "at most 1e9")]
    Ok(thousandths.round() as i64)
}

/// A unit that is named twice is named, and the first stands.
fn same_names(sheet: &mut Sheet) {
    let mut seen = std::collections::BTreeMap::new();
    let mut kept = Vec::with_capacity(sheet.rows.len());
    for row in std::mem::take(&mut sheet.rows) {
        match seen.get(&row.name) {
            Some(first) => {
                let problem = format!("{:?} is on line {first} already", row.name);
                sheet
                    .faults
                    .push(fault(row.line, "unit", &problem, "give each unit a name of its own"));
            }
            None => {
                seen.insert(row.name.clone(), row.line);
                kept.push(row);
            }
        }
    }
    sheet.rows = kept;
    sheet.faults.sort_by_key(|f| f.line);
}

/// A sheet as text that reads back as the same: unit, Ah, mohm, V, note.
pub fn sheet_text(rows: &[Row]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let text = |n: Option<i64>| n.map_or(String::new(), thousandths_text);
    let written = writer.write_record(["unit", "capacity Ah", "resistance mohm", "rest V", "note"]);
    debug_assert!(written.is_ok(), "memory takes every record");
    for row in rows {
        let record = [
            row.name.clone(),
            text(row.amp_hours.map(AmpHours::milli)),
            text(row.resistance_mohm.map(|r| r.0)),
            text(row.rest_volts.map(Volts::milli)),
            row.note.clone(),
        ];
        let written = writer.write_record(&record);
        debug_assert!(written.is_ok(), "memory takes every record");
    }
    writer
        .into_inner()
        .ok()
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests;
