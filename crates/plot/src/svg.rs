//! A page as an SVG picture: one unit of the picture is one millimetre.

use std::fmt::Write as _;

use crate::font::{self, Face, shown};
use crate::ink::{Ink, Line};
use crate::item::{Anchor, Page, Text};
use crate::place::{Mark, by_layer};
use crate::shape::{Path, Piece, Point};

/// Writes a page as an SVG picture in true scale.
///
/// Width and height are in millimetres and the view box has the same numbers. Each layer is a group with the layer's
/// name as its id. Texts are texts; the letters may be of another font where `DejaVu Sans` is not at hand.
pub fn svg(page: &Page) -> String {
    let [width, height] = [page.width_mm, page.height_mm].map(number);
    let mut picture = Picture {
        out: String::new(),
        height: page.height_mm,
        clips: 0,
    };
    let _ = writeln!(
        picture.out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" style=\"background:#fff\" fill=\"none\" \
         stroke-linejoin=\"round\" font-family=\"DejaVu Sans, Arial, Helvetica, sans-serif\">"
    );
    for (layer, marks) in by_layer(&page.items) {
        let _ = writeln!(picture.out, "<g id=\"{}\">", layer.name());
        for mark in &marks {
            picture.draw(mark);
        }
        picture.out += "</g>\n";
    }
    picture.out += "</svg>\n";
    picture.out
}

/// The picture as far as it is written.
struct Picture {
    out: String,
    /// Of the page, in millimetres: SVG has its origin above and y down.
    height: f64,
    clips: u32,
}

impl Picture {
    /// A place in the picture.
    fn place(&self, [x, y]: Point) -> [String; 2] {
        [x, self.height - y].map(number)
    }

    fn draw(&mut self, mark: &Mark) {
        match mark {
            Mark::ClipBegins(rect) => {
                self.clips += 1;
                // A point is in no layer's name.
                let id = format!("clip.{}", self.clips);
                let [x, y] = self.place([rect.x, rect.y + rect.height]);
                let [width, height] = [rect.width, rect.height].map(number);
                let _ = writeln!(
                    self.out,
                    "<clipPath id=\"{id}\"><rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/></clipPath>\n\
                     <g clip-path=\"url(#{id})\">"
                );
            }
            Mark::ClipEnds => self.out += "</g>\n",
            Mark::Stroke(path, ink) => {
                let data = self.data(path);
                if !data.is_empty() {
                    let _ = writeln!(self.out, "<path d=\"{data}\"{}/>", look(*ink));
                }
            }
            Mark::Filled(path, grey) => {
                let data = self.data(path);
                if !data.is_empty() {
                    let _ = writeln!(self.out, "<path d=\"{data}\" fill=\"{}\"/>", colour(*grey));
                }
            }
            Mark::Circle(centre, radius, ink) => {
                let [x, y] = self.place(*centre);
                let radius = number(*radius);
                let _ = writeln!(self.out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"{}/>", look(*ink));
            }
            Mark::Text(text) => self.text(text),
        }
    }

    /// The path in the words of SVG. Empty when there is nothing to draw.
    fn data(&self, path: &Path) -> String {
        let mut data = String::new();
        for piece in path.pieces() {
            let [from, to] = match piece {
                Piece::Straight(ends) => ends,
                Piece::Round(arc) => arc.ends,
            };
            if data.is_empty() {
                let [x, y] = self.place(from);
                let _ = write!(data, "M{x} {y}");
            }
            let [x, y] = self.place(to);
            let _ = match piece {
                Piece::Straight(_) => write!(data, " L{x} {y}"),
                Piece::Round(arc) => {
                    let radius = number(arc.radius);
                    let large = u8::from(arc.turn.abs() > std::f64::consts::PI);
                    // With y down, what turned anticlockwise turns against the sense of the picture's angles.
                    let sweep = u8::from(arc.turn < 0.0);
                    write!(data, " A{radius} {radius} 0 {large} {sweep} {x} {y}")
                }
            };
        }
        if path.closed && !data.is_empty() {
            data += " Z";
        }
        data
    }

    fn text(&mut self, text: &Text) {
        if text.words.is_empty() {
            return;
        }
        let [_, up] = text.directions();
        let foot = [0, 1].map(|axis| text.at[axis] - up[axis] * text.down());
        let [x, y] = self.place(foot);
        let size = number(font::size(text.height_mm));
        let _ = write!(
            self.out,
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"#000\" xml:space=\"preserve\""
        );
        match text.anchor {
            Anchor::Left => {}
            Anchor::Middle => self.out += " text-anchor=\"middle\"",
            Anchor::Right => self.out += " text-anchor=\"end\"",
        }
        if text.face == Face::Bold {
            self.out += " font-weight=\"bold\"";
        }
        if text.turn_deg != 0.0 {
            let turn = number(-text.turn_deg);
            let _ = write!(self.out, " transform=\"rotate({turn} {x} {y})\"");
        }
        let _ = writeln!(self.out, ">{}</text>", escaped(&text.words));
    }
}

/// The attributes of a line.
fn look(ink: Ink) -> String {
    let mut look = format!(" stroke=\"#000\" stroke-width=\"{}\"", number(ink.pen.width_mm));
    if ink.pen.line == Line::Continuous {
        look += " stroke-linecap=\"round\"";
    } else {
        let dashes: Vec<String> = ink.pen.dashes_mm().map(number).collect();
        let _ = write!(look, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
    look
}

fn colour(grey: f64) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 0 and 255, rounded"
    )]
    let level = libm::round(grey.clamp(0.0, 1.0) * 255.0) as u8;
    format!("#{level:02x}{level:02x}{level:02x}")
}

/// A number to a nanometre, without the zeros at its end.
fn number(number: f64) -> String {
    let text = format!("{number:.6}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    match short {
        "-0" => "0".to_owned(),
        _ => short.to_owned(),
    }
}

/// The words with what means something in XML written out, and without what XML does not allow.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in shown(words) {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\u{fffe}' | '\u{ffff}' => {}
            c => out.push(c),
        }
    }
    out
}
