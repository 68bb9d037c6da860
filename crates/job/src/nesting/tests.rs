//! Nothing is lost, nothing is cut twice, and what is told holds for those who check it without knowing how it was found.

use std::collections::BTreeMap;

use enclosure::nest::sheets::Cutting;
use enclosure::nest::{Budget, Supply, Unwatched, bars, sheets};
use proptest::prelude::*;
use tape::{Length, Units};

use super::answer::{bar_request, sheet_request};
use super::*;
use crate::{EXAMPLES, Edit, Field, Job, StockEdit, StockForm, evaluate, load};

const LITTLE: u64 = 200_000;

fn how(cutting: Cutting) -> How {
    How {
        cutting,
        kerf: Length::mm(3),
        trim: Length::mm(5),
        may_turn: true,
        saw_kerf: Length::mm(2),
        saw_trim: Length::mm(5),
        keep: Length::mm(300),
    }
}

fn bought(length: i64, width: i64) -> Piece {
    Piece {
        sides: [length, width].map(Length::mm),
        on_hand: None,
        price: None,
        assumed: false,
    }
}

fn part(mark: &str, sides: [i64; 2], quantity: u32) -> Wanted {
    Wanted {
        mark: mark.to_owned(),
        name: String::new(),
        box_name: String::new(),
        sides: sides.map(Length::mm),
        quantity,
        cut_out_mm2: 0.0,
    }
}

/// Two parts of 500 x 1000 fill a sheet of 1000 x 1000; each lacks four corners of 100 x 100: 80 000 of the million are waste.
#[test]
fn corners_that_are_cut_out_are_waste() {
    let of = |cut_out_mm2| {
        let part = Wanted {
            cut_out_mm2,
            ..part("A1", [1000, 500], 2)
        };
        let mut question = of_parts(vec![part], vec![bought(1000, 1000)], false);
        (question.how.kerf, question.how.trim) = (Length::ZERO, Length::ZERO);
        nest(question, LITTLE, &mut |_| true).stocks[0].waste
    };
    assert!(of(0.0).abs() < 1e-9);
    assert!((of(40_000.0) - 0.08).abs() < 1e-9, "{}", of(40_000.0));
}

/// What of a tray's blank is not the tray is what its outline lacks.
#[test]
fn a_tray_s_corners_are_told_to_the_nesting() {
    let job = load(EXAMPLES[0].text.as_bytes()).unwrap();
    let job = set(&job, Field::Construction, "folded tray");
    let question = question(&job, &evaluate(&job));
    let parts = question.groups.iter().flat_map(|group| &group.parts);
    let tray = parts.into_iter().find(|part| part.name.starts_with("tray")).unwrap();
    assert!(tray.cut_out_mm2 > 1000.0, "{}", tray.cut_out_mm2);
}

fn of_parts(parts: Vec<Wanted>, pieces: Vec<Piece>, is_bar: bool) -> Question {
    Question {
        units: Units::Millimetre,
        how: how(Cutting::Guillotine),
        assumed: Vec::new(),
        groups: vec![Group {
            label: "stock".to_owned(),
            is_bar,
            form: None,
            parts,
            pieces: (0..pieces.len()).collect(),
        }],
        pieces,
    }
}

/// How many of each mark are on nests or left out.
fn tally(nested: &Nested) -> BTreeMap<String, u32> {
    let mut count = BTreeMap::new();
    for placing in nested.nests.iter().flat_map(|nest| &nest.parts) {
        *count.entry(placing.mark.clone()).or_default() += 1;
    }
    for left in &nested.left_out {
        *count.entry(left.mark.clone()).or_default() += left.quantity;
    }
    count
}

fn told(group: &Group) -> BTreeMap<String, u32> {
    let parts = group.parts.iter().filter(|part| part.quantity > 0);
    parts.map(|part| (part.mark.clone(), part.quantity)).collect()
}

