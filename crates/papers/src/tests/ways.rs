//! The sheet of ways in.

use job::way_in::ways_in;
use job::{EXAMPLES, evaluate};

use super::job;
use crate::{way_in_html, ways_json};

#[test]
fn every_box_has_its_poses_and_every_module_its_line() {
    for example in EXAMPLES {
        let job = job(example.name);
        let evaluation = evaluate(&job);
        let ways = ways_in(&job, &evaluation);
        let html = way_in_html(&evaluation, &ways, "1 May");
        let pictures: Vec<&str> = html
            .split("<svg ")
            .skip(1)
            .map(|rest| rest.split("</svg>").next().unwrap())
            .collect();
        let poses: usize = ways.pictures.iter().flatten().map(|picture| picture.poses.len()).sum();
        assert_eq!(pictures.len(), poses);
        for picture in pictures {
            let picture = format!("<svg {picture}</svg>");
            roxmltree::Document::parse(&picture).unwrap();
        }
        for module in evaluation.boxes.iter().flat_map(|b| &b.modules) {
            assert!(html.contains(&format!("<td>{}</td>", module.label)), "{}", module.label);
        }
        // Boxes in the order they go in.
        let places = ways
            .order
            .iter()
            .map(|&i| html.find(&format!("<h2>{}", ways.boxes[i].name)).unwrap());
        assert!(places.is_sorted());
        assert_eq!(
            ways_json(&ways)["boxes"].as_array().map(Vec::len),
            Some(ways.boxes.len())
        );
    }
}
