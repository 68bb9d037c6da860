//! What differs between two jobs, and what was issued.

use crate::shop::Shop;

/// A shop with the orchard flatbed in `job.json`, and the same with another lid in `new.json`.
fn two() -> Shop {
    let shop = Shop::with("orchard-flatbed");
    let changed = shop
        .read("job.json")
        .replace("\"lid\": \"2.0 mm\"", "\"lid\": \"3.0 mm\"");
    std::fs::write(shop.path().join("new.json"), changed).unwrap();
    shop
}

#[test]
fn two_jobs_are_compared_big_facts_first() {
    let shop = two();
    let told = shop.run(&["changes", "job.json", "new.json"]).quiet();
    insta::assert_snapshot!("changes", told);
    let same = shop.run(&["changes", "job.json", "job.json"]).quiet();
    assert!(same.ends_with("\n\nnothing differs\n"), "{same}");
    let data = shop.run(&["changes", "job.json", "new.json", "--json"]).json();
    assert_eq!(data["differs"], true);
    assert_eq!(data["entries"].as_array().unwrap().len(), 1);
    assert_eq!(data["entries"][0]["before"], "2.0 mm");
    assert_eq!(
        shop.run(&["changes", "job.json", "job.json", "--json"]).json()["differs"],
        false
    );
}

#[test]
fn an_issue_raises_the_letter_and_what_changes_after_it_is_told() {
    let shop = Shop::with("orchard-flatbed");
    let refused = shop.run(&["changes", "job.json"]).refused();
    assert!(refused.contains("nothing was issued of this job"), "{refused}");

    let first = shop.run(&["issue", "job.json"]);
    assert_eq!((first.code, first.out.as_str()), (Some(0), "revision A issued\n"));
    assert!(first.err.starts_with("saved in job.json; "), "{}", first.err);
    let again = shop.run(&["issue", "job.json"]).refused();
    assert!(again.contains("the shop has revision A of "), "{again}");
    assert!(
        shop.run(&["changes", "job.json"])
            .quiet()
            .ends_with("\n\nnothing differs\n")
    );

    let changed = shop
        .read("job.json")
        .replace("\"lid\": \"2.0 mm\"", "\"lid\": \"3.0 mm\"");
    std::fs::write(shop.path().join("job.json"), changed).unwrap();
    let told = shop.run(&["changes", "job.json"]).quiet();
    assert!(
        told.contains("lid plate: from mild steel 2 mm sheet -> mild steel 3 mm sheet"),
        "{told}"
    );
    let papers = shop.run(&["papers", "job.json", "--to", "out", "--only", "changes"]);
    assert_eq!(papers.code, Some(0), "{}", papers.err);
    assert!(
        papers
            .err
            .starts_with("caution: the shop has papers of revision A with other parts: "),
        "{}",
        papers.err
    );
    assert!(shop.read("out/changes.html").contains("not issued yet"));

    let second = shop.run(&["issue", "job.json"]);
    assert!(
        second.out.starts_with("revision B issued; against revision A: "),
        "{}",
        second.out
    );
    let papers = shop.run(&["papers", "job.json", "--to", "out", "--only", "changes"]);
    assert_eq!((papers.code, papers.err.as_str()), (Some(0), ""));
    assert!(shop.read("out/changes.html").contains("against revision A of "));
    assert!(shop.names().contains(&"job.json.bak".to_owned()));
}

#[test]
fn a_letter_may_be_given_once() {
    let shop = Shop::with("orchard-flatbed");
    let first = shop.run(&["issue", "job.json", "--revision", "c"]);
    assert_eq!(first.out, "revision C issued\n", "letters are capitals");
    let changed = shop
        .read("job.json")
        .replace("\"lid\": \"2.0 mm\"", "\"lid\": \"3.0 mm\"");
    std::fs::write(shop.path().join("job.json"), changed).unwrap();
    let before = shop.read("job.json");
    for (letter, why) in [
        ("C", "revision C was issued before"),
        ("B", "B comes before C, which was issued"),
        ("P1", "\"P1\" is no revision: letters A to Z"),
        (" ", "an empty text is no revision"),
    ] {
        let refused = shop.run(&["issue", "job.json", "--revision", letter]);
        assert!(refused.refused().contains(why), "{letter}");
    }
    assert!(
        shop.run(&["issue", "-"])
            .refused()
            .contains("standard input cannot be written to")
    );
    assert_eq!(shop.read("job.json"), before, "nothing was saved");
}
