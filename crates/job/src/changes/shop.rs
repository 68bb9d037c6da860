//! What the shop gets of an evaluation, in the words of its papers.

use enclosure::added::{Block, Reach};
use enclosure::cutlist::{Line, Table};
use enclosure::weld::{Run, Seam};
use enclosure::{Built, EndCut, Form, Role, Vertex};
use tape::Length;
use tape::show::{Rounding, millimetres_bare};

use super::made;
use crate::document::{Issued, IssuedBox, IssuedPart, IssuedPlace, IssuedSeam, IssuedStock};
use crate::{BoxResult, Evaluation, Job, Len};

/// What the shop gets of a job as evaluated, without letter and date.
pub fn given(job: &Job, evaluation: &Evaluation) -> Issued {
    let list = &evaluation.cut.list;
    let built = evaluation.boxes.iter().filter(|b| b.built.is_some());
    Issued {
        boxes: built
            .zip(&list.boxes)
            .filter_map(|(battery_box, summary)| of_box((job, evaluation), battery_box, &summary.letter))
            .collect(),
        stock: list
            .tables
            .iter()
            .map(|table| IssuedStock {
                what: table.label(),
                takes: takes(table),
            })
            .collect(),
        ..Issued::default()
    }
}

fn takes(table: &Table) -> String {
    let much = match table.form {
        Form::Sheet => format!("{:.2} m2", table.net_m2()),
        Form::FlatBar | Form::Angle | Form::Rod => format!("{:.2} m", table.length.as_mm() / 1000.0),
    };
    let plural = if table.pieces == 1 { "" } else { "s" };
    format!("{} piece{plural}, {much}", table.pieces)
}

fn of_box((job, evaluation): (&Job, &Evaluation), battery_box: &BoxResult, letter: &str) -> Option<IssuedBox> {
    let built = battery_box.built.as_ref()?;
    let mut parts: Vec<IssuedPart> = Vec::new();
    for table in &evaluation.cut.list.tables {
        let of_this = table.lines.iter().filter(|line| is_of(line, letter));
        parts.extend(of_this.map(|line| of_line(evaluation, table, line)));
    }
    parts.sort_by_key(|part| (part.mark.len(), part.mark.clone()));
    let welds = battery_box.welds.as_ref().filter(|welds| !welds.seams.is_empty());
    Some(IssuedBox {
        id: battery_box.id,
        name: battery_box.name.clone(),
        outside: built.overall.map(|side| Len::exactly(side, evaluation.units)),
        grams: grams(built.grams),
        welds: welds.map_or_else(String::new, |welds| {
            format!("{} seams, {:.2} m", welds.count(), welds.welded().as_mm() / 1000.0)
        }),
        seams: Some(welds.map_or_else(Vec::new, |welds| welds.seams.iter().map(of_seam).collect())),
        added: Some(added(battery_box, built)),
        made: Some(made::of(job, evaluation, battery_box)),
        parts,
    })
}

fn of_seam(seam: &Seam) -> IssuedSeam {
    let much = match seam.run {
        Run::Full => "full",
        Run::Stitch { .. } => "stitched",
    };
    IssuedSeam {
        seam: format!("{}, {}", seam.joins.map(Role::name).join(" to "), seam.place),
        weld: format!(
            "{}, {} off, leg {} mm, {}, {much}",
            seam.form.name(),
            seam.count,
            tenth(seam.leg),
            seam.side.name()
        ),
    }
}

/// Each piece in or on the box; the legs of an angle are one.
fn added(battery_box: &BoxResult, built: &Built) -> Vec<IssuedPlace> {
    let mut pieces = built.added.as_slice();
    let mut places = Vec::new();
    while let Some(first) = pieces.first() {
        let solids = if first.role.form() == Form::Angle { 2 } else { 1 };
        let (own, rest) = pieces.split_at(solids.min(pieces.len()));
        pieces = rest;
        let all = own.iter().map(|piece| piece.block).reduce(|a, b| a.hull(&b));
        places.extend(all.map(|block| IssuedPlace {
            what: what(battery_box, first.role),
            at: corner_and_size(&block),
        }));
    }
    places
}

