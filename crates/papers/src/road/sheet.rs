//! The range sheet: every entry with its source, then curve, drives, gears, charging and sun.

use job::{Evaluation, RoadTable, Subject};

use crate::html::page::{Cell, Page};

/// The range sheet, one page that prints in black and white. `date` is printed as given.
pub fn range_sheet_html(evaluation: &Evaluation, date: &str) -> String {
    let road = &evaluation.road;
    let mut page = Page::with_cautions("Range, gears, charging and sun", evaluation, date, &super::cautions());
    let facts: Vec<String> = road
        .facts()
        .into_iter()
        .map(|(what, value)| format!("{what}: {value}"))
        .collect();
    if facts.is_empty() {
        page.paragraph("Nothing can be told yet: enter the mass of the truck as driven, and see the list below.");
    } else {
        page.list(facts);
    }
    let findings: Vec<String> = evaluation
        .findings
        .iter()
        .filter(|finding| finding.subject == Subject::Road)
        .map(|finding| format!("{}: {}; to do: {}", finding.grave.name(), finding.words, finding.fix))
        .collect();
    let waits = road.waits();
    if !findings.is_empty() || !waits.is_empty() {
        page.heading("To look at");
        page.list(findings.into_iter().chain(waits));
    }
    for told in road.tables().into_iter().chain(road.months_table()) {
        table(&mut page, &told);
    }
    page.heading("What it rests on");
    page.paragraph(
        "~ was assumed, nobody entered it: replace it by your own figure where you can. A coast-down and a drive of known \
         length are better than all figures from a table.",
    );
    let entries = road.entries.iter().map(|entry| {
        let mark = if entry.is_assumed { "~" } else { "" };
        vec![
            Cell::text(entry.label),
            Cell::text(format!("{mark}{}", entry.text)),
            Cell::text(entry.source.clone()),
        ]
    });
    page.table(&["entry", "figure", "source"], entries);
    let drives = road.driven.iter().flat_map(|driven| &driven.drives);
    let sources: Vec<String> = drives
        .map(|drive| format!("{}: {}", drive.name, drive.source))
        .collect();
    if !sources.is_empty() {
        page.heading("The drives");
        page.list(sources);
    }
    page.finish()
}

fn table(page: &mut Page, told: &RoadTable) {
    page.heading(told.title);
    let head: Vec<&str> = told.headings.iter().map(String::as_str).collect();
    let rows = told.rows.iter().map(|row| {
        let cells = row.iter().enumerate();
        cells
            .map(|(column, cell)| {
                if column == 0 {
                    Cell::text(cell.clone())
                } else {
                    Cell::figure(cell.clone())
                }
            })
            .collect()
    });
    page.table(&head, rows);
    page.list(told.notes.iter().cloned());
}
