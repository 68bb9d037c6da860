//! What changed: between two jobs as text and data, and since the shop got its papers as a page.

use std::fmt::Write as _;

use job::Evaluation;
use job::changes::{BoxChange, Changes, Difference, Kept, PartChange, ShopChanges, Since};
use serde_json::{Value, json};

use crate::html::page::{Cell, Page};

/// What differs between two jobs, as text: the big facts first. `to_buy` is what differs in what to buy; `names` say which
/// is which.
pub fn changes_text(names: [&str; 2], changes: &Changes, to_buy: &[Difference]) -> String {
    let [old, new] = names;
    let mut out = format!("from {old}\nto   {new}\n\n");
    if changes.is_none() && to_buy.is_empty() {
        out.push_str("nothing differs\n");
        return out;
    }
    lines(&mut out, "", changes.facts.iter().map(Difference::words));
    let moved = changes.modules.words();
    if !moved.is_empty() {
        let _ = writeln!(out, "modules and stacks: {moved}");
    }
    if changes.shop.is_none() {
        out.push_str("for the shop nothing differs\n");
    } else {
        let _ = writeln!(out, "for the shop: {}", changes.shop.words());
    }
    shop_lines(&mut out, &changes.shop);
    section(&mut out, "clearances", changes.clearances.iter().map(Difference::words));
    section(&mut out, "to buy", to_buy.iter().map(Difference::words));
    section(&mut out, "wiring", changes.wiring.iter().map(Difference::words));
    section(
        &mut out,
        "entered",
        changes.entries.iter().map(job::changes::EntryChange::words),
    );
    out
}

/// What differs from what the shop was given, as text.
pub fn since_text(evaluation: &Evaluation, since: &Since) -> String {
    let mut out = format!(
        "from revision {} of {}, which the shop has\nto   the job as it is, revision {}\n\n",
        since.revision, since.date, evaluation.revision
    );
    if since.changed.is_none() {
        out.push_str("nothing differs\n");
    } else {
        let _ = writeln!(out, "for the shop: {}", since.changed.words());
        shop_lines(&mut out, &since.changed);
    }
    out
}

fn lines(out: &mut String, indent: &str, lines: impl Iterator<Item = String>) {
    for line in lines {
        let _ = writeln!(out, "{indent}{line}");
    }
}

fn section(out: &mut String, heading: &str, of: impl Iterator<Item = String>) {
    let mut of = of.peekable();
    if of.peek().is_some() {
        let _ = writeln!(out, "\n{heading}");
        lines(out, "  ", of);
    }
}

/// Boxes, parts and stock; each difference on a line of its own where a part has several.
fn shop_lines(out: &mut String, shop: &ShopChanges) {
    for battery_box in &shop.boxes {
        let _ = writeln!(out, "\n{}", name_of(battery_box));
        lines(out, "  ", battery_box.differences.iter().map(Difference::words));
        for part in &battery_box.parts {
            match part.differences.as_slice() {
                [] | [_] => lines(out, "  ", std::iter::once(part.words())),
                several => {
                    let _ = writeln!(out, "  {} {}:", part.mark, part.name);
                    lines(out, "    ", several.iter().map(Difference::words));
                }
            }
        }
    }
    section(out, "cut from", shop.stock.iter().map(Difference::words));
}

fn name_of(battery_box: &BoxChange) -> String {
    match battery_box.kept {
        Kept::Changed => battery_box.name.clone(),
        kept => format!("{}: {}", battery_box.name, kept.name()),
    }
}

/// What differs between two jobs, as data.
pub fn changes_json(changes: &Changes, to_buy: &[Difference]) -> Value {
    let moved = changes.modules;
    json!({
        "differs": !changes.is_none() || !to_buy.is_empty(),
        "facts": differences(&changes.facts),
        "modules": {
            "moved": moved.moved,
            "turned": moved.turned,
            "added": moved.added,
            "removed": moved.removed,
        },
        "shop": shop_json(&changes.shop),
        "clearances": differences(&changes.clearances),
        "to_buy": differences(to_buy),
        "wiring": differences(&changes.wiring),
        "entries": changes
            .entries
            .iter()
            .map(|entry| json!({
                "of": entry.of,
                "what": entry.label,
                "before": entry.before,
                "after": entry.after,
            }))
            .collect::<Vec<_>>(),
    })
}

