//! The Truck page: what it weighs and may weigh, what comes out and goes in, what is under it. Each section has a file.

mod facts;
mod ground;
pub mod lists;
mod masses;
pub mod road;
pub mod side;

use crate::form::Row;
use crate::model::Model;

/// The rows, section by section.
pub fn rows(model: &Model) -> Vec<Row> {
    let sections = [
        facts::rows,
        masses::rows,
        lists::carried,
        lists::rows,
        ground::rows,
        road::rows,
    ];
    sections.into_iter().flat_map(|rows| rows(model)).collect()
}
