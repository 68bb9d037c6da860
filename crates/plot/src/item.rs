//! What is on a page.

use crate::font::Face;
use crate::ink::{Ink, Layer};
use crate::place::Placement;
use crate::shape::{Path, Point, Rect, around, circle, distance};

/// A sheet of paper and what is on it: millimetres, origin at the lower left corner, y up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// From side to side.
    pub width_mm: f64,
    /// From bottom to top.
    pub height_mm: f64,
    /// What is on it, painted layer by layer (see [`Layer`]).
    pub items: Vec<Item>,
}

impl Page {
    /// An empty page of `[width, height]` millimetres.
    pub const fn new([width_mm, height_mm]: [f64; 2]) -> Self {
        Self {
            width_mm,
            height_mm,
            items: Vec::new(),
        }
    }
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A line along a path, open or closed.
    Stroke {
        /// What it runs along.
        path: Path,
        /// What it is drawn with.
        ink: Ink,
    },
    /// A closed path, filled and without an edge.
    Filled {
        /// Its edge; an open path is closed.
        path: Path,
        /// 0 is black, 1 is white.
        grey: f64,
        /// Where it belongs.
        layer: Layer,
    },
    /// A circle, drawn as a line.
    Circle {
        /// Its middle.
        centre: Point,
        /// In millimetres.
        radius: f64,
        /// What it is drawn with.
        ink: Ink,
    },
    /// Words.
    Text(Text),
    /// Other items, of which only what is inside a rectangle is seen.
    Clipped {
        /// What is seen, in the same millimetres as the items.
        rect: Rect,
        /// What is cut to it.
        items: Vec<Item>,
    },
    /// Other items, made larger or smaller, turned and moved.
    Placed {
        /// Where their millimetres come to lie.
        placement: Placement,
        /// In millimetres of their own.
        items: Vec<Item>,
    },
}

/// Which part of its words a text has at its place, from side to side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// The beginning.
    #[default]
    Left,
    /// The middle.
    Middle,
    /// The end.
    Right,
}

/// Which height of its words a text has at its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Base {
    /// The line that letters stand on.
    #[default]
    Baseline,
    /// Halfway up a capital letter.
    Middle,
}

/// Words on one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// What is read.
    pub words: String,
    /// Where it is: see [`Anchor`] and [`Base`].
    pub at: Point,
    /// How high a capital letter is on paper, in millimetres, above 0.
    ///
    /// The height that ISO 3098 counts lettering by: 2.5, 3.5, 5, 7 mm.
    pub height_mm: f64,
    /// From side to side.
    pub anchor: Anchor,
    /// From foot to head.
    pub base: Base,
    /// Turned about its place, in degrees, anticlockwise.
    pub turn_deg: f64,
    /// Regular or bold.
    pub face: Face,
    /// Where it belongs.
    pub layer: Layer,
}

impl Text {
    /// Words that begin at a place and stand on its height, level and regular.
    pub fn new(words: impl Into<String>, at: Point, height_mm: f64, layer: Layer) -> Self {
        Self {
            words: words.into(),
            at,
            height_mm,
            anchor: Anchor::Left,
            base: Base::Baseline,
            turn_deg: 0.0,
            face: Face::Regular,
            layer,
        }
    }

    /// The same with another part at its place.
    #[must_use]
    pub fn anchored(self, anchor: Anchor, base: Base) -> Self {
        Self { anchor, base, ..self }
    }

    /// The same, turned to `turn_deg` degrees anticlockwise from level.
    #[must_use]
    pub fn turned(self, turn_deg: f64) -> Self {
        Self { turn_deg, ..self }
    }

    /// The same in bold.
    #[must_use]
    pub fn bold(self) -> Self {
        Self {
            face: Face::Bold,
            ..self
        }
    }

    /// How long the words are in millimetres.
    pub fn width(&self) -> f64 {
        self.face.width(&self.words, self.height_mm)
    }

    /// Where the words begin, on the line that they stand on.
    pub fn origin(&self) -> Point {
        let back = match self.anchor {
            Anchor::Left => 0.0,
            Anchor::Middle => self.width() / 2.0,
            Anchor::Right => self.width(),
        };
        let [along, up] = self.directions();
        let down = self.down();
        [0, 1].map(|axis| self.at[axis] - along[axis] * back - up[axis] * down)
    }

