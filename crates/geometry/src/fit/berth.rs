//! A part of a cavity that takes at most one box, and the largest bodies it could take.

use super::place::spare_at;
use super::shape::{Put, V3, faces, nm, pinned_in};
use super::{BoxRule, Request, Rim, pins};
use crate::{Cuboid, Size};
use tape::Length;

/// Beyond every cavity: a thousand kilometres.
const FAR: i64 = 1_000_000_000_000_000;
/// The most largest bodies looked at.
const MOST_BODIES: usize = 24;

/// A solid in the way of boxes, with its margin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Obstacle {
    pub(super) lo: V3,
    pub(super) hi: V3,
    pub(super) margin: i64,
    /// Whether its margin counts for what is to spare; not so for other boxes.
    pub(super) spares: bool,
}

impl Obstacle {
    /// A box that stands at `at`, as solids of any height that other boxes keep away from: nothing stands over its lid.
    pub(super) fn of_box(at: V3, body: V3, rule: &BoxRule) -> impl Iterator<Item = Self> {
        let margin = rule.apart.nm().max(0);
        solids(body, &rule.rims).into_iter().map(move |(lo, hi)| Self {
            lo: [lo[0] + at[0], lo[1] + at[1], -FAR],
            hi: [hi[0] + at[0], hi[1] + at[1], FAR],
            margin,
            spares: false,
        })
    }
}

/// A box of which some modules are pinned: its number, what is pinned, and the smallest bodies round that.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PinnedBox {
    pub(super) number: usize,
    pub(super) puts: Vec<Put>,
    /// Low corner and size of the body, for each side that the bay may be on.
    pub(super) bodies: Vec<(V3, V3)>,
}

/// Where one box may stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Berth {
    pub(super) cavity: usize,
    pub(super) lo: V3,
    pub(super) hi: V3,
    pub(super) margin: [i64; 6],
    pub(super) obstacles: Vec<Obstacle>,
    /// The box with pinned modules that stands here.
    pub(super) pinned: Option<PinnedBox>,
}

impl Berth {
    /// The whole of a cavity.
    pub(super) fn whole(request: &Request, cavity: usize) -> Self {
        let space = &request.cavities[cavity];
        let obstacles = space.keep_outs.iter().map(|keep| Obstacle {
            lo: nm(keep.cuboid.lo().0),
            hi: nm(keep.cuboid.hi().0),
            margin: keep.margin.nm(),
            spares: true,
        });
        Self {
            cavity,
            lo: nm(space.space.lo().0),
            hi: nm(space.space.hi().0),
            margin: space.wall_margin.0.map(Length::nm),
            obstacles: obstacles.collect(),
            pinned: None,
        }
    }

    /// The berths that a cavity starts with: the whole of it, or one for each box with something pinned, parted along the
    /// axis where those are farthest from each other, at `quarters` of the way from the lower to the upper one.
    pub(super) fn first(
        request: &Request,
        rule: &BoxRule,
        cavity: usize,
        quarters: i64,
        bodies: &impl Fn(&[Put]) -> Vec<(V3, V3)>,
    ) -> Vec<Self> {
        let mut berths = Vec::new();
        for number in (0..pins::boxes(request)).filter(|&n| pins::cavity_of(request, n) == Some(cavity)) {
            let puts = pinned_in(request, cavity, Some(number));
            let bodies = bodies(&puts);
            berths.push(Self {
                pinned: Some(PinnedBox { number, puts, bodies }),
                ..Self::whole(request, cavity)
            });
        }
        for i in 0..berths.len() {
            for j in 0..i {
                let (one, other) = (berths[i].pinned_hull(&rule.rims), berths[j].pinned_hull(&rule.rims));
                let along = |k: usize| (other.0[k] - one.1[k], one.0[k] - other.1[k]);
                let Some(axis) = (0..2).max_by_key(|&k| along(k).0.max(along(k).1)) else {
                    continue;
                };
                let apart = rule.apart.nm().max(0);
                let (before, behind) = along(axis);
                let (low, high) = if before >= behind { (i, j) } else { (j, i) };
                let from = if before >= behind { one.1[axis] } else { other.1[axis] };
                let at = from + (before.max(behind) - apart).max(0) / 4 * quarters;
                let [low_berth, high_berth] = [
                    berths[low].cut(axis, at, apart)[0].clone(),
                    berths[high].cut(axis, at, apart)[1].clone(),
                ];
                berths[low] = low_berth;
                berths[high] = high_berth;
            }
        }
        if berths.is_empty() {
            berths.push(Self::whole(request, cavity));
        }
        berths
    }

