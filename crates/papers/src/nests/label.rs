//! Marks and sizes of what is cut: on the piece where they can be read at arm's length, else led out of it and told in a key.

use plot::{Anchor, Base, Item, Point, Rect, Text};

use crate::page::{TEXT, THIN, fitted, spaced};
use crate::words;

/// The lowest words that are read at arm's length: a mark, and a size.
pub(super) const MARK: f64 = 2.0;
const SIZE: f64 = 1.6;
/// How low the words of what is kept get: it is not looked for among others.
const KEPT: f64 = 0.8;
/// Bold words are longer than they are measured.
const BOLD: f64 = 0.88;
/// From one mark that is led out of its piece to the next.
const STEP: f64 = 8.0;
/// How far from the edge of sheet or bar these stand.
const OUT: f64 = 5.0;
/// What they take there.
pub(super) const LED: f64 = OUT + MARK;
/// From one line of the key to the next.
pub(super) const LEADING: f64 = 3.8;
const KEY: f64 = 2.2;
/// A column of the key.
const COLUMN: f64 = 62.0;

/// What is said of small pieces elsewhere than on them.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Small {
    /// Pieces that have no room for their mark, by what leads to it.
    led: Vec<(Point, String)>,
    /// Marks with their sizes, each once.
    key: Vec<(String, String)>,
}

impl Small {
    /// Puts mark and size on a piece; what has no room there is kept.
    pub(super) fn put(&mut self, room: Rect, mark: &str, size: &str) -> Vec<Item> {
        let mark = words::plain(mark);
        if let Some(items) = both(room, &mark, size, [MARK, SIZE]) {
            return items;
        }
        if !self.key.iter().any(|(known, _)| *known == mark) {
            self.key.push((mark.clone(), size.to_owned()));
        }
        alone(room, &mark).unwrap_or_else(|| {
            self.led.push((room.middle(), mark));
            Vec::new()
        })
    }

    /// Marks that are led out of their pieces, over the upper or under the lower edge of `whole`, whichever is nearer.
    pub(super) fn split(&self, whole: Rect) -> [Self; 2] {
        let half = |upper: bool| Self {
            led: self
                .led
                .iter()
                .filter(|(at, _)| (at[1] > whole.middle()[1]) == upper)
                .cloned()
                .collect(),
            key: Vec::new(),
        };
        [half(true), half(false)]
    }

    /// Whether any is led out.
    pub(super) fn is_led(&self) -> bool {
        !self.led.is_empty()
    }

    /// The marks that are led out, in a row beyond an edge at that height, and the lines to them.
    pub(super) fn led(&self, whole: Rect, edge: f64) -> Vec<Item> {
        let mut led = self.led.clone();
        led.sort_by(|(a, _), (b, _)| a[0].total_cmp(&b[0]));
        let wanted: Vec<f64> = led.iter().map(|(at, _)| at[0]).collect();
        let up = if edge > whole.middle()[1] { 1.0 } else { -1.0 };
        let row = edge + up * OUT;
        let places = spaced(&wanted, STEP, [whole.x + STEP / 2.0, whole.high()[0] - STEP / 2.0]);
        let pairs = led.into_iter().zip(places);
        pairs
            .flat_map(|((at, mark), x)| {
                [
                    Item::dot(at, 0.35, TEXT),
                    Item::lines([at, [at[0], edge], [x, row - up * MARK * 0.8]], THIN),
                    Text::new(mark, [x, row], MARK, TEXT)
                        .anchored(Anchor::Middle, Base::Middle)
                        .bold()
                        .into(),
                ]
            })
            .collect()
    }

    /// How high the key is in a room of that width.
    pub(super) fn key_height(&self, width: f64) -> f64 {
        let rows = self.key.len().div_ceil(columns(width));
        let lines = if rows == 0 { 0 } else { rows + 1 };
        LEADING * f64::from(u32::try_from(lines).unwrap_or(u32::MAX))
    }

    /// The sizes that are not on their pieces, from a height down.
    pub(super) fn key(&self, x: f64, top: f64, width: f64) -> Vec<Item> {
        if self.key.is_empty() {
            return Vec::new();
        }
        let mut y = top - LEADING;
        let head = Text::new("sizes of small pieces, by their marks", [x, y], KEY, TEXT).bold();
        let mut items = vec![head.into()];
        for row in self.key.chunks(columns(width)) {
            y -= LEADING;
            let mut at = x;
            for (mark, size) in row {
                let (words, height) = fitted(&format!("{mark}  {size}"), COLUMN - 3.0, [KEY, SIZE]);
                items.push(Text::new(words, [at, y], height, TEXT).into());
                at += COLUMN;
            }
        }
        items
    }
}

fn columns(width: f64) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few columns")]
    let columns = (width / COLUMN).max(1.0) as usize;
    columns
}

/// What is worth keeping, with its size.
pub(super) fn kept(room: Rect, size: &str) -> Vec<Item> {
    let words = both(room, "keep", size, [KEPT; 2]);
    words.or_else(|| alone(room, "keep")).unwrap_or_default()
}

/// The long side of a room, the one across, and how words along the long one are turned.
fn lie(room: Rect) -> (f64, f64, f64) {
    if room.height > room.width {
        (room.height, room.width, 90.0)
    } else {
        (room.width, room.height, 0.0)
    }
}

/// Words whole within a length, as high as they may be and no lower than that.
fn whole(words: &str, length: f64, [high, low]: [f64; 2]) -> Option<f64> {
    let (said, height) = fitted(words, length, [high, low]);
    // Cut off, a size would read as another.
    (high >= low && said == words).then_some(height)
}

/// Mark and size in the middle of a room, along its long side, as large as it allows.
fn both(room: Rect, mark: &str, size: &str, least: [f64; 2]) -> Option<Vec<Item>> {
    let (long, across, turn) = lie(room);
    let high = (across * 0.35).min(3.0);
    let mark_high = whole(mark, long * 0.9 * BOLD, [high, least[0]])?;
    let size_high = whole(size, long * 0.9, [(high * 0.6).max(least[1]), least[1]])?;
    if across < mark_high + size_high + 1.5 {
        return None;
    }
    let [x, y] = room.middle();
    let at = |by: f64| if turn > 0.0 { [x - by, y] } else { [x, y + by] };
    let text = |words: &str, at: Point, height: f64| {
        Text::new(words, at, height, TEXT)
            .anchored(Anchor::Middle, Base::Middle)
            .turned(turn)
    };
    Some(vec![
        text(mark, at(size_high * 0.9), mark_high).bold().into(),
        text(size, at(-mark_high * 0.9), size_high).into(),
    ])
}

/// A mark alone in the middle of a room, along its long side.
fn alone(room: Rect, mark: &str) -> Option<Vec<Item>> {
    let (long, across, turn) = lie(room);
    let height = whole(mark, long * 0.9 * BOLD, [(across * 0.7).min(3.0), MARK])?;
    let text = Text::new(mark, room.middle(), height, TEXT).anchored(Anchor::Middle, Base::Middle);
    Some(vec![text.turned(turn).bold().into()])
}
