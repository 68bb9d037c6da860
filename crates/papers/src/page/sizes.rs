//! Sizes with their lines, by ISO 129-1: words along the line, arrows and words outside where it is short.

use plot::{Anchor, Base, Item, Layer, Piece, Rect, Text};

use crate::page::{TEXT, THIN};

const HEAD: f64 = 2.5;
/// How far the line of a short size goes on beyond an arrow without words: not into the words of a size across it.
const TAIL: f64 = HEAD + 0.8;
/// How high words are.
pub(crate) const HIGH: f64 = 2.2;
/// From a view to the line of its first row of sizes, and from one row to the next: words that are too long for their line
/// stand on both sides of it.
pub(crate) const ROW: f64 = 8.4;
/// Between the words of two rows of sizes, and between them and the view, at least.
#[cfg(test)]
pub(crate) const APART: f64 = 1.5;
/// Between words and the lines that carry their size.
const BESIDE: f64 = 0.5;
/// How low words get on a line that is too short for them.
const LOW: f64 = 1.4;

/// Behind a size with screw heads.
pub(crate) const HEADS: &str = " with screw heads";

/// Sizes, the lines of each broken where they would run through the words of another: a short upright one has its words outside,
/// where the lines that carry the one behind it come along.
pub(crate) fn broken(sizes: Vec<Vec<Item>>) -> Vec<Item> {
    let words: Vec<Vec<Rect>> = sizes.iter().map(|size| spaces(size)).collect();
    let mut items = Vec::new();
    for (own, size) in sizes.into_iter().enumerate() {
        let others = words.iter().enumerate().filter(|(index, _)| *index != own);
        let others: Vec<Rect> = others.flat_map(|(_, rects)| rects.clone()).collect();
        items.extend(size.into_iter().flat_map(|item| clear_of(item, &others)));
    }
    items
}

/// What words take, with a little free paper round it.
fn spaces(items: &[Item]) -> Vec<Rect> {
    const FREE: f64 = 0.4;
    let texts = items.iter().filter(|item| matches!(item, Item::Text(_)));
    texts.filter_map(|text| Some(text.bounds()?.grown(FREE))).collect()
}

/// A level or upright thin line without what of it lies in some rectangles; anything else as it is.
fn clear_of(item: Item, taken: &[Rect]) -> Vec<Item> {
    let ends = match &item {
        Item::Stroke { path, ink } if *ink == THIN => match path.pieces().collect::<Vec<_>>()[..] {
            [Piece::Straight(ends)] => Some(ends),
            _ => None,
        },
        _ => None,
    };
    let Some([from, to]) = ends else { return vec![item] };
    let along = usize::from((to[0] - from[0]).abs() < (to[1] - from[1]).abs());
    let across = 1 - along;
    let at = from[across];
    let [low, high] = [from[along].min(to[along]), from[along].max(to[along])];
    let runs_through = |rect: &&Rect| rect.low()[across] < at && at < rect.high()[across];
    let mut gaps: Vec<[f64; 2]> = taken
        .iter()
        .filter(runs_through)
        .map(|rect| [rect.low()[along].max(low), rect.high()[along].min(high)])
        .filter(|[from, to]| from < to)
        .collect();
    if gaps.is_empty() {
        return vec![item];
    }
    gaps.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let starts = std::iter::once(low).chain(gaps.iter().map(|gap| gap[1]));
    let ends = gaps.iter().map(|gap| gap[0]).chain([high]);
    let place = |own: f64| if along == 0 { [own, at] } else { [at, own] };
    starts
        .zip(ends)
        .filter(|(from, to)| from < to)
        .map(|(from, to)| Item::line(place(from), place(to), THIN))
        .collect()
}

/// A size along one direction of the sheet, in millimetres of the paper.
pub(crate) struct Size {
    /// 0 from left to right, 1 upwards.
    pub(crate) axis: usize,
    /// Where it begins and ends, the smaller first.
    pub(crate) ends: [f64; 2],
    /// Where its line lies across that.
    pub(crate) at: f64,
    /// From where the lines that carry it begin.
    pub(crate) edge: f64,
    /// What is written.
    pub(crate) words: String,
}

