//! What holds for every nest, tried on some.

use enclosure::nest::Supply;
use enclosure::nest::bars;
use enclosure::nest::sheets::{Cutting, Nest, Part, Request, Sheet, Stock};
use serde_json::json;
use tape::{Area, Length};

use super::Entry;
use super::nesting::{grown_areas, nested, nested_bars};
use crate::inputs::Clear;
use crate::question::Outcome;

/// The panels of some boxes, nested both ways.
struct Tried {
    request: Request,
    sheared: Nest,
    freely: Nest,
}

/// Whether both nests keep to a statement.
type Holds = fn(&Tried) -> bool;

/// Tries the statement of an entry on nests; `None` when it is not about nests.
pub(super) fn held(entry: &Entry<'_>) -> Clear<Option<Outcome>> {
    let statements: [(&str, Holds); 3] = [
        ("nesting: parts area + kerf + offcut = sheet area", adds_up),
        ("sheets used >= ceil", no_fewer_than_area),
        ("guillotine sheets >= free sheets", shear_needs_no_fewer),
    ];
    let known = statements.iter().find(|(start, _)| entry.what.starts_with(start));
    let (holds, tried) = if let Some((_, holds)) = known {
        let tried = nests()?;
        (
            tried.iter().all(holds),
            format!("tried on {} nests cut both ways", tried.len()),
        )
    } else if entry.what.starts_with("bar stock: end trims") {
        let tried = bar_nests()?;
        let holds = tried.iter().all(|(request, nest)| bars_add_up(request, nest));
        (holds, format!("tried on {} nests of bars", tried.len()))
    } else {
        return Ok(None);
    };
    let mut outcome = entry.compared(json!({ "holds": holds }));
    outcome.note = format!("{}{tried}", outcome.note);
    Ok(Some(outcome))
}

const SHEETS: [[i64; 2]; 3] = [[2_438_400, 1_219_200], [2_000_000, 1_000_000], [1_500_000, 700_000]];
const TAKES: [[i64; 2]; 4] = [[3_000, 10_000], [2_500, 0], [0, 12_700], [3_175, 15_000]];

fn micrometres(n: i64) -> Length {
    Length::from_nm(n * 1_000)
}

/// Panels of boxes of one to three sizes, in odd micrometres, with and without kerf, trim and grain.
fn nests() -> Clear<Vec<Tried>> {
    let mut tried = Vec::new();
    for n in 0..12 {
        let mut parts = Vec::new();
        for size in 0..=n % 3 {
            let seed = n * 7 + size * 3;
            let inside =
                [400 + seed * 37 % 700, 250 + seed * 53 % 300, 120 + seed * 29 % 160].map(|mm| mm * 1_000 + seed * 77);
            let panels = [[0, 1], [0, 2], [1, 2]].map(|pair| pair.map(|axis| micrometres(inside[axis])));
            for sides in panels {
                parts.push(Part {
                    sides,
                    quantity: 2,
                    id: parts.len(),
                    may_turn: n % 4 > 0,
                });
            }
        }
        let index = usize::try_from(n).unwrap_or(0);
        let [kerf, trim] = TAKES[index % 4].map(micrometres);
        let mut request = Request {
            parts,
            stock: vec![Stock {
                sides: SHEETS[index % 3].map(micrometres),
                supply: Supply::Bought,
            }],
            kerf,
            trim,
            cutting: Cutting::Guillotine,
            keep: [Length::mm(150), Length::mm(80)],
        };
        let sheared = nested(&request)?;
        request.cutting = Cutting::Free;
        let freely = nested(&request)?;
        tried.push(Tried {
            request,
            sheared,
            freely,
        });
    }
    Ok(tried)
}

fn adds_up(tried: &Tried) -> bool {
    let sheets = tried.sheared.sheets.iter().chain(&tried.freely.sheets);
    sheets
        .clone()
        .all(|sheet| apart(&tried.request, sheet) && areas_add_up(&tried.request, sheet))
        && tried
            .sheared
            .sheets
            .iter()
            .all(|sheet| kerf_of_cuts(&tried.request, sheet) >= sheet.kerf)
}

fn areas_add_up(request: &Request, sheet: &Sheet) -> bool {
    let [a, b] = request.stock[sheet.stock].sides;
    let parts: Area = sheet.placed.iter().map(|part| part.sides[0] * part.sides[1]).sum();
    let trim = a * b - (a - request.trim * 2) * (b - request.trim * 2);
    let kept: Area = sheet
        .offcuts
        .iter()
        .map(|offcut| offcut.sides[0] * offcut.sides[1])
        .sum();
    parts == sheet.parts && parts + sheet.kerf + sheet.offcut == a * b && sheet.offcut >= trim + kept
}

