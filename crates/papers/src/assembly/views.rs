//! Plan, view from the left, view from the rear, and the cut through the rim.

use drawing::{Direction, Side};
use enclosure::Role;
use geometry::Axis;
use plot::{Anchor, Base, Ink, Item, Layer, Line, Path, Pen, Point, Rect, Text};
use tape::{Length, Units};

use super::Sheets;
use super::welds::Target;
use crate::page::arrange::{Around, SCALES, arrange};
use crate::page::sizes::Size;
use crate::page::{TEXT, THIN};

/// Room for sizes left of and below a view, and for its name.
const BESIDE: f64 = 24.0;
const BELOW: f64 = 19.0;
const NAME: f64 = 7.0;
/// Between views, and for welds beside the last one.
const BETWEEN: f64 = 6.0;
const WELDS: f64 = 57.0;
const ROW: f64 = 8.0;
pub(super) const EDGE: Ink = Ink::new(Pen::new(0.35, Line::Continuous), Layer::CUT);
pub(super) const BEHIND: Ink = Ink::new(Pen::new(0.18, Line::Dashed), Layer::new("HIDDEN"));
/// Nearer than this on paper two lines run into one.
const APART: f64 = 0.7;

impl Sheets<'_> {
    /// The views in `room`, the cut through the rim in `corner`, and their scale.
    pub(super) fn views(&self, room: Rect, corner: Rect) -> (Vec<Item>, u32) {
        let [plan, left, rear] = Side::ALL.map(|side| {
            let rect = self.assembly.rect(side);
            [rect.width(), rect.height()].map(Length::as_mm)
        });
        let free = [
            room.width - 2.0 * BESIDE - BETWEEN - WELDS,
            room.height - 2.0 * (BELOW + NAME),
        ];
        let fits = |scale: &u32| {
            let ratio = f64::from(*scale);
            (left[0] + rear[0]) / ratio <= free[0] && (left[1] + plan[1]) / ratio <= free[1]
        };
        let scale = SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1]);
        let [plan, left, rear] = [plan, left, rear].map(|size| size.map(|side| side / f64::from(scale)));
        let around = Around {
            beside: BESIDE,
            below: BELOW,
            name: NAME,
            between: BETWEEN,
        };
        let places = arrange([plan, left, rear], room, self.evaluation.units, &around);
        let mut items = Vec::new();
        for (side, at) in Side::ALL.into_iter().zip(places) {
            items.extend(self.view(side, at, scale));
            items.extend(self.view_sizes(side, at, scale));
        }
        let (side, last) = match self.evaluation.units {
            Units::Inch => (Side::FromRear, places[2]),
            Units::Millimetre => (Side::FromLeft, places[1]),
        };
        let beside = Rect::between([last.high()[0], room.y], [last.high()[0] + WELDS, room.high()[1]]);
        items.extend(self.welds(&self.target(side, last, scale), beside));
        items.extend(self.rim(corner));
        (items, scale)
    }

    /// The edges of the box and its holes, with the name of the view above.
    fn view(&self, side: Side, at: Rect, scale: u32) -> Vec<Item> {
        let whole = self.assembly.rect(side);
        let ratio = f64::from(scale);
        let place = |[u, v]: [Length; 2]| {
            [
                at.x + (u - whole.u0).as_mm() / ratio,
                at.high()[1] - (v - whole.v0).as_mm() / ratio,
            ]
        };
        let name = format!(
            "{}{}",
            side.words(),
            if side == Side::Plan {
                self.hole_words()
            } else {
                String::new()
            }
        );
        let name = Text::new(name, [at.x, at.high()[1] + 4.0], 2.2, TEXT);
        let mut items = vec![name.into()];
        let mut kept: Vec<(Direction, f64, [f64; 2])> = Vec::new();
        let mut edges = self.assembly.edges(side);
        edges.sort_by_key(|edge| edge.hidden);
        for edge in edges {
            let ends = [edge.from, edge.to].map(|along| match edge.along {
                Direction::U => place([along, edge.at]),
                Direction::V => place([edge.at, along]),
            });
            let (axis, other) = if edge.along == Direction::U { (0, 1) } else { (1, 0) };
            let (across, span) = (
                ends[0][other],
                [ends[0][axis].min(ends[1][axis]), ends[0][axis].max(ends[1][axis])],
            );
            // What is hidden is drawn where it can be told from what is there already.
            let beside = |(along, its, reach): &(Direction, f64, [f64; 2])| {
                *along == edge.along
                    && (its - across).abs() < APART
                    && reach[0] <= span[0] + APART
                    && span[1] <= reach[1] + APART
            };
            if edge.hidden && kept.iter().any(beside) {
                continue;
            }
            kept.push((edge.along, across, span));
            items.push(Item::line(ends[0], ends[1], if edge.hidden { BEHIND } else { EDGE }));
        }
        if let (Side::Plan, Some(hole)) = (side, self.assembly.hole) {
            for &[x, y] in &self.assembly.holes {
                items.push(Item::circle(place([x, -y]), hole.as_mm() / 2.0 / ratio, THIN));
            }
        }
        items.extend(self.openings(side, place, ratio));
        items
    }

    /// The sizes of a view: each thing once on the sheet.
    fn view_sizes(&self, side: Side, at: Rect, scale: u32) -> Vec<Item> {
        let ratio = f64::from(scale);
        let whole = self.assembly.rect(side);
        let body = side.rect(&self.assembly.body);
        let [low, high] = [at.low(), at.high()];
        let u = |u: Length| at.x + (u - whole.u0).as_mm() / ratio;
        let v = |v: Length| high[1] - (v - whole.v0).as_mm() / ratio;
        let mut items = Vec::new();
        let mut below = |ends: [f64; 2], row: f64, words: String| {
            let line = Size {
                axis: 0,
                ends,
                at: low[1] - row * ROW,
                edge: low[1],
                words,
            };
            items.extend(line.items());
        };
        match side {
            Side::Plan => {
                if let Some([first, last]) = self.hole_line(Axis::X) {
                    let edge = side.rect(&self.assembly.lidded).u0;
                    below([u(edge), u(first)], 1.0, self.both(first - edge));
                    below([u(first), u(last)], 2.0, self.pitches(Axis::X, last - first));
                }
            }
            Side::FromLeft | Side::FromRear => {
                if body != whole {
                    below([u(body.u0), u(body.u1)], 1.0, self.both(body.width()));
                }
                below([u(whole.u0), u(whole.u1)], 2.0, self.both(whole.width()));
            }
        }
        let mut beside = |ends: [f64; 2], row: f64, words: String| {
            let line = Size {
                axis: 1,
                ends,
                at: low[0] - row * ROW,
                edge: low[0],
                words,
            };
            items.extend(line.items());
        };
        match side {
            Side::Plan => {
                if let Some([first, last]) = self.hole_line(Axis::Y) {
                    // The driver's left is at the bottom of the sheet: places grow upwards.
                    let start = -side.rect(&self.assembly.lidded).v1;
                    beside([v(-start), v(-first)], 1.0, self.both(first - start));
                    beside([v(-first), v(-last)], 2.0, self.pitches(Axis::Y, last - first));
                }
            }
            Side::FromLeft => {
                let row = if self.step_seen(side).is_some() { 2.0 } else { 1.0 };
                beside([v(whole.v1), v(whole.v0)], row, self.both(whole.height()));
            }
            Side::FromRear => {}
        }
        if let Some(step) = self.step_seen(side) {
            beside([v(step.v1), v(step.v0)], 1.0, self.both(step.height()));
            // In the room that the step leaves free.
            let [under, floor] = [v(step.v0), v(step.v1)];
            let run = Size {
                axis: 0,
                ends: [u(step.u0), u(step.u1)],
                at: under - (under - floor) * 0.6,
                edge: under,
                words: self.both(step.width()),
            };
            items.extend(run.items());
        }
        items
    }

    /// What the body lacks under its step, seen from beside it.
    fn step_seen(&self, side: Side) -> Option<drawing::Rect> {
        let step = self.assembly.step?;
        (side != Side::Plan && side.axis(Direction::U) == self.assembly.step_axis).then(|| side.rect(&step))
    }

    /// The first and the last place of the lid's holes along an axis.
    fn hole_line(&self, axis: Axis) -> Option<[Length; 2]> {
        let along = || self.assembly.holes.iter().map(|hole| hole[axis.index()]);
        Some([along().min()?, along().max()?])
    }

    /// `13 x 71.3 (2 13/16") = 927.0 (36 1/2")`.
    fn pitches(&self, axis: Axis, line: Length) -> String {
        let Some(pattern) = self.assembly.pattern else {
            return self.both(line);
        };
        let count = if axis == self.assembly.long {
            pattern.intervals_long
        } else {
            pattern.intervals_short
        };
        let pitch = Length::from_mm(line.as_mm() / f64::from(count.max(1)));
        format!("{count} x {} = {}", self.both(pitch), self.both(line))
    }

    /// How many holes of which diameter.
    fn hole_words(&self) -> String {
        let count = self.assembly.holes.len();
        let hole = self.assembly.hole;
        hole.map_or_else(String::new, |hole| format!(": {count} holes ⌀ {}", self.both(hole)))
    }

    /// Where seams show in a view that has free paper on its right.
    fn target(&self, side: Side, at: Rect, scale: u32) -> Target {
        let ratio = f64::from(scale);
        let whole = self.assembly.rect(side);
        let body = side.rect(&self.assembly.body);
        let up = |length: Length| length.as_mm() / ratio;
        let floor = at.high()[1] - up(body.v1 - whole.v0);
        let pieces = self.assembly.pieces.iter();
        let feet = pieces.filter(|piece| matches!(piece.role, Role::FrameLong | Role::FrameShort));
        let foot = feet
            .map(|piece| up(whole.v1 + piece.solid.hi()[Axis::Z]))
            .fold(0.0, f64::max);
        let mut added: Vec<(Role, Point)> = Vec::new();
        for piece in self.assembly.pieces.iter().filter(|piece| piece.role.is_added()) {
            let rect = side.rect(&piece.solid);
            let middle = (rect.v0 + rect.v1).half_down();
            let edge = [at.x + up(rect.u1 - whole.u0), at.high()[1] - up(middle - whole.v0)];
            match added.iter_mut().find(|(role, _)| *role == piece.role) {
                Some((_, known)) if known[0] < edge[0] => *known = edge,
                Some(_) => {}
                None => added.push((piece.role, edge)),
            }
        }
        Target {
            added,
            side,
            view: at,
            wall: at.x + up(body.u1 - whole.u0),
            floor,
            step: floor + self.assembly.step.map_or(0.0, |step| up(step.size()[Axis::Z])),
            foot: floor.max(at.y + foot),
            rim: at.high()[1] - up(body.v0 - whole.v0 + self.assembly.above_rim),
        }
    }

    /// A cut across the longer side, through the rim on its lower side, as large as there is room.
    fn rim(&self, room: Rect) -> Vec<Item> {
        const AROUND: f64 = 36.0;
        const LIST: f64 = 62.0;
        let long = self.assembly.long;
        let short = if long == Axis::X { Axis::Y } else { Axis::X };
        let (whole, body) = (self.assembly.lidded, self.assembly.body);
        let open = [room.width - LIST - 8.0, room.height - 14.0];
        let fits = |scale: &u32| (0..2).all(|axis| AROUND / f64::from(*scale) <= open[axis]);
        let Some(scale) = SCALES.into_iter().find(fits) else {
            return Vec::new();
        };
        let ratio = 1.0 / f64::from(scale);
        let side = AROUND * ratio;
        let window = Rect::new(room.x + 4.0, room.high()[1] - 8.0 - side, side, side);
        // The top of the box and its outermost edge lie a little inside the window.
        let origin = [whole.lo()[short], whole.hi()[Axis::Z]];
        let place = |across: Length, up: Length| -> Point {
            [
                window.x + ((across - origin[0]).as_mm() + 3.0) * ratio,
                window.high()[1] + ((up - origin[1]).as_mm() - 3.0) * ratio,
            ]
        };
        let name = format!("cut through the rim, 1:{scale}");
        let mut items = vec![
            Text::new(name, [window.x, window.high()[1] + 3.0], 2.5, TEXT).into(),
            Item::rect(window, THIN),
        ];
        let mut inside = Vec::new();
        let mut told: Vec<(Point, String)> = Vec::new();
        for piece in self.assembly.cut_through(long) {
            let (lo, hi) = (piece.solid.lo(), piece.solid.hi());
            let [low, high] = [place(lo[short], lo[Axis::Z]), place(hi[short], hi[Axis::Z])];
            let all = Rect::between(low, high);
            let Some(seen) = all.common(window) else { continue };
            inside.push(Item::Filled {
                path: Path::rect(all),
                grey: 0.75,
                layer: EDGE.layer,
            });
            inside.push(Item::rect(all, EDGE));
            let thick = self.both(piece.solid.size()[piece.thin]);
            let words = format!("{} {} {thick}", piece.mark, piece.role.name());
            if !told.iter().any(|(_, known)| *known == words) {
                told.push((seen.middle(), words));
            }
        }
        items.push(Item::Clipped {
            rect: window,
            items: inside,
        });
        told.push((
            place(body.lo()[short], body.hi()[Axis::Z] - self.assembly.above_rim),
            format!("rim to top of lid {}", self.both(self.assembly.above_rim)),
        ));
        if whole.lo()[short] < body.lo()[short] {
            let out = body.lo()[short] - whole.lo()[short];
            told.push((
                place(whole.lo()[short], body.hi()[Axis::Z]),
                format!("edge beyond the wall {}", self.both(out)),
            ));
        }
        told.sort_by(|(a, _), (b, _)| b[1].total_cmp(&a[1]));
        let x = window.high()[0] + 6.0;
        for (index, (from, words)) in told.into_iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a handful of pieces")]
            let y = window.high()[1] - 3.0 - 5.0 * index as f64;
            items.push(Item::dot(from, 0.5, TEXT));
            items.push(Item::lines([from, [x - 1.0, y], [x, y]], THIN));
            let (words, high) = crate::page::fitted(&words, room.high()[0] - x - 1.0, [2.2, 1.6]);
            items.push(
                Text::new(words, [x + 1.0, y], high, TEXT)
                    .anchored(Anchor::Left, Base::Middle)
                    .into(),
            );
        }
        items
    }
}
