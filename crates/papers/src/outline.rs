//! A line of the cut list as a flat outline in millimetres, and as the file that a laser is given.

use enclosure::cutlist::Line;
use enclosure::{BendLine, Form};
use plot::{Anchor, Contour, Fault, Flat, Hole, Note, On, Point, Straight, Vertex};
use tape::{Length, Units};

use crate::words;

/// How high words are, in millimetres of the part.
const HEIGHT: f64 = 4.0;
/// From one line of words to the next.
const LEADING: f64 = 7.0;

/// The file a laser shop is given for one piece of sheet: layers CUT, BEND and TEXT, in millimetres. `None` for bars, and for the
/// liner: laminate and plastic are cut with a knife or a saw.
///
/// # Errors
///
/// When the outline cannot be cut as it is.
pub fn pattern_dxf(line: &Line) -> Option<Result<String, Fault>> {
    (line.form() == Form::Sheet && !line.is_liner()).then(|| plot::dxf(&with_words(line).with_gauge()))
}

/// What is cut and where it is bent, at exact places.
pub(crate) fn flat(line: &Line) -> Flat {
    let vertex = |v: &enclosure::Vertex| Vertex {
        x: v.x.as_mm(),
        y: v.y.as_mm(),
        bulge: v.bulge,
    };
    Flat {
        contours: vec![Contour {
            on: On::Cut,
            vertices: line.outline.iter().map(vertex).collect(),
        }],
        holes: line
            .holes
            .iter()
            .map(|hole| Hole {
                on: On::Cut,
                centre: mm([hole.x, hole.y]),
                radius: hole.diameter.as_mm() / 2.0,
            })
            .collect(),
        lines: line
            .bends
            .iter()
            .map(|bend| Straight {
                on: On::Bend,
                from: mm(bend.from),
                to: mm(bend.to),
            })
            .collect(),
        notes: Vec::new(),
    }
}

/// A place in millimetres.
pub(crate) fn mm(place: [Length; 2]) -> Point {
    place.map(Length::as_mm)
}

/// What a bend is called on every paper and in the file for the laser, counted from 0: `bend 1`. In words, since a letter with a
/// number is the mark of a part.
pub(crate) fn bend_name(index: usize) -> String {
    format!("bend {}", index + 1)
}

/// `up 90° R3`; for a person who works in inches `up 90° R0.118" (3 mm)`.
pub(crate) fn bend_words(bend: &BendLine, units: Units) -> String {
    format!("{} {}° {}", bend.fold.name(), angle(bend), radius(bend, units))
}

/// `bend 1 up 90° R3`.
pub(crate) fn bend_in_full(index: usize, bend: &BendLine, units: Units) -> String {
    format!("{} {}", bend_name(index), bend_words(bend, units))
}

/// Degrees without needless places.
pub(crate) fn angle(bend: &BendLine) -> String {
    let text = format!("{:.1}", bend.turn_deg);
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// The inside radius: `R3` in millimetres, for a person who works in inches `R0.118" (3 mm)`.
pub(crate) fn radius(bend: &BendLine, units: Units) -> String {
    let mut mm = tape::show::millimetres_bare(bend.radius, 2, tape::show::Rounding::Nearest);
    if mm.contains('.') {
        mm = mm.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    match units {
        Units::Millimetre => format!("R{mm}"),
        Units::Inch => format!("R{:.3}\" ({mm} mm)", bend.radius.as_inches()),
    }
}

/// Whether a bend line runs level rather than upright.
pub(crate) fn is_level(bend: &BendLine) -> bool {
    (bend.to[0] - bend.from[0]).abs() >= (bend.to[1] - bend.from[1]).abs()
}

fn with_words(line: &Line) -> Flat {
    let mut flat = flat(line);
    let note = |words: String, at: Point, anchor: Anchor, turn_deg: f64| Note {
        on: On::Text,
        words,
        at,
        height_mm: HEIGHT,
        anchor,
        turn_deg,
    };
    for (index, bend) in line.bends.iter().enumerate() {
        let [from, to] = [mm(bend.from), mm(bend.to)];
        let [x, y] = [0, 1].map(|axis| f64::midpoint(from[axis], to[axis]));
        let (at, turn) = if is_level(bend) {
            ([x, y + 1.5], 0.0)
        } else {
            ([x - 1.5, y], 90.0)
        };
        flat.notes.push(note(
            bend_in_full(index, bend, Units::Millimetre),
            at,
            Anchor::Middle,
            turn,
        ));
    }
    let seen = line.seen_words().map(str::to_owned);
    let top = flat.bounds().map_or(0.0, |all| all.high()[1]);
    let said = [
        format!("{}  {}", line.mark, line.name),
        format!("number off {}", line.quantity),
        format!("{}, sizes before coating, no kerf allowed for", line.sheet.label()),
        format!("box: {}", words::plain(&line.box_name)),
    ];
    let mut y = top + LEADING;
    for words in said.into_iter().chain(seen).rev() {
        flat.notes.push(note(words, [0.0, y], Anchor::Left, 0.0));
        y += LEADING;
    }
    flat
}
