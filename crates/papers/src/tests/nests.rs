//! What is cut from which sheet and bar, and what to buy, on paper.

use std::collections::BTreeMap;

use dxf::Drawing;
use dxf::entities::EntityType;
use enclosure::cutlist::Line;
use job::shopping::{ToBuy, to_buy};
use job::{ConstructionName, CuttingName, EXAMPLES, Evaluation, Job, StockEdit, StockForm, evaluate};
use plot::On;

use super::{job, papers_of, read_csv};
use crate::{nest_dxf, nest_svgs, nests_json, nests_text, shopping_csv};

fn worked(job: &Job) -> (Evaluation, ToBuy) {
    let evaluation = evaluate(job);
    let buy = to_buy(job, &evaluation);
    (evaluation, buy)
}

/// Every example, its sheets cut either way.
fn every() -> impl Iterator<Item = (Job, Evaluation, ToBuy)> {
    EXAMPLES.iter().flat_map(|example| {
        CuttingName::ALL.iter().map(|&cutting| {
            let mut job = job(example.name);
            job.stock.cutting = Some(cutting);
            let (evaluation, buy) = worked(&job);
            (job, evaluation, buy)
        })
    })
}

fn count<'a>(marks: impl Iterator<Item = &'a str>) -> BTreeMap<String, u32> {
    let mut counted = BTreeMap::new();
    for mark in marks {
        *counted.entry(mark.to_owned()).or_default() += 1;
    }
    counted
}

fn cut_list(evaluation: &Evaluation) -> BTreeMap<String, u32> {
    let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
    lines.map(|line| (line.mark.clone(), line.quantity)).collect()
}

#[test]
fn the_nests_as_data_come_to_the_cut_list() {
    for (_, evaluation, buy) in every() {
        let data = nests_json(&buy);
        let stocks = data["nesting"]["stocks"].as_array().unwrap();
        let parts: Vec<&serde_json::Value> = stocks
            .iter()
            .flat_map(|stock| stock["nests"].as_array().unwrap())
            .flat_map(|nest| nest["parts"].as_array().unwrap())
            .collect();
        let marks = parts.iter().map(|part| part["mark"].as_str().unwrap());
        assert_eq!(count(marks), cut_list(&evaluation));
        let numbers: Vec<u64> = stocks
            .iter()
            .flat_map(|stock| stock["nests"].as_array().unwrap())
            .map(|nest| nest["number"].as_u64().unwrap())
            .collect();
        assert_eq!(numbers, (1..=numbers.len() as u64).collect::<Vec<_>>());
    }
}

#[test]
fn every_sheet_is_a_picture_and_every_part_is_on_one() {
    for (_, evaluation, buy) in every() {
        let pictures = nest_svgs(&evaluation, &buy.nesting, "1 May");
        let sheets = buy.nesting.numbered().filter(|(_, nested, _)| !nested.is_bar).count();
        let bars = buy
            .nesting
            .stocks
            .iter()
            .filter(|stock| stock.is_bar && !stock.nests.is_empty());
        // Many bars of one stock take more than one page.
        assert!(pictures.len() >= sheets + bars.count());
        let of_sheets = pictures.iter().filter(|picture| picture.contains(">nest ")).count();
        assert!(of_sheets >= sheets);
        let all = pictures.concat();
        for picture in &pictures {
            roxmltree::Document::parse(picture).unwrap();
        }
        for (mark, n) in cut_list(&evaluation) {
            let there = all.matches(&format!(">{mark}<")).count();
            assert!(there == n as usize, "{mark}: {there} of {n}");
        }
    }
}

/// Read back by a library of others: the parts of a nest for the laser are where the nest has them, as large as they are
/// drawn, and none is turned over.
#[test]
fn the_file_for_the_laser_has_every_part_in_its_place() {
    let mut seen = 0;
    for example in EXAMPLES {
        let mut job = job(example.name);
        job.stock.cutting = Some(CuttingName::Laser);
        job.design.construction = Some(ConstructionName::Folded);
        let (evaluation, buy) = worked(&job);
        for (number, nested, nest) in buy.nesting.numbered() {
            let Some(file) = nest_dxf(&evaluation, &buy.nesting, number) else {
                assert!(nested.is_bar || nested.is_liner());
                continue;
            };
            assert!(!nested.is_liner());
            let drawing = Drawing::load(&mut file.unwrap().as_bytes()).unwrap();
            let outlines: Vec<[f64; 4]> = drawing
                .entities()
                .filter(|entity| entity.common.layer == "CUT")
                .filter_map(|entity| match &entity.specific {
                    EntityType::Polyline(line) => Some(line.vertices().map(|v| [v.location.x, v.location.y])),
                    _ => None,
                })
                .map(|vertices| {
                    let [mut low, mut high] = [[f64::MAX; 2], [f64::MIN; 2]];
                    for vertex in vertices {
                        for axis in 0..2 {
                            low[axis] = low[axis].min(vertex[axis]);
                            high[axis] = high[axis].max(vertex[axis]);
                        }
                    }
                    [low[0], low[1], high[0], high[1]]
                })
                .collect();
            assert_eq!(outlines.len(), nest.parts.len());
            for part in &nest.parts {
                let [x, y] = part.at.map(tape::Length::as_mm);
                let [wide, high] = part.sides.map(tape::Length::as_mm);
                let there = |outline: &&[f64; 4]| {
                    let want = [x, y, x + wide, y + high];
                    outline.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-3)
                };
                assert!(
                    outlines.iter().any(|outline| there(&outline)),
                    "{} at {x}, {y}",
                    part.mark
                );
                seen += 1;
            }
        }
    }
    assert!(seen > 10);
}

