//! A nest as one flat outline: every part at its exact size, in its place.

use enclosure::cutlist::Line;
use job::Evaluation;
use job::nesting::{Nested, Nesting, Placing};
use plot::{Anchor, Contour, Flat, Note, On, Placement, Point, Quarter, Straight, Vertex};

use crate::{outline, shop, words};

/// How high words are, in millimetres of the sheet.
const HEIGHT: f64 = 8.0;

/// The nest of that number with the edge of its sheet, which is only read; `None` for bars and for the liner, which
/// goes to no laser.
pub(super) fn of(evaluation: &Evaluation, nesting: &Nesting, number: usize) -> Option<Flat> {
    let (_, nested, nest) = nesting.numbered().find(|(n, ..)| *n == number)?;
    if nested.is_bar {
        return None;
    }
    let [length, width] = nest.piece.sides.map(tape::Length::as_mm);
    let corners = [[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]];
    let mut whole = Flat {
        contours: vec![Contour {
            on: On::Text,
            vertices: corners.map(Vertex::straight).to_vec(),
        }],
        ..Flat::default()
    };
    for part in &nest.parts {
        let own = line(evaluation, nesting, nested, part).filter(|line| !line.is_liner())?;
        let flat = placed(own, part);
        whole.contours.extend(flat.contours);
        whole.holes.extend(flat.holes);
        whole.lines.extend(flat.lines);
        whole.notes.extend(flat.notes);
    }
    let said = shop::heading(number, nested, nest, nesting.question.units);
    whole.notes.push(note(said, [0.0, width + HEIGHT]));
    Some(whole)
}

fn note(words: String, at: Point) -> Note {
    Note {
        on: On::Text,
        words,
        at,
        height_mm: HEIGHT,
        anchor: Anchor::Left,
        turn_deg: 0.0,
    }
}

/// The line of the cut list that a part is of.
pub(crate) fn line<'a>(
    evaluation: &'a Evaluation,
    nesting: &Nesting,
    nested: &Nested,
    part: &Placing,
) -> Option<&'a Line> {
    let table = nesting.stocks.iter().position(|stock| std::ptr::eq(stock, nested))?;
    evaluation.cut.list.tables.get(table)?.lines.get(part.wanted)
}

/// A part in its place: turned anticlockwise where it lies across, never turned over.
pub(crate) fn placed(line: &Line, part: &Placing) -> Flat {
    let [x, y] = outline::mm(part.at);
    let placement = Placement {
        scale: 1.0,
        turn: if part.turned { Quarter::One } else { Quarter::None },
        // A quarter turn about the corner brings the part to the left of it.
        to: if part.turned {
            [x + part.sides[0].as_mm(), y]
        } else {
            [x, y]
        },
    };
    let mut flat = outline::flat(line);
    for vertex in flat.contours.iter_mut().flat_map(|contour| &mut contour.vertices) {
        [vertex.x, vertex.y] = placement.point(vertex.at());
    }
    for hole in &mut flat.holes {
        hole.centre = placement.point(hole.centre);
    }
    flat.lines = flat
        .lines
        .iter()
        .map(|bend| Straight {
            from: placement.point(bend.from),
            to: placement.point(bend.to),
            ..*bend
        })
        .collect();
    let [wide, high] = outline::mm(part.sides);
    let mark = words::plain(&part.mark);
    let middle = [x + wide / 2.0, y + high / 2.0];
    flat.notes.push(Note {
        anchor: Anchor::Middle,
        ..note(mark, middle)
    });
    flat
}
