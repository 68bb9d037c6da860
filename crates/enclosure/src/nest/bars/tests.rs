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
        println!(
            "{} {}: {} at least {} work {}",
            case["id"], optimum, nest.bought, nest.at_least, nest.work
        );
        assert_eq!((nest.bought, nest.proved), (optimum, true), "{}", case["id"]);
    }
}
