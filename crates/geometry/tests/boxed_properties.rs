//! What must hold for every job in boxes: the order of what is offered, whole strings, pins, and more allowed never worse.

use std::collections::BTreeMap;

use geometry::fit::{
    BoxRule, Budget, Cavity, EmptyMass, KeepOut, Kind, Layout, MassLimit, Request, Rim, Stack, Unwatched, Wanted,
    Watch, check, fit,
};
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use proptest::collection::vec;
use proptest::prelude::*;
use tape::Length;

const BUDGET: Budget = Budget { work: 200_000, seed: 3 };

fn faces(lengths: [i64; 6]) -> Faces<Length> {
    Faces(lengths.map(Length::mm))
}

fn cavities() -> impl Strategy<Value = Vec<Cavity>> {
    let keep_out = (prop::array::uniform3(0..200_i64), prop::array::uniform3(5..60_i64));
    let one = (
        [120..420_i64, 100..300, 60..160],
        prop::option::weighted(0.4, keep_out),
        0..6_i64,
    )
        .prop_map(|(size, keep_out, margin)| Cavity {
            space: Cuboid::at(Point::ZERO, Size(size.map(Length::mm))),
            wall_margin: Faces::all(Length::mm(margin)),
            keep_outs: keep_out
                .into_iter()
                .map(|(at, size)| KeepOut {
                    cuboid: Cuboid::at(Point(at.map(Length::mm)), Size(size.map(Length::mm))),
                    margin: Length::mm(margin),
                })
                .collect(),
        });
    // Twins are common: two saddles, two pockets.
    prop_oneof![
        one.clone().prop_map(|cavity| vec![cavity.clone(), cavity]),
        vec(one, 1..3)
    ]
}

fn kinds() -> impl Strategy<Value = Kind> {
    let stack = (1..4_u32, 0..6_u32).prop_map(|(min, more)| Stack {
        along: Axis::Z,
        min,
        max: min + more,
        end: Length::mm(4),
        growth: Length::tenths_mm(2),
    });
    let upright = Orientation::all()
        .into_iter()
        .filter(|o| o.own_face(Face::Top) == Face::Top)
        .collect::<Vec<_>>();
    let orientations = prop_oneof![Just(upright), Just(Orientation::all())];
    (
        [40..110_i64, 25..60, 15..50],
        orientations,
        prop::option::weighted(0.4, stack),
        0..12_i64,
    )
        .prop_map(|(size, orientations, stack, service)| Kind {
            size: Size(size.map(Length::mm)),
            orientations,
            service: faces([0, 0, 0, 0, 0, service]),
            on_hand: Some(40),
            mass_g: 900,
            stack,
        })
}

fn rules() -> impl Strategy<Value = BoxRule> {
    let bay = prop::option::weighted(0.3, (prop::sample::select(vec![Face::Front, Face::Rear]), 10..40_i64));
    let rim = prop::option::of((1..8_i64, 0..20_i64, 0..3_i64));
    (
        bay,
        rim,
        1..4_u32,
        0..8_i64,
        0..50_i64,
        prop::option::of(3_000..20_000_i64),
        prop::bool::weighted(0.3),
    )
        .prop_map(|(bay, rim, per_cavity, apart, least_height, limit, one_tier)| BoxRule {
            shell: Faces::floor_walls_top(Length::mm(2), Length::mm(2), Length::mm(4)),
            fit: Faces::floor_walls_top(Length::ZERO, Length::mm(1), Length::ZERO),
            room: faces([3, 3, 0, 0, 0, 5]),
            bay: bay.map(|(face, depth)| (face, Length::mm(depth))),
            rims: rim
                .into_iter()
                .map(|(out, below, above)| Rim {
                    out: Length::mm(out),
                    below_top: Length::mm(below),
                    above_top: Length::mm(above),
                })
                .collect(),
            least_height: Length::mm(least_height),
            most_g: limit.map(|limit_g| MassLimit {
                limit_g,
                empty: EmptyMass {
                    fixed_ug: 100_000_000,
                    ug_per_m: [500_000_000; 3],
                    ug_per_m2: [30_000_000_000; 3],
                },
            }),
            one_tier,
            per_cavity,
            apart: Length::mm(apart),
        })
}

fn requests() -> impl Strategy<Value = Request> {
    let wanted = prop_oneof![
        (vec(2..9_u32, 1..3), 1..5_u32).prop_map(|(series, parallel)| Wanted::Strings {
            kind: 0,
            series,
            parallel
        }),
        (1..20_u32).prop_map(|n| Wanted::Exactly(vec![n])),
        Just(Wanted::AsMany),
    ];
    (cavities(), kinds(), rules(), wanted, 0..5_i64).prop_map(|(cavities, kind, rule, wanted, gap)| Request {
        cavities,
        kinds: vec![kind],
        gap: Length::mm(gap),
        boxes: Some(rule),
        wanted,
        pinned: Vec::new(),
    })
}

