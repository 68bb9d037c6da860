//! The papers of the built-in jobs, and of jobs with hostile names.

use enclosure::cutlist::Rounding;
use job::shopping::to_buy;
use job::{EXAMPLES, Evaluation, Job, evaluate, example, load};
use rstest::rstest;
use tape::{Allow, Units, notation};

use super::*;

mod assembly;
mod cardboard;
mod catalog;
mod changes;
mod dossier;
mod drawings;
mod labels;
mod marks;
mod nests;
mod road;
mod samples;
mod truck;
mod ways;

pub(crate) fn job(name: &str) -> Job {
    load(example(name).unwrap().text.as_bytes()).unwrap()
}

fn evaluation(name: &str) -> Evaluation {
    evaluate(&job(name))
}

fn examples() -> impl Iterator<Item = Evaluation> {
    EXAMPLES.iter().map(|e| evaluation(e.name))
}

/// An example made and closed in one of the ways, with brackets, hold-down bars on lugs, strips under the modules and
/// stiffeners over the lid.
pub(crate) fn dressed(name: &str, construction: job::ConstructionName, closing: job::Closing) -> Job {
    let mut job = job(name);
    job.design.construction = Some(construction);
    job.design.closing = Some(closing);
    dress(&mut job);
    job
}

fn dress(job: &mut Job) {
    let added = &mut job.design.added;
    added.brackets = Some(job::BracketsName::OwnRail);
    added.hold_down = Some(job::HoldDownName::Lugs);
    added.standoffs = Some(job::StandoffsName::Strips);
    added.stiffeners = Some(job::StiffenersName::Over);
}

/// Every example, made in every way, bare and dressed, and one of them with caps.
pub(crate) fn in_every_way() -> Vec<Job> {
    let mut jobs = Vec::new();
    for name in EXAMPLES.iter().map(|e| e.name) {
        for &construction in job::ConstructionName::ALL {
            let mut bare = job(name);
            bare.design.construction = Some(construction);
            jobs.push(bare);
            jobs.push(dressed(name, construction, job::Closing::Flange));
        }
    }
    let capped = |&construction| dressed("orchard-flatbed", construction, job::Closing::Cap);
    jobs.extend(job::ConstructionName::ALL.iter().map(capped));
    jobs.extend(stepped());
    jobs
}

/// A box with a step at each of its walls, bare and dressed.
pub(crate) fn stepped() -> Vec<Job> {
    let text = include_str!("../../job/tests/stepped.json");
    let at = |wall: &str| text.replace("\"at\": \"front\", \"run\"", &format!("\"at\": \"{wall}\", \"run\""));
    let bare: Vec<Job> = ["front", "rear", "left", "right"]
        .iter()
        .map(|wall| load(at(wall).as_bytes()).unwrap())
        .collect();
    let dressed = bare.iter().map(|job| {
        let mut job = job.clone();
        dress(&mut job);
        job
    });
    dressed.chain(bare.iter().cloned()).collect()
}

/// Every paper of a job.
fn papers_of(job: &Job, date: &str) -> Vec<Paper> {
    let evaluation = evaluate(job);
    all(job, &evaluation, &to_buy(job, &evaluation), date)
}

