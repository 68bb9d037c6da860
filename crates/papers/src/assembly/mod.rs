//! The drawing of a box: its views to scale with sizes, holes and welds; then its parts drawn apart, with their lists.

mod apart;
mod lists;
mod openings;
mod rim;
mod seams;
mod sized;
mod stand;
#[cfg(test)]
mod tests;
mod views;
mod welds;

pub(crate) use stand::{Needs, Stand, stand};

use drawing::Assembly;
use enclosure::cutlist::{Rounded, Rounding};
use job::{BoxResult, Evaluation};
use plot::{Item, Meta, Orientation, Page, Paper, Rect, Text};
use tape::Length;

use crate::page::sizes::HEADS;
use crate::page::title::{self, Title};
use crate::page::{TEXT, THIN, flow, frame, framed, wrapped};
use crate::words;

/// What a drawing of a box is made from.
#[derive(Clone)]
struct Sheets<'a> {
    evaluation: &'a Evaluation,
    assembly: Assembly,
    date: &'a str,
}

/// The drawing of a box on paper lying on its long side; `None` for a box that cannot be built.
///
/// Plan, view from the left and view from the rear in the largest scale of ISO 5455 that fits, by the angle of projection
/// that was chosen; a cut through the rim; welds in the signs of ISO 2553; then the parts drawn apart, not to scale, with
/// parts list, places of what was added and hole table.
pub fn box_drawing(evaluation: &Evaluation, battery_box: &BoxResult, date: &str, paper: Paper) -> Option<Vec<Page>> {
    let sheets = Sheets {
        evaluation,
        assembly: drawing::assembly(evaluation, battery_box)?,
        date,
    };
    Some(sheets.pages(paper.size_mm(Orientation::Landscape)))
}

/// The same as a PDF file.
pub fn box_drawing_pdf(evaluation: &Evaluation, battery_box: &BoxResult, date: &str, paper: Paper) -> Option<Vec<u8>> {
    let meta = Meta {
        title: format!("Drawing of {}", words::plain(&battery_box.name)),
        subject: words::title(evaluation),
        ..Meta::default()
    };
    let pages = box_drawing(evaluation, battery_box, date, paper)?;
    Some(plot::pdf(&pages, &meta))
}

