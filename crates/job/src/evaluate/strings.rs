//! Which strings can stand whole in a box, and which have to cross from one to another.

use pack::arrangement::Arrangement;

use super::boxes::BoxResult;
use crate::Id;

/// Strings that cannot each stand in one box. No wiring order is known here, so it is a least number: whatever way the
/// modules are joined, at least so many strings run from box to box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Crossing {
    /// Strings that have to cross, at least.
    pub strings: u32,
    /// Strings in the pack.
    pub of: u32,
    /// Modules in series in each.
    pub series: u32,
    /// What each box holds, in the job's order.
    pub boxes: Vec<InBox>,
}

/// Modules of one kind in a box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InBox {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// Modules.
    pub modules: u32,
    /// Strings that can stand whole in it.
    pub whole: u32,
}

/// The strings of `kind`, arranged so, that have to cross; `None` when every string can stand whole in a box.
pub(super) fn crossing(kind: Id, arrangement: Arrangement, boxes: &[BoxResult]) -> Option<Crossing> {
    let held: Vec<InBox> = boxes
        .iter()
        .filter_map(|b| {
            let modules: u32 = b.modules.iter().filter(|m| m.kind == kind).map(|m| m.count).sum();
            (modules > 0).then(|| InBox {
                battery_box: b.id,
                name: b.name.clone(),
                modules,
                whole: modules / arrangement.series.max(1),
            })
        })
        .collect();
    let whole: u32 = held.iter().map(|b| b.whole).sum();
    let strings = arrangement.parallel.saturating_sub(whole);
    (strings > 0 && held.len() > 1).then_some(Crossing {
        strings,
        of: arrangement.parallel,
        series: arrangement.series,
        boxes: held,
    })
}
