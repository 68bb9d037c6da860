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
        let ranked: Vec<Ranked> = scene
            .crowds
            .iter()
            .map(|crowd| ways.rank(scene, moved, crowd))
            .collect();
        for ranked in &ranked {
            ways.keep(ranked);
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
            let way = Way::of(&Seen::of(solid, moved), &keep_out, margin, 3);
            self.saw(way.over);
            for apart in way.parts() {
                self.ties[apart.axis].push(apart.tie(solid, &barrier.keep_out));
            }
        }
    }

    fn rank<'a>(&mut self, scene: &'a Scene, moved: &[Moved; 3], crowd: &Crowd) -> Ranked<'a> {
        let mut ranked = Ranked::new(&scene.solids[crowd.solids.clone()], moved, crowd);
        for i in 0..ranked.seen.len() {
            for j in i + 1..ranked.seen.len() {
                if ranked.seen[i].thing != ranked.seen[j].thing {
                    let way = ranked.way(i, j);
                    self.saw(way.over);
                    for apart in way.parts() {
                        let (low, high) = if apart.first_is_low { (i, j) } else { (j, i) };
                        ranked.axes[apart.axis].note(low, high, apart.asked);
                    }
                }
            }
        }
        ranked
    }

    /// Takes in the distances of a crowd that do not follow from others.
    fn keep(&mut self, ranked: &Ranked) {
        for (k, ranks) in ranked.axes.iter().enumerate() {
            let chained = ranked.chained(k, self.least.unwrap_or(0));
            for low in 0..ranked.seen.len() {
                for high in ranks.above(low).filter(|&high| !chained || !ranks.another(low, high)) {
                    let (first, second) = (low.min(high), low.max(high));
                    let way = ranked.way(first, second);
                    let apart = way.parts().filter(|apart| apart.axis == k);
                    let ties = apart.map(|apart| apart.tie(&ranked.solids[first], &ranked.solids[second]));
                    self.ties[k].extend(ties);
                }
            }
        }
    }

    /// How good the places are: the clearances beyond what is asked, smallest first, then the same of allowances. The
    /// larger of two, the first that differs deciding, is the better.
    pub(super) fn quality(&self, moved: &[Moved; 3]) -> Vec<i64> {
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

/// The solids of a crowd where they are, and per axis which stays below which.
struct Ranked<'a> {
    solids: &'a [Solid],
    seen: Vec<Seen>,
    asked: i64,
    /// Along how many axes they may be apart.
    along: usize,
    axes: [Ranks; 3],
}

impl<'a> Ranked<'a> {
    fn new(solids: &'a [Solid], moved: &[Moved; 3], crowd: &Crowd) -> Self {
        Self {
            solids,
            seen: solids.iter().map(|solid| Seen::of(solid, moved)).collect(),
            asked: crowd.asked,
            along: crowd.axes,
            axes: std::array::from_fn(|_| Ranks::new(solids.len())),
        }
    }

    fn way(&self, first: usize, second: usize) -> Way {
        Way::of(&self.seen[first], &self.seen[second], self.asked, self.along)
    }

    /// Whether a distance follows from two others with a solid between. They come to more than the one across, unless
    /// the solid is thinner than what they lack: they may be short by `least`, and the one across may ask for more. A
    /// solid whose thickness changes tells nothing.
    fn chained(&self, axis: usize, least: i64) -> bool {
        let firm = |solid: &Solid| solid.lo[axis].node == solid.hi[axis].node;
        let thinnest = self.seen.iter().map(|seen| seen.hi[axis] - seen.lo[axis]).min();
        let (fewest, most) = self.axes[axis].asked;
        self.solids.iter().all(firm) && thinnest.is_some_and(|thin| thin + 2 * fewest + least.min(0) >= most)
    }
}

/// Which solids of a crowd stay below which along one axis, as a table of bits both ways.
struct Ranks {
    words: usize,
    above: Vec<u64>,
    below: Vec<u64>,
    /// The least and the most asked between two.
    asked: (i64, i64),
}

impl Ranks {
    fn new(solids: usize) -> Self {
        let words = solids.div_ceil(64);
        Self {
            words,
            above: vec![0; words * solids],
            below: vec![0; words * solids],
            asked: (i64::MAX / 4, i64::MIN / 4),
        }
    }

    fn note(&mut self, low: usize, high: usize, asked: i64) {
        self.above[low * self.words + high / 64] |= 1 << (high % 64);
        self.below[high * self.words + low / 64] |= 1 << (low % 64);
        self.asked = (self.asked.0.min(asked), self.asked.1.max(asked));
    }

    /// What stays above a solid, in order.
    fn above(&self, low: usize) -> impl Iterator<Item = usize> {
        let row = &self.above[low * self.words..][..self.words];
        row.iter().enumerate().flat_map(|(word, &bits)| {
            let after = |&bits: &u64| Some(bits & (bits - 1)).filter(|&bits| bits != 0);
            let each = std::iter::successors(Some(bits).filter(|&bits| bits != 0), after);
            each.map(move |bits| word * 64 + bits.trailing_zeros() as usize)
        })
    }

    /// Whether something stays between the two.
    fn another(&self, low: usize, high: usize) -> bool {
        let above = &self.above[low * self.words..][..self.words];
        let below = &self.below[high * self.words..][..self.words];
        above.iter().zip(below).any(|(a, b)| a & b != 0)
    }
}

impl Way {
    /// The way of two solids with the most beyond what is asked.
    ///
    /// A service space lies straight in front of its face, so a solid is clear of it when it is far enough along that
    /// axis, or when it is beside the module (by the gap along the one axis, by nothing along the other).
    /// Only the first `axes` count.
    fn of(one: &Seen, two: &Seen, gap: i64, axes: usize) -> Self {
        let (mut first_is_low, mut distance, mut asked) = ([false; 3], [0; 3], [0; 3]);
        for axis in 0..axes {
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
        let (mut best, mut over) = (0, distance[0] - asked[0]);
        for axis in 1..axes {
            if distance[axis] - asked[axis] > over {
                (best, over) = (axis, distance[axis] - asked[axis]);
            }
        }
        let mut way = Self {
            over,
            main: apart(best, asked[best]),
            beside: None,
        };
        for main in 0..axes {
            if asked[main] <= gap || distance[main] - gap <= way.over {
                continue;
            }
            for other in 0..axes {
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
