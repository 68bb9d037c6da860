//! Text in a picture.

use std::fmt::Write as _;

/// `text` with everything that means something in XML or HTML written out, and what XML does not allow left out.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\'' => out += "&#39;",
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// Where a text hangs on its point.
#[derive(Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text is drawn.
#[derive(Clone, Copy)]
pub(super) struct Look {
    pub(super) size: f64,
    pub(super) anchor: Anchor,
    pub(super) bold: bool,
    /// Read from the right-hand side of the sheet.
    pub(super) upright: bool,
}

impl Look {
    pub(super) const fn plain(size: f64, anchor: Anchor) -> Self {
        Self {
            size,
            anchor,
            bold: false,
            upright: false,
        }
    }
}

/// A text with its baseline at a point, with a white edge that keeps it apart from lines under it.
pub(super) fn text([x, y]: [f64; 2], words: &str, look: Look) -> String {
    let mut out = String::new();
    let anchor = match look.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let _ = write!(
        out,
        "<text x=\"{x:.1}\" y=\"{y:.1}\" font-size=\"{:.1}\" text-anchor=\"{anchor}\"",
        look.size
    );
    if look.bold {
        out += " font-weight=\"bold\"";
    }
    if look.upright {
        let _ = write!(out, " transform=\"rotate(-90 {x:.1} {y:.1})\"");
    }
    let _ = writeln!(
        out,
        " stroke=\"#fff\" stroke-width=\"{:.2}\" stroke-linejoin=\"round\" paint-order=\"stroke\">{}</text>",
        look.size * 0.25,
        escape(words)
    );
    out
}

/// About how wide a text is; on the wide side.
pub(super) fn width(words: &str, size: f64, bold: bool) -> f64 {
    let each = if bold { 0.68 } else { 0.6 };
    // Far below 2^53 characters.
    #[expect(clippy::cast_precision_loss, reason = "a label is short")]
    let count = words.chars().count() as f64;
    count * each * size
}
