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

/// The finest mark of the person's tape.
pub(super) const fn fineness(fraction: FractionName) -> Fineness {
    match fraction {
        FractionName::Sixteenth => Fineness::Sixteenth,
        FractionName::ThirtySecond => Fineness::ThirtySecond,
    }
}

pub(super) fn evaluate(boxes: &[BoxResult], fraction: FractionName) -> Cut {
    let fineness = fineness(fraction);
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
