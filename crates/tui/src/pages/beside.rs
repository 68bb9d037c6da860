//! A picture beside the rows of a page, or over them where there is no room for both.

use ratatui::layout::Rect;

use crate::model::Model;
use crate::page::Page;
use crate::pages::{boxes, tape, truck};

/// Rows round the cursor that stay over the picture in a narrow window: what is being typed must be seen.
const ROWS_OVER: u16 = 5;
/// Lines of help under the rows.
const HELP: u16 = 2;

/// How much room a page has for its picture.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// The least columns of the page beside which the picture has room.
    pub least: u16,
    /// Columns of the picture beside the rows.
    pub columns: u16,
}

const fn room(page: Page) -> Option<Room> {
    match page {
        Page::Tape => Some(tape::picture::ROOM),
        Page::Boxes => Some(boxes::picture::ROOM),
        _ => None,
    }
}

/// The part of the page for the rows, and that for the picture; in a narrow window it is there when it was asked for,
/// under the rows next to the cursor.
pub fn split(model: &Model, body: Rect) -> (Rect, Option<Rect>) {
    if model.page == Page::Truck {
        return truck::side::split(model, body);
    }
    let Some(room) = room(model.page) else {
        return (body, None);
    };
    if body.width >= room.least {
        let rows = Rect {
            width: body.width - room.columns,
            ..body
        };
        let picture = Rect {
            x: rows.right(),
            width: room.columns,
            // The help for the row under the cursor runs under both.
            height: body.height.saturating_sub(HELP),
            ..body
        };
        return (rows, Some(picture));
    }
    if !model.other_way {
        return (body, None);
    }
    let rows = Rect {
        height: body.height.min(ROWS_OVER + HELP),
        ..body
    };
    let picture = Rect {
        y: body.y + ROWS_OVER,
        height: body.height.saturating_sub(ROWS_OVER + HELP),
        ..body
    };
    (rows, Some(picture))
}

/// How many columns the rows of the page shown have, in the window as it is.
pub const fn columns_of_rows(model: &Model) -> u16 {
    let (columns, _) = model.size;
    match room(model.page) {
        Some(room) if columns >= room.least => columns - room.columns,
        _ => columns,
    }
}

/// Draws the picture of the page shown.
pub fn draw(model: &Model, area: Rect, buf: &mut ratatui::buffer::Buffer) {
    match model.page {
        Page::Tape => tape::picture::draw(model, area, buf),
        Page::Boxes => boxes::picture::draw(model, area, buf),
        Page::Truck => truck::side::draw(model, area, buf),
        _ => {}
    }
}
