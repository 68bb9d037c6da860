//! The truck on the road in words, for a terminal.

use job::{Evaluation, Subject};

use crate::report::sheet::Sheet;

/// Columns of a line, as in the other texts.
const COLUMNS: usize = 78;

/// The section of the truck on the road; nothing while nothing of it was entered.
pub(crate) fn write(sheet: &mut Sheet, evaluation: &Evaluation) {
    let road = &evaluation.road;
    if !road.is_asked {
        return;
    }
    sheet.heading("on the road");
    for (what, value) in road.facts() {
        sheet.fact(what, &value);
    }
    for finding in evaluation
        .findings
        .iter()
        .filter(|finding| finding.subject == Subject::Road)
    {
        sheet.item(0, &format!("{}: ", finding.grave.name()), &finding.words);
        sheet.item(3, "", &format!("fix: {}", finding.fix));
    }
    for waits in road.waits() {
        sheet.item(0, "? ", &waits);
    }
    for table in road.tables().into_iter().chain(road.months_table()) {
        sheet.heading(table.title);
        for line in table.lines(COLUMNS) {
            sheet.line(&line);
        }
        for note in &table.notes {
            sheet.item(2, "", note);
        }
    }
    sheet.heading("what the road rests on");
    for entry in &road.entries {
        let mark = if entry.is_assumed { "~" } else { "" };
        sheet.item(
            2,
            "",
            &format!("{}: {mark}{} ({})", entry.label, entry.text, entry.source),
        );
    }
}
