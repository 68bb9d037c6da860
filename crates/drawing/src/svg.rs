//! A view as a self-contained SVG picture: black on white, told apart by line and mark, never by colour.
//!
//! User units are millimetres of the thing drawn. Sizes stand below and to the left, names to the right, and nothing
//! lies on anything else: rows are filled only as far as there is room.

mod callouts;
mod frame;
mod hollow;
mod legend;
mod marks;
mod rows;
mod survey;
mod text;

use std::fmt::Write as _;

use crate::{Outline, Role, View};
use frame::Frame;
pub use hollow::hollow_svg;
pub use survey::survey_svg;
pub use text::escape;

/// How the picture stands on its page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Options {
    /// Its width on paper in whole millimetres.
    pub width_mm: u32,
    /// Whether the title, the notes and the key of marks are in the picture.
    pub title: bool,
}

impl Default for Options {
    /// As wide as the text of an A4 or Letter page, with title.
    fn default() -> Self {
        Self {
            width_mm: 180,
            title: true,
        }
    }
}

/// Draws the view. Empty for a view without outlines.
pub fn svg(view: &View, options: Options) -> String {
    let Some(mut frame) = Frame::of(view) else {
        return String::new();
    };
    let mut body = String::new();
    for outline in &view.outlines {
        body += &marks::outline(outline, &frame);
    }
    // What lies behind something was painted over: its outline shows through dashed, on top of everything.
    for outline in view.outlines.iter().filter(|o| is_behind(o, view)) {
        body += &marks::dashed(outline, &frame);
    }
    body += &frame.directions(view);
    body += &rows::draw(view, &mut frame);
    body += &callouts::draw(view, &mut frame);
    // After the lines to the names, so that none runs through one.
    for outline in &view.outlines {
        body += &marks::words(outline, &frame);
    }
    if options.title {
        body += &legend::draw(view, &mut frame);
    }
    let [x, y, width, height] = frame.page();
    let mut out = String::new();
    let paper_height = height / width * f64::from(options.width_mm);
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{paper_height:.1}mm\" \
         viewBox=\"{x:.1} {y:.1} {width:.1} {height:.1}\" font-family=\"DejaVu Sans, Arial, Helvetica, sans-serif\" \
         role=\"img\">\n<title>{}</title>\n",
        options.width_mm,
        escape(&view.title),
    );
    out += &marks::patterns(&frame);
    let _ = writeln!(
        out,
        "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" fill=\"#fff\"/>"
    );
    out += &body;
    out += "</svg>\n";
    out
}

/// Whether any of it lies behind something nearer that covers what was painted before.
fn is_behind(outline: &Outline, view: &View) -> bool {
    let covers = |other: &Outline| {
        matches!(other.role, Role::Body | Role::KeepOut(_))
            && other.subject != outline.subject
            && other.depth[0] < outline.depth[0]
            && other.rect.overlaps(&outline.rect)
    };
    matches!(outline.role, Role::KeepOut(_) | Role::Body) && (outline.hidden || view.outlines.iter().any(covers))
}

#[cfg(test)]
mod tests;
