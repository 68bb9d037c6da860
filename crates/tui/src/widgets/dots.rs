//! Strokes of dots: eight dots to a cell where the terminal can show them, one where it cannot.

use ratatui::layout::Rect;

use super::pen::Pen;
use crate::theme::{Meaning, Theme};

/// How a stroke is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Every third dot, dim: what is only taken for granted, or hidden.
    Faint,
    /// Whole.
    Strong,
}

/// A raster of dots over some cells.
pub struct Dots {
    area: Rect,
    /// Dots of a cell across and down.
    fine: [u16; 2],
    /// For each cell, row by row, the bits of its dots and whether any is strong.
    cells: Vec<(u8, bool)>,
}

impl Dots {
    /// No dot yet.
    pub fn new(area: Rect, ascii: bool) -> Self {
        Self {
            area,
            fine: if ascii { [1, 1] } else { [2, 4] },
            cells: vec![(0, false); usize::from(area.width) * usize::from(area.height)],
        }
    }

    /// Dots of a cell across and down.
    pub const fn fine(&self) -> [u16; 2] {
        self.fine
    }

    /// A straight line between two places, in dots from the first one.
    pub fn stroke(&mut self, a: [f64; 2], b: [f64; 2], weight: Weight) {
        let steps = (b[0] - a[0]).abs().max((b[1] - a[1]).abs()).ceil().max(1.0);
        let mut step = 0.0;
        while step <= steps {
            let part = step / steps;
            self.dot([0, 1].map(|i| a[i] + part * (b[i] - a[i])), weight);
            step += if weight == Weight::Faint { 3.0 } else { 1.0 };
        }
    }

    fn dot(&mut self, at: [f64; 2], weight: Weight) {
        // Braille numbers its dots down the left column, down the right one, and then the bottom row.
        const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
        if at.iter().any(|part| part.round() < 0.0) {
            return;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "within the screen, not below zero"
        )]
        let [x, y] = at.map(|part| part.round() as u16);
        let (column, row) = (x / self.fine[0], y / self.fine[1]);
        if column >= self.area.width || row >= self.area.height {
            return;
        }
        let cell = &mut self.cells[usize::from(row) * usize::from(self.area.width) + usize::from(column)];
        cell.0 |= BITS[usize::from(x % self.fine[0])][usize::from(y % self.fine[1])];
        cell.1 |= weight == Weight::Strong;
    }

    /// Every cell with a dot; where a cell is one dot, `signs` are those of a faint and a strong one.
    pub fn draw(&self, theme: Theme, signs: [&str; 2], pen: &mut Pen<'_>) {
        for (row, cells) in (0..).zip(self.cells.chunks(usize::from(self.area.width).max(1))) {
            for (column, &(bits, is_strong)) in (0..).zip(cells) {
                if bits == 0 {
                    continue;
                }
                let meaning = if is_strong { Meaning::Steel } else { Meaning::Dim };
                let braille = char::from_u32(0x2800 + u32::from(bits)).unwrap_or(' ').to_string();
                let symbol = if self.fine == [1, 1] {
                    signs[usize::from(is_strong)]
                } else {
                    &braille
                };
                pen.stamp(self.area.x + column, self.area.y + row, symbol, theme.style(meaning));
            }
        }
    }
}
