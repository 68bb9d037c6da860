//! The cut list of all boxes. What sheets and bars it takes is worked out by `nesting`, which lasts longer.

use enclosure::cutlist::{CutList, Fineness, ListedBox, cut_list};

use super::boxes::BoxResult;
use crate::document::FractionName;

/// What to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The tables, one for each thing that parts are cut from.
    pub list: CutList,
}

pub(super) fn evaluate(boxes: &[BoxResult], fraction: FractionName) -> Cut {
    let fineness = match fraction {
        FractionName::Sixteenth => Fineness::Sixteenth,
        FractionName::ThirtySecond => Fineness::ThirtySecond,
    };
    let listed: Vec<ListedBox<'_>> = boxes
        .iter()
        .filter_map(|b| {
            Some(ListedBox {
                name: &b.name,
                built: b.built.as_ref()?,
                count: 1,
            })
        })
        .collect();
    let list = cut_list(&listed, fineness);
    Cut { list }
}