/// What differs from what the shop was given, as data.
pub fn since_json(since: &Since) -> Value {
    json!({
        "differs": !since.changed.is_none(),
        "revision": since.revision,
        "date": since.date,
        "shop": shop_json(&since.changed),
    })
}

fn differences(of: &[Difference]) -> Value {
    of.iter()
        .map(|d| json!({ "what": d.what, "before": d.before, "after": d.after }))
        .collect()
}

fn shop_json(shop: &ShopChanges) -> Value {
    let part = |part: &PartChange| {
        json!({
            "kept": part.kept.name(),
            "mark": part.mark,
            "name": part.name,
            "size": part.size,
            "quantity": part.quantity,
            "differences": differences(&part.differences),
        })
    };
    json!({
        "boxes": shop
            .boxes
            .iter()
            .map(|b| json!({
                "kept": b.kept.name(),
                "id": b.id.0,
                "name": b.name,
                "differences": differences(&b.differences),
                "parts": b.parts.iter().map(part).collect::<Vec<_>>(),
            }))
            .collect::<Vec<_>>(),
        "stock": differences(&shop.stock),
    })
}

/// What to heed with it.
const CAUTIONS: [&str; 2] = [
    "A piece that was cut to an older revision is not the piece of this one: look at its mark and its sizes before it is \
     used.",
    "This page tells what differs; what to cut is on the cut list of the same revision.",
];

/// What changed since the shop got its papers, and what they changed of those before; `None` when nothing was issued.
/// `date` is printed as given.
pub fn changes_html(evaluation: &Evaluation, date: &str) -> Option<String> {
    let since = evaluation.issued.as_ref()?;
    let mut page = Page::with_cautions("What changed", evaluation, date, &CAUTIONS);
    let last = format!("revision {} of {}", since.revision, since.date);
    if since.changed.is_none() {
        page.heading(&format!("{last}: this is it, nothing differs"));
    } else {
        page.heading(&format!("since {last}, which the shop has: {}", since.changed.words()));
        if since.same_letter {
            page.paragraph("These papers bear the letter of the older ones, and are not issued yet.");
        }
        tables(&mut page, &since.changed);
    }
    if let (Some(by_it), Some([letter, of])) = (&since.by_it, since.earlier.last()) {
        page.heading(&format!("{last} against revision {letter} of {of}: {}", by_it.words()));
        tables(&mut page, by_it);
    }
    let earlier = since.earlier.iter().cloned();
    let issued = earlier.chain([[since.revision.clone(), since.date.clone()]]);
    page.heading("issued");
    page.table(
        &["revision", "date"],
        issued.map(|[revision, date]| vec![Cell::text(revision), Cell::text(date)]),
    );
    Some(page.finish())
}

fn tables(page: &mut Page, shop: &ShopChanges) {
    for battery_box in &shop.boxes {
        page.paragraph(&battery_box.words());
        let rows = battery_box.parts.iter().map(|part| {
            let told = match part.kept {
                Kept::Changed => part
                    .differences
                    .iter()
                    .map(Difference::words)
                    .collect::<Vec<_>>()
                    .join("; "),
                kept => format!("{}, {} off, {}", kept.name(), part.quantity, part.size),
            };
            vec![
                Cell::text(&part.mark),
                Cell::text(&part.name),
                Cell::text(told),
                Cell::Tick,
            ]
        });
        if !battery_box.parts.is_empty() {
            page.table(&["mark", "name", "was -> is", "seen"], rows);
        }
    }
    if !shop.stock.is_empty() {
        let rows = shop.stock.iter();
        page.table(
            &["cut from", "took", "takes"],
            rows.map(|d| vec![Cell::text(&d.what), Cell::text(&d.before), Cell::text(&d.after)]),
        );
    }
}
