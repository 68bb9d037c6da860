//! The sheet to fill in under the truck.

use rstest::rstest;
use serde_json::Value;

use crate::shop::{EXAMPLES, Shop, changed, example_text, with_a_stop};

fn cavities(example: &str) -> Vec<String> {
    let job: Value = serde_json::from_str(example_text(example)).unwrap();
    let cavities = job["cavities"].as_array().unwrap().iter();
    cavities.map(|c| c["name"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn each_cavity_has_a_sheet() {
    for name in EXAMPLES {
        let html = Shop::with(name).run(&["tape-sheet", "job.json"]).quiet();
        assert!(
            html.starts_with("<!DOCTYPE html>") && html.ends_with("</html>\n"),
            "{name}"
        );
        for cavity in cavities(name) {
            assert!(html.contains(&format!("<h1>Tape sheet: {cavity}</h1>")), "{cavity}");
        }
        assert_eq!(html.matches("<b>FLB to RRT</b>").count(), cavities(name).len());
    }
}

#[test]
fn it_is_written_to_a_file() {
    let shop = Shop::with("orchard-flatbed");
    let ended = shop.run(&["tape-sheet", "job.json", "--to", "sheet.html"]);
    assert_eq!((ended.code, ended.out.as_str()), (Some(0), ""));
    assert_eq!(ended.err, "tape sheet written to sheet.html\n");
    assert_eq!(shop.read("sheet.html"), shop.run(&["tape-sheet", "job.json"]).quiet());
}

#[test]
fn a_job_without_readings_has_one() {
    let text = changed("orchard-flatbed", |job| {
        job["boxes"] = Value::Array(Vec::new());
        for cavity in job["cavities"].as_array_mut().unwrap() {
            cavity["readings"] = Value::Array(Vec::new());
        }
    });
    let html = Shop::holding(text).run(&["tape-sheet", "job.json"]).quiet();
    assert!(!html.contains("so far "));
    assert_eq!(html.matches("<article>").count(), 2);
}

#[test]
fn a_job_without_a_cavity_has_a_blank_one() {
    let text = changed("orchard-flatbed", |job| {
        job["boxes"] = Value::Array(Vec::new());
        job["cavities"] = Value::Array(Vec::new());
    });
    let html = Shop::new().feed(&["tape-sheet", "-"], &text).quiet();
    assert_eq!(html.matches("<article>").count(), 1);
}

#[test]
fn a_cavity_that_is_not_in_the_job_has_a_blank_one() {
    let shop = Shop::with("orchard-flatbed");
    let html = shop
        .run(&["tape-sheet", "job.json", "--blank", "under <the> seat"])
        .quiet();
    assert!(html.contains("<h1>Tape sheet: under &lt;the&gt; seat</h1>"));
    assert_eq!(html.matches("<article>").count(), 1);
    assert!(!html.contains("so far "));
}

/// A stop speaks against cutting, not against taping.
#[test]
fn a_stop_does_not_matter() {
    let shop = Shop::holding(with_a_stop());
    shop.run(&["tape-sheet", "job.json"]).quiet();
}

#[rstest]
#[case::the_job_itself("./job.json")]
#[case::no_such_folder("away/sheet.html")]
fn it_is_not_written_there(#[case] file: &str) {
    let shop = Shop::with("orchard-flatbed");
    shop.run(&["tape-sheet", "job.json", "--to", file]).refused();
    assert_eq!(shop.names(), ["job.json"]);
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
}
