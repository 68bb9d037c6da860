//! The figures, and what is no job.

use insta::assert_snapshot;
use rstest::rstest;

use crate::shop::{Shop, checked, example_text, with_a_stop};

#[rstest]
fn check_prints_text_and_json(#[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str) {
    let shop = Shop::with(name);
    let (evaluation, words, data) = checked(&job::load(example_text(name).as_bytes()).unwrap());
    let code = Some(i32::from(evaluation.has_stop()));
    let text = shop.run(&["check", "job.json"]);
    assert_eq!((text.code, text.err.as_str()), (code, ""));
    assert_eq!(text.out, words);
    let json = shop.run(&["check", "job.json", "--json"]);
    assert_eq!((json.code, json.err.as_str()), (code, ""));
    assert!(json.out == data, "other figures are printed than are worked out");
    assert_eq!(shop.feed(&["check", "-"], example_text(name)).out, text.out);
    assert_eq!(shop.names(), ["job.json"], "checking writes nothing");
}

#[rstest]
#[case::check(&["check", "job.json"])]
#[case::check_json(&["check", "job.json", "--json"])]
#[case::cutlist(&["cutlist", "job.json"])]
#[case::papers(&["papers", "job.json", "--to", "out"])]
fn a_stop_ends_with_one_after_printing(#[case] args: &[&str]) {
    let ended = Shop::holding(with_a_stop()).run(args);
    assert_eq!(ended.code, Some(1), "{}", ended.err);
    assert!(!ended.out.is_empty());
    // They do not look for ways in, as check does: their count may be the smaller one, and says so.
    let told = ended.err.lines().next().unwrap_or_default();
    assert!(
        args[0] == "check" || (told.starts_with("caution: this job has ") && told.ends_with(", ways in not counted")),
        "{}",
        ended.err
    );
}

#[rstest]
#[case::not_there(None)]
#[case::empty(Some(&b""[..]))]
#[case::not_text(Some(&b"\xff\xfe{}"[..]))]
#[case::not_json(Some(&b"{ \"format\": "[..]))]
#[case::no_job(Some(&b"[1, 2]"[..]))]
#[case::another_format(Some(&br#"{"format": "notes", "version": 1}"#[..]))]
#[case::newer(Some(&br#"{"format": "packwright-job", "version": 99}"#[..]))]
fn what_is_no_job_is_refused_by_every_command(#[case] content: Option<&[u8]>) {
    let shop = content.map_or_else(Shop::new, Shop::holding);
    let before = shop.names();
    for args in [
        &["check", "job.json"][..],
        &["check", "job.json", "--json"],
        &["fit", "job.json"],
        &["fit", "job.json", "--write"],
        &["cutlist", "job.json"],
        &["cutlist", "job.json", "--to", "cuts.html"],
        &["papers", "job.json", "--to", "out"],
    ] {
        let refusal = shop.run(args).refused();
        assert!(refusal.starts_with("error: job.json: "), "{args:?}: {refusal}");
    }
    assert_eq!(shop.names(), before, "nothing is written");
}

#[test]
fn a_broken_job_at_standard_input_is_refused() {
    let refusal = Shop::new().feed(&["check", "-"], "{").refused();
    assert!(refusal.starts_with("error: standard input: "), "{refusal}");
}

#[test]
fn a_refused_value_names_the_field_and_the_fix() {
    let text = example_text("orchard-flatbed").replace("\"margin\": \"1/2\\\"\"", "\"margin\": \"415/8\"");
    assert_snapshot!(Shop::holding(text).run(&["check", "job.json"]).refused());
}
