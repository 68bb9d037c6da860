//! Tables set in columns, over as many pages as they need.

use plot::{Item, Rect, Text};

use super::{TEXT, THIN, fitted};

/// A table with what stands over it.
pub(crate) struct Block {
    /// What it is.
    pub(crate) title: String,
    /// Heads of its columns, with their widths in millimetres, [`WIDTH`] in all. No heads when they are empty.
    pub(crate) heads: Vec<(&'static str, f64)>,
    /// Its lines.
    pub(crate) rows: Vec<Vec<String>>,
}

/// The width of a table.
pub(crate) const WIDTH: f64 = 84.0;
const TITLE: f64 = 5.0;
const ROW: f64 = 3.8;
const AFTER: f64 = 3.0;
/// Between columns, at least.
const BETWEEN: f64 = 4.0;

/// Sets tables into as many columns as there is room for in `first`, then of `next` on each page after.
pub(crate) fn flow(blocks: &[Block], first: Rect, next: Rect) -> Vec<Vec<Item>> {
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
    column: usize,
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
        self.columns().get(self.column).copied().unwrap_or(self.room.x)
    }

    /// Where the columns begin, the last one flush with the right.
    fn columns(&self) -> Vec<f64> {
        let mut starts = vec![self.room.x];
        let mut right = self.room.high()[0];
        let mut more = Vec::new();
        while right - WIDTH >= self.room.x + WIDTH + BETWEEN {
            more.push(right - WIDTH);
            right -= WIDTH + BETWEEN;
        }
        starts.extend(more.into_iter().rev());
        starts
    }

    /// Goes on at the top of the next column that has `need` millimetres.
    fn break_column(&mut self, need: f64) {
        self.column += 1;
        if self.column >= self.columns().len() || self.room.height < need {
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
