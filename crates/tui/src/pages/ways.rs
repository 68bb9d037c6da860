//! The ways in: one box with its way step by step, and what comes off before the selected module comes out.

use std::sync::Arc;

use job::way_in::{Outcome, Picture, Posed, WaysIn, What, around};
use job::{Finding, Grave};
use ratatui::layout::Rect;
use tape::Length;

use crate::model::{Model, Ways};
use crate::theme::Meaning;
use crate::widgets::pen::cut;
use crate::widgets::rows::Row;
use crate::widgets::sheet::{Outline, ViewBox};
use crate::widgets::toast::wrap;

/// The ways of the job as it is.
pub fn of_job(model: &Model) -> Option<&Ways> {
    let now = model.history.shared();
    model.ways.as_ref().filter(|ways| Arc::ptr_eq(&ways.job, &now))
}

/// What the ways of the job as it is have to say among its findings, once they were worked out: boxes with no way in. Nothing
/// while another job is shown, as an offered layout would make it.
pub fn findings(model: &Model) -> Vec<Finding> {
    let shown = of_job(model).filter(|_| std::ptr::eq(model.shown(), std::ptr::from_ref(&model.evaluation)));
    shown.map_or_else(Vec::new, |ways| ways.found.findings())
}

/// The stops of what is shown, with what its ways in say where they were worked out.
pub fn stops(model: &Model) -> usize {
    let of_ways = findings(model).iter().filter(|f| f.grave == Grave::Stop).count();
    model.shown().headline.stops + of_ways
}

/// The box that is shown, by its place in the question; `None` when there is none.
pub fn shown(ways: &Ways) -> Option<usize> {
    let order = ways.found.in_order();
    order.get(ways.at.min(order.len().saturating_sub(1))).copied()
}

/// How many poses the box that is shown has; of one that has no way, over all faces that were tried.
pub fn poses(ways: &Ways) -> usize {
    let pictures = shown(ways).map(|at| &ways.found.pictures[at]);
    pictures.map_or(0, |pictures| pictures.iter().map(|picture| picture.poses.len()).sum())
}

/// The picture that is shown, by its place, and which of its poses.
fn pose(ways: &Ways) -> Option<(usize, usize)> {
    let mut left = ways.step.min(poses(ways).saturating_sub(1));
    let pictures = &ways.found.pictures[shown(ways)?];
    for (n, picture) in pictures.iter().enumerate() {
        if left < picture.poses.len() {
            return Some((n, left));
        }
        left -= picture.poses.len();
    }
    None
}

/// The big facts, over the picture.
pub fn above(ways: &Ways, columns: u16, lines_each: usize) -> Vec<Row> {
    let (found, style) = (&ways.found, ways.found.question.style);
    let mut rows = Vec::new();
    let mut say = |words: &str, meaning: Meaning| {
        let mut lines = wrap(words, columns.saturating_sub(4));
        if lines.len() > lines_each {
            lines.truncate(lines_each);
            if let Some(last) = lines.last_mut() {
                *last = format!(
                    "{} ..",
                    cut(last, columns.saturating_sub(7)).trim_end_matches([' ', '.'])
                );
            }
        }
        rows.extend(lines.into_iter().map(|line| Row::Text(line, meaning)));
    };
    say(&found.summary(), Meaning::Heading);
    let stuck = found.stuck_words();
    if !stuck.is_empty() {
        say(&format!("{} {stuck}", Meaning::Stop.mark()), Meaning::Stop);
    }
    for (name, why) in &found.question.left_out {
        say(
            &format!("{} {name} not looked at: {why}", Meaning::Caution.mark()),
            Meaning::Caution,
        );
    }
    let Some(at) = shown(ways) else { return rows };
    let battery_box = &found.boxes[at];
    let number = format!("{} of {}", ways.at.min(found.boxes.len() - 1) + 1, found.boxes.len());
    let line = format!("{} ({number}): {}", battery_box.name, battery_box.verdict(style));
    match &battery_box.outcome {
        Outcome::Goes(way) => {
            say(&line, Meaning::Plain);
            let meaning = if way.sure { Meaning::Good } else { Meaning::Caution };
            say(&format!("{} {}", meaning.mark(), way.margin_words(style)), meaning);
        }
        Outcome::Stays { .. } => say(&format!("{} {line}", Meaning::Stop.mark()), Meaning::Stop),
    }
    rows
}

