//! Welds by the signs of ISO 2553, system A: arrow, reference line with its dashed twin, sign, size and stitches; in the
//! tail the seam's number on the weld map.

use drawing::Side;
use enclosure::Role;
use enclosure::weld::{self, At, Run, Seam};
use geometry::Axis;
use plot::{Anchor, Base, Ink, Item, Line, Path, Pen, Point, Rect, Text};
use tape::Length;

use super::Sheets;
use crate::page::{TEXT, THIN, fitted};

const STEP: f64 = 9.0;
/// From the first and last sign to the edge of the room.
const EDGE: f64 = 5.0;
const HIGH: f64 = 2.0;
/// From a view to the reference lines.
const AWAY: f64 = 7.0;
/// A reference line, and how much longer it is for stitches.
const LONG: f64 = 12.0;
const STITCHED: f64 = 13.0;
/// Under the reference line.
const TWIN_BELOW: f64 = 0.9;
/// How high a sign stands.
const SIGN: f64 = 2.6;
const TWIN: Ink = Ink::new(Pen::new(0.18, Line::Dashed), TEXT);

/// A view with free paper on its right.
pub(super) struct Target {
    /// From where it is seen.
    pub(super) side: Side,
    /// Where it lies.
    pub(super) view: Rect,
    /// Its right wall's outside.
    pub(super) wall: f64,
    /// The underside of the floor.
    pub(super) floor: f64,
    /// The underside of the raised floor over a step; of a box without one, that of the floor.
    pub(super) step: f64,
    /// The upper edge of the angle round the floor; of a box without one, the underside of the floor.
    pub(super) foot: f64,
    /// The rim.
    pub(super) rim: f64,
    /// What was added, each sort by its rightmost piece: the middle of that piece's right edge.
    pub(super) added: Vec<(Role, Point)>,
}

impl Target {
    /// Where an arrow meets a seam: on the right of the view, or, where it runs along the wall that faces the viewer, on that.
    fn point(&self, seam: &Seam, long: Axis) -> Point {
        let [right, top] = self.view.high();
        // The view from the left shows a long side when the box lies along the truck.
        let shows_long = (self.side == Side::FromLeft) == (long == Axis::X);
        let is_long = seam.joins.iter().any(|role| {
            matches!(
                role,
                Role::LongSide | Role::FlangeLong | Role::SkirtLong | Role::FrameLong | Role::RingLong
            )
        });
        let along = |x: f64| {
            if is_long == shows_long {
                x - self.view.width * 0.15
            } else {
                x
            }
        };
        match seam.at {
            At::Upright => [self.wall, f64::midpoint(self.floor, self.rim)],
            At::FloorEdge => [along(self.wall), self.floor],
            At::StepEdge => [along(self.wall), self.step],
            At::UnderRim => [along(self.wall), self.rim - 0.5],
            At::RimCorner => [right, self.rim],
            At::LidEdge => [along(right), top],
            At::LidCorner => [right, f64::midpoint(top, self.rim)],
            At::FootCorner => [self.wall, self.floor],
            At::OverFoot => [along(self.wall), self.foot],
            At::PostFoot => [self.wall, self.foot],
            At::PostHead => [self.wall, self.rim - (self.foot - self.floor)],
            At::Standoff | At::Divider | At::RodFoot | At::Lug | At::Stiffener | At::FloorRail | At::Bracket => {
                let own = self.added.iter().find(|(role, _)| *role == seam.joins[0]);
                own.map_or([self.wall, self.floor], |(_, at)| *at)
            }
        }
    }
}

impl Sheets<'_> {
    /// The sign of each seam, one over the other beside the view, in `room`.
    pub(super) fn welds(&self, target: &Target, room: Rect) -> Vec<Item> {
        let place = |seam| (target.point(seam, self.assembly.long), seam);
        let mut seams: Vec<(Point, &Seam)> = self.assembly.seams.iter().map(place).collect();
        // Of two at one height the arrow to the one further left passes under the other at the rim and over it at the floor.
        let middle = target.view.middle()[1];
        seams.sort_by(|(a, _), (b, _)| {
            let beside = if a[1] > middle {
                a[0].total_cmp(&b[0])
            } else {
                b[0].total_cmp(&a[0])
            };
            a[1].total_cmp(&b[1]).then(beside)
        });
        // From the top of the view down, where there is free paper; else as high as need be, and closer together.
        let more = f64::from(u32::try_from(seams.len().saturating_sub(1)).unwrap_or(0));
        let [low, high] = [room.y + EDGE, room.high()[1] - EDGE];
        let step = STEP.min((high - low) / more.max(1.0));
        let mut y = (target.view.high()[1] - step * more).max(low);
        let mut items = Vec::new();
        for (at, seam) in seams {
            let start = [target.view.high()[0] + AWAY, y];
            items.extend(Item::arrow(start, at, 2.0, THIN));
            items.extend(sign(start, seam, room.width - AWAY));
            y += step;
        }
        items
    }
}

/// `z3`: the leg of a fillet; `s3`: the depth of a square weld.
pub(super) fn size(seam: &Seam) -> String {
    format!("{}{}", if seam.is_fillet() { "z" } else { "s" }, mm(seam.leg))
}

/// `4 x 30 (62)`: how many runs, how long, and how far from the end of one to the next; `None` for a full seam.
pub(super) fn stitches(run: Run) -> Option<String> {
    match (run, run.gap()) {
        (Run::Stitch { runs, each, .. }, Some(gap)) => Some(format!("{runs} x {} ({:.0})", mm(each), gap.as_mm())),
        _ => None,
    }
}

fn mm(length: Length) -> String {
    let size = tape::show::millimetres_bare(length, 1, tape::show::Rounding::Nearest);
    size.trim_end_matches(".0").to_owned()
}

/// The sign of a seam, its reference line beginning at a place: on the line when the weld is on the arrow's side, which is
/// outside, under its dashed twin when it is inside.
fn sign([x, y]: Point, seam: &Seam, room: f64) -> Vec<Item> {
    let stitches = stitches(seam.run);
    let long = LONG + if stitches.is_some() { STITCHED } else { 0.0 };
    let mut items = vec![
        Item::line([x, y], [x + long, y], THIN),
        Item::line([x, y - TWIN_BELOW], [x + long, y - TWIN_BELOW], TWIN),
    ];
    let inside = seam.side == weld::Side::Inside;
    let (base, up) = if inside { (y - TWIN_BELOW, -1.0) } else { (y, 1.0) };
    let words_at = if inside { base - 0.7 - HIGH } else { base + 0.7 };
    let size = Text::new(size(seam), [x + 1.5, words_at], HIGH, TEXT);
    let left = x + 2.0 + size.width();
    items.push(size.into());
    if seam.is_fillet() {
        let corners = [[left, base], [left, base + up * SIGN], [left + SIGN, base]];
        items.push(Item::path(Path::through(corners, true), THIN));
    } else {
        for x in [left + 0.6, left + 1.8] {
            items.push(Item::line([x, base], [x, base + up * SIGN], THIN));
        }
    }
    if let Some(words) = stitches {
        items.push(Text::new(words, [left + SIGN + 0.8, words_at], HIGH, TEXT).into());
    }
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
