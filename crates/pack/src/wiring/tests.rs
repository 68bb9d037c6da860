use proptest::prelude::*;

use super::*;

fn module(x: i64, y: i64, in_box: u32) -> Module {
    Module {
        plus: [x + 3, y + 9, 0],
        minus: [x + 3, y + 1, 0],
        body: [[x, y, 0], [x + 8, y + 10, 5]],
        in_box,
        may_turn: true,
    }
}

/// All orders and ways round, one after the other.
fn shortest_of_all(question: &Question<'_>) -> i64 {
    fn go(question: &Question<'_>, order: &mut Order, left: &mut Vec<usize>, best: &mut i64) {
        if left.is_empty() {
            let joins = |i: usize| question.joined == Joined::Groups || !(i + 1).is_multiple_of(question.series);
            let follows = |a: usize, b: usize| (0..).zip(order.order.windows(2)).any(|(i, w)| w == [a, b] && joins(i));
            if question.locks.iter().all(|&[a, b]| follows(a, b)) {
                *best = (*best).min(length(question, order));
            }
            return;
        }
        for i in 0..left.len() {
            let m = left.remove(i);
            order.order.push(m);
            let ways: &[bool] = if question.modules[m].may_turn {
                &[false, true]
            } else {
                &[false]
            };
            for &turned in ways {
                order.turned[m] = turned;
                go(question, order, left, best);
            }
            order.order.pop();
            left.insert(i, m);
        }
    }
    let n = question.modules.len();
    let mut best = i64::MAX;
    let mut order = Order {
        order: Vec::new(),
        turned: vec![false; n],
    };
    go(question, &mut order, &mut (0..n).collect(), &mut best);
    best
}

fn arrangement() -> impl Strategy<Value = (usize, usize, Joined)> {
    let joined = prop_oneof![Just(Joined::Strings), Just(Joined::Groups)];
    (
        prop_oneof![Just((5, 1)), Just((2, 2)), Just((1, 4)), Just((4, 1))],
        joined,
    )
        .prop_map(|((s, p), j)| (s, p, j))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn small_packs_are_as_short_as_any_order(
        (series, parallel, joined) in arrangement(),
        places in proptest::collection::vec((0..60_i64, 0..60_i64, any::<bool>()), 5),
        exits in proptest::option::of((0..60_i64, 0..60_i64)), disconnect in proptest::option::of((0..60_i64, 0..60_i64)),
        lock in proptest::option::of((0..4_usize, 1..4_usize)),
    ) {
        let n = series * parallel;
        let modules: Vec<Module> = places[..n].iter().map(|&(x, y, may_turn)| Module { may_turn, ..module(x, y, 0) }).collect();
        let locks: Vec<[usize; 2]> = lock.map(|(a, by)| [a, (a + by) % n]).into_iter().filter(|[a, b]| a != b).collect();
        let question = Question {
            modules: &modules, series, parallel, joined,
            exits: [exits.map(|(x, y)| [x, y, 0]), exits.map(|(x, y)| [x, y + 5, 0])],
            disconnect: disconnect.map(|(x, y)| [x, y, 0]),
            locks: &locks, reach: 2,
        };
        let answer = order(&question, Goal::Shortest, WORK, &mut |_| true).unwrap();
        let best = shortest_of_all(&question);
        // Modules that are all in parallel have no link to keep.
        prop_assume!(best < i64::MAX);
        prop_assert_eq!((answer.length, answer.proof), (best, Proof::Proved));
        let costs = cost::Costs::new(&question);
        if locks.is_empty() {
            prop_assert!(bound::at_least(&question, &costs) <= best);
        }
        let links = links(&question, &answer.order);
        prop_assert_eq!(links.iter().map(|l| l.length).sum::<i64>(), answer.length);
    }

    #[test]
    fn larger_packs_are_never_longer_than_nearest_to_nearest_and_keep_the_bound(
        places in proptest::collection::vec((0..400_i64, 0..400_i64), 20), groups in any::<bool>(), seed in 0..4_u32,
    ) {
        let modules: Vec<Module> =
            places.iter().enumerate().map(|(i, &(x, y))| module(x, y, u32::try_from(i).unwrap() % (seed + 1))).collect();
        let joined = if groups { Joined::Groups } else { Joined::Strings };
        let locks = [[3, 7]];
        let question = Question {
            modules: &modules, series: 10, parallel: 2, joined,
            exits: [Some([0, 0, 0]), Some([0, 9, 0])], disconnect: None, locks: &locks, reach: 2,
        };
        for goal in [Goal::Shortest, Goal::LowVolts] {
            let answer = order(&question, goal, 200_000, &mut |_| true).unwrap();
            let mut all = answer.order.order.clone();
            all.sort_unstable();
            prop_assert_eq!(all, (0..20).collect::<Vec<_>>());
            prop_assert!(answer.order.order.windows(2).any(|w| w == [3, 7]));
            if goal == Goal::Shortest
                && let Proof::AtLeast(least) = answer.proof
            {
                prop_assert!(least <= answer.length);
            }
        }
    }

    #[test]
    fn without_locks_never_longer_than_nearest_to_nearest(
        places in proptest::collection::vec((0..400_i64, 0..400_i64), 16),
    ) {
        let modules: Vec<Module> = places.iter().map(|&(x, y)| module(x, y, 0)).collect();
        let question = Question {
            modules: &modules, series: 16, parallel: 1, joined: Joined::Strings,
            exits: [None, None], disconnect: None, locks: &[], reach: 2,
        };
        let answer = order(&question, Goal::Shortest, 100_000, &mut |_| true).unwrap();
        prop_assert!(answer.length <= answer.nearest);
    }

    #[test]
    fn a_mended_order_holds_every_module_once(
        order in proptest::collection::vec(0..12_usize, 0..20), n in 1..9_usize,
    ) {
        let modules: Vec<Module> = (0..n).map(|i| module(10 * i64::try_from(i).unwrap(), 0, 0)).collect();
        let question = Question {
            modules: &modules, series: n, parallel: 1, joined: Joined::Strings,
            exits: [None, None], disconnect: None, locks: &[], reach: 2,
        };
        let mut whole = mended(&question, &order, &[]).order;
        whole.sort_unstable();
        prop_assert_eq!(whole, (0..n).collect::<Vec<_>>());
    }
}

