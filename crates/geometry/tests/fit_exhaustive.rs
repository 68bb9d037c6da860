//! Bounds and counts against a slow, obvious count of every possible layout of small cases.

use std::collections::HashMap;

use geometry::fit::{Budget, Cavity, KeepOut, Kind, Request, Unwatched, Wanted, fit};
use geometry::{Cuboid, Faces, Orientation, Point, Size};
use proptest::prelude::*;
use tape::Length;

/// A small case in whole millimetres: one cavity, perhaps a keep-out, one kind or two with how many are on hand.
#[derive(Clone, Copy, Debug)]
struct Small {
    cavity: [usize; 3],
    kinds: [Option<([usize; 3], u32)>; 2],
    gap: usize,
    keep_out: Option<([usize; 3], [usize; 3])>,
}

fn smalls() -> impl Strategy<Value = Small> {
    let keep_out = || prop::option::of(([0..6_usize, 0..6, 0..3], [1..3_usize, 1..3, 1..3]));
    let deep = (
        [2..5_usize, 2..5, 2..4],
        [1..4_usize, 1..4, 1..4],
        0..2_usize,
        keep_out(),
    );
    let flat = (
        [4..8_usize, 4..8, 1..2],
        [1..5_usize, 1..4, 1..2],
        0..2_usize,
        Just(None),
    );
    let on_hand = || prop_oneof![Just(u32::MAX), 1..5_u32];
    let second = prop::option::of(([1..4_usize, 1..4, 1..3], on_hand()));
    (prop_oneof![deep, flat], on_hand(), second).prop_map(|((cavity, module, gap, keep_out), on_hand, second)| Small {
        cavity,
        kinds: [Some((module, on_hand)), second],
        gap,
        keep_out,
    })
}

fn lengths(n: [usize; 3]) -> [Length; 3] {
    n.map(|n| Length::mm(i64::try_from(n).expect("small")))
}

fn request(small: &Small) -> Request {
    let keep_out = |(at, size)| KeepOut {
        cuboid: Cuboid::at(Point(lengths(at)), Size(lengths(size))),
        margin: Length::ZERO,
    };
    Request {
        cavities: vec![Cavity {
            space: Cuboid::at(Point::ZERO, Size(lengths(small.cavity))),
            wall_margin: Faces::default(),
            keep_outs: small.keep_out.map(keep_out).into_iter().collect(),
        }],
        kinds: small.kinds.into_iter().flatten().map(kind).collect(),
        gap: lengths([small.gap; 3])[0],
        boxes: None,
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    }
}

fn kind((size, on_hand): ([usize; 3], u32)) -> Kind {
    Kind {
        size: Size(lengths(size)),
        orientations: Orientation::all(),
        service: Faces::default(),
        on_hand: (on_hand < u32::MAX).then_some(on_hand),
        mass_g: 1,
        stack: None,
    }
}

/// Counts by trying every layout at whole millimetres, cell after cell: a module starts in it, or none does.
///
/// Nothing is lost: pushed to one corner, everything in a case of whole millimetres stands at whole millimetres.
struct Exhaustive {
    small: Small,
    /// The cavity with the gap added to each side: a module and the gap beyond it take cells of it.
    grid: [usize; 3],
    known: HashMap<(usize, u128, [u32; 2]), u32>,
}

impl Exhaustive {
    fn new(small: Small) -> Self {
        Self {
            small,
            grid: small.cavity.map(|n| n + small.gap),
            known: HashMap::new(),
        }
    }

    fn cell(&self, at: [usize; 3]) -> usize {
        (at[0] * self.grid[1] + at[1]) * self.grid[2] + at[2]
    }

    /// The most modules that start in cell `from` or later, with the cells of `taken` gone and so many of each kind left.
    fn most(&mut self, from: usize, taken: u128, left: [u32; 2]) -> u32 {
        if from == self.grid.iter().product() {
            return 0;
        }
        if let Some(&known) = self.known.get(&(from, taken >> from, left)) {
            return known;
        }
        let mut most = self.most(from + 1, taken, left);
        for (kind, of) in self.small.kinds.into_iter().enumerate() {
            let Some(([a, b, c], _)) = of.filter(|_| left[kind] > 0) else {
                continue;
            };
            let mut turns = vec![[a, b, c], [a, c, b], [b, a, c], [b, c, a], [c, a, b], [c, b, a]];
            turns.sort_unstable();
            turns.dedup();
            let mut less = left;
            if less[kind] < u32::MAX {
                less[kind] -= 1;
            }
            for turn in turns {
                if let Some(cells) = self.cells(from, turn).filter(|cells| cells & taken == 0) {
                    most = most.max(1 + self.most(from + 1, taken | cells, less));
                }
            }
        }
        self.known.insert((from, taken >> from, left), most);
        most
    }

    /// The cells of a module of this size that starts in a cell, with the gap behind it; `None` where it must not be.
    fn cells(&self, from: usize, size: [usize; 3]) -> Option<u128> {
        let at = [
            from / (self.grid[1] * self.grid[2]),
            from / self.grid[2] % self.grid[1],
            from % self.grid[2],
        ];
        if (0..3).any(|k| at[k] + size[k] > self.small.cavity[k]) {
            return None;
        }
        let meets = |(low, extent): ([usize; 3], [usize; 3])| {
            (0..3).all(|k| at[k] < low[k] + extent[k] && low[k] < at[k] + size[k])
        };
        if self.small.keep_out.is_some_and(meets) {
            return None;
        }
        let reach = |k: usize| at[k]..at[k] + size[k] + self.small.gap;
        let mut cells = 0;
        for x in reach(0) {
            for y in reach(1) {
                for z in reach(2) {
                    cells |= 1 << self.cell([x, y, z]);
                }
            }
        }
        Some(cells)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_count_is_above_and_no_bound_below_what_can_be_had(small in smalls()) {
        let left = small.kinds.map(|kind| kind.map_or(0, |(_, on_hand)| on_hand));
        let possible = Exhaustive::new(small).most(0, 0, left);
        let answer = fit(&request(&small), Budget { work: 100_000, seed: 1 }, &mut Unwatched).unwrap();
        let count = answer.layouts[0].count;
        prop_assert!(count <= possible, "{count} of {possible} possible");
        prop_assert!(answer.upper_bound >= possible, "bound {} under {possible}", answer.upper_bound);
        // Cases as small as these are always solved, and proved.
        prop_assert_eq!(count, possible);
        prop_assert_eq!(answer.upper_bound, possible);
    }
}
