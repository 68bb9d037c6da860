//! The title block: the fields of ISO 7200, and the symbol of first-angle projection of ISO 5456-2.

use plot::{Ink, Item, Layer, Line, Pen, Point, Rect, Text};

use super::{FRAME, Subject, TEXT, THIN, fitted};
use crate::{row, words};

/// Its width by the standard, and the height of a row.
const WIDTH: f64 = 180.0;
const ROW: f64 = 9.0;
const ROWS: f64 = 4.0;

/// How high it reaches.
pub(super) const fn top(frame: Rect) -> f64 {
    frame.y + ROW * ROWS
}

impl Subject<'_> {
    /// The block in the lower right corner of the frame.
    pub(super) fn title_block(&self, frame: Rect, sheet: usize, of: usize) -> Vec<Item> {
        let left = frame.high()[0] - WIDTH;
        let line = self.line;
        let assumed = self.evaluation.headline.assumed;
        let scale = self
            .scale
            .map_or_else(|| "none".to_owned(), |scale| format!("1:{scale}"));
        let revision = words::plain(&self.evaluation.revision);
        let title = format!("{} - {}", words::plain(&line.box_name), line.name);
        let job = [&self.evaluation.name, &self.evaluation.truck].map(|text| words::plain(text));
        let rows: [Vec<(&str, String, f64)>; 4] = [
            vec![
                ("owner", String::new(), 45.0),
                ("title", title, 95.0),
                ("drawing number", line.mark.clone(), 40.0),
            ],
            vec![
                ("document type", "flat pattern".to_owned(), 45.0),
                ("job, truck", job.join(", "), 95.0),
                ("sheet / of", format!("{sheet} / {of}"), 40.0),
            ],
            vec![
                ("drawn by", "packwright".to_owned(), 22.5),
                ("approved by", String::new(), 22.5),
                ("date of issue", words::plain(self.date), 40.0),
                (
                    "revision",
                    if revision.is_empty() {
                        "none".to_owned()
                    } else {
                        revision
                    },
                    30.0,
                ),
                ("scale", scale, 25.0),
                ("projection", String::new(), 40.0),
            ],
            vec![
                ("material", line.sheet.material.name().to_owned(), 45.0),
                ("thickness or section", row::section(self.table), 40.0),
                ("number off", line.quantity.to_string(), 30.0),
                (
                    "mass each",
                    format!("{}{} kg", words::mark(assumed.mass), words::kg(line.grams_each)),
                    25.0,
                ),
                ("units", "mm (inch)".to_owned(), 40.0),
            ],
        ];
        let mut items = vec![Item::rect(Rect::new(left, frame.y, WIDTH, ROW * ROWS), FRAME)];
        let mut y = frame.y + ROW * ROWS;
        for row in rows {
            y -= ROW;
            let mut x = left;
            for (caption, value, width) in row {
                let cell = Rect::new(x, y, width, ROW);
                items.push(Item::rect(cell, THIN));
                items.push(Text::new(caption, [x + 1.0, y + ROW - 2.4], 1.4, TEXT).into());
                let tall = if caption == "drawing number" { 3.2 } else { 2.5 };
                let (value, height) = fitted(&value, width - 3.0, [tall, 1.6]);
                let text = Text::new(value, [x + 1.5, y + 1.8], height, TEXT);
                if caption == "projection" {
                    items.extend(first_angle([x + 24.0, y + ROW / 2.0]));
                }
                if !text.words.is_empty() {
                    items.push(text.into());
                }
                x += width;
            }
        }
        items
    }
}

/// A cone cut short, its small end to the left, and on its right what is seen from the left.
fn first_angle([x, y]: Point) -> Vec<Item> {
    const LARGE: f64 = 3.0;
    const SMALL: f64 = 1.5;
    let ink = Ink::new(Pen::new(0.35, Line::Continuous), TEXT);
    let centre = Ink::new(Pen::new(0.13, Line::LongDashDot), Layer::TEXT);
    let cone = [
        [x - 9.0, y - SMALL],
        [x - 3.0, y - LARGE],
        [x - 3.0, y + LARGE],
        [x - 9.0, y + SMALL],
    ];
    let eye = [x + 6.0, y];
    vec![
        Item::path(plot::Path::through(cone, true), ink),
        Item::circle(eye, LARGE, ink),
        Item::circle(eye, SMALL, ink),
        Item::line([x - 10.5, y], [x - 1.5, y], centre),
        Item::line([eye[0] - 4.0, y], [eye[0] + 4.0, y], centre),
        Item::line([eye[0], y - 4.0], [eye[0], y + 4.0], centre),
    ]
}