/// A link always joins the plus of one to the minus of the next, or like to like.
#[test]
fn a_wrong_polarity_cannot_be_said() {
    let modules: Vec<Module> = (0..6).map(|i| module(10 * i, 0, 0)).collect();
    for joined in [Joined::Strings, Joined::Groups] {
        let question = Question {
            modules: &modules,
            series: 3,
            parallel: 2,
            joined,
            exits: [Some([0; 3]), Some([0; 3])],
            disconnect: None,
            locks: &[],
            reach: 2,
        };
        let found = order(&question, Goal::Shortest, WORK, &mut |_| true).unwrap();
        for link in links(&question, &found.order) {
            match (link.kind, link.from, link.to) {
                (LinkKind::Parallel, End::Terminal(_, a), End::Terminal(_, b)) => assert_eq!(a, b),
                (LinkKind::Lead, End::Exit(a), End::Terminal(_, b))
                | (LinkKind::Lead, End::Terminal(_, a), End::Exit(b)) => {
                    assert_eq!(a, b);
                }
                (_, End::Terminal(_, a), End::Terminal(_, b)) => assert_eq!((a, b), (Pole::Plus, Pole::Minus)),
                other => panic!("{other:?}"),
            }
        }
    }
}

/// Two links that cross in the middle, and one that runs over a terminal.
#[test]
fn crossing_and_passing_over_are_seen() {
    let mm = 1_000_000;
    let at = |plus: [i64; 2], minus: [i64; 2]| Module {
        plus: [plus[0] * mm, plus[1] * mm, 0],
        minus: [minus[0] * mm, minus[1] * mm, 0],
        body: [[0; 3], [1; 3]],
        in_box: 0,
        may_turn: false,
    };
    // 0+ (0,0) to 1- (100,100); 1+ (0,100) to 2- (100,0): they cross. 3 has its plus at (50, 50), under both.
    let modules = [
        at([0, 0], [0, -50]),
        at([0, 100], [100, 100]),
        at([200, 0], [100, 0]),
        at([50, 50], [300, 0]),
    ];
    let question = Question {
        modules: &modules,
        series: 4,
        parallel: 1,
        joined: Joined::Strings,
        exits: [None, None],
        disconnect: None,
        locks: &[],
        reach: 0,
    };
    let order = Order {
        order: vec![0, 1, 2, 3],
        turned: vec![false; 4],
    };
    let found = links(&question, &order);
    assert_eq!(found.iter().map(|l| l.crosses).collect::<Vec<_>>(), [true, true, false]);
    assert_eq!(
        found.iter().map(|l| l.passes_over).collect::<Vec<_>>(),
        [true, true, false]
    );
}
