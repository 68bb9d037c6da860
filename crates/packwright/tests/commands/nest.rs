//! What is cut from which sheet and bar.

use std::fs;

use rstest::rstest;

use crate::shop::{EXAMPLES, Shop, example_text};

/// Two panels that fill a 4x8 ft sheet but for the kerf between them, and three lengths of angle.
const PARTS: &str = "mark;off;length;width;stock;name\n\
                     # cut with care\n\
                     A1;2;47 7/8;48;steel 3 mm;panel\n\
                     B1;3;9 ft;;angle 40 x 4;rail\n";

fn with_parts(text: &str) -> Shop {
    let shop = Shop::new();
    fs::write(shop.path().join("parts.csv"), text).unwrap();
    shop
}

#[rstest]
fn a_job_is_laid_out_as_the_papers_have_it(
    #[values("orchard-flatbed", "harbour-tender", "mountain-rescue")] name: &str,
) {
    let shop = Shop::with(name);
    let job = job::load(example_text(name).as_bytes()).unwrap();
    let evaluation = job::evaluate(&job);
    let nesting = job::nesting::nested(&job, &evaluation);
    let ended = shop.run(&["nest", "job.json"]);
    assert_eq!(ended.code, Some(i32::from(evaluation.has_stop())), "{}", ended.err);
    assert_eq!(ended.out, papers::nests_text(&nesting));
    let data = shop.run(&["nest", "job.json", "--json"]).json();
    let bought: u64 = nesting.stocks.iter().map(|stock| u64::from(stock.bought)).sum();
    let stocks = data["nesting"]["stocks"].as_array().unwrap();
    assert_eq!(
        stocks
            .iter()
            .map(|stock| stock["bought"].as_u64().unwrap())
            .sum::<u64>(),
        bought
    );
    assert!(data["shopping"].as_array().is_some_and(|rows| !rows.is_empty()));
}

#[test]
fn every_example_has_its_parts_on_stock() {
    for name in EXAMPLES {
        let shop = Shop::with(name);
        let data = shop.run(&["nest", "job.json", "--json"]).json();
        for stock in data["nesting"]["stocks"].as_array().unwrap() {
            assert_eq!(stock["left_out"].as_array().map(Vec::len), Some(0), "{name}");
        }
    }
}

/// By hand: with a kerf of 1/4 in both panels just go on one sheet of 96 in, with 5/16 in they do not. Of the rails, two of
/// 108 in are on a bar of 240 in.
#[rstest]
#[case::one_sheet("1/4", 1)]
#[case::two_sheets("5/16", 2)]
fn a_list_of_parts_is_laid_out_too(#[case] kerf: &str, #[case] sheets: u64) {
    let shop = with_parts(PARTS);
    let args = [
        "nest",
        "parts.csv",
        "--kerf",
        kerf,
        "--stock",
        "4x8 ft",
        "--stock",
        "20 ft",
        "--json",
    ];
    let ended = shop.run(&args);
    assert_eq!((ended.code, ended.err.as_str()), (Some(0), ""));
    let data = ended.json();
    let stocks = data["stocks"].as_array().unwrap();
    let told: Vec<_> = stocks
        .iter()
        .map(|s| (s["label"].as_str(), s["bought"].as_u64(), s["proved"].as_bool()))
        .collect();
    assert_eq!(
        told,
        [
            (Some("steel 3 mm"), Some(sheets), Some(true)),
            (Some("angle 40 x 4"), Some(2), Some(true))
        ]
    );
}

#[test]
fn a_list_comes_from_standard_input_in_words() {
    let shop = Shop::new();
    let ended = shop.feed(&["nest", "-", "--shear"], PARTS);
    let text = ended.quiet();
    assert!(text.starts_with("steel 3 mm: 1 sheet of ~4x8 ft, proved"), "{text}");
    assert!(
        text.contains("  A1     at 0\", 0\": 47 7/8\" x 48\"  panel\n"),
        "{text}"
    );
    assert!(text.contains("stock of 4x8 ft"), "{text}");
}

#[test]
fn what_is_told_wins_over_the_job() {
    let shop = Shop::with("orchard-flatbed");
    let args = [
        "nest", "job.json", "--laser", "--kerf", "0.2 mm", "--stock", "5x10 ft", "--json",
    ];
    let data = shop.run(&args).json();
    assert_eq!(data["nesting"]["cutting"], "laser");
    assert_eq!(data["nesting"]["kerf_mm"], 0.2);
    assert_eq!(data["nesting"]["stocks"][0]["buy"][0]["size"], "5x10 ft");
    assert_eq!(
        shop.read("job.json"),
        example_text("orchard-flatbed"),
        "the job stays as it is"
    );
}

#[test]
fn a_part_that_fits_nothing_ends_with_one() {
    let shop = with_parts("A1,1,20 ft,4 ft,sheet\nA2,1,10,10,sheet\n");
    let ended = shop.run(&["nest", "parts.csv"]);
    assert_eq!(ended.code, Some(1));
    assert!(
        ended.out.contains("A1 x1 left out, larger than every sheet"),
        "{}",
        ended.out
    );
    assert!(
        ended.err.contains("  fix: add stock that is large enough"),
        "{}",
        ended.err
    );
}

#[test]
fn every_slip_of_a_list_is_told_by_its_line() {
    let shop = with_parts("mark,off,length,width,stock\nA1,none,30,12,s\nA2,1,30 5/6,12,s\n");
    let told = shop.run(&["nest", "parts.csv"]);
    assert_eq!((told.code, told.out.as_str()), (Some(2), ""));
    for words in [
        "parts.csv, line 2, number off: \"none\" is not a whole number from 1 to 10000\n  fix: ",
        "parts.csv, line 3, length: ",
        "error: parts.csv: 2 faults, 0 lines could be read\n  fix: ",
    ] {
        assert!(told.err.contains(words), "{words} is not in {}", told.err);
    }
}

#[rstest]
#[case::wide_rod(&["--stock", "rod 1x2 m"], "is a rod with a width")]
#[case::no_size(&["--stock", "big"], "--stock: \"big\" is no size")]
#[case::negative_kerf(&["--kerf=-1"], "--kerf: kerf:")]
#[case::thick_kerf(&["--kerf", "3 in"], "--kerf: kerf: 3 in is too much; at most")]
#[case::trim(&["--trim", "wide"], "--trim: edge trim:")]
fn what_makes_no_sense_is_refused(#[case] more: &[&str], #[case] words: &str) {
    let shop = with_parts(PARTS);
    let args = [&["nest", "parts.csv"][..], more].concat();
    let told = shop.run(&args).refused();
    assert!(told.contains(words), "{told}");
}

#[rstest]
#[case::both(&["nest", "parts.csv", "--shear", "--laser"])]
#[case::no_work(&["nest", "parts.csv", "--work", "0"])]
#[case::no_file(&["nest", "away.csv"])]
#[case::empty(&["nest", "-"])]
fn wrong_use_prints_no_data(#[case] args: &[&str]) {
    let ended = with_parts(PARTS).run(args);
    assert_eq!((ended.code, ended.out.as_str()), (Some(2), ""), "{}", ended.err);
}
