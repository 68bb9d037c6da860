//! What is cut from which sheet and bar, and what to buy.

use enclosure::nest::sheets::{Along, Cutting};
use job::Price;
use job::nesting::{Nest, Nested, Nesting, Piece};
use job::shopping::ToBuy;
use serde_json::{Value, json};
use tape::Units;

use super::mm;

/// Every nest with parts and cuts in places from the corner of the untrimmed sheet or bar, and the shopping list. Money is
/// what the person entered, in a unit of their own.
pub fn nests_json(to_buy: &ToBuy) -> Value {
    json!({
        "nesting": nesting_json(&to_buy.nesting),
        "shopping": to_buy.items.iter().map(|item| json!({
            "shop": item.shop.name(),
            "what": item.what,
            "unit": item.unit.name(),
            "needed": item.needed,
            "buy": item.buy,
            "cost": item.cost.map(money),
            "assumed": item.assumed,
            "note": item.note,
        })).collect::<Vec<_>>(),
        "cost": to_buy.cost.map(money),
        "without_price": to_buy.unpriced,
    })
}

/// Every nest, without what else to buy: of a list of parts that belongs to no job.
pub fn nesting_json(nesting: &Nesting) -> Value {
    let how = nesting.question.how;
    let mut number = 0;
    let stocks: Vec<Value> = nesting
        .stocks
        .iter()
        .map(|nested| {
            let first = number + 1;
            number += nested.nests.len();
            stock(nested, first, nesting.question.units)
        })
        .collect();
    json!({
        "cutting": match how.cutting { Cutting::Guillotine => "shear", Cutting::Free => "laser" },
        "kerf_mm": mm(how.kerf),
        "trim_mm": mm(how.trim),
        "may_turn": how.may_turn,
        "saw_kerf_mm": mm(how.saw_kerf),
        "saw_trim_mm": mm(how.saw_trim),
        "keep_mm": mm(how.keep),
        "assumed": nesting.assumed_text(),
        "stocks": stocks,
        "cost": nesting.cost().map(money),
    })
}

fn stock(nested: &Nested, first: usize, units: Units) -> Value {
    json!({
        "label": nested.label,
        "form": if nested.is_bar { "bar" } else { "sheet" },
        "bought": nested.bought,
        "at_least": nested.at_least,
        "proved": nested.proved,
        "waste": nested.waste,
        "buy": nested.buy.iter().map(|buy| {
            let mut value = piece(&buy.piece, units);
            value["count"] = buy.count.into();
            value
        }).collect::<Vec<_>>(),
        "cost": nested.cost().map(money),
        "left_out": nested.left_out.iter().map(|left| json!({
            "mark": left.mark,
            "number_off": left.quantity,
            "why": left.why,
        })).collect::<Vec<_>>(),
        "nests": nested.nests.iter().enumerate().map(|(i, n)| nest(n, first + i, units)).collect::<Vec<_>>(),
    })
}

fn piece(piece: &Piece, units: Units) -> Value {
    json!({
        "size": piece.size_text(units),
        "sides_mm": piece.sides.map(mm),
        "on_hand": piece.on_hand.is_some(),
        "assumed": piece.assumed,
        "price": piece.price.map(money),
    })
}

fn nest(nest: &Nest, number: usize, units: Units) -> Value {
    json!({
        "number": number,
        "stock": piece(&nest.piece, units),
        "parts": nest.parts.iter().map(|part| json!({
            "mark": part.mark,
            "name": part.name,
            "box": part.box_name,
            "at_mm": part.at.map(mm),
            "sides_mm": part.sides.map(mm),
            "turned": part.turned,
        })).collect::<Vec<_>>(),
        "cuts": nest.cuts.iter().map(|cut| json!({
            "along": match cut.along { Along::X => "length", Along::Y => "width" },
            "at_mm": mm(cut.at),
            "from_mm": mm(cut.from),
            "to_mm": mm(cut.to),
        })).collect::<Vec<_>>(),
        "offcuts": nest.offcuts.iter().map(|offcut| json!({
            "at_mm": [mm(offcut.x), mm(offcut.y)],
            "sides_mm": offcut.sides.map(mm),
        })).collect::<Vec<_>>(),
        "waste": nest.waste,
    })
}

/// An amount of money as the person entered it.
#[expect(clippy::cast_precision_loss, reason = "within 1e14, far below 2^53")]
fn money(price: Price) -> f64 {
    price.0 as f64 / 1000.0
}
