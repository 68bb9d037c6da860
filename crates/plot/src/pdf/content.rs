//! What is painted on one page.

use std::f64::consts::FRAC_PI_4;

use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Str};

use super::fonts::Fonts;
use super::{narrow, points};
use crate::font;
use crate::ink::{Ink, Layer, Line, Pen};
use crate::item::Text;
use crate::place::Mark;
use crate::shape::{Arc, Path, Piece, Point, around, circle};

/// The operators that paint a page.
pub(super) fn of(layers: &[(Layer, Vec<Mark>)], fonts: &Fonts) -> Vec<u8> {
    let mut painter = Painter {
        out: Content::new(),
        fonts,
        pen: None,
        grey: None,
    };
    painter.out.set_line_join(LineJoinStyle::RoundJoin);
    for mark in layers.iter().flat_map(|(_, marks)| marks) {
        painter.paint(mark);
    }
    painter.out.finish().into_vec()
}

struct Painter<'a> {
    out: Content,
    fonts: &'a Fonts,
    /// The pen and the grey that are set, so that they are not set again for each line.
    pen: Option<Pen>,
    grey: Option<f64>,
}

impl Painter<'_> {
    fn paint(&mut self, mark: &Mark) {
        match mark {
            Mark::ClipBegins(rect) => {
                let [x, y, width, height] = [rect.x, rect.y, rect.width, rect.height].map(points);
                self.out.save_state();
                self.out.rect(x, y, width, height).clip_nonzero().end_path();
            }
            Mark::ClipEnds => {
                self.out.restore_state();
                (self.pen, self.grey) = (None, None);
            }
            Mark::Stroke(path, ink) => self.stroke(path, *ink),
            Mark::Circle(centre, radius, ink) => self.stroke(&circle(*centre, *radius), *ink),
            Mark::Filled(path, grey) => {
                if self.trace(path) {
                    self.grey(*grey);
                    self.out.close_path().fill_nonzero();
                }
            }
            Mark::Text(text) => self.text(text),
        }
    }

    fn stroke(&mut self, path: &Path, ink: Ink) {
        // Before the path: no setting may come between its operators.
        self.pen(ink.pen);
        if self.trace(path) {
            if path.closed {
                self.out.close_path();
            }
            self.out.stroke();
        }
    }

    fn pen(&mut self, pen: Pen) {
        if self.pen == Some(pen) {
            return;
        }
        let cap = match pen.line {
            Line::Continuous => LineCapStyle::RoundCap,
            // A round end would take half of a gap.
            _ => LineCapStyle::ButtCap,
        };
        self.out
            .set_line_width(points(pen.width_mm))
            .set_line_cap(cap)
            .set_dash_pattern(pen.dashes_mm().map(points), 0.0);
        self.pen = Some(pen);
    }

    /// Traces a path. Whether there was anything to trace.
    fn trace(&mut self, path: &Path) -> bool {
        let mut begun = false;
        for piece in path.pieces() {
            let ends = match piece {
                Piece::Straight(ends) => ends,
                Piece::Round(arc) => arc.ends,
            };
            if !begun {
                let [x, y] = ends[0].map(points);
                self.out.move_to(x, y);
                begun = true;
            }
            match piece {
                Piece::Straight([_, to]) => {
                    let [x, y] = to.map(points);
                    self.out.line_to(x, y);
                }
                Piece::Round(arc) => curves(&arc, |[a, b, to]| {
                    let [[ax, ay], [bx, by], [x, y]] = [a, b, to].map(|place| place.map(points));
                    self.out.cubic_to(ax, ay, bx, by, x, y);
                }),
            }
        }
        begun
    }

    fn grey(&mut self, grey: f64) {
        if self.grey != Some(grey) {
            self.out.set_fill_gray(narrow(grey.clamp(0.0, 1.0)));
            self.grey = Some(grey);
        }
    }

    fn text(&mut self, text: &Text) {
        if text.words.is_empty() {
            return;
        }
        self.grey(0.0);
        let [[cos, sin], [left, up]] = text.directions().map(|axis| axis.map(narrow));
        let [x, y] = text.origin().map(points);
        let (name, encoded) = self.fonts.encoded(text);
        self.out
            .begin_text()
            .set_font(name, points(font::size(text.height_mm)))
            .set_text_matrix([cos, sin, left, up, x, y])
            .show(Str(&encoded))
            .end_text();
    }
}

/// An arc as cubic curves, each of an eighth of a turn at most: off by less than 5 millionths of the radius.
///
/// Source: the ends and their directions are kept when the handles are `4/3 · tan(turn / 4)` of the radius long.
fn curves(arc: &Arc, mut each: impl FnMut([Point; 3])) {
    let count = libm::ceil(arc.turn.abs() / FRAC_PI_4 - 1e-9).max(1.0);
    let turn = arc.turn / count;
    let handle = 4.0 / 3.0 * libm::tan(turn / 4.0);
    let mut from = arc.ends[0];
    let mut index = 0.0;
    while index < count {
        let begin = arc.start + turn * index;
        index += 1.0;
        let end = arc.start + turn * index;
        let to = if index < count {
            around(arc.centre, arc.radius, end)
        } else {
            arc.ends[1]
        };
        let [bx, by] = around([0.0, 0.0], arc.radius, begin);
        let [ex, ey] = around([0.0, 0.0], arc.radius, end);
        each([
            [from[0] - by * handle, from[1] + bx * handle],
            [to[0] + ey * handle, to[1] - ex * handle],
            to,
        ]);
        from = to;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{Vertex, distance};

    #[test]
    fn curves_keep_to_their_circle() {
        let path = Path {
            vertices: vec![Vertex::round([100.0, 0.0], 300.0), Vertex::straight([0.0, 20.0])],
            closed: false,
        };
        let Some(Piece::Round(arc)) = path.pieces().next() else {
            panic!("an arc");
        };
        let (mut from, mut worst) = (arc.ends[0], 0.0_f64);
        curves(&arc, |[a, b, to]| {
            for step in 0..=20 {
                let t = f64::from(step) / 20.0;
                let s = 1.0 - t;
                let place = [0, 1].map(|axis| {
                    s * s * s * from[axis]
                        + 3.0 * s * s * t * a[axis]
                        + 3.0 * s * t * t * b[axis]
                        + t * t * t * to[axis]
                });
                worst = worst.max((distance(place, arc.centre) - arc.radius).abs() / arc.radius);
            }
            from = to;
        });
        assert!(worst < 5e-6, "{worst}");
        assert!(distance(from, arc.ends[1]) < 1e-12);
    }
}