/// With no more lines than this under the picture only what changes from step to step is told.
pub const SMALL: usize = 5;

/// What stands under the picture: the step, or what stops it and what would help; then what rests on assumptions.
pub fn below(ways: &Ways, columns: u16, most: usize) -> Vec<Row> {
    let (found, style) = (&ways.found, ways.found.question.style);
    let is_small = most <= SMALL;
    let mut rows: Vec<Row> = Vec::new();
    let mut say = |words: &str, meaning: Meaning| {
        rows.extend(
            wrap(words, columns.saturating_sub(4))
                .into_iter()
                .map(|line| Row::Text(line, meaning)),
        );
    };
    if let Some(service) = &ways.service {
        return service_rows(service, columns);
    }
    if let Some(at) = shown(ways) {
        let battery_box = &found.boxes[at];
        match &battery_box.outcome {
            Outcome::Goes(way) => {
                let step = pose(ways).map_or(0, |(_, step)| step);
                say(
                    &format!(
                        "step {} of {}: {}",
                        step + 1,
                        way.steps.len(),
                        way.step_words(step, style)
                    ),
                    Meaning::Key,
                );
                let play = way.play_words(style);
                if !play.is_empty() && !is_small {
                    say(&play, Meaning::Dim);
                }
                for words in way.without_words() {
                    say(&words, Meaning::Caution);
                }
            }
            Outcome::Stays { tried, help } => {
                // The face that is in the picture first; with little room that one alone, and the reason in place of how sure it is.
                let now = pose(ways).map_or(0, |(picture, _)| picture);
                let all = tried.iter().skip(now).chain(tried.iter().take(now));
                for tried in all.take(if is_small { 1 } else { usize::MAX }) {
                    let stops = tried.stops.first().map(|stop| stop.words(style));
                    if !is_small || stops.is_none() {
                        say(&tried.words(style), Meaning::Plain);
                    }
                    if let Some(stops) = stops {
                        say(&format!("{} {stops}", Meaning::Stop.mark()), Meaning::Stop);
                    }
                }
                for why in help.iter().filter_map(|help| help.why(style)) {
                    say(&format!("{} {why}", Meaning::Stop.mark()), Meaning::Stop);
                }
                for help in help {
                    say(&format!("fix: {}", help.words(style)), Meaning::Key);
                }
            }
        }
        if is_small && battery_box.outcome.way().is_none() {
            // The reason and what would do are told in what room there is.
        } else if is_small || battery_box.outcome.way().is_none() {
            say(&found.state_summary(at), Meaning::Plain);
        } else {
            for (state, words) in found.states[at].iter().zip(found.state_words(at)) {
                if state.barred.is_empty() && state.held.is_empty() {
                    say(&words, Meaning::Plain);
                } else {
                    say(&format!("{} {words}", Meaning::Caution.mark()), Meaning::Caution);
                }
            }
        }
        let (loading, open) = (&found.loading[at], &found.question.loading[at]);
        if !is_small && !open.modules.is_empty() {
            say(&format!("loaded: {}", loading.words(open)), Meaning::Plain);
        }
        for held in &loading.held {
            say(
                &format!("{} {}", Meaning::Caution.mark(), held.words(found.question.style)),
                Meaning::Caution,
            );
        }
    }
    if !found.question.not_looked_at.is_empty() {
        say(
            &format!("not looked at: {}", found.question.not_looked_at.join("; ")),
            Meaning::Dim,
        );
    }
    if !found.question.assumed.is_empty() {
        say(&format!("~ {}", found.question.assumed.join(", ")), Meaning::Assumed);
    }
    rows.truncate(most);
    rows
}

/// How many lines may stand under the picture in a body so high.
pub const fn lines_below(height: u16) -> usize {
    if height >= 30 { 14 } else { SMALL }
}

/// How many lines each of the big facts may take in a body so high.
pub const fn lines_each(height: u16) -> usize {
    if height >= 30 { 3 } else { 1 }
}

