use proptest::prelude::*;
use serde_json::Value;

use super::*;
use crate::nest::fill::fill;
use crate::nest::{Progress, Unwatched, Why};

fn part(w: i64, h: i64, quantity: u32, id: usize, may_turn: bool) -> Part {
    Part {
        sides: [Length::mm(w), Length::mm(h)],
        quantity,
        id,
        may_turn,
    }
}

fn request(parts: Vec<Part>, sheets: &[([i64; 2], Option<u32>)], [kerf, trim]: [i64; 2], cutting: Cutting) -> Request {
    Request {
        parts,
        stock: sheets
            .iter()
            .map(|&(sides, on_hand)| Stock {
                sides: sides.map(Length::mm),
                supply: on_hand.map_or(Supply::Bought, Supply::OnHand),
            })
            .collect(),
        kerf: Length::mm(kerf),
        trim: Length::mm(trim),
        cutting,
        keep: [Length::mm(20), Length::mm(10)],
    }
}

fn nested(request: &Request) -> Nest {
    let nest = nest(request, Budget::default(), &mut Unwatched).unwrap();
    assert_eq!(check(request, &nest), Ok(()));
    nest
}

fn pinwheel(cutting: Cutting) -> Request {
    let parts = vec![part(690, 300, 4, 0, true), part(380, 380, 1, 1, true)];
    request(parts, &[([1_020, 1_020], None)], [3, 10], cutting)
}

/// The shop's parts on its stock, and how many sheets they need by shear and freely.
fn shop() -> Vec<(String, Request, [u64; 2])> {
    let text = std::fs::read_to_string("../../tests/cases/fabrication.json").unwrap();
    let cases: Value = serde_json::from_str(&text).unwrap();
    let mm = |value: &Value| Length::from_mm(value.as_f64().unwrap());
    let one = |case: &Value| {
        let inputs = &case["inputs"];
        let parts = inputs["parts"]
            .as_array()
            .unwrap()
            .iter()
            .enumerate()
            .map(|(id, part)| Part {
                sides: [mm(&part["length"]), mm(&part["width"])],
                quantity: u32::try_from(part["qty"].as_u64().unwrap()).unwrap(),
                id,
                may_turn: true,
            });
        let request = Request {
            parts: parts.collect(),
            stock: vec![Stock {
                sides: [mm(&inputs["stock_mm"][0]), mm(&inputs["stock_mm"][1])],
                supply: Supply::Bought,
            }],
            kerf: mm(&inputs["kerf"]),
            trim: mm(&inputs["trim"]),
            cutting: Cutting::Guillotine,
            keep: [Length::mm(100); 2],
        };
        let counts = ["sheets_guillotine", "sheets_free_best_found"].map(|key| case["expected"][key].as_u64().unwrap());
        (case["id"].to_string(), request, counts)
    };
    cases["shop_nesting"].as_array().unwrap().iter().map(one).collect()
}

#[test]
fn shop_parts_go_on_the_fewest_sheets() {
    for (id, mut request, [sheared, freely]) in shop() {
        let nest = nested(&request);
        assert_eq!((u64::from(nest.bought), nest.proved), (sheared, true), "{id}");
        request.cutting = Cutting::Free;
        assert_eq!(u64::from(nested(&request).bought), freely, "{id}");
    }
}

#[test]
fn a_pinwheel_is_cut_freely_from_one_sheet_and_sheared_from_two() {
    let [freely, sheared] = [Cutting::Free, Cutting::Guillotine].map(|cutting| nested(&pinwheel(cutting)));
    assert_eq!((freely.bought, freely.proved), (1, true));
    assert_eq!((sheared.bought, sheared.proved), (2, true));
}

#[test]
fn grain_keeps_a_part_from_turning() {
    let turned = |may_turn| {
        nested(&request(
            vec![part(50, 90, 1, 0, may_turn)],
            &[([100, 60], None)],
            [0, 0],
            Cutting::Free,
        ))
    };
    assert_eq!(turned(true).bought, 1);
    assert!(turned(true).sheets[0].placed[0].turned);
    assert_eq!(
        turned(false).left_out,
        [LeftOut {
            id: 0,
            quantity: 1,
            why: Why::FitsNoStock
        }]
    );
}

#[test]
fn sheets_on_hand_save_buying_and_the_smallest_size_is_bought() {
    let sheets = [([100, 100], None), ([60, 60], None), ([50, 50], Some(1))];
    let nest = nested(&request(
        vec![part(50, 50, 2, 0, true)],
        &sheets,
        [0, 0],
        Cutting::Guillotine,
    ));
    let kinds: Vec<usize> = nest.sheets.iter().map(|sheet| sheet.stock).collect();
    assert_eq!((nest.bought, kinds), (1, vec![1, 2]));
}

#[test]
fn what_is_left_is_kept_when_it_is_large_enough() {
    let nest = nested(&request(
        vec![part(100, 40, 1, 0, true)],
        &[([100, 60], None)],
        [4, 0],
        Cutting::Guillotine,
    ));
    let offcut = nest.sheets[0].offcuts[0];
    assert_eq!(
        (offcut.y, offcut.sides),
        (Length::mm(44), [Length::mm(100), Length::mm(16)])
    );
    let cut = nest.sheets[0].cuts[0];
    assert_eq!(
        (cut.along, cut.at, cut.from, cut.to),
        (Along::X, Length::mm(40), Length::ZERO, Length::mm(100))
    );
}

