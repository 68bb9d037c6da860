//! Which way every two things stay apart, from where they are.

use super::scene::{Barrier, Crowd, Moved, Scene, Solid, Tie};
use crate::Axis;

/// One distance to keep along an axis: which of the two comes first, and what is asked.
#[derive(Clone, Copy, Debug)]
struct Apart {
    axis: usize,
    first_is_low: bool,
    asked: i64,
}

/// A way for two things to stay apart: one distance, or two where a solid stands beside a service space.
#[derive(Clone, Copy, Debug)]
struct Way {
    over: i64,
    main: Apart,
    beside: Option<Apart>,
}

/// The distances to keep along each axis, once it is settled which way things stay apart.
#[derive(Clone, Debug)]
pub(super) struct Ways {
    pub(super) ties: [Vec<Tie>; 3],
    /// The smallest clearance beyond what is asked; `None` when there is none at all.
    pub(super) least: Option<i64>,
}

impl Ways {
    /// Settles for every two things the way with the most beyond what is asked. Between equals the first axis is
    /// taken, and one distance before two.
    pub(super) fn of(scene: &Scene, moved: &[Moved; 3]) -> Self {
        let mut ways = Self {
            ties: scene.always.clone(),
            least: None,
        };
        let walls = ways
            .ties
            .iter()
            .zip(moved)
            .flat_map(|(ties, moved)| ties.iter().filter(|tie| tie.counts).map(|tie| tie.over(moved)));
        ways.least = walls.min();
        for barrier in &scene.barriers {
            ways.round_barrier(scene, moved, barrier);
        }
        let apart: Vec<Apartness> = scene
            .crowds
            .iter()
            .map(|crowd| ways.in_crowd(scene, moved, crowd))
            .collect();
        for (crowd, apart) in scene.crowds.iter().zip(&apart) {
            ways.keep(&scene.solids[crowd.solids.clone()], apart);
        }
        ways
    }

    fn saw(&mut self, over: i64) {
        self.least = Some(self.least.map_or(over, |least| least.min(over)));
    }

    fn round_barrier(&mut self, scene: &Scene, moved: &[Moved; 3], barrier: &Barrier) {
        let keep_out = Seen::of(&barrier.keep_out, moved);
        for solid in &scene.solids[barrier.solids.clone()] {
            // In front of a service space a margin below zero counts as zero, or the two might overlap beside it.
            let open = solid.service.iter().any(|&depth| depth > 0);
            let margin = if open { barrier.margin.max(0) } else { barrier.margin };
            let way = Way::of(&Seen::of(solid, moved), &keep_out, margin);
            self.saw(way.over);
            for apart in way.parts() {
                self.ties[apart.axis].push(apart.tie(solid, &barrier.keep_out));
            }
        }
    }

    fn in_crowd(&mut self, scene: &Scene, moved: &[Moved; 3], crowd: &Crowd) -> Apartness {
        let solids = &scene.solids[crowd.solids.clone()];
        let seen: Vec<Seen> = solids.iter().map(|solid| Seen::of(solid, moved)).collect();
        let mut pairs: [Vec<(u32, u32, i64)>; 3] = Default::default();
        for (i, one) in (0_u32..).zip(&seen) {
            let after = (i + 1..).zip(&seen[i as usize + 1..]);
            for (j, two) in after.filter(|(_, two)| two.thing != one.thing) {
                let way = Way::of(one, two, crowd.asked);
                self.saw(way.over);
                for apart in way.parts() {
                    let (low, high) = if apart.first_is_low { (i, j) } else { (j, i) };
                    pairs[apart.axis].push((low, high, apart.asked));
                }
            }
        }
        Apartness { seen, pairs }
    }

    /// Takes in the distances of a crowd that do not follow from others.
    fn keep(&mut self, solids: &[Solid], apart: &Apartness) {
        for (k, pairs) in apart.pairs.iter().enumerate() {
            let chains = Chains::new(&apart.seen, pairs, k, self.least.unwrap_or(0));
            for &(low, high, asked) in pairs {
                let (low, high) = (low as usize, high as usize);
                if !chains.another(low, high) {
                    self.ties[k].push(Tie {
                        from: solids[low].hi[k],
                        to: solids[high].lo[k],
                        asked,
                        counts: true,
                        between: [solids[low].thing, solids[high].thing],
                    });
                }
            }
        }
    }

    /// Whether the places `moved` with these ways are better than `other` ones with theirs: the smallest clearance
    /// beyond what is asked is larger, or that being equal the next, and so on; then the same of allowances.
    pub(super) fn better(&self, moved: &[Moved; 3], other: &Self, other_moved: &[Moved; 3]) -> bool {
        self.least > other.least || (self.least == other.least && self.quality(moved) > other.quality(other_moved))
    }