/// What has to come off and out before a module, page by page, where it is more than goes under the picture; `None` where
/// it is not, or nothing of a module is asked.
pub fn pages(ways: &Ways, columns: u16, height: u16) -> Option<Vec<Vec<Row>>> {
    let rows = service_rows(ways.service.as_ref()?, columns);
    if rows.len() <= usize::from(height / 2) {
        return None;
    }
    let above = above(ways, columns, lines_each(height)).len();
    Some(in_pages(&rows, usize::from(height).saturating_sub(above)))
}

/// How many pages left and right turn in a body so large; `None` where they step the picture.
pub fn turned(ways: &Ways, body: Rect) -> Option<usize> {
    match pages(ways, body.width, body.height) {
        Some(pages) => Some(pages.len()),
        // The picture comes before the pages of its words.
        None if ways.service.is_none() && ways.page > 0 => Some(1 + reading(ways, body.width, body.height).len()),
        None => None,
    }
}

/// All that there is to say of the box that is shown, in whole words, page by page without the picture.
pub fn reading(ways: &Ways, columns: u16, height: u16) -> Vec<Vec<Row>> {
    in_pages(&whole(ways, columns), usize::from(height))
}

/// What no window cuts: the big facts, and all that a large window tells under the picture.
fn whole(ways: &Ways, columns: u16) -> Vec<Row> {
    let mut rows = above(ways, columns, usize::MAX);
    rows.extend(below(ways, columns, usize::MAX));
    rows
}

/// How many lines a body so large has no room for beside the picture.
pub fn left_out(ways: &Ways, columns: u16, height: u16) -> usize {
    let shown = above(ways, columns, lines_each(height)).len() + below(ways, columns, lines_below(height)).len();
    whole(ways, columns).len().saturating_sub(shown)
}

/// Rows in pages of so many, each with its number where there are several.
fn in_pages(rows: &[Row], room: usize) -> Vec<Vec<Row>> {
    let room = room.max(2);
    if rows.len() <= room {
        return vec![rows.to_vec()];
    }
    let chunks = rows.chunks(room - 1);
    let count = chunks.len();
    let with_number = |(n, chunk): (usize, &[Row])| {
        let number = format!("page {} of {count}: left and right turn it", n + 1);
        let mut page = chunk.to_vec();
        page.push(Row::Text(number, Meaning::Dim));
        page
    };
    chunks.enumerate().map(with_number).collect()
}

/// What has to come off and out before a module, in order.
fn service_rows(service: &job::way_in::Service, columns: u16) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut say = |words: &str, meaning: Meaning| {
        let lines = wrap(words, columns.saturating_sub(4)).into_iter();
        rows.extend(lines.map(|line| Row::Text(line, meaning)));
    };
    say(
        &format!("to take out {}: {}", service.heading(), service.lid_words()),
        Meaning::Heading,
    );
    let under = service.under_words();
    if !under.is_empty() {
        say(&under, Meaning::Plain);
    }
    for trouble in service.troubles() {
        say(&format!("{} {trouble}", Meaning::Stop.mark()), Meaning::Stop);
    }
    for (n, step) in (1..).zip(service.steps()) {
        say(&format!("{n}. {step}"), Meaning::Plain);
    }
    rows
}

/// What is drawn: boxes square to the sheet, and outlines that are turned.
#[derive(Debug)]
pub struct Scene {
    /// Along the first axis across the sheet, up the sheet.
    pub boxes: Vec<ViewBox>,
    /// The parts of a pitched box, and of a bed that is tilted.
    pub turned: Vec<Vec<[Length; 2]>>,
    /// What is looked at, for the title: in full, and as it is told where that does not go in.
    pub titles: [String; 3],
}

impl Scene {
    /// The longest title that goes in so many columns.
    pub fn title(&self, columns: u16) -> &str {
        let fits = |title: &&String| title.chars().count() <= usize::from(columns);
        self.titles.iter().find(fits).unwrap_or(&self.titles[2])
    }
}

