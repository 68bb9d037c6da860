//! Glands for the cables that leave boxes.

use crate::shop::Shop;

#[test]
fn glands_are_proposed_and_let_in_when_told_to() {
    let shop = Shop::with("orchard-flatbed");
    let before = shop.read("job.json");
    let told = shop.run(&["glands", "job.json"]);
    assert!(
        told.out.contains("left box:") && told.out.contains("sizes: usual metric glands"),
        "{}",
        told.out
    );
    let first = told.out.lines().find(|line| line.contains(" along, ")).unwrap();
    let after = first.split(" wall, ").nth(1).unwrap();
    let [inches, mm] = ["\" (", " mm) along"].map(|sign| after.find(sign));
    assert!(inches.unwrap() < mm.unwrap(), "inches first: {first}");
    assert_eq!(shop.read("job.json"), before, "nothing is written unasked");
    let data = shop.run(&["glands", "job.json", "--json"]).json();
    let boxes = data["boxes"].as_array().unwrap();
    let count = |list: &str| boxes.iter().map(|b| b[list].as_array().unwrap().len()).sum::<usize>();
    assert!(count("glands") > 0);
    let ended = shop.run(&["glands", "job.json", "--write"]);
    assert!(ended.err.contains("saved in"), "{}", ended.err);
    let job = job::load(shop.read("job.json").as_bytes()).unwrap();
    let let_in: usize = job.boxes.iter().map(|b| b.fittings.len()).sum();
    assert_eq!(let_in, count("glands"));
    let again = shop.run(&["glands", "job.json"]);
    assert!(!again.out.contains(" along, "), "{}", again.out);
}

#[test]
fn standard_input_cannot_be_written_to() {
    let refused = Shop::new().feed(&["glands", "-", "--write"], "{}").refused();
    assert!(refused.contains("--write"), "{refused}");
}
