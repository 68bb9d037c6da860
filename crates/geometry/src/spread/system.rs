//! Distances to keep along one axis, and the places that share what is over as evenly as can be.
//!
//! Every tie is a difference constraint: what comes after is at least so far from what comes before, plus `over` where
//! the tie counts. Places exist for an `over` if and only if no cycle of ties, most of them from wall to wall, is longer
//! than nothing. So the largest `over` is the least, over all cycles, of what the cycle leaves free, shared by the ties
//! in it that count: found by shortening `over` to the share of a cycle that is too long until none is (Newton's method
//! for a least ratio; R. A. Howard and others, see Dasdan, "Experimental analysis of the fastest optimum cycle ratio and
//! mean algorithms", 2004, from memory). All in whole nanometres.

use super::scene::{GROUND, Moved, Tie};

/// More than any two things can be apart.
const FAR: i64 = 1 << 42;
/// The ground's place in lists of nodes.
const HERE: usize = GROUND as usize;
/// Not reached.
const NOWHERE: i64 = i64::MIN / 4;

/// The largest over along an axis, with the ties that limit it in order, from wall to wall.
#[derive(Clone, Debug)]
pub(super) struct Limit {
    pub(super) over: i64,
    pub(super) ties: Vec<Tie>,
}

/// The largest over for what is not yet in its place, with the arcs that limit it.
struct Share {
    over: i64,
    cycle: Vec<usize>,
    /// The earliest places with it.
    early: Vec<i64>,
}

#[derive(Clone, Copy, Debug)]
struct Arc {
    from: u32,
    to: u32,
    /// How far `to` is from `from` at least, without what is over.
    least: i64,
    /// 1 where it counts, else 0.
    counts: u32,
    tie: u32,
}

impl Arc {
    fn length(&self, over: i64) -> i64 {
        self.least + i64::from(self.counts) * over
    }
}

/// Where everything goes along one axis.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    pub(super) moved: Moved,
    /// `None` when nothing limits: nothing is there.
    pub(super) limit: Option<Limit>,
}

/// Makes the smallest clearance as large as it can be, then the next among what is still free, and so on; what no
/// clearance settles is put in the middle, or where `follows` says: with that node, as far as there is room.
pub(super) fn settle(nodes: u32, ties: &[Tie], follows: &[Option<u32>]) -> Settled {
    let mut system = System::new(nodes as usize, ties);
    let mut first = None;
    while system.arcs.iter().any(|arc| arc.counts > 0) {
        let Some(share) = system.share() else {
            break;
        };
        first.get_or_insert_with(|| system.limit(&share, ties));
        system.fix_critical(&share);
        system.rebase();
    }
    system.fix_rest(follows);
    Settled {
        moved: system.moved,
        limit: first,
    }
}

/// Makes the smallest clearance as large as it can be and no more; everything in the middle of what that leaves it.
pub(super) fn settle_least(nodes: u32, ties: &[Tie]) -> Settled {
    let system = System::new(nodes as usize, ties);
    match system.share() {
        Some(share) => Settled {
            moved: system.middle(share.over, &share.early),
            limit: Some(system.limit(&share, ties)),
        },
        None => Settled {
            moved: system.moved,
            limit: None,
        },
    }
}

/// What is not yet in its place, and the distances that it keeps.
struct System {
    arcs: Vec<Arc>,
    moved: Moved,
    fixed: Vec<bool>,
    /// Passes after which places no longer change: one when no ties go round in a ring.
    passes: usize,
}

/// Places, each with the arc it comes from.
struct Reach {
    at: Vec<i64>,
    by: Vec<u32>,
}

impl System {
    fn new(nodes: usize, ties: &[Tie]) -> Self {
        let arcs: Vec<Arc> = (0..)
            .zip(ties)
            .map(|(tie, t)| Arc {
                from: t.from.node,
                to: t.to.node,
                least: t.from.at + t.asked - t.to.at,
                counts: u32::from(t.counts),
                tie,
            })
            .collect();
        let (arcs, ring) = in_order(nodes, &arcs);
        Self {
            arcs,
            moved: vec![0; nodes],
            fixed: (0..nodes).map(|node| node == HERE).collect(),
            passes: if ring { nodes } else { 1 },
        }
    }

