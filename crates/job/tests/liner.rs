//! The liner as sheets to cut: sizes and mass by hand, its own stock, holes carried through, what changes.

mod common;

use enclosure::{Role, Wall};
use job::nesting::nested;
use job::shopping::to_buy;
use job::{BoxResult, Edit, Evaluation, Field, Grave, Job, StockForm, evaluate};
use tape::Length;

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn orchard() -> Job {
    common::built_in("orchard-flatbed")
}

fn sheets(battery_box: &BoxResult) -> Vec<(Role, u32, f64, f64)> {
    let built = battery_box.built.as_ref().expect("it can be built");
    let liner = built.parts.iter().filter(|part| part.role.is_liner());
    liner
        .map(|part| (part.role, part.quantity, part.length.as_mm(), part.width.as_mm()))
        .collect()
}

fn liner_lines(evaluation: &Evaluation) -> usize {
    let lines = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
    lines
        .filter(|line| line.roles.iter().any(|role| role.is_liner()))
        .count()
}

/// The body is 903 x 335 x 254.5 mm of 3 mm walls and floor, 4 mm of gasket and 2 mm of lid: 897 x 329 x 245.5 inside the
/// steel, less 1.5 mm of liner on five sides. What is left is the inside that is told.
#[test]
fn sheets_leave_the_inside_that_is_told_and_weigh_what_their_areas_do() {
    let evaluation = evaluate(&orchard());
    let left = &evaluation.boxes[0];
    let told = sheets(left);
    let inside = left.inside.unwrap().size().0.map(Length::as_mm);
    let [(_, 1, long, wide), (_, 2, side, high), (_, 2, end, end_high)] = told[..] else {
        panic!("{told:?}");
    };
    let near = |got: f64, wanted: f64| assert!((got - wanted).abs() < 1e-9, "got {got}, wanted {wanted}");
    near(long, 897.0);
    near(wide, 329.0);
    near(high, 244.0);
    near(side, long);
    near(end, wide - 3.0);
    near(high, end_high);
    near(inside[0], long - 3.0);
    near(inside[1], wide - 3.0);
    near(inside[2], high);
    // Glass-fibre laminate, 1850 kg/m3, 1.5 mm thick: 295 113 + 437 736 + 159 088 = 891 937 mm2, 2475 g.
    assert_eq!(left.mass.added_g, 2_475);
    let area = long * wide + 2.0 * side * high + 2.0 * end * end_high;
    near(
        f64::from(u32::try_from(left.mass.added_g).unwrap()),
        (area * 1.5 * 1.85e-3).round(),
    );
    assert_eq!(
        left.mass.total_g(),
        left.mass.shell_g + left.mass.added_g + left.mass.modules_g
    );
}

#[test]
fn no_liner_is_no_sheet_and_no_mass() {
    let evaluation = evaluate(&set(&orchard(), Field::Liner, "0"));
    assert_eq!(liner_lines(&evaluation), 0);
    assert!(
        evaluation
            .boxes
            .iter()
            .all(|b| b.mass.added_g == 0 && sheets(b).is_empty())
    );
    let list = to_buy(&set(&orchard(), Field::Liner, "0"), &evaluation);
    assert!(list.items.iter().all(|item| !item.note.contains("liner")));
}

#[test]
fn marks_of_the_steel_stay_what_they_were() {
    let steel = |job: &Job| -> Vec<(String, String)> {
        let evaluation = evaluate(job);
        let lines = evaluation.cut.list.tables.iter().flat_map(|table| table.lines.clone());
        let lines = lines.filter(|line| !line.roles.iter().any(|role| role.is_liner()));
        lines.map(|line| (line.mark, line.name)).collect()
    };
    assert_eq!(steel(&orchard()), steel(&set(&orchard(), Field::Liner, "0")));
}

#[test]
fn liners_are_cut_from_their_own_sheets() {
    // A sheet on sale without a material is steel or aluminium: no liner is cut from it.
    let job = orchard()
        .with(&Edit::Stock(job::StockEdit::Add {
            form: StockForm::Sheet,
            on_hand: false,
        }))
        .unwrap();
    let liner = |job: &Job| {
        let nesting = nested(job, &evaluate(job));
        let of_liner = |n: &&job::nesting::Nested| n.label == "glass-fibre laminate 1.5 mm sheet";
        nesting.stocks.iter().find(of_liner).expect("it is on the list").clone()
    };
    let usual = liner(&job);
    assert_eq!(usual.buy[0].piece.sides, [Length::mm(2440), Length::mm(1220)]);
    assert!(usual.buy[0].piece.assumed);
    // Entered as that material, it is what serves, at its price.
    let priced = set(
        &set(&job, Field::StockMaterial(0), "glass-fibre laminate"),
        Field::StockPrice(0),
        "60",
    );
    let own = liner(&priced);
    assert_eq!(own.buy[0].piece.sides, [Length::inches(96), Length::inches(48)]);
    let list = to_buy(&priced, &evaluate(&priced));
    let line = list
        .items
        .iter()
        .find(|item| item.what.starts_with("glass-fibre"))
        .unwrap();
    assert!(line.cost.is_some() && line.note.contains("m2 in the boxes"), "{line:?}");
}

