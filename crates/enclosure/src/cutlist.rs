//! The cut list: the parts of several boxes, a table for each thing they are cut from.
//!
//! Sizes are before coating, and kerf is not included.

mod making;
mod rounding;
mod seen;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use tape::Length;

use crate::material::Material;
use crate::section::leg_on_sale;
use crate::strength::bolt::thread_name;
use crate::{BendLine, Built, EndCut, Form, Hole, Notch, Part, Role, Sheet, Vertex, Wall};
use tape::show::thousandths_bare;

pub use making::Cope;
pub use rounding::{Fineness, Rounded, Rounding, rounding_growth, rounding_loss, rounding_loss_marked};
pub use seen::{Edges, Seen};

/// A box that the cut list is for.
#[derive(Clone, Copy, Debug)]
pub struct ListedBox<'a> {
    /// Its name.
    pub name: &'a str,
    /// The box as built.
    pub built: &'a Built,
    /// How many of it.
    pub count: u32,
}

/// A whole cut list.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// One table for each sheet, flat bar and angle.
    pub tables: Vec<Table>,
    /// The boxes, in the order they were told.
    pub boxes: Vec<BoxSummary>,
    /// To what mark sizes in inches are rounded.
    pub fineness: Fineness,
    /// Mass of everything, in grams.
    pub grams: f64,
}

/// What the cut list says of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxSummary {
    /// The letter that the marks of its parts begin with.
    pub letter: String,
    /// Its name.
    pub name: String,
    /// How many of it.
    pub count: u32,
    /// Mass of one, in grams.
    pub grams_each: f64,
    /// How much the inside may lose when cut to the rounded sizes: see [`rounding_loss`].
    pub loss: [Length; 3],
    /// How much the outside may gain when cut to the rounded sizes: see [`rounding_growth`].
    pub growth: [Length; 3],
}

/// The parts cut from one kind of stock, longest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Sheet, flat bar, angle or rod.
    pub form: Form,
    /// Material and thickness.
    pub sheet: Sheet,
    /// Width of the flat bar, leg of the angle or diameter of the rod; `None` for sheet.
    pub section: Option<Length>,
    /// The lines, by length falling, then width falling, then mark.
    pub lines: Vec<Line>,
    /// Number of pieces.
    pub pieces: u32,
    /// Length of all pieces laid end to end, kerf not included: what matters for bars.
    pub length: Length,
    /// Mass of all pieces, in grams.
    pub grams: f64,
}

impl Table {
    /// Face area of all pieces in square metres, holes and whatever else is cut out of them taken off, as their mass has it.
    pub fn net_m2(&self) -> f64 {
        let of = |line: &Line| line.net_mm2() * f64::from(line.quantity);
        self.lines.iter().map(of).sum::<f64>() / 1e6
    }

    /// Its heading: `mild steel 3 mm sheet`, `mild steel 25 x 3 mm flat bar`, `mild steel 40 x 40 x 4 mm angle`.
    pub fn label(&self) -> String {
        let material = self.sheet.material.name();
        let thickness = thousandths_bare(self.sheet.thickness);
        match (self.form, self.section.map(thousandths_bare)) {
            (Form::FlatBar, Some(width)) => format!("{material} {width} x {thickness} mm flat bar"),
            (Form::Angle, Some(leg)) => format!("{material} {leg} x {leg} x {thickness} mm angle"),
            (Form::Rod, _) => format!("{material} {} threaded rod", thread_name(self.sheet.thickness)),
            _ => format!("{} sheet", self.sheet.label()),
        }
    }
}

/// One line of a cut list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The mark to write on the piece, its own in the whole list: box letter and number, `A1`.
    pub mark: String,
    /// What it is: `floor`; `long side, end` when one size serves for both.
    pub name: String,
    /// What it is in the box, one for each name.
    pub roles: Vec<Role>,
    /// Which walls it is, where it differs from the one opposite.
    pub walls: Vec<Wall>,
    /// Number off, for all boxes of this name.
    pub quantity: u32,
    /// What it is cut from.
    pub sheet: Sheet,
    /// Length (of a mitred bar, to the long point).
    pub length: Rounded,
    /// Width (of an angle bar, its leg).
    pub width: Rounded,
    /// How its two ends are cut.
    pub ends: [EndCut; 2],
    /// Its bends.
    pub bends: Vec<BendLine>,
    /// Its edge, at exact places.
    pub outline: Vec<Vertex>,
    /// Holes to make before welding, at exact places.
    pub holes: Vec<Hole>,
    /// What its left, right, lower and upper edge are in the box; empty where one has no name of its own.
    pub edges: Edges,
    /// Mass of one, in grams.
    pub grams_each: f64,
    /// Mass of all, in grams.
    pub grams_all: f64,
    /// The box it belongs to.
    pub box_name: String,
}