/// The pose that is shown.
pub fn scene(ways: &Ways) -> Option<Scene> {
    let at = shown(ways)?;
    let (number, step) = pose(ways)?;
    let picture = &ways.found.pictures[at][number];
    let mut boxes = vec![ViewBox::new(Outline::Space, picture.space[0], picture.space[1], "")];
    boxes.extend(picture.things.iter().map(|thing| {
        let outline = match thing.what {
            What::Box(_) => Outline::Module,
            What::KeepOut(_) | What::Bed(_) | What::Lip(..) | What::Wall(_) | What::Ground => Outline::KeepOut,
        };
        let [u, v] = thing.at;
        ViewBox {
            flagged: thing.is_met,
            hidden: !thing.is_met && outline == Outline::Module,
            ..ViewBox::new(outline, u, v, thing.name.clone())
        }
    }));
    let mut turned: Vec<Vec<[Length; 2]>> = Vec::new();
    for bed in &picture.bed {
        let is_square = bed.corners.len() == 4 && is_level(&bed.corners);
        let outline = if is_square { Outline::KeepOut } else { Outline::Service };
        boxes.extend(around(bed.corners.iter().copied()).map(|[u, v]| ViewBox {
            flagged: bed.is_met,
            ..ViewBox::new(outline, u, v, bed.name.clone())
        }));
        if !is_square {
            turned.push(bed.corners.clone());
        }
    }
    // Where it starts and where it is to stand keep the scale the same from step to step.
    for (pose, label) in [(0, "start"), (picture.poses.len().saturating_sub(1), "place")] {
        if pose != step {
            boxes.extend(hull(picture, pose).map(|[u, v]| ViewBox::new(Outline::Service, u, v, label)));
        }
    }
    let pose = picture.poses.get(step)?;
    // The last pose is level, whatever this one is.
    let place = picture.poses.last()?;
    for (part, corners) in pose.iter().enumerate() {
        if part > 0 && is_within_another(&place[part], &place[1..]) {
            continue;
        }
        if is_level(corners) {
            let outline = if part == 0 { Outline::Body } else { Outline::Rim };
            let label = if part == 0 {
                ways.found.boxes[at].name.as_str()
            } else {
                ""
            };
            boxes.extend(around(*corners).map(|[u, v]| ViewBox::new(outline, u, v, label)));
        } else {
            turned.push(corners.to_vec());
        }
    }
    let [left, right, from] = match picture.plane {
        geometry::way_in::plan::Plane::Side => ["front", "rear", "left"],
        geometry::way_in::plan::Plane::Across => ["left", "right", "rear"],
    };
    let what = match &ways.found.boxes[at].outcome {
        Outcome::Goes(_) => format!("step {} of {}", step + 1, picture.poses.len()),
        Outcome::Stays { tried, .. } => {
            let is_place = step + 1 == picture.poses.len();
            let place = if is_place { "its place" } else { "where it stops" };
            let from = tried.get(number).map_or("", |tried| tried.from_words());
            format!("{} of {}, {from}: {place}", number + 1, tried.len().max(1))
        }
    };
    let bed = if picture.bed_words.is_empty() {
        String::new()
    } else {
        format!(", {}", picture.bed_words)
    };
    let short = format!("{what}{bed}, seen from the {from}");
    let titles = [
        format!("{short}: {left} at the left, {right} at the right"),
        format!("{short}: {left} at the left"),
        short,
    ];
    Some(Scene { boxes, turned, titles })
}

fn hull(picture: &Picture, pose: usize) -> Option<[[Length; 2]; 2]> {
    around(picture.poses.get(pose)?.iter().flatten().copied())
}

/// Whether a part lies within another one of these: a flange within the band of its screw heads would only crowd the sheet.
fn is_within_another(part: &Posed, others: &[Posed]) -> bool {
    let flat = |corners: &Posed| around(*corners);
    let Some(own) = flat(part) else { return false };
    let mut others = others.iter().filter(|other| *other != part).filter_map(flat);
    others.any(|other| (0..2).all(|k| other[k][0] <= own[k][0] && own[k][1] <= other[k][1]))
}

/// Whether its first edge lies along the sheet.
fn is_level(corners: &[[Length; 2]]) -> bool {
    corners[0][1] == corners[1][1] || corners[0][0] == corners[1][0]
}

/// What is told of the ways when they are worked out.
pub fn told(found: &WaysIn) -> String {
    let style = found.question.style;
    let tightest = found.tightest().map_or(String::new(), |(_, margin)| {
        format!("; tightest {} to {}", style.down(margin.distance), margin.name)
    });
    format!("{}{tightest}", found.summary())
}