/// Holds a nesting against its question: the tally, no more stock than there is, and nothing over the edge.
fn assert_whole(nesting: &Nesting) {
    let question = &nesting.question;
    let mut used: BTreeMap<[Length; 2], u32> = BTreeMap::new();
    for (group, nested) in question.groups.iter().zip(&nesting.stocks) {
        assert_eq!(tally(nested), told(group), "{}", group.label);
        let bought = nested.nests.iter().filter(|nest| nest.piece.on_hand.is_none()).count();
        assert_eq!(bought, nested.bought as usize, "{}", group.label);
        assert_eq!(nested.buy.iter().map(|buy| buy.count).sum::<u32>(), nested.bought);
        assert_eq!(nested.proved, nested.at_least == nested.bought, "{}", group.label);
        for nest in &nested.nests {
            if nest.piece.on_hand.is_some() {
                *used.entry(nest.piece.sides).or_default() += 1;
            }
            for placing in &nest.parts {
                for (axis, &side) in nest.piece.sides.iter().enumerate() {
                    let is_across_a_bar = group.is_bar && axis == 1;
                    let end = placing.at[axis] + placing.sides[axis];
                    assert!(is_across_a_bar || end <= side, "{} reaches off the stock", placing.mark);
                }
            }
            assert!((0.0..=1.0).contains(&nest.waste), "{}", nest.waste);
        }
    }
    for (sides, n) in used {
        let there = question.pieces.iter().filter(|piece| piece.sides == sides);
        assert!(
            n <= there.filter_map(|piece| piece.on_hand).sum(),
            "more than lie there"
        );
    }
}

#[test]
fn the_parts_of_every_example_come_to_its_cut_list() {
    for example in EXAMPLES {
        let job = load(example.text.as_bytes()).unwrap();
        for cutting in ["shear", "laser"] {
            let job = set(&job, Field::CuttingMethod, cutting);
            let evaluation = evaluate(&job);
            let nesting = nest(question(&job, &evaluation), LITTLE, &mut |_| true);
            assert_whole(&nesting);
            let tables = &evaluation.cut.list.tables;
            assert_eq!(nesting.stocks.len(), tables.len());
            for (table, nested) in tables.iter().zip(&nesting.stocks) {
                assert_eq!(table.label(), nested.label);
                assert_eq!(tally(nested).values().sum::<u32>(), table.pieces, "{}", table.label());
            }
        }
    }
}

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).unwrap()
}

fn add(job: &Job, form: StockForm, on_hand: bool) -> Job {
    job.with(&Edit::Stock(StockEdit::Add { form, on_hand })).unwrap()
}

#[test]
fn the_same_question_has_the_same_answer() {
    let parts = vec![part("A", [700, 300], 9), part("B", [410, 260], 17)];
    let question = of_parts(parts, vec![bought(2_500, 1_250)], false);
    let answer = || nest(question.clone(), LITTLE, &mut |_| true);
    assert_eq!(answer(), answer());
}

#[test]
fn a_watcher_that_stops_gets_the_best_so_far_for_every_group() {
    let mut question = of_parts(
        vec![part("A", [700, 300], 19), part("B", [410, 260], 37)],
        vec![bought(2_500, 1_250)],
        false,
    );
    question.groups.push(question.groups[0].clone());
    let mut looks = 0;
    let nesting = nest(question, WORK, &mut |progress| {
        looks += 1;
        assert!(progress.done <= progress.work && progress.group <= progress.of);
        false
    });
    assert!(nesting.stopped && looks == 1, "it is asked once: {looks}");
    assert_whole(&nesting);
}

/// Two parts of 1240 x 1240 on 2500 x 1250 leave no second column for a third: by hand 2 sheets for 3.
#[test]
fn counts_by_hand() {
    let question = of_parts(vec![part("A", [1_240, 1_240], 3)], vec![bought(2_500, 1_250)], false);
    let nesting = nest(question, LITTLE, &mut |_| true);
    let nested = &nesting.stocks[0];
    assert_eq!((nested.bought, nested.at_least, nested.proved), (2, 2, true));
    // A bar of 6 m less 2 trims of 5 mm holds 2 x 2900 + kerf: three need two bars.
    let bars = of_parts(vec![part("B", [2_900, 0], 3)], vec![bought(6_000, 0)], true);
    let nested = nest(bars, LITTLE, &mut |_| true).stocks.remove(0);
    assert_eq!((nested.bought, nested.proved), (2, true));
    assert_eq!(nested.nests[0].offcuts, [], "186 mm are not worth keeping");
    assert_eq!(nested.nests[1].offcuts[0].sides[0], Length::mm(6_000 - 10 - 2_900 - 2));
    assert_eq!(nested.nests[1].offcuts[0].x, Length::mm(5 + 2_900 + 2));
}

