//! The pack and its tested units.

use std::fs;

use insta::assert_snapshot;
use serde_json::Value;

use crate::shop::Shop;

const UNITS: &str = "unit;Ah;IR mohm;OCV V\nU1;98,2;2,6;26,41\nU2;97,1;2,7;26,40\nU3;99,0;2,6;26,42\nU4;96,5;2,6;26,40\n\
                     U5;95,2;2,8;26,39\nU6;97,7;2,6;26,41\nU7;98,8;2,6;26,41\nU8;94,9;2,7;26,40\nU9;96,1;2,6;26,40\n\
                     U10;99,4;2,6;26,41\nU11;71,3;3,9;26,10\n";

#[test]
fn pack_tells_volts_under_load_checks_and_wiring() {
    let shop = Shop::with("orchard-flatbed");
    let text = shop.run(&["pack", "job.json"]);
    assert_eq!((text.code, text.err.as_str()), (Some(0), ""));
    assert_snapshot!("pack_orchard", text.out);
    assert!(text.out.lines().all(|line| line.chars().count() <= 80), "{}", text.out);
    assert!(!text.out.to_lowercase().contains("approved"));
}

#[test]
fn an_order_and_units_are_saved_only_when_asked() {
    let shop = Shop::with("orchard-flatbed");
    fs::write(shop.path().join("units.csv"), UNITS).unwrap();
    let before = fs::read(shop.path().join("job.json")).unwrap();
    let tried = shop.run(&[
        "pack",
        "job.json",
        "--order",
        "shortest",
        "--units",
        "units.csv",
        "--json",
    ]);
    assert_eq!(tried.code, Some(0));
    assert!(tried.err.starts_with("wiring: links of "), "{}", tried.err);
    let data: Value = serde_json::from_str(&tried.out).unwrap();
    let electric = &data["packs"][0]["electric"];
    assert_eq!(electric["wiring"]["order_from"], "given");
    assert_eq!(electric["units"]["units"].as_array().unwrap().len(), 11);
    assert_eq!(fs::read(shop.path().join("job.json")).unwrap(), before);
    let saved = shop.run(&[
        "pack",
        "job.json",
        "--order",
        "low-volts",
        "--units",
        "units.csv",
        "--write",
    ]);
    assert_eq!(saved.code, Some(0));
    let job: Value = serde_json::from_slice(&fs::read(shop.path().join("job.json")).unwrap()).unwrap();
    assert_eq!(job["wiring"]["order"].as_array().unwrap().len(), 10);
    let spares = job["tested"].as_array().unwrap().iter().filter(|u| u["seat"].is_null());
    assert_eq!(spares.map(|u| u["name"].as_str().unwrap()).collect::<Vec<_>>(), ["U11"]);
}

#[test]
fn match_puts_units_into_groups_and_names_the_spare() {
    let shop = Shop::with("orchard-flatbed");
    fs::write(shop.path().join("units.csv"), UNITS).unwrap();
    let text = shop
        .run(&[
            "match",
            "units.csv",
            "--series",
            "5",
            "--parallel",
            "2",
            "--volts",
            "25.6",
        ])
        .quiet();
    assert_snapshot!("match_groups", text);
    let json = shop
        .run(&["match", "units.csv", "--parallel", "2", "--as", "strings", "--json"])
        .quiet();
    let data: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(
        (&data["series"], &data["parallel"], &data["proved"]),
        (&5.into(), &2.into(), &true.into())
    );
    // The five strongest, then the next five: their weakest add up.
    assert_eq!(data["pack_ah"], 192.6);
    assert_eq!(data["spare"], serde_json::json!(["U11"]));
}

#[test]
fn a_sheet_with_faults_is_refused_line_by_line() {
    let shop = Shop::with("orchard-flatbed");
    fs::write(shop.path().join("units.csv"), "unit,Ah\nU1,fifty\nU1,50\nU1,51\n").unwrap();
    let ended = shop.run(&["match", "units.csv"]);
    assert_eq!(ended.code, Some(2));
    assert_snapshot!("match_faults", ended.err);
    let few = shop.feed(&["match", "-", "--parallel", "3", "--series", "2"], "U1,50\nU2,51\n");
    assert_eq!(few.code, Some(2));
    assert!(few.err.contains("2 x 3 take more than the 2 units"), "{}", few.err);
    let none = shop.feed(&["match", "-", "--parallel", "0"], "U1,50\nU2,51\n");
    assert!(none.err.contains("--parallel: 0 units are no pack"), "{}", none.err);
    let bare = shop.feed(&["match", "-"], "name,V\nU1,26.1\nU2,26.2\n");
    assert!(
        bare.err.contains("no unit has amp-hours") && bare.err.contains("named Ah"),
        "{}",
        bare.err
    );
    assert!(shop.run(&["match", "missing.csv"]).refused().contains("check the name"));
    let odd = shop.run(&["match", "units.csv", "--window", "0"]).refused();
    assert!(odd.contains("--window"), "{odd}");
}
