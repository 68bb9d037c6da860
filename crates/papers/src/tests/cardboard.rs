//! The words on cardboard templates: they have to hold for each piece and for whoever folds it.

use job::evaluate;
use tape::Length;

use super::job;

use crate::templates::{FaceSheet, faces};

fn faces_of(job: &job::Job) -> Vec<FaceSheet> {
    let evaluation = evaluate(job);
    faces(&evaluation, &evaluation.boxes[0]).unwrap()
}

fn named<'a>(faces: &'a [FaceSheet], name: &str) -> &'a FaceSheet {
    faces
        .iter()
        .find(|face| face.name == name)
        .unwrap_or_else(|| panic!("no {name}: {:?}", faces.iter().map(|f| &f.name).collect::<Vec<_>>()))
}

fn says(face: &FaceSheet) -> String {
    face.says.join("; ")
}

/// The front end is drawn as seen from the rear, so its print faces into the box and its tabs go towards the print; those of
/// the rear end go away from it. A step at either leaves a shorter wall there.
#[test]
fn tabs_of_ends_fold_into_the_box() {
    const FRONT: [&str; 2] = ["into the box", "fold rearward, towards the print"];
    const REAR: [&str; 2] = ["out of the box", "fold forward, away from the print"];
    let jobs = crate::tests::stepped();
    for (job, names) in jobs.iter().zip([
        ["front end, at the step", "rear end, across from the step"],
        ["front end, across from the step", "rear end, at the step"],
    ]) {
        let faces = faces_of(job);
        for (name, words) in names.into_iter().zip([FRONT, REAR]) {
            let said = says(named(&faces, name));
            assert!(words.iter().all(|words| said.contains(words)), "{name}: {said}");
        }
    }
    for job in &jobs[2..4] {
        let faces = faces_of(job);
        for (own, piece) in [
            ("left", "print faces out of the box"),
            ("right", "print faces into the box"),
        ] {
            let side = faces
                .iter()
                .find(|face| face.name.starts_with(&format!("{own} side,")))
                .unwrap();
            assert!(says(side).contains(piece), "{own}: {}", says(side));
        }
    }
}

/// Ends that are alike stand on one sheet, which tells of both.
#[test]
fn one_sheet_for_two_pieces_tells_of_both() {
    let faces = faces_of(&crate::tests::job("harbour-tender"));
    for (name, words) in [
        (
            "end x 2",
            ["as rear end the print faces out of the box", "as front end into it"],
        ),
        (
            "end x 2",
            ["of the rear end: fold forward, away", "of the front end: rearward"],
        ),
        (
            "side x 2",
            ["as left side the print faces out of the box", "as right side into it"],
        ),
    ] {
        let said = says(named(&faces, name));
        assert!(words.iter().all(|words| said.contains(words)), "{said}");
    }
}

/// Where the step is, which way the upper tab of the riser goes, and those at its ends: the raised floor is on the side of the
/// step, walls that reach down to the deep floor on the other. The print faces the rear or the left.
#[rstest::rstest]
#[case::front(0, "into", "forward, away from", "rearward, towards")]
#[case::rear(1, "out of", "rearward, towards", "forward, away from")]
#[case::left(2, "out of", "to the left, towards", "to the right, away from")]
#[case::right(3, "into", "to the right, away from", "to the left, towards")]
fn tabs_of_a_riser_go_both_ways(#[case] at: usize, #[case] print: &str, #[case] upper: &str, #[case] ends: &str) {
    let faces = faces_of(&crate::tests::stepped()[at]);
    let said = says(named(&faces, "riser"));
    for words in [
        format!("print faces {print} the deep part"),
        format!("upper tab: fold {upper} the print"),
        format!("tabs at its ends: fold {ends} the print"),
    ] {
        assert!(said.contains(&words), "{said}");
    }
}

/// Whoever folds a tab has the print before their eyes.
#[test]
fn every_fold_is_told_from_the_print() {
    for job in crate::tests::in_every_way() {
        for face in faces_of(&job) {
            for line in face
                .says
                .iter()
                .filter(|line| line.contains("fold ") && line.contains("tab"))
            {
                assert!(line.contains("the print"), "{}: {line}", face.name);
            }
        }
    }
}

/// In an inch job inches come first: 250 x 100 mm is 9 13/16" x 3 15/16" to the sixteenth.
#[test]
fn sizes_are_told_in_the_persons_own_unit_first() {
    let mut job = crate::tests::stepped().remove(4);
    let texts = |job: &job::Job| {
        let evaluation = evaluate(job);
        let faces = faces(&evaluation, &evaluation.boxes[0]).unwrap();
        let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
        let notched = lines.filter(|line| line.notch().is_some());
        let names: Vec<String> = notched.map(|line| crate::row::name(&evaluation, line)).collect();
        (says(named(&faces, "lid")), names.join("; "))
    };
    let (lid, names) = texts(&job);
    assert!(lid.contains("25.0 mm (1\") beyond the body"), "{lid}");
    assert!(
        names.contains(", less 250.0 x 100.0 mm (9 7/8\" x 3 15/16\") at"),
        "{names}"
    );
    job.units = job::UnitsName::Inch;
    let (lid, names) = texts(&job);
    assert!(lid.contains("1\" (25.0 mm) beyond the body"), "{lid}");
    assert!(
        names.contains(", less 9 7/8\" x 3 15/16\" (250.0 x 100.0 mm) at"),
        "{names}"
    );
}

