//! The drawing of a box: its sheets, what is read on them, and that its sizes are those of the box.

use enclosure::Purpose;
use geometry::Axis;
use job::{ConstructionName, Edit, Evaluation, Field, evaluate};
use plot::{Item, Orientation, Page, Paper};
use tape::Length;

use super::{in_every_way, job, papers_of};
use crate::{box_drawing, box_drawing_pdf, drawing_paper, words};

/// The examples in every way, bare and with all that can be added, each with something let into its walls.
fn every() -> impl Iterator<Item = (job::Job, Evaluation)> {
    in_every_way().into_iter().map(|job| {
        let job = fitted_out(&job);
        let evaluation = evaluate(&job);
        (job, evaluation)
    })
}

/// The job with something let into every wall, the floor and the lid of its first box.
pub(super) fn fitted_out(bare: &job::Job) -> job::Job {
    let inside = evaluate(bare).boxes[0].inside.unwrap().size();
    let at = |axes: [Axis; 2], shares: [i64; 2]| [0, 1].map(|i| Length::from_nm(inside[axes[i]].nm() / 8 * shares[i]));
    let into = bare.boxes[0].id;
    let mut job = bare.clone();
    for (wall, what, at) in [
        ("front", "cable gland", at([Axis::Y, Axis::Z], [4, 4])),
        ("rear", "cable gland", at([Axis::Y, Axis::Z], [4, 4])),
        ("left", "breather", at([Axis::X, Axis::Z], [3, 4])),
        ("right", "disconnect", at([Axis::X, Axis::Z], [3, 4])),
        ("bottom", "drain", at([Axis::X, Axis::Y], [2, 3])),
        ("top", "lifting eye", at([Axis::X, Axis::Y], [5, 4])),
    ] {
        job = job.with(&Edit::AddFitting { into, at }).unwrap();
        let id = job.boxes[0].fittings.last().unwrap().id;
        for (field, text) in [(Field::FittingWall(id), wall), (Field::FittingWhat(id), what)] {
            let text = text.to_owned();
            job = job.with(&Edit::Set { field, text }).unwrap();
        }
        let hole = Length::mm(20);
        job.boxes[0].fittings.last_mut().unwrap().hole = Some(job::Len::exactly(hole, tape::Units::Millimetre));
    }
    job
}

/// What is let into a wall is drawn where it is, counted in the cut list and named wherever holes are listed.
#[test]
fn every_hole_is_drawn_and_told_what_it_is_for() {
    for (job, evaluation) in every() {
        let battery_box = &evaluation.boxes[0];
        let name = format!("{} {:?}", evaluation.name, job.design.construction);
        let faults: Vec<_> = battery_box.fittings.iter().filter_map(|f| f.fault.as_ref()).collect();
        assert_eq!(faults, Vec::<&String>::new(), "{name}");
        let assembly = drawing::assembly(&evaluation, battery_box).unwrap();
        assert_eq!(assembly.openings.len(), 6);
        let all = plot::svg(&box_drawing(&evaluation, battery_box, "1 May", Paper::A3).unwrap()[0]);
        let seen = |side| {
            assembly
                .openings
                .iter()
                .filter_map(|o| assembly.seen(o, side))
                .collect::<Vec<_>>()
        };
        for side in drawing::Side::ALL {
            let hidden: Vec<bool> = seen(side).iter().map(|seen| seen.hidden).collect();
            assert_eq!(hidden.len(), 2, "{name}: one wall faces, one lies behind");
            assert!(hidden.contains(&true), "{name}");
            assert!(hidden.contains(&false), "{name} {side:?}");
        }
        for number in 1..=6 {
            assert_eq!(all.matches(&format!(">H{number}<")).count(), 1, "{name} H{number}");
        }
        let holes = crate::holes_csv(&evaluation);
        let listed = |purpose: Purpose| {
            let ending = format!(",{}", purpose.name());
            let of_steel = |line: &&str| line.ends_with(&ending) && !line.contains("liner");
            holes.lines().filter(of_steel).count()
        };
        let letter = &assembly.letter;
        for (purpose, count) in [
            (Purpose::CableGland, 2),
            (Purpose::Breather, 1),
            (Purpose::Disconnect, 1),
            (Purpose::Drain, 1),
            // In the wall, and in the plate under it.
            (Purpose::LiftingEye, 2),
        ] {
            assert_eq!(listed(purpose), count, "{name} {letter} {}", purpose.name());
        }
        let rivets = job.design.construction == Some(ConstructionName::Framed);
        assert_eq!(listed(Purpose::SunkRivet) > 0, rivets);
        let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
        let each = lines.map(|line| line.holes.len()).sum::<usize>();
        assert_eq!(holes.lines().count(), 1 + each, "a row for each hole");
    }
}

