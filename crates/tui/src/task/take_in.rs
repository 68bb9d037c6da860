//! What a report changes in the model.

use std::sync::Arc;

use geometry::fit::Ended;
use job::Job;
use job::layout::{NotYet, Spreading};
use job::nesting::Nesting;
use job::way_in::WaysIn;

use super::{Found, Report, Task, Told};
use crate::model::{Model, Nests, Offer, Overlay, Running, Ways};
use crate::page::Page;
use crate::pages::layout::verdict;
use crate::pages::units;
use crate::pages::ways::told;
use crate::update::papers;
use crate::update::ways::open;

/// Takes a report into the model. What was found for a job that has changed since is dropped, and said so.
pub(crate) fn take_in(model: &mut Model, report: Report) {
    match report {
        Report::Share { job, done, of } => {
            if let Some(running) = of_job(model, &job) {
                running.done = (done, of);
            }
        }
        Report::Best { job, best } => {
            if let Some(running) = of_job(model, &job) {
                running.best = Some(best);
            }
        }
        Report::Better { job, evaluation } => {
            if let Some(running) = of_job(model, &job) {
                running.live = Some(evaluation);
            }
        }
        Report::Takes { job, told } => takes(model, &job, told),
        Report::Papers(made) => papers::take_in(model, made),
        Report::NoPapers { job, why } => papers::not_made(model, job, why),
        Report::Failed { job, why } => {
            if let Some(running) = end(model, &job) {
                model.refuse(format!("{} failed ({why}); the job is as it was", running.task.doing()));
            }
        }
        Report::Finished { job, result } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                match *result {
                    Err(not_yet) => model.refuse(not_yet.to_string()),
                    Ok(found) => found_layouts(model, found, &running),
                }
            }
        }
        Report::Matched { job, result } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                match *result {
                    Err((problem, mend)) => model.refuse(format!("{problem}; {mend}")),
                    Ok(matching) => units::offer(model, matching),
                }
            }
        }
        Report::Ordered { job, result } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                match result {
                    None => model.refuse("the pack is not laid out whole; place all its modules first"),
                    Some(orders) => model.overlay = Some(Overlay::Orders(orders, 0)),
                }
            }
        }
        Report::Nested { job, nesting } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                nested(model, &running, *nesting);
            }
        }
        Report::Ways { job, found } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                ways(model, &running, *found);
            }
        }
        Report::Spread { job, result } => {
            if let Some(running) = end(model, &job)
                && !is_late(model, &running)
            {
                match *result {
                    Err(not_yet) => model.refuse(not_yet.to_string()),
                    Ok(spreading) => spread(model, spreading),
                }
            }
        }
    }
}

/// The running task, when it is one of this state of the job. A worker that was stopped with its job may still report;
/// that is none of another job's business.
fn of_job<'a>(model: &'a mut Model, job: &Arc<Job>) -> Option<&'a mut Running> {
    model.running.as_mut().filter(|running| Arc::ptr_eq(&running.job, job))
}

/// The task that ends with this report, no longer running.
fn end(model: &mut Model, job: &Arc<Job>) -> Option<Running> {
    model.running.take_if(|running| Arc::ptr_eq(&running.job, job))
}

/// Whether the job changed while the task ran, which is said beside what was said of the change.
fn is_late(model: &mut Model, running: &Running) -> bool {
    let late = !Arc::ptr_eq(&running.job, &model.history.shared());
    if late {
        let before = std::mem::take(&mut model.message.words);
        let before = if before.is_empty() {
            before
        } else {
            format!("{before}; ")
        };
        model.message.words = format!(
            "{before}what was {} was for the job before, and is dropped",
            running.task.done()
        );
    }
    late
}

impl Task {
    /// What was going on, to stand after "was".
    const fn done(self) -> &'static str {
        match self {
            Self::Fit(_) => "laid out",
            Self::Spread(_) => "spread",
            Self::Takes(_) | Self::Order(_) => "worked out",
            Self::Nest => "laid on sheets and bars",
            Self::Ways => "looked for",
            Self::Match(_) => "matched",
        }
    }
}