/// The CSV as columns by name.
fn read_csv(text: &str) -> Vec<Vec<String>> {
    csv::Reader::from_reader(text.as_bytes())
        .records()
        .map(|r| r.unwrap().iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn comma_separated_values_read_back() {
    assert_eq!(COLUMNS[row::NUMBER_OFF], "number off");
    assert_eq!(COLUMNS[row::ROUNDING], "rounding");
    assert_eq!(COLUMNS[row::BENDS], "bends");
    assert_eq!(COLUMNS[row::MADE], ["made", "checked"]);
    for evaluation in examples() {
        let text = cutlist_csv(&evaluation);
        assert!(text.starts_with(&COLUMNS.join(",")));
        let rows = read_csv(&text);
        let lines: Vec<_> = evaluation.cut.list.tables.iter().flat_map(|t| &t.lines).collect();
        assert!(!lines.is_empty());
        assert_eq!(rows.len(), lines.len());
        for (row, line) in rows.iter().zip(lines) {
            assert_eq!(row[0], line.mark);
            assert_eq!(row[1], line.name);
            assert_eq!(row[2], line.quantity.to_string());
            assert_eq!(row[15], line.box_name);
        }
    }
}

/// Panels that go into a space are never larger on paper than they are, what goes over a space never smaller.
#[test]
fn no_size_is_rounded_the_harmful_way() {
    let mut capped = job("orchard-flatbed");
    capped.design.closing = Some(job::Closing::Cap);
    for evaluation in examples().chain([evaluate(&capped)]) {
        let rows = read_csv(&cutlist_csv(&evaluation));
        let lines = evaluation.cut.list.tables.iter().flat_map(|t| &t.lines);
        for (row, line) in rows.iter().zip(lines) {
            for (inches, mm, size) in [(5, 7, line.length), (6, 8, line.width)] {
                let read = |text: &str, units| notation::read(text, units, Allow::AboveZero).unwrap().value();
                for shown in [read(&row[inches], Units::Inch), read(&row[mm], Units::Millimetre)] {
                    match size.direction {
                        Rounding::Down => {
                            assert!(shown <= size.exact, "{} {}", line.mark, line.name);
                        }
                        Rounding::Up => assert!(shown >= size.exact, "{} {}", line.mark, line.name),
                        Rounding::AsBought => {}
                    }
                    assert!((shown - size.exact).abs() < tape::Length::sixty_fourths(4));
                }
            }
        }
    }
}

/// On paper a person reads their own unit first, of holes too; what the heading over a table tells stands in no column of it. What
/// machines read keeps its columns.
#[test]
fn cut_lists_and_holes_have_the_persons_own_unit_first() {
    for (example, first, holes) in [
        (
            "orchard-flatbed",
            "length in",
            "<th scope=\"col\">hole</th><th scope=\"col\">x in</th>",
        ),
        (
            "harbour-tender",
            "length mm",
            "<th scope=\"col\">hole</th><th scope=\"col\">x mm</th>",
        ),
    ] {
        let mut job = job(example);
        job.design.closing = Some(job::Closing::Flange);
        let evaluation = evaluate(&job);
        let html = cutlist_html(&evaluation, &to_buy(&job, &evaluation), "");
        let at = |words: &str| html.find(&format!("<th scope=\"col\">{words}</th>"));
        let other = if first == "length in" { "length mm" } else { "length in" };
        assert!(at(first).unwrap() < at(other).unwrap(), "{example}");
        assert_eq!([at("material"), at("thickness or section"), at("grain")], [None; 3]);
        assert!(html.contains(holes), "{example}");
        assert!(cutlist_csv(&evaluation).starts_with(&COLUMNS.join(",")));
    }
}

/// A job whose every free text is `text`.
fn hostile(text: &str) -> Job {
    let mut job = job("orchard-flatbed");
    for own in [&mut job.name, &mut job.truck, &mut job.revision] {
        text.clone_into(own);
    }
    for cavity in &mut job.cavities {
        text.clone_into(&mut cavity.name);
        cavity.keep_outs.iter_mut().for_each(|k| text.clone_into(&mut k.name));
    }
    job.kinds.iter_mut().for_each(|k| text.clone_into(&mut k.name));
    job.boxes.iter_mut().for_each(|b| text.clone_into(&mut b.name));
    // Something to find, so that names get into findings.
    job.settings.margin = Some(job::Len::exactly(tape::Length::mm(400), Units::Millimetre));
    job.settings.gap = None;
    job
}

#[test]
fn no_user_text_becomes_markup() {
    let evil = "<script>alert(1)</script>\" onload='x' & <b>| [a](javascript:b) `c` url(#frame) *d*";
    let job = hostile(evil);
    let evaluation = evaluate(&job);
    assert!(
        evaluation
            .findings
            .iter()
            .any(|f| f.grave != job::Grave::Note && f.name.contains("script"))
    );
    let buy = to_buy(&job, &evaluation);
    let html = cutlist_html(&evaluation, &buy, evil);
    assert!(!html.contains("<script") && !html.contains("<b>") && !html.contains("\" onload"));
    assert!(html.contains("&lt;script&gt;"));
    let markdown = cutlist_markdown(&evaluation, &buy);
    assert!(!markdown.contains("<script") && !markdown.contains("[a]") && !markdown.contains(" `c`"));
    for line in markdown.lines().filter(|line| line.starts_with('|')) {
        let bars = line.replace("\\|", "").matches('|').count();
        // Seven columns of a hole table, all of one purpose, in an inch job.
        let known = [row::printed(&evaluation).len(), 7, shop::COLUMNS.len()];
        assert!(known.contains(&(bars - 1)), "{line}");
    }
    let papers = papers_of(&job, evil);
    let pictures = |kind: &'static str| papers.iter().filter(move |p| p.file_name.starts_with(kind));
    for content in ["layout-", "drawing-", "single-line-"]
        .map(pictures)
        .into_iter()
        .flatten()
    {
        let Some(content) = content.content.text() else {
            continue;
        };
        assert!(!content.contains("<script") && !content.contains("\" onload"));
    }
}

#[rstest]
#[case("=HYPERLINK(\"x\")")]
#[case("+1")]
#[case("-1")]
#[case("@sum")]
#[case("\t=1")]
fn no_user_text_becomes_a_formula(#[case] text: &str) {
    for row in read_csv(&cutlist_csv(&evaluate(&hostile(text)))) {
        assert!(
            row.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@'])),
            "{row:?}"
        );
    }
}

#[test]
fn a_line_break_in_a_name_breaks_no_line() {
    let job = hostile("QA\r\nQB\u{1b}[31m\u{2028}QC");
    let evaluation = evaluate(&job);
    let buy = to_buy(&job, &evaluation);
    for text in [
        cutlist_csv(&evaluation),
        cutlist_markdown(&evaluation, &buy),
        shopping_csv(&buy),
        nests_text(&buy.nesting),
        check_text(&evaluation),
    ] {
        assert!(!text.contains("QA\n") && !text.contains('\u{1b}') && !text.contains('\u{2028}'));
    }
}

#[test]
fn ledgers_in_the_data_sum_up_exactly() {
    for evaluation in examples() {
        let data = evaluation_json(&evaluation);
        let mut seen = 0;
        for battery_box in data["boxes"].as_array().unwrap() {
            let cavity = data["cavities"]
                .as_array()
                .unwrap()
                .iter()
                .find(|c| c["id"] == battery_box["cavity"])
                .unwrap();
            for (axis, ledger) in battery_box["ledgers"].as_array().unwrap().iter().enumerate() {
                let nm = |value: &serde_json::Value| tape::Length::from_mm(value.as_f64().unwrap()).nm();
                let sum: i64 = ledger["entries"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|e| nm(&e["length_mm"]))
                    .sum();
                assert_eq!(sum, nm(&ledger["total_mm"]));
                let end = |name: &str| nm(&cavity["space"][name][axis]);
                assert_eq!(sum, end("to_mm") - end("from_mm"));
                seen += 1;
            }
        }
        assert!(seen >= 3);
    }
}

#[test]
fn data_is_exact_and_the_same_each_time() {
    for evaluation in examples() {
        let text = evaluation_json(&evaluation).to_string();
        assert_eq!(text, evaluation_json(&evaluation.clone()).to_string());
        let back: serde_json::Value = serde_json::from_str(&text).unwrap();
        let lines = evaluation.cut.list.tables.iter().flat_map(|t| &t.lines);
        let data = back["cut"]["tables"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|t| t["lines"].as_array().unwrap());
        for (line, data) in lines.zip(data) {
            let exact = data["length"]["exact_mm"].as_f64().unwrap();
            assert_eq!(tape::Length::from_mm(exact), line.length.exact);
        }
    }
}

#[rstest]
#[case("../../etc/passwd")]
#[case("C:\\temp\\x")]
#[case("")]
#[case("яма")]
#[case("a very long name of a cavity that goes on and on and on and on")]
#[case("con")]
fn file_names_are_plain_and_their_own(#[case] name: &str) {
    let job = hostile(name);
    let papers = papers_of(&job, "today");
    let mut names: Vec<&str> = papers.iter().map(|p| p.file_name.as_str()).collect();
    for name in &names {
        assert!(
            name.len() < 64 && name.matches('.').count() == 1 && !name.starts_with(['.', '-']),
            "{name}"
        );
        assert!(
            name.chars()
                .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "-_.".contains(c)),
            "{name}"
        );
    }
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
}

#[test]
fn files_of_an_example() {
    let job = job("orchard-flatbed");
    let names: Vec<String> = papers_of(&job, "1 May")
        .into_iter()
        .map(|paper| paper.file_name)
        .collect();
    assert_eq!(
        names[..9],
        [
            "cut-list.csv",
            "cut-list.md",
            "cut-list.html",
            "shopping-list.csv",
            "shopping-list.html",
            "evaluation.json",
            "report.txt",
            "survey.html",
            "tape-sheet.html"
        ]
    );
    assert!(names.contains(&"layout-left-saddle-plan.svg".to_owned()), "{names:?}");
    assert!(names.contains(&"layout-left-saddle-rear.svg".to_owned()), "{names:?}");
}

#[test]
fn an_empty_job_gives_papers_too() {
    let job = Job::empty(job::UnitsName::Inch);
    for paper in papers_of(&job, "") {
        assert!(!paper.content.as_ref().is_empty(), "{}", paper.file_name);
    }
}

#[test]
fn the_report_is_80_columns_wide_and_tells_all() {
    let long = evaluate(&hostile(&"pneumonoultramicroscopic".repeat(9)));
    for evaluation in examples().chain([long]) {
        let text = check_text(&evaluation);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        for caution in cautions() {
            assert!(text.contains(caution.split(':').next().unwrap().get(..40).unwrap_or("")));
        }
    }
}

#[test]
fn the_page_marks_what_rests_on_assumed_values() {
    let job = job("orchard-flatbed");
    let mut evaluation = evaluate(&job);
    let buy = to_buy(&job, &evaluation);
    let line = &evaluation.cut.list.tables[0].lines[0];
    let size = drawing::svg::escape(&evaluation.cut_inches(line.length));
    for assumed in [false, true] {
        evaluation.headline.assumed.cut = assumed;
        let html = cutlist_html(&evaluation, &buy, "1 May");
        assert_eq!(html.contains(&format!("<td class=\"n\">~{size}</td>")), assumed);
        for words in [
            "izes before coating",
            "erf not included",
            "ISO 13920",
            "<svg",
            "made",
            "checked",
            "proved",
            "To buy",
        ] {
            assert!(html.contains(words), "{words}");
        }
    }
}

/// No paper may promise what it cannot know.
#[test]
fn no_paper_vouches_for_anything() {
    for job in EXAMPLES.iter().map(|e| job(e.name)) {
        for paper in papers_of(&job, "1 May") {
            let Some(content) = paper.content.text() else { continue };
            let content = content.to_lowercase();
            let words = content.split(|c: char| !c.is_alphabetic());
            for word in words {
                assert!(
                    !["safe", "approved", "certified"].contains(&word),
                    "{}",
                    paper.file_name
                );
            }
        }
    }
}

#[test]
fn papers_of_the_orchard_flatbed() {
    let evaluation = evaluation("orchard-flatbed");
    insta::assert_snapshot!("csv", cutlist_csv(&evaluation));
    insta::assert_snapshot!(
        "markdown",
        cutlist_markdown(&evaluation, &to_buy(&job("orchard-flatbed"), &evaluation))
    );
    insta::assert_snapshot!("report", check_text(&evaluation));
}

#[test]
fn the_weld_map_tells_every_seam_its_order_and_the_diagonals() {
    for example in EXAMPLES {
        let job = job(example.name);
        let evaluation = evaluate(&job);
        let html = weld_map_html(&evaluation, "2026-11-29");
        let welds: Vec<_> = evaluation.boxes.iter().filter_map(|b| b.welds.as_ref()).collect();
        assert!(!welds.is_empty());
        let ticks: usize = welds.iter().map(|w| w.seams.len()).sum();
        assert_eq!(html.matches("<td class=\"tick\">").count(), ticks);
        for step in welds.iter().flat_map(|w| &w.order) {
            assert!(html.contains(&step.words()), "{step:?}");
        }
        for diagonal in welds.iter().flat_map(|w| &w.diagonals) {
            let aim = tape::show::own_first(diagonal.aim, evaluation.units);
            assert!(html.replace("&quot;", "\"").contains(&aim), "{aim}");
        }
        let metres: f64 = welds.iter().map(|w| w.welded().as_mm() / 1000.0).sum();
        let json = evaluation_json(&evaluation);
        let told: f64 = json["boxes"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|b| b["welds"]["welded_m"].as_f64())
            .sum();
        assert!((metres - told).abs() < 1e-9);
        let first = format!("{:.2} m in", welds[0].welded().as_mm() / 1000.0);
        let buy = to_buy(&job, &evaluation);
        assert!(cutlist_html(&evaluation, &buy, "").contains(&first));
        assert!(cutlist_markdown(&evaluation, &buy).contains(&first));
    }
}

/// A leg of 3 mm is 0.118 in; a butt draws in 1.5 to 3 mm, 0.059 to 0.118 in; 897 mm of steel inside with 3 mm walls are 35 9/16 in
/// outside. Only what is told in millimetres alone by its source stays so.
#[test]
fn the_weld_map_of_an_inch_job_is_in_inches_first() {
    let html = weld_map_html(&evaluation("orchard-flatbed"), "").replace("&quot;", "\"");
    for told in [
        "0.118\" (3.0 mm)",
        "0.059\" to 0.118\" (1.5 to 3.0 mm)",
        "35 9/16\" (903.0 mm)",
    ] {
        assert!(html.contains(told), "{told}");
    }
    let cells = html.split("<td class=\"n\">").skip(1);
    let figures = cells
        .filter_map(|cell| cell.split_once("</td>"))
        .map(|(figure, _)| figure);
    for figure in figures.filter(|figure| figure.contains("mm")) {
        assert!(figure.contains("\" (") && figure.ends_with(" mm)"), "{figure}");
    }
    assert!(!html.contains("mm</th>"));
    let metric = weld_map_html(&evaluation("harbour-tender"), "");
    assert!(metric.contains("0 mm</td>") && !metric.contains("&quot; ("));
}

/// Orchard flatbed, whose floor lies under the walls: four upright corners, and the floor once round.
#[test]
fn a_weld_map_by_hand() {
    let evaluation = evaluation("orchard-flatbed");
    let battery_box = &evaluation.boxes[0];
    let [length, width, height] = battery_box.built.as_ref().unwrap().shell;
    let welds = battery_box.welds.as_ref().unwrap();
    let floor = battery_box.built.as_ref().unwrap().parts[0].sheet.thickness;
    let shell: tape::Length = welds.seams[..3].iter().map(enclosure::weld::Seam::welded).sum();
    assert_eq!(shell, (length + width) * 2 + (height - floor) * 4);
}

/// The lid that trapped air pushes far past the formula of a plate: words on the sheet, no figure in the facts.
#[test]
fn what_is_outside_its_formula_is_words_and_no_figure() {
    let evaluation = evaluation("orchard-flatbed");
    let page = crate::strength_html(&evaluation, "");
    assert!(page.contains("outside the formula"));
    let facts = crate::evaluation_json(&evaluation);
    let checks = facts["boxes"][0]["strength"]["checks"].as_array().unwrap();
    let of = |what: &str| checks.iter().find(|check| check["what"] == what).unwrap();
    let pushed = of("lid, pushed up, stress");
    assert!(pushed["load"].is_null() && pushed["share"].is_null(), "{pushed}");
    assert_eq!(pushed["outside"], "outside the formula");
    assert!(pushed["limit"].is_number() && !pushed["over"].is_null());
    let floor = of("floor, standing, deflection");
    assert!(floor["load"].is_number() && floor["outside"].is_null(), "{floor}");
}

#[test]
fn the_strength_sheet_names_what_governs_each_box_first() {
    let job = job("orchard-flatbed");
    let evaluation = evaluate(&job);
    let page = crate::strength_html(&evaluation, "");
    for battery_box in &evaluation.boxes {
        let governs = battery_box.strength.as_ref().unwrap().governs_text().unwrap();
        assert!(page.contains(&format!("{}: {governs}", battery_box.name)), "{governs}");
    }
}

/// What stands behind each mass of a text in an inch job, by the first of them that has no pounds.
fn without_pounds(text: &str) -> Option<&str> {
    let mut places = text.match_indices(" kg").filter(|(at, found)| {
        let is_figure = text[..*at].ends_with(|c: char| c.is_ascii_digit());
        let rest = &text[at + found.len()..];
        is_figure && !rest.starts_with(" (") && !rest.starts_with("/m")
    });
    let (at, _) = places.next()?;
    Some(&text[at.saturating_sub(40)..(at + 30).min(text.len())])
}

/// A kilogram is 2.2046 pounds: 90 kg of modules in a box are 198.42 lb.
#[test]
fn masses_on_papers_of_an_inch_job_have_their_pounds() {
    let job = job("orchard-flatbed");
    let evaluation = evaluate(&job);
    let mut buy = to_buy(&job, &evaluation);
    // Paint is bought as it is sold, and its coverage is entered by the kilogram.
    buy.items.retain(|item| item.unit != job::shopping::Unit::Kilograms);
    let papers = [
        cutlist_html(&evaluation, &buy, "1 May"),
        cutlist_markdown(&evaluation, &buy),
        crate::strength_html(&evaluation, ""),
        crate::labels_html(&evaluation, ""),
        check_text(&evaluation),
    ];
    for paper in &papers {
        // A picture has no room for both beside a module.
        let words = paper
            .split("<svg")
            .map(|part| part.split_once("</svg>").map_or(part, |(_, after)| after));
        for part in words {
            assert_eq!(without_pounds(part), None);
        }
    }
    assert!(papers[0].contains("90.00 (198.42)"));
    assert!(papers[2].contains("kg (") && papers[4].contains("90.00 kg (198.42 lb)"));
    let page = &crate::box_drawing(&evaluation, &evaluation.boxes[0], "1 May", plot::Paper::A4).unwrap();
    for sheet in page {
        assert_eq!(without_pounds(&plot::svg(sheet)), None);
    }
    assert!(plot::svg(&page[0]).contains(" lb)"));
    let metric = evaluate(&self::job("harbour-tender"));
    assert!(!crate::strength_html(&metric, "").contains(" lb)"));
}

#[test]
fn what_stays_bare_is_on_cut_list_weld_map_label_and_test_sheet() {
    let job = job("orchard-flatbed");
    let (into, at) = (job.boxes[0].id, [tape::Length::mm(150), tape::Length::mm(100)]);
    let job = job.with(&job::Edit::AddFitting { into, at }).unwrap();
    let id = job.boxes[0].fittings[0].id;
    let text = "earth stud".to_owned();
    let job = job
        .with(&job::Edit::Set {
            field: job::Field::FittingWhat(id),
            text,
        })
        .unwrap();
    let evaluation = evaluate(&job);
    let buy = to_buy(&job, &evaluation);
    assert!(crate::cutlist_markdown(&evaluation, &buy).contains("keep free of paint, outside: "));
    assert!(crate::weld_map_html(&evaluation, "").contains("keep free of paint, outside: "));
    assert!(crate::test_sheet_html(&evaluation, "").contains("at its M8 earth stud, front"));
    let label = crate::labels_html(&evaluation, "");
    assert!(label.contains("M8 earth stud, front: keep bare"), "{label}");
}