/// The signs of welds carry the numbers, sizes and counts of the weld map, each once.
#[test]
fn seams_have_the_numbers_of_the_weld_map() {
    for (_, evaluation) in every() {
        let map = crate::weld_map_html(&evaluation, "1 May");
        for battery_box in &evaluation.boxes {
            let welds = battery_box.welds.as_ref().unwrap();
            let page = &box_drawing(&evaluation, battery_box, "1 May", Paper::A3).unwrap()[0];
            let words: Vec<String> = texts(page).into_iter().map(|(words, _)| words).collect();
            assert!(!welds.seams.is_empty());
            for seam in &welds.seams {
                let marks = |role| {
                    let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
                    lines
                        .filter(move |line| line.box_name == battery_box.name && line.roles.contains(&role))
                        .count()
                };
                assert!(
                    seam.joins.into_iter().all(|role| marks(role) > 0),
                    "parts of seam {}",
                    seam.number
                );
                let tail = format!("{}: {} off", seam.number, seam.count);
                assert_eq!(words.iter().filter(|w| **w == tail).count(), 1, "{tail}");
                assert!(map.contains(&format!("<td>{}</td><td>{}", seam.number, seam.joins[0].name())));
            }
            let tails = words.iter().filter(|w| w.contains(": ") && w.ends_with(" off")).count();
            assert_eq!(tails, welds.seams.len());
        }
    }
}

/// Texts with the space they take; words on a slope are left out.
fn texts(page: &Page) -> Vec<(String, plot::Rect)> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Text(text) => Some((text.words.clone(), item.bounds()?.grown(-0.35))),
            _ => None,
        })
        .collect()
}

#[test]
fn every_box_has_its_sheets_and_they_read_back() {
    for (job, evaluation) in every() {
        let papers = papers_of(&job, "1 May");
        let ending = |p: &&crate::Paper| {
            let (name, ending) = p.file_name.split_once('.').unwrap();
            name.starts_with("drawing-") && ending == "pdf"
        };
        let files: Vec<_> = papers.iter().filter(ending).collect();
        let boxes: Vec<_> = evaluation.boxes.iter().filter(|b| b.built.is_some()).collect();
        assert_eq!(files.len(), boxes.len());
        for (paper, battery_box) in files.into_iter().zip(boxes) {
            let size = drawing_paper(&evaluation);
            let pages = box_drawing(&evaluation, battery_box, "1 May", size).unwrap();
            let document = lopdf::Document::load_mem(paper.content.as_ref()).unwrap();
            let numbers: Vec<u32> = document.get_pages().into_keys().collect();
            assert_eq!(numbers.len(), pages.len());
            let [width, height] = size.size_mm(Orientation::Landscape);
            assert!(pages.iter().all(|p| p.width_mm >= width && p.height_mm >= height));
            let text = document.extract_text(&numbers).unwrap();
            for (words, sheet) in [
                ("seen from the left", "1 / "),
                ("parts list", "2 / "),
                ("kills", "ISO 13920"),
            ] {
                assert!(text.contains(words) && text.contains(sheet), "{words}");
            }
            let assembly = drawing::assembly(&evaluation, battery_box).unwrap();
            let letter = &assembly.letter;
            for line in evaluation.cut.list.tables.iter().flat_map(|table| &table.lines) {
                if line.mark.starts_with(letter) && line.box_name == battery_box.name {
                    let drawn = pages.iter().flat_map(texts).filter(|(words, _)| *words == line.mark);
                    let placed = assembly
                        .added()
                        .iter()
                        .filter(|item| item.piece.mark == line.mark)
                        .count();
                    assert_eq!(drawn.count(), 2 + placed, "{} in balloon, list and places", line.mark);
                }
            }
            let svgs = papers
                .iter()
                .filter(|p| p.file_name.starts_with(paper.file_name.trim_end_matches(".pdf")));
            assert_eq!(svgs.count(), pages.len() + 1);
        }
    }
}