    /// The clearances beyond what is asked, smallest first, then the same of allowances.
    fn quality(&self, moved: &[Moved; 3]) -> Vec<i64> {
        let mut counted = Vec::new();
        let mut allowed = Vec::new();
        for (k, (ties, moved)) in self.ties.iter().zip(moved).enumerate() {
            for tie in ties {
                if tie.counts {
                    counted.push(tie.over(moved));
                } else if Axis::ALL[k] != Axis::Z {
                    allowed.push(tie.over(moved));
                }
            }
        }
        counted.sort_unstable();
        allowed.sort_unstable();
        counted.append(&mut allowed);
        counted
    }
}

/// A solid where it is now.
struct Seen {
    lo: [i64; 3],
    hi: [i64; 3],
    thing: u32,
    /// Per axis towards low and towards high: the order of [`crate::Face::ALL`].
    service: [i64; 6],
}

impl Seen {
    fn of(solid: &Solid, moved: &[Moved; 3]) -> Self {
        Self {
            lo: std::array::from_fn(|k| solid.lo[k].now(&moved[k])),
            hi: std::array::from_fn(|k| solid.hi[k].now(&moved[k])),
            thing: solid.thing,
            service: solid.service,
        }
    }
}

/// The solids of a crowd where they are, and per axis which stays how far below which.
struct Apartness {
    seen: Vec<Seen>,
    pairs: [Vec<(u32, u32, i64)>; 3],
}

impl Way {
    /// The way of two solids with the most beyond what is asked.
    ///
    /// A service space lies straight in front of its face, so a solid is clear of it when it is far enough along that
    /// axis, or when it is beside the module (by the gap along the one axis, by nothing along the other).
    fn of(one: &Seen, two: &Seen, gap: i64) -> Self {
        let (mut first_is_low, mut distance, mut asked) = ([false; 3], [0; 3], [0; 3]);
        for axis in 0..3 {
            let (low, high) = (2 * axis, 2 * axis + 1);
            let (above, below) = (two.lo[axis] - one.hi[axis], one.lo[axis] - two.hi[axis]);
            first_is_low[axis] = above >= below;
            distance[axis] = above.max(below);
            let service = if above >= below {
                one.service[high].max(two.service[low])
            } else {
                two.service[high].max(one.service[low])
            };
            asked[axis] = gap.max(service);
        }
        let apart = |axis: usize, asked: i64| Apart {
            axis,
            first_is_low: first_is_low[axis],
            asked,
        };
        let mut best = 0;
        for axis in 1..3 {
            if distance[axis] - asked[axis] > distance[best] - asked[best] {
                best = axis;
            }
        }
        let mut way = Self {
            over: distance[best] - asked[best],
            main: apart(best, asked[best]),
            beside: None,
        };
        for main in 0..3 {
            if asked[main] == gap || distance[main] - gap <= way.over {
                continue;
            }
            for other in 0..3 {
                let over = (distance[main] - gap).min(distance[other]);
                if other != main && over > way.over {
                    way = Self {
                        over,
                        main: apart(main, gap),
                        beside: Some(apart(other, 0)),
                    };
                }
            }
        }
        way
    }

    fn parts(&self) -> impl Iterator<Item = Apart> {
        std::iter::once(self.main).chain(self.beside)
    }
}

impl Apart {
    fn tie(&self, first: &Solid, second: &Solid) -> Tie {
        let (low, high) = if self.first_is_low {
            (first, second)
        } else {
            (second, first)
        };
        Tie {
            from: low.hi[self.axis],
            to: high.lo[self.axis],
            asked: self.asked,
            counts: true,
            between: [low.thing, high.thing],
        }
    }
}

/// Which pairs of a crowd follow from two others along the same axis: what stands behind that which stands behind.
struct Chains {
    words: usize,
    above: Vec<u64>,
    below: Vec<u64>,
}

impl Chains {
    fn new(seen: &[Seen], pairs: &[(u32, u32, i64)], axis: usize, least: i64) -> Self {
        let thinnest = seen.iter().map(|s| s.hi[axis] - s.lo[axis]).min().unwrap_or(0);
        let most = pairs.iter().map(|pair| pair.2).max().unwrap_or(0);
        let fewest = pairs.iter().map(|pair| pair.2).min().unwrap_or(0);
        // Two distances with a solid between them come to more than the one across, unless the solid is thinner than
        // what the distances lack: they may be short by `least`, and the one across may ask for more.
        let follows = thinnest + 2 * fewest + least.min(0) >= most;
        let words = if follows { seen.len().div_ceil(64) } else { 0 };
        let mut chains = Self {
            words,
            above: vec![0; words * seen.len()],
            below: vec![0; words * seen.len()],
        };
        if follows {
            for &(low, high, _) in pairs {
                let (low, high) = (low as usize, high as usize);
                chains.above[low * words + high / 64] |= 1 << (high % 64);
                chains.below[high * words + low / 64] |= 1 << (low % 64);
            }
        }
        chains
    }

    /// Whether something stands between the two.
    fn another(&self, low: usize, high: usize) -> bool {
        let above = &self.above[low * self.words..][..self.words];
        let below = &self.below[high * self.words..][..self.words];
        above.iter().zip(below).any(|(a, b)| a & b != 0)
    }
}