/// Makes the cut list of some boxes.
///
/// Sizes in inches are rounded to `fineness` and sizes in millimetres to 0.1, in the direction that [`Rounding::of`]
/// gives. A box of which there are none keeps its letter and has no lines.
pub fn cut_list(boxes: &[ListedBox<'_>], fineness: Fineness) -> CutList {
    let mut groups: BTreeMap<StockKey, Vec<Line>> = BTreeMap::new();
    let mut summaries = Vec::with_capacity(boxes.len());
    for (index, listed) in boxes.iter().enumerate() {
        let letter = letter(index);
        for line in lines(listed, &letter, fineness) {
            groups.entry(StockKey::of(&line)).or_default().push(line);
        }
        summaries.push(BoxSummary {
            letter,
            name: listed.name.to_owned(),
            count: listed.count,
            grams_each: listed.built.grams,
            loss: rounding_loss(listed.built, fineness),
            growth: rounding_growth(listed.built, fineness),
        });
    }
    let tables: Vec<Table> = groups.into_iter().map(|(key, lines)| key.table(lines)).collect();
    CutList {
        grams: tables.iter().map(|table| table.grams).sum(),
        tables,
        boxes: summaries,
        fineness,
    }
}

/// The lines of one box, in the order of its parts, like ones merged.
fn lines(listed: &ListedBox<'_>, letter: &str, fineness: Fineness) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    if listed.count == 0 {
        return lines;
    }
    for part in &listed.built.parts {
        let [length, width] = Rounded::of_part(part, listed.built, fineness);
        let quantity = part.quantity * listed.count;
        if let Some(line) = lines.iter_mut().find(|line| line.serves_for(part, length, width)) {
            if !line.roles.contains(&part.role) {
                line.roles.push(part.role);
                line.name = format!("{}, {}", line.name, part.role.name());
            }
            if let Some(wall) = part.wall {
                line.name = format!("{}, {}", line.name, wall.name());
                line.walls.push(wall);
            }
            line.edges = seen::common(line.edges, seen::edges(part, listed.built));
            line.quantity += quantity;
            line.grams_all += part.grams() * f64::from(quantity);
            continue;
        }
        lines.push(Line {
            mark: format!("{letter}{}", lines.len() + 1),
            name: part.wall.map_or_else(
                || part.role.name().to_owned(),
                |wall| format!("{}, {}", part.role.name(), wall.name()),
            ),
            roles: vec![part.role],
            walls: part.wall.into_iter().collect(),
            quantity,
            sheet: part.sheet,
            length,
            width,
            ends: part.ends,
            bends: part.bends.clone(),
            outline: part.outline.clone(),
            holes: part.holes.clone(),
            edges: seen::edges(part, listed.built),
            grams_each: part.grams(),
            grams_all: part.grams() * f64::from(quantity),
            box_name: listed.name.to_owned(),
        });
    }
    lines
}

impl Line {
    /// The corner that it lacks, when it stands beside a step.
    pub fn notch(&self) -> Option<Notch> {
        let stands = self.roles.iter().any(|role| role.stands_beside());
        Notch::of(&self.outline).filter(|_| stands)
    }

    /// How much is cut off two corners at 45 degrees, along both edges: of a divider that clears the bend at its foot.
    pub fn cut_corner(&self) -> Option<Length> {
        let is_divider = self.roles.contains(&Role::Divider);
        let low = self.outline.iter().filter(|v| v.y == Length::ZERO).map(|v| v.x).min();
        low.filter(|&cut| is_divider && cut > Length::ZERO)
    }

    /// Of a bar the width that is bought: a bracket's leg follows a gap, and is cut down where no angle on sale has it.
    pub fn bought_width(&self) -> Length {
        if self.roles.contains(&Role::Bracket) {
            leg_on_sale(self.width.exact)
        } else {
            self.width.exact
        }
    }

    /// Whether the lid is screwed to it: a bar of the rim, or a tray whose walls end in lips.
    pub fn takes_the_lid(&self) -> bool {
        self.roles.iter().any(|role| role.takes_the_lid(self.bends.len()))
    }

    /// Sheet, flat bar or angle.
    pub fn form(&self) -> Form {
        self.roles.first().map_or(Form::Sheet, |role| role.form())
    }

    /// Whether a piece of this line is the same piece as `part`.
    fn serves_for(&self, part: &Part, length: Rounded, width: Rounded) -> bool {
        self.form() == part.role.form()
            && self.sheet == part.sheet
            && self.length == length
            && self.width == width
            && self.ends == part.ends
            && self.holes == part.holes
            && self.outline == part.outline
            && self.bends == part.bends
    }
}

/// The letters of the box at `index`: `A` to `Z`, then `AA`, `AB`, ...; no H, since `H2` is a hole on the drawing of a box.
fn letter(index: usize) -> String {
    const ALPHABET: &[u8; 25] = b"ABCDEFGIJKLMNOPQRSTUVWXYZ";
    let last = char::from(ALPHABET[index % ALPHABET.len()]);
    match index / ALPHABET.len() {
        0 => last.to_string(),
        before => format!("{}{last}", letter(before - 1)),
    }
}

/// What a table is for; sheets come before bars.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct StockKey {
    form: Form,
    material: Material,
    thickness: Length,
    section: Option<Length>,
}

impl StockKey {
    fn of(line: &Line) -> Self {
        let form = line.form();
        Self {
            form,
            material: line.sheet.material,
            thickness: line.sheet.thickness,
            section: (form != Form::Sheet).then(|| line.bought_width()),
        }
    }

    fn table(self, mut lines: Vec<Line>) -> Table {
        // Stable, so lines of one size stay in the order of their marks.
        lines.sort_by_key(|line| std::cmp::Reverse((line.length.exact, line.width.exact)));
        Table {
            form: self.form,
            sheet: Sheet {
                material: self.material,
                thickness: self.thickness,
            },
            section: self.section,
            pieces: lines.iter().map(|line| line.quantity).sum(),
            length: lines
                .iter()
                .map(|line| line.length.exact * i64::from(line.quantity))
                .sum(),
            grams: lines.iter().map(|line| line.grams_all).sum(),
            lines,
        }
    }
}
