//! Filling one sheet with parts in a given order, each where it fits best.
//!
//! Cut edge to edge, the free rectangles are what cutting leaves, each part of one piece; cut freely, they are all the
//! largest free rectangles, overlapping (maximal rectangles; Jylänki 2010, from memory).

use super::Cutting;
use super::job::{Job, Laid, Spot, Way, area};
use super::tree::{Node, Rect};
use crate::nest::meter::Dice;

/// Where a part goes of the places it fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    /// Where the less is left on its tighter side.
    Short,
    /// Where the less is left on its looser side.
    Long,
    /// Into the smallest free rectangle.
    Area,
    /// As low as can be.
    Low,
}

/// Which of the two rectangles beside a part gets the corner, when cut edge to edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Split {
    /// The one on the side that more is left on.
    Larger,
    /// The one on the side that less is left on.
    Smaller,
    /// The cut runs along the part's longer side.
    AlongLonger,
    /// All cuts that go first run along y.
    Upright,
    /// All cuts that go first run along x.
    Level,
    /// Whichever, by chance.
    Chance,
}

/// How one sheet is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rule {
    pub(super) fit: Fit,
    pub(super) split: Split,
}

const FITS: [Fit; 4] = [Fit::Short, Fit::Area, Fit::Long, Fit::Low];
const SPLITS: [Split; 6] = [
    Split::Larger,
    Split::Smaller,
    Split::AlongLonger,
    Split::Upright,
    Split::Level,
    Split::Chance,
];

impl Rule {
    pub(super) fn all() -> impl Iterator<Item = Self> {
        FITS.into_iter()
            .flat_map(|fit| SPLITS.into_iter().map(move |split| Self { fit, split }))
    }

    pub(super) fn any(dice: &mut Dice) -> Self {
        Self {
            fit: FITS[dice.below(FITS.len())],
            split: SPLITS[dice.below(SPLITS.len())],
        }
    }
}

/// A sheet as filled, and the pieces of the order that did not go on it.
pub(super) struct Filled {
    pub(super) laid: Laid,
    pub(super) over: Vec<usize>,
    pub(super) steps: u64,
}

/// Fills one sheet of a kind with pieces (each told by its class), in their order.
pub(super) fn fill(job: &Job, kind: usize, pieces: &[usize], cutting: Cutting, rule: Rule, dice: &mut Dice) -> Filled {
    let mut filled = Filled {
        laid: Laid {
            kind,
            counts: vec![0; job.classes.len()],
            spots: Vec::new(),
            tree: None,
        },
        over: Vec::new(),
        steps: 0,
    };
    let [w, h] = job.kinds[kind].sides;
    let whole = Rect { x: 0, y: 0, w, h };
    let mut free = vec![whole];
    let mut cuts = Cuts::new();
    // A class of which one did not fit will not fit later either.
    let mut refused = vec![false; job.classes.len()];
    for &class in pieces {
        let best = if refused[class] {
            None
        } else {
            best(job, class, &free, rule.fit)
        };
        filled.steps += free.len() as u64;
        let Some((at, way)) = best else {
            refused[class] = true;
            filled.over.push(class);
            continue;
        };
        let rect = free[at];
        filled.laid.counts[class] += 1;
        filled.laid.spots.push(Spot {
            class,
            x: rect.x,
            y: rect.y,
            way,
        });
        match cutting {
            Cutting::Guillotine => {
                let upright = cut_first_upright(rect, way, rule.split, dice);
                cuts.part(at, rect, class, way, upright, &mut free);
            }
            Cutting::Free => {
                filled.steps += free.len() as u64;
                free = without(
                    &free,
                    Rect {
                        w: way.w,
                        h: way.h,
                        ..rect
                    },
                );
            }
        }
    }
    if cutting == Cutting::Guillotine {
        let tree = cuts.tree();
        filled.laid.spots = tree.spots([w, h]);
        filled.laid.tree = Some(tree);
    }
    filled
}

fn best(job: &Job, class: usize, free: &[Rect], fit: Fit) -> Option<(usize, Way)> {
    let mut best: Option<((i128, i64), usize, Way)> = None;
    for (at, rect) in free.iter().enumerate() {
        for &way in &job.classes[class].ways {
            let (over, above) = (rect.w - way.w, rect.h - way.h);
            if over < 0 || above < 0 {
                continue;
            }
            let (tight, loose) = (over.min(above), over.max(above));
            let score = match fit {
                Fit::Short => (i128::from(tight), loose),
                Fit::Long => (i128::from(loose), tight),
                Fit::Area => (area([rect.w, rect.h]), tight),
                Fit::Low => (i128::from(rect.y + way.h), rect.x),
            };
            if best.is_none_or(|(known, ..)| score < known) {
                best = Some((score, at, way));
            }
        }
    }
    best.map(|(_, at, way)| (at, way))
}

