//! Files of drawings, written by the crate and read here by what their formats say, with none of the crate's own code.

mod plain_dxf;

use plot::{
    Contour, Flat, Hole, Ink, Item, Layer, Meta, On, Orientation, Page, Paper, Path, Pen, Rect, Tiling, dxf, pdf, svg,
    tiles,
};
use serde_json::{Map, Value, json};

use super::Entry;
use crate::compare::{magnitude, within};
use crate::inputs::{Clear, Inputs, Unclear};
use crate::question::Outcome;
use plain_dxf::PlainDxf;

const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
const PLATE: Rect = Rect::new(0.0, 0.0, 200.0, 100.0);

/// A file written and read again, or sheets of paper counted, by what is expected.
pub(super) fn written(entry: &Entry<'_>) -> Clear<Outcome> {
    let asked = |key: &str| entry.expected.get(key).is_some();
    if asked("acadver") {
        outline(entry)
    } else if asked("R12_units") {
        release_facts(entry)
    } else if asked("mm_per_unit") {
        picture(entry)
    } else if asked("rect_100mm_pt") {
        points(entry)
    } else if asked("pages") {
        sheets(entry)
    } else {
        Ok(Outcome::not_yet("unknown kind"))
    }
}

/// The plate of the cases: 200 × 100 mm with corners of 5 mm, and a hole in its middle.
fn plate(hole_mm: f64) -> Flat {
    Flat {
        contours: vec![Contour {
            on: On::Cut,
            vertices: Path::round_rect(PLATE, 5.0).vertices,
        }],
        holes: vec![Hole {
            on: On::Cut,
            centre: PLATE.middle(),
            radius: hole_mm / 2.0,
        }],
        ..Flat::default()
    }
}

fn read(flat: &Flat) -> Clear<PlainDxf> {
    let file = dxf(flat).map_err(|fault| Unclear(format!("the plate is refused: {fault}")))?;
    PlainDxf::read(&file)
}

fn outline(entry: &Entry<'_>) -> Clear<Outcome> {
    let file = read(&plate(entry.inputs.float("hole_d")?))?;
    let Some(outline) = file.outlines.first() else {
        return Err(Unclear("the file has no outline".to_owned()));
    };
    let got = json!({
        "acadver": file.header("$ACADVER", 1),
        "audit_errors": file.errors.len(),
        "audit_fixes": file.odd.len(),
        "outline_closed": outline.closed,
        "extents": file.extents(),
        "outline_area_mm2": outline.area(),
        "bulge_90": outline.corners.iter().map(|corner| corner[2]).fold(0.0, f64::max),
    });
    let share = entry.tolerance["area_rel"].as_f64().unwrap_or(0.0);
    let abs = entry.tolerance["abs"].as_f64().unwrap_or(0.0);
    let allowed = |key: &str, expected: &serde_json::Number| {
        if key.contains("area") {
            share * magnitude(expected)
        } else {
            abs
        }
    };
    let mut outcome = Outcome::compared(&entry.expected, got, &allowed);
    let told: Vec<String> = file.errors.iter().chain(&file.odd).cloned().collect();
    if !told.is_empty() {
        outcome.note = format!("{}; {}", outcome.note, told.join("; "));
    }
    Ok(outcome)
}

/// What belongs to later releases is not in the file, and what takes its place is.
fn release_facts(entry: &Entry<'_>) -> Clear<Outcome> {
    let file = read(&plate(9.0).with_gauge())?;
    let version = file.header("$ACADVER", 1);
    let is_r12 = version == "AC1009";
    let gauge = file.has_gauge();
    let holds = |key: &str| match key {
        "R12_units" => is_r12 && gauge,
        // Codes of a unit that is not declared cannot be wrong.
        "insunits_codes" => !file.mentions("$INSUNITS"),
        later => is_r12 && !file.mentions(later),
    };
    let told = |key: &String, fact: &Value| {
        let got = if holds(key) {
            fact.clone()
        } else {
            json!(format!("not so in the file, which is {version}"))
        };
        (key.clone(), got)
    };
    let facts = entry.expected.as_object();
    let got: Map<String, Value> = facts.into_iter().flatten().map(|(key, fact)| told(key, fact)).collect();
    let mut outcome = Outcome::compared(&entry.expected, Value::Object(got), &within(0.0));
    outcome.note = format!("{}tried on a file with a gauge line", outcome.note);
    Ok(outcome)
}

fn picture(entry: &Entry<'_>) -> Clear<Outcome> {
    let mut page = Page::new([200.0, 100.0]);
    page.items.push(Item::path(Path::round_rect(PLATE, 5.0), CUT));
    let picture = svg(&page);
    let attribute = |name: &str| {
        let from = format!(" {name}=\"");
        let value = picture.split_once(&from).and_then(|(_, rest)| rest.split_once('"'));
        value
            .map(|(value, _)| value)
            .ok_or_else(|| Unclear(format!("the picture has no {name}")))
    };
    for name in ["width", "height", "viewBox"] {
        let (got, wanted) = (attribute(name)?, entry.inputs.text(name)?);
        if got != wanted {
            return Err(Unclear(format!("{name} of the picture is {got}, not {wanted}")));
        }
    }
    let width_mm = numbers(attribute("width")?.trim_end_matches("mm"))[0];
    let view = numbers(attribute("viewBox")?);
    let got = json!({
        "mm_per_unit": width_mm / view[2],
        "px_at_96dpi": width_mm * 96.0 / 25.4,
        "path_length_mm": path_length(attribute("d")?),
    });
    Ok(entry.compared(got))
}

