//! A length that no order can be below: a spanning tree of the modules with the pack's ends, its edges weighted so that
//! it comes as near to a chain as it can (Held and Karp 1970).

use super::cost::{Costs, Step};
use super::search::apart;
use super::{Joined, Question};

/// Rounds of weighting.
const ROUNDS: i32 = 120;

/// No order is shorter than this, nanometres.
///
/// Every chain with its leads is a ring through one node that stands for the outside, once for each string. Where there
/// are several strings the outside is left out and the modules' forest is bounded instead: as many edges as there are
/// links.
pub(super) fn at_least(question: &Question<'_>, costs: &Costs<'_>) -> i64 {
    let n = question.modules.len();
    if n < 2 {
        return costs.lead(0, false, false).min(costs.lead(0, true, false));
    }
    let edges = edges(question, costs);
    if question.joined == Joined::Strings && question.parallel > 1 {
        return forest(&edges, n, n - question.parallel) + leads(question, costs);
    }
    weighted(costs, &edges, n)
}

/// The least that joins each two, whichever way round and whatever the step is.
fn edges(question: &Question<'_>, costs: &Costs<'_>) -> Vec<Vec<i64>> {
    let n = question.modules.len();
    let grouped = question.joined == Joined::Groups && question.parallel > 1;
    let edge = |a: usize, b: usize| {
        let mut least = apart(costs, a, b);
        if grouped {
            for &a_turned in costs.ways(a) {
                for &b_turned in costs.ways(b) {
                    least = least.min(costs.plain(Step::Parallel, (a, a_turned), (b, b_turned)));
                }
            }
        }
        least
    };
    (0..n)
        .map(|a| (0..n).map(|b| if a == b { 0 } else { edge(a, b) }).collect())
        .collect()
}

/// The least leads of as many modules as there are strings.
fn leads(question: &Question<'_>, costs: &Costs<'_>) -> i64 {
    let least = |plus: bool| {
        let mut all: Vec<i64> = (0..question.modules.len())
            .map(|m| costs.ways(m).iter().map(|&t| costs.lead(m, t, plus)).min().unwrap_or(0))
            .collect();
        all.sort_unstable();
        all.into_iter().take(question.parallel).sum::<i64>()
    };
    least(false) + least(true)
}

/// The lightest `count` edges that make no ring.
fn forest(edges: &[Vec<i64>], n: usize, count: usize) -> i64 {
    let mut all: Vec<(i64, usize, usize)> = (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
        .map(|(a, b)| (edges[a][b], a, b))
        .collect();
    all.sort_unstable();
    let mut root: Vec<usize> = (0..n).collect();
    let (mut sum, mut taken) = (0, 0);
    for (cost, a, b) in all {
        let (a, b) = (find(&mut root, a), find(&mut root, b));
        if a != b && taken < count {
            root[a] = b;
            sum += cost;
            taken += 1;
        }
    }
    sum
}

fn find(root: &mut [usize], mut at: usize) -> usize {
    while root[at] != at {
        root[at] = root[root[at]];
        at = root[at];
    }
    at
}

/// The 1-tree with weights on the modules: a spanning tree of them, and the two lightest leads.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "lengths of metres in nanometres are far below 2^53, and the bound is rounded down"
)]
fn weighted(costs: &Costs<'_>, edges: &[Vec<i64>], n: usize) -> i64 {
    let lead: Vec<[f64; 2]> = (0..n)
        .map(|m| {
            [false, true].map(|plus| {
                let least = costs.ways(m).iter().map(|&t| costs.lead(m, t, plus)).min();
                least.unwrap_or(0) as f64
            })
        })
        .collect();
    let mut weight = vec![0.0_f64; n];
    let mut best = 0.0_f64;
    let mean = edges.iter().flatten().sum::<i64>() as f64 / (n * n) as f64;
    let mut step = mean / 4.0;
    for _ in 0..ROUNDS {
        let mut degree = vec![0_i32; n];
        let mut sum = spanning(edges, &weight, &mut degree);
        // One lead of each pole, on two different modules where there are two.
        let ends = |plus: usize| {
            let mut all: Vec<(f64, usize)> = (0..n).map(|m| (lead[m][plus] + weight[m], m)).collect();
            all.sort_by(|a, b| a.0.total_cmp(&b.0));
            [all[0], all[1]]
        };
        let (minus, plus) = (ends(0), ends(1));
        let (a, b) = if minus[0].1 != plus[0].1 {
            (minus[0], plus[0])
        } else if minus[1].0 + plus[0].0 < minus[0].0 + plus[1].0 {
            (minus[1], plus[0])
        } else {
            (minus[0], plus[1])
        };
        sum += a.0 + b.0;
        degree[a.1] += 1;
        degree[b.1] += 1;
        best = best.max(sum - 2.0 * weight.iter().sum::<f64>());
        let off: f64 = degree.iter().map(|d| f64::from((d - 2).pow(2))).sum();
        if off == 0.0 {
            break;
        }
        for (w, d) in weight.iter_mut().zip(&degree) {
            *w += step * f64::from(d - 2);
        }
        step *= 0.96;
    }
    // A hair off for the floats.
    (best - 1.0).floor().max(0.0) as i64
}

/// The lightest spanning tree (Prim), with the degree of each module.
#[expect(
    clippy::cast_precision_loss,
    reason = "lengths of metres in nanometres are far below 2^53"
)]
fn spanning(edges: &[Vec<i64>], weight: &[f64], degree: &mut [i32]) -> f64 {
    let n = edges.len();
    let cost = |a: usize, b: usize| edges[a][b] as f64 + weight[a] + weight[b];
    let mut near: Vec<(f64, usize)> = (0..n).map(|m| (cost(0, m), 0)).collect();
    let mut inside = vec![false; n];
    inside[0] = true;
    let mut sum = 0.0;
    for _ in 1..n {
        let Some(next) = (0..n)
            .filter(|&m| !inside[m])
            .min_by(|&a, &b| near[a].0.total_cmp(&near[b].0))
        else {
            break;
        };
        sum += near[next].0;
        degree[next] += 1;
        degree[near[next].1] += 1;
        inside[next] = true;
        for m in 0..n {
            let here = cost(next, m);
            if !inside[m] && here < near[m].0 {
                near[m] = (here, next);
            }
        }
    }
    sum
}
