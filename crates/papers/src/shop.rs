//! What to buy, and what is cut from which sheet and bar, in words.

use std::fmt::Write as _;

use enclosure::nest::sheets::{Along, Cut, Cutting};
use job::Evaluation;
use job::nesting::{Nest, Nested, Nesting, exact_text, place_text};
use job::shopping::ToBuy;
use tape::Units;

use crate::html::page::{Cell, Page};
use crate::{comma, words};

/// The columns of a shopping list.
pub(crate) const COLUMNS: [&str; 6] = ["what", "needed", "to buy", "cost", "mind", "shop"];

/// The shopping list as the text of each column.
pub(crate) fn rows(to_buy: &ToBuy) -> Vec<[String; COLUMNS.len()]> {
    to_buy
        .items
        .iter()
        .map(|item| {
            let mark = words::mark(item.assumed);
            [
                item.what.clone(),
                format!("{mark}{}", item.unit.text(item.needed)),
                format!("{mark}{}", item.unit.text(item.buy)),
                item.cost.map_or_else(|| "price not given".to_owned(), job::Price::text),
                item.note.clone(),
                item.shop.name().to_owned(),
            ]
        })
        .collect()
}

/// What everything with a price comes to.
pub(crate) fn total(to_buy: &ToBuy) -> String {
    match (to_buy.cost, to_buy.unpriced) {
        (None, _) => "No price was entered; prices are those of a sheet or bar.".to_owned(),
        (Some(cost), 0) => format!("Together {}, at the prices entered.", cost.text()),
        (Some(cost), unpriced) => format!(
            "Together {} at the prices entered; {unpriced} line{} without a price.",
            cost.text(),
            if unpriced == 1 { "" } else { "s" }
        ),
    }
}

/// How the stock was worked out, and what nobody entered of it.
pub(crate) fn rests_on(nesting: &Nesting) -> Vec<String> {
    let mut lines = vec![how(nesting)];
    let assumed = nesting.assumed_text();
    if !assumed.is_empty() {
        lines.push(format!(
            "~ Nobody entered, for the stock: {assumed}. Ask the supplier what is on sale."
        ));
    }
    lines
}

/// How sheets and bars are cut.
fn how(nesting: &Nesting) -> String {
    let (how, units) = (nesting.question.how, nesting.question.units);
    let text = |length| exact_text(length, units);
    let (cut, size) = match how.cutting {
        Cutting::Guillotine => ("edge to edge", "parts as large as they are marked"),
        Cutting::Free => ("along any line", "parts as large as they are drawn"),
    };
    let turn = if how.may_turn {
        "either way round"
    } else {
        "their length along the sheet's"
    };
    format!(
        "Sheets are cut {cut}, {size}, {turn}: kerf {}, edge trim {}. Bars: kerf {}, end trim {}. Proved means that no way \
         of cutting buys fewer, each part taken as the rectangle round it; waste counts what of it is cut out of its corners.",
        text(how.kerf),
        text(how.trim),
        text(how.saw_kerf),
        text(how.saw_trim)
    )
}

/// The shopping list as comma-separated values.
pub fn shopping_csv(to_buy: &ToBuy) -> String {
    let mut written = vec![COLUMNS.map(str::to_owned)];
    written.extend(rows(to_buy));
    comma::written(&written)
}

/// The shopping list as one page to print. `date` is printed as given.
pub fn shopping_html(evaluation: &Evaluation, to_buy: &ToBuy, date: &str) -> String {
    let mut page = Page::with_cautions("Shopping list", evaluation, date, crate::cautions());
    let heads: Vec<&str> = COLUMNS.into_iter().chain(["bought"]).collect();
    page.table(
        &heads,
        rows(to_buy).into_iter().map(|row| {
            let [what, needed, buy, cost, mind, shop] = row;
            vec![
                Cell::text(what),
                Cell::figure(needed),
                Cell::figure(buy),
                Cell::figure(cost),
                Cell::text(mind),
                Cell::text(shop),
                Cell::Tick,
            ]
        }),
    );
    page.paragraph(&total(to_buy));
    page.list(rests_on(&to_buy.nesting));
    page.finish()
}

/// What is cut from which sheet and bar, as plain text: what is bought of each, then every sheet and bar with its parts
/// and cuts.
pub fn nests_text(nesting: &Nesting) -> String {
    let units = nesting.question.units;
    let mut out = String::new();
    if nesting.stocks.is_empty() {
        out += "Nothing to cut yet: no box can be built.\n";
    }
    for nested in &nesting.stocks {
        let _ = writeln!(out, "{}: {}", words::plain(&nested.label), nested.summary(units));
    }
    if let Some(cost) = nesting.cost() {
        let rest = if nesting.is_priced() {
            ""
        } else {
            ", without what has no price"
        };
        let _ = writeln!(out, "together {}{rest}", cost.text());
    }
    for (number, nested, nest) in nesting.numbered() {
        let _ = writeln!(out, "\n{}", heading(number, nested, nest, units));
        for part in &nest.parts {
            let [x, y] = part.at.map(|place| place_text(place, units));
            let [wide, high] = part.sides.map(|side| place_text(side, units));
            let at = if nested.is_bar {
                format!("from {x}, {wide} long")
            } else {
                let turned = if part.turned { ", across" } else { "" };
                format!("at {x}, {y}: {wide} x {high}{turned}")
            };
            let whose = [words::plain(&part.name), words::plain(&part.box_name)].join(" ");
            let _ = writeln!(out, "  {:<6} {at}  {}", words::plain(&part.mark), whose.trim());
        }
        for (index, cut) in nest.cuts.iter().enumerate() {
            let _ = writeln!(out, "  cut {:>2}: {}", index + 1, cut_words(nested, cut, units));
        }
        if !nest.offcuts.is_empty() {
            let _ = writeln!(out, "  keep: {}", nest.offcuts_text(units));
        }
    }
    out.push('\n');
    for line in rests_on(nesting) {
        let _ = writeln!(out, "{line}");
    }
    out
}

/// `nest 2: mild steel 3 mm sheet, 4x8 ft, 12 % waste`.
pub(crate) fn heading(number: usize, nested: &Nested, nest: &Nest, units: Units) -> String {
    let (mark, there) = match (nest.piece.assumed, nest.piece.on_hand) {
        (true, _) => ("~", ""),
        (_, Some(_)) => ("", " on hand"),
        _ => ("", ""),
    };
    format!(
        "nest {number}: {}, {mark}{}{there}, {:.0} % waste{}",
        words::plain(&nested.label),
        nest.piece.size_text(units),
        nest.waste * 100.0,
        if nested.is_liner() { ", knife or saw" } else { "" }
    )
}

/// `across the length at 30", from 0" to 48"`; of a bar `at 30"`.
pub(crate) fn cut_words(nested: &Nested, cut: &Cut, units: Units) -> String {
    let [at, from, to] = [cut.at, cut.from, cut.to].map(|place| place_text(place, units));
    match (nested.is_bar, cut.along) {
        (true, _) => format!("at {at}"),
        (false, Along::Y) => format!("across at {at}, from {from} to {to}"),
        (false, Along::X) => format!("lengthwise at {at}, from {from} to {to}"),
    }
}
