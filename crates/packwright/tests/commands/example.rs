//! The built-in jobs.

use rstest::rstest;

use crate::shop::{EXAMPLES, Shop, example_text};

#[test]
fn example_lists_the_jobs_name_first() {
    let list = Shop::new().run(&["example"]).quiet();
    let names: Vec<&str> = list
        .lines()
        .map(|line| line.split_once("  ").expect("a name, then what it is").0)
        .collect();
    assert_eq!(names, EXAMPLES);
}

#[rstest]
fn example_prints_or_writes_the_job(#[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str) {
    let shop = Shop::new();
    assert_eq!(shop.run(&["example", name]).quiet(), example_text(name));
    let ended = shop.run(&["example", name, "--to", "job.json"]);
    assert_eq!((ended.code, ended.out.as_str()), (Some(0), ""));
    assert_eq!(shop.read("job.json"), example_text(name));
}

#[test]
fn example_writes_over_a_file_only_when_told_to_and_keeps_it() {
    let shop = Shop::holding("my own work");
    let refusal = shop.run(&["example", "orchard-flatbed", "--to", "job.json"]).refused();
    assert!(refusal.contains("--force"), "{refusal}");
    assert_eq!(shop.read("job.json"), "my own work");
    let ended = shop.run(&["example", "orchard-flatbed", "--to", "job.json", "--force"]);
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
    assert_eq!(shop.read("job.json.bak"), "my own work");
}

#[test]
fn an_unknown_example_is_refused_with_the_known_ones() {
    let refusal = Shop::new().run(&["example", "orchard"]).refused();
    assert!(EXAMPLES.iter().all(|name| refusal.contains(name)), "{refusal}");
}
