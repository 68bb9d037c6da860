//! Pictures of the built-in jobs hold what they should, and hostile names cannot break out of them.

use job::{evaluate, example, load};

use super::*;
use crate::hollow::{Hollow, Station};
use crate::{Side, box_view, cavity_view};

fn evaluation(name: &str) -> job::Evaluation {
    evaluate(&load(example(name).unwrap().text.as_bytes()).unwrap())
}

/// Each start tag has its end, in order; enough of XML for what is written here.
fn assert_well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = svg;
    while let Some(start) = rest.find('<') {
        let end = start + rest[start..].find('>').expect("a tag ends");
        let tag = &rest[start + 1..end];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(tag.split(' ').next().unwrap());
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn every_view_of_every_example_is_a_whole_picture_with_its_figures() {
    for example in job::EXAMPLES {
        let evaluation = evaluation(example.name);
        for side in Side::ALL {
            let cavities = evaluation
                .cavities
                .iter()
                .filter_map(|c| cavity_view(&evaluation, c.id, side));
            let boxes = evaluation
                .boxes
                .iter()
                .filter_map(|b| box_view(&evaluation, b.id, side));
            let views: Vec<View> = cavities.chain(boxes).collect();
            assert!(!views.is_empty());
            for view in views {
                let svg = svg(&view, Options::default());
                assert_well_formed(&svg);
                for dim in &view.dims {
                    assert!(svg.contains(&escape(&dim.text)), "{} misses {}", view.title, dim.text);
                }
                for gap in &view.gaps {
                    assert!(svg.contains(&escape(&gap.text)), "{} misses {}", view.title, gap.text);
                }
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
    }
}

#[test]
fn names_are_escaped() {
    let mut job = load(example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
    let hostile = "<script>&\"'\u{0}\u{1b}";
    job.cavities[0].name = hostile.to_owned();
    job.cavities[0].keep_outs[0].name = hostile.to_owned();
    job.boxes[0].name = hostile.to_owned();
    let evaluation = evaluate(&job);
    let view = cavity_view(&evaluation, job.cavities[0].id, Side::Plan).unwrap();
    let svg = svg(&view, Options::default());
    assert_well_formed(&svg);
    assert!(!svg.contains("<script") && !svg.contains('\u{1b}') && !svg.contains('\u{0}'));
    assert!(svg.contains("&lt;script&gt;&amp;&quot;&#39;"));
}

#[test]
fn hollows_are_whole_pictures_with_names_and_numbers() {
    let whole = hollow_svg(&Hollow::whole(), 90);
    assert_well_formed(&whole);
    for corner in tape::survey::Corner::ALL {
        assert!(whole.contains(&format!(">{corner}<")), "{corner}");
    }
    let mut numbers = 0;
    for station in Station::ALL {
        let svg = hollow_svg(&Hollow::of_station(station), 40);
        assert_well_formed(&svg);
        for (number, line) in station.lines() {
            assert!(svg.contains(&format!(">{number}<")), "{line}");
            for corner in line.ends() {
                assert!(svg.contains(&format!(">{corner}<")), "{line}");
            }
            numbers += 1;
        }
    }
    assert_eq!(numbers, 28);
}

#[test]
fn the_page_on_taping_has_the_picture_of_today() {
    let there = include_str!("../../../../docs/hollow.svg");
    assert!(there == manual_picture(), "write it anew: see hollow_for_the_manual");
}

fn manual_picture() -> String {
    hollow_svg(&Hollow::whole(), 140)
}

/// Writes the picture of the page on taping, from the root of the tree:
/// `PACKWRIGHT_PICTURE=docs/hollow.svg cargo test -p drawing hollow_for_the_manual -- --ignored`.
#[test]
#[ignore = "writes the picture of the page on taping"]
fn hollow_for_the_manual() {
    let Some(path) = std::env::var_os("PACKWRIGHT_PICTURE") else {
        return;
    };
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    std::fs::write(root.join(path), manual_picture()).unwrap();
}

/// Far from a file: writes every view of the examples where `PACKWRIGHT_PICTURES` says, to be looked at.
#[test]
fn pictures_to_look_at() {
    let Ok(folder) = std::env::var("PACKWRIGHT_PICTURES") else {
        return;
    };
    for example in job::EXAMPLES {
        let evaluation = evaluation(example.name);
        for side in Side::ALL {
            for cavity in &evaluation.cavities {
                let view = cavity_view(&evaluation, cavity.id, side).unwrap();
                let name = format!("{folder}/{}-cavity{}-{}.svg", example.name, cavity.id.0, side.name());
                std::fs::write(name, svg(&view, Options::default())).unwrap();
            }
            for battery_box in &evaluation.boxes {
                let view = box_view(&evaluation, battery_box.id, side).unwrap();
                let name = format!("{folder}/{}-box{}-{}.svg", example.name, battery_box.id.0, side.name());
                std::fs::write(name, svg(&view, Options::default())).unwrap();
            }
        }
    }
}
