//! The links of an order, what lies in the way of what, and the volts between neighbours.

use super::cost::{Costs, Step, way};
use super::{Joined, Module, Order, Place, Question};

/// A pole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pole {
    /// Minus.
    Minus,
    /// Plus.
    Plus,
}

/// One end of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// A module's terminal.
    Terminal(usize, Pole),
    /// Where the pack's leads go.
    Exit(Pole),
}

/// What a link is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkKind {
    /// Plus to the minus of the next.
    Series,
    /// The same, through the service disconnect.
    Disconnect,
    /// Like to like in a group.
    Parallel,
    /// To where the pack's leads go.
    Lead,
}

/// One link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Nearer to the pack's minus.
    pub from: End,
    /// Nearer to its plus.
    pub to: End,
    /// What it is for.
    pub kind: LinkKind,
    /// Where it starts and ends.
    pub ends: [Place; 2],
    /// Its way along the axes, nanometres.
    pub length: i64,
    /// Whether its two modules are in different boxes.
    pub between_boxes: bool,
    /// Whether it crosses another, seen from above.
    pub crosses: bool,
    /// Whether it passes over another module's terminal.
    pub passes_over: bool,
}

/// The links of an order from the pack's minus to its plus, leads where the question has exits.
pub fn links(question: &Question<'_>, order: &Order) -> Vec<Link> {
    let costs = Costs::new(question);
    let mut found: Vec<Link> = Vec::with_capacity(order.order.len() + 1);
    let terminal = |m: usize, plus: bool| costs.terminal(m, order.turned[m], plus);
    let end = |m: usize, plus: bool| End::Terminal(m, if plus { Pole::Plus } else { Pole::Minus });
    let lead = |found: &mut Vec<Link>, m: usize, plus: bool| {
        if let Some(exit) = question.exits[usize::from(plus)] {
            let (out, at) = (
                End::Exit(if plus { Pole::Plus } else { Pole::Minus }),
                terminal(m, plus),
            );
            let (from, to, ends) = if plus {
                (end(m, true), out, [at, exit])
            } else {
                (out, end(m, false), [exit, at])
            };
            found.push(link(LinkKind::Lead, from, to, ends, false));
        }
    };
    for (at, &m) in order.order.iter().enumerate() {
        let Some(before) = at.checked_sub(1).map(|i| order.order[i]) else {
            lead(&mut found, m, false);
            continue;
        };
        let between = question.modules[before].in_box != question.modules[m].in_box;
        match costs.step_to(at) {
            Step::Boundary => {
                lead(&mut found, before, true);
                lead(&mut found, m, false);
            }
            step @ (Step::Series | Step::Middle) => {
                let ends = [terminal(before, true), terminal(m, false)];
                let through = question.disconnect.filter(|_| step == Step::Middle);
                let kind = if through.is_some() {
                    LinkKind::Disconnect
                } else {
                    LinkKind::Series
                };
                let mut series = link(kind, end(before, true), end(m, false), ends, between);
                if let Some(through) = through {
                    series.length = way(ends[0], through) + way(through, ends[1]);
                }
                found.push(series);
            }
            Step::Parallel => {
                for plus in [false, true] {
                    let ends = [terminal(before, plus), terminal(m, plus)];
                    found.push(link(LinkKind::Parallel, end(before, plus), end(m, plus), ends, between));
                }
            }
        }
    }
    if let Some(&last) = order.order.last() {
        lead(&mut found, last, true);
    }
    mark(question, &mut found);
    found
}

fn link(kind: LinkKind, from: End, to: End, ends: [Place; 2], between_boxes: bool) -> Link {
    Link {
        from,
        to,
        kind,
        ends,
        length: way(ends[0], ends[1]),
        between_boxes,
        crosses: false,
        passes_over: false,
    }
}

/// How near a link passes a terminal to lie over it, nanometres.
const OVER: i128 = 8_000_000;

