//! What the readings are good for.

use insta::assert_snapshot;

use crate::shop::Shop;

#[test]
fn survey_names_the_wrong_reading_and_what_to_tape_next() {
    let shop = Shop::with("orchard-flatbed");
    let text = shop.run(&["survey", "job.json", "--cavity", "left saddle"]);
    assert_eq!((text.code, text.err.as_str()), (Some(0), ""));
    assert_snapshot!("survey_left_saddle", text.out);
    assert!(text.out.lines().all(|line| line.chars().count() <= 80), "{}", text.out);
    let both = shop.run(&["survey", "job.json"]);
    assert!(both.out.starts_with(&text.out) && both.out.contains("RIGHT SADDLE"));
    let details = shop.run(&["survey", "job.json", "--details"]);
    assert!(details.out.contains("checked  times sigma"));
}

#[test]
fn survey_prints_all_of_it_as_json() {
    let shop = Shop::with("harbour-tender");
    let json = shop.run(&["survey", "job.json", "--cavity", "right pocket", "--json"]);
    assert_eq!((json.code, json.err.as_str()), (Some(0), ""));
    let data: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    let [cavity] = &data["cavities"].as_array().unwrap()[..] else {
        panic!("one cavity was asked for");
    };
    assert_eq!(cavity["survey"]["standing"], "doubtful");
    let suspects = cavity["survey"]["readings"].as_array().unwrap().iter();
    let suspects: Vec<&serde_json::Value> = suspects.filter(|r| !r["suspect"].is_null()).collect();
    assert_eq!(suspects.len(), 1);
    assert_eq!(
        (&suspects[0]["line"], &suspects[0]["used"]),
        (&"RLB to RRB".into(), &"set aside".into())
    );
    assert_eq!(suspects[0]["suspect"]["guesses"][0]["value_mm"], 290.0);
    assert_eq!(cavity["shape"]["lines"].as_array().unwrap().len(), 28);
    assert_eq!(cavity["shape"]["corners_mm"].as_array().unwrap().len(), 8);
    let covariance = cavity["shape"]["covariance_mm2"].as_array().unwrap();
    assert!(covariance.len() == 24 && covariance.iter().all(|row| row.as_array().unwrap().len() == 24));
}

#[test]
fn a_cavity_that_is_not_there_is_refused_with_those_that_are() {
    let ended = Shop::with("orchard-flatbed").run(&["survey", "job.json", "--cavity", "middle"]);
    assert_eq!(ended.code, Some(2));
    assert_eq!(
        ended.err,
        "error: --cavity: the job has no cavity named \"middle\"\n  fix: choose one of: left saddle; right saddle\n"
    );
}