/// Whether the first cut beside a part in the corner of a rectangle runs along y.
fn cut_first_upright(rect: Rect, way: Way, split: Split, dice: &mut Dice) -> bool {
    let (over, above) = (rect.w - way.w, rect.h - way.h);
    match split {
        Split::Larger => over > above,
        Split::Smaller => over <= above,
        Split::AlongLonger => way.h > way.w,
        Split::Upright => true,
        Split::Level => false,
        Split::Chance => dice.below(2) == 0,
    }
}

/// The cuts so far; each free rectangle is a leaf that is still waste.
struct Cuts {
    nodes: Vec<Half>,
    /// The node of each free rectangle.
    leaf: Vec<usize>,
}

#[derive(Clone, Copy)]
enum Half {
    Waste,
    Part(usize, Way),
    Cut {
        upright: bool,
        at: i64,
        near: usize,
        far: usize,
    },
}

impl Cuts {
    fn new() -> Self {
        Self {
            nodes: vec![Half::Waste],
            leaf: vec![0],
        }
    }

    /// Cuts a part from the corner of the free rectangle `at`.
    fn part(&mut self, at: usize, of: Rect, class: usize, way: Way, upright: bool, free: &mut Vec<Rect>) {
        free.swap_remove(at);
        let mut node = self.leaf.swap_remove(at);
        let mut rest = of;
        for upright in [upright, !upright] {
            let (cut, side) = if upright { (way.w, rest.w) } else { (way.h, rest.h) };
            if cut == side {
                continue;
            }
            let (near, far) = (self.nodes.len(), self.nodes.len() + 1);
            self.nodes.extend([Half::Waste, Half::Waste]);
            self.nodes[node] = Half::Cut {
                upright,
                at: cut,
                near,
                far,
            };
            let [first, second] = rest.halves(upright, cut);
            free.push(second);
            self.leaf.push(far);
            rest = first;
            node = near;
        }
        self.nodes[node] = Half::Part(class, way);
    }

    fn tree(&self) -> Node {
        self.node(0)
    }

    fn node(&self, at: usize) -> Node {
        match self.nodes[at] {
            Half::Waste => Node::Waste,
            Half::Part(class, way) => Node::Part { class, way },
            Half::Cut { upright, at, near, far } => Node::Cut(Box::new(super::tree::Halves {
                upright,
                at,
                near: self.node(near),
                far: self.node(far),
            })),
        }
    }
}

/// The largest free rectangles when `taken` is no longer free.
pub(super) fn without(free: &[Rect], taken: Rect) -> Vec<Rect> {
    let mut kept: Vec<Rect> = Vec::with_capacity(free.len() + 4);
    let mut fresh: Vec<Rect> = Vec::new();
    let (right, top) = (taken.x + taken.w, taken.y + taken.h);
    for &rect in free {
        let (r, t) = (rect.x + rect.w, rect.y + rect.h);
        if taken.x >= r || right <= rect.x || taken.y >= t || top <= rect.y {
            kept.push(rect);
            continue;
        }
        if taken.x > rect.x {
            fresh.push(Rect {
                w: taken.x - rect.x,
                ..rect
            });
        }
        if right < r {
            fresh.push(Rect {
                x: right,
                w: r - right,
                ..rect
            });
        }
        if taken.y > rect.y {
            fresh.push(Rect {
                h: taken.y - rect.y,
                ..rect
            });
        }
        if top < t {
            fresh.push(Rect {
                y: top,
                h: t - top,
                ..rect
            });
        }
    }
    let inside = |a: &Rect, b: &Rect| a.x >= b.x && a.y >= b.y && a.x + a.w <= b.x + b.w && a.y + a.h <= b.y + b.h;
    for (at, rect) in fresh.iter().enumerate() {
        let elsewhere = kept.iter().any(|other| inside(rect, other));
        let among = fresh
            .iter()
            .enumerate()
            .any(|(i, other)| i != at && inside(rect, other) && (rect != other || i < at));
        if !elsewhere && !among {
            kept.push(*rect);
        }
    }
    kept
}
