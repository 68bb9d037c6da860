//! The ways of all boxes, and the order in which they go in.

use geometry::way_in::order::{Comes, order};
use tape::Length;

use super::look::Meter;
use super::scene::{Scene, swept};
use super::search::{self, Found};
use super::{
    BoxWay, HELP_WORK, Outcome, Part, Question, State, Stuck, Tried, WORK, Way, WaysIn, help, loading, question, states,
};
use crate::{Evaluation, Job};

/// The ways of a job's boxes, with the work that papers and the command line take.
pub fn ways_in(job: &Job, evaluation: &Evaluation) -> WaysIn {
    answer(question(job, evaluation), WORK, &mut |_| true)
}

/// Works out the ways in `each` steps at most for each box. `watch` is told of the steps done and may stop it by `false`;
/// what is known then is told. The same question and work give the same answer.
///
/// Each box is looked at alone first. Then, of those that go in alone, whatever can come out past the others is taken out:
/// with fewer in, none is harder to take out, so this finds an order if there is any, and the way in is the way out reversed.
/// A box whose way alone leads past none of the others keeps it.
pub fn answer(question: Question, each: u64, watch: &mut dyn FnMut(u64) -> bool) -> WaysIn {
    let mut meter = Meter::new(question.work(each), watch);
    let count = question.boxes.len();
    // Half of the work is for the order, and for what would make a way.
    let mut found: Vec<Found> = (0..count)
        .map(|i| {
            meter.stage(each / 2, u64::MAX, |meter| {
                search::way(&Scene::of(&question, i, &[]), meter)
            })
        })
        .collect();
    let goes: Vec<usize> = (0..count).filter(|&i| found[i].is_ok()).collect();
    let at = |places: &[usize]| -> Vec<usize> { places.iter().map(|&place| goes[place]).collect() };
    let ordered = order(goes.len(), |thing, others| {
        let (moved, others) = (goes[thing], at(others));
        if found[moved]
            .as_ref()
            .is_ok_and(|way| is_clear(&question, moved, way, &others))
        {
            return Comes::Out;
        }
        let past = meter.stage(each / 2, u64::MAX, |meter| {
            search::way(&Scene::of(&question, moved, &others), meter)
        });
        let comes = match &past {
            Ok(_) => Comes::Out,
            Err(tried) if tried.iter().all(Tried::is_proved) => Comes::Not,
            Err(_) => Comes::Unknown,
        };
        found[moved] = past;
        comes
    });
    let (order, stuck) = match ordered {
        Ok(order) => (at(&order), None),
        Err(stuck) => {
            let left = at(&stuck.left);
            let names = left.iter().map(|&i| question.boxes[i].name.clone()).collect();
            let proved = stuck.proved && !meter.stopped;
            (at(&stuck.rest), Some(Stuck { names, proved }))
        }
    };
    let after: Vec<Vec<usize>> = (0..count)
        .map(|i| after(&question, &order, i, &found[i], &mut meter))
        .collect();
    let outcomes = with_help(&question, &goes, found, &mut meter);
    let boxes = outcomes
        .into_iter()
        .zip(after)
        .zip(&question.boxes)
        .map(|((outcome, after), moved)| BoxWay {
            id: moved.id,
            name: moved.name.clone(),
            outcome,
            after,
        })
        .collect();
    let mut answered = WaysIn {
        boxes,
        order,
        stuck,
        loading: question.loading.iter().map(loading::of).collect(),
        states: Vec::new(),
        stopped: meter.stopped,
        work: meter.done(),
        question,
        pictures: Vec::new(),
    };
    answered.states = (0..answered.question.loading.len())
        .map(|at| states_of(&answered, at))
        .collect();
    answered.pictures = (0..count).map(|at| answered.pictures_of(at)).collect();
    answered
}

/// The states of a box, those that go in before it standing in their places.
fn states_of(found: &WaysIn, at: usize) -> Vec<State> {
    let before = found.order.iter().copied().take_while(|&other| other != at);
    let before: Vec<usize> = before.filter(|_| found.order.contains(&at)).collect();
    states::of(
        &found.question,
        at,
        &before,
        (&found.boxes[at].outcome, &found.loading[at]),
    )
}

/// What would make a way for each box that has none, in what is left of the work once all ways are looked for: each of
/// these boxes has its share. One that goes in alone is helped past those that do.
fn with_help(question: &Question, goes: &[usize], found: Vec<Found>, meter: &mut Meter<'_>) -> Vec<Outcome> {
    let mut stay = found.iter().filter(|found| found.is_err()).count();
    let outcome = |(i, found): (usize, Found)| match found {
        Ok(way) => Outcome::Goes(way),
        Err(tried) => {
            let others = if goes.contains(&i) { goes } else { &[] };
            let share = meter.left() / u64::try_from(stay).unwrap_or(u64::MAX);
            stay -= 1;
            let help = help::of(question, i, others, share.min(HELP_WORK), meter);
            Outcome::Stays { tried, help }
        }
    };
    found.into_iter().enumerate().map(outcome).collect()
}

/// Whether a way leads so far past other boxes that they change nothing of it: neither that it goes, nor the room along it.
fn is_clear(question: &Question, moved: usize, way: &Way, others: &[usize]) -> bool {
    let battery_box = &question.boxes[moved];
    let room = way.margin.as_ref().map_or(Length::mm(100), |margin| margin.distance);
    let Some(swept) = swept(battery_box, way, room) else {
        return false;
    };
    others.iter().map(|&other| &question.boxes[other]).all(|other| {
        let is_apart = |part: &Part| !part.solid.overlaps(&swept);
        other.world != battery_box.world || other.id == battery_box.id || other.parts.iter().all(is_apart)
    })
}

/// The boxes that have to come out before one when all are in: those that went in after it, less all without which it still
/// comes out.
fn after(question: &Question, order: &[usize], moved: usize, found: &Found, meter: &mut Meter<'_>) -> Vec<usize> {
    let Some(place) = order.iter().position(|&i| i == moved) else {
        return Vec::new();
    };
    let behind = &order[place + 1..];
    if found.as_ref().is_ok_and(|way| is_clear(question, moved, way, behind)) {
        return Vec::new();
    }
    let mut out: Vec<usize> = behind.iter().rev().copied().collect();
    let mut next = 0;
    while next < out.len() {
        let mut fewer = out.clone();
        fewer.remove(next);
        let others: Vec<usize> = order
            .iter()
            .copied()
            .filter(|i| *i != moved && !fewer.contains(i))
            .collect();
        let scene = Scene::of(question, moved, &others);
        if search::simple(&scene).is_some() || search::way(&scene, meter).is_ok() {
            out = fewer;
        } else {
            next += 1;
        }
    }
    out
}
