//! How much shorter the wiring gets than from nearest to nearest: 50 seeded layouts of 96 modules in four boxes, two kinds
//! of module, with some places left out so that rows are broken.

#![expect(clippy::print_stdout, reason = "a program that prints what it measured")]
#![expect(clippy::cast_precision_loss, reason = "millimetres of wiring")]

use std::time::Instant;

use pack::matching::shuffled;
use pack::wiring::{self, Goal, Joined, Module, Question, WORK};

const MM: i64 = 1_000_000;

fn layout(seed: u64) -> Vec<Module> {
    let along = seed.is_multiple_of(2);
    let mut modules = Vec::new();
    for in_box in 0..4_u32 {
        let offset = [i64::from(in_box / 2) * 1_600 * MM, i64::from(in_box % 2) * 1_100 * MM];
        // 24 of 30 places of a grid of 6 by 5, which by the seed.
        let places = shuffled(&(0..30).collect::<Vec<i64>>(), seed * 4 + u64::from(in_box));
        for place in &places[..24] {
            let (x, y) = (offset[0] + place / 5 * 160 * MM, offset[1] + place % 5 * 100 * MM);
            let [plus, minus] = if along {
                [[x + 120 * MM, y + 45 * MM, 0], [x + 20 * MM, y + 45 * MM, 0]]
            } else {
                [[x + 70 * MM, y + 80 * MM, 0], [x + 70 * MM, y + 10 * MM, 0]]
            };
            modules.push(Module {
                plus,
                minus,
                body: [[x, y, -200 * MM], [x + 150 * MM, y + 90 * MM, 0]],
                in_box,
                may_turn: true,
            });
        }
    }
    modules
}

fn main() {
    let (mut shares, mut longest_s) = (Vec::new(), 0.0_f64);
    for seed in 0..50 {
        let modules = layout(seed);
        let question = Question {
            modules: &modules,
            series: 96,
            parallel: 1,
            joined: Joined::Strings,
            exits: [Some([-100 * MM, 500 * MM, 0]); 2],
            disconnect: None,
            locks: &[],
            reach: 30 * MM,
        };
        let start = Instant::now();
        let Some(answer) = wiring::order(&question, Goal::Shortest, WORK, &mut |_| true) else {
            continue;
        };
        longest_s = longest_s.max(start.elapsed().as_secs_f64());
        shares.push(1.0 - answer.length as f64 / answer.nearest as f64);
    }
    shares.sort_by(f64::total_cmp);
    println!(
        "{} layouts: shorter than nearest to nearest by {:.1} % at least, {:.1} % in the middle, {:.1} % at most; {longest_s:.2} s the longest",
        shares.len(),
        100.0 * shares[0],
        100.0 * shares[shares.len() / 2],
        100.0 * shares[shares.len() - 1]
    );
}
