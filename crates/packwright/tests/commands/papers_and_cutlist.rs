//! Cut list and papers.

use std::fs;
use std::path::Path;

use rstest::rstest;
use serde_json::Value;

use crate::shop::{Shop, example_text, figures};

#[rstest]
fn cutlist_comes_in_every_form(#[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str) {
    let shop = Shop::with(name);
    let job = job::load(example_text(name).as_bytes()).unwrap();
    let evaluation = job::evaluate(&job);
    let to_buy = job::shopping::to_buy(&job, &evaluation);
    let code = Some(i32::from(evaluation.has_stop()));
    let printed = |format: &str| {
        let ended = shop.run(&["cutlist", "job.json", "--format", format]);
        assert_eq!(ended.code, code, "{}", ended.err);
        ended
    };
    assert_eq!(
        shop.run(&["cutlist", "job.json"]).out,
        papers::cutlist_markdown(&evaluation, &to_buy)
    );
    assert_eq!(printed("markdown").out, papers::cutlist_markdown(&evaluation, &to_buy));
    assert_eq!(printed("csv").out, papers::cutlist_csv(&evaluation));
    let html = printed("html").out;
    assert!(
        html.contains("<html") || html.to_lowercase().starts_with("<!doctype html"),
        "{html}"
    );
    let json = printed("json").json();
    let figures: Value = serde_json::from_str(&figures(&evaluation)).unwrap();
    assert!(json["cut"].is_object() || json["cut"].is_array(), "{json}");
    assert_eq!(
        json["to_buy"]["shopping"].as_array().map(Vec::len),
        Some(to_buy.items.len())
    );
    for (name, part) in json.as_object().unwrap().iter().filter(|(name, _)| *name != "to_buy") {
        assert!(*part == figures[name], "{name} is not what check shows");
    }
}

#[test]
fn json_is_asked_for_as_of_every_other_command() {
    let shop = Shop::with("orchard-flatbed");
    let by_flag = shop.run(&["cutlist", "job.json", "--json"]);
    assert_eq!(by_flag.out, shop.run(&["cutlist", "job.json", "--format", "json"]).out);
    shop.run(&["cutlist", "job.json", "--json", "--format", "csv"])
        .refused();

    let written = shop.run(&["papers", "job.json", "--to", "out", "--json"]).json();
    let written = written["written"].as_array().unwrap();
    let mut files: Vec<&str> = written.iter().map(|one| one["file"].as_str().unwrap()).collect();
    files.sort_unstable();
    let mut there: Vec<String> = fs::read_dir(shop.path().join("out"))
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    there.sort_unstable();
    assert_eq!(files, there);
    let cut_list = written.iter().find(|one| one["file"] == "cut-list.csv").unwrap();
    assert_eq!(
        (&cut_list["title"], &cut_list["reader"]),
        (&"cut list".into(), &"for the shop".into())
    );
    assert!(Path::new(cut_list["path"].as_str().unwrap()).starts_with("out"));
}

#[rstest]
#[case("cuts.csv", &[], "csv")]
#[case("cuts.md", &[], "markdown")]
#[case("cuts.JSON", &[], "json")]
#[case("cuts.txt", &["--format", "csv"], "csv")]
#[case("cuts.md", &["--format", "csv"], "csv")]
fn the_ending_of_the_file_names_the_form(#[case] file: &str, #[case] more: &[&str], #[case] form: &str) {
    let shop = Shop::with("orchard-flatbed");
    let args = [&["cutlist", "job.json", "--to", file][..], more].concat();
    let ended = shop.run(&args);
    assert_eq!((ended.code, ended.out.as_str()), (Some(0), ""), "{}", ended.err);
    assert_eq!(
        shop.read(file),
        shop.run(&["cutlist", "job.json", "--format", form]).out
    );
}

#[rstest]
#[case::unknown_ending("cuts.txt")]
#[case::no_ending("cuts")]
#[case::the_job_itself("./job.json")]
#[case::no_such_folder("away/cuts.csv")]
fn a_cut_list_is_not_written_there(#[case] file: &str) {
    let shop = Shop::with("orchard-flatbed");
    shop.run(&["cutlist", "job.json", "--to", file]).refused();
    assert_eq!(shop.names(), ["job.json"]);
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
}

#[rstest]
fn papers_are_written_and_named(#[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str) {
    let shop = Shop::with(name);
    let ended = shop.run(&["papers", "job.json", "--to", "deep/out"]);
    let job = job::load(example_text(name).as_bytes()).unwrap();
    let evaluation = job::evaluate(&job);
    assert_eq!(ended.code, Some(i32::from(evaluation.has_stop())), "{}", ended.err);
    let mut written: Vec<&str> = ended.out.lines().collect();
    written.sort_unstable();
    let mut there: Vec<String> = fs::read_dir(shop.path().join("deep/out"))
        .unwrap()
        .map(|e| Path::new("deep/out").join(e.unwrap().file_name()).display().to_string())
        .collect();
    there.sort();
    assert_eq!(written, there);
    assert_eq!(
        there.len(),
        papers::all(&job, &evaluation, &job::shopping::to_buy(&job, &evaluation), "").len()
    );
}

#[test]
fn papers_are_not_written_into_a_file() {
    let shop = Shop::with("orchard-flatbed");
    shop.run(&["papers", "job.json", "--to", "job.json"]).refused();
    assert_eq!(shop.read("job.json"), example_text("orchard-flatbed"));
}

#[test]
fn some_papers_are_written_alone_and_a_wrong_name_writes_none() {
    let shop = Shop::with("orchard-flatbed");
    let ended = shop.run(&["papers", "job.json", "--to", "out", "--only", "layout-sheet,report.txt"]);
    let written: Vec<&Path> = ended.out.lines().map(Path::new).collect();
    assert_eq!(
        written,
        [Path::new("out/report.txt"), Path::new("out/layout-sheet.pdf")]
    );
    let refused = shop.run(&["papers", "job.json", "--to", "other", "--only", "report,drawings"]);
    let said = refused.refused();
    assert!(said.contains("\"drawings\"") && said.contains("drawing-left-box.pdf"));
    assert!(!shop.path().join("other").exists());
}
