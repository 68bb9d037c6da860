//! The view of a part to scale, with its sizes, bends and numbered holes.

use enclosure::cutlist::Rounded;
use plot::{Anchor, Base, Item, Layer, Piece, Placement, Point, Rect, Text};
use tape::Units;

use super::Subject;
use crate::outline;
use crate::page::arrange::SCALES;
use crate::page::{TEXT, THIN, fitted, spaced};

/// Room for the width's size on the left, and for the length's below.
const LEFT: f64 = 27.0;
const BELOW: f64 = 14.0;
/// Room on the right and above: plain, and with the words of bends.
const PLAIN: f64 = 8.0;
const WORDED: f64 = 35.0;
/// With radii in decimal inches.
const WORDED_INCH: f64 = 44.0;
const HIGH: f64 = 2.5;
const BEND_HIGH: f64 = 2.0;
const NUMBER_HIGH: f64 = 1.6;
const EDGE_HIGH: f64 = 1.8;
/// Between the words of two bends.
const STEP: f64 = 3.4;
const HEAD: f64 = 2.5;

/// A view as drawn.
pub(super) struct View {
    pub(super) items: Vec<Item>,
    /// Paper to part, 1 to this.
    pub(super) scale: u32,
    /// Its lowest place.
    pub(super) low: f64,
}

/// What is drawn, and what is taken by it.
struct Canvas {
    items: Vec<Item>,
    taken: Vec<Rect>,
}

impl Subject<'_> {
    /// The part at the top of `room`, in the largest scale that fits.
    pub(super) fn view(&self, room: Rect) -> View {
        let line = self.line;
        let size = [line.length.exact.as_mm(), line.width.exact.as_mm()];
        let (level, upright): (Vec<_>, Vec<_>) = line.bends.iter().enumerate().partition(|(_, b)| outline::is_level(b));
        let beside = |bends: &[(usize, &enclosure::BendLine)]| match self.evaluation.units {
            _ if bends.is_empty() => PLAIN,
            Units::Millimetre => WORDED,
            Units::Inch => WORDED_INCH,
        };
        let (right, above) = (beside(&level), beside(&upright));
        let free = [room.width - LEFT - right, room.height - BELOW - above];
        let fits = |scale: &u32| (0..2).all(|axis| size[axis] / f64::from(*scale) <= free[axis]);
        let scale = SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1]);
        let ratio = 1.0 / f64::from(scale);
        let [width, height] = size.map(|side| side * ratio);
        let x = room.x + LEFT + (free[0] - width) / 2.0;
        let y = room.high()[1] - above - height;
        let placement = Placement::scaled(ratio, [x, y]);
        let flat = outline::flat(line);
        let part = Rect::new(x, y, width, height);
        let mut canvas = Canvas {
            items: vec![Item::Placed {
                placement,
                items: flat.items(),
            }],
            taken: Vec::new(),
        };
        canvas.take_outline(&flat, &placement);
        canvas.sizes(part, [self.rounded(line.length), self.rounded(line.width)]);
        let units = self.evaluation.units;
        canvas.bends(part, &placement, (&level, true), units);
        canvas.bends(part, &placement, (&upright, false), units);
        canvas.edges(part, line.edges);
        if let (Some(notch), Some(size)) = (line.notch(), self.notch_size()) {
            let [along, up] = notch.size.map(|side| side.as_mm() * ratio);
            let left = if notch.at_far_end { x + width - along } else { x };
            let [own, other] = [0, 1].map(|which| size.map(|side| self.plain(side)[which].clone()).join(" x "));
            canvas.notch(Rect::new(left, y, along, up), &[own, format!("({other})")]);
        }
        canvas.numbers(&flat, &placement, room);
        let corners = self.corners().map(|(corners, _)| corners).unwrap_or_default();
        for (index, vertex) in corners.into_iter().enumerate() {
            let at = placement.point(outline::mm([vertex.x, vertex.y]));
            canvas.beside(&super::blocks::corner_name(index), at, 0.0, room);
        }
        let low = plot::bounds(&canvas.items).map_or(y, |all| all.y);
        View {
            items: canvas.items,
            scale,
            low,
        }
    }

    /// `779.5 mm` and `(30 11/16")`, each rounded as on the cut list, the person's own unit first.
    pub(super) fn rounded(&self, size: Rounded) -> [String; 2] {
        let [own, other] = self.plain(size);
        [own, format!("({other})")]
    }

    /// The same without brackets.
    fn plain(&self, size: Rounded) -> [String; 2] {
        let mark = crate::words::mark(self.evaluation.headline.assumed.cut);
        let mm = format!("{mark}{} mm", job::Evaluation::cut_mm(size));
        let inches = format!("{mark}{}", self.evaluation.cut_inches(size));
        match self.evaluation.units {
            Units::Millimetre => [mm, inches],
            Units::Inch => [inches, mm],
        }
    }
}

