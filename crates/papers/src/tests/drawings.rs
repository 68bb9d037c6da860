//! The drawings for the shop: what is written reads back as what was worked out.

use dxf::Drawing;
use dxf::entities::EntityType;
use enclosure::cutlist::Line;
use enclosure::{Form, Role};
use job::{ConstructionName, Evaluation, Job, evaluate};
use plot::{Contour, Item, On, Vertex};
use tape::Length;

use super::{in_every_way, job, outline, papers_of, patterns, templates};
use crate::Paper;

fn made(name: &str, construction: ConstructionName) -> (Job, Evaluation) {
    let mut job = job(name);
    job.design.construction = Some(construction);
    let evaluation = evaluate(&job);
    (job, evaluation)
}

/// Every example, made in every way, bare and with all that can be added.
fn every() -> impl Iterator<Item = (Job, Evaluation)> {
    in_every_way().into_iter().map(|job| {
        let evaluation = evaluate(&job);
        (job, evaluation)
    })
}

fn lines(evaluation: &Evaluation) -> impl Iterator<Item = &Line> {
    evaluation.cut.list.tables.iter().flat_map(|table| &table.lines)
}

fn named<'a>(papers: &'a [Paper], name: &str) -> &'a Paper {
    papers
        .iter()
        .find(|paper| paper.file_name == name)
        .unwrap_or_else(|| panic!("no {name}"))
}

fn pdf(bytes: &[u8]) -> lopdf::Document {
    lopdf::Document::load_mem(bytes).unwrap()
}

#[test]
fn every_piece_of_sheet_has_a_file_for_the_laser() {
    for (job, evaluation) in every() {
        let papers = papers_of(&job, "1 May");
        let files = papers.iter().filter(|paper| paper.file_name.ends_with("_mm.dxf"));
        let all_sheets = lines(&evaluation).filter(|line| line.form() == Form::Sheet);
        let (liner, sheets): (Vec<&Line>, Vec<&Line>) = all_sheets.partition(|line| line.is_liner());
        assert!(liner.iter().all(|line| crate::pattern_dxf(line).is_none()));
        assert!(!sheets.is_empty());
        assert_eq!(files.count(), sheets.len());
        for line in sheets {
            let name = format!("pattern-{}_mm.dxf", line.mark.to_lowercase());
            let text = named(&papers, &name).content.text().unwrap();
            assert!(text.contains(line.sheet.material.name()) && text.contains("AC1009"));
            assert!(text.contains(&format!("number off {}", line.quantity)));
        }
    }
}

#[test]
fn a_folded_tray_reads_back_as_it_was_worked_out() {
    let (_, evaluation) = made("orchard-flatbed", ConstructionName::Folded);
    let trays: Vec<&Line> = lines(&evaluation)
        .filter(|line| line.roles.contains(&Role::Tray))
        .collect();
    assert!(!trays.is_empty());
    for line in trays {
        let text = crate::pattern_dxf(line).unwrap().unwrap();
        let drawing = Drawing::load(&mut text.as_bytes()).unwrap();
        let on = |layer: &'static str| drawing.entities().filter(move |e| e.common.layer == layer);
        let outlines: Vec<Contour> = on("CUT")
            .filter_map(|entity| match &entity.specific {
                EntityType::Polyline(polyline) => Some(polyline),
                _ => None,
            })
            .map(|polyline| {
                assert!(polyline.is_closed());
                let vertex = |v: &dxf::entities::Vertex| Vertex {
                    x: v.location.x,
                    y: v.location.y,
                    bulge: v.bulge,
                };
                Contour {
                    on: On::Cut,
                    vertices: polyline.vertices().map(vertex).collect(),
                }
            })
            .collect();
        let [outline] = outlines.as_slice() else {
            panic!("one outline")
        };
        let bounds = outline.path().bounds().unwrap();
        let size = [line.length.exact, line.width.exact].map(Length::as_mm);
        assert!((bounds.width - size[0]).abs() < 1e-6 && (bounds.height - size[1]).abs() < 1e-6);
        assert!(bounds.x.abs() < 1e-6 && bounds.y.abs() < 1e-6);
        // The area told is that of the file: what its edge goes round, less its circles.
        let holes: f64 = on("CUT")
            .filter_map(|entity| match &entity.specific {
                EntityType::Circle(circle) => Some(std::f64::consts::PI * circle.radius * circle.radius),
                _ => None,
            })
            .sum();
        let (area, told) = (outline.path().area() - holes, line.net_mm2());
        assert!((area - told).abs() < 0.5, "{area} {told}");
        let circles = on("CUT").filter(|e| matches!(e.specific, EntityType::Circle(_)));
        assert_eq!(circles.count(), line.holes.len());
        assert!(!line.bends.is_empty());
        assert_eq!(on("BEND").count(), line.bends.len());
        // Named as on the flat pattern, and not as a part of box B is marked.
        for (index, bend) in line.bends.iter().enumerate() {
            let words = format!("bend {} {} 90%%d R", index + 1, bend.fold.name());
            assert!(text.contains(&words), "{words}");
        }
        assert!(text.contains("100 mm"));
    }
}

