//! Every way to cut some parts edge to edge from one rectangle.
//!
//! For each collection of parts, the smallest rectangles that hold it: two smaller collections side by side or one above
//! the other (Wang 1983, taken through all collections). A rectangle that wastes more than can be spared is not kept.

use std::collections::HashMap;

use super::job::{Job, Kind, Laid, Way, area};
use super::tree::Node;
use crate::nest::cover::{Counts, Holds, Oracle, subtract};
use crate::nest::meter::Meter;

/// The smallest rectangles of the collections asked for so far.
pub(in crate::nest) struct Patterns<'a> {
    job: &'a Job,
    most_waste: i128,
    fronts: Vec<Vec<Block>>,
    known: HashMap<Counts, usize>,
}

/// A rectangle full of parts.
#[derive(Clone, Copy)]
struct Block {
    w: i64,
    h: i64,
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Part(usize, Way),
    /// The places of two blocks, side by side when `upright`.
    Joined {
        upright: bool,
        near: (usize, usize),
        far: (usize, usize),
    },
}

impl<'a> Patterns<'a> {
    /// Of the parts of `job`, in rectangles that waste at most so much.
    pub(in crate::nest) fn new(job: &'a Job, most_waste: i128) -> Self {
        Self {
            job,
            most_waste,
            fronts: Vec::new(),
            known: HashMap::new(),
        }
    }

    /// The place of the smallest rectangles of a collection of at least one part; `None` when work ran out.
    fn front(&mut self, counts: &[u16], meter: &mut Meter<'_>) -> Option<usize> {
        if let Some(&at) = self.known.get(counts) {
            return Some(at);
        }
        let blocks = if counts.iter().map(|&n| u32::from(n)).sum::<u32>() == 1 {
            let class = counts.iter().position(|&n| n > 0)?;
            self.single(class)
        } else {
            self.joined(counts, meter)?
        };
        self.fronts.push(blocks);
        let at = self.fronts.len() - 1;
        self.known.insert(counts.to_vec(), at);
        Some(at)
    }

    fn single(&self, class: usize) -> Vec<Block> {
        let ways = self.job.classes[class].ways.iter();
        ways.map(|&way| Block {
            w: way.w,
            h: way.h,
            made: Made::Part(class, way),
        })
        .collect()
    }

    fn joined(&mut self, counts: &[u16], meter: &mut Meter<'_>) -> Option<Vec<Block>> {
        let content = self.job.content(counts);
        let largest = self.job.kinds.iter().map(|kind| area(kind.sides)).max().unwrap_or(0);
        if content > largest {
            return Some(Vec::new());
        }
        // What does not go without one of the parts does not go with it; but what wastes too much without it may not with
        // it.
        let by_size_alone = self.most_waste >= largest;
        for class in (0..counts.len()).filter(|&class| by_size_alone && counts[class] > 0) {
            let mut fewer = counts.to_vec();
            fewer[class] -= 1;
            let at = self.front(&fewer, meter)?;
            if self.fronts[at].is_empty() {
                return Some(Vec::new());
            }
        }
        let mut blocks = Vec::new();
        let mut some = vec![0; counts.len()];
        while next(&mut some, counts) {
            let mut others = counts.to_vec();
            subtract(&mut others, &some);
            if some > others || others.iter().all(|&n| n == 0) {
                continue;
            }
            let (a, b) = (self.front(&some, meter)?, self.front(&others, meter)?);
            let pairs = self.fronts[a].len() * self.fronts[b].len();
            if !meter.spend(1 + pairs as u64 / 4) {
                return None;
            }
            for (i, near) in self.fronts[a].iter().enumerate() {
                for (j, far) in self.fronts[b].iter().enumerate() {
                    for upright in [true, false] {
                        let (w, h) = if upright {
                            (near.w + far.w, near.h.max(far.h))
                        } else {
                            (near.w.max(far.w), near.h + far.h)
                        };
                        let fits = |kind: &Kind| w <= kind.sides[0] && h <= kind.sides[1];
                        if area([w, h]) - content <= self.most_waste && self.job.kinds.iter().any(fits) {
                            let made = Made::Joined {
                                upright,
                                near: (a, i),
                                far: (b, j),
                            };
                            blocks.push(Block { w, h, made });
                        }
                    }
                }
            }
            if blocks.len() > 4_000 {
                smallest(&mut blocks);
            }
        }
        smallest(&mut blocks);
        Some(blocks)
    }

    /// The parts cut from a sheet of that kind, if they can be.
    pub(in crate::nest) fn laid(&mut self, kind: usize, counts: &[u16], meter: &mut Meter<'_>) -> Option<Laid> {
        let [w, h] = self.job.kinds[kind].sides;
        if counts.iter().all(|&n| n == 0) {
            return None;
        }
        let front = self.front(counts, meter)?;
        // The one that leaves the largest rectangle beside or above it.
        let left = |block: &Block| area([w - block.w, h]).max(area([w, h - block.h]));
        let fits = |block: &&Block| block.w <= w && block.h <= h;
        let best = self.fronts[front].iter().filter(fits).max_by_key(|block| left(block))?;
        let tree = self.node(best, [w, h]);
        Some(Laid {
            kind,
            counts: counts.to_vec(),
            spots: tree.spots([w, h]),
            tree: Some(tree),
        })
    }

    /// A block in the corner of a rectangle; of what is left, the larger is cut off whole.
    fn node(&self, block: &Block, [w, h]: [i64; 2]) -> Node {
        let (beside, above) = (area([w - block.w, h]), area([w, h - block.h]));
        if beside >= above {
            let rest = Node::cut(false, block.h, h, self.inside(block), Node::Waste);
            Node::cut(true, block.w, w, rest, Node::Waste)
        } else {
            let rest = Node::cut(true, block.w, w, self.inside(block), Node::Waste);
            Node::cut(false, block.h, h, rest, Node::Waste)
        }
    }

    fn inside(&self, block: &Block) -> Node {
        match block.made {
            Made::Part(class, way) => Node::Part { class, way },
            Made::Joined { upright, near, far } => {
                let (near, far) = (&self.fronts[near.0][near.1], &self.fronts[far.0][far.1]);
                let (at, of, sides) = if upright {
                    (near.w, block.w, [[near.w, block.h], [far.w, block.h]])
                } else {
                    (near.h, block.h, [[block.w, near.h], [block.w, far.h]])
                };
                Node::cut(upright, at, of, self.node(near, sides[0]), self.node(far, sides[1]))
            }
        }
    }
}

impl Oracle for Patterns<'_> {
    fn holds(&mut self, stock: usize, counts: &[u16], meter: &mut Meter<'_>) -> Holds {
        let Some(front) = self.front(counts, meter) else {
            return Holds::Open;
        };
        let [w, h] = self.job.kinds[stock].sides;
        if self.fronts[front].iter().any(|block| block.w <= w && block.h <= h) {
            Holds::Yes
        } else {
            Holds::No
        }
    }

    fn rows_decide(&self) -> bool {
        false
    }
}

/// The next collection within `most`, counting up; `false` when there is none.
fn next(some: &mut [u16], most: &[u16]) -> bool {
    for (n, &most) in some.iter_mut().zip(most).rev() {
        if *n < most {
            *n += 1;
            return true;
        }
        *n = 0;
    }
    false
}

/// Keeps those that none other is as small as both ways.
fn smallest(blocks: &mut Vec<Block>) {
    blocks.sort_by_key(|block| (block.w, block.h));
    let mut lowest = i64::MAX;
    blocks.retain(|block| {
        let keep = block.h < lowest;
        lowest = lowest.min(block.h);
        keep
    });
}
