//! Every mark of a cut list stands on drawing, label and nest, and on as many pieces.

use std::collections::BTreeMap;

use enclosure::Form;
use job::shopping::to_buy;
use job::{Evaluation, Job, evaluate};
use plot::{Item, Page, Paper};

use super::assembly::fitted_out;
use super::{in_every_way, job};
use crate::{box_drawing, labels_html};

/// The examples as they come and made in every way with something let into every wall, and the jobs that readers of others are tried on.
fn all() -> Vec<Job> {
    let read = |text: &str| job::load(text.as_bytes()).expect("a job that others are tried on");
    let tried = vec![
        read(include_str!("../../../../tests/readers/jobs/folded-fitted.json")),
        read(include_str!("../../../../tests/readers/jobs/framed-fitted.json")),
    ];
    // What the others have not: rods, dividers, stiffeners under the lid, rails under the floor, brackets on a web.
    let mut extras = job("orchard-flatbed");
    let added = &mut extras.design.added;
    added.brackets = Some(job::BracketsName::Web);
    added.hold_down = Some(job::HoldDownName::Rods);
    added.dividers = Some(job::DividersName::Rows);
    added.stiffeners = Some(job::StiffenersName::Under);
    added.floor_rails = Some(job::FloorRailsName::Across);
    let extras = job::ConstructionName::ALL.iter().map(move |&construction| {
        let mut job = extras.clone();
        job.design.construction = Some(construction);
        fitted_out(&job)
    });
    let examples = job::EXAMPLES.iter().map(|example| job(example.name));
    let fitted = in_every_way().into_iter().map(|job| fitted_out(&job));
    examples.chain(tried).chain(fitted).chain(extras).collect()
}

fn texts(page: &Page) -> Vec<String> {
    let words = page.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.words.clone()),
        _ => None,
    });
    words.collect()
}

/// How many pieces of each mark the drawings show, each leg of an angle by itself, of what was added.
fn drawn(evaluation: &Evaluation) -> BTreeMap<String, u32> {
    let mut found = BTreeMap::new();
    for battery_box in &evaluation.boxes {
        let Some(assembly) = drawing::assembly(evaluation, battery_box) else {
            continue;
        };
        for piece in assembly.pieces.iter().filter(|piece| piece.role.is_added()) {
            let legs = if piece.role.form() == Form::Angle { 1 } else { 2 };
            *found.entry(piece.mark.clone()).or_default() += legs;
        }
    }
    found
}

#[test]
fn every_mark_is_on_drawing_label_and_nest() {
    for job in all() {
        let evaluation = evaluate(&job);
        let buy = to_buy(&job, &evaluation);
        let labels = labels_html(&evaluation, "");
        let pieces = drawn(&evaluation);
        let told: Vec<String> = evaluation
            .boxes
            .iter()
            .filter_map(|battery_box| box_drawing(&evaluation, battery_box, "1 May", Paper::A3))
            .flatten()
            .flat_map(|page| texts(&page))
            .collect();
        let placed = |mark: &str| {
            let mut stocks = buy.nesting.stocks.iter();
            stocks.any(|stock| {
                let mut parts = stock.nests.iter().flat_map(|nest| &nest.parts);
                parts.any(|part| part.mark == mark) || stock.left_out.iter().any(|left| left.mark == mark)
            })
        };
        let name = format!("{} {:?}", evaluation.name, job.design.construction);
        for line in evaluation.cut.list.tables.iter().flat_map(|table| &table.lines) {
            let what = format!("{name}: {} {}", line.mark, line.name);
            // Once in the parts list, once at its piece.
            let on_drawing = told.iter().filter(|words| **words == line.mark).count();
            assert!(on_drawing >= 2, "{what} is on no drawing");
            let label = format!("<p class=\"mark\">{}<span>", line.mark);
            assert_eq!(labels.matches(&label).count(), line.quantity as usize, "{what}: labels");
            assert!(placed(&line.mark), "{what} is on no nest");
            if line.roles.iter().all(|role| role.is_added() && !role.is_liner()) {
                assert_eq!(
                    pieces.get(&line.mark),
                    Some(&(line.quantity * 2)),
                    "{what}: pieces drawn"
                );
            }
        }
        let blank: Vec<_> = evaluation
            .boxes
            .iter()
            .filter_map(|battery_box| drawing::assembly(&evaluation, battery_box))
            .flat_map(|assembly| assembly.pieces)
            .filter(|piece| piece.mark.is_empty())
            .map(|piece| piece.role)
            .collect();
        assert!(blank.is_empty(), "{name}: drawn without a mark: {blank:?}");
    }
}