    /// What every body round the pinned modules takes up, rims included.
    fn pinned_hull(&self, rims: &[Rim]) -> (V3, V3) {
        let (mut low, mut high): (V3, V3) = ([i64::MIN; 3], [i64::MAX; 3]);
        for &(at, body) in self.pinned.iter().flat_map(|pinned| &pinned.bodies) {
            let solids = solids(body, rims);
            for k in 0..3 {
                let (lo, hi) = (solids.iter().map(|s| s.0[k]).min(), solids.iter().map(|s| s.1[k]).max());
                low[k] = low[k].max(at[k] + lo.unwrap_or(0));
                high[k] = high[k].min(at[k] + hi.unwrap_or(0));
            }
        }
        (low, high)
    }

    /// Whether two berths are the same but for the cavity they are in.
    pub(super) fn like(&self, other: &Self) -> bool {
        let bare = |berth: &Self| berth.pinned.is_none();
        bare(self)
            && bare(other)
            && Self {
                cavity: other.cavity,
                ..self.clone()
            } == *other
    }

    /// The length of the berth along axis `k` between the margins.
    pub(super) fn free(&self, k: usize) -> i64 {
        self.hi[k] - self.lo[k] - self.margin[faces(k).0] - self.margin[faces(k).1]
    }

    /// The berth cut in two across `axis`; the boxes keep `apart`. A pinned box goes to the half it stands in; `None`
    /// when it would be cut.
    pub(super) fn split(&self, axis: usize, at: i64, rule: &BoxRule) -> Option<[Self; 2]> {
        let mut halves = self.cut(axis, at, rule.apart.nm().max(0));
        if let Some(pinned) = &self.pinned {
            let holds = |half: &Self| {
                let free = |&(at, body): &(V3, V3)| spare_at(half, at, body, &rule.rims).is_some();
                pinned.bodies.iter().any(free)
            };
            let held = [holds(&halves[0]), holds(&halves[1])];
            match held {
                [true, false] => halves[1].pinned = None,
                [false, true] => halves[0].pinned = None,
                _ => return None,
            }
        }
        Some(halves)
    }

    /// Both halves, each with whatever is pinned.
    fn cut(&self, axis: usize, at: i64, apart: i64) -> [Self; 2] {
        let (mut low, mut high) = (self.clone(), self.clone());
        let beyond = |side: bool| {
            let reach = |k: usize| (self.hi[k] - self.lo[k]).saturating_mul(2);
            let (mut lo, mut hi): (V3, V3) = (
                std::array::from_fn(|k| self.lo[k] - reach(k)),
                std::array::from_fn(|k| self.hi[k] + reach(k)),
            );
            if side {
                lo[axis] = at;
            } else {
                hi[axis] = at + apart;
            }
            Obstacle {
                lo,
                hi,
                margin: 0,
                spares: false,
            }
        };
        low.obstacles.push(beyond(true));
        high.obstacles.push(beyond(false));
        [low, high]
    }

    /// Places along `axis` where a cut may pay: faces of obstacles and even shares.
    pub(super) fn cuts(&self, axis: usize) -> Vec<i64> {
        let faces = self
            .obstacles
            .iter()
            .flat_map(|o| [o.lo[axis] - o.margin, o.hi[axis] + o.margin]);
        let length = self.hi[axis] - self.lo[axis];
        let shares = (2..=6).map(|share| self.lo[axis] + length * share / 8);
        let mut cuts: Vec<i64> = faces
            .chain(shares)
            .filter(|&at| self.lo[axis] < at && at < self.hi[axis])
            .collect();
        cuts.sort_unstable();
        cuts.dedup();
        cuts
    }
}

/// The solids of a box of outside size `body`, seen from its low corner: the body, then its rims.
pub(super) fn solids(body: V3, rims: &[Rim]) -> Vec<(V3, V3)> {
    let own = Cuboid::at(crate::Point::ZERO, Size(body.map(Length::from_nm)));
    let rims = rims.iter().map(|rim| rim.around(&own));
    std::iter::once(own)
        .chain(rims)
        .map(|solid| (nm(solid.lo().0), nm(solid.hi().0)))
        .collect()
}

