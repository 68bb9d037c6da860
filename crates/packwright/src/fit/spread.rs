//! Moving what is laid out apart.

use job::layout::{Which, spread};
use job::{Evaluation, Job, evaluate};
use serde_json::json;
use tape::Length;

use super::{FitArgs, Worked, find, show};
use crate::trouble::Trouble;

pub(super) fn run(job: &Job, args: &FitArgs) -> Result<Worked, Trouble> {
    let which = match (&args.fill, &args.box_name) {
        (Some(name), _) => Which::Boxes(find::cavity(job, name)?),
        (_, Some(name)) => Which::Modules(find::battery_box(job, name)?),
        (None, None) => Which::AllBoxes,
    };
    let before = evaluate(job);
    let spreading = spread(job, &before, which).map_err(|why| find::not_yet(&why, args))?;
    let job = job
        .with(&spreading.edit)
        .map_err(|error| Trouble::new(error.to_string(), error.mend()))?;
    let evaluation = evaluate(&job);
    let done = spreading.edit.words(&job);
    let [now, then] = [spreading.before, spreading.after].map(|length| beyond(&evaluation, length));
    let words = match (spreading.helps(), now == then) {
        (true, false) => format!("{done}: the least clearance has {then}, and had {now}"),
        (true, true) => format!("{done}: the least clearance has {then}, as before to within a mark of the tape"),
        (false, _) => format!("no more room can be shared out: the least clearance has {now}"),
    };
    let limit = format!("limited by {}", spreading.words);
    let mut data = show::boxes_json(&evaluation);
    data["words"] = words.as_str().into();
    data["limited_by"] = spreading.words.as_str().into();
    data["before_mm"] = json!(spreading.before.as_mm());
    data["after_mm"] = json!(spreading.after.as_mm());
    data["stops"] = evaluation.headline.stops.into();
    Ok(Worked {
        any: true,
        job,
        words: done,
        text: show::text(&format!("{words}\n{limit}"), &evaluation),
        json: data,
        evaluation,
    })
}

/// What a clearance has beyond what is asked for.
fn beyond(evaluation: &Evaluation, length: Length) -> String {
    if length.is_negative() {
        format!("{} less than asked for", evaluation.up(-length))
    } else {
        format!("{} more than asked for", evaluation.down(length))
    }
}
