//! The outside check values for layouts, read into requests, and the two demo jobs with boxes.

// Each test program and bench uses a part of this.
#![allow(dead_code, reason = "shared by several programs, each of which uses a part")]

use std::path::Path;

use geometry::fit::{BoxRule, Budget, Cavity, KeepOut, Kind, Request, Rim, Stack, Wanted};
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use serde_json::Value;
use tape::Length;

/// One instance of the packing cases.
pub(crate) struct Case {
    pub(crate) name: String,
    pub(crate) group: String,
    pub(crate) request: Request,
    pub(crate) best_known: u32,
    pub(crate) upper_bound: u32,
}

/// All instances, one unit taken as a micrometre.
pub(crate) fn packing_cases() -> Vec<Case> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/cases/packing.json");
    let text = std::fs::read_to_string(path).expect("the cases are in the tree");
    let file: Value = serde_json::from_str(&text).expect("the cases are valid");
    file["instances"].as_array().expect("a list").iter().map(case).collect()
}

fn case(instance: &Value) -> Case {
    let text = |key: &str| instance[key].as_str().expect("text").to_owned();
    let count = |key: &str| u32::try_from(instance[key].as_u64().expect("a count")).expect("small");
    let margin = units(&instance["margin"]);
    let cavities = match instance.get("containers") {
        Some(list) => list
            .as_array()
            .expect("a list")
            .iter()
            .map(|c| cavity(c, "size", margin))
            .collect(),
        None => vec![cavity(instance, "container", margin)],
    };
    let orientations = orientations(&instance["orientations"]);
    let kinds = match instance.get("items") {
        Some(list) => {
            let items = list.as_array().expect("a list").iter();
            items
                .map(|item| kind(&item["size"], &item["count_max"], &orientations))
                .collect()
        }
        None => vec![kind(&instance["item"], &Value::Null, &orientations)],
    };
    let request = Request {
        cavities,
        kinds,
        gap: units(&instance["gap"]),
        boxes: None,
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    };
    Case {
        name: text("name"),
        group: text("kind"),
        request,
        best_known: count("best_known"),
        upper_bound: count("upper_bound"),
    }
}

fn units(value: &Value) -> Length {
    Length::from_nm(value.as_i64().expect("whole units") * 1000)
}

fn triple(value: &Value) -> [Length; 3] {
    let list = value.as_array().expect("three lengths");
    std::array::from_fn(|i| units(&list[i]))
}

fn cavity(value: &Value, size: &str, margin: Length) -> Cavity {
    let keep_outs = value["obstructions"].as_array().map_or(&[][..], Vec::as_slice);
    Cavity {
        space: Cuboid::at(Point::ZERO, Size(triple(&value[size]))),
        wall_margin: Faces::all(margin),
        keep_outs: keep_outs
            .iter()
            .map(|o| KeepOut {
                cuboid: Cuboid::between(Point(triple(&o["min"])), Point(triple(&o["max"]))),
                margin,
            })
            .collect(),
    }
}

fn kind(size: &Value, most: &Value, orientations: &[Orientation]) -> Kind {
    Kind {
        size: Size(triple(size)),
        orientations: orientations.to_vec(),
        service: Faces::default(),
        on_hand: most.as_u64().map(|n| u32::try_from(n).expect("small")),
        mass_g: 1000,
        stack: None,
    }
}

/// For each permutation one orientation that puts own extent `p[k]` along axis `k`.
fn orientations(value: &Value) -> Vec<Orientation> {
    let marks = Size([Length::mm(1), Length::mm(2), Length::mm(3)]);
    let Some(list) = value.as_array() else {
        return Orientation::all();
    };
    list.iter()
        .map(|p| {
            let wanted: Vec<i64> = p
                .as_array()
                .expect("a permutation")
                .iter()
                .map(|k| k.as_i64().expect("0 to 2") + 1)
                .collect();
            let stands = |o: &Orientation| {
                o.extents(marks)
                    .0
                    .iter()
                    .zip(&wanted)
                    .all(|(l, &w)| *l == Length::mm(w))
            };
            Orientation::all().into_iter().find(stands).expect("one of the 24")
        })
        .collect()
}

/// A budget that keeps the unoptimised tests short.
pub(crate) fn small_budget() -> Budget {
    Budget { work: 500_000, seed: 1 }
}

pub(crate) fn tenths(n: [i64; 3]) -> Point {
    Point(n.map(Length::tenths_mm))
}

fn size_mm(x: i64, y: i64, z: i64) -> Size {
    Size([Length::mm(x), Length::mm(y), Length::mm(z)])
}

/// The rim of a lid that reaches `out` beyond the body, down to `below` under its top.
fn rim(out: i64, below: i64) -> Rim {
    Rim {
        out: Length::mm(out),
        below_top: Length::mm(below),
        above_top: Length::ZERO,
    }
}

