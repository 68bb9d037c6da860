//! A flat outline as a file that every laser shop's program reads: DXF of release 12 (AC1009), millimetres.
//!
//! That release has closed outlines with arcs, circles, lines and words, and nothing that needs handles or markers. It
//! has no unit that a reader can rely on: say `mm` in the name of the file, and see [`Flat::with_gauge`].

use std::fmt::Write as _;

use crate::flat::{Contour, Fault, Flat, Hole, Note, On, Straight};
use crate::item::Anchor;
use crate::shape::{Point, Rect};

/// Writes an outline as a DXF file, tidied: see [`Flat::tidied`].
///
/// Layers `CUT`, `BEND`, `ETCH` and `TEXT` are always there. Lengths have nine places behind the point; words are plain
/// ASCII, with the three signs of the format for degrees, plus-minus and diameter.
///
/// # Errors
///
/// When the outline cannot be cut: see [`Fault`].
pub fn dxf(flat: &Flat) -> Result<String, Fault> {
    let flat = flat.tidied()?;
    let mut file = File(String::new());
    file.header(extents(&flat));
    file.tables();
    file.section("BLOCKS", |_| {});
    file.section("ENTITIES", |file| {
        flat.contours.iter().for_each(|contour| file.contour(contour));
        flat.holes.iter().for_each(|hole| file.hole(hole));
        flat.lines.iter().for_each(|line| file.line(line));
        flat.notes.iter().for_each(|note| file.note(note));
    });
    file.text(0, "EOF");
    Ok(file.0)
}

/// The smallest rectangle around lines and words.
fn extents(flat: &Flat) -> Rect {
    crate::bounds(&flat.items()).unwrap_or_default()
}

/// The one linetype besides the continuous one, and its dash and gap in millimetres.
const DASHED: &str = "DASHED";
const DASHES: [f64; 2] = [6.0, 3.0];

/// The colour of a layer by its number in the format, and its linetype.
const fn look(on: On) -> (u16, &'static str) {
    match on {
        On::Cut => (1, "CONTINUOUS"),
        On::Bend => (5, DASHED),
        On::Etch => (3, "CONTINUOUS"),
        On::Text => (7, "CONTINUOUS"),
    }
}

/// A file as far as it is written: pairs of a group code and a value, a line each.
struct File(String);

impl File {
    fn text(&mut self, code: u16, value: &str) {
        let _ = writeln!(self.0, "{code:>3}\n{value}");
    }

    fn whole(&mut self, code: u16, value: u16) {
        self.text(code, &value.to_string());
    }

    fn real(&mut self, code: u16, value: f64) {
        self.text(code, &real(value));
    }

    /// A place: x under `code`, y under the code ten above it, z under that twenty above.
    fn place(&mut self, code: u16, [x, y]: Point) {
        self.real(code, x);
        self.real(code + 10, y);
        self.real(code + 20, 0.0);
    }

