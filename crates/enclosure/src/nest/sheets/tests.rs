use serde_json::Value;

use super::*;
use crate::nest::Unwatched;

fn mm(value: &Value) -> Length {
    Length::from_mm(value.as_f64().unwrap())
}

fn nested(request: &Request) -> Nest {
    let nest = nest(request, Budget::default(), &mut Unwatched).unwrap();
    assert_eq!(check(request, &nest), Ok(()));
    nest
}

fn cases(section: &str) -> Vec<Value> {
    let text = std::fs::read_to_string("../../tests/cases/fabrication.json").unwrap();
    let cases: Value = serde_json::from_str(&text).unwrap();
    cases[section].as_array().unwrap().clone()
}

#[test]
fn shop_parts_go_on_the_fewest_sheets() {
    for case in cases("shop_nesting") {
        let inputs = &case["inputs"];
        let parts = inputs["parts"].as_array().unwrap();
        for (cutting, key) in [
            (Cutting::Guillotine, "sheets_guillotine"),
            (Cutting::Free, "sheets_free_best_found"),
        ] {
            let request = Request {
                parts: parts
                    .iter()
                    .enumerate()
                    .map(|(id, part)| Part {
                        sides: [mm(&part["length"]), mm(&part["width"])],
                        quantity: u32::try_from(part["qty"].as_u64().unwrap()).unwrap(),
                        id,
                        may_turn: true,
                    })
                    .collect(),
                stock: vec![Stock {
                    sides: [mm(&inputs["stock_mm"][0]), mm(&inputs["stock_mm"][1])],
                    supply: Supply::Bought,
                }],
                kerf: mm(&inputs["kerf"]),
                trim: mm(&inputs["trim"]),
                cutting,
                keep: [Length::mm(100); 2],
            };
            let now = std::time::Instant::now();
            let nest = nested(&request);
            println!(
                "{} {key} {}: {} at least {} work {} {:?}",
                case["id"],
                case["expected"][key],
                nest.bought,
                nest.at_least,
                nest.work,
                now.elapsed()
            );
        }
    }
}

#[test]
fn published_parts_go_on_the_fewest_sheets() {
    for case in cases("two_d") {
        let inputs = &case["inputs"];
        for (key, turn) in [
            ("sheets", false),
            ("sheets_no_rotation", false),
            ("sheets_rotation_90", true),
        ] {
            let Some(expected) = case["expected"][key].as_u64() else {
                continue;
            };
            let side = |v: &Value| Length::mm(v.as_i64().unwrap());
            let parts = inputs["pieces"].as_array().unwrap();
            let request = Request {
                parts: parts
                    .iter()
                    .enumerate()
                    .map(|(id, part)| Part {
                        sides: [side(&part["w"]), side(&part["h"])],
                        quantity: u32::try_from(part["copies"].as_u64().unwrap()).unwrap(),
                        id,
                        may_turn: turn,
                    })
                    .collect(),
                stock: vec![Stock {
                    sides: [side(&inputs["sheet"][0]), side(&inputs["sheet"][1])],
                    supply: Supply::Bought,
                }],
                kerf: Length::ZERO,
                trim: Length::ZERO,
                cutting: Cutting::Free,
                keep: [Length::mm(1); 2],
            };
            let now = std::time::Instant::now();
            let nest = nested(&request);
            println!(
                "{} {key} {expected}: {} at least {} work {} {:?}",
                case["id"],
                nest.bought,
                nest.at_least,
                nest.work,
                now.elapsed()
            );
        }
    }
}
