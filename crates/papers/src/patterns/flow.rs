//! Tables set in columns, over as many pages as they need.

use plot::{Item, Rect, Text};

use super::{TEXT, THIN, fitted};

/// A table with what stands over it.
pub(super) struct Block {
    /// What it is.
    pub(super) title: String,
    /// Heads of its columns, with their widths in millimetres, [`WIDTH`] in all. No heads when they are empty.
    pub(super) heads: Vec<(&'static str, f64)>,
    /// Its lines.
    pub(super) rows: Vec<Vec<String>>,
}

/// The width of a table.
pub(super) const WIDTH: f64 = 84.0;
const TITLE: f64 = 5.0;
const ROW: f64 = 3.8;
const AFTER: f64 = 3.0;
const COLUMNS: u32 = 2;

/// Sets tables into two columns of `first`, then of `next` on each page after.
pub(super) fn flow(blocks: &[Block], first: Rect, next: Rect) -> Vec<Vec<Item>> {
    let mut setter = Setter {
        pages: vec![Vec::new()],
        next,
        room: first,
        column: 0,
        y: first.high()[1],
    };
    for block in blocks {
        setter.set(block);
    }
    setter.pages
}

struct Setter {
    pages: Vec<Vec<Item>>,
    next: Rect,
    room: Rect,
    column: u32,
    y: f64,
}

impl Setter {
    fn set(&mut self, block: &Block) {
        let head = TITLE + ROW;
        if self.y - head - ROW < self.room.y {
            self.break_column(head + ROW);
        }
        self.head(block, "");
        for row in &block.rows {
            if self.y - ROW < self.room.y {
                self.break_column(head + ROW);
                self.head(block, " (continued)");
            }
            self.row(block, row.iter().map(String::as_str));
        }
        self.y -= AFTER;
    }

    fn x(&self) -> f64 {
        let step = self.room.width - WIDTH;
        self.room.x + if self.column == 0 { 0.0 } else { step }
    }

    /// Goes on at the top of the next column that has `need` millimetres.
    fn break_column(&mut self, need: f64) {
        self.column += 1;
        if self.column >= COLUMNS || self.room.height < need {
            self.pages.push(Vec::new());
            self.room = self.next;
            self.column = 0;
        }
        self.y = self.room.high()[1];
    }

    fn put(&mut self, item: impl Into<Item>) {
        if let Some(page) = self.pages.last_mut() {
            page.push(item.into());
        }
    }

    fn head(&mut self, block: &Block, more: &str) {
        let x = self.x();
        let title = format!("{}{more}", block.title);
        // Bold words are longer than they are measured.
        let (title, height) = fitted(&title, WIDTH * 0.85, [2.5, 1.8]);
        self.y -= TITLE;
        self.put(Text::new(title, [x, self.y + 1.3], height, TEXT).bold());
        if block.heads.iter().any(|(head, _)| !head.is_empty()) {
            self.row(block, block.heads.iter().map(|(head, _)| *head));
        }
        self.put(Item::line([x, self.y], [x + WIDTH, self.y], THIN));
    }

    fn row<'a>(&mut self, block: &Block, cells: impl Iterator<Item = &'a str>) {
        let mut x = self.x();
        self.y -= ROW;
        for (words, (_, width)) in cells.zip(&block.heads) {
            let (words, height) = fitted(words, width - 1.0, [2.0, 1.4]);
            self.put(Text::new(words, [x, self.y + 0.9], height, TEXT));
            x += width;
        }
    }
}