impl Canvas {
    fn text(&mut self, text: Text) {
        let item = Item::Text(text);
        self.taken.extend(item.bounds());
        self.items.push(item);
    }

    fn line(&mut self, from: Point, to: Point) {
        self.take_line(from, to);
        self.items.push(Item::line(from, to, THIN));
    }

    /// Takes a line as small squares along it.
    fn take_line(&mut self, from: Point, to: Point) {
        let length = libm::hypot(to[0] - from[0], to[1] - from[1]);
        let mut along = 0.0;
        while along <= length {
            let share = if length > 0.0 { along / length } else { 0.0 };
            let at = [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * share);
            self.taken.push(Rect::new(at[0], at[1], 0.0, 0.0).grown(0.3));
            along += 0.6;
        }
    }

    fn take_outline(&mut self, flat: &plot::Flat, placement: &Placement) {
        for contour in &flat.contours {
            for piece in contour.path().pieces() {
                match piece {
                    Piece::Straight([from, to]) => self.take_line(placement.point(from), placement.point(to)),
                    Piece::Round(arc) => {
                        let around = Rect::new(arc.centre[0], arc.centre[1], 0.0, 0.0).grown(arc.radius);
                        self.taken.push(placement.rect(around));
                    }
                }
            }
        }
        for line in &flat.lines {
            self.take_line(placement.point(line.from), placement.point(line.to));
        }
        for hole in &flat.holes {
            let around = Rect::new(hole.centre[0], hole.centre[1], 0.0, 0.0).grown(hole.radius);
            self.taken.push(placement.rect(around).grown(0.3));
        }
    }

    /// The over-all length below and width on the left.
    fn sizes(&mut self, part: Rect, [length, width]: [[String; 2]; 2]) {
        let [[left, low], [right, high]] = [part.low(), part.high()];
        let y = low - 7.0;
        self.span([left, y], [right, y]);
        for x in [left, right] {
            self.line([x, low - 1.0], [x, y - 1.5]);
        }
        let at = [part.middle()[0], y - 1.5 - HIGH];
        self.text(Text::new(length.join(" "), at, HIGH, TEXT).anchored(Anchor::Middle, Base::Baseline));
        let x = left - 5.0;
        self.span([x, low], [x, high]);
        for y in [low, high] {
            self.line([left - 1.0, y], [x - 1.5, y]);
        }
        let middle = part.middle()[1];
        for (words, y) in width.into_iter().zip([middle + 0.6, middle - 0.9 - HIGH]) {
            self.text(Text::new(words, [x - 2.5, y], HIGH, TEXT).anchored(Anchor::Right, Base::Baseline));
        }
    }

