//! The drawings of what is cut: a page for each line of the cut list, and more where its tables need them.

mod blocks;
pub(crate) mod view;

use enclosure::cutlist::{Line, Table};
use job::Evaluation;
use plot::{Item, Meta, Page, Rect, Text};

use crate::page::paper::printer_paper;
use crate::page::title::{self, Title};
use crate::page::{TEXT, THIN, flow, frame, framed, wrapped};
use crate::{row, words};

/// What one page is about.
#[derive(Clone, Copy)]
struct Subject<'a> {
    evaluation: &'a Evaluation,
    table: &'a Table,
    line: &'a Line,
    date: &'a str,
    /// As `1:10`; `None` on a page without a view.
    scale: Option<u32>,
}

/// Drawings of every line of the cut list, to scale, with tables of holes, bends and corners. `None` when nothing is cut.
pub fn flat_patterns_pdf(evaluation: &Evaluation, date: &str) -> Option<Vec<u8>> {
    let pages = pages(evaluation, date);
    let meta = Meta {
        title: format!("Flat patterns, {}", words::title(evaluation)),
        ..Meta::default()
    };
    (!pages.is_empty()).then(|| plot::pdf(&pages, &meta))
}

/// The pages, in the order of the cut list.
pub(crate) fn pages(evaluation: &Evaluation, date: &str) -> Vec<Page> {
    let size = printer_paper(evaluation).size_mm(plot::Orientation::Portrait);
    let mut drafts = Vec::new();
    for table in &evaluation.cut.list.tables {
        for line in &table.lines {
            let subject = Subject {
                evaluation,
                table,
                line,
                date,
                scale: None,
            };
            drafts.extend(subject.drafts(size).into_iter().map(|(items, scale)| {
                let subject = Subject { scale, ..subject };
                (subject, items)
            }));
        }
    }
    let of = drafts.len();
    drafts
        .into_iter()
        .enumerate()
        .map(|(index, (subject, items))| framed(size, items, &subject.title(index + 1, of)))
        .collect()
}

impl Subject<'_> {
    /// What is on each of its pages besides frame and title block, with the scale of the view.
    fn drafts(&self, size: [f64; 2]) -> Vec<(Vec<Item>, Option<u32>)> {
        const SPACE: f64 = 4.0;
        let frame = frame(size);
        let (notes, notes_top) = self.notes(frame);
        let open = Rect::between([frame.x + SPACE, notes_top + SPACE], frame.grown(-SPACE).high());
        let tables = self.tables();
        let most = if tables.is_empty() {
            open.height
        } else {
            open.height * 0.55
        };
        let view = self.view(Rect::new(open.x, open.high()[1] - most, open.width, most));
        let under = Rect::between(open.low(), [open.high()[0], view.low - SPACE]);
        let mut pages = flow::flow(&tables, under, open).into_iter();
        let mut first = notes.clone();
        first.extend(view.items);
        first.extend(pages.next().unwrap_or_default());
        let mut drafts = vec![(first, Some(view.scale))];
        drafts.extend(pages.map(|page| ([notes.clone(), page].concat(), None)));
        drafts
    }

    /// The lines above the title block, and how high they reach.
    fn notes(&self, frame: Rect) -> (Vec<Item>, f64) {
        const INSET: f64 = 3.0;
        let width = frame.width - 2.0 * INSET;
        let mut said: Vec<(String, f64)> = Vec::new();
        let mut say = |text: &str, height: f64| {
            said.extend(wrapped(text, width, height).into_iter().map(|line| (line, height)));
        };
        say(
            "Sizes before coating. Kerf not included. Places are from the lower left corner of the piece; what is drawn is \
             the exact size, the lengths written beside it are rounded as the cut list says.",
            2.0,
        );
        if let Some(seen) = row::seen(self.line) {
            say(&format!("Drawn {seen}."), 2.5);
        }
        if !self.line.bends.is_empty() {
            let rule = self.evaluation.bend_rule.as_deref().unwrap_or("not known");
            say(
                &format!(
                    "Bend lines are the middle of each bend, seen from the inside of the box: up is towards you. Length of \
                     a bend by: {rule}. Fold a test strip first."
                ),
                2.0,
            );
        }
        if self.line.form() == enclosure::Form::Angle {
            say(
                "Angle: one leg is drawn, its outer edge at the bottom; the other leg points away from it.",
                2.0,
            );
        }
        let boxes = &self.evaluation.boxes;
        let of_box = boxes
            .iter()
            .find(|b| self.line.takes_the_lid() && b.name == self.line.box_name);
        if let Some(late) = of_box.and_then(|b| b.built.as_ref()).and_then(words::drilled_late) {
            say(&format!("On no piece of this rim when it is cut: {late}."), 2.0);
        }
        let own = boxes
            .iter()
            .filter(|b| self.line.is_liner() && b.name == self.line.box_name);
        for words in own.filter_map(words::liner_in_place) {
            say(&format!("Do not cut out more than is drawn: {words}."), 2.0);
        }
        if let Some(Err(fault)) = crate::pattern_dxf(self.line) {
            say(&format!("There is no file for the laser: {fault}."), 2.0);
        }
        if self.evaluation.headline.assumed.cut {
            say(words::ASSUMED_SIZES, 2.0);
        }
        say(&words::tolerance(self.evaluation), 2.0);
        say(&crate::cautions().join(" "), 1.6);
        let mut y = title::top(frame) + 2.0;
        let mut items = Vec::new();
        for (words, height) in said.into_iter().rev() {
            items.push(Text::new(words, [frame.x + INSET, y], height, TEXT).into());
            y += height * 1.6;
        }
        items.push(Item::line([frame.x, y + 0.5], [frame.high()[0], y + 0.5], THIN));
        (items, y + 0.5)
    }

    fn title(&self, sheet: usize, of: usize) -> Title<'_> {
        let line = self.line;
        let assumed = self.evaluation.headline.assumed;
        let mass = format!(
            "{}{}",
            words::mark(assumed.mass),
            words::mass(self.evaluation, line.grams_each)
        );
        Title {
            evaluation: self.evaluation,
            date: self.date,
            name: format!("{} - {}", words::plain(&line.box_name), line.name),
            number: line.mark.clone(),
            kind: "flat pattern",
            scale: self.scale,
            sheet: [sheet, of],
            units: title::Told::Both,
            about: [
                ("material", line.sheet.material.name().to_owned()),
                ("thickness or section", row::section(self.table)),
                ("number off", line.quantity.to_string()),
                ("mass each", mass),
            ],
        }
    }
}