#[test]
fn an_offcut_on_hand_is_not_used_by_two_groups() {
    let mut offcut = bought(800, 600);
    offcut.on_hand = Some(1);
    let mut question = of_parts(
        vec![part("A", [700, 500], 1)],
        vec![offcut, bought(2_500, 1_250)],
        false,
    );
    let mut second = question.groups[0].clone();
    second.parts[0].mark = "B".to_owned();
    question.groups.push(second);
    let nesting = nest(question, LITTLE, &mut |_| true);
    assert_whole(&nesting);
    assert_eq!(
        nesting.stocks.iter().map(|stock| stock.bought).collect::<Vec<_>>(),
        [0, 1]
    );
}

#[test]
fn what_fits_no_stock_is_told() {
    let question = of_parts(vec![part("A", [2_600, 100], 2)], vec![bought(2_500, 1_250)], false);
    let nesting = nest(question, LITTLE, &mut |_| true);
    let summary = nesting.stocks[0].summary(Units::Millimetre);
    assert!(summary.contains("A x2 left out, larger than every sheet"), "{summary}");
}

#[test]
fn more_parts_than_can_be_laid_out_are_told() {
    let question = of_parts(vec![part("A", [260, 100], 20_001)], vec![bought(2_500, 1_250)], false);
    let nested = nest(question, LITTLE, &mut |_| true).stocks.remove(0);
    assert_eq!(nested.left_out[0].quantity, 20_001);
    assert!(nested.summary(Units::Millimetre).contains("split the list") && !nested.proved);
}

#[test]
fn stock_that_was_entered_is_used_with_its_price() {
    let job = load(EXAMPLES[0].text.as_bytes()).unwrap();
    let none = question(&job, &evaluate(&job));
    assert!(none.pieces.iter().all(|piece| piece.assumed));
    let job = add(&job, StockForm::Sheet, false);
    let job = set(&job, Field::StockPrice(0), "84.50");
    let job = set(&job, Field::StockLength(0), "10 ft");
    let nesting = nest(question(&job, &evaluate(&job)), LITTLE, &mut |_| true);
    let sheets = nesting.stocks.iter().find(|stock| !stock.is_bar).unwrap();
    assert_eq!(sheets.buy[0].piece.size_text(Units::Inch), "4x10 ft");
    assert_eq!(sheets.cost().unwrap().0, 84_500 * i64::from(sheets.bought));
}

#[test]
fn a_piece_serves_for_its_own_material_and_thickness_only() {
    let job = add(&load(EXAMPLES[0].text.as_bytes()).unwrap(), StockForm::Sheet, true);
    let job = set(&job, Field::StockMaterial(0), "stainless 304");
    let question = question(&job, &evaluate(&job));
    assert!(question.groups.iter().all(|group| !group.pieces.contains(&0)));
}