    fn section(&mut self, name: &str, body: impl FnOnce(&mut Self)) {
        self.text(0, "SECTION");
        self.text(2, name);
        body(self);
        self.text(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, count: u16, body: impl FnOnce(&mut Self)) {
        self.text(0, "TABLE");
        self.text(2, name);
        self.whole(70, count);
        body(self);
        self.text(0, "ENDTAB");
    }

    fn header(&mut self, extents: Rect) {
        self.section("HEADER", |file| {
            file.text(9, "$ACADVER");
            file.text(1, "AC1009");
            file.text(9, "$EXTMIN");
            file.place(10, extents.low());
            file.text(9, "$EXTMAX");
            file.place(10, extents.high());
        });
    }

    fn tables(&mut self) {
        self.section("TABLES", |file| {
            file.table("LTYPE", 2, |file| {
                file.linetype("CONTINUOUS", "Solid line", &[]);
                file.linetype(DASHED, "__ __ __ __", &DASHES);
            });
            file.table("LAYER", 5, |file| {
                file.layer("0", 7, "CONTINUOUS");
                for on in On::ALL {
                    let (colour, linetype) = look(on);
                    file.layer(on.layer().name(), colour, linetype);
                }
            });
            file.table("STYLE", 1, Self::style);
        });
    }

    /// `dashes`: dash and gap by turns, in millimetres.
    fn linetype(&mut self, name: &str, shown: &str, dashes: &[f64]) {
        self.text(0, "LTYPE");
        self.text(2, name);
        self.whole(70, 0);
        self.text(3, shown);
        // 65 is the letter A: lines begin and end with a dash.
        self.whole(72, 65);
        self.whole(73, u16::try_from(dashes.len()).unwrap_or(0));
        self.real(40, dashes.iter().sum());
        for (index, part) in dashes.iter().enumerate() {
            let is_gap = index % 2 == 1;
            self.real(49, if is_gap { -part } else { *part });
        }
    }

    fn layer(&mut self, name: &str, colour: u16, linetype: &str) {
        self.text(0, "LAYER");
        self.text(2, name);
        self.whole(70, 0);
        self.whole(62, colour);
        self.text(6, linetype);
    }

    /// The one style of lettering: heights and widths are those of each text.
    fn style(&mut self) {
        self.text(0, "STYLE");
        self.text(2, "STANDARD");
        self.whole(70, 0);
        self.real(40, 0.0);
        self.real(41, 1.0);
        self.real(50, 0.0);
        self.whole(71, 0);
        self.real(42, 2.5);
        self.text(3, "txt");
        self.text(4, "");
    }

    fn entity(&mut self, kind: &str, on: On) {
        self.text(0, kind);
        self.text(8, on.layer().name());
    }

    fn contour(&mut self, contour: &Contour) {
        self.entity("POLYLINE", contour.on);
        // Corners follow; the outline is closed; the format wants a place for its height.
        self.whole(66, 1);
        self.place(10, [0.0, 0.0]);
        self.whole(70, 1);
        for vertex in &contour.vertices {
            self.entity("VERTEX", contour.on);
            self.place(10, vertex.at());
            if vertex.bulge != 0.0 {
                self.text(42, &format!("{:.15}", vertex.bulge));
            }
        }
        self.entity("SEQEND", contour.on);
    }

    fn hole(&mut self, hole: &Hole) {
        self.entity("CIRCLE", hole.on);
        self.place(10, hole.centre);
        self.real(40, hole.radius);
    }

    fn line(&mut self, line: &Straight) {
        self.entity("LINE", line.on);
        self.place(10, line.from);
        self.place(11, line.to);
    }

    fn note(&mut self, note: &Note) {
        self.entity("TEXT", note.on);
        self.place(10, note.text().origin());
        self.real(40, note.height_mm);
        self.text(1, &plain(&note.words));
        self.real(50, note.turn_deg);
        let anchor = match note.anchor {
            Anchor::Left => return,
            Anchor::Middle => 1,
            Anchor::Right => 2,
        };
        self.whole(72, anchor);
        self.place(11, note.at);
    }
}

/// A length to nine places, without the zeros at its end.
fn real(value: f64) -> String {
    let text = format!("{value:.9}");
    let short = text.trim_end_matches('0');
    let short = if short == "-0." { "0." } else { short };
    if short.ends_with('.') {
        format!("{short}0")
    } else {
        short.to_owned()
    }
}

/// Words in ASCII: what release 12 reads on every machine.
fn plain(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in crate::font::shown(words) {
        match c {
            '°' => out += "%%d",
            '±' => out += "%%p",
            'Ø' | 'ø' | '⌀' | '∅' => out += "%%c",
            // A caret alone begins a control character.
            '^' => out += "^ ",
            '\u{20}'..='\u{7e}' => out.push(c),
            '–' | '—' | '−' => out.push('-'),
            '×' => out.push('x'),
            '·' | '•' => out.push('*'),
            '…' => out += "...",
            '≤' => out += "<=",
            '≥' => out += ">=",
            '‘' | '’' | '′' => out.push('\''),
            '“' | '”' | '″' => out.push('"'),
            '⁄' => out.push('/'),
            '½' => out += " 1/2",
            '¼' => out += " 1/4",
            '¾' => out += " 3/4",
            '⅛' => out += " 1/8",
            '⅜' => out += " 3/8",
            '⅝' => out += " 5/8",
            '⅞' => out += " 7/8",
            '\u{a0}' | '\u{202f}' | '\u{2009}' => out.push(' '),
            _ => out.push('?'),
        }
    }
    out.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("floor 3 mm", "floor 3 mm")]
    #[case("4 × ⌀9 ±0.5, 90°", "4 x %%c9 %%p0.5, 90%%d")]
    #[case("11½″ – a^b\nc", "11 1/2\" - a^ b c")]
    #[case("日", "?")]
    fn words_are_plain(#[case] words: &str, #[case] written: &str) {
        assert_eq!(plain(words), written);
    }

    #[rstest]
    #[case(0.0, "0.0")]
    #[case(-0.000_000_000_1, "0.0")]
    #[case(200.0, "200.0")]
    #[case(0.396_875, "0.396875")]
    #[case(-12_345.000_001, "-12345.000001")]
    fn lengths_are_written_to_the_nanometre(#[case] value: f64, #[case] written: &str) {
        assert_eq!(real(value), written);
    }
}
