//! One module for each page: its rows, its commands, its picture.

pub mod anchor;
pub mod beside;
pub mod boxes;
pub mod layout;
pub mod modules;
pub mod nests;
pub mod pack;
pub mod papers;
pub mod start;
pub mod takes;
pub mod tape;
pub mod truck;
pub mod units;
pub mod ways;
pub mod wiring;

use crate::form::Row;
use crate::model::Model;
use crate::page::Page;

/// The rows of the page shown, when it is one of rows.
pub fn rows(model: &Model) -> Vec<Row> {
    match model.page {
        Page::Tape => tape::rows(model),
        Page::Modules => modules::rows(model),
        Page::Pack => pack::rows(model),
        Page::Boxes => boxes::rows(model),
        Page::Units => units::rows(model),
        Page::Truck => truck::rows(model),
        Page::Start | Page::Layout | Page::Wiring | Page::Papers => Vec::new(),
    }
}
