//! Lengths as people write them.

use insta::assert_snapshot;
use rstest::rstest;
use serde_json::Value;

use crate::shop::Shop;

#[rstest]
#[case::quoted(&["41 5/8\""])]
#[case::unquoted(&["41", "5/8"])]
#[case::with_units(&["41", "5/8", "--units", "in"])]
#[case::units_first(&["--units", "in", "41-5/8"])]
#[case::other_units(&["--units", "mm", "41 5/8 in"])]
#[case::feet(&["3' 5 5/8\""])]
#[case::metric(&["1057.275 mm"])]
fn one_length_in_many_forms(#[case] args: &[&str]) {
    let shop = Shop::new();
    let text = shop.run(&[&["length"], args].concat()).quiet();
    let value = |name: &str| {
        text.lines()
            .find_map(|l| l.strip_prefix(name))
            .expect("the line is there")
            .trim()
            .to_owned()
    };
    // 1 in = 25.4 mm exactly.
    assert_eq!(value("inches"), "41 5/8\"");
    assert_eq!(value("decimal"), "41.625 in");
    assert_eq!(value("metric"), "1057.275 mm");
    assert_eq!(value("exactly"), "1057275000 nm");
    let json = shop.run(&[&["length", "--json"], args].concat()).json();
    assert_eq!(json["nm"], 1_057_275_000_i64);
    assert_eq!(json["mm"], 1057.275);
    assert_eq!(json["inches"], 41.625);
    assert_eq!(json["inches_fraction"], "41 5/8\"");
    assert_eq!(json["plus_minus_mm"], Value::Null);
}

#[test]
fn lengths_as_printed() {
    let shop = Shop::new();
    let lengths = ["1058 mm +- 1", "-3/4", "41 5/8 +- 1/16"];
    let printed = lengths.map(|text| shop.run(&["length", text]).quiet());
    assert_snapshot!(printed.join("\n"));
}

#[test]
fn a_length_between_the_marks_has_no_fraction() {
    let shop = Shop::new();
    let json = shop.run(&["length", "100", "--units", "mm", "--json"]).json();
    assert_eq!(
        (&json["inches_fraction"], &json["nm"]),
        (&Value::Null, &100_000_000_i64.into())
    );
    // 100 mm / 25.4 = 3.937 in, and 3.937 x 64 = 251.97.
    let text = shop.run(&["length", "100", "--units", "mm"]).quiet();
    assert!(text.contains("between 3 59/64\" and 3 15/16\""), "{text}");
}

#[test]
fn refused_lengths_show_the_place() {
    let shop = Shop::new();
    let texts = ["415/8", "41 5/6", "41 - 5/8", "1,058", "", "41 cubits"];
    let refusals = texts.map(|text| shop.run(&["length", text]).refused());
    assert_snapshot!(refusals.join("\n"));
}