/// Takes the first layout of a job over at once, and offers every later one: right away when nothing else has the
/// keys, else when it is asked for.
fn found_layouts(model: &mut Model, found: Found, running: &Running) {
    let words = verdict(&found.proposal, &model.evaluation);
    let Some(best) = found.candidates.first() else {
        // One that was stopped proves nothing.
        let stopped = found.proposal.answer.ended == Ended::Stopped;
        model.refuse(if stopped {
            words
        } else {
            format!("nothing goes in: {words}")
        });
        return;
    };
    if running.first {
        let edit = best.edit.clone();
        let words = found.proposal.words(&model.evaluation);
        if model.apply(edit).is_ok() {
            model.tell(format!("laid out {words}; u undoes"));
        }
        return;
    }
    let offer = Offer {
        job: Arc::clone(&running.job),
        found,
        shown: 0,
    };
    let typing = model.form().is_some_and(|form| form.typing.is_some());
    let busy = model.overlay.is_some() || typing || model.page != Page::Layout;
    model.ready = Some(Box::new(offer));
    if busy {
        model.tell(format!("{words}; f on the Layout page shows it"));
    } else {
        show_offer(model);
    }
}

/// Shows the layouts that are ready, if there are any for the job as it is.
pub(crate) fn show_offer(model: &mut Model) -> bool {
    let now = model.history.shared();
    let ready = model.ready.take().filter(|offer| Arc::ptr_eq(&offer.job, &now));
    let is_ready = ready.is_some();
    if let Some(offer) = ready {
        model.page = Page::Layout;
        model.overlay = Some(Overlay::Offer(offer));
    }
    is_ready
}

/// Shows what is cut from which sheet and bar, when nothing else has the keys.
fn nested(model: &mut Model, running: &Running, nesting: Nesting) {
    let bought: u32 = nesting.stocks.iter().map(|stock| stock.bought).sum();
    let proved = nesting.stocks.iter().all(|stock| stock.proved);
    let (stopped, cost) = (nesting.stopped, nesting.cost());
    model.nests = Some(Nests {
        job: Arc::clone(&running.job),
        nesting,
        at: 0,
    });
    let sure = match (stopped, proved) {
        (true, _) => "stopped, the best so far",
        (false, true) => "proved",
        (false, false) => "not all of it proved",
    };
    let cost = cost.map_or(String::new(), |cost| format!(", {} as entered", cost.text()));
    let words = format!("{bought} sheets and bars to buy, {sure}{cost}");
    let typing = model.form().is_some_and(|form| form.typing.is_some());
    if model.overlay.is_some() || typing || model.page != Page::Boxes {
        model.tell(format!("{words}; n on the Boxes page shows them"));
    } else {
        model.tell(words);
        model.overlay = Some(Overlay::Nests);
    }
}

/// Shows which way each box goes in, when nothing else has the keys.
fn ways(model: &mut Model, running: &Running, found: WaysIn) {
    let words = told(&found);
    model.ways = Some(Ways {
        job: Arc::clone(&running.job),
        found,
        at: 0,
        step: 0,
        service: None,
        page: 0,
    });
    let typing = model.form().is_some_and(|form| form.typing.is_some());
    if model.overlay.is_some() || typing || model.page != Page::Layout {
        model.tell(format!("{words}; g on the Layout page shows them"));
    } else {
        model.tell(words);
        open(model);
    }
}

/// Takes a spreading over as one edit and tells what limits it.
fn spread(model: &mut Model, spreading: Spreading) {
    let limit = format!("limited by {}", spreading.words);
    if !spreading.helps() {
        model.tell(format!("spread already; {limit}"));
        return;
    }
    let done = spreading.edit.words(model.job());
    if model.apply(spreading.edit).is_ok() {
        model.tell(format!("{done}; {limit}; u undoes"));
    }
}

fn takes(model: &mut Model, job: &Arc<Job>, told: Told) {
    let ended = match &told {
        Told::End(result) => end(model, job).map(|running| (running, result.clone())),
        _ => None,
    };
    let Some(takes) = model.takes.as_mut().filter(|takes| Arc::ptr_eq(&takes.job, job)) else {
        return;
    };
    match told {
        Told::Tolerances(tolerances) => takes.tolerances = tolerances,
        Told::WhatIf(what_if) => takes.what_if = Some(what_if),
        Told::Gains(gains) => takes.gains = gains,
        Told::End(_) => {}
    }
    let Some((running, result)) = ended else { return };
    takes.is_whole = !running.stopping && result.is_ok();
    takes.needs = result.err().map(|NotYet { needs }| needs);
    let is_open = matches!(model.overlay, Some(Overlay::Takes));
    match (running.stopping, is_open) {
        (true, _) => model.tell("stopped; what was worked out so far stands here"),
        (false, true) => model.tell("all of it is worked out"),
        (false, false) => model.tell("what it would take is worked out; w shows it"),
    }
}
