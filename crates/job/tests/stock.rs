//! Stock in a job: how it is entered, refused, saved and read.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod common;

use common::built_in;
use job::{Edit, Field, Job, State, StockEdit, StockForm, UnitsName, field, load, to_text};
use rstest::rstest;

fn with(job: &Job, edit: &Edit) -> Job {
    job.with(edit).unwrap()
}

fn add(job: &Job, form: StockForm, on_hand: bool) -> Job {
    with(job, &Edit::Stock(StockEdit::Add { form, on_hand }))
}

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    with(job, &Edit::Set { field, text })
}

fn shown(job: &Job, asked: Field) -> (String, State) {
    let (_, shown) = field::show(job, &[asked]).remove(0);
    (shown.text, shown.state)
}

#[test]
fn stock_is_saved_and_read_back() {
    let job = add(&built_in("orchard-flatbed"), StockForm::Sheet, false);
    let job = set(&job, Field::StockPrice(0), "84.50");
    let job = add(&job, StockForm::Sheet, true);
    let job = set(&job, Field::StockLength(1), "30 1/2");
    let job = set(&job, Field::StockWidth(1), "20");
    let job = set(&job, Field::StockOnHand(1), "3");
    let job = add(&job, StockForm::Bar, false);
    let job = set(&job, Field::Kerf, "0.2 mm");
    let job = set(&job, Field::CuttingMethod, "laser");
    let text = to_text(&job);
    assert!(text.contains("\"price\": 84.5") && text.contains("30 1/2"), "{text}");
    assert_eq!(load(text.as_bytes()).unwrap(), job);
}

#[test]
fn a_job_without_stock_says_nothing_of_it() {
    assert!(!to_text(&built_in("orchard-flatbed")).contains("\"stock\""));
}

#[test]
fn what_lies_there_is_of_the_walls_material_and_thickness() {
    let job = set(&built_in("orchard-flatbed"), Field::Material, "stainless 304");
    let job = add(&job, StockForm::Sheet, true);
    assert_eq!(shown(&job, Field::StockMaterial(0)).0, "stainless 304");
    assert_eq!(shown(&job, Field::StockOnHand(0)).0, "1");
    assert_eq!(shown(&job, Field::StockThickness(0)).1, State::Given);
}

#[rstest]
#[case::inches(UnitsName::Inch, StockForm::Sheet, ["96\"", "48\""])]
#[case::millimetres(UnitsName::Millimetre, StockForm::Sheet, ["2500 mm", "1250 mm"])]
#[case::bar(UnitsName::Millimetre, StockForm::Bar, ["6000 mm", ""])]
fn a_new_piece_has_the_usual_size(#[case] units: UnitsName, #[case] form: StockForm, #[case] sides: [&str; 2]) {
    let job = add(&Job::empty(units), form, false);
    assert_eq!(shown(&job, Field::StockLength(0)).0, sides[0]);
    assert_eq!(shown(&job, Field::StockWidth(0)).0, sides[1]);
}

#[rstest]
#[case::shear("shear", "3 mm", "0\"")]
#[case::laser("laser", "5 mm", "10 mm")]
fn kerf_and_trim_are_assumed_by_how_sheets_are_cut(#[case] by: &str, #[case] kerf: &str, #[case] trim: &str) {
    let job = set(&built_in("orchard-flatbed"), Field::CuttingMethod, by);
    assert_eq!(shown(&job, Field::Kerf), (kerf.to_owned(), State::Assumed));
    assert_eq!(shown(&job, Field::EdgeTrim), (trim.to_owned(), State::Assumed));
}

#[rstest]
#[case(Field::StockLength(0), "0")]
#[case(Field::StockLength(0), "30 m")]
#[case(Field::StockLength(0), "")]
#[case(Field::StockOnHand(0), "0")]
#[case(Field::StockPrice(0), "-4")]
#[case(Field::StockForm(0), "tube")]
#[case(Field::Kerf, "-1 mm")]
#[case(Field::KeepOffcut, "0")]
// A sheet has two sides.
#[case(Field::StockWidth(0), "")]
fn what_makes_no_sense_is_refused_with_a_way_out(#[case] field: Field, #[case] text: &str) {
    let job = add(&built_in("orchard-flatbed"), StockForm::Sheet, false);
    let text = text.to_owned();
    let error = job.with(&Edit::Set { field, text }).unwrap_err();
    assert!(!error.mend().is_empty() && !error.to_string().is_empty());
}

#[test]
fn a_sheet_becomes_a_bar_and_a_sheet_again() {
    let job = add(&built_in("orchard-flatbed"), StockForm::Sheet, false);
    let bar = set(&job, Field::StockForm(0), "any bar");
    assert_eq!(shown(&bar, Field::StockWidth(0)).1, State::Open);
    let sheet = set(&bar, Field::StockForm(0), "sheet");
    assert_eq!(shown(&sheet, Field::StockWidth(0)).0, "48\"");
}

#[test]
fn a_piece_is_removed_once() {
    let job = add(&built_in("orchard-flatbed"), StockForm::Bar, false);
    let job = with(&job, &Edit::Stock(StockEdit::Remove(0)));
    assert!(job.stock.pieces.is_empty());
    assert!(job.with(&Edit::Stock(StockEdit::Remove(0))).is_err());
}

#[test]
fn a_file_with_a_sheet_of_one_side_is_refused_by_its_place() {
    let mut value: serde_json::Value = serde_json::from_str(&to_text(&built_in("orchard-flatbed"))).unwrap();
    value["stock"] = serde_json::json!({ "pieces": [{ "form": "sheet", "length": "96\"" }] });
    let error = load(value.to_string().as_bytes()).unwrap_err().to_string();
    assert!(error.contains("stock.pieces[0].width"), "{error}");
}

/// Tie rods of stacks are cut from rods of a metre or two, of three feet or six, whatever bars are taken for flanges.
#[rstest]
#[case::millimetres("millimetres", ["1 m", "2 m"], "6 m")]
#[case::inches("inches", ["3 ft", "6 ft"], "20 ft")]
fn threaded_rods_come_in_lengths_of_their_own(#[case] units: &str, #[case] rods: [&str; 2], #[case] bar: &str) {
    let names = |job: &Job, is_rod: bool| {
        let question = job::nesting::question(job, &job::evaluate(job));
        let of = |form: enclosure::Form| (form == enclosure::Form::Rod) == is_rod;
        let groups = question.groups.iter().filter(|group| group.form.is_some_and(of));
        let pieces = groups.flat_map(|group| group.pieces.iter().map(|&i| &question.pieces[i]));
        pieces
            .map(|piece| job::nesting::named_size(piece.sides))
            .collect::<Vec<_>>()
    };
    let stacked = set(&built_in("mountain-rescue"), Field::Units, units);
    let stacked = set(&stacked, Field::Clamps, "cut with the box");
    assert_eq!(names(&stacked, true), rods.map(Some));
    let flanged = set(&built_in("orchard-flatbed"), Field::Units, units);
    assert_eq!(names(&flanged, false)[0], Some(bar));
}
