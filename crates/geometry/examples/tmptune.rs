#[path = "../tests/common/mod.rs"]
mod common;
use geometry::fit::*;
fn main() {
    let names = ["real-s-medium-03","real-s-obst-03","real-s-obst-04","real-s-mixed-01","real-s-mixed-02","real-s-mixed-04","real-s-nong-03","real-s-nong-04","real-s-hard-0","multi-s-medium-03","multi-s-hard","conway","debruijn-6","kinds-02"];
    let (mut short, mut hit, mut n) = (0i64, 0, 0);
    let mut per = vec![];
    for case in common::packing_cases() {
        if !names.iter().any(|x| case.name.contains(x)) { continue; }
        let mut c = vec![];
        for seed in 1..=3 {
            let a = fit(&case.request, Budget { work: 1_000_000, seed }, &mut Unwatched).unwrap();
            let d = i64::from(case.best_known) - i64::from(a.layouts[0].count);
            short += d; n += 1; if d <= 0 { hit += 1 }
            c.push(d);
        }
        per.push(format!("{}{:?}", &case.name[case.name.len()-9..], c));
    }
    println!("short {short} hit {hit}/{n} {}", per.join(" "));
}
