//! Everything the program has to say of a job, gravest first.

mod added;
mod bed;
mod cavities;
mod chance;
mod electric;
mod fit;
mod fitting;
mod issued;
mod pack;
mod pairs;
mod reach;
mod rim;
mod road;
mod stock;
mod strength;
mod survey;
mod tiers;
mod truck;
mod water;
mod welds;

use geometry::Face;

use super::Evaluation;
use crate::Job;
use crate::assumed::{Build, Trust};
use crate::finding::{Finding, Grave, Subject};

/// What the findings are made from.
struct Look<'a> {
    job: &'a Job,
    trust: &'a Trust,
    build: &'a Build,
    evaluation: &'a Evaluation,
}

impl Look<'_> {
    /// A length that there is, rounded down.
    fn down(&self, length: tape::Length) -> String {
        self.evaluation.down(length)
    }

    /// A length that is needed, rounded up.
    fn up(&self, length: tape::Length) -> String {
        self.evaluation.up(length)
    }
}

pub(super) fn list(job: &Job, trust: &Trust, build: &Build, evaluation: &Evaluation) -> Vec<Finding> {
    let look = Look {
        job,
        trust,
        build,
        evaluation,
    };
    let mut findings = Vec::new();
    cavities::list(&look, &mut findings);
    pairs::list(&look, &mut findings);
    fit::list(&look, &mut findings);
    rim::list(&look, &mut findings);
    tiers::list(&look, &mut findings);
    chance::list(&look, &mut findings);
    pack::list(&look, &mut findings);
    electric::list(&look, &mut findings);
    strength::list(&look, &mut findings);
    fitting::list(&look, &mut findings);
    water::list(&look, &mut findings);
    welds::list(&look, &mut findings);
    reach::list(&look, &mut findings);
    bed::list(&look, &mut findings);
    road::list(&look, &mut findings);
    truck::list(&look, &mut findings);
    issued::list(&look, &mut findings);
    added::list(&look, &mut findings);
    stock::list(&look, &mut findings);
    // Stable: within one gravity, the order in which they were found, which follows the job.
    findings.sort_by_key(|f| f.grave);
    findings
}

fn finding(
    grave: Grave,
    subject: Subject,
    name: &str,
    words: impl Into<String>,
    source: impl Into<std::borrow::Cow<'static, str>>,
    fix: impl Into<String>,
) -> Finding {
    Finding {
        grave,
        subject,
        name: name.to_owned(),
        words: words.into(),
        source: source.into(),
        fix: fix.into(),
    }
}

/// How to make room at a face: away from it.
fn away(face: Face) -> &'static str {
    face.opposite().towards()
}

/// One finding for all boxes that can be built, of what is mended in one place. `None` without any.
fn for_all_boxes(
    look: &Look<'_>,
    grave: Grave,
    words: impl Into<String>,
    source: &'static str,
    fix: impl Into<String>,
) -> Option<Finding> {
    let built: Vec<_> = look.evaluation.boxes.iter().filter(|b| b.built.is_some()).collect();
    let names: Vec<&str> = built.iter().map(|b| b.name.as_str()).collect();
    let subject = Subject::Box(built.first()?.id);
    Some(finding(grave, subject, &names.join(", "), words, source, fix))
}
