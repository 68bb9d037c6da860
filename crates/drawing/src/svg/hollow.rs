//! A hollow as a picture.

use std::fmt::Write as _;

use super::escape;
use super::frame::triangle;
use super::text::{Anchor, Look, text, width};
use crate::hollow::{Hollow, Name, Place, Stands, Stroke, Weight};

/// Height of a corner's name, in the units of the hollow.
const NAME: f64 = 11.0;
/// Half the breadth of the ring round a number.
const RING: f64 = 7.4;

/// Draws the hollow as a picture of its own, so many whole millimetres wide on paper.
pub fn hollow_svg(hollow: &Hollow, width_mm: u32) -> String {
    let mut body = String::new();
    for stroke in &hollow.strokes {
        body += &drawn(stroke);
    }
    // Room for every name, shown or not: so all pictures of one width are drawn to one scale.
    let mut extent = [0.0; 4];
    for name in Hollow::whole().names {
        named(&name, &mut extent);
    }
    if hollow.directions {
        body += &directions(&mut extent);
    }
    for number in &hollow.numbers {
        body += &ring(number.number, number.at);
        let [x, y] = number.at;
        take(&mut extent, [x - RING, y - RING], [x + RING, y + RING]);
    }
    for name in &hollow.names {
        body += &named(name, &mut extent);
    }
    let edge = 1.5;
    let [x, y] = [extent[0] - edge, extent[1] - edge];
    let [wide, high] = [extent[2] - x + edge, extent[3] - y + edge];
    let paper_height = high / wide * f64::from(width_mm);
    let title = escape(&hollow.title);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_mm}mm\" height=\"{paper_height:.1}mm\" \
         viewBox=\"{x:.1} {y:.1} {wide:.1} {high:.1}\" font-family=\"DejaVu Sans, Arial, Helvetica, sans-serif\" \
         role=\"img\">\n<title>{title}</title>\n\
         <rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{wide:.1}\" height=\"{high:.1}\" fill=\"#fff\"/>\n{body}</svg>\n"
    )
}

fn take(extent: &mut [f64; 4], [x0, y0]: Place, [x1, y1]: Place) {
    *extent = [
        extent[0].min(x0),
        extent[1].min(y0),
        extent[2].max(x1),
        extent[3].max(y1),
    ];
}

fn drawn(stroke: &Stroke) -> String {
    let (thick, dashes) = match stroke.weight {
        Weight::Edge => (1.0, ""),
        Weight::Hidden => (0.8, " stroke-dasharray=\"3 2.4\""),
        Weight::Taped => (2.8, ""),
    };
    let [[x0, y0], [x1, y1]] = stroke.ends;
    format!(
        "<path d=\"M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{thick}\" \
         stroke-linecap=\"round\"{dashes}/>\n"
    )
}

fn ring(number: usize, [x, y]: Place) -> String {
    let mut out = String::new();
    let _ = writeln!(
        out,
        "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{RING}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.8\"/>"
    );
    let look = Look {
        bold: true,
        ..Look::plain(NAME * 0.9, Anchor::Middle)
    };
    out + &text([x, y + NAME * 0.33], &number.to_string(), look)
}

fn named(name: &Name, extent: &mut [f64; 4]) -> String {
    let words = name.corner.to_string();
    // Capitals are wider than the text that a width is reckoned for.
    let wide = width(&words, NAME, true) * 1.15;
    let [x, y] = name.at;
    let middle = NAME * 0.36;
    let (anchor, at, left) = match name.stands {
        Stands::Left => (Anchor::End, [x - 3.0, y + middle], x - 3.0 - wide),
        Stands::Right => (Anchor::Start, [x + 3.0, y + middle], x + 3.0),
        Stands::Above => (Anchor::Middle, [x, y - 3.0], x - wide / 2.0),
        Stands::Below => (Anchor::Middle, [x, y + NAME], x - wide / 2.0),
    };
    take(extent, [left, at[1] - NAME * 0.8], [left + wide, at[1] + NAME * 0.2]);
    let look = Look {
        bold: true,
        ..Look::plain(NAME, anchor)
    };
    text(at, &words, look)
}

/// Which way the truck lies: an arrow to its front under the floor, and one to the driver's right beside it.
fn directions(extent: &mut [f64; 4]) -> String {
    const WORDS: f64 = 6.5;
    let mut out = String::new();
    let mut arrow = |[x0, y0]: Place, [x1, y1]: Place| {
        let _ = writeln!(
            out,
            "<path d=\"M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.6\"/>"
        );
        let long = (x1 - x0).hypot(y1 - y0);
        let [u, v] = [(x1 - x0) / long, (y1 - y0) / long];
        out += &triangle([x1, y1], [-u * 5.0, -v * 5.0], [-v * 1.8, u * 1.8]);
    };
    arrow([24.0, 8.0], [2.0, 8.0]);
    arrow([128.0, 2.0], [144.0, -10.4]);
    let look = Look::plain(WORDS, Anchor::Start);
    out += &text([27.0, 10.3], "front of the truck", look);
    out += &text([138.0, 3.0], "driver's", look);
    out += &text([138.0, 10.3], "right", look);
    take(extent, [0.0, 0.0], [138.0 + width("driver's", WORDS, false), 12.0]);
    out
}