#[test]
fn every_line_of_the_cut_list_has_its_page() {
    for (job, evaluation) in every() {
        let papers = papers_of(&job, "1 May");
        let document = pdf(named(&papers, "flat-patterns.pdf").content.as_ref());
        let drawn = patterns::pages(&evaluation, "1 May").len();
        let pages: Vec<u32> = document.get_pages().into_keys().collect();
        assert_eq!(pages.len(), drawn);
        assert!(drawn >= lines(&evaluation).count());
        let text = document.extract_text(&pages).unwrap();
        for line in lines(&evaluation) {
            assert!(text.contains(&line.mark), "{}", line.mark);
        }
        for words in [
            "drawing number",
            "revision",
            "scale",
            "before coating",
            "ISO 13920",
            "kills",
        ] {
            assert!(text.contains(words), "{words}");
        }
    }
}

/// The words of items, with the space they take on the page.
fn texts(items: &[Item]) -> Vec<(String, plot::Rect)> {
    items
        .iter()
        .filter_map(|item| match item {
            Item::Text(text) => Some((text.words.clone(), item.bounds()?.grown(-0.35))),
            _ => None,
        })
        .collect()
}

#[test]
fn no_words_lie_on_each_other_or_run_off_the_page() {
    let mut long = job("orchard-flatbed");
    long.design.construction = Some(ConstructionName::Folded);
    long.name = "pneumonoultramicroscopic ".repeat(9);
    long.truck = "W".repeat(300);
    long.boxes.iter_mut().for_each(|b| b.name = "WWWW ".repeat(60));
    let evaluation = evaluate(&long);
    for (_, evaluation) in every().chain([(long, evaluation)]) {
        for (number, page) in patterns::pages(&evaluation, "1 May").iter().enumerate() {
            let frame = plot::Rect::between([20.0, 10.0], [page.width_mm - 10.0, page.height_mm - 10.0]);
            let over = page.items.iter().find(|item| {
                let all = item.bounds().map_or(frame, |space| frame.with(space.grown(-0.01)));
                all != frame
            });
            assert_eq!(over, None, "page {}", number + 1);
            let texts = texts(&page.items);
            for (index, (words, space)) in texts.iter().enumerate() {
                for (other, its) in &texts[index + 1..] {
                    assert!(space.common(*its).is_none(), "page {}: {words} / {other}", number + 1);
                }
            }
        }
    }
}

/// The table of corners and the sizes beside the view are of one rounding, that of the cut list, and every corner of a wall
/// beside a step has its name in the view too.
#[test]
fn a_wall_beside_a_step_has_one_size_for_one_length() {
    let mut seen = 0;
    for evaluation in super::stepped().iter().map(evaluate) {
        let pages = patterns::pages(&evaluation, "1 May");
        for line in lines(&evaluation).filter(|line| line.notch().is_some()) {
            let title = format!("corners of {}", line.mark);
            let page = pages
                .iter()
                .find(|page| texts(&page.items).iter().any(|(words, _)| *words == title));
            let Some(page) = page else { continue };
            let words: Vec<String> = texts(&page.items).into_iter().map(|(words, _)| words).collect();
            for size in [line.length, line.width] {
                let inches = evaluation.cut_inches(size);
                // Beside the view, and in the table at two corners at least.
                assert!(
                    words.iter().filter(|words| words.contains(&inches)).count() >= 3,
                    "{title}: {inches}"
                );
            }
            for corner in 1..=line.outline.len() {
                let name = format!("P{corner}");
                assert_eq!(
                    words.iter().filter(|words| **words == name).count(),
                    2,
                    "{title}: {name}"
                );
            }
            seen += 1;
        }
    }
    assert!(seen > 4, "walls beside a step were there");
}

#[test]
fn every_hole_is_numbered_in_the_view() {
    for (_, evaluation) in every() {
        for page in patterns::pages(&evaluation, "1 May") {
            let words: Vec<String> = texts(&page.items).into_iter().map(|(words, _)| words).collect();
            // A continuation has no view.
            let circles: usize = page
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Placed { items, .. } => Some(items),
                    _ => None,
                })
                .map(|items| items.iter().filter(|item| matches!(item, Item::Circle { .. })).count())
                .sum();
            for number in (1..=circles).filter(|&number| patterns::view::is_numbered(number, circles)) {
                let number = number.to_string();
                assert!(words.contains(&number), "{number}");
            }
        }
    }
}