    /// The earliest places with so much over; `Err` has a node and the arc by which a ring drives it on for ever.
    fn early(&self, over: i64) -> Result<Reach, (Reach, u32)> {
        let mut reach = Reach {
            at: vec![NOWHERE; self.moved.len()],
            by: vec![u32::MAX; self.moved.len()],
        };
        reach.at[HERE] = 0;
        for pass in 1..=self.passes {
            let mut last = None;
            for (index, arc) in (0..).zip(&self.arcs) {
                let at = reach.at[arc.from as usize] + arc.length(over);
                let to = arc.to as usize;
                if at > reach.at[to] && to != HERE {
                    reach.at[to] = at;
                    reach.by[to] = index;
                    last = Some(arc.to);
                }
            }
            match last {
                Some(node) if pass == self.passes && self.passes > 1 => return Err((reach, node)),
                Some(_) => {}
                None => break,
            }
        }
        Ok(reach)
    }

    /// The longest way from each node to the ground with so much over; not yet settled in a ring that has none.
    fn to_ground(&self, over: i64) -> Vec<i64> {
        let mut way = vec![NOWHERE; self.moved.len()];
        way[HERE] = 0;
        for _ in 0..self.passes {
            let mut changed = false;
            for arc in self.arcs.iter().rev() {
                let length = way[arc.to as usize] + arc.length(over);
                let from = arc.from as usize;
                if length > way[from] && from != HERE {
                    way[from] = length;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        way
    }

    /// A cycle that is too long with so much over, or the earliest places.
    fn too_long(&self, over: i64) -> Result<Reach, Vec<usize>> {
        let (reach, last, end) = match self.early(over) {
            Ok(reach) => {
                let length = |arc: &Arc| reach.at[arc.from as usize] + arc.length(over);
                let closing = self.arcs.iter().enumerate().filter(|(_, arc)| arc.to == GROUND);
                let longest = closing.max_by_key(|(index, arc)| (length(arc), std::cmp::Reverse(*index)));
                match longest {
                    Some((index, arc)) if length(arc) > 0 => (reach, index, GROUND),
                    _ => return Ok(reach),
                }
            }
            Err((reach, node)) => {
                // As many steps back as there are nodes end within the ring.
                let back = |node: u32| self.arcs[reach.by[node as usize] as usize].from;
                let within = (0..self.moved.len()).fold(node, |node, _| back(node));
                let last = reach.by[within as usize] as usize;
                (reach, last, within)
            }
        };
        let mut cycle = vec![last];
        let mut node = self.arcs[last].from;
        while node != end {
            let index = reach.by[node as usize] as usize;
            cycle.push(index);
            node = self.arcs[index].from;
        }
        cycle.reverse();
        Err(cycle)
    }

    /// `None` when nothing limits what is over, or when what does not count is in conflict.
    fn share(&self) -> Option<Share> {
        let mut over = FAR;
        let mut cycle = Vec::new();
        loop {
            match self.too_long(over) {
                Ok(_) if cycle.is_empty() => return None,
                Ok(reach) => {
                    let early = reach.at;
                    return Some(Share { over, cycle, early });
                }
                Err(longer) => {
                    let arcs = longer.iter().map(|&index| &self.arcs[index]);
                    let (least, counts) = arcs.fold((0, 0), |(least, counts), arc| {
                        (least + arc.least, counts + i64::from(arc.counts))
                    });
                    if counts == 0 {
                        return None;
                    }
                    over = (-least).div_euclid(counts);
                    cycle = longer;
                }
            }
        }
    }

    fn limit(&self, share: &Share, ties: &[Tie]) -> Limit {
        let ties = share.cycle.iter().map(|&index| ties[self.arcs[index].tie as usize]);
        Limit {
            over: share.over,
            ties: ties.collect(),
        }
    }

    /// Puts in their places the things that limit what is over, each in the middle of what little is left to it.
    ///
    /// The middle of the earliest and the latest places keeps every tie, so what is put there leaves the rest possible.
    fn fix_critical(&mut self, share: &Share) {
        let middle = self.middle(share.over, &share.early);
        let more = share.over + 1;
        let reach = match self.early(more) {
            Ok(reach) | Err((reach, _)) => reach.at,
        };
        let on = self.to_ground(more);
        let too_long = |arc: &Arc| reach[arc.from as usize] + arc.length(more) + on[arc.to as usize] > 0;
        let limiting = self.arcs.iter().filter(|arc| too_long(arc));
        let cycle = share.cycle.iter().map(|&index| &self.arcs[index]);
        for node in limiting
            .chain(cycle)
            .flat_map(|arc| [arc.from as usize, arc.to as usize])
        {
            if !self.fixed[node] {
                self.fixed[node] = true;
                self.moved[node] = middle[node];
            }
        }
    }

    fn middle(&self, over: i64, early: &[i64]) -> Vec<i64> {
        let on = self.to_ground(over);
        early
            .iter()
            .zip(on)
            .map(|(&early, on)| (early - on).div_euclid(2))
            .collect()
    }

    /// Counts what is in its place to the ground, and drops the ties that nothing can change any more.
    fn rebase(&mut self) {
        let (fixed, moved) = (&self.fixed, &self.moved);
        self.arcs.retain_mut(|arc| {
            let (from, to) = (arc.from as usize, arc.to as usize);
            if fixed[from] {
                arc.least += moved[from];
                arc.from = GROUND;
            }
            if fixed[to] {
                arc.least -= moved[to];
                arc.to = GROUND;
            }
            arc.from != GROUND || arc.to != GROUND
        });
    }

    /// Puts what no clearance settles in the middle, or with what it follows.
    fn fix_rest(&mut self, follows: &[Option<u32>]) {
        let Ok(reach) = self.early(0) else {
            return;
        };
        let (early, on) = (reach.at, self.to_ground(0));
        for node in 0..self.moved.len() {
            if self.fixed[node] || early[node] == NOWHERE || on[node] == NOWHERE {
                continue;
            }
            let (lo, hi) = (early[node], -on[node]);
            self.moved[node] = match follows[node] {
                Some(other) if lo <= hi => self.moved[other as usize].clamp(lo, hi),
                _ => (lo + hi).div_euclid(2),
            };
        }
    }
}

/// The arcs in an order in which all that lead to a node come before those that lead on from it, the ground's first; and
/// whether there is a ring, whose nodes then come last.
fn in_order(nodes: usize, arcs: &[Arc]) -> (Vec<Arc>, bool) {
    let mut before = vec![0_u32; nodes];
    let mut start = vec![0_usize; nodes + 1];
    for arc in arcs {
        if arc.from != GROUND && arc.to != GROUND {
            before[arc.to as usize] += 1;
        }
        start[arc.from as usize + 1] += 1;
    }
    for node in 0..nodes {
        start[node + 1] += start[node];
    }
    let mut next = start.clone();
    let mut by_node = vec![0; arcs.len()];
    for (index, arc) in arcs.iter().enumerate() {
        by_node[next[arc.from as usize]] = index;
        next[arc.from as usize] += 1;
    }
    let leaving = |node: usize| by_node[start[node]..start[node + 1]].iter().map(|&index| &arcs[index]);
    let mut queue: Vec<usize> = (0..nodes).filter(|&node| before[node] == 0).collect();
    let mut ordered = Vec::with_capacity(arcs.len());
    let mut done = 0;
    while done < queue.len() {
        let node = queue[done];
        for arc in leaving(node) {
            let to = arc.to as usize;
            if node != HERE && to != HERE {
                before[to] -= 1;
                if before[to] == 0 {
                    queue.push(to);
                }
            }
            ordered.push(*arc);
        }
        done += 1;
    }
    let ring: Vec<usize> = (0..nodes).filter(|&node| before[node] > 0).collect();
    ordered.extend(ring.iter().flat_map(|&node| leaving(node)));
    (ordered, !ring.is_empty())
}
