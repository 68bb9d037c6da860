use proptest::prelude::*;
use rstest::rstest;
use serde_json::Value;

use super::*;
use crate::nest::Unwatched;

fn parts(lengths: &[(i64, u32)]) -> Vec<Part> {
    let part = |(id, &(length, quantity)): (usize, &(i64, u32))| Part {
        length: Length::mm(length),
        quantity,
        id,
    };
    lengths.iter().enumerate().map(part).collect()
}

fn stock(lengths: &[(i64, Option<u32>)]) -> Vec<Stock> {
    let stock = |&(length, on_hand): &(i64, Option<u32>)| Stock {
        length: Length::mm(length),
        supply: on_hand.map_or(Supply::Bought, Supply::OnHand),
    };
    lengths.iter().map(stock).collect()
}

fn request(lengths: &[(i64, u32)], bars: &[(i64, Option<u32>)], kerf: i64, trim: i64) -> Request {
    Request {
        parts: parts(lengths),
        stock: stock(bars),
        kerf: Length::mm(kerf),
        trim: Length::mm(trim),
    }
}

fn nested(request: &Request) -> Nest {
    let nest = nest(request, Budget::default(), &mut Unwatched).unwrap();
    assert_eq!(check(request, &nest), Ok(()));
    nest
}

#[test]
fn published_lengths_go_on_the_fewest_bars() {
    let text = std::fs::read_to_string("../../tests/cases/fabrication.json").unwrap();
    let cases: Value = serde_json::from_str(&text).unwrap();
    for case in cases["one_d"].as_array().unwrap() {
        let items: Vec<(i64, u32)> = case["inputs"]["items"]
            .as_array()
            .unwrap()
            .iter()
            .map(|item| (item.as_i64().unwrap(), 1))
            .collect();
        let capacity = case["inputs"]["capacity"].as_i64().unwrap();
        let nest = nested(&request(&items, &[(capacity, None)], 0, 0));
        let optimum = u32::try_from(case["expected"]["optimum"].as_u64().unwrap()).unwrap();
        assert_eq!((nest.bought, nest.proved), (optimum, true), "{}", case["id"]);
    }
}

#[rstest]
#[case::flush(&[(2_998, 2)], 6_000, 4, 0, 1)]
#[case::a_millimetre_more(&[(2_999, 2)], 6_000, 4, 0, 2)]
#[case::trim_at_both_ends(&[(2_988, 2)], 6_000, 4, 10, 1)]
#[case::whole_bar(&[(6_000, 3)], 6_000, 4, 0, 3)]
#[case::nothing(&[], 6_000, 4, 0, 0)]
fn kerf_and_trim_take_their_share(
    #[case] lengths: &[(i64, u32)],
    #[case] bar: i64,
    #[case] kerf: i64,
    #[case] trim: i64,
    #[case] bars: u32,
) {
    let nest = nested(&request(lengths, &[(bar, None)], kerf, trim));
    assert_eq!((nest.bought, nest.proved), (bars, true));
}

#[test]
fn a_last_cut_may_run_out_of_the_bar() {
    let nest = nested(&request(&[(998, 1)], &[(1_000, None)], 3, 0));
    let bar = &nest.bars[0];
    assert_eq!((bar.cuts, bar.sawn, bar.offcut), (1, Length::mm(2), Length::ZERO));
}

#[test]
fn bars_on_hand_save_buying() {
    let on_hand = nested(&request(&[(900, 5)], &[(3_000, None), (1_000, Some(2))], 3, 0));
    assert_eq!((on_hand.bought, on_hand.bars.len()), (1, 3));
    let not_needed = nested(&request(&[(900, 3)], &[(3_000, None), (800, Some(2))], 3, 0));
    assert_eq!((not_needed.bought, not_needed.bars.len()), (1, 1));
}

#[test]
fn of_as_few_bars_the_shortest_are_bought() {
    let nest = nested(&request(
        &[(1_800, 3), (900, 2)],
        &[(6_000, None), (4_000, None), (3_000, None)],
        0,
        0,
    ));
    let lengths: i64 = nest.bars.iter().map(|bar| [6_000, 4_000, 3_000][bar.stock]).sum();
    assert_eq!((nest.bought, lengths), (2, 8_000));
}