/// Every cut at its full width: more than it takes where it runs along an edge.
fn kerf_of_cuts(request: &Request, sheet: &Sheet) -> Area {
    sheet.cuts.iter().map(|cut| (cut.to - cut.from) * request.kerf).sum()
}

/// Parts no closer than the kerf to each other, nor than the trim to the edge.
fn apart(request: &Request, sheet: &Sheet) -> bool {
    let full = request.stock[sheet.stock].sides;
    let parts: Vec<[[Length; 2]; 2]> = sheet
        .placed
        .iter()
        .map(|part| [[part.x, part.x + part.sides[0]], [part.y, part.y + part.sides[1]]])
        .collect();
    let inside = |part: &[[Length; 2]; 2]| {
        (0..2).all(|axis| part[axis][0] >= request.trim && part[axis][1] + request.trim <= full[axis])
    };
    let clear = |a: &[[Length; 2]; 2], b: &[[Length; 2]; 2]| {
        (0..2).any(|axis| a[axis][1] + request.kerf <= b[axis][0] || b[axis][1] + request.kerf <= a[axis][0])
    };
    parts
        .iter()
        .enumerate()
        .all(|(n, part)| inside(part) && parts[..n].iter().all(|other| clear(part, other)))
}

fn no_fewer_than_area(tried: &Tried) -> bool {
    let [parts, sheet] = grown_areas(&tried.request);
    let by_area = (parts + sheet - 1) / sheet;
    [&tried.sheared, &tried.freely].iter().all(|nest| {
        nest.left_out.is_empty() && i128::from(nest.at_least) >= by_area && i128::from(nest.bought) >= by_area
    })
}

fn shear_needs_no_fewer(tried: &Tried) -> bool {
    tried.sheared.bought >= tried.freely.bought
}

/// Lengths on bars, some of which end flush, with bars on hand and two lengths on sale.
fn bar_nests() -> Clear<Vec<(bars::Request, bars::Nest)>> {
    let mut tried = Vec::new();
    for n in 0..20_i64 {
        let [kerf, trim] = TAKES[usize::try_from(n % 4).unwrap_or(0)].map(micrometres);
        let bar = Length::mm(6_000);
        let usable = bar - trim * 2;
        let mut lengths: Vec<(Length, u32)> = (0..3 + n % 4)
            .map(|i| (micrometres(200_000 + (n * 331 + i * 577) % 1_700 * 1_000 + n * 13), 3))
            .collect();
        // Two that fill a bar to its end, and one that leaves less than a cut takes.
        lengths.push((Length::from_nm((usable - kerf).nm() / 2), 2));
        lengths.push((usable - micrometres(n * 150), 1));
        let part = |(id, &(length, quantity)): (usize, &(Length, u32))| bars::Part { length, quantity, id };
        let stock = |mm, supply| bars::Stock {
            length: Length::mm(mm),
            supply,
        };
        let request = bars::Request {
            parts: lengths.iter().enumerate().map(part).collect(),
            stock: vec![
                stock(6_000, Supply::Bought),
                stock(3_000, Supply::Bought),
                stock(1_900, Supply::OnHand(2)),
            ],
            kerf,
            trim,
        };
        let nest = nested_bars(&request)?;
        tried.push((request, nest));
    }
    Ok(tried)
}

fn bars_add_up(request: &bars::Request, nest: &bars::Nest) -> bool {
    nest.bars.iter().all(|bar| {
        let cut: Length = bar.pieces.iter().map(|piece| piece.length).sum();
        let pieces = u32::try_from(bar.pieces.len()).unwrap_or(u32::MAX);
        let sawn = request.kerf * i64::from(bar.cuts);
        let last = bar
            .pieces
            .last()
            .map_or(Length::ZERO, |piece| piece.offset + piece.length);
        let flush = last + request.trim == request.stock[bar.stock].length;
        // A last cut that runs out over the end of the bar takes less than the kerf.
        let past_the_end = if bar.offcut == Length::ZERO {
            sawn - bar.sawn
        } else {
            Length::ZERO
        };
        !past_the_end.is_negative()
            && request.trim * 2 + cut + sawn - past_the_end + bar.offcut == request.stock[bar.stock].length
            && bar.cuts == if flush { pieces - 1 } else { pieces }
    })
}
