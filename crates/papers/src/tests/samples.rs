//! The papers of the examples kept in `docs/papers`, each in a folder of its own, so that they can be looked at without running anything: they are what the program
//! writes now. `PACKWRIGHT_UPDATE=1 cargo test -p papers samples` writes them anew.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use super::{job, papers_of};

/// A bare welded box on a flange, capped boxes with clamped stacks, and long low boxes of aluminium in millimetres.
const KEPT_OF: [&str; 3] = ["orchard-flatbed", "mountain-rescue", "harbour-tender"];
const DATE: &str = "2026-05-01";
/// What is kept: pages to print. Pictures, data and files for machines are left out, and so is the dossier, which binds the
/// others.
const KEPT: [&str; 2] = ["pdf", "html"];
/// How many bytes all of one example may take.
const MOST: usize = 3_000_000;

#[test]
fn the_samples_are_what_is_written() {
    KEPT_OF.into_iter().for_each(samples_of);
}

fn samples_of(example: &str) {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../docs/papers")
        .join(example);
    let papers: Vec<_> = papers_of(&job(example), DATE)
        .into_iter()
        .filter(|paper| {
            KEPT.iter()
                .any(|ending| paper.file_name.ends_with(&format!(".{ending}")))
        })
        .filter(|paper| paper.file_name != "dossier.html")
        .collect();
    let bytes: usize = papers.iter().map(|paper| paper.content.as_ref().len()).sum();
    assert!(bytes < MOST, "{bytes} bytes");
    let is_kept = |name: &String| KEPT.iter().any(|ending| name.ends_with(&format!(".{ending}")));
    let there = || -> BTreeSet<String> {
        let entries = fs::read_dir(&folder).into_iter().flatten();
        let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
        names.filter(is_kept).collect()
    };
    if std::env::var_os("PACKWRIGHT_UPDATE").is_some() {
        fs::create_dir_all(&folder).unwrap();
        for name in there() {
            fs::remove_file(folder.join(name)).unwrap();
        }
        for paper in &papers {
            fs::write(folder.join(&paper.file_name), paper.content.as_ref()).unwrap();
        }
    }
    let names: BTreeSet<String> = papers.iter().map(|paper| paper.file_name.clone()).collect();
    assert_eq!(
        there(),
        names,
        "docs/papers/{example}: PACKWRIGHT_UPDATE=1 cargo test -p papers samples"
    );
    for paper in &papers {
        let kept = fs::read(folder.join(&paper.file_name)).unwrap();
        assert!(
            kept == paper.content.as_ref(),
            "{example}/{} differs: PACKWRIGHT_UPDATE=1 cargo test -p papers samples, and look at it",
            paper.file_name
        );
    }
}
