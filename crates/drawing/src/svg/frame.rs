//! The sheet: where the view lies on it, how large text is, and how far what was drawn reaches.

use std::fmt::Write as _;

use tape::Length;

use super::text::{Anchor, Look, text, width};
use crate::{Rect, View};

/// The sheet under way.
pub(super) struct Frame {
    /// The view: left, top, right, bottom, in millimetres.
    pub(super) view: [f64; 4],
    /// What is taken so far.
    taken: [f64; 4],
    /// Height of text; lines are told in parts of it.
    pub(super) text: f64,
}

impl Frame {
    pub(super) fn of(view: &View) -> Option<Self> {
        let extent = view.extent()?;
        let corners = rect(&extent);
        let [x0, y0, x1, y1] = corners;
        let text = ((x1 - x0).max((y1 - y0) * 1.5) / 52.0).max(1.0);
        Some(Self {
            view: corners,
            taken: corners,
            text,
        })
    }

    /// Takes room for a rectangle.
    pub(super) fn take(&mut self, [x0, y0, x1, y1]: [f64; 4]) {
        self.taken = [
            self.taken[0].min(x0),
            self.taken[1].min(y0),
            self.taken[2].max(x1),
            self.taken[3].max(y1),
        ];
    }

    /// Takes room for a text and gives it back drawn.
    pub(super) fn text(&mut self, [x, y]: [f64; 2], words: &str, look: Look) -> String {
        let wide = width(words, look.size, look.bold);
        let before = match look.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => wide / 2.0,
            Anchor::End => wide,
        };
        if look.upright {
            self.take([x - look.size, y - wide + before, x + look.size * 0.3, y + before]);
        } else {
            self.take([x - before, y - look.size, x - before + wide, y + look.size * 0.3]);
        }
        text([x, y], words, look)
    }

    /// What is taken: left, top, right, bottom.
    pub(super) const fn taken(&self) -> [f64; 4] {
        self.taken
    }

    /// The page: x, y, width, height.
    pub(super) fn page(&self) -> [f64; 4] {
        let [x0, y0, x1, y1] = self.taken;
        let edge = self.text;
        [x0 - edge, y0 - edge, x1 - x0 + edge * 2.0, y1 - y0 + edge * 2.0]
    }

    /// Which way the truck lies: a word and an arrow at each side of the view.
    pub(super) fn directions(&mut self, view: &View) -> String {
        let [left, right, top, bottom] = view.side.edge_words();
        let [x0, y0, x1, y1] = self.view;
        let size = self.text * 0.85;
        let (above, below) = (y0 - self.text * 0.9, y1 + self.text * 1.3);
        let middle = f64::midpoint(x0, x1);
        let mut out = String::new();
        for (words, anchor, x, y) in [
            (left, Anchor::Start, x0 + size * 1.2, above),
            (right, Anchor::End, x1 - size * 1.2, above),
            (top, Anchor::Middle, middle, above),
            (bottom, Anchor::Middle, middle, below),
        ] {
            out += &self.text([x, y], words, Look::plain(size, anchor));
        }
        let half = |words: &str| width(words, size, false) / 2.0;
        for (tip, back, across) in [
            ([x0, above - size * 0.35], [size, 0.0], [0.0, size * 0.35]),
            ([x1, above - size * 0.35], [-size, 0.0], [0.0, size * 0.35]),
            (
                [middle + half(top) + size * 0.8, above - size * 0.8],
                [0.0, size * 0.9],
                [size * 0.35, 0.0],
            ),
            (
                [middle + half(bottom) + size * 0.8, below + size * 0.1],
                [0.0, -size * 0.9],
                [size * 0.35, 0.0],
            ),
        ] {
            out += &triangle(tip, back, across);
        }
        self.take([x0, y0, x1, y1 + self.text * 1.6]);
        out
    }
}

/// A filled triangle: its tip, the way back to the middle of its base, and half the base.
pub(super) fn triangle(tip: [f64; 2], back: [f64; 2], across: [f64; 2]) -> String {
    let base = [tip[0] + back[0], tip[1] + back[1]];
    let mut out = String::new();
    let _ = writeln!(
        out,
        "<path d=\"M{:.1} {:.1}L{:.1} {:.1}L{:.1} {:.1}z\"/>",
        tip[0],
        tip[1],
        base[0] + across[0],
        base[1] + across[1],
        base[0] - across[0],
        base[1] - across[1]
    );
    out
}

/// A thin line.
pub(super) fn line([x0, y0]: [f64; 2], [x1, y1]: [f64; 2], width: f64) -> String {
    format!(
        "<path d=\"M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{width:.2}\"/>\n"
    )
}

/// Millimetres of a length, for the picture alone.
pub(super) fn mm(length: Length) -> f64 {
    length.as_mm()
}

/// Left, top, right, bottom in millimetres.
pub(super) fn rect(rect: &Rect) -> [f64; 4] {
    [mm(rect.u0), mm(rect.v0), mm(rect.u1), mm(rect.v1)]
}
