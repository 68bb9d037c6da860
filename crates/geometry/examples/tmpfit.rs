#[path = "../tests/common/mod.rs"]
mod common;
use geometry::fit::*;
use std::time::Instant;
fn main() {
    let work: u64 = std::env::args().nth(1).map_or(2_000_000, |a| a.parse().unwrap());
    let only = std::env::args().nth(2).unwrap_or_default();
    let seed: u64 = std::env::args().nth(3).map_or(1, |a| a.parse().unwrap());
    let (mut reached, mut proved, mut total, mut n) = (0, 0, 0.0, 0);
    let mut times = vec![];
    for case in common::packing_cases() {
        if !case.name.contains(&only) { continue; }
        n += 1;
        let t = Instant::now();
        let a = fit(&case.request, Budget { work, seed }, &mut Unwatched).unwrap();
        let s = t.elapsed().as_secs_f64();
        total += s; times.push(s);
        let c = a.layouts[0].count;
        if c >= case.best_known { reached += 1 }
        if a.proved { proved += 1 }
        println!("{:24} {:3} of {:3} ({:3}) bound {:3} {:?} {:.3}s work {} {} layouts {} {:?}", case.name, c, case.best_known, case.upper_bound, a.upper_bound, a.bound_by, s, a.work, a.layouts.len(), if c < case.best_known {"SHORT"} else if a.proved {"proved"} else {""},
          (0..case.request.cavities.len()).map(|i| a.layouts[0].placements.iter().filter(|p| p.cavity==i).count()).collect::<Vec<_>>());
    }
    times.sort_by(f64::total_cmp);
    println!("{reached} of {n} reached, {proved} proved, {total:.2} s, median {:.3} max {:.3}", times[n/2], times[n-1]);
    for (name, r) in [("orchard", common::orchard()), ("rescue", common::rescue())] {
        let t = Instant::now();
        let a = fit(&r, Budget::default(), &mut Unwatched).unwrap();
        println!("{name} {:.3}s work {} {:?} {}", t.elapsed().as_secs_f64(), a.work, a.ended, a.layouts[0].count);
    }
}
