//! First-order sums that are over their limit.

use enclosure::strength::Bound;

use super::{Look, finding};
use crate::Figure;
use crate::evaluate::bolt;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::strength::StrengthCheck;
use crate::finding::{Finding, Grave, Subject};
use crate::whole::unmade_grade as unmade_grade_of;

/// Mount bolts of a class that their thread is not made in.
fn unmade_grade(look: &Look<'_>) -> Option<Finding> {
    let fault = unmade_grade_of(look.job)?;
    let thread = look.job.electrics.figures.sure(Figure::MountBolt);
    let taken = bolt::grade_words(bolt::usual_grade(thread));
    let words = format!(
        "{}: {}; they are summed as {taken}",
        Figure::MountGrade.label(),
        fault.problem
    );
    let fix = format!("enter {}, or another thread; or empty the class", bolt::GRADES);
    Some(finding(Grave::Stop, Subject::Job, &look.job.name, words, "", fix))
}

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    findings.extend(unmade_grade(look));
    let mut own: Vec<Finding> = Vec::new();
    // The checks told so far: boxes that are built alike have the same, and words are long to make.
    let mut told: Vec<(&StrengthCheck, usize)> = Vec::new();
    let mut taken = "";
    for battery_box in &look.evaluation.boxes {
        let Some(strength) = &battery_box.strength else {
            continue;
        };
        if taken.is_empty() && !strength.taken.is_empty() {
            taken = &strength.taken;
            let fix = "enter one that is, under mounts and loads on the Boxes page";
            let subject = Subject::Box(battery_box.id);
            let (name, words) = (&battery_box.name, taken.to_owned());
            own.push(finding(Grave::Note, subject, name, words, String::new(), fix));
        }
        if let Some(lift) = strength.lift.filter(|lift| lift.tips) {
            let words = format!(
                "lifted by its eyes it tips: {}",
                lift.tips_words(look.job.units.units())
            );
            let fix = "let eyes into its other end too, or lift it by a sling round the box";
            let subject = Subject::Box(battery_box.id);
            own.push(finding(
                Grave::Caution,
                subject,
                &battery_box.name,
                words,
                "statics",
                fix,
            ));
        }
        for check in &strength.checks {
            let Some(grave) = check.over() else { continue };
            if let Some(&(_, at)) = told.iter().find(|(same, _)| *same == check) {
                also(&mut own[at], battery_box);
                continue;
            }
            let (words, source) = (words(check, look.job.units.units()), check.source_text());
            // What reads the same of several boxes is said once, of all of them.
            let at = match own.iter().position(|f| f.words == words && f.source == source) {
                Some(at) => {
                    also(&mut own[at], battery_box);
                    at
                }
                None => {
                    let subject = Subject::Box(battery_box.id);
                    own.push(finding(grave, subject, &battery_box.name, words, source, &check.fix));
                    own.len() - 1
                }
            };
            told.push((check, at));
        }
    }
    findings.append(&mut own);
}

/// Says a finding of one more box.
fn also(finding: &mut Finding, battery_box: &BoxResult) {
    finding.name.push_str(", ");
    finding.name.push_str(&battery_box.name);
}

/// What there is and on which side of which limit it has to be; how much of it a load takes up.
fn words(check: &StrengthCheck, units: tape::Units) -> String {
    if let Some(outside) = check.outside() {
        return format!("{}: {outside}; {}", check.of.what, check.says);
    }
    let share = match check.of.bound {
        Bound::AtMost => format!(" ({} of it)", check.share_text()),
        Bound::AtLeast => String::new(),
    };
    format!(
        "{}: {}, {}{share}: {}",
        check.of.what,
        check.load_text(units),
        check.limit_text(units),
        check.says
    )
}
