//! First-order sums of boxes: numbers worked by hand, what is found, and that what was entered wins.

mod common;

use enclosure::strength::crash::Direction;
use job::{BoxStrength, Edit, Evaluation, Field, Figure, Grave, Job, StrengthCheck, Sum, evaluate};

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).expect("the edit fits the job")
}

fn figure(job: &Job, figure: Figure, text: &str) -> Job {
    set(job, Field::Figure(figure), text)
}

fn orchard() -> Job {
    common::built_in("orchard-flatbed")
}

fn strength(evaluation: &Evaluation) -> &BoxStrength {
    evaluation.boxes[0].strength.as_ref().expect("its boxes can be built")
}

#[test]
fn print_all() {
    for name in ["orchard-flatbed", "harbour-tender", "mountain-rescue"] {
        let e = evaluate(&common::built_in(name));
        for b in &e.boxes {
            let s = b.strength.as_ref().unwrap();
            println!(
                "{name} {} {} kg modules {} inside {:?} shell {:?}",
                b.name,
                s.mass_kg,
                b.mass.modules_g,
                b.inside.unwrap().size().0.map(|l| l.as_mm()),
                b.built.as_ref().unwrap().shell.map(|l| l.as_mm())
            );
            for c in &s.checks {
                println!(
                    "  {:<30} {} {} {} | {} | {}",
                    c.of.what,
                    c.load_text(),
                    c.limit_text(),
                    c.share_text(),
                    c.says,
                    c.fix
                );
            }
            println!("  {}", s.lift.unwrap().words());
        }
        for f in &e.findings {
            println!("F {:?} {} | {} | {} | {}", f.grave, f.name, f.words, f.source, f.fix);
        }
    }
}