#[test]
fn templates_have_the_sheets_of_their_tiles() {
    for (job, evaluation) in every() {
        let papers = papers_of(&job, "1 May");
        let files: Vec<&Paper> = papers
            .iter()
            .filter(|p| p.file_name.starts_with("templates-"))
            .collect();
        let boxes: Vec<_> = evaluation.boxes.iter().filter(|b| b.built.is_some()).collect();
        assert_eq!(files.len(), boxes.len());
        for (paper, battery_box) in files.iter().zip(boxes) {
            let faces = templates::faces(&evaluation, battery_box).unwrap();
            let [one, other, up] = battery_box.built.as_ref().unwrap().body;
            // The floors of a box with a step are as large together as that of one without.
            let floors = faces.iter().filter(|face| face.name.contains("floor"));
            let area = |[one, other]: [tape::Length; 2]| i128::from(one.nm()) * i128::from(other.nm());
            assert_eq!(floors.map(|face| area(face.sides)).sum::<i128>(), area([one, other]));
            let ends = faces.iter().filter(|face| face.name.contains("end"));
            assert_eq!(ends.map(|end| end.sides[1]).max(), Some(up));
            let sheets: u32 = faces
                .iter()
                .map(|face| {
                    let (tiling, drawing) = templates::spread(&evaluation, face).unwrap();
                    plot::tiles([drawing.width, drawing.height], &tiling).unwrap().pages()
                })
                .sum();
            let document = pdf(paper.content.as_ref());
            assert_eq!(document.get_pages().len(), usize::try_from(sheets).unwrap());
            let pages: Vec<u32> = document.get_pages().into_keys().collect();
            let text = document.extract_text(&pages).unwrap();
            assert!(text.contains("this side to cab") && text.contains("100 %"));
        }
    }
}

#[test]
fn a_bend_is_told_in_few_words() {
    let (_, evaluation) = made("orchard-flatbed", ConstructionName::Folded);
    let tray = lines(&evaluation).find(|line| !line.bends.is_empty()).unwrap();
    assert_eq!(
        outline::bend_words(&tray.bends[0], tape::Units::Millimetre),
        "up 90° R3"
    );
    assert_eq!(
        outline::bend_in_full(0, &tray.bends[0], tape::Units::Millimetre),
        "bend 1 up 90° R3"
    );
    assert_eq!(
        outline::bend_words(&tray.bends[0], tape::Units::Inch),
        "up 90° R0.118\" (3 mm)"
    );
    let is_mark = |words: &str| {
        let digits = words.trim_start_matches(|c: char| c.is_ascii_uppercase());
        digits.len() < words.len() && !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit())
    };
    assert!(is_mark("B1") && !is_mark(&outline::bend_name(0)));
    assert_eq!(
        evaluation.bend_rule.as_deref(),
        Some("0.64 t + 1.57 r (soft steel, aluminium)")
    );
    assert_eq!(super::evaluation("orchard-flatbed").bend_rule, None);
}

/// A mock-up that passes means that the box passes: the lid is as wide as it is, brackets stand out, holes are there.
#[test]
fn a_mock_up_has_lid_brackets_holes_and_modules() {
    let mut job = super::dressed("orchard-flatbed", ConstructionName::Welded, job::Closing::Flange);
    job.settings.sheets.dummies = Some(job::DummiesName::Modules);
    let evaluation = evaluate(&job);
    let battery_box = &evaluation.boxes[0];
    let faces = templates::faces(&evaluation, battery_box).unwrap();
    let face = |name: &str| {
        faces
            .iter()
            .find(|face| face.name.starts_with(name))
            .unwrap_or_else(|| panic!("no {name}"))
    };
    let assembly = drawing::assembly(&evaluation, battery_box).unwrap();
    let lid = face("lid");
    assert_eq!(lid.sides[0], assembly.lidded.size()[geometry::Axis::X]);
    assert!(lid.sides[0] > face("floor").sides[0]);
    assert!(lid.marks_count() > assembly.holes.len() * 2);
    let bracket = lines(&evaluation)
        .find(|line| line.roles.contains(&Role::Bracket))
        .unwrap();
    let strip = face(&format!("bracket {}", bracket.mark));
    assert_eq!(strip.sides, [bracket.length.exact, bracket.width.exact * 2]);
    let kinds = evaluation.kinds.iter().filter(|kind| kind.placed > 0).count();
    assert_eq!(faces.iter().filter(|face| face.name.ends_with(", top")).count(), kinds);
    job.settings.sheets.dummies = None;
    let without = evaluate(&job);
    let bare = templates::faces(&without, &without.boxes[0]).unwrap();
    assert_eq!(bare.len() + kinds * 3, faces.len());
}

