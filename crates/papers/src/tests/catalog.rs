//! Which papers there are to choose from, and how they begin.

use super::*;

#[test]
fn every_file_of_the_examples_belongs_to_one_paper_with_a_title_and_a_reader() {
    for example in EXAMPLES {
        let papers = papers_of(&job(example.name), "");
        let entries = crate::catalog(&papers);
        let mut files: Vec<usize> = entries.iter().flat_map(|entry| entry.files.clone()).collect();
        files.sort_unstable();
        assert_eq!(files, (0..papers.len()).collect::<Vec<_>>(), "{}", example.name);
        let data: Vec<&str> = entries
            .iter()
            .filter(|entry| entry.reader == Reader::Data)
            .map(|entry| entry.key.as_str())
            .collect();
        assert_eq!(data, ["evaluation"], "every other paper has a row in the table");
        assert!(entries.is_sorted_by_key(|entry| entry.reader));
    }
}

#[test]
fn the_papers_of_the_orchard_flatbed_by_reader() {
    let papers = papers_of(&job("orchard-flatbed"), "");
    let lines: Vec<String> = crate::catalog(&papers)
        .iter()
        .map(|entry| {
            let first = &papers[entry.files[0]];
            let heading = entry.reader.heading();
            let count = entry.files.len();
            format!(
                "{heading}: {} ({count}, {}): {}",
                entry.title,
                first.file_name,
                glance(first).form
            )
        })
        .collect();
    insta::assert_snapshot!(lines.join("\n"));
}

#[test]
fn a_drawing_says_how_many_sheets_it_has_as_a_reader_of_its_pages_counts_them() {
    let job = job("orchard-flatbed");
    let evaluation = evaluate(&job);
    let battery_box = &evaluation.boxes[0];
    let paper = drawing_paper(&evaluation);
    let pages = box_drawing(&evaluation, battery_box, "", paper).unwrap();
    let bytes = box_drawing_pdf(&evaluation, battery_box, "", paper).unwrap();
    let seen = glance(&Paper {
        file_name: "drawing.pdf".to_owned(),
        content: Content::Bytes(bytes),
    });
    let page = &pages[0];
    let off_mm = [page.width_mm - 17.0 * 25.4, page.height_mm - 11.0 * 25.4];
    assert!(off_mm.iter().all(|off| off.abs() < 0.01), "{off_mm:?}");
    // In an inch job the sheet has its name in inches.
    let expected = format!("{} sheets of 17 x 11 in", pages.len());
    assert!(seen.form.contains(&expected), "{} has not {expected}", seen.form);
}

#[test]
fn a_page_begins_with_its_heading_and_has_the_first_row_of_its_table() {
    let evaluation = evaluation("orchard-flatbed");
    let papers = papers_of(&job("orchard-flatbed"), "");
    let list = papers.iter().find(|paper| paper.file_name == "cut-list.html").unwrap();
    let seen = glance(list);
    assert!(seen.lines[0].starts_with("Cut list: "), "{:?}", seen.lines);
    let mark = &evaluation.cut.list.tables[0].lines[0].mark;
    assert!(seen.lines.iter().any(|line| line.starts_with(&format!("{mark}  "))));
}
