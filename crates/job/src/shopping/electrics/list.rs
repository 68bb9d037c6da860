//! Lines of the pack's electrics as they are found, with what is bought beyond what is built in.

use super::super::{Item, SPARES, Shop, Unit};

/// Lines as they are found; what is alike is counted together.
#[derive(Default)]
pub(super) struct List(pub(super) Vec<Item>);

impl List {
    /// Adds so many pieces, `spare` of them for one that fails.
    pub(super) fn pieces(&mut self, what: String, count: usize, spare: Spare, assumed: bool, note: String) {
        if count == 0 {
            return;
        }
        #[expect(clippy::cast_precision_loss, reason = "pieces of a pack")]
        let needed = count as f64;
        self.add(what, Unit::Pieces, needed, needed + spare.of(needed), assumed, note);
    }

    pub(super) fn add(&mut self, what: String, unit: Unit, needed: f64, buy: f64, assumed: bool, note: String) {
        if let Some(known) = self.0.iter_mut().find(|item| item.what == what && item.note == note) {
            known.needed += needed;
            known.buy += buy;
            known.assumed |= assumed;
            return;
        }
        self.0.push(Item {
            shop: Shop::Electrical,
            what,
            unit,
            needed,
            buy,
            cost: None,
            assumed,
            note,
        });
    }
}

/// What is bought beyond what is built in (from memory of the trade).
#[derive(Clone, Copy)]
pub(super) enum Spare {
    None,
    One,
    /// As of fasteners: one in ten, and two at least.
    Tenth,
}

impl Spare {
    fn of(self, needed: f64) -> f64 {
        match self {
            Self::None => 0.0,
            Self::One => 1.0,
            Self::Tenth => (needed * SPARES.0).ceil().max(SPARES.1),
        }
    }
}