/// What is written as a size is what the box measures, and each outside size stands once.
#[test]
fn sizes_are_those_of_the_box() {
    for (_, evaluation) in every() {
        for battery_box in &evaluation.boxes {
            let pages = box_drawing(&evaluation, battery_box, "1 May", Paper::A3).unwrap();
            let words: Vec<String> = texts(&pages[0]).into_iter().map(|(words, _)| words).collect();
            let built = battery_box.built.as_ref().unwrap();
            let mm = |text: &str, length| text.contains(&words::tenth_mm(length));
            for length in &built.overall[..2] {
                assert!(words.iter().any(|w| mm(w, *length)), "{}", words::tenth_mm(*length));
            }
            assert_eq!(words.iter().any(|w| w.contains("holes ⌀")), built.lid_holes.is_some());
            if let Some(pattern) = built.lid_holes {
                for line in [pattern.line_length, pattern.line_width] {
                    assert!(
                        words
                            .iter()
                            .any(|w| (w.contains(" equal spaces in ") || w.starts_with("in ")) && mm(w, line)),
                        "{}: {words:#?}",
                        words::tenth_mm(line)
                    );
                }
            }
        }
    }
}

#[test]
fn no_words_lie_on_each_other_or_run_off_any_paper() {
    let mut faults = Vec::new();
    for (_, evaluation) in every() {
        for (battery_box, paper) in evaluation.boxes.iter().flat_map(|b| Paper::ALL.map(|paper| (b, paper))) {
            let pages = box_drawing(&evaluation, battery_box, "1 May", paper).unwrap();
            let pdf = box_drawing_pdf(&evaluation, battery_box, "1 May", paper).unwrap();
            assert!(pdf.starts_with(b"%PDF-1.7"));
            for (number, page) in pages.iter().enumerate() {
                let name = format!(
                    "{} {} on {} sheet {}",
                    evaluation.name,
                    battery_box.name,
                    paper.name(),
                    number + 1
                );
                let frame = plot::Rect::between([20.0, 10.0], [page.width_mm - 10.0, page.height_mm - 10.0]);
                let texts = texts(page);
                for item in &page.items {
                    let all = item.bounds().map_or(frame, |space| frame.with(space.grown(-0.01)));
                    assert_eq!(all, frame, "{name}: {item:?}");
                }
                let cut_off = texts
                    .iter()
                    .find(|(words, _)| words.ends_with('…') && words.contains(char::is_numeric));
                assert_eq!(cut_off, None, "{name}: a figure is cut off");
                for (index, (words, space)) in texts.iter().enumerate() {
                    for (other, its) in &texts[index + 1..] {
                        if space.common(*its).is_some() {
                            faults.push(format!("{name}: {words} / {other}"));
                        }
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

/// Holes of the rim that no piece has when it is cut are told wherever its pieces are cut or put together, and nowhere else.
#[test]
fn holes_drilled_after_welding_are_told_on_every_paper() {
    let mut told = [0; 2];
    for job in in_every_way() {
        let evaluation = evaluate(&job);
        let size = drawing_paper(&evaluation);
        let to_buy = job::shopping::to_buy(&job, &evaluation);
        let lists = [
            crate::cutlist_markdown(&evaluation, &to_buy),
            crate::cutlist_html(&evaluation, &to_buy, "1 May"),
        ];
        for battery_box in &evaluation.boxes {
            let built = battery_box.built.as_ref().unwrap();
            let count = built.holes_after_welding();
            told[usize::from(count > 0)] += 1;
            let says = |text: &str| text.contains("drilled through the lid after welding");
            let drawn = box_drawing(&evaluation, battery_box, "1 May", size).unwrap();
            let sheet: Vec<String> = texts(&drawn[0]).into_iter().map(|(words, _)| words).collect();
            assert_eq!(says(&sheet.join(" ")), count > 0);
            assert!(lists.iter().all(|list| says(list) == (count > 0)));
            let late = format!("{count} hole");
            assert!(count == 0 || lists.iter().all(|list| list.contains(&late)));
        }
        let pages = crate::patterns::pages(&evaluation, "1 May").into_iter();
        let after = |page: &Page| {
            texts(page)
                .iter()
                .any(|(words, _)| words.contains("On no piece of this rim"))
        };
        let rims = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
        let rims = rims.filter(|line| line.takes_the_lid()).count();
        let any = evaluation
            .boxes
            .iter()
            .any(|b| b.built.as_ref().unwrap().holes_after_welding() > 0);
        assert_eq!(pages.filter(after).count() >= rims && rims > 0, any && rims > 0);
    }
    assert!(
        told.iter().all(|&boxes| boxes > 0),
        "boxes without and with such holes: {told:?}"
    );
}

/// Which edge is which is told beside the piece wherever that matters, and no other words are.
#[test]
fn edges_are_named_on_their_patterns() {
    let mut named = 0;
    for job in in_every_way() {
        let evaluation = evaluate(&job);
        let pages = crate::patterns::pages(&evaluation, "1 May");
        let words: Vec<String> = pages.iter().flat_map(texts).map(|(words, _)| words).collect();
        let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
        let mut asked = std::collections::BTreeMap::<&str, usize>::new();
        for edge in lines.flat_map(|line| &line.edges).filter(|edge| !edge.is_empty()) {
            *asked.entry(*edge).or_default() += 1;
        }
        for (edge, count) in asked {
            let there = words.iter().filter(|words| *words == edge).count();
            assert!(there >= count, "{}: {edge}: {there} of {count}", evaluation.name);
            named += count;
        }
    }
    assert!(named > 100, "{named}");
}

#[test]
fn the_truck_bed_and_the_wiring_have_their_sheets() {
    for (job, evaluation) in every() {
        let papers = papers_of(&job, "1 May");
        let size = drawing_paper(&evaluation).size_mm(Orientation::Landscape);
        let read = |name: &str| {
            let paper = papers.iter().find(|paper| paper.file_name == name).unwrap();
            let document = lopdf::Document::load_mem(paper.content.as_ref()).unwrap();
            let pages: Vec<u32> = document.get_pages().into_keys().collect();
            let fonts = document.objects.values().filter_map(|object| object.as_dict().ok());
            assert!(
                fonts
                    .filter(|dict| dict.has(b"FontFile2") || dict.has(b"FontFile3"))
                    .count()
                    > 0
            );
            (pages.len(), document.extract_text(&pages).unwrap())
        };
        let (sheets, text) = read("layout-sheet.pdf");
        let pages = crate::layout_sheet::pages(&job, &evaluation, "1 May").unwrap();
        assert_eq!(sheets, pages.len());
        for page in &pages {
            let frame = plot::Rect::between([20.0, 10.0], [size[0] - 10.0, size[1] - 10.0]);
            for item in &page.items {
                let all = item.bounds().map_or(frame, |space| frame.with(space.grown(-0.01)));
                assert_eq!(all, frame, "{}: {item:?}", evaluation.name);
            }
        }
        for name in evaluation.boxes.iter().map(|b| &b.name) {
            assert!(text.contains(name.as_str()), "{name}");
        }
        assert!(text.contains("K1") && text.contains("BOX 1") && text.contains("kills"));
        let (sheets, text) = read("single-line.pdf");
        assert_eq!(sheets, evaluation.laid_out().count());
        for words in ["main fuse", "pre-charge", "insulation", "disconnect", "kills"] {
            assert!(text.contains(words), "{words}");
        }
    }
}

#[test]
fn papers_are_chosen_by_name_and_by_kind() {
    let job = job("orchard-flatbed");
    let chosen = |asked: &[&str]| {
        let asked: Vec<String> = asked.iter().map(|&text| text.to_owned()).collect();
        let papers = crate::chosen(papers_of(&job, "1 May"), &asked);
        papers
            .map(|papers| papers.into_iter().map(|paper| paper.file_name).collect::<Vec<_>>())
            .map_err(str::to_owned)
    };
    assert_eq!(
        chosen(&["cut-list.csv", "report"]).unwrap(),
        ["cut-list.csv", "report.txt"]
    );
    assert_eq!(chosen(&["cut-list"]).unwrap().len(), 3);
    assert_eq!(chosen(&["drawing-left-box"]).unwrap().len(), 3);
    assert_eq!(chosen(&["cut"]).unwrap().len(), 3);
    assert_eq!(chosen(&["report", "repor"]), Err("repor".to_owned()));
    assert_eq!(chosen(&[""]), Err(String::new()));
}

/// A hole of 8.65 mm lies between two tenths: it goes up, and is told by one number on drawing, cut list and hole table.
#[test]
fn a_hole_has_one_number_on_every_paper() {
    let bare = job("orchard-flatbed");
    let mut job = fitted_out(&bare);
    let hole = job::Len::exactly(Length::from_nm(8_650_000), tape::Units::Millimetre);
    job.boxes[0].fittings[0].hole = Some(hole);
    let evaluation = evaluate(&job);
    let drawn = box_drawing(&evaluation, &evaluation.boxes[0], "1 May", Paper::A3).unwrap();
    let told: Vec<String> = drawn.iter().map(plot::svg).collect();
    assert!(told.iter().any(|page| page.contains(">8.7<")), "the table of fittings");
    assert!(crate::holes_csv(&evaluation).contains(",8.7,cable gland"));
    let list = crate::cutlist_csv(&evaluation);
    // 8.65 / 25.4 = 0.3406 in; the list writes a quotation mark twice.
    assert!(list.contains("1 of 0.341\"\" (8.7 mm; cable gland)"), "{list}");
    let bought = job::shopping::to_buy(&job, &evaluation).items;
    assert!(
        bought
            .iter()
            .any(|item| item.what.contains("for a hole of 0.341\" (8.7 mm)"))
    );
}

/// Out 10, of a lid of 2, leaves 8, less 1.5 for the rim of an M6 nut: the drawing tells where the sleeves go and how long they are.
#[test]
fn the_drawing_of_a_cap_tells_its_sleeves() {
    let mut job = crate::tests::job("harbour-tender");
    for (field, text) in [
        (job::Field::Construction, "welded panels"),
        (job::Field::Closing, "cap with a skirt"),
        (job::Field::CapHeld, "screws"),
        (job::Field::CapOut, "10 mm"),
        (job::Field::Lid, "2 mm"),
        (job::Field::Screw, "6 mm"),
    ] {
        let text = text.to_owned();
        job = job.with(&job::Edit::Set { field, text }).unwrap();
    }
    let evaluation = job::evaluate(&job);
    let page = &box_drawing(&evaluation, &evaluation.boxes[0], "1 May", Paper::A3).unwrap()[0];
    let words: Vec<String> = texts(page).into_iter().map(|(words, _)| words).collect();
    let words = words.join(" ");
    assert!(words.contains("sleeve of 6.5 mm on each"), "{words}");
}