#[test]
fn a_part_that_lies_across_is_turned_and_not_turned_over() {
    let (evaluation, buy) = worked(&job("orchard-flatbed"));
    let (_, nested, nest) = buy.nesting.numbered().find(|(_, nested, _)| !nested.is_bar).unwrap();
    let part = &nest.parts[0];
    let line: &Line = super::super::nests::line_of(&evaluation, &buy.nesting, nested, part).unwrap();
    let across = job::nesting::Placing {
        turned: true,
        sides: [line.width.exact, line.length.exact],
        ..part.clone()
    };
    let [plain, turned] = [part, &across].map(|part| super::super::nests::placed_at(line, part));
    let area = |flat: &plot::Flat| flat.contours[0].path().area();
    assert!(area(&turned) > 0.0, "anticlockwise still");
    assert!((area(&turned) - area(&plain)).abs() < 1e-6);
    assert_eq!(turned.contours[0].on, On::Cut);
    let [x, y] = across.at.map(tape::Length::as_mm);
    let low = turned.cut_bounds().unwrap().low();
    assert!((low[0] - x).abs() < 1e-9 && (low[1] - y).abs() < 1e-9, "{low:?}");
}

#[test]
fn a_shear_has_cuts_and_no_file_for_the_laser() {
    let job = job("orchard-flatbed");
    let (evaluation, buy) = worked(&job);
    for (number, _, nest) in buy.nesting.numbered() {
        assert!(nest_dxf(&evaluation, &buy.nesting, number).is_none());
        assert!(!nest.cuts.is_empty());
    }
    let names: Vec<String> = papers_of(&job, "").into_iter().map(|paper| paper.file_name).collect();
    assert!(names.contains(&"nests.pdf".to_owned()) && names.contains(&"nest-1.svg".to_owned()));
    assert!(
        !names
            .iter()
            .any(|name| name.starts_with("nest-") && name.contains("_mm."))
    );
}

/// What the shopping list says of sheets is what the nests say; by hand, spares are one in ten and two at least.
#[test]
fn the_shopping_list_has_what_the_boxes_take() {
    let mut job = job("orchard-flatbed");
    job = job
        .with(&job::Edit::Stock(StockEdit::Add {
            form: StockForm::Sheet,
            on_hand: false,
        }))
        .unwrap();
    job.stock.pieces[0].price = Some(job::Price(84_500));
    let (evaluation, buy) = worked(&job);
    let rows = read_csv(&shopping_csv(&buy));
    // No liner is cut from a sheet without a material.
    let of_steel = |s: &&job::nesting::Nested| !s.is_bar && s.label.starts_with("mild steel");
    let sheets: u32 = buy.nesting.stocks.iter().filter(of_steel).map(|s| s.bought).sum();
    assert_eq!(buy.cost.unwrap().0, 84_500 * i64::from(sheets));
    let screws: u32 = evaluation
        .boxes
        .iter()
        .filter_map(|b| b.built.as_ref()?.lid_holes.as_ref())
        .map(|holes| holes.count)
        .sum();
    let row = rows.iter().find(|row| row[0].starts_with("lid screws")).unwrap();
    let spares = screws.div_ceil(10).max(2);
    assert_eq!(row[1].trim_start_matches('~'), screws.to_string());
    assert_eq!(row[2].trim_start_matches('~'), (screws + spares).to_string());
    // Without brackets nothing is drilled for mount bolts; what spreads the pull of the person's own is told.
    assert!(!rows.iter().any(|row| row[0].starts_with("mount bolts")));
    let row = rows.iter().find(|row| row[0].starts_with("backing plates")).unwrap();
    assert_eq!(row[1].trim_start_matches('~'), (4 * evaluation.boxes.len()).to_string());
    for what in ["gasket, ", "liner, "] {
        assert!(rows.iter().flatten().any(|cell| cell.contains(what)), "{what}");
    }
}

#[test]
fn what_is_let_into_the_walls_is_bought_by_the_piece() {
    let mut job = job("orchard-flatbed");
    let into = job.boxes[0].id;
    let at = [tape::Length::mm(100); 2];
    for _ in 0..2 {
        job = job.with(&job::Edit::AddFitting { into, at }).unwrap();
    }
    let (evaluation, buy) = worked(&job);
    let fitting = evaluation.boxes[0].fittings.iter().find(|f| f.fault.is_none()).unwrap();
    let rows = read_csv(&shopping_csv(&buy));
    let row = rows.iter().find(|row| row[0].starts_with(fitting.what.name())).unwrap();
    let all = evaluation.boxes[0]
        .fittings
        .iter()
        .filter(|f| f.fault.is_none())
        .count();
    assert_eq!((row[1].clone(), row[2].clone()), (all.to_string(), all.to_string()));
}

#[test]
fn what_nobody_entered_of_the_stock_is_told() {
    let (_, buy) = worked(&job("orchard-flatbed"));
    let text = nests_text(&buy.nesting);
    assert!(
        text.contains("Nobody entered, for the stock: ") && text.contains("~4x8 ft"),
        "{text}"
    );
}

#[test]
fn snapshots() {
    let (_, buy) = worked(&job("orchard-flatbed"));
    insta::assert_snapshot!("nests", nests_text(&buy.nesting));
    insta::assert_snapshot!("shopping", shopping_csv(&buy));
}