/// Modules held down by bars on rods from the floor: a bar on sale serves for the flat bars, and the rods come from rods.
#[test]
fn rods_are_cut_from_rods_only() {
    let job = load(EXAMPLES[0].text.as_bytes()).unwrap();
    let job = set(&job, Field::HoldDown, "bars on rods from the floor");
    let plain = add(&job, StockForm::Bar, false);
    let rods_of = |job: &Job| {
        let question = question(job, &evaluate(job));
        let of_rods = |group: &&Group| group.form == Some(enclosure::Form::Rod);
        let rods: Vec<Group> = question.groups.iter().filter(of_rods).cloned().collect();
        assert!(!rods.is_empty());
        rods
    };
    assert!(rods_of(&plain).iter().all(|group| !group.pieces.contains(&0)));
    let rods = add(&job, StockForm::Rod, false);
    assert!(rods_of(&rods).iter().all(|group| group.pieces == [0]));
    // Of another thread they do not serve.
    let other = set(&rods, Field::StockThickness(0), "20 mm");
    assert!(rods_of(&other).iter().all(|group| !group.pieces.contains(&0)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn nothing_is_lost_and_every_rule_is_kept(
        sizes in proptest::collection::vec((20_i64..1_500, 20_i64..1_200, 1_u32..6), 1..8),
        free in any::<bool>(),
        may_turn in any::<bool>(),
        is_bar in any::<bool>(),
        there in 0_u32..3,
    ) {
        let parts: Vec<Wanted> = sizes
            .iter()
            .enumerate()
            .map(|(i, &(a, b, n))| part(&format!("A{i}"), if is_bar { [a, 0] } else { [a, b] }, n))
            .collect();
        let mut offcut = bought(900, if is_bar { 0 } else { 700 });
        offcut.on_hand = Some(there);
        let mut question = of_parts(parts, vec![offcut, bought(2_500, if is_bar { 0 } else { 1_250 })], is_bar);
        question.how.cutting = if free { Cutting::Free } else { Cutting::Guillotine };
        question.how.may_turn = may_turn;
        let nesting = nest(question.clone(), LITTLE, &mut |_| true);
        assert_whole(&nesting);
        // The check that knows nothing of how it was found, on the same request.
        let group = &question.groups[0];
        let supply = |i: usize| question.pieces[i].on_hand.map_or(Supply::Bought, Supply::OnHand);
        let offered: Vec<usize> = (0..2).filter(|&i| question.pieces[i].on_hand != Some(0)).collect();
        let budget = Budget { work: LITTLE };
        let count = if is_bar {
            let request = bar_request(&question, group, &offered, supply);
            let found = bars::nest(&request, budget, &mut Unwatched).unwrap();
            prop_assert_eq!(bars::check(&request, &found), Ok(()));
            found.bought
        } else {
            let request = sheet_request(&question, group, &offered, supply);
            let found = sheets::nest(&request, budget, &mut Unwatched).unwrap();
            prop_assert_eq!(sheets::check(&request, &found), Ok(()));
            found.bought
        };
        prop_assert_eq!(count, nesting.stocks[0].bought);
    }
}

/// Stock is told as it is sold: in an inch job a bar of 6 m has 6000 / 25.4 = 236.22 in behind it, 236 1/4 to the nearest
/// sixteenth, one of 1000 mm 39.37 in, 39 3/8, a laminate of 2440 x 1220 mm 96.06 x 48.03 in; 30 x 20 in are inches. A part of
/// 25 mm has its 0.984 in first.
#[test]
fn stock_is_told_as_it_is_sold() {
    let bar = Piece {
        sides: [Length::mm(6000), Length::ZERO],
        ..bought(1, 1)
    };
    assert_eq!(bar.size_text(Units::Inch), "6 m (236 1/4\")");
    assert_eq!(bar.size_text(Units::Millimetre), "6 m");
    let sold =
        |sides: &[i64], units| super::stock_text(&sides.iter().map(|mm| Length::mm(*mm)).collect::<Vec<_>>(), units);
    assert_eq!(sold(&[1000], Units::Inch), "1000 mm (39 3/8\")");
    assert_eq!(sold(&[1000], Units::Millimetre), "1000.0 mm");
    assert_eq!(
        sold(&[2440, 1220], Units::Inch),
        "2440 x 1220 mm (96 1/16\" x 48 1/16\")"
    );
    let inches = [Length::inches(30), Length::inches(20)];
    assert_eq!(super::stock_text(&inches, Units::Inch), "30\" x 20\"");
    let text = crate::assumed::told_text;
    assert_eq!(text("25 mm", Units::Inch), "0.984\" (25 mm)");
    assert_eq!(text("25 mm", Units::Millimetre), "25 mm");
    assert_eq!(text("either way", Units::Inch), "either way");
}