impl Size {
    pub(crate) fn items(&self) -> Vec<Item> {
        let place = |along: f64, across: f64| {
            if self.axis == 0 {
                [along, across]
            } else {
                [across, along]
            }
        };
        let [from, to] = self.ends;
        let away = (self.at - self.edge).signum();
        let long = self.is_long();
        let words = if long { self.along(place) } else { self.outside(place) };
        // Words that are longer than their line interrupt what carries it.
        let taken = spaces(&words);
        let carrier = |&end: &f64| Item::line(place(end, self.edge + away), place(end, self.at + away * 1.5), THIN);
        let carriers = self.ends.iter().map(carrier);
        let mut items: Vec<Item> = carriers.flat_map(|line| clear_of(line, &taken)).collect();
        if long {
            items.extend(Item::span(place(from, self.at), place(to, self.at), HEAD, THIN));
        } else {
            let [before, after] = if self.axis == 0 {
                [2.0 * HEAD, TAIL]
            } else {
                [TAIL, 2.0 * HEAD]
            };
            for (end, out) in [(from, from - before), (to, to + after)] {
                items.push(Item::line(place(out, self.at), place(end, self.at), THIN));
                items.push(Item::arrowhead(
                    place(end, self.at),
                    place(out, self.at),
                    HEAD,
                    Layer::TEXT,
                ));
            }
            items.push(Item::line(place(from, self.at), place(to, self.at), THIN));
        }
        items.extend(words);
        items
    }

    /// Whether its arrows are between its ends, and its words along its line.
    pub(crate) fn is_long(&self) -> bool {
        let [from, to] = self.ends;
        to - from >= 3.0 * HEAD
    }

    /// Its words in one row, or in two where they are too long for its line: spaces and their sum, a size and what it is with, or
    /// one unit and the other.
    fn rows(&self) -> Vec<String> {
        let [from, to] = self.ends;
        let is_beyond = |high| self.text(&self.words, high).width() > to - from;
        let split = |at: &str| self.words.split_once(at);
        match (split(" in "), self.words.strip_suffix(HEADS), split(" (")) {
            (Some((spaces, all)), ..) if is_beyond(HIGH) => vec![spaces.to_owned(), format!("in {all}")],
            (None, Some(size), _) if is_beyond(HIGH) => vec![size.to_owned(), HEADS.trim_start().to_owned()],
            (None, None, Some((own, other))) if is_beyond(LOW) => vec![own.to_owned(), format!("({other}")],
            _ => vec![self.words.clone()],
        }
    }

    /// Words above a level line, and to the left of an upright one, readable from the right. What is too long for its line
    /// stands on both sides of it, and lower.
    fn along(&self, place: impl Fn(f64, f64) -> [f64; 2]) -> Vec<Item> {
        let [from, to] = self.ends;
        let room = to - from - 2.0 * BESIDE;
        let mut items = Vec::new();
        for (row, sides) in self.rows().iter().zip([true, false]) {
            let high = (HIGH * room / self.text(row, HIGH).width()).clamp(LOW, HIGH);
            let away = if sides { 0.9 } else { -0.9 - high };
            let across = if self.axis == 0 { self.at + away } else { self.at - away };
            let text = Text {
                at: place(f64::midpoint(from, to), across),
                ..self.text(row, high)
            };
            items.push(text.anchored(Anchor::Middle, Base::Baseline).into());
        }
        items
    }

    /// Words before a level line that is short; above an upright one, clear of the words of the other.
    fn outside(&self, place: impl Fn(f64, f64) -> [f64; 2]) -> Vec<Item> {
        let text = self.text(&self.words, HIGH);
        let width = text.width() + 1.0;
        let [from, to] = self.ends;
        let (start, end, anchor, across) = if self.axis == 0 {
            let start = from - 2.0 * HEAD;
            (start - 0.5, start - width, Anchor::Right, self.at + 0.9)
        } else {
            let start = to + 2.0 * HEAD;
            (start, start + width, Anchor::Left, self.at - 0.9)
        };
        let text = Text {
            at: place(start, across),
            ..text
        };
        vec![
            Item::line(place(start, self.at), place(end, self.at), THIN),
            text.anchored(anchor, Base::Baseline).into(),
        ]
    }

    fn text(&self, words: &str, high: f64) -> Text {
        Text::new(words, [0.0, 0.0], high, TEXT).turned(if self.axis == 0 { 0.0 } else { 90.0 })
    }
}
