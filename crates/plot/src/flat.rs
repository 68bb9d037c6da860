//! The flat outline of one part, or of a nest of them, as a shop cuts it.

mod tidy;

use crate::ink::{Ink, Layer, Pen};
use crate::item::{Anchor, Item, Text, bounds};
use crate::shape::{Path, Point, Rect, Vertex};
pub use tidy::Fault;

/// What is done to the sheet along a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum On {
    /// Cut through.
    Cut,
    /// Bent.
    Bend,
    /// Marked on its face.
    Etch,
    /// Nothing: for people to read.
    Text,
}

impl On {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Cut, Self::Bend, Self::Etch, Self::Text];

    /// The layer of what is done.
    pub const fn layer(self) -> Layer {
        match self {
            Self::Cut => Layer::CUT,
            Self::Bend => Layer::BEND,
            Self::Etch => Layer::ETCH,
            Self::Text => Layer::TEXT,
        }
    }

    /// What it is drawn with on paper.
    pub const fn ink(self) -> Ink {
        let pen = match self {
            Self::Cut => Pen::WIDE,
            Self::Bend => Pen::CENTRE,
            Self::Etch | Self::Text => Pen::NARROW,
        };
        Ink::new(pen, self.layer())
    }
}

/// A closed outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// What is done along it.
    pub on: On,
    /// Its corners in order; the last leads back to the first.
    pub vertices: Vec<Vertex>,
}

/// A round hole, or a circle that is marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// What is done along it.
    pub on: On,
    /// Its middle.
    pub centre: Point,
    /// In millimetres, above 0.
    pub radius: f64,
}

/// A straight line from edge to edge or less.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Straight {
    /// What is done along it.
    pub on: On,
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// Words on the sheet or beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// [`On::Text`] for what is read, [`On::Etch`] for what is marked.
    pub on: On,
    /// What is said.
    pub words: String,
    /// Where it begins, ends or has its middle, on the line that letters stand on.
    pub at: Point,
    /// How high a capital letter is, in millimetres of the part.
    pub height_mm: f64,
    /// What of it is at its place.
    pub anchor: Anchor,
    /// Turned about its place, in degrees, anticlockwise.
    pub turn_deg: f64,
}

/// A flat outline in millimetres of the part, in full size, without allowance for the width of the cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flat {
    /// Outer and inner edges.
    pub contours: Vec<Contour>,
    /// Round holes.
    pub holes: Vec<Hole>,
    /// Bends, and marks that are lines.
    pub lines: Vec<Straight>,
    /// Words.
    pub notes: Vec<Note>,
}

/// The length of the gauge line in millimetres.
const GAUGE: f64 = 100.0;

impl Flat {
    /// The smallest rectangle around its lines. None when there are none.
    pub fn bounds(&self) -> Option<Rect> {
        bounds(&self.drawn(|_| true))
    }

    /// The smallest rectangle around what is cut: the size of the blank.
    pub fn cut_bounds(&self) -> Option<Rect> {
        bounds(&self.drawn(|on| on == On::Cut))
    }

    /// The same with a line of 100 mm below it, which says its length and that sizes are millimetres.
    ///
    /// The plain format of [`dxf()`](crate::dxf()) cannot say its unit in a way that every reader heeds: whoever opens
    /// the file measures this line.
    #[must_use]
    pub fn with_gauge(mut self) -> Self {
        const BELOW: f64 = 20.0;
        const HEIGHT: f64 = 5.0;
        let [x, y] = self.bounds().map_or([0.0, 0.0], |all| all.low());
        let y = y - BELOW;
        self.lines.push(Straight {
            on: On::Text,
            from: [x, y],
            to: [x + GAUGE, y],
        });
        self.notes.push(Note {
            on: On::Text,
            words: "100 mm; all sizes in mm, scale 1:1".to_owned(),
            at: [x, y + HEIGHT / 2.0],
            height_mm: HEIGHT,
            anchor: Anchor::Left,
            turn_deg: 0.0,
        });
        self
    }

    /// The outline as it is drawn on paper: cuts wide, bends as centre lines, the rest narrow.
    ///
    /// In millimetres of the part; an [`Item::Placed`] brings it to scale.
    pub fn items(&self) -> Vec<Item> {
        let mut items = self.drawn(|_| true);
        items.extend(self.notes.iter().map(|note| Item::Text(note.text())));
        items
    }

    /// Its lines that are on some layers.
    fn drawn(&self, wanted: impl Fn(On) -> bool) -> Vec<Item> {
        let contours = self.contours.iter().map(|contour| (contour.on, contour.item()));
        let holes = self.holes.iter().map(|hole| (hole.on, hole.item()));
        let lines = self.lines.iter().map(|line| (line.on, line.item()));
        let all = contours.chain(holes).chain(lines);
        all.filter(|(on, _)| wanted(*on)).map(|(_, item)| item).collect()
    }
}

impl Contour {
    /// The path that it is.
    pub fn path(&self) -> Path {
        Path {
            vertices: self.vertices.clone(),
            closed: true,
        }
    }

    fn item(&self) -> Item {
        Item::path(self.path(), self.on.ink())
    }
}

impl Hole {
    fn item(&self) -> Item {
        Item::circle(self.centre, self.radius, self.on.ink())
    }
}

impl Straight {
    fn item(&self) -> Item {
        Item::line(self.from, self.to, self.on.ink())
    }
}

impl Note {
    /// The text that it is on paper.
    pub fn text(&self) -> Text {
        Text {
            anchor: self.anchor,
            turn_deg: self.turn_deg,
            ..Text::new(self.words.clone(), self.at, self.height_mm, self.on.layer())
        }
    }
}
