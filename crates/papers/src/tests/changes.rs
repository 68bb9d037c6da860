//! What changed since the shop got its papers, as a page.

use job::changes::{changes, issue};
use job::{Edit, Field};

use super::*;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).unwrap()
}

fn issued(job: &Job, date: &str) -> Job {
    job.with(&issue(job, &evaluate(job), date, None).unwrap()).unwrap()
}

#[test]
fn the_page_tells_what_differs_from_what_the_shop_has_and_what_that_changed() {
    let job = job("orchard-flatbed");
    assert_eq!(changes_html(&evaluate(&job), ""), None, "nothing was issued");
    let first = issued(&job, "2026-03-09");
    let page = changes_html(&evaluate(&first), "2026-03-09").unwrap();
    assert!(
        page.contains("<h2>revision A of 2026-03-09: this is it, nothing differs</h2>"),
        "{page}"
    );

    let changed = set(&first, Field::Lid, "3 mm");
    let page = changes_html(&evaluate(&changed), "2026-03-10").unwrap();
    assert!(page.contains("not issued yet"));
    for part in evaluate(&changed)
        .issued
        .unwrap()
        .changed
        .boxes
        .iter()
        .flat_map(|b| &b.parts)
    {
        assert!(
            page.contains(&format!("<td>{}</td>", part.mark)),
            "{} is missing",
            part.mark
        );
    }
    let second = issued(&changed, "2026-03-10");
    let page = changes_html(&evaluate(&second), "2026-03-10").unwrap();
    assert!(page.contains("<h2>revision B of 2026-03-10 against revision A of 2026-03-09: "));
    let files = papers_of(&second, "2026-03-10");
    assert!(files.iter().any(|paper| paper.file_name == "changes.html"));
    assert!(crate::catalog(&files).iter().any(|entry| entry.title == "what changed"));
}

#[test]
fn text_and_data_of_a_comparison_tell_the_same_parts() {
    let old = job("harbour-tender");
    let new = set(&old, Field::Wall, "5 mm");
    let found = changes(&old, &evaluate(&old), &new, &evaluate(&new));
    let text = changes_text(["a", "b"], &found, &[]);
    let data = changes_json(&found, &[]);
    let boxes = data["shop"]["boxes"].as_array().unwrap();
    assert!(!boxes.is_empty());
    for part in boxes.iter().flat_map(|b| b["parts"].as_array().unwrap()) {
        let line = format!(
            "  {} {}",
            part["mark"].as_str().unwrap(),
            part["name"].as_str().unwrap()
        );
        assert!(text.contains(&line), "{line} is not in\n{text}");
    }
    assert!(text.contains("\nentered\n  wall "), "{text}");
}
