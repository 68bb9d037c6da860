//! Drawings of what is cut from which sheet and bar.

mod flat;
mod label;
mod page;

use enclosure::nest::sheets::Cutting;
use job::Evaluation;
use job::nesting::Nesting;
use plot::{Fault, Meta};

use crate::words;

#[cfg(test)]
pub(crate) use flat::{line as line_of, placed as placed_at};

/// Every nest on pages of one file; `None` when nothing is cut. `date` is printed as given.
pub fn nests_pdf(evaluation: &Evaluation, nesting: &Nesting, date: &str) -> Option<Vec<u8>> {
    let pages = page::pages(evaluation, nesting, date);
    let meta = Meta {
        title: format!("Nests, {}", words::title(evaluation)),
        ..Meta::default()
    };
    (!pages.is_empty()).then(|| plot::pdf(&pages, &meta))
}

/// The same pages as pictures: a sheet, or the bars of one section, on each.
pub fn nest_svgs(evaluation: &Evaluation, nesting: &Nesting, date: &str) -> Vec<String> {
    page::pages(evaluation, nesting, date).iter().map(plot::svg).collect()
}

/// The file a laser shop is given for the nest of that number: every part at its exact size in its place, in
/// millimetres. `None` for bars and for the liner, and where sheets are not cut along any line.
///
/// # Errors
///
/// When an outline cannot be cut as it is.
pub fn nest_dxf(evaluation: &Evaluation, nesting: &Nesting, number: usize) -> Option<Result<String, Fault>> {
    if nesting.question.how.cutting != Cutting::Free {
        return None;
    }
    let flat = flat::of(evaluation, nesting, number)?;
    Some(plot::dxf(&flat.with_gauge()))
}