/// The largest bodies that keep all margins, as far as the rims' heights can be told before the body's; largest first.
pub(super) fn largest_bodies(berth: &Berth, rule: &BoxRule) -> Vec<(V3, V3)> {
    let above = rule.rims.iter().map(|rim| rim.above_top.nm()).fold(0, i64::max);
    let (floor, ceiling) = (faces(2).0, faces(2).1);
    let bottom = berth.lo[2] + berth.margin[floor];
    let top = berth.hi[2] - berth.margin[ceiling] - above;
    let mut bottoms = vec![bottom];
    bottoms.extend(
        berth
            .obstacles
            .iter()
            .map(|o| o.hi[2] + o.margin)
            .filter(|&at| at > bottom && at < top),
    );
    let mut tops = vec![top];
    for o in &berth.obstacles {
        let ends = std::iter::once(0).chain(rule.rims.iter().map(|rim| rim.above_top.nm()));
        tops.extend(
            ends.map(|end| o.lo[2] - o.margin - end)
                .filter(|&at| at > bottom && at < top),
        );
    }
    for list in [&mut bottoms, &mut tops] {
        list.sort_unstable();
        list.dedup();
    }
    let mut bodies = Vec::new();
    for &lo in &bottoms {
        for &hi in tops.iter().filter(|&&hi| hi > lo) {
            in_plan(berth, rule, (lo, hi), &mut bodies);
        }
    }
    bodies.sort_by_key(|(lo, hi)| std::cmp::Reverse((0..3).map(|k| i128::from(hi[k] - lo[k])).product::<i128>()));
    let mut kept: Vec<(V3, V3)> = Vec::new();
    for body in bodies {
        let within = kept
            .iter()
            .any(|(lo, hi)| (0..3).all(|k| lo[k] <= body.0[k] && body.1[k] <= hi[k]));
        if !within && kept.len() < MOST_BODIES {
            kept.push(body);
        }
    }
    kept
}

/// The largest free rectangles in plan for a body from `z.0` to `z.1`.
fn in_plan(berth: &Berth, rule: &BoxRule, z: (i64, i64), bodies: &mut Vec<(V3, V3)>) {
    let out = rule.rims.iter().map(|rim| rim.out.nm()).fold(0, i64::max);
    let lo: [i64; 2] = std::array::from_fn(|k| berth.lo[k] + berth.margin[faces(k).0] + out);
    let hi: [i64; 2] = std::array::from_fn(|k| berth.hi[k] - berth.margin[faces(k).1] - out);
    // Bands of the box by height, with how far each reaches out.
    let rims = rule
        .rims
        .iter()
        .map(|rim| (z.1 - rim.below_top.nm(), z.1 + rim.above_top.nm(), rim.out.nm()));
    let bands: Vec<(i64, i64, i64)> = std::iter::once((z.0, z.1, 0)).chain(rims).collect();
    let mut taken: Vec<([i64; 2], [i64; 2])> = Vec::new();
    for o in &berth.obstacles {
        for &(from, to, out) in &bands {
            if from < o.hi[2] + o.margin && to > o.lo[2] - o.margin {
                let grow = o.margin + out;
                taken.push(([o.lo[0] - grow, o.lo[1] - grow], [o.hi[0] + grow, o.hi[1] + grow]));
            }
        }
    }
    let mut starts = vec![lo[0]];
    let mut ends = vec![hi[0]];
    for (low, high) in &taken {
        starts.push(high[0].max(lo[0]));
        ends.push(low[0].min(hi[0]));
    }
    starts.sort_unstable();
    starts.dedup();
    ends.sort_unstable();
    ends.dedup();
    for &start in &starts {
        for &end in ends.iter().filter(|&&end| end > start) {
            let mut across: Vec<(i64, i64)> = taken
                .iter()
                .filter(|(low, high)| low[0] < end && high[0] > start)
                .map(|(low, high)| (low[1], high[1]))
                .collect();
            across.sort_unstable();
            let mut from = lo[1];
            for (low, high) in across.into_iter().chain([(hi[1], hi[1])]) {
                if low.min(hi[1]) > from {
                    bodies.push(([start, from, z.0], [end, low.min(hi[1]), z.1]));
                }
                from = from.max(high);
            }
        }
    }
}
