//! The cut list as Markdown.

use std::fmt::Write as _;

use job::shopping::ToBuy;
use job::{Evaluation, Grave};

use crate::row;
use crate::{cautions, shop, words};

/// The cut list as Markdown: heading, a table for each stock by length falling, hole tables, totals, what it rests on.
pub fn cutlist_markdown(evaluation: &Evaluation, to_buy: &ToBuy) -> String {
    let mut out = String::new();
    heading(&mut out, evaluation);
    let list = &evaluation.cut.list;
    let columns = row::printed(evaluation);
    for (index, table) in list.tables.iter().enumerate() {
        let _ = writeln!(out, "## {}\n", escape(&table.label()));
        let rows = table.lines.iter().map(|line| {
            let mut cells = row::paper_cells(evaluation, table, line);
            let mark = words::mark(evaluation.headline.assumed.cut);
            cells[row::SIZES]
                .iter_mut()
                .for_each(|size| *size = format!("{mark}{size}"));
            let mark = words::mark(evaluation.headline.assumed.mass);
            cells[row::MASSES]
                .iter_mut()
                .for_each(|mass| *mass = format!("{mark}{mass}"));
            cells[row::MADE].iter_mut().for_each(|tick| "[ ]".clone_into(tick));
            columns.iter().map(|&column| cells[column].clone()).collect()
        });
        let heads: Vec<String> = columns.iter().map(|&column| row::head(evaluation, column)).collect();
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        write_table(&mut out, &heads, rows);
        let _ = writeln!(
            out,
            "\nFoot: {}.\n",
            escape(&row::foot(evaluation, &to_buy.nesting, index, table))
        );
        for line in table.lines.iter().filter(|line| !line.holes.is_empty()) {
            let holes = row::hole_table(evaluation, line);
            let purpose = holes.purpose_words();
            let _ = writeln!(
                out,
                "Holes of {}, {}{purpose}{}:\n",
                escape(&line.mark),
                escape(&line.name),
                escape(&row::seen_behind(line))
            );
            write_table(&mut out, &holes.heads, holes.rows.into_iter());
            out.push('\n');
        }
    }
    if list.tables.is_empty() {
        out += "Nothing to cut yet: no box can be built.\n\n";
    } else {
        let mass = format!(
            "{}{}",
            words::mark(evaluation.headline.assumed.mass),
            words::mass(evaluation, list.grams)
        );
        let _ = writeln!(out, "All tables: {}.\n", escape(&mass));
        for line in shop::rests_on(&to_buy.nesting) {
            let _ = writeln!(out, "{}\n", escape(&line));
        }
        for line in words::weld_lines(evaluation)
            .into_iter()
            .chain(words::masking_lines(evaluation))
            .chain(words::liner_lines(evaluation))
            .chain(words::drilled_late_lines(evaluation))
        {
            let _ = writeln!(out, "{}.\n", escape(&line));
        }
        out.push_str("## To buy\n\n");
        write_table(
            &mut out,
            &shop::COLUMNS,
            shop::rows(to_buy).into_iter().map(|row| row.to_vec()),
        );
        let _ = writeln!(out, "\n{}\n", escape(&shop::total(to_buy)));
    }
    rests_on(&mut out, evaluation);
    out
}

fn heading(out: &mut String, evaluation: &Evaluation) {
    let _ = writeln!(out, "# Cut list: {}\n", escape(&words::title(evaluation)));
    if !evaluation.truck.is_empty() {
        let _ = writeln!(out, "- Truck: {}", escape(&evaluation.truck));
    }
    for summary in &evaluation.cut.list.boxes {
        let _ = writeln!(
            out,
            "- Box {}: {}, {} off, {}{} empty",
            summary.letter,
            escape(&summary.name),
            summary.count,
            escape(words::mark(evaluation.headline.assumed.mass)),
            words::mass(evaluation, summary.grams_each)
        );
    }
    for line in words::SIZES {
        let _ = writeln!(out, "- {}", escape(line));
    }
    if evaluation.headline.assumed.cut {
        let _ = writeln!(out, "- {}", escape(words::ASSUMED_SIZES));
    }
    out.push('\n');
}

fn rests_on(out: &mut String, evaluation: &Evaluation) {
    let grave: Vec<_> = evaluation.findings.iter().filter(|f| f.grave != Grave::Note).collect();
    if !grave.is_empty() {
        out.push_str("## Stops and cautions\n\n");
        for finding in grave {
            let _ = write!(
                out,
                "- {}: {}: {}",
                finding.grave.name(),
                escape(&finding.name),
                escape(&finding.words)
            );
            if !finding.fix.is_empty() {
                let _ = write!(out, "; fix: {}", escape(&finding.fix));
            }
            out.push('\n');
        }
        out.push('\n');
    }
    if !evaluation.assumptions.is_empty() {
        out.push_str("## Assumed values\n\n");
        for assumption in &evaluation.assumptions {
            let _ = writeln!(out, "- {}: {}", escape(&assumption.label), escape(&assumption.text));
        }
        out.push('\n');
    }
    out.push_str("## Take care\n\n");
    for caution in cautions() {
        let _ = writeln!(out, "- {}", escape(caution));
    }
}

fn write_table(out: &mut String, columns: &[&str], rows: impl Iterator<Item = Vec<String>>) {
    let _ = writeln!(out, "| {} |", columns.join(" | "));
    let _ = writeln!(out, "|{}", " --- |".repeat(columns.len()));
    for row in rows {
        let cells: Vec<String> = row
            .iter()
            .map(|cell| if cell == "[ ]" { cell.clone() } else { escape(cell) })
            .collect();
        let _ = writeln!(out, "| {} |", cells.join(" | "));
    }
}

/// `text` on one line with everything that Markdown or HTML would take for more than text written out.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in words::plain(text).chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '#' | '!' => {
                out.push('\\');
                out.push(c);
            }
            c => out.push(c),
        }
    }
    out
}