/// A gland's nut inside is wider than its hole: the sheet leaves room for it, so that the nut bears on the steel.
#[test]
fn holes_go_through_the_liner_as_wide_as_what_is_inside() {
    let job = orchard();
    let middle = evaluate(&job).boxes[0].inside.unwrap().size();
    let at = [middle.0[1].half_down(), middle.0[2].half_down()];
    let job = job
        .with(&Edit::AddFitting {
            into: job.boxes[0].id,
            at,
        })
        .unwrap();
    let evaluation = evaluate(&job);
    let fitting = &evaluation.boxes[0].fittings[0];
    let built = evaluation.boxes[0].built.as_ref().unwrap();
    let wall = built.wall_holes[0].wall;
    assert!(matches!(wall, Wall::Front | Wall::Rear));
    let pierced: Vec<_> = built.parts.iter().filter(|p| p.role == Role::LinerEnd).collect();
    let [with, without] = pierced[..] else {
        panic!("the pair is two lines: {pierced:?}")
    };
    let (with, without) = if with.holes.is_empty() {
        (without, with)
    } else {
        (with, without)
    };
    assert_eq!((with.wall, without.holes.len()), (Some(wall), 0));
    assert_eq!(with.holes[0].diameter, fitting.across);
    // 1.5 mm of floor sheet under it.
    assert_eq!(with.holes[0].y, at[1] - Length::tenths_mm(15));
}

/// Lugs are cut round where they stand; dividers part the sheets: of the floor one piece more than dividers, and none in the
/// place of one. Set in loose they do not.
#[test]
fn what_is_welded_in_is_cut_round_and_dividers_part_the_liner() {
    let lugs = set(&orchard(), Field::HoldDown, "bars on lugs at the walls");
    let job = set(&lugs, Field::Dividers, "between rows");
    let evaluation = evaluate(&job);
    let told = |evaluation: &Evaluation| {
        let is_told = |f: &&job::Finding| f.words.starts_with("the liner's sheets are cut in place");
        evaluation
            .findings
            .iter()
            .find(is_told)
            .cloned()
            .expect("lugs are in its way")
    };
    let found = told(&evaluation);
    assert_eq!(found.grave, Grave::Note);
    assert!(
        found.words.contains("x hold-down lug") && !found.words.contains("divider"),
        "{}",
        found.words
    );
    let floors = |evaluation: &Evaluation| -> u32 {
        let sheets = sheets(&evaluation.boxes[0]);
        sheets
            .iter()
            .filter(|(role, ..)| *role == Role::LinerFloor)
            .map(|(_, count, ..)| count)
            .sum()
    };
    let built = evaluation.boxes[0].built.as_ref().unwrap();
    let dividers = || built.added.iter().filter(|piece| piece.role == Role::Divider);
    assert!(dividers().count() > 0);
    assert_eq!(floors(&evaluation) as usize, dividers().count() + 1);
    for piece in built.added.iter().filter(|piece| piece.role.is_liner()) {
        assert!(
            !dividers().any(|divider| divider.block.meets(&piece.block)),
            "{piece:?}"
        );
    }
    assert!(
        evaluation
            .findings
            .iter()
            .all(|f| !f.words.contains("want the same place"))
    );
    let loose = evaluate(&set(&lugs, Field::Dividers, "between rows, set in loose"));
    assert_eq!(floors(&loose), 1);
}

#[test]
fn another_liner_is_a_change_that_the_shop_is_told_of() {
    let old = orchard();
    let new = set(&old, Field::LinerMaterial, "polypropylene");
    let found = job::changes::changes(&old, &evaluate(&old), &new, &evaluate(&new));
    assert!(!found.shop.is_none());
    let words: Vec<String> = found.shop.stock.iter().map(job::changes::Difference::words).collect();
    assert!(
        words.iter().any(|w| w.contains("polypropylene 1.5 mm sheet")),
        "{words:?}"
    );
}
