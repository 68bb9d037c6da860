//! The shortest order of a small pack, by dynamic programming over which modules are behind, which came last and which
//! way round it is (Held and Karp 1962, Bellman 1962). How many are behind tells the place in the chain, so that ends of
//! strings, groups and the disconnect need nothing more.

use super::cost::Costs;
use super::{Order, Question};

/// The most modules that are proved so.
pub(super) const MOST: usize = 13;

/// The shortest order; `None` for more modules than [`MOST`].
pub(super) fn shortest(question: &Question<'_>, costs: &Costs<'_>) -> Option<Order> {
    let n = question.modules.len();
    if n > MOST {
        return None;
    }
    // State: module and way round; reached[set][state] is the cost, came[set][state] the state before.
    let states = 2 * n;
    let sets = 1_usize << n;
    let mut reached = vec![i64::MAX; sets * states];
    let mut came = vec![u8::MAX; sets * states];
    for module in 0..n {
        for &turned in costs.ways(module) {
            reached[(1 << module) * states + 2 * module + usize::from(turned)] = costs.first(module, turned);
        }
    }
    for set in 1..sets {
        let step = costs.step_to((set.count_ones()) as usize);
        for last in (0..n).filter(|m| set & (1 << m) != 0) {
            for &turned in costs.ways(last) {
                let state = 2 * last + usize::from(turned);
                let cost = reached[set * states + state];
                if cost == i64::MAX {
                    continue;
                }
                for next in (0..n).filter(|m| set & (1 << m) == 0) {
                    for &way in costs.ways(next) {
                        let sum = cost + costs.step(step, (last, turned), (next, way));
                        let to = (set | 1 << next) * states + 2 * next + usize::from(way);
                        if sum < reached[to] {
                            reached[to] = sum;
                            came[to] = u8::try_from(state).unwrap_or(u8::MAX);
                        }
                    }
                }
            }
        }
    }
    let mut set = sets - 1;
    let mut state = (0..states)
        .filter(|&state| reached[set * states + state] < i64::MAX)
        .min_by_key(|&state| reached[set * states + state] + costs.last(state / 2, state % 2 == 1))?;
    let mut order = Order {
        order: vec![0; n],
        turned: vec![false; n],
    };
    for at in (0..n).rev() {
        let module = state / 2;
        order.order[at] = module;
        order.turned[module] = state % 2 == 1;
        let before = came[set * states + state];
        set &= !(1 << module);
        state = usize::from(before);
    }
    Some(order)
}
