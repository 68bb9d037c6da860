//! The single-line diagram of each pack on paper.

use drawing::{DOT, Diagram, Mark};
use job::Evaluation;
use plot::{Anchor, Ink, Item, Layer, Line, Meta, Orientation, Page, Path, Pen, Point, Rect, Text};

use crate::page::title::{self, Title};
use crate::page::{TEXT, frame, framed, wrapped};
use crate::words;

/// Lines and words together: a layer is painted at once, and blocks cover what is under them.
const LINES: Layer = Layer::new("LINES");
/// A capital letter of the diagram's words, which have 3 mm of font.
const CAPITAL: f64 = 2.2;

/// A sheet for each pack that is laid out; `None` when none is.
pub fn single_line_pdf(evaluation: &Evaluation, date: &str) -> Option<Vec<u8>> {
    let pages = pages(evaluation, date);
    let meta = Meta {
        title: "Single-line diagram".to_owned(),
        subject: words::title(evaluation),
        ..Meta::default()
    };
    (!pages.is_empty()).then(|| plot::pdf(&pages, &meta))
}

pub(crate) fn pages(evaluation: &Evaluation, date: &str) -> Vec<Page> {
    let size = crate::drawing_paper(evaluation).size_mm(Orientation::Landscape);
    let frame = frame(size);
    let diagrams: Vec<(String, [String; 3], Diagram)> = evaluation
        .laid_out()
        .filter_map(|pack| {
            let volts = pack.figures.as_ref()?.volts;
            let shown = [volts.empty, volts.nominal, volts.full].map(|v| v.shown(1));
            Some((words::plain(&pack.name), shown, drawing::single_line(pack)?))
        })
        .collect();
    let of = diagrams.len();
    let sheet = |(index, (name, volts, diagram)): (usize, (String, [String; 3], Diagram))| {
        let mut items = Vec::new();
        let mut y = title::top(frame) + 4.0;
        let mut notes = wrapped(&crate::cautions().join(" "), frame.width - 8.0, 2.0);
        notes.push("Symbols in the shapes of IEC 60617, not to scale. What is not entered has no figure.".to_owned());
        for words in notes.into_iter().rev() {
            items.push(Text::new(words, [frame.x + 4.0, y], 2.0, TEXT).into());
            y += 3.6;
        }
        let room = Rect::between([frame.x + 6.0, y + 4.0], [frame.high()[0] - 6.0, frame.high()[1] - 6.0]);
        items.extend(drawn(&diagram, room));
        let title = Title {
            evaluation,
            date,
            name: format!("{name} - single-line diagram"),
            number: format!("E{}", index + 1),
            kind: "circuit diagram",
            scale: None,
            sheet: [index + 1, of],
            units: title::Told::Nothing,
            about: [
                ("empty V dc", volts[0].clone()),
                ("nominal V dc", volts[1].clone()),
                ("full V dc", volts[2].clone()),
                ("", String::new()),
            ],
        };
        framed(size, items, &title)
    };
    diagrams.into_iter().enumerate().map(sheet).collect()
}

/// The marks of a diagram as large as `room` takes them.
fn drawn(diagram: &Diagram, room: Rect) -> Vec<Item> {
    let [wide, high] = diagram.size;
    let scale = (room.width / wide).min(room.height / high);
    let place = |[x, y]: Point| [room.x + x * scale, room.high()[1] - y * scale];
    let ink = |wide: f64, line: Line| Ink::new(Pen::new(wide * scale.min(1.5), line), LINES);
    let item = |mark: &Mark| match mark {
        Mark::Line { ends, wide, dashed } => {
            let kind = if *dashed { Line::Dotted } else { Line::Continuous };
            vec![Item::line(place(ends[0]), place(ends[1]), ink(*wide, kind))]
        }
        Mark::Rect { at, sides } => {
            let rect = Rect::between(place([at[0], at[1] + sides[1]]), place([at[0] + sides[0], at[1]]));
            let white = Item::Filled {
                path: Path::rect(rect),
                grey: 1.0,
                layer: LINES,
            };
            vec![white, Item::rect(rect, ink(0.4, Line::Continuous))]
        }
        Mark::Dot(at) => vec![Item::dot(place(*at), DOT * scale, LINES)],
        Mark::Text { at, anchor, words } => {
            let text = Text::new(words::plain(words), place(*at), CAPITAL * scale, LINES);
            let anchor = match *anchor {
                "middle" => Anchor::Middle,
                "end" => Anchor::Right,
                _ => Anchor::Left,
            };
            vec![Text { anchor, ..text }.into()]
        }
    };
    diagram.marks.iter().flat_map(item).collect()
}
