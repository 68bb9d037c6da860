//! What to buy for the boxes: whole sheets and bars, the liner's with them, fasteners with spares, gasket.

use enclosure::cutlist::Table;
use enclosure::material::Material;

use crate::nesting::{Nesting, nested};
use crate::{Evaluation, Job, Price, assumed};

/// What is counted or measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Whole pieces.
    Pieces,
    /// Metres.
    Metres,
    /// Square metres.
    SquareMetres,
}

impl Unit {
    /// As printed behind a number; nothing for pieces.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pieces => "",
            Self::Metres => "m",
            Self::SquareMetres => "m2",
        }
    }

    /// A number of it: whole pieces, else one decimal, rounded up.
    pub fn text(self, amount: f64) -> String {
        match self {
            Self::Pieces => format!("{amount:.0}"),
            Self::Metres | Self::SquareMetres => format!("{:.1} {}", tenth_up(amount), self.name()),
        }
    }
}

/// One line of a shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is.
    pub what: String,
    /// What is counted or measured.
    pub unit: Unit,
    /// How much the boxes take.
    pub needed: f64,
    /// How much to buy, spares with it.
    pub buy: f64,
    /// What it costs, where a price was entered.
    pub cost: Option<Price>,
    /// Whether it rests on a value that nobody entered.
    pub assumed: bool,
    /// What to mind.
    pub note: String,
}

/// What to buy, and how sheets and bars are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// What is cut from which sheet and bar.
    pub nesting: Nesting,
    /// The lines: sheets and bars first.
    pub items: Vec<Item>,
    /// What those with a price cost together; none when none has.
    pub cost: Option<Price>,
    /// How many lines have no price.
    pub unpriced: usize,
}

/// Spares of fasteners: so many for each one needed, and at least so many (from memory of the trade).
const SPARES: (f64, f64) = (0.1, 2.0);
/// What joints take of a gasket (from memory of the trade).
const OFFCUT: f64 = 0.1;

/// What to buy for all boxes of a job together, its cut list laid out with the work that papers and the command line take.
pub fn to_buy(job: &Job, evaluation: &Evaluation) -> ToBuy {
    ToBuy::of(job, evaluation, nested(job, evaluation))
}

impl ToBuy {
    /// What to buy for all boxes together, their parts laid out so.
    pub fn of(job: &Job, evaluation: &Evaluation, nesting: Nesting) -> Self {
        let mut items = stock(evaluation, &nesting);
        items.extend(fasteners(job, evaluation));
        items.extend(in_walls(job, evaluation));
        items.extend(gasket(job, evaluation));
        let priced = items.iter().filter_map(|item| item.cost).map(|price| price.0);
        Self {
            nesting,
            cost: priced.reduce(i64::saturating_add).map(Price),
            unpriced: items.iter().filter(|item| item.cost.is_none()).count(),
            items,
        }
    }
}

fn stock(evaluation: &Evaluation, nesting: &Nesting) -> Vec<Item> {
    let units = evaluation.units;
    let mut items = Vec::new();
    for nested in &nesting.stocks {
        for buy in &nested.buy {
            let mut notes = Vec::new();
            if let Some(area) = liner_area(evaluation, &nested.label) {
                notes.push(format!("liner, {} in the boxes", Unit::SquareMetres.text(area)));
            }
            if nested.buy.len() == 1 {
                notes.push(nested.proof_text());
            }
            if buy.piece.assumed {
                notes.push("size assumed".to_owned());
            }
            items.push(Item {
                what: format!("{}, {}", nested.label, buy.piece.size_text(units)),
                unit: Unit::Pieces,
                needed: f64::from(buy.count),
                buy: f64::from(buy.count),
                cost: buy
                    .piece
                    .price
                    .map(|price| Price(price.0.saturating_mul(i64::from(buy.count)))),
                assumed: buy.piece.assumed || evaluation.headline.assumed.cut,
                note: notes.join(", "),
            });
        }
        for left in &nested.left_out {
            items.push(Item {
                what: format!("{}: something large enough for {}", nested.label, left.mark),
                unit: Unit::Pieces,
                needed: f64::from(left.quantity),
                buy: f64::from(left.quantity),
                cost: None,
                assumed: evaluation.headline.assumed.cut,
                note: left.why.to_owned(),
            });
        }
    }
    items
}

