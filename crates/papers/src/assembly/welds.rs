//! Welds by the signs of ISO 2553, system A: arrow, reference line with its dashed twin, sign, size and stitches; in the
//! tail the seam's number on the weld map.

use drawing::Side;
use enclosure::weld::{self, Run, Seam};
use plot::{Anchor, Base, Ink, Item, Line, Path, Pen, Piece, Point, Rect, Text};
use tape::{Length, Units};

use super::Sheets;
use super::stand::EDGE;
use super::views::{self, BEHIND, OnPaper};
use crate::page::{TEXT, THIN, fitted};

const STEP: f64 = 9.0;
const HIGH: f64 = 2.0;
/// From a view to the reference lines.
const AWAY: f64 = 7.0;
/// A reference line; one with more words on it goes on past them.
const LONG: f64 = 12.0;
/// Between what stands on the line and the fork, which opens over it.
const BEFORE_FORK: f64 = 1.0;
/// Under the reference line.
const TWIN_BELOW: f64 = 0.9;
/// An arrow that ends as near as this to a line ends on it: two lines that are nearer run into one.
const MEETS: f64 = 0.7;
/// How high a sign stands.
const SIGN: f64 = 2.6;
const TWIN: Ink = Ink::new(Pen::new(0.18, Line::Dashed), TEXT);

impl Sheets<'_> {
    /// The sign of each seam, one over the other in `room` on the right of a view, with an arrow to the seam in the view. What
    /// the view does not show is dashed where an arrow ends on it.
    pub(super) fn welds(&self, side: Side, paper: &OnPaper, drawn: &[Item], room: Rect) -> Vec<Item> {
        let view = paper.at;
        let (mut seams, dashed) = self.aims(side, paper, drawn);
        let middle = view.middle();
        let height = |at: &Option<Point>| at.unwrap_or(middle)[1];
        seams.sort_by(|(a, _), (b, _)| height(a).total_cmp(&height(b)));
        // From the top of the view down, where there is free paper; else as high as need be, and closer together.
        let more = f64::from(u32::try_from(seams.len().saturating_sub(1)).unwrap_or(0));
        let [low, high] = [room.y + EDGE, room.high()[1] - EDGE];
        let step = STEP.min((high - low) / more.max(1.0));
        let lowest = (view.high()[1].min(high) - step * more).max(low);
        let mut y = lowest;
        let starts: Vec<Point> = seams
            .iter()
            .map(|_| {
                let start = [view.high()[0] + AWAY, y];
                y += step;
                start
            })
            .collect();
        uncross(&starts, &mut seams);
        let mut items = dashed;
        for (start, (at, seam)) in starts.into_iter().zip(seams) {
            items.extend(at.into_iter().flat_map(|at| Item::arrow(start, at, 2.0, THIN)));
            items.extend(sign(start, seam, room.width - AWAY, self.evaluation.units));
        }
        items
    }
}

impl Sheets<'_> {
    /// Each seam with where its arrow ends, and what is dashed so that none ends on blank paper: what is inside, and a seam
    /// itself where nothing of it is drawn.
    pub(super) fn aims(&self, side: Side, paper: &OnPaper, drawn: &[Item]) -> (Vec<(Option<Point>, &Seam)>, Vec<Item>) {
        let mut dashed: Vec<Item> = Vec::new();
        let mut aims = Vec::new();
        for seam in &self.assembly.seams {
            let at = self.seam_on(seam, side).map(|met| {
                let mut at = paper.point(met.at);
                let mut missing: Vec<Item> = met.inside.iter().map(|rect| paper.dashed(rect)).collect();
                if !is_on(at, drawn.iter().chain(&dashed).chain(&missing)) {
                    at = paper.point(met.end);
                    missing.push(paper.dashed(&met.along));
                }
                for item in missing {
                    if !dashed.contains(&item) {
                        dashed.push(item);
                    }
                }
                at
            });
            aims.push((at, seam));
        }
        (aims, dashed)
    }
}

/// Whether a place is on an edge that is drawn, seen or hidden; all of them are level or upright.
pub(super) fn is_on<'a>(at: Point, mut drawn: impl Iterator<Item = &'a Item>) -> bool {
    let place = Rect::between(at, at);
    let meets = |piece: Piece| match piece {
        Piece::Straight(ends) => Rect::around(ends).is_some_and(|line| line.grown(MEETS).common(place).is_some()),
        Piece::Round(_) => false,
    };
    drawn.any(|item| match item {
        Item::Stroke { path, ink } => (*ink == views::EDGE || *ink == BEHIND) && path.pieces().any(meets),
        _ => false,
    })
}