/// A liner that is cut round strips and lugs says so where it is cut: on the cut list and on the pattern of each of its sheets.
#[test]
fn a_liner_that_is_cut_in_place_says_so_where_it_is_cut() {
    let job = crate::tests::dressed("orchard-flatbed", job::ConstructionName::Welded, job::Closing::Flange);
    let evaluation = evaluate(&job);
    let words = evaluation.boxes[0].added.liner.words().expect("strips are welded in");
    assert!(
        words.starts_with("the liner's sheets are cut in place round what is fixed to the steel ("),
        "{words}"
    );
    let told = format!("{}: {words}: {}", evaluation.boxes[0].name, job::LinerResult::HOW);
    let nesting = job::shopping::to_buy(&job, &evaluation);
    for paper in [
        crate::cutlist_html(&evaluation, &nesting, ""),
        crate::cutlist_markdown(&evaluation, &nesting),
    ] {
        assert!(
            paper.contains(&told.replace('\'', "&#39;")) || paper.contains(&told),
            "{told}"
        );
    }
    let pages = crate::patterns::pages(&evaluation, "");
    let lines: Vec<_> = evaluation
        .cut
        .list
        .tables
        .iter()
        .flat_map(|table| &table.lines)
        .collect();
    let has = |page: &plot::Page, part: &str| {
        page.items
            .iter()
            .any(|item| matches!(item, plot::Item::Text(text) if text.words.contains(part)))
    };
    let lining = lines.iter().filter(|line| line.is_liner());
    for line in lining.clone() {
        let page = pages.iter().find(|page| has(page, &line.mark)).unwrap();
        assert!(has(page, "cut in place"), "{}", line.mark);
    }
    assert!(lining.count() > 0);
    let steel = lines.iter().find(|line| !line.is_liner()).unwrap();
    assert!(!has(
        pages.iter().find(|page| has(page, &steel.mark)).unwrap(),
        "cut in place"
    ));
}

/// A size over all says in the same words on every paper whether screw heads are in it. The orchard's boxes are 255.5 mm high to
/// the top of the lid, 10.059" and so 10 1/16" up to the sixteenth; their heads of 5 mm stand over that: 260.5 mm, 10.256", 10 5/16".
#[test]
fn every_size_over_all_says_whether_screw_heads_are_in_it() {
    let job = crate::tests::job("orchard-flatbed");
    let evaluation = evaluate(&job);
    let papers = super::papers_of(&job, "1 May");
    let mut told = 0;
    for paper in &papers {
        let Ok(text) = std::str::from_utf8(paper.content.as_ref()) else {
            continue;
        };
        let text: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for (at, _) in text.match_indices("over all") {
            let after = &text[at + "over all".len()..];
            let is_told = [" with screw heads", " without screw heads", " cavities"]
                .iter()
                .any(|words| after.starts_with(words));
            assert!(
                is_told,
                "{}: over all{}",
                paper.file_name,
                after.chars().take(30).collect::<String>()
            );
            told += usize::from(after.starts_with(" with"));
        }
    }
    assert!(told > 6, "{told}");
    let over = crate::words::OverAll::of(&evaluation, &evaluation.boxes[0]).unwrap();
    let [without, with] = over.told(&evaluation);
    assert!(
        without.ends_with("x 10 1/16\" over all without screw heads"),
        "{without}"
    );
    assert!(with.ends_with("x 10 5/16\" over all with screw heads"), "{with}");
    let words = |pages: &[plot::Page], part: &str| {
        let mut items = pages.iter().flat_map(|page| &page.items);
        items.any(|item| matches!(item, plot::Item::Text(text) if text.words.contains(part)))
    };
    let layout = crate::layout_sheet::pages(&job, &evaluation, "").unwrap();
    assert!(words(&layout, drawing::WITH_HEADS) && words(&layout, drawing::WITHOUT_HEADS));
    let drawn = crate::box_drawing(&evaluation, &evaluation.boxes[0], "", plot::Paper::Tabloid).unwrap();
    assert!(words(&drawn, "height 10 5/16\" (260.5) with screw heads"));
}

/// A hole in the middle of a wall, where the title would stand: the words go beside it.
#[test]
fn no_hole_lies_over_the_words_of_a_face() {
    let mut job = job("orchard-flatbed");
    let into = job.boxes[0].id;
    let inside = evaluate(&job).boxes[0].inside.unwrap().size();
    let middle = [inside[geometry::Axis::X], inside[geometry::Axis::Z]].map(Length::half_down);
    job = job.with(&job::Edit::AddFitting { into, at: middle }).unwrap();
    let fitting = job.boxes[0].fittings[0].id;
    let values = [
        (job::Field::FittingWall(fitting), "left".to_owned()),
        (job::Field::FittingAlong(fitting), format!("{} mm", middle[0].as_mm())),
        (job::Field::FittingUp(fitting), format!("{} mm", middle[1].as_mm())),
    ];
    for (field, text) in values {
        job = job.with(&job::Edit::Set { field, text }).unwrap();
    }
    let evaluation = evaluate(&job);
    let faces = crate::templates::faces(&evaluation, &evaluation.boxes[0]).unwrap();
    let side = faces.iter().find(|face| !face.holes().is_empty()).unwrap();
    let written = crate::templates::written(&evaluation, &evaluation.boxes[0], side);
    for words in written {
        for hole in side.mark_bounds() {
            assert!(words.common(hole).is_none(), "{words:?} {hole:?}");
        }
    }
}