#[test]
fn a_flaw_is_seen() {
    let request = request(
        vec![part(40, 30, 3, 0, false)],
        &[([100, 60], None)],
        [4, 2],
        Cutting::Guillotine,
    );
    let good = nested(&request);
    let broken = |change: fn(&mut Sheet)| {
        let mut nest = good.clone();
        change(&mut nest.sheets[0]);
        check(&request, &nest)
    };
    assert_eq!(broken(|sheet| sheet.placed[0].x = Length::mm(1)), Err(Flaw::InTheTrim));
    assert_eq!(broken(|sheet| sheet.placed[1] = sheet.placed[0]), Err(Flaw::TooClose));
    assert_eq!(broken(|sheet| sheet.placed[0].turned = true), Err(Flaw::NotThePart));
    assert_eq!(broken(|sheet| sheet.cuts.clear()), Err(Flaw::NotCuttable));
    assert_eq!(broken(|sheet| sheet.kerf = Area::default()), Err(Flaw::DoesNotAddUp));
    assert_eq!(broken(|sheet| sheet.stock = 1), Err(Flaw::NoSuchStock));
}

/// Says stop at the first look.
struct Impatient;

impl Watch for Impatient {
    fn carry_on(&mut self, progress: Progress) -> bool {
        assert!(progress.at_least <= progress.sheets);
        false
    }
}

#[test]
fn what_is_stopped_gives_the_best_so_far() {
    let request = pinwheel(Cutting::Free);
    let nest = nest(&request, Budget::default(), &mut Impatient).unwrap();
    assert_eq!(check(&request, &nest), Ok(()));
    assert_eq!((nest.bought, nest.ended), (2, Ended::Stopped));
}

#[test]
fn the_pinwheel_is_worth_more_freely() {
    let worth = |cutting| fill(&pinwheel(cutting), &[10, 7], Budget::default(), &mut Unwatched).unwrap();
    let (freely, sheared) = (worth(Cutting::Free), worth(Cutting::Guillotine));
    assert_eq!((freely.worth, freely.proved), (47, true));
    assert_eq!((sheared.worth, sheared.proved), (40, true));
    assert_eq!(freely.sheet.unwrap().placed.len(), 5);
}

/// Whether rectangles go on a sheet of whole sides, by trying every whole place for each in turn.
fn goes(parts: &[[i64; 2]], sheet: [i64; 2], placed: &mut Vec<[i64; 4]>) -> bool {
    let Some((&[a, b], rest)) = parts.split_first() else {
        return true;
    };
    for [w, h] in [[a, b], [b, a]] {
        for x in 0..=sheet[0] - w {
            for y in 0..=sheet[1] - h {
                let clear = |&[x1, y1, x2, y2]: &[i64; 4]| x + w <= x1 || x2 <= x || y + h <= y1 || y2 <= y;
                if placed.iter().all(clear) {
                    placed.push([x, y, x + w, y + h]);
                    if goes(rest, sheet, placed) {
                        return true;
                    }
                    placed.pop();
                }
            }
        }
    }
    false
}

/// Whether rectangles go on a sheet, by dividing them in two in every way.
fn divides(parts: &[[i64; 2]], [w, h]: [i64; 2]) -> bool {
    let fits = |&[a, b]: &[i64; 2]| a <= w && b <= h || b <= w && a <= h;
    if parts.len() < 2 {
        return parts.iter().all(fits);
    }
    (1..(1_u32 << parts.len()) / 2).any(|some| {
        let (near, far): (Vec<_>, Vec<_>) = (0..parts.len()).partition(|&at| some >> at & 1 == 1);
        let [near, far] = [near, far].map(|of| of.into_iter().map(|at| parts[at]).collect::<Vec<_>>());
        (1..w).any(|at| divides(&near, [at, h]) && divides(&far, [w - at, h]))
            || (1..h).any(|at| divides(&near, [w, at]) && divides(&far, [w, h - at]))
    })
}

fn small_parts(parts: &[[i64; 2]]) -> Vec<Part> {
    parts
        .iter()
        .enumerate()
        .map(|(id, &[w, h])| part(w, h, 1, id, true))
        .collect()
}

proptest! {
    #[test]
    fn few_parts_go_on_one_sheet_if_there_is_any_way(parts in proptest::collection::vec([2..7_i64, 2..7_i64], 2..6)) {
        let sheet = [9, 7];
        let asked = |cutting| nested(&request(small_parts(&parts), &[(sheet, None)], [0, 0], cutting));
        let (freely, sheared) = (asked(Cutting::Free), asked(Cutting::Guillotine));
        prop_assert!(freely.proved && sheared.proved);
        prop_assert_eq!(freely.bought == 1, goes(&parts, sheet, &mut Vec::new()));
        prop_assert_eq!(sheared.bought == 1, divides(&parts, sheet));
    }

    #[test]
    fn every_nest_is_valid_comes_again_and_a_laser_needs_no_more_than_a_shear(
        parts in proptest::collection::vec(([8..70_i64, 8..70_i64], 0..4_u32, proptest::bool::ANY), 0..8),
        on_hand in 0..3_u32, takes in [0..4_i64, 0..4_i64]
    ) {
        let parts: Vec<Part> = parts
            .iter()
            .enumerate()
            .map(|(id, &([w, h], n, turn))| part(w, h, n, id, turn))
            .collect();
        let sheets = [([100, 80], None), ([60, 90], None), ([45, 70], Some(on_hand))];
        let budget = Budget { work: 1_000_000 };
        let asked = |cutting| {
            let request = request(parts.clone(), &sheets, takes, cutting);
            let nest = nest(&request, budget, &mut Unwatched).unwrap();
            assert_eq!(check(&request, &nest), Ok(()));
            nest
        };
        let sheared = asked(Cutting::Guillotine);
        let freely = asked(Cutting::Free);
        prop_assert!(freely.bought <= sheared.bought || !sheared.proved);
        prop_assert!(freely.at_least <= sheared.bought);
        prop_assert_eq!(sheared, asked(Cutting::Guillotine));
    }
}
