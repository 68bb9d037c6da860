//! Labels: one for each piece, box and module, on the paper, with the marks that every other paper has.

use std::collections::BTreeMap;

use job::shopping::to_buy;
use job::{EXAMPLES, evaluate};
use lopdf::Document;
use plot::{Orientation, Paper};

use super::{hostile, job, papers_of};
use crate::labels::Grid;
use crate::labels_html;

/// The marks of a page's labels of pieces, with how many there are of each.
fn pieces(html: &str) -> BTreeMap<String, u32> {
    let mut counted = BTreeMap::new();
    for rest in html.split("<p class=\"mark\">").skip(1) {
        let (mark, after) = rest.split_once("<span>").unwrap();
        if after.starts_with("piece ") {
            *counted.entry(mark.to_owned()).or_default() += 1;
        }
    }
    counted
}

fn text_of(pdf: &[u8]) -> Vec<String> {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace()
        .map(|word| word.trim_matches([',', '.', ':']).to_owned())
        .collect()
}

/// Drawings, flat patterns, nests, labels and the list itself know the same marks, and pieces add up to the same number.
#[test]
fn marks_are_the_same_on_every_paper() {
    for example in EXAMPLES {
        let job = job(example.name);
        let evaluation = evaluate(&job);
        let papers = papers_of(&job, "1 May");
        let content = |name: &str| papers.iter().find(|p| p.file_name == name).unwrap().content.as_ref();
        let list: BTreeMap<String, u32> = evaluation
            .cut
            .list
            .tables
            .iter()
            .flat_map(|table| &table.lines)
            .map(|line| (line.mark.clone(), line.quantity))
            .collect();
        let labels = std::str::from_utf8(content("labels.html")).unwrap();
        assert_eq!(pieces(labels), list, "{}", example.name);
        let drawn: Vec<String> = papers
            .iter()
            .filter(|p| p.file_name.starts_with("drawing-") && p.content.text().is_none())
            .flat_map(|p| text_of(p.content.as_ref()))
            .collect();
        for (paper, words) in [
            ("flat-patterns.pdf", text_of(content("flat-patterns.pdf"))),
            ("nests.pdf", text_of(content("nests.pdf"))),
            ("drawings", drawn),
        ] {
            for mark in list.keys() {
                assert!(words.contains(mark), "{}: {mark} is not on {paper}", example.name);
            }
        }
        let nesting = to_buy(&job, &evaluation).nesting;
        let mut nested = BTreeMap::new();
        let parts = nesting
            .stocks
            .iter()
            .flat_map(|stock| &stock.nests)
            .flat_map(|nest| &nest.parts);
        parts.for_each(|part| *nested.entry(part.mark.clone()).or_default() += 1);
        assert_eq!(nested, list, "{}", example.name);
    }
}

#[test]
fn boxes_and_modules_have_a_label_each() {
    for example in EXAMPLES {
        let job = job(example.name);
        let evaluation = evaluate(&job);
        let html = labels_html(&evaluation, "1 May");
        let marks = html.matches("<p class=\"mark\">").count();
        let boxes = evaluation.boxes.iter().filter(|b| b.built.is_some()).count();
        let modules: u32 = evaluation.packs.iter().map(|pack| pack.placed).sum();
        let all = pieces(&html).values().sum::<u32>() + modules;
        assert_eq!(marks, boxes + all as usize, "{}", example.name);
        assert_eq!(html.matches("V dc").count(), boxes);
        assert!(html.contains("local vehicle codes and licensed practice decide"));
        let pack = evaluation.laid_out().next().unwrap();
        // Never less than there may be.
        let full = (pack.figures.unwrap().volts.full.milli() + 999) / 1000;
        assert!(html.contains(&format!("{full} V dc")), "{full}");
        assert!(!html.contains("Boxes page"), "a label speaks of the box alone");
        for battery_box in &evaluation.boxes {
            let mass = crate::words::mass_of(&evaluation, battery_box.mass.total_g());
            assert!(html.contains(&format!("{mass} loaded")), "{mass}");
        }
        let wiring = pack.electric.as_ref().unwrap().wiring.as_ref().unwrap();
        for (index, seat) in wiring.seats.iter().enumerate() {
            let head = format!("{}<span>{}", seat.seat, wiring.berth(index).unwrap());
            assert_eq!(html.matches(&head).count(), 1, "{head}");
        }
        assert_eq!(wiring.berth(wiring.seats.len()), None);
    }
}

#[test]
fn labels_lie_on_the_paper_side_by_side() {
    for grid in [
        Grid::small(Paper::A4),
        Grid::large(Paper::A4),
        Grid::small(Paper::Letter),
        Grid::large(Paper::Letter),
    ] {
        let [width, height] = grid.paper.size_mm(Orientation::Portrait);
        let corners: Vec<[f64; 2]> = (0..grid.columns * grid.rows).map(|index| grid.corner(index)).collect();
        for (index, &[x, y]) in corners.iter().enumerate() {
            // Printers leave about 5 mm round the edge white.
            assert!(x >= 5.0 && x + grid.label[0] <= width - 5.0, "{grid:?}");
            assert!(y >= 5.0 && y + grid.label[1] <= height - 5.0, "{grid:?}");
            for [other_x, other_y] in &corners[index + 1..] {
                let apart = (x - other_x).abs() >= grid.label[0] - 1e-9 || (y - other_y).abs() >= grid.label[1] - 1e-9;
                assert!(apart, "{grid:?}");
            }
        }
    }
}

#[test]
fn no_name_becomes_markup() {
    let job = hostile("<script>alert(1)</script>\" onload='x' & <b>");
    let evaluation = evaluate(&job);
    let html = labels_html(&evaluation, "<b>");
    assert!(!html.contains("<script") && !html.contains("<b>") && !html.contains("\" onload"));
    assert!(html.contains("&lt;script"));
}
