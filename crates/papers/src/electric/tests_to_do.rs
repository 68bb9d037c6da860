//! The test sheet: what is measured before and while the pack is joined, with blanks and the limit beside each.

use job::{Check, Electric, Evaluation, Joined, Verdict};

use crate::html::page::{Cell, Page};

/// The test sheet as one page to fill in. `date` is printed as given.
pub fn test_sheet_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::new("Test sheet", evaluation, date);
    page.paragraph("Measured by: ____________________   Meter, last proved on: ____________________");
    for (pack, electric) in evaluation.electrics() {
        page.heading(&format!("{}: each module before it is joined", pack.name));
        modules(&mut page, electric);
        joins(&mut page, electric);
        page.heading(&format!("{}: the pack before the first start", pack.name));
        whole(&mut page, evaluation, electric);
    }
    page.finish()
}

fn modules(page: &mut Page, electric: &Electric) {
    let Some(wiring) = &electric.wiring else {
        page.paragraph("The pack is not laid out whole yet; a sheet of the modules follows when it is.");
        return;
    };
    let unit_of = |seat: &job::SeatResult| {
        let matched = electric.matched.as_ref()?;
        matched.units.iter().find(|u| u.seat == Some(seat.seat))
    };
    let rows = wiring.seats.iter().map(|seat| {
        let unit = unit_of(seat);
        let figure = |value: Option<f64>, decimals: usize| {
            value.map_or(Cell::Blank, |v| Cell::figure(format!("{v:.decimals$}")))
        };
        vec![
            Cell::text(seat.seat.to_string()),
            unit.map_or(Cell::Blank, |u| Cell::text(u.name.clone())),
            figure(unit.and_then(|u| u.amp_hours), 2),
            figure(unit.and_then(|u| u.milliohms), 2),
            figure(unit.and_then(|u| u.rest_volts), 3),
            Cell::Blank,
            Cell::Blank,
            Cell::Tick,
        ]
    });
    let head = [
        "place",
        "unit",
        "Ah",
        "mohm",
        "V when tested",
        "V now",
        "date, who",
        "no swelling, leak, dent, heat",
    ];
    page.table(&head, rows);
}

/// What is compared before anything is joined in parallel.
fn joins(page: &mut Page, electric: &Electric) {
    let Some(wiring) = electric.wiring.as_ref().filter(|w| w.parallel > 1) else {
        return;
    };
    let limit = electric.matched.as_ref().and_then(|m| m.may_be_apart).map_or(
        "limit: enter the largest difference that you allow".to_owned(),
        |limit| format!("{} ({})", limit.words(), limit.source),
    );
    let (word, count) = match electric.joined {
        Joined::Groups => ("group", wiring.series),
        Joined::Strings => ("string", wiring.parallel),
    };
    page.heading(&format!("Before joining in parallel: {limit}"));
    page.paragraph("Farther apart: do not join. Bring them to the same volts first, through a resistor or a charger, and let them rest.");
    let rows = (1..=count).map(|n| {
        vec![
            Cell::text(format!("{word} {n}")),
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
            Cell::Tick,
        ]
    });
    page.table(&["which", "lowest V", "highest V", "apart V", "joined"], rows);
}

/// The earth studs, each with its box.
fn bonds(evaluation: &Evaluation) -> impl Iterator<Item = (&str, &str)> {
    evaluation.boxes.iter().flat_map(|battery_box| {
        let studs = battery_box.fittings.iter().filter(|fitting| fitting.bare().is_some());
        studs.map(|stud| (stud.label.as_str(), battery_box.name.as_str()))
    })
}

fn whole(page: &mut Page, evaluation: &Evaluation, electric: &Electric) {
    let check = |topic: &str| electric.checks.iter().find(|c| c.topic == topic);
    let limit = |topic: &str| check(topic).map_or(String::new(), |c: &Check| c.limit.clone());
    let source = |topic: &str| check(topic).map_or(String::new(), |c| c.source.clone());
    let measured = |topic: &str| {
        let found = check(topic).filter(|c| matches!(c.verdict, Verdict::Met | Verdict::NotMet(_)));
        found.map_or(Cell::Blank, |c| Cell::text(c.words.clone()))
    };
    let polarity = |what: &str| {
        vec![
            Cell::text(what),
            Cell::text("two readings, plus to minus, both as expected"),
            Cell::Blank,
            Cell::Tick,
            Cell::text(""),
        ]
    };
    let mut rows = vec![
        polarity("polarity at each box"),
        polarity("polarity at the drive, plug in, contactors open"),
    ];
    for (label, name) in bonds(evaluation) {
        rows.push(vec![
            Cell::text(format!("bond to the chassis: {name}, at its {label}")),
            Cell::text(limit("bond to chassis")),
            Cell::Blank,
            Cell::Tick,
            Cell::text(source("bond to chassis")),
        ]);
    }
    for (what, topic) in [
        ("bond of each box to the chassis", "bond to chassis"),
        ("insulation, dry", "insulation"),
        ("insulation, after wetting", "insulation"),
        ("pre-charge: volts and seconds", "pre-charge"),
        ("bleed-down: seconds to 60 V", "bleed-down"),
    ] {
        rows.push(vec![
            Cell::text(what),
            Cell::text(limit(topic)),
            // The others' figures are worked out, and nobody has measured them.
            match what {
                "bond of each box to the chassis" | "insulation, dry" => measured(topic),
                _ => Cell::Blank,
            },
            Cell::Tick,
            Cell::text(source(topic)),
        ]);
    }
    page.table(
        &["test", "limit", "measured", "done", "where the limit comes from"],
        rows,
    );
    page.heading("Insulation, step by step");
    page.list([
        "Meter of 10 Mohm or more. V1: minus pole to chassis. V2: plus pole to chassis. Vb: across the pack.".to_owned(),
        "Put a known resistor Ro, about the required ohms, from the pole with the larger reading V to the chassis, and read that pole again: V'.".to_owned(),
        "Insulation = Ro x Vb x (1/V' - 1/V). Enter the readings on the Pack page.".to_owned(),
    ]);
    page.table(
        &["", "Vb", "V1", "V2", "Ro kohm", "V'", "kohm"],
        ["dry", "after wetting"].map(|when| {
            let mut row = vec![Cell::text(when)];
            row.extend((0..6).map(|_| Cell::Blank));
            row
        }),
    );
}