fn layouts(request: &Request) -> Vec<Layout> {
    fit(request, BUDGET, &mut Unwatched)
        .expect("it can be worked on")
        .layouts
}

fn most(request: &Request) -> u32 {
    layouts(request)[0].count
}

/// Modules in each box of each cavity, the body's size, and which of the modules' axes are up: near-copies have the same.
fn sharing(layout: &Layout) -> Vec<(usize, u32, Size, Vec<Axis>)> {
    let of = |index: usize| {
        let mine = || layout.placements.iter().filter(|p| p.in_box == Some(index));
        let mut ups: Vec<Axis> = mine().map(|p| p.orientation.own_face(Face::Top).axis()).collect();
        ups.sort_unstable();
        ups.dedup();
        let place = layout.boxes[index];
        (place.cavity, mine().map(|p| p.count).sum(), place.body.size(), ups)
    };
    (0..layout.boxes.len()).map(of).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn candidates_keep_every_rule_and_come_best_first(request in requests()) {
        let layouts = layouts(&request);
        prop_assert!((1..=4).contains(&layouts.len()));
        for layout in &layouts {
            prop_assert_eq!(check(&request, layout), Ok(()));
        }
        for (i, later) in layouts.iter().enumerate() {
            for earlier in &layouts[..i] {
                prop_assert!(earlier.count >= later.count);
                prop_assert!(earlier.count > later.count || earlier.boxes.len() <= later.boxes.len());
                prop_assert_ne!(sharing(earlier), sharing(later));
            }
        }
    }

    /// Whole strings, or what is left of one, or nothing.
    #[test]
    fn counts_are_whole_strings(request in requests()) {
        if let Wanted::Strings { series, parallel, .. } = &request.wanted {
            for layout in layouts(&request) {
                let whole = series.iter().any(|s| layout.count % s == 0 && layout.count / s <= *parallel);
                prop_assert!(whole || series.iter().all(|&s| layout.count < s));
            }
        }
    }

    #[test]
    fn more_mass_allowed_never_places_fewer(request in requests(), more in 500..20_000_i64) {
        let before = most(&request);
        let mut heavier = request;
        let rule = heavier.boxes.as_mut().expect("boxed");
        if let Some(limit) = &mut rule.most_g {
            limit.limit_g += more;
        }
        let after = most(&heavier);
        prop_assert!(after >= before, "{after} after {before}");
    }

    /// Any of what was found may be pinned; it stays, it counts, and the answer is no request error.
    #[test]
    fn pinned_modules_of_a_layout_stay(request in requests(), which in vec(any::<prop::sample::Index>(), 1..5)) {
        let found = layouts(&request).remove(0);
        prop_assume!(!found.placements.is_empty());
        let mut chosen: Vec<usize> = which.iter().map(|index| index.index(found.placements.len())).collect();
        chosen.sort_unstable();
        chosen.dedup();
        let mut pins = request.clone();
        let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
        for index in chosen {
            let mut pinned = found.placements[index];
            let next = numbers.len();
            let old = pinned.in_box.expect("boxed");
            pinned.in_box = Some(*numbers.entry(old).or_insert(next));
            pins.pinned.push(pinned);
        }
        // Grouped by box, as they are numbered.
        pins.pinned.sort_by_key(|p| p.in_box);
        for layout in layouts(&pins) {
            if layout.placements.is_empty() {
                continue;
            }
            prop_assert_eq!(check(&pins, &layout), Ok(()));
        }
    }
}

/// Notes every better layout.
#[derive(Default)]
struct Notes(Vec<Layout>);

impl Watch for Notes {
    fn carry_on(&mut self, _: geometry::fit::Progress) -> bool {
        true
    }

    fn better(&mut self, layout: &Layout) {
        self.0.push(layout.clone());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The last one heard of is the one answered first; no later one is worse.
    #[test]
    fn the_watcher_hears_of_each_better_layout(request in requests()) {
        let mut notes = Notes::default();
        let answer = fit(&request, BUDGET, &mut notes).expect("it can be worked on");
        for layout in &notes.0 {
            prop_assert_eq!(check(&request, layout), Ok(()));
        }
        prop_assert!(notes.0.is_sorted_by_key(|layout| layout.count));
        if answer.layouts[0].count > 0 {
            prop_assert_eq!(notes.0.last(), answer.layouts.first());
        }
    }
}
