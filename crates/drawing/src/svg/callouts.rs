//! Names that do not fit inside what they name: a column to the right of the view, each with a line to its thing.

use std::fmt::Write as _;

use super::frame::{Frame, line};
use super::rows::anchor;
use super::text::{Anchor, Look};
use crate::{Outline, Role, View};

struct Callout {
    words: String,
    at: [f64; 2],
}

/// Draws the names of keep-outs, boxes and parts.
pub(super) fn draw(view: &View, frame: &mut Frame) -> String {
    let mut callouts: Vec<Callout> = Vec::new();
    for outline in &view.outlines {
        let Some(words) = words(outline, view) else {
            continue;
        };
        let at = place(outline);
        // Two like parts have one mark and one name; the one nearer to the names has the shorter line.
        let same = callouts
            .iter_mut()
            .find(|c| outline.role == Role::Part && c.words == words);
        if let Some(same) = same {
            if at[0] > same.at[0] {
                same.at = at;
            }
            continue;
        }
        callouts.push(Callout { words, at });
    }
    callouts.sort_by(|a, b| a.at[1].total_cmp(&b.at[1]).then(b.at[0].total_cmp(&a.at[0])));
    let step = frame.text * 1.7;
    let mut heights: Vec<f64> = callouts.iter().map(|c| c.at[1]).collect();
    spread(&mut heights, step, frame.view[1] + frame.text * 0.5, frame.view[3]);
    let column = frame.view[2] + frame.text * 2.5;
    let mut out = String::new();
    for (callout, y) in callouts.iter().zip(heights) {
        out += &line(callout.at, [column - frame.text * 0.8, y], frame.text * 0.05);
        out += &line(
            [column - frame.text * 0.8, y],
            [column - frame.text * 0.2, y],
            frame.text * 0.05,
        );
        let _ = writeln!(
            out,
            "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{:.1}\" stroke=\"#fff\" stroke-width=\"{:.1}\"/>",
            callout.at[0],
            callout.at[1],
            frame.text * 0.18,
            frame.text * 0.06
        );
        let size = frame.text * 0.9;
        out += &frame.text(
            [column, y + size * 0.36],
            &callout.words,
            Look::plain(size, Anchor::Start),
        );
    }
    out
}

fn words(outline: &Outline, view: &View) -> Option<String> {
    let named = |first: &str| match outline.sub.as_str() {
        "" => first.to_owned(),
        sub => format!("{first}, {sub}"),
    };
    match outline.role {
        Role::KeepOut(_) if outline.hidden => Some(named(&outline.label) + ", behind"),
        Role::KeepOut(_) | Role::TakenOut => Some(named(&outline.label)),
        Role::Part => Some(format!("{} {}", outline.label, outline.sub)),
        // A box drawn by itself is named in the title.
        Role::Body if view.outlines.iter().any(|o| o.role == Role::Cavity) => Some(named(&outline.label)),
        _ => None,
    }
}

/// A body is touched at its right edge, everything else within.
fn place(outline: &Outline) -> [f64; 2] {
    let [x0, y0, x1, y1] = super::frame::rect(&outline.rect);
    match outline.role {
        Role::Body => [x1, y0 + (y1 - y0) * 0.3],
        Role::Part if x1 - x0 > y1 - y0 => [x0 + (x1 - x0) * 0.9, f64::midpoint(y0, y1)],
        Role::Part => [f64::midpoint(x0, x1), y0 + (y1 - y0) * 0.35],
        _ => anchor(outline),
    }
}

/// Moves heights (ascending) apart to at least `step`, as little as need be, between `top` and about `bottom`.
fn spread(heights: &mut [f64], step: f64, top: f64, bottom: f64) {
    let mut least = top;
    for y in heights.iter_mut() {
        *y = y.max(least);
        least = *y + step;
    }
    let mut most = bottom;
    for y in heights.iter_mut().rev() {
        *y = y.min(most);
        most = *y - step;
    }
    // More than there is room for: down from the top again.
    let mut least = top;
    for y in heights.iter_mut() {
        *y = y.max(least);
        least = *y + step;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::spread;

    proptest! {
        #[test]
        fn names_never_touch(mut heights in proptest::collection::vec(0.0..100.0_f64, 0..30)) {
            heights.sort_by(f64::total_cmp);
            spread(&mut heights, 5.0, 0.0, 100.0);
            for pair in heights.windows(2) {
                prop_assert!(pair[1] - pair[0] >= 5.0 - 1e-9);
            }
        }
    }
}