    /// A line with heads; where it is short they point inwards from outside.
    fn span(&mut self, from: Point, to: Point) {
        let length = libm::hypot(to[0] - from[0], to[1] - from[1]);
        self.take_line(from, to);
        if length >= 3.0 * HEAD {
            self.items.extend(Item::span(from, to, HEAD, THIN));
            return;
        }
        let along = [0, 1].map(|axis| (to[axis] - from[axis]) / length.max(f64::MIN_POSITIVE));
        let out = |end: Point, sign: f64| [0, 1].map(|axis| end[axis] + sign * along[axis] * 2.0 * HEAD);
        for (end, sign) in [(from, -1.0), (to, 1.0)] {
            let outside = out(end, sign);
            self.line(outside, end);
            self.items.push(Item::arrowhead(end, outside, HEAD, Layer::TEXT));
        }
        self.line(from, to);
    }

    /// The words of bend lines, in a row beside the part, each led to the end of its line.
    fn bends(
        &mut self,
        part: Rect,
        placement: &Placement,
        (bends, level): (&[(usize, &enclosure::BendLine)], bool),
        units: Units,
    ) {
        let (along, across) = if level { (0, 1) } else { (1, 0) };
        let mut ends: Vec<(Point, String)> = bends
            .iter()
            .map(|(index, bend)| {
                let [from, to] = [bend.from, bend.to].map(|end| placement.point(outline::mm(end)));
                let end = if from[along] > to[along] { from } else { to };
                (end, own_unit(&outline::bend_in_full(*index, bend, units)))
            })
            .collect();
        ends.sort_by(|(a, _), (b, _)| a[across].total_cmp(&b[across]));
        let wanted: Vec<f64> = ends.iter().map(|(end, _)| end[across]).collect();
        let edge = part.high()[along];
        for ((end, words), place) in ends
            .into_iter()
            .zip(spaced(&wanted, STEP, [f64::NEG_INFINITY, f64::INFINITY]))
        {
            let at = |out: f64, across: f64| if level { [out, across] } else { [across, out] };
            self.line(end, at(edge + 1.5, end[across]));
            self.line(at(edge + 1.5, end[across]), at(edge + 5.0, place));
            let turn = if level { 0.0 } else { 90.0 };
            self.text(
                Text::new(words, at(edge + 6.0, place), BEND_HIGH, TEXT)
                    .anchored(Anchor::Left, Base::Middle)
                    .turned(turn),
            );
        }
    }

