//! The screens, where there is no terminal.

use rstest::rstest;

use crate::shop::Shop;

#[rstest]
#[case::start_page(&[])]
#[case::a_file(&["job.json"])]
#[case::ascii(&["job.json", "--ascii"])]
#[case::an_example(&["example", "orchard-flatbed", "--open"])]
#[case::standard_input(&["-"])]
fn the_screens_are_refused_without_a_terminal(#[case] args: &[&str]) {
    let shop = Shop::with("orchard-flatbed");
    let refusal = shop.run(args).refused();
    assert!(refusal.contains("packwright check"), "{refusal}");
    assert_eq!(shop.names(), ["job.json"]);
}
