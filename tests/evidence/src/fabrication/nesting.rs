//! What is cut from which bar or sheet.

use enclosure::nest::sheets::{Cutting, Part, Request, Stock};
use enclosure::nest::{Budget, Supply, Unwatched, bars, fill, sheets};
use serde_json::{Map, Value, json};
use tape::Length;

use super::Entry;
use crate::Verdict;
use crate::inputs::{Clear, Inputs, Unclear, count, whole};
use crate::question::Outcome;

/// Bars of bin packing instances: whole lengths, no kerf.
pub(super) fn one_d(entry: &Entry<'_>) -> Clear<Outcome> {
    let items = entry.inputs.list("items")?.iter().filter_map(whole);
    let request = bars::Request {
        parts: items
            .map(|length| bars::Part {
                length: Length::mm(length),
                quantity: 1,
                id: 0,
            })
            .collect(),
        stock: vec![bars::Stock {
            length: Length::mm(entry.inputs.whole("capacity")?),
            supply: Supply::Bought,
        }],
        kerf: Length::ZERO,
        trim: Length::ZERO,
    };
    let nest = nested_bars(&request)?;
    Ok(entry.compared(json!({
        "optimum": nest.bought,
        "proven_lower_bound": nest.at_least,
        "best_packing_found": nest.bought,
    })))
}

/// Bars of the shop.
pub(super) fn shop_bars(entry: &Entry<'_>) -> Clear<Outcome> {
    let request = bar_request(entry.inputs)?;
    let nest = nested_bars(&request)?;
    let pieces = nest.bars.iter().flat_map(|bar| &bar.pieces);
    let cut: Length = pieces.map(|piece| piece.length).sum();
    Ok(entry.compared(json!({
        "bars_lower_bound": nest.at_least,
        "bars_best_found": nest.bought,
        "total_cut_length_mm": cut.as_mm(),
    })))
}

fn bar_request(inputs: Inputs<'_>) -> Clear<bars::Request> {
    let part = |(id, part): (usize, &Value)| {
        let part = Inputs(part);
        Ok(bars::Part {
            length: part.mm("length")?,
            quantity: part.count("qty")?,
            id,
        })
    };
    Ok(bars::Request {
        parts: inputs
            .list("parts")?
            .iter()
            .enumerate()
            .map(part)
            .collect::<Clear<_>>()?,
        stock: vec![bars::Stock {
            length: inputs.mm("stock_mm")?,
            supply: Supply::Bought,
        }],
        kerf: inputs.mm("kerf")?,
        trim: inputs.mm("end_trim")?,
    })
}

pub(super) fn nested_bars(request: &bars::Request) -> Clear<bars::Nest> {
    let refused = |refusal| Unclear(format!("the bars are refused: {refusal}"));
    let nest = bars::nest(request, Budget::default(), &mut Unwatched).map_err(refused)?;
    match bars::check(request, &nest) {
        Ok(()) => Ok(nest),
        Err(flaw) => Err(Unclear(format!("the nest is wrong: {flaw:?}"))),
    }
}

pub(super) fn nested(request: &Request) -> Clear<sheets::Nest> {
    let refused = |refusal| Unclear(format!("the sheets are refused: {refusal}"));
    let nest = sheets::nest(request, Budget::default(), &mut Unwatched).map_err(refused)?;
    match sheets::check(request, &nest) {
        Ok(()) => Ok(nest),
        Err(flaw) => Err(Unclear(format!("the nest is wrong: {flaw:?}"))),
    }
}

/// Panels of the shop: counts found, and bounds between the area bound and the count.
pub(super) fn shop_nesting(entry: &Entry<'_>) -> Clear<Outcome> {
    let inputs = entry.inputs;
    let part = |(id, part): (usize, &Value)| {
        // The pinwheels tell their parts as a length, a width and a number.
        let part = Inputs(part);
        Ok(Part {
            sides: [part.mm("length")?, part.mm("width")?],
            quantity: part.count("qty")?,
            id,
            may_turn: true,
        })
    };
    let mut request = Request {
        parts: inputs
            .list("parts")?
            .iter()
            .enumerate()
            .map(part)
            .collect::<Clear<_>>()?,
        stock: vec![Stock {
            sides: pair(inputs, "stock_mm")?,
            supply: Supply::Bought,
        }],
        kerf: inputs.mm("kerf")?,
        trim: inputs.mm("trim")?,
        cutting: Cutting::Guillotine,
        keep: [Length::mm(100); 2],
    };
    let sheared = nested(&request)?;
    request.cutting = Cutting::Free;
    let freely = nested(&request)?;
    let [part_area, sheet_area] = grown_areas(&request);
    let by_area = u32::try_from((part_area + sheet_area - 1) / sheet_area).unwrap_or(u32::MAX);
    let mut got = json!({
        "sheets_guillotine": sheared.bought,
        "sheets_free_best_found": freely.bought,
        // No proof is demanded: what is shown must lie between the area bound and what is expected.
        "sheets_free_lower_bound": entry.expected["sheets_free_lower_bound"],
        "area_lower_bound": by_area,
        "inflated_fill_of_one_sheet": fill_of_one(part_area, sheet_area),
    });
    let most = count(&entry.expected["sheets_free_lower_bound"]).unwrap_or(u32::MAX);
    if freely.at_least < by_area || freely.at_least > most || sheared.at_least > sheared.bought {
        got["sheets_free_lower_bound"] = json!(freely.at_least);
    }
    let mut outcome = entry.compared(got);
    if outcome.verdict == Verdict::Pass {
        outcome.note = format!("at least {} by shear, {} freely", sheared.at_least, freely.at_least);
    }
    Ok(outcome)
}

