//! The sheet asks for every line once, says what is known already, and no name breaks out of it.

use job::{EXAMPLES, Job, Reading, Statement, UnitsName, example, load};
use rstest::rstest;
use tape::survey::Line;
use tape::{Allow, Length, notation};

use super::*;

fn job(name: &str) -> Job {
    load(example(name).unwrap().text.as_bytes()).unwrap()
}

fn len(text: &str) -> Len {
    Len::new(notation::read(text, Units::Inch, Allow::Signed).unwrap())
}

fn reading(line: &str, read: &str) -> Reading {
    let mut reading = job("orchard-flatbed").cavities[0].readings[0].clone();
    reading.line = line.parse().unwrap();
    reading.read = len(read);
    reading.note = String::new();
    reading
}

/// A job with one cavity and these readings.
fn with(readings: Vec<Reading>) -> Job {
    let mut job = Job::empty(UnitsName::Inch);
    job.cavities[0].readings = readings;
    job
}

/// The row of a line: from its name to the end of the row.
fn row(html: &str, line: Line) -> &str {
    let start = html.find(&format!("<b>{line}</b>")).unwrap();
    &html[start..start + html[start..].find("</tr>").unwrap()]
}

#[test]
fn every_line_is_asked_for_once_in_walking_order() {
    let html = tape_sheet_html(&with(Vec::new()), "1 May");
    let mut before = 0;
    for (number, line) in (1..).zip(Line::all()) {
        let asked = format!("<td class=\"number\">{number}</td><td class=\"words\"><b>{line}</b>");
        assert_eq!(html.matches(&asked).count(), 1, "{line}");
        let at = html.find(&asked).unwrap();
        assert!(at > before, "{line}");
        before = at;
        let row = row(&html, line);
        assert!(row.contains(&line.words()));
        // Two blanks and a box to tick.
        assert!(row.ends_with(&format!("<td></td><td></td>{TICK}")), "{row}");
    }
    assert!(!html.contains("so far "));
}

#[test]
fn what_was_read_stands_beside_its_blank_in_both_units() {
    // 25.4 mm to the inch: 41 5/8 in is 1057.275 mm; 1060 mm is 41.732 in, 41 23/32 to the nearest mark.
    let html = tape_sheet_html(
        &with(vec![
            reading("RLB to FLB", "41 5/8"),
            reading("FLB to RLB", "1060 mm"),
            reading("width at front top", "16 1/2 +- 1/8"),
        ]),
        "1 May",
    );
    let line = Line::new("FLB".parse().unwrap(), "RLB".parse().unwrap()).unwrap();
    let first = row(&html, line);
    assert!(
        first.contains("so far 41 5/8&quot; (1057.3 mm); 1060 mm (41 23/32&quot;)"),
        "{first}"
    );
    assert!(first.ends_with(&format!("<td></td><td></td>{TICK}")));
    let between = "width at front top<br><small>so far 16 1/2&quot; +- 1/8&quot; (419.1 mm)</small>";
    assert!(html.contains(between));
    assert_eq!(html.matches("so far ").count(), 2);
}

#[test]
fn keep_outs_and_statements_are_noted() {
    let mut job = job("orchard-flatbed");
    job.cavities[0].statements = vec![Statement {
        says: job::Says::Level,
        lines: vec!["FLB to FRB".parse().unwrap()],
        within: Some(len("1/8")),
    }];
    let html = tape_sheet_html(&job, "1 May");
    for cavity in &job.cavities {
        assert!(html.contains(&format!("<h1>Tape sheet: {}</h1>", escape(&cavity.name))));
        for keep_out in &cavity.keep_outs {
            assert!(html.contains(&escape(&keep_out.name)));
            assert!(html.contains(&escape(&other(&keep_out.to[2]))));
        }
    }
    assert!(html.contains("<tr><td>level</td><td><small>FLB to FRB</small></td>"));
    assert_eq!(html.matches("<article>").count(), job.cavities.len());
}

#[rstest]
#[case(UnitsName::Inch, "reading (in)", "41\u{a0}5/8, or millimetres")]
#[case(UnitsName::Millimetre, "reading (mm)", "1057, or inches")]
fn the_persons_unit_comes_first(#[case] units: UnitsName, #[case] column: &str, #[case] example: &str) {
    let html = tape_sheet_html(&Job::empty(units), "");
    assert!(html.contains(column) && html.contains(example));
}

#[test]
fn without_a_cavity_there_is_a_blank_sheet() {
    let mut job = job("orchard-flatbed");
    job.cavities.clear();
    job.boxes.clear();
    let html = tape_sheet_html(&job, "1 May");
    assert!(html.contains("<h1>Tape sheet: cavity 1</h1>"));
    assert!(html.contains(&escape(&job.truck)));
    let named = blank_tape_sheet_html(&job, "tool <box>", "1 May");
    assert!(named.contains("<h1>Tape sheet: tool &lt;box&gt;</h1>"));
    assert_eq!(named.matches("<article>").count(), 1);
}

#[test]
fn no_name_becomes_markup() {
    let evil = "<script>alert(1)</script>\" onload='x' & <b>";
    let mut job = job("orchard-flatbed");
    for own in [&mut job.name, &mut job.truck, &mut job.revision] {
        evil.clone_into(own);
    }
    for cavity in &mut job.cavities {
        evil.clone_into(&mut cavity.name);
        for keep_out in &mut cavity.keep_outs {
            evil.clone_into(&mut keep_out.name);
        }
    }
    let mut odd = reading("width at <script>", "3");
    evil.clone_into(&mut odd.note);
    job.cavities[0].readings.push(odd);
    let html = tape_sheet_html(&job, evil);
    assert!(!html.contains("<script") && !html.contains("\" onload") && !html.contains("& <b>"));
    assert!(html.contains("width at &lt;script&gt;"));
}

/// Enough of HTML for what is written here: every element that has an end has it, in order.
#[test]
fn elements_are_nested() {
    for example in EXAMPLES {
        let html = tape_sheet_html(&job(example.name), "1 May");
        let mut open: Vec<&str> = Vec::new();
        let mut rest = html.strip_prefix("<!DOCTYPE html>").unwrap();
        while let Some(start) = rest.find('<') {
            let end = start + rest[start..].find('>').unwrap();
            let tag = &rest[start + 1..end];
            if let Some(name) = tag.strip_prefix('/') {
                assert_eq!(open.pop(), Some(name));
            } else if !tag.ends_with('/') && !["br", "meta"].contains(&tag.split(' ').next().unwrap()) {
                open.push(tag.split(' ').next().unwrap());
            }
            rest = &rest[end + 1..];
        }
        assert!(open.is_empty(), "{open:?}");
    }
}

#[test]
fn a_length_in_inches_is_told_in_millimetres_too() {
    assert_eq!(len("2").value(), Length::inches(2));
    assert_eq!(both(&len("2")), "2\" (50.8 mm)");
    assert_eq!(both(&len("254 mm")), "254 mm (10\")");
}
