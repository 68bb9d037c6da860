//! Modules that nothing carries.

use geometry::Axis;
use tape::Length;

use super::{Look, finding};
use crate::evaluate::{BoxResult, ModuleResult};
use crate::finding::{Finding, Grave, Subject};

/// What a pad makes up between a module and what it stands on.
const PAD: Length = Length::mm(3);
/// Modules named before the rest are counted.
const NAMED: usize = 4;
const SOURCE: &str = "common practice, no source: a module stands on a floor, a rail or a shelf, not on terminals";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for battery_box in &look.evaluation.boxes {
        let Some(inside) = battery_box.inside else {
            continue;
        };
        let step = battery_box.step_inside();
        let floor = |module: &ModuleResult| {
            let raised = step.filter(|step| step.shares_floor(&module.cuboid));
            let deep = inside.lo()[Axis::Z];
            raised.map_or(deep, |step| step.hi()[Axis::Z]) + look.build.under_modules
        };
        let upper: Vec<(&ModuleResult, Under<'_>)> = battery_box
            .modules
            .iter()
            .filter(|module| module.cuboid.lo()[Axis::Z] - floor(module) > PAD)
            .map(|module| (module, under(module, battery_box, floor(module))))
            .collect();
        let (on_nothing, on_others): (Vec<_>, Vec<_>) = upper.into_iter().partition(|(_, under)| under.gap > PAD);
        let mut say = |grave, modules: &[(&ModuleResult, Under<'_>)], words: String, fix: &str| {
            let names = names(modules);
            let subject = Subject::Box(battery_box.id);
            findings.push(finding(grave, subject, &battery_box.name, names + &words, SOURCE, fix));
        };
        if let Some((_, first)) = on_nothing.first() {
            let stand = if on_nothing.len() == 1 { "stands" } else { "stand" };
            let words = format!(
                " {stand} on nothing: {} over {}; nothing on the cut list carries them",
                look.down(first.gap),
                first.what.map_or("the floor", |module| module.label.as_str())
            );
            let fix = "lay them out in one tier, lower them, or build a shelf and add its mass to the truck";
            say(Grave::Caution, &on_nothing, words, fix);
        }
        if let Some((_, first)) = on_others.first() {
            let stand = if on_others.len() == 1 { "stands" } else { "stand" };
            let label = first.what.map_or("", |module| module.label.as_str());
            let words = format!(" {stand} on other modules ({label} first): their cases carry it");
            let fix = "ask the maker what a case carries, or build a shelf";
            say(Grave::Note, &on_others, words, fix);
        }
    }
}

/// The first few by name.
fn names(modules: &[(&ModuleResult, Under<'_>)]) -> String {
    let mut names: Vec<String> = modules.iter().take(NAMED).map(|(m, _)| m.label.clone()).collect();
    if modules.len() > NAMED {
        names.push(format!("{} more", modules.len() - NAMED));
    }
    names.join(", ")
}

/// What is under a module.
struct Under<'a> {
    /// The module under it; the floor when `None`.
    what: Option<&'a ModuleResult>,
    /// How far down it is.
    gap: Length,
}

fn under<'a>(module: &ModuleResult, battery_box: &'a BoxResult, floor: Length) -> Under<'a> {
    let bottom = module.cuboid.lo()[Axis::Z];
    let below = battery_box.modules.iter().filter(|other| {
        other.id != module.id && other.cuboid.shares_floor(&module.cuboid) && other.cuboid.hi()[Axis::Z] <= bottom
    });
    let highest = below.max_by_key(|other| other.cuboid.hi()[Axis::Z]);
    let top = highest.map_or(floor, |other| other.cuboid.hi()[Axis::Z]);
    Under {
        what: highest,
        gap: bottom - top,
    }
}