/// The face area of the sheets of a table, where they are of a liner.
fn liner_area(evaluation: &Evaluation, label: &str) -> Option<f64> {
    let of_liner = |table: &&Table| matches!(table.sheet.material, Material::Liner(_)) && table.label() == label;
    let table = evaluation.cut.list.tables.iter().find(of_liner)?;
    Some(table.area.as_m2())
}

/// Lid screws, rivets and mount bolts of all boxes, like ones together.
fn fasteners(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let how = assumed::build(&job.design);
    let units = job.units.units();
    let screw = format!("lid screws with nuts, {}", assumed::text(how.screw, units));
    let mut wanted: Vec<(String, u32)> = Vec::new();
    let mut add = |what: &str, count: u32| match wanted.iter_mut().find(|(known, _)| known == what) {
        _ if count == 0 => {}
        Some((_, all)) => *all += count,
        None => wanted.push((what.to_owned(), count)),
    };
    for result in &evaluation.boxes {
        let Some(built) = &result.built else { continue };
        add(&screw, built.lid_holes.as_ref().map_or(0, |holes| holes.count));
        if let Some(hole) = how.rivet() {
            add(
                &format!("blind rivets for a hole of {}", assumed::text(hole, units)),
                built.rivets,
            );
        }
        for (what, count) in result.strength.iter().flat_map(|sums| &sums.fasteners) {
            add(what, *count);
        }
    }
    wanted
        .into_iter()
        .map(|(what, count)| {
            let needed = f64::from(count);
            Item {
                what,
                unit: Unit::Pieces,
                needed,
                buy: needed + (needed * SPARES.0).ceil().max(SPARES.1),
                cost: None,
                assumed: evaluation.headline.assumed.cut,
                note: "one in ten to spare, two at least".to_owned(),
            }
        })
        .collect()
}

/// Glands, breathers and whatever else goes through a wall, like ones together.
fn in_walls(job: &Job, evaluation: &Evaluation) -> Vec<Item> {
    let units = job.units.units();
    let mut wanted: Vec<(String, u32)> = Vec::new();
    let fittings = evaluation.boxes.iter().flat_map(|result| &result.fittings);
    for fitting in fittings.filter(|fitting| fitting.fault.is_none()) {
        let hole = assumed::text(fitting.hole, units);
        let what = format!("{} for a hole of {hole}", fitting.what.name());
        match wanted.iter_mut().find(|(known, _)| *known == what) {
            Some((_, all)) => *all += 1,
            None => wanted.push((what, 1)),
        }
    }
    wanted
        .into_iter()
        .map(|(what, count)| Item {
            what,
            unit: Unit::Pieces,
            needed: f64::from(count),
            buy: f64::from(count),
            cost: None,
            assumed: false,
            note: String::new(),
        })
        .collect()
}

/// Gasket once round each box.
fn gasket(job: &Job, evaluation: &Evaluation) -> Option<Item> {
    let how = assumed::build(&job.design);
    let built = evaluation.boxes.iter().filter_map(|result| result.built.as_ref());
    let needed: f64 = built.map(|built| built.gasket_length.as_mm() / 1e3).sum();
    (needed > 0.0).then(|| Item {
        what: format!("gasket, {} thick", assumed::text(how.gasket, job.units.units())),
        unit: Unit::Metres,
        needed,
        buy: tenth_up(needed * (1.0 + OFFCUT)),
        cost: None,
        assumed: evaluation.headline.assumed.cut,
        note: "a tenth more for its joints".to_owned(),
    })
}

/// Up to the next tenth; what is a billionth above one is that one.
fn tenth_up(amount: f64) -> f64 {
    (amount * 10.0 - 1e-9).ceil() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_rounded_up_but_not_past_a_tenth() {
        let up = [1.0, 1.01, 1.1, 1.100_000_000_1].map(|amount| Unit::Metres.text(amount));
        assert_eq!(up, ["1.0 m", "1.1 m", "1.1 m", "1.1 m"]);
        assert_eq!(Unit::Pieces.text(12.0), "12");
        assert_eq!(Unit::Metres.text(4.01), "4.1 m");
    }
}