/// What a piece is; of a bracket also how it reaches out.
fn what(battery_box: &BoxResult, role: Role) -> String {
    let reach = battery_box
        .added
        .mount
        .filter(|_| role == Role::Bracket)
        .map(|mount| mount.reach);
    match reach {
        Some(Reach::Web) => format!("{} down a web", role.name()),
        Some(Reach::Foot) => format!("{} standing on its foot", role.name()),
        None => role.name().to_owned(),
    }
}

fn corner_and_size(block: &Block) -> String {
    let size = [0, 1, 2].map(|axis| tenth(block.hi[axis] - block.lo[axis]));
    format!("{} of {}", block.lo.map(tenth).join(","), size.join(" x "))
}

/// Whether a line is of the box with this letter; names need not be their own, letters are.
fn is_of(line: &Line, letter: &str) -> bool {
    let number = line.mark.strip_prefix(letter);
    number.is_some_and(|number| number.starts_with(|c: char| c.is_ascii_digit()))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a mass is not negative, and a box of four thousand tons is none"
)]
fn grams(grams: f64) -> u32 {
    grams.round() as u32
}

fn of_line(evaluation: &Evaluation, table: &Table, line: &Line) -> IssuedPart {
    let sizes = [line.length, line.width];
    IssuedPart {
        mark: line.mark.clone(),
        name: line.name.clone(),
        quantity: line.quantity,
        stock: table.label(),
        inches: sizes.map(|size| evaluation.cut_inches(size)).join(" x "),
        mm: sizes.map(|size| tenth(size.tenth_mm)).join(" x "),
        ends: ends(line.ends),
        bends: line
            .bends
            .iter()
            .map(|bend| {
                let [from, to] = [bend.from, bend.to].map(place);
                let (turn, fold) = (bend.turn_deg, bend.fold.name());
                format!("{turn:.1} {fold} r{} from {from} to {to}", tenth(bend.radius))
            })
            .collect::<Vec<_>>()
            .join("; "),
        holes: line
            .holes
            .iter()
            .map(|hole| {
                let diameter = tape::show::hole_mm(hole.diameter);
                format!("{diameter} at {}", place([hole.x, hole.y]))
            })
            .collect::<Vec<_>>()
            .join("; "),
        edge: edge(line),
    }
}

fn ends([first, second]: [EndCut; 2]) -> String {
    match (first, second) {
        (EndCut::Square, EndCut::Square) => String::new(),
        _ => format!("{} and {}", first.label(), second.label()),
    }
}

/// The corners of what is no rectangle; an arc has its bulge behind the corner where it begins.
fn edge(line: &Line) -> String {
    let (length, width) = (line.length.exact, line.width.exact);
    let is_plain = line.outline.len() == 4
        && line.outline.iter().all(|corner| {
            let at = |place, side| place == Length::ZERO || place == side;
            is_straight(corner) && at(corner.x, length) && at(corner.y, width)
        });
    if is_plain {
        return String::new();
    }
    let corners = line.outline.iter().map(|corner| {
        let at = place([corner.x, corner.y]);
        if is_straight(corner) {
            at
        } else {
            format!("{at} bulge {:.3}", corner.bulge)
        }
    });
    corners.collect::<Vec<_>>().join("; ")
}

/// Whether what leads on from a corner is no arc.
fn is_straight(corner: &Vertex) -> bool {
    corner.bulge.abs() <= 0.0
}

fn place(at: [Length; 2]) -> String {
    at.map(tenth).join(",")
}

/// Millimetres to the tenth, as the shop has it on its papers.
fn tenth(length: Length) -> String {
    millimetres_bare(length, 1, Rounding::Nearest)
}