/// Puts arrows to the starts that cross the fewest others: while two are shorter together the other way round they are
/// swapped, and of two that cross that is so.
fn uncross(starts: &[Point], seams: &mut [(Option<Point>, &Seam)]) {
    // Each swap makes all of them shorter together by more than what a float rounds off.
    const LESS: f64 = 1e-6;
    let long = |start: Point, at: Option<Point>| at.map_or(0.0, |at| libm::hypot(at[0] - start[0], at[1] - start[1]));
    let mut swapped = true;
    while swapped {
        swapped = false;
        for one in 0..seams.len() {
            for other in one + 1..seams.len() {
                let (a, b) = (seams[one].0, seams[other].0);
                let now = long(starts[one], a) + long(starts[other], b);
                if long(starts[one], b) + long(starts[other], a) < now - LESS {
                    seams.swap(one, other);
                    swapped = true;
                }
            }
        }
    }
}

/// `z3`: the leg of a fillet; `s3`: the depth of a square weld; for a person who works in inches `z0.118"`.
pub(super) fn size(seam: &Seam, units: Units) -> String {
    let leg = match units {
        Units::Millimetre => mm(seam.leg),
        Units::Inch => format!("{:.3}\"", seam.leg.as_inches()),
    };
    format!("{}{leg}", if seam.is_fillet() { "z" } else { "s" })
}

/// `4 x 30 (62)`, in inches `4 x 1.18" (2.44")`: how many runs, how long, and how far from the end of one to the next; `None` for a full seam.
pub(super) fn stitches(run: Run, units: Units) -> Option<String> {
    match (run, run.gap()) {
        (Run::Stitch { runs, each, .. }, Some(gap)) => Some(match units {
            Units::Millimetre => format!("{runs} x {} ({:.0})", mm(each), gap.as_mm()),
            Units::Inch => format!("{runs} x {:.2}\" ({:.2}\")", each.as_inches(), gap.as_inches()),
        }),
        _ => None,
    }
}

fn mm(length: Length) -> String {
    let size = tape::show::millimetres_bare(length, 1, tape::show::Rounding::Nearest);
    size.trim_end_matches(".0").to_owned()
}

/// The sign of a seam, its reference line beginning at a place: on the line when the weld is on the arrow's side, which is
/// outside, under its dashed twin when it is inside.
fn sign([x, y]: Point, seam: &Seam, room: f64, units: Units) -> Vec<Item> {
    let inside = seam.side == weld::Side::Inside;
    let (base, up) = if inside { (y - TWIN_BELOW, -1.0) } else { (y, 1.0) };
    let words_at = if inside { base - 0.5 - HIGH } else { base + 0.5 };
    let size = Text::new(size(seam, units), [x + 1.5, words_at], HIGH, TEXT);
    let left = x + 2.0 + size.width();
    let stitched = stitches(seam.run, units).map(|words| Text::new(words, [left + SIGN + 0.8, words_at], HIGH, TEXT));
    let end = stitched
        .as_ref()
        .map_or(left + SIGN, |words| words.at[0] + words.width());
    let long = LONG.max(end + BEFORE_FORK - x);
    let mut items = vec![
        Item::line([x, y], [x + long, y], THIN),
        Item::line([x, y - TWIN_BELOW], [x + long, y - TWIN_BELOW], TWIN),
        size.into(),
    ];
    if seam.is_fillet() {
        let corners = [[left, base], [left, base + up * SIGN], [left + SIGN, base]];
        items.push(Item::path(Path::through(corners, true), THIN));
    } else {
        for x in [left + 0.6, left + 1.8] {
            items.push(Item::line([x, base], [x, base + up * SIGN], THIN));
        }
    }
    items.extend(stitched.map(Item::from));
    // The fork of the tail, with the number and where it is.
    let fork = x + long + 1.5;
    items.push(Item::lines([[fork, y + 1.5], [x + long, y], [fork, y - 1.5]], THIN));
    let number = format!("{}: {} off", seam.number, seam.count);
    items.push(Text::new(number, [fork + 1.0, y + 0.4], HIGH, TEXT).into());
    let (words, high) = fitted(seam.at.words(), room - long - 2.5, [1.8, 1.4]);
    items.push(
        Text::new(words, [fork + 1.0, y - 0.4 - high], high, TEXT)
            .anchored(Anchor::Left, Base::Baseline)
            .into(),
    );
    items
}