    /// How far the foot of the letters is below the place.
    pub(crate) fn down(&self) -> f64 {
        match self.base {
            Base::Baseline => 0.0,
            Base::Middle => self.height_mm / 2.0,
        }
    }

    /// One millimetre along the words, and one up.
    pub(crate) fn directions(&self) -> [Point; 2] {
        let [cos, sin] = around([0.0, 0.0], 1.0, self.turn_deg.to_radians());
        [[cos, sin], [-sin, cos]]
    }

    /// The corners of the space that the words take, with what hangs below the line.
    fn corners(&self) -> [Point; 4] {
        let [along, up] = self.directions();
        let below = self.height_mm * 0.3;
        let space = Rect::new(0.0, -below, self.width(), self.height_mm + 2.0 * below);
        let origin = self.origin();
        let place = |[x, y]: Point| [0, 1].map(|axis| origin[axis] + along[axis] * x + up[axis] * y);
        space.corners().map(place)
    }
}

impl From<Text> for Item {
    fn from(text: Text) -> Self {
        Self::Text(text)
    }
}

impl Item {
    /// A straight line.
    pub fn line(from: Point, to: Point, ink: Ink) -> Self {
        Self::path(Path::through([from, to], false), ink)
    }

    /// Straight lines from place to place.
    pub fn lines(points: impl IntoIterator<Item = Point>, ink: Ink) -> Self {
        Self::path(Path::through(points, false), ink)
    }

    /// A line along a path.
    pub const fn path(path: Path, ink: Ink) -> Self {
        Self::Stroke { path, ink }
    }

    /// The sides of a rectangle.
    pub fn rect(rect: Rect, ink: Ink) -> Self {
        Self::path(Path::rect(rect), ink)
    }

    /// A circle.
    pub const fn circle(centre: Point, radius: f64, ink: Ink) -> Self {
        Self::Circle { centre, radius, ink }
    }

    /// A dot: a filled black circle.
    pub fn dot(centre: Point, radius: f64, layer: Layer) -> Self {
        Self::Filled {
            path: circle(centre, radius),
            grey: 0.0,
            layer,
        }
    }

    /// The head of an arrow with its tip at `tip`, coming from the side of `from`: filled, `length` mm long and a third
    /// as wide.
    pub fn arrowhead(tip: Point, from: Point, length: f64, layer: Layer) -> Self {
        let apart = distance(tip, from).max(f64::MIN_POSITIVE);
        let back = [0, 1].map(|axis| (from[axis] - tip[axis]) / apart * length);
        let side = [-back[1] / 6.0, back[0] / 6.0];
        let corner = |sign: f64| [0, 1].map(|axis| tip[axis] + back[axis] + sign * side[axis]);
        Self::Filled {
            path: Path::through([tip, corner(1.0), corner(-1.0)], true),
            grey: 0.0,
            layer,
        }
    }

    /// A line with a head at its end, of `head` mm.
    pub fn arrow(from: Point, to: Point, head: f64, ink: Ink) -> [Self; 2] {
        [Self::line(from, to, ink), Self::arrowhead(to, from, head, ink.layer)]
    }

    /// A line with a head at both ends, of `head` mm: what a size is written on.
    pub fn span(from: Point, to: Point, head: f64, ink: Ink) -> [Self; 3] {
        [
            Self::line(from, to, ink),
            Self::arrowhead(to, from, head, ink.layer),
            Self::arrowhead(from, to, head, ink.layer),
        ]
    }

    /// The smallest rectangle around it, without the width of its lines. None for what has nothing in it.
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Self::Stroke { path, .. } | Self::Filled { path, .. } => path.bounds(),
            Self::Circle { centre, radius, .. } => circle(*centre, *radius).bounds(),
            Self::Text(text) => Rect::around(text.corners()),
            Self::Clipped { rect, items } => bounds(items).and_then(|all| all.common(*rect)),
            Self::Placed { placement, items } => bounds(items).map(|all| placement.rect(all)),
        }
    }
}

/// The smallest rectangle around items. None when there is nothing.
pub fn bounds(items: &[Item]) -> Option<Rect> {
    items.iter().filter_map(Item::bounds).reduce(Rect::with)
}