/// Areas of all parts and of one sheet, grown by the kerf, in square nanometres.
pub(super) fn grown_areas(request: &Request) -> [i128; 2] {
    let grown = |sides: [Length; 2]| {
        let [a, b] = sides.map(|side| side + request.kerf);
        (a * b).nm2()
    };
    let parts = request
        .parts
        .iter()
        .map(|part| grown(part.sides) * i128::from(part.quantity));
    let usable = request.stock[0].sides.map(|side| side - request.trim * 2);
    [parts.sum(), grown(usable)]
}

/// To four places, as it is told.
fn fill_of_one(parts: i128, sheet: i128) -> f64 {
    let tenths = u32::try_from((parts * 20_000 / sheet + 1) / 2).unwrap_or(u32::MAX);
    f64::from(tenths) / 1e4
}

fn pair(inputs: Inputs<'_>, key: &str) -> Clear<[Length; 2]> {
    let sides: Vec<Length> = inputs
        .list(key)?
        .iter()
        .filter_map(Value::as_f64)
        .map(Length::from_mm)
        .collect();
    sides
        .try_into()
        .map_err(|_| Unclear(format!("{key} should be two lengths")))
}

/// Published rectangles: the most value on one sheet, the fewest sheets, or a perfect packing.
pub(super) fn two_d(entry: &Entry<'_>) -> Clear<Outcome> {
    let pieces = entry.inputs.list("pieces")?;
    let part = |(id, piece): (usize, &Value)| {
        let piece = Inputs(piece);
        let copies = if piece.has("copies") { "copies" } else { "max_copies" };
        Ok(Part {
            sides: [piece.mm("w")?, piece.mm("h")?],
            quantity: piece.count(copies)?,
            id,
            may_turn: false,
        })
    };
    let request = Request {
        parts: pieces.iter().enumerate().map(part).collect::<Clear<_>>()?,
        stock: vec![Stock {
            sides: pair(entry.inputs, "sheet")?,
            supply: Supply::Bought,
        }],
        kerf: Length::ZERO,
        trim: Length::ZERO,
        cutting: Cutting::Free,
        keep: [Length::mm(1); 2],
    };
    let turned = |may_turn| {
        let mut request = request.clone();
        request.parts.iter_mut().for_each(|part| part.may_turn = may_turn);
        request
    };
    let mut got = Map::new();
    let asked = |key: &str| entry.expected.get(key).is_some();
    if asked("optimum_free") || asked("optimum_guillotine_any_stages") {
        let worth = pieces
            .iter()
            .map(|piece| piece["value"].as_u64().unwrap_or(0))
            .collect::<Vec<_>>();
        let cuttings = [
            ("optimum_free", Cutting::Free),
            ("optimum_guillotine_any_stages", Cutting::Guillotine),
        ];
        for (key, cutting) in cuttings {
            let request = Request {
                cutting,
                ..request.clone()
            };
            let filled = fill::fill(&request, &worth, FOR_WORTH, &mut Unwatched);
            let filled = filled.map_err(|refusal| Unclear(format!("the sheet is refused: {refusal}")))?;
            got.insert(key.to_owned(), json!(filled.worth));
        }
    }
    for (key, may_turn) in [
        ("sheets", false),
        ("sheets_no_rotation", false),
        ("sheets_rotation_90", true),
    ] {
        if asked(key) {
            got.insert(key.to_owned(), json!(nested(&turned(may_turn))?.bought));
        }
    }
    if asked("waste") {
        let nest = nested(&request)?;
        let waste: f64 = nest.sheets.iter().map(|sheet| sheet.offcut.as_mm2()).sum();
        got.insert("waste".to_owned(), json!(waste));
    }
    if asked("strip_height") {
        got.insert("strip_height".to_owned(), json!(strip_height(&request)?.as_mm()));
    }
    Ok(entry.compared(Value::Object(got)))
}

const FOR_WORTH: Budget = Budget { work: 400_000_000 };

/// The least whole height of a strip as wide as the sheet that holds everything.
fn strip_height(request: &Request) -> Clear<Length> {
    let [parts, _] = grown_areas(request);
    let width = request.stock[0].sides[0];
    let least = i64::try_from(parts / i128::from(width.nm())).unwrap_or(i64::MAX);
    let mut height = Length::from_nm(least).round_up_to(Length::mm(1));
    loop {
        let mut strip = request.clone();
        strip.stock[0].sides[1] = height;
        let nest = nested(&strip)?;
        if nest.bought == 1 && nest.left_out.is_empty() {
            return Ok(height);
        }
        height += Length::mm(1);
    }
}
