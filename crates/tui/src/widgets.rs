//! Small pictures made of plain values.
//!
//! Each widget is a struct of texts, numbers and flags that draws itself into a rectangle of cells. None of them
//! knows a job or computes a figure: the page that shows one fills it in.

pub mod confirm;
pub mod dots;
pub mod field;
pub mod help;
pub mod key_bar;
pub mod pen;
pub mod progress;
pub mod rows;
pub mod sheet;
pub mod snap;
pub mod table;
pub mod title_block;
pub mod toast;
pub mod too_small;

/// What a person sees of a buffer, row by row, without the blanks at the ends of rows.
#[cfg(test)]
pub(crate) fn shown(buffer: &ratatui::buffer::Buffer) -> String {
    let width = usize::from(buffer.area.width);
    buffer
        .content
        .chunks(width)
        .map(|row| {
            let mut text = String::new();
            let mut skip = 0;
            for cell in row {
                if skip == 0 {
                    text.push_str(cell.symbol());
                    skip = unicode_width::UnicodeWidthStr::width(cell.symbol());
                }
                skip = skip.saturating_sub(1);
            }
            text.trim_end().to_owned() + "\n"
        })
        .collect()
}

/// What a widget draws into an empty rectangle of this size.
#[cfg(test)]
pub(crate) fn drawn(widget: impl ratatui::widgets::Widget, width: u16, height: u16) -> ratatui::buffer::Buffer {
    let area = ratatui::layout::Rect::new(0, 0, width, height);
    let mut buffer = ratatui::buffer::Buffer::empty(area);
    widget.render(area, &mut buffer);
    buffer
}