/// A gland 200 mm along and 40 mm up the riser is cut out of its template there, from the outside of floor and walls, on
/// whichever wall the step is.
#[test]
fn holes_of_a_riser_are_on_its_template() {
    for mut job in super::stepped() {
        let into = job.boxes[0].id;
        let at = [200, 40].map(tape::Length::mm);
        job = job.with(&job::Edit::AddFitting { into, at }).unwrap();
        let own = job.boxes[0].fittings.last().unwrap().id;
        for (field, text) in [
            (job::Field::FittingWall(own), "riser"),
            (job::Field::FittingHole(own), "12 mm"),
            (job::Field::FittingAcross(own), "14 mm"),
        ] {
            let text = text.to_owned();
            job = job.with(&job::Edit::Set { field, text }).unwrap();
        }
        let evaluation = evaluate(&job);
        let battery_box = &evaluation.boxes[0];
        assert_eq!(battery_box.fittings.last().unwrap().fault, None);
        let faces = templates::faces(&evaluation, battery_box).unwrap();
        let riser = faces.iter().find(|face| face.name == "riser").unwrap();
        let built = battery_box.built.as_ref().unwrap();
        let want = [200.0 + built.beside.as_mm(), 40.0 + built.under.as_mm()];
        let [got] = riser.holes()[..] else {
            panic!("{:?}", riser.holes());
        };
        assert!(
            (got[0] - want[0]).abs() < 1e-9 && (got[1] - want[1]).abs() < 1e-9,
            "{got:?} {want:?}"
        );
    }
}

/// What makes a piece, and its width where it is bought in that size.
#[test]
fn the_cut_list_tells_machine_and_grain_and_what_is_bought_is_not_rounded() {
    let mut job = super::dressed("mountain-rescue", ConstructionName::Welded, job::Closing::Flange);
    job.stock.turning = Some(job::TurningName::WithGrain);
    let evaluation = evaluate(&job);
    let rows: Vec<Vec<String>> = super::read_csv(&crate::cutlist_csv(&evaluation));
    let named = |name: &str| {
        rows.iter()
            .find(|row| row[1].starts_with(name))
            .unwrap_or_else(|| panic!("no {name}"))
    };
    assert_eq!(named("bracket")[6], "1.969\"");
    assert_eq!(named("bracket")[8], "50.0");
    assert_eq!(
        named("bracket")[18..],
        ["saw, drill", "", "both ends, 1 hole"].map(str::to_owned)
    );
    assert_eq!(
        named("floor")[18..],
        ["shear", "along the length", "all edges"].map(str::to_owned)
    );
    job.stock.cutting = Some(job::CuttingName::Laser);
    let rows = super::read_csv(&crate::cutlist_csv(&evaluate(&job)));
    assert!(
        rows.iter()
            .filter(|row| row[1].starts_with("lid plate"))
            .all(|row| row[18] == "laser")
    );
    // Laminate goes to no laser, and labels say the same as the list.
    let liner: Vec<&Vec<String>> = rows.iter().filter(|row| row[1].starts_with("liner ")).collect();
    assert!(
        !liner.is_empty() && liner.iter().all(|row| row[18].starts_with("knife or saw")),
        "{liner:?}"
    );
    let labels = crate::labels_html(&evaluate(&job), "");
    assert!(
        rows.iter()
            .all(|row| labels.contains(&format!("; machine: {}<", row[18])))
    );
}

#[test]
fn patterns_and_templates_are_made_for_the_paper_that_was_chosen() {
    let mut job = job("orchard-flatbed");
    job.settings.sheets.paper = Some(job::PaperName::A4);
    let evaluation = evaluate(&job);
    assert_eq!(crate::drawing_paper(&evaluation), plot::Paper::A4);
    let page = &patterns::pages(&evaluation, "1 May")[0];
    assert!((page.width_mm - 210.0).abs() < 1e-9 && (page.height_mm - 297.0).abs() < 1e-9);
}