/// The invented orchard job: 14 upright crates, five in series, one box with a bay in each of two cavities.
pub(crate) fn orchard() -> Request {
    let cavity = || Cavity {
        space: Cuboid::between(Point::ZERO, Point([Length::mm(1290), Length::mm(425), Length::mm(297)])),
        wall_margin: Faces::all(Length::tenths_mm(127)),
        keep_outs: vec![],
    };
    let mut service = Faces::default();
    service[Face::Top] = Length::mm(32);
    let upright = std::iter::successors(Some(Orientation::UPRIGHT), |o| Some(o.turned())).take(4);
    Request {
        cavities: vec![cavity(), cavity()],
        kinds: vec![Kind {
            size: size_mm(320, 142, 212),
            orientations: upright.collect(),
            service,
            on_hand: Some(14),
            mass_g: 18_000,
            stack: None,
        }],
        gap: Length::mm(2),
        boxes: Some(BoxRule {
            shell: Faces::floor_walls_top(Length::tenths_mm(45), Length::tenths_mm(45), Length::mm(6)),
            fit: Faces::floor_walls_top(Length::ZERO, Length::mm(3), Length::ZERO),
            room: Faces::default(),
            bay: Some((Face::Rear, Length::mm(170))),
            rims: vec![rim(25, 9)],
            least_height: Length::ZERO,
            most_g: None,
            one_tier: false,
            per_cavity: 1,
            apart: Length::ZERO,
        }),
        wanted: Wanted::Strings {
            kind: 0,
            series: vec![5],
            parallel: 2,
        },
        pinned: Vec::new(),
    }
}

/// The invented rescue job: 50 tiles in clamped stacks, two strings of 24, two cavities with keep-outs.
pub(crate) fn rescue() -> Request {
    let margin = Length::tenths_mm(63) + Length::from_nm(50_000);
    let cavity = |size: [i64; 3], keep_outs: &[[i64; 6]]| Cavity {
        space: Cuboid::between(Point::ZERO, tenths(size)),
        wall_margin: Faces::all(margin),
        keep_outs: keep_outs
            .iter()
            .map(|&[x, y, z, u, v, w]| KeepOut {
                cuboid: Cuboid::between(tenths([x, y, z]), tenths([u, v, w])),
                margin,
            })
            .collect(),
    };
    let c1 = cavity(
        [6367, 7701, 3652],
        &[
            [0, 3302, 0, 6413, 4572, 222],
            [0, 0, 571, 6413, 159, 825],
            [1873, 7620, 3302, 2191, 7779, 3715],
            [6286, 0, 3619, 6382, 7715, 3715],
        ],
    );
    let c2 = cavity([2827, 6431, 3462], &[[2762, 1524, 762, 2858, 4953, 1016]]);
    let mut service = Faces::default();
    service[Face::Rear] = Length::mm(20);
    let orientations = Orientation::all();
    // The terminal face up first, then sideways; never down.
    let up = orientations
        .iter()
        .copied()
        .filter(|o| o.world_face(Face::Rear) == Face::Top);
    let level = orientations
        .iter()
        .copied()
        .filter(|o| o.world_face(Face::Rear).axis() != Axis::Z);
    Request {
        cavities: vec![c1, c2],
        kinds: vec![Kind {
            size: size_mm(288, 232, 46),
            orientations: up.chain(level).collect(),
            service,
            on_hand: Some(50),
            mass_g: 5100,
            stack: Some(Stack {
                along: Axis::Z,
                min: 2,
                max: 12,
                end: Length::mm(20),
                growth: Length::ZERO,
            }),
        }],
        gap: Length::mm(6),
        boxes: Some(BoxRule {
            shell: Faces::floor_walls_top(Length::tenths_mm(45), Length::tenths_mm(45), Length::mm(6)),
            fit: Faces::floor_walls_top(Length::ZERO, Length::mm(3), Length::ZERO),
            room: Faces::default(),
            bay: None,
            rims: vec![rim(4, 40)],
            least_height: Length::ZERO,
            most_g: None,
            one_tier: false,
            per_cavity: 1,
            apart: Length::ZERO,
        }),
        wanted: Wanted::Strings {
            kind: 0,
            series: vec![24],
            parallel: 2,
        },
        pinned: Vec::new(),
    }
}

/// 2,048 modules to share out over 20 cavities, each a little longer than the one before and with a keep-out.
pub(crate) fn many_boxes() -> Request {
    let mut request = orchard();
    let keep_out = KeepOut {
        cuboid: Cuboid::between(tenths([6000, 0, 0]), tenths([6500, 600, 400])),
        margin: Length::mm(5),
    };
    let cavity = |index: i64| Cavity {
        space: Cuboid::between(
            Point::ZERO,
            Point([Length::mm(1400 + 5 * index), Length::mm(560 + index), Length::mm(300)]),
        ),
        wall_margin: Faces::all(Length::mm(6)),
        keep_outs: vec![keep_out],
    };
    request.cavities = (0..20).map(cavity).collect();
    request.kinds[0].size = size_mm(105, 95, 75);
    request.kinds[0].on_hand = None;
    request.kinds[0].mass_g = 1_500;
    request.wanted = Wanted::Strings {
        kind: 0,
        series: vec![64],
        parallel: 32,
    };
    request
}
