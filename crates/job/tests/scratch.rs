use job::*;
#[test] fn dump() {
  for e in EXAMPLES { 
    let j = load(e.text.as_bytes()).unwrap_or_else(|x| panic!("{} {x}", e.name));
    let v = evaluate(&j);
    println!("=== {} {:?}", e.name, v.headline);
    for c in &v.cavities { println!(" cav {} {:?} skew {:?}", c.name, c.space.map(|s| s.size().0.map(|l| l.as_mm())), c.skew.as_ref().map(|(l,n)| (l.as_mm(), n))); }
    for b in &v.boxes { println!(" box {} body {:?} mass {:?} fault {:?}", b.name, b.body.map(|s| (s.lo().0.map(|l| l.as_mm()), s.size().0.map(|l| l.as_mm()))), b.mass, b.fault);
      if let Some(a)=&b.around { for c in &a.faces { println!("    {:?} {} to {}", c.face, c.distance.as_mm(), c.name); } println!("    nearest {} {}", a.nearest.distance.as_mm(), a.nearest.name); }
      for l in &b.ledgers { println!("   {:?} total {}", l.axis, l.total.as_mm()); for en in &l.entries { println!("       {:40} {}", en.words, en.length.as_mm()); } }
    }
    for f in &v.findings { println!("  {:?} {}: {} | {}", f.grave, f.name, f.words, f.fix); }
    println!(" assumed {}", v.assumptions.iter().map(|a| format!("{}={}", a.label, a.text)).collect::<Vec<_>>().join("; "));
    for t in &v.cut.list.tables { println!(" {} pieces {}", t.label(), t.pieces); for l in &t.lines { println!("   {} {} x{} {} {}", l.mark, l.name, l.quantity, l.length.exact.as_mm(), l.width.exact.as_mm()); } }
  }
}
