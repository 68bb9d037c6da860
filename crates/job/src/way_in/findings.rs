//! What ways in that were worked out have to say among the findings of a job.

use super::{Outcome, WaysIn};
use crate::finding::{Finding, Grave, Subject};

/// Where it comes from.
const SOURCE: &str = "boxes swept along straight lines and moved in a plane, past all that was entered";

impl WaysIn {
    /// A stop for each box that has no way in or cannot be loaded, and for those that keep each other out.
    pub fn findings(&self) -> Vec<Finding> {
        let style = self.question.style;
        let stop = |subject, name: &str, words: String, fix: String| Finding {
            grave: Grave::Stop,
            subject,
            name: name.to_owned(),
            words,
            source: SOURCE.into(),
            fix,
        };
        let stays = self.boxes.iter().filter_map(|battery_box| match &battery_box.outcome {
            Outcome::Goes(_) => None,
            Outcome::Stays { help, .. } => {
                let fix = help
                    .iter()
                    .map(|help| help.words(style))
                    .collect::<Vec<_>>()
                    .join("; or ");
                let why = help.iter().filter_map(|help| help.why(style));
                let words: Vec<String> = std::iter::once(battery_box.verdict(style)).chain(why).collect();
                let words = words.join("; ");
                Some(stop(Subject::Box(battery_box.id), &battery_box.name, words, fix))
            }
        });
        let stuck = self.stuck.iter().map(|_| {
            let fix = "change where one of them stands, or open another face".to_owned();
            stop(Subject::Job, "ways in", self.stuck_words(), fix)
        });
        let unloaded = self.not_loadable().into_iter().map(|(battery_box, why)| {
            let fix = "turn or move the module that is named, or what bars it".to_owned();
            let words = format!("it cannot be loaded as planned: {why}");
            stop(Subject::Box(battery_box.id), &battery_box.name, words, fix)
        });
        stays.chain(stuck).chain(unloaded).collect()
    }
}