/// The numbers in a text, in order.
fn numbers(text: &str) -> Vec<f64> {
    let parts = text.split(|c: char| c.is_whitespace() || c.is_ascii_alphabetic() || "[]<>/(),".contains(c));
    parts.filter_map(|part| part.parse().ok()).collect()
}

/// The length of a path of lines and of arcs of less than half a circle.
fn path_length(data: &str) -> f64 {
    let mut length = 0.0;
    let mut begin: Option<[f64; 2]> = None;
    let mut at = [0.0, 0.0];
    let starts: Vec<usize> = data
        .match_indices(char::is_alphabetic)
        .map(|(index, _)| index)
        .collect();
    for (index, &start) in starts.iter().enumerate() {
        let end = starts.get(index + 1).copied().unwrap_or(data.len());
        let figures = numbers(&data[start..end]);
        let to = match figures[..] {
            [.., x, y] => [x, y],
            _ => begin.unwrap_or(at),
        };
        let chord = f64::hypot(to[0] - at[0], to[1] - at[1]);
        length += match &data[start..=start] {
            "M" => 0.0,
            "A" => 2.0 * figures[0] * (chord / 2.0 / figures[0]).asin(),
            _ => chord,
        };
        begin = begin.or(Some(to));
        at = to;
    }
    length
}

fn points(entry: &Entry<'_>) -> Clear<Outcome> {
    let size = |key: &str, unit: f64| -> Clear<[f64; 2]> {
        let list = entry.inputs.list(key)?;
        let sides: Vec<f64> = list.iter().filter_map(Value::as_f64).map(|side| side * unit).collect();
        let wrong = |_| Unclear(format!("{key} should be two numbers"));
        sides.try_into().map_err(wrong)
    };
    let letter = size("letter_in", 25.4)?;
    let known = [Paper::A4, Paper::Letter].map(|paper| paper.size_mm(Orientation::Portrait));
    let mut pages = [size("A4_mm", 1.0)?, letter].map(Page::new);
    let square = Rect::new(20.0, 20.0, 100.0, 100.0);
    pages[0].items.push(Item::rect(square, CUT));
    let file = pdf(&pages, &Meta::default());
    let boxes: Vec<[f64; 2]> = media_boxes(&file);
    let got = json!({
        "A4_pt": boxes.first(),
        "letter_pt": boxes.get(1),
        "rect_100mm_pt": drawn_width(&file),
    });
    let off = entry.tolerance["abs_pt"].as_f64().unwrap_or(0.0);
    let mut outcome = Outcome::compared(&entry.expected, got, &within(off));
    let same = known
        .iter()
        .flatten()
        .zip(pages.iter().flat_map(|page| [page.width_mm, page.height_mm]));
    if same.into_iter().any(|(paper, case)| (paper - case).abs() > 1e-9) {
        outcome.note += "; the sizes of paper in the crate are others";
    }
    Ok(outcome)
}

/// Width and height of each page of a PDF file.
fn media_boxes(file: &[u8]) -> Vec<[f64; 2]> {
    let text = String::from_utf8_lossy(file);
    let size = |rest: &str| {
        let figures = numbers(rest.split(']').next().unwrap_or_default());
        match figures[..] {
            [left, low, right, high] => [right - left, high - low],
            _ => [0.0, 0.0],
        }
    };
    text.split("/MediaBox").skip(1).map(size).collect()
}

/// How wide what is drawn on the first page of a PDF file is, in its unit.
fn drawn_width(file: &[u8]) -> Option<f64> {
    let find = |wanted: &[u8], from: usize| {
        let place = file[from..].windows(wanted.len()).position(|part| part == wanted);
        place.map(|place| from + place + wanted.len())
    };
    let start = find(b"\nstream\n", 0)?;
    let end = find(b"\nendstream", start)? - b"\nendstream".len();
    let content = miniz_oxide::inflate::decompress_to_vec_zlib(&file[start..end]).ok()?;
    let content = String::from_utf8(content).ok()?;
    let corners = content
        .lines()
        .filter(|line| line.ends_with(" m") || line.ends_with(" l"));
    let across: Vec<f64> = corners.map(|line| numbers(line)[0]).collect();
    let (low, high) = (
        across.iter().copied().reduce(f64::min)?,
        across.iter().copied().reduce(f64::max)?,
    );
    Some(high - low)
}

fn sheets(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let part = inputs.list("part_mm")?;
    let [Some(width), Some(height)] = [0, 1].map(|axis| part.get(axis).and_then(Value::as_f64)) else {
        return Err(Unclear("part_mm should be two numbers".to_owned()));
    };
    let tiling = Tiling {
        paper: paper(inputs)?,
        orientation: match inputs.text("orientation")? {
            "portrait" => Orientation::Portrait,
            "landscape" => Orientation::Landscape,
            other => return Err(Unclear(format!("no orientation {other}"))),
        },
        margin_mm: inputs.float("margin")?,
        overlap_mm: inputs.float("overlap")?,
    };
    match tiles([width, height], &tiling) {
        Ok(grid) => Ok(entry.compared(json!({
            "columns": grid.columns,
            "rows": grid.rows,
            "pages": grid.pages(),
        }))),
        Err(error) => Err(Unclear(error.to_string())),
    }
}

fn paper(inputs: Inputs<'_>) -> Clear<Paper> {
    let name = inputs.text("paper")?;
    let known = Paper::ALL.into_iter().find(|paper| paper.name() == name);
    known.ok_or_else(|| Unclear(format!("no paper {name}")))
}