/// The default angle of 30 x 30 x 3: 27 mm of its foot come off, 3 deep; 1 1/16 in is the mark below 27 mm, 1 1/8 the one above.
#[test]
fn a_coped_end_says_what_comes_off() {
    let mut job = job("mountain-rescue");
    for (field, text) in [
        (job::Field::Construction, "panels in an angle frame"),
        (job::Field::FlangeJoint, "butt"),
    ] {
        let text = text.to_owned();
        job = job.with(&job::Edit::Set { field, text }).unwrap();
    }
    let list = crate::cutlist_csv(&job::evaluate(&job));
    let told = "both 90 coped: foot off 1 1/8\" (27.0 mm) long, 0.118\" (3.0 mm) deep, R0.197\" (5.0 mm) to the root";
    assert!(list.replace("\"\"", "\"").contains(told), "{list}");
}

/// Holes that lie alike to left and right, or below and above, are the same turned over: for what has no face told.
fn is_same_from_both(line: &Line) -> bool {
    let near = |a: Length, b: Length| (a - b).abs() <= Length::from_nm(2);
    let has = |x: Length, y: Length| line.holes.iter().any(|hole| near(hole.x, x) && near(hole.y, y));
    let turned = line.holes.iter().all(|hole| has(line.length.exact - hole.x, hole.y));
    turned || line.holes.iter().all(|hole| has(hole.x, line.width.exact - hole.y))
}

#[test]
fn every_pattern_of_sheet_says_which_face_is_drawn() {
    for (_, evaluation) in every() {
        for line in lines(&evaluation) {
            let words = line.seen_words();
            assert_eq!(words.is_some(), line.form() == Form::Sheet, "{}", line.name);
            if line.form() == Form::Sheet && line.seen().is_none() {
                assert!(is_same_from_both(line), "{}", line.name);
            }
        }
        let table = crate::cutlist_markdown(
            &evaluation,
            &job::shopping::to_buy(&job("orchard-flatbed"), &evaluation),
        );
        let heads: Vec<&str> = table.lines().filter(|line| line.starts_with("Holes of")).collect();
        let with_face = heads
            .iter()
            .filter(|head| head.contains("seen from") || head.contains("same from both"));
        let of_sheet = lines(&evaluation).filter(|line| line.form() == Form::Sheet && !line.holes.is_empty());
        assert_eq!(with_face.count(), of_sheet.count());
    }
}

/// The left wall looked at from inside has the front at the right hand; a floor along the truck has it at the left.
#[test]
fn edges_of_a_wall_of_its_own_are_named_as_they_lie() {
    let mut job = job("orchard-flatbed");
    job.design.construction = Some(ConstructionName::Welded);
    let evaluation = evaluate(&job);
    let mut own = 0;
    for line in lines(&evaluation) {
        let expected = match (line.walls.as_slice(), line.roles[0]) {
            ([enclosure::Wall::Left], _) => ["rear", "front", "", "up"],
            ([enclosure::Wall::Right], _) => ["front", "rear", "", "up"],
            ([enclosure::Wall::Front], _) => ["left", "right", "", "up"],
            ([enclosure::Wall::Rear], _) => ["right", "left", "", "up"],
            ([], Role::LongSide | Role::End) => ["", "", "", "up"],
            _ => continue,
        };
        own += 1;
        assert_eq!(line.edges, expected, "{}", line.name);
    }
    assert!(own > 0);
}

/// Notches of 49.9 and 48.9 mm are one mark of the tape, 1 15/16", and two places to cut: 1.965" and 1.925".
#[test]
fn an_inch_job_tells_bends_and_notches_to_a_thousandth() {
    let (mut job, _) = made("orchard-flatbed", ConstructionName::Folded);
    job.units = job::UnitsName::Inch;
    let evaluation = evaluate(&job);
    let words = |page: &plot::Page| -> Vec<String> {
        let text = |item: &Item| match item {
            Item::Text(text) => Some(text.words.clone()),
            _ => None,
        };
        page.items.iter().filter_map(text).collect()
    };
    let pages: Vec<Vec<String>> = patterns::pages(&evaluation, "1 May").iter().map(words).collect();
    let tray = pages
        .iter()
        .find(|page| page.iter().any(|text| text.starts_with("bends of")))
        .unwrap();
    let line = lines(&evaluation)
        .find(|line| line.roles.contains(&Role::Tray))
        .unwrap();
    let bend = &line.bends[0];
    assert!(
        tray.iter()
            .any(|text| *text == outline::radius(bend, tape::Units::Inch)),
        "{tray:?}"
    );
    let thousandths = |text: &&String| text.contains(" mm)") && text.contains('.') && !text.contains('/');
    assert!(tray.iter().filter(thousandths).count() > 8, "{tray:?}");
    assert!(
        tray.iter()
            .all(|text| !text.ends_with(&format!("R{:.1}", bend.radius.as_mm())))
    );
}
