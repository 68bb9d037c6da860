//! The title block: the fields of ISO 7200, and the symbols of projection of ISO 5456-2.

use job::{Evaluation, ProjectionName};
use plot::{Ink, Item, Layer, Line, Pen, Point, Rect, Text};
use tape::Units;

use super::{FRAME, TEXT, THIN, fitted};
use crate::words;

/// Its width by the standard, and the height of a row.
pub(crate) const WIDTH: f64 = 180.0;
const ROW: f64 = 9.0;
const ROWS: f64 = 4.0;

/// How high it reaches.
pub(crate) const fn top(frame: Rect) -> f64 {
    frame.y + ROW * ROWS
}

/// In which units the sizes on a sheet are.
#[derive(Clone, Copy)]
pub(crate) enum Told {
    /// In the person's own, the other behind it.
    Both,
    /// In the person's own.
    Own,
    /// It has none.
    Nothing,
}

impl Told {
    const fn words(self, units: Units) -> &'static str {
        match (self, units) {
            (Self::Both, Units::Inch) => "inch (mm)",
            (Self::Both, Units::Millimetre) => "mm (inch)",
            (Self::Own, Units::Inch) => "inch",
            (Self::Own, Units::Millimetre) => "mm",
            (Self::Nothing, _) => "none",
        }
    }
}

/// What a title block says besides job, truck, date and revision.
pub(crate) struct Title<'a> {
    pub(crate) evaluation: &'a Evaluation,
    pub(crate) date: &'a str,
    pub(crate) name: String,
    /// The identification number.
    pub(crate) number: String,
    /// The type of the document.
    pub(crate) kind: &'static str,
    /// As `1:10`; `None` on a page without a view to scale.
    pub(crate) scale: Option<u32>,
    /// Which sheet, and of how many.
    pub(crate) sheet: [usize; 2],
    /// In which units its sizes are.
    pub(crate) units: Told,
    /// Four more fields with their names.
    pub(crate) about: [(&'static str, String); 4],
}

impl Title<'_> {
    /// The block in the lower right corner of the frame.
    pub(crate) fn items(&self, frame: Rect) -> Vec<Item> {
        let left = frame.high()[0] - WIDTH;
        let scale = self
            .scale
            .map_or_else(|| "none".to_owned(), |scale| format!("1:{scale}"));
        let revision = words::plain(&self.evaluation.revision);
        let job = [&self.evaluation.name, &self.evaluation.truck].map(|text| words::plain(text));
        let sheet_of = &self.evaluation.sheet;
        // Who drew it is asked for by the standard; while nobody is named, the program is.
        let drawn_by = if sheet_of.drawn_by.is_empty() {
            "packwright".to_owned()
        } else {
            words::plain(&sheet_of.drawn_by)
        };
        let [sheet, of] = self.sheet;
        let mut about = Vec::new();
        for ((caption, value), width) in self.about.iter().zip([45.0, 40.0, 20.0, 35.0]) {
            about.push((*caption, value.clone(), width));
        }
        about.push(("units", self.units.words(self.evaluation.units).to_owned(), 40.0));
        let rows: [Vec<(&str, String, f64)>; 4] = [
            vec![
                ("owner", words::plain(&sheet_of.shop), 45.0),
                ("title", self.name.clone(), 95.0),
                ("drawing number", self.number.clone(), 40.0),
            ],
            vec![
                ("document type", self.kind.to_owned(), 45.0),
                ("job, truck", job.join(", "), 95.0),
                ("sheet / of", format!("{sheet} / {of}"), 40.0),
            ],
            vec![
                ("created by", drawn_by, 22.5),
                ("approval", String::new(), 22.5),
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
            about,
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
                    items.extend(projection(sheet_of.projection, [x + 24.0, y + ROW / 2.0]));
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

/// A cone cut short, its small end to the left, and the circles that are seen from that end: by first angle on its
/// right, by third angle on its left.
fn projection(angle: ProjectionName, [x, y]: Point) -> Vec<Item> {
    const LARGE: f64 = 3.0;
    const SMALL: f64 = 1.5;
    let ink = Ink::new(Pen::new(0.35, Line::Continuous), TEXT);
    let centre = Ink::new(Pen::new(0.13, Line::LongDashDot), Layer::TEXT);
    let (end, eye) = match angle {
        ProjectionName::First => (x - 9.0, [x + 6.0, y]),
        ProjectionName::Third => (x + 3.0, [x - 6.0, y]),
    };
    let cone = [
        [end, y - SMALL],
        [end + 6.0, y - LARGE],
        [end + 6.0, y + LARGE],
        [end, y + SMALL],
    ];
    vec![
        Item::path(plot::Path::through(cone, true), ink),
        Item::circle(eye, LARGE, ink),
        Item::circle(eye, SMALL, ink),
        Item::line([end - 1.5, y], [end + 7.5, y], centre),
        Item::line([eye[0] - 4.0, y], [eye[0] + 4.0, y], centre),
        Item::line([eye[0], y - 4.0], [eye[0], y + 4.0], centre),
    ]
}