    /// What the edges are in the box, each beside its edge at the first free place from its middle outwards.
    fn edges(&mut self, part: Rect, [left, right, lower, upper]: enclosure::cutlist::Edges) {
        const SHARES: [f64; 7] = [0.5, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
        let ([x, y], [far, top]) = (part.low(), part.high());
        let off = EDGE_HIGH / 2.0 + 1.4;
        for (words, ends) in [
            (left, [[x - off, y], [x - off, top]]),
            (right, [[far + off, y], [far + off, top]]),
            (lower, [[x, y - off], [far, y - off]]),
            (upper, [[x, top + off], [far, top + off]]),
        ] {
            let is_upright = (ends[0][0] - ends[1][0]).abs() < f64::EPSILON;
            let text = |share: f64| {
                let at = [0, 1].map(|axis| ends[0][axis] + (ends[1][axis] - ends[0][axis]) * share);
                Text::new(words, at, EDGE_HIGH, TEXT)
                    .anchored(Anchor::Middle, Base::Middle)
                    .turned(if is_upright { 90.0 } else { 0.0 })
            };
            let free = |text: &Text| {
                let space = Item::Text(text.clone()).bounds().unwrap_or_default();
                self.taken.iter().all(|other| space.common(*other).is_none())
            };
            let place = SHARES.map(text).into_iter().find(free);
            if let Some(text) = place.filter(|_| !words.is_empty()) {
                self.text(text);
            }
        }
    }

    /// The size of a notch in the corner that it leaves, where there is room; the table has it anyway.
    fn notch(&mut self, open: Rect, words: &[String; 2]) {
        const INSET: f64 = 1.2;
        let [middle, centre] = open.middle();
        let lines: Vec<Text> = words
            .iter()
            .zip([centre + 0.4, centre - 0.6 - BEND_HIGH])
            .map(|(words, y)| {
                let (words, high) = fitted(words, open.width - 2.0 * INSET, [BEND_HIGH, 1.2]);
                Text::new(words, [middle, y], high, TEXT).anchored(Anchor::Middle, Base::Baseline)
            })
            .collect();
        let fits = |line: &Text| {
            let space = Item::Text(line.clone()).bounds().unwrap_or_default();
            !line.words.ends_with('…') && lies_in(space, open.grown(-0.4))
        };
        if lines.iter().all(fits) {
            for line in lines {
                self.text(line);
            }
        }
    }

    /// The numbers of holes, each at the nearest free place in the room; a close pitch sends some far from their hole. Of
    /// more holes than can be told apart by eye only every fifth has its number.
    fn numbers(&mut self, flat: &plot::Flat, placement: &Placement, room: Rect) {
        for (index, hole) in flat.holes.iter().enumerate() {
            if !is_numbered(index + 1, flat.holes.len()) {
                continue;
            }
            let centre = placement.point(hole.centre);
            self.beside(&(index + 1).to_string(), centre, hole.radius * placement.scale, room);
        }
    }

    /// Words at the nearest free place beside a circle, led to it from afar; none where all places are taken.
    fn beside(&mut self, words: &str, centre: Point, radius: f64, room: Rect) {
        const AWAY: [f64; 13] = [1.6, 2.2, 3.0, 4.0, 5.0, 6.5, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 30.0];
        const WAYS: [Point; 8] = [
            [0.0, 1.0],
            [0.0, -1.0],
            [1.0, 0.0],
            [-1.0, 0.0],
            [0.8, 0.8],
            [-0.8, 0.8],
            [0.8, -0.8],
            [-0.8, -0.8],
        ];
        let half = [plot::text_width(words, NUMBER_HIGH) / 2.0, NUMBER_HIGH / 2.0];
        let text = |away: f64, way: Point| {
            let at = [0, 1].map(|axis| centre[axis] + way[axis] * (radius + away + half[axis] - 0.8));
            Text::new(words, at, NUMBER_HIGH, TEXT).anchored(Anchor::Middle, Base::Middle)
        };
        let mut places = AWAY.iter().flat_map(|&away| WAYS.map(|way| (away, text(away, way))));
        let free = |text: &Text| {
            let space = Item::Text(text.clone()).bounds().unwrap_or_default();
            lies_in(space, room) && self.taken.iter().all(|other| space.common(*other).is_none())
        };
        let Some((away, text)) = places.find(|(_, text)| free(text)) else {
            return;
        };
        if away > 3.0 {
            let far = libm::hypot(text.at[0] - centre[0], text.at[1] - centre[1]);
            let on = |by: f64| [0, 1].map(|axis| centre[axis] + (text.at[axis] - centre[axis]) * by / far);
            self.line(on(radius), on(far - NUMBER_HIGH * 1.1));
        }
        self.text(text);
    }
}

/// Words without the other unit in brackets, which the table has.
fn own_unit(words: &str) -> String {
    words.split(" (").next().unwrap_or(words).to_owned()
}

/// Holes of a part that all have their numbers in the view.
const ALL_NUMBERED: usize = 48;

/// Whether the hole of this number has it in the view: every one of few, of many the first, every fifth and the last.
pub(crate) const fn is_numbered(number: usize, holes: usize) -> bool {
    holes <= ALL_NUMBERED || number == 1 || number.is_multiple_of(5) || number == holes
}

/// Whether all of a space is in a room.
fn lies_in(space: Rect, room: Rect) -> bool {
    let ([low, high], [least, most]) = ([space.low(), space.high()], [room.low(), room.high()]);
    (0..2).all(|axis| low[axis] >= least[axis] && high[axis] <= most[axis])
}