/// Marks links within a box that cross another, or lie over a terminal that is not theirs, both seen from above. Cables
/// between boxes and leads are laid as there is room, and are not marked.
fn mark(question: &Question<'_>, links: &mut [Link]) {
    let plain: Vec<(usize, u32, [Place; 2])> = links
        .iter()
        .enumerate()
        .filter(|(_, l)| l.kind != LinkKind::Lead && !l.between_boxes)
        .filter_map(|(i, l)| match l.from {
            End::Terminal(m, _) => Some((i, question.modules[m].in_box, l.ends)),
            End::Exit(_) => None,
        })
        .collect();
    for (at, &(i, in_box, ends)) in plain.iter().enumerate() {
        for &(j, other_box, other) in &plain[at + 1..] {
            if in_box == other_box && cross(ends, other) {
                links[i].crosses = true;
                links[j].crosses = true;
            }
        }
        links[i].passes_over = question
            .modules
            .iter()
            .filter(|m| m.in_box == in_box)
            .flat_map(|m| [m.plus, m.minus])
            .any(|terminal| !ends.contains(&terminal) && is_over(ends, terminal));
    }
}

/// How many links cross or pass over something.
pub(super) fn tangles(question: &Question<'_>, order: &Order) -> usize {
    links(question, order)
        .iter()
        .filter(|l| l.crosses || l.passes_over)
        .count()
}

/// Which side of a line through two places a third is on, seen from above.
fn side(a: Place, b: Place, c: Place) -> i128 {
    let wide = |v: i64| i128::from(v);
    (wide(b[0]) - wide(a[0])) * (wide(c[1]) - wide(a[1])) - (wide(b[1]) - wide(a[1])) * (wide(c[0]) - wide(a[0]))
}

/// Whether two links cross inside both, seen from above; ends that meet or lie on the other do not count.
fn cross([a, b]: [Place; 2], [c, d]: [Place; 2]) -> bool {
    let apart = |p: i128, q: i128| (p < 0 && q > 0) || (p > 0 && q < 0);
    apart(side(a, b, c), side(a, b, d)) && apart(side(c, d, a), side(c, d, b))
}

/// Whether a terminal lies under a link, seen from above, and not above it.
fn is_over([a, b]: [Place; 2], terminal: Place) -> bool {
    let wide = |v: i64| i128::from(v);
    let (dx, dy) = (wide(b[0]) - wide(a[0]), wide(b[1]) - wide(a[1]));
    let length = dx * dx + dy * dy;
    if length == 0 || terminal[2] > a[2].max(b[2]) + 8_000_000 {
        return false;
    }
    let along = dx * (wide(terminal[0]) - wide(a[0])) + dy * (wide(terminal[1]) - wide(a[1]));
    let off = side(a, b, terminal);
    // off / |ab| is the distance; both squared to stay in whole numbers of micrometres.
    along > 0 && along < length && (off / 1_000_000).pow(2) < (OVER / 1_000).pow(2) * (length / 1_000_000)
}

/// Pairs of modules whose bodies face each other across no more than `reach`, in one box.
pub fn touching(modules: &[Module], reach: i64) -> Vec<[usize; 2]> {
    let mut pairs = Vec::new();
    for a in 0..modules.len() {
        for b in a + 1..modules.len() {
            let (p, q) = (&modules[a], &modules[b]);
            if p.in_box != q.in_box {
                continue;
            }
            let gap = |axis: usize| (q.body[0][axis] - p.body[1][axis]).max(p.body[0][axis] - q.body[1][axis]);
            let apart = (0..3).filter(|&axis| gap(axis) >= 0).count();
            if apart <= 1 && (0..3).all(|axis| gap(axis) <= reach) {
                pairs.push([a, b]);
            }
        }
    }
    pairs
}

/// How many modules or groups in series stand before each module, by module.
pub fn place_levels(question: &Question<'_>, order: &Order) -> Vec<usize> {
    place_levels_of(question, &order.order)
}

pub(super) fn place_levels_of(question: &Question<'_>, order: &[usize]) -> Vec<usize> {
    let mut levels = vec![0; question.modules.len()];
    for (at, &module) in order.iter().enumerate() {
        levels[module] = match question.joined {
            Joined::Strings => at % question.series,
            Joined::Groups => at / question.parallel,
        };
    }
    levels
}

/// The most modules in series between the farthest terminals of two touching neighbours, both counted, and the two;
/// `None` when none touch. The largest volts between them are so many modules' volts.
pub fn worst_neighbours(question: &Question<'_>, order: &Order) -> Option<(usize, [usize; 2])> {
    let levels = place_levels(question, order);
    touching(question.modules, question.reach)
        .into_iter()
        .map(|[a, b]| (levels[a].abs_diff(levels[b]) + 1, [a, b]))
        .max_by_key(|(steps, pair)| (*steps, std::cmp::Reverse(*pair)))
}