#[test]
fn what_fits_no_bar_or_has_none_left_is_told() {
    let nest = nested(&request(&[(7_000, 2), (900, 3)], &[(1_000, Some(2))], 3, 0));
    let told: Vec<(usize, u32, Why)> = nest
        .left_out
        .iter()
        .map(|left| (left.id, left.quantity, left.why))
        .collect();
    assert_eq!(told, [(0, 2, Why::FitsNoStock), (1, 1, Why::StockUsedUp)]);
}

#[test]
fn a_size_that_makes_no_sense_is_refused() {
    let refused = nest(
        &request(&[(0, 1)], &[(1_000, None)], 3, 0),
        Budget::default(),
        &mut Unwatched,
    );
    assert_eq!(
        refused,
        Err(NestError::PartSize {
            id: 0,
            side: Length::ZERO
        })
    );
}

#[test]
fn a_flaw_is_seen() {
    let request = request(&[(900, 5)], &[(3_000, None)], 3, 0);
    let good = nested(&request);
    let broken = |change: fn(&mut Nest)| {
        let mut nest = good.clone();
        change(&mut nest);
        check(&request, &nest)
    };
    assert_eq!(
        broken(|nest| nest.bars[0].pieces[1].offset = Length::mm(900)),
        Err(Flaw::TooClose)
    );
    assert_eq!(
        broken(|nest| nest.bars[0].offcut += Length::mm(1)),
        Err(Flaw::DoesNotAddUp)
    );
    assert_eq!(broken(|nest| drop(nest.bars.pop())), Err(Flaw::Quantity));
    assert_eq!(broken(|nest| nest.bars[0].stock = 1), Err(Flaw::NoSuchStock));
    assert_eq!(broken(|nest| nest.at_least = 1), Err(Flaw::Figures));
}

/// The fewest bars, by trying every bar for every piece.
fn fewest(lengths: &[i64], bar: i64, kerf: i64) -> usize {
    fn put(lengths: &[i64], room: &mut Vec<i64>, whole: i64, best: &mut usize) {
        let Some((&first, rest)) = lengths.split_first() else {
            *best = room.len().min(*best);
            return;
        };
        for at in 0..room.len() {
            if room[at] >= first {
                room[at] -= first;
                put(rest, room, whole, best);
                room[at] += first;
            }
        }
        room.push(whole - first);
        put(rest, room, whole, best);
        room.pop();
    }
    let mut best = usize::MAX;
    let grown: Vec<i64> = lengths.iter().map(|length| length + kerf).collect();
    put(&grown, &mut Vec::new(), bar + kerf, &mut best);
    best
}

proptest! {
    #[test]
    fn few_lengths_go_on_as_few_bars_as_any_way(
        lengths in proptest::collection::vec(5..100_i64, 1..8), kerf in 0..4_i64
    ) {
        let each: Vec<(i64, u32)> = lengths.iter().map(|&length| (length, 1)).collect();
        let nest = nested(&request(&each, &[(100, None)], kerf, 0));
        prop_assert_eq!((nest.bought as usize, nest.proved), (fewest(&lengths, 100, kerf), true));
    }

    #[test]
    fn every_nest_of_bars_is_valid_and_comes_again(
        lengths in proptest::collection::vec((50..2_500_i64, 0..6_u32), 0..12),
        own in 300..3_000_i64, on_hand in 0..4_u32, kerf in 0..5_i64, trim in 0..30_i64
    ) {
        let request = request(&lengths, &[(own, Some(on_hand)), (3_000, None), (2_000, None)], kerf, trim);
        let budget = Budget { work: 50_000 };
        let first = nest(&request, budget, &mut Unwatched).unwrap();
        prop_assert_eq!(check(&request, &first), Ok(()));
        prop_assert_eq!(first, nest(&request, budget, &mut Unwatched).unwrap());
    }
}