impl Sheets<'_> {
    fn pages(&self, size: [f64; 2]) -> Vec<Page> {
        const SPACE: f64 = 4.0;
        let frame = frame(size);
        let (notes, top) = self.notes(frame);
        let column = frame.high()[0] - title::WIDTH;
        let block = Rect::between([column, frame.y], [frame.high()[0], top]);
        let corner = Rect::between(frame.low(), [column, top]).grown(-SPACE);
        let stand = self.stand(frame.grown(-SPACE), block);
        // The cut through the rim stands in the corner that views leave free, else in that of the next sheet.
        let is_free = stand.taken.iter().all(|taken| taken.common(corner).is_none());
        let rim = self.rim(corner);
        let mut first_sheet = [notes.clone(), self.views(&stand)].concat();
        if is_free {
            first_sheet.extend(rim.clone());
        }
        let mut drafts = vec![(first_sheet, Some(stand.scale))];

        // Narrow paper has the lists on a sheet of their own.
        let wide = frame.width - title::WIDTH >= 160.0;
        let right = Rect::between([column, top], frame.high()).grown(-SPACE / 2.0);
        let whole = Rect::between([frame.x, top], frame.high()).grown(-SPACE);
        let low = if is_free { frame.y } else { top };
        let left = Rect::between([frame.x, low], [column, frame.high()[1]]).grown(-SPACE);
        let mut second = notes.clone();
        if !is_free {
            second.extend(rim);
        }
        second.extend(self.apart(if wide { left } else { whole }));
        let room = if wide { right } else { whole };
        let (parts, low) = self.parts_list(room);
        let under = Rect::between(room.low(), [room.high()[0], low - SPACE]);
        let tables = self.tables();
        let mut lists = flow::flow(&tables, under, whole).into_iter();
        let first = [parts, lists.next().unwrap_or_default()].concat();
        if wide {
            second.extend(first);
            drafts.push((second, None));
        } else {
            drafts.push((second, None));
            drafts.push(([notes.clone(), first].concat(), None));
        }
        drafts.extend(lists.map(|page| ([notes.clone(), page].concat(), None)));

        let of = drafts.len();
        let sheet = |(index, (items, scale)): (usize, (Vec<Item>, Option<u32>))| {
            framed(size, items, &self.title([index + 1, of], scale))
        };
        drafts.into_iter().enumerate().map(sheet).collect()
    }

    fn title(&self, sheet: [usize; 2], scale: Option<u32>) -> Title<'_> {
        let assumed = self.evaluation.headline.assumed;
        let grams = self.lines().map(|(_, line)| line.grams_all).sum();
        let material = self.lines().map(|(_, line)| line.sheet.material.name()).next();
        Title {
            evaluation: self.evaluation,
            date: self.date,
            name: format!("{} - assembly", words::plain(&self.assembly.name)),
            number: format!("{}0", self.assembly.letter),
            kind: "assembly drawing",
            scale,
            sheet,
            units: title::Told::Both,
            about: [
                ("material", material.unwrap_or_default().to_owned()),
                ("tolerance class (ISO 13920)", self.evaluation.sheet.tolerance.clone()),
                ("number off", "1".to_owned()),
                (
                    "mass",
                    format!("{}{}", words::mark(assumed.mass), words::mass(self.evaluation, grams)),
                ),
            ],
        }
    }

    /// The lines above the title block, and how high they reach.
    fn notes(&self, frame: Rect) -> (Vec<Item>, f64) {
        const INSET: f64 = 3.0;
        let left = frame.high()[0] - title::WIDTH;
        let width = title::WIDTH - 2.0 * INSET;
        let mut said: Vec<(String, f64)> = Vec::new();
        let mut say = |text: &str, height: f64| {
            said.extend(wrapped(text, width, height).into_iter().map(|line| (line, height)));
        };
        say(
            "Sizes before coating, to the nearest mark, in the parts list rounded as pieces are cut; with screw heads and nuts, which \
             are not drawn, where they say so: rounded up. Bends are drawn sharp. Holes: from the front-left corner of the lid.",
            2.0,
        );
        let unit = match self.evaluation.units {
            tape::Units::Millimetre => "in millimetres",
            tape::Units::Inch => "in inches",
        };
        say(
            &format!(
                "Numbers of seams are those of the weld map, which has their lengths, tacks and order. z: leg of a fillet, s: depth \
                 of a square weld, {unit}; the welder decides."
            ),
            2.0,
        );
        if self.assembly.added().iter().any(|item| item.inside) {
            say(
                "What is inside shows dashed in the view from above, and drawn apart; in another view only where a weld of it is told.",
                2.0,
            );
        }
        if let Some(note) = self.openings_note() {
            say(note, 2.0);
        }
        let own = self.evaluation.boxes.iter().find(|b| b.name == self.assembly.name);
        let built = own.and_then(|b| b.built.as_ref());
        if let Some(late) = built.and_then(words::drilled_late) {
            say(&format!("On no piece when it is cut: {late}."), 2.0);
        }
        if let Some(held) = built.and_then(|built| words::cap_held(self.evaluation, built)) {
            say(
                &format!("Lid: {held}; their holes are on the pieces' own drawings."),
                2.0,
            );
        }
        if self.evaluation.headline.assumed.cut {
            say(words::ASSUMED_SIZES, 2.0);
        }
        say(&crate::cautions().join(" "), 1.6);
        let mut y = title::top(frame) + 2.0;
        let mut items = Vec::new();
        for (words, height) in said.into_iter().rev() {
            items.push(Text::new(words, [left + INSET, y], height, TEXT).into());
            y += height * 1.6;
        }
        let top = y + 0.5;
        items.push(Item::line([left, top], [frame.high()[0], top], THIN));
        items.push(Item::line([left, title::top(frame)], [left, top], THIN));
        (items, top)
    }

    /// A size over all with screw heads, in both units, rounded up as on the other papers: it is the room that the box takes.
    fn room(&self, length: Length) -> String {
        let up = Rounded::new(length, Rounding::Up, self.evaluation.cut.list.fineness);
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        let [mm, inches] = [words::tenth_mm(up.tenth_mm), self.evaluation.near_inches(up.inches)];
        format!("{mark}{}{HEADS}", words::own_first(self.evaluation, &mm, &inches))
    }

    /// A size with both units, the person's own first: `953.0 (37 1/2")`.
    fn both(&self, length: Length) -> String {
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        let mm = words::tenth_mm(length);
        let inches = self.evaluation.near_inches(length);
        format!("{mark}{}", words::own_first(self.evaluation, &mm, &inches))
    }
}
