//! Plan, view from the left and view from the rear, each with its sizes.

use drawing::{Direction, Side};
use geometry::Axis;
use plot::{Ink, Item, Layer, Line, Pen, Piece, Point, Rect, Text};
use tape::Length;

use super::Sheets;
use super::sized::Told;
use super::stand::{self, Needs, Stand};
use crate::page::sizes::{HIGH, ROW, Size, broken};
use crate::page::{TEXT, THIN, fitted};
use crate::words;

/// Room for sizes left of a view, however few: a short one has its words beside it.
const BESIDE: f64 = 24.0;
pub(super) const EDGE: Ink = Ink::new(Pen::new(0.35, Line::Continuous), Layer::CUT);
pub(super) const BEHIND: Ink = Ink::new(Pen::new(0.18, Line::Dashed), Layer::new("HIDDEN"));
/// From a view up to what is told under its name, and so where arrows come down past it: the higher, the more room it has.
const UNDER: [f64; 2] = [1.2, 1.9];
/// From the name of a view to the arrows beside it.
const CLEAR: f64 = 0.7;
/// Nearer than this on paper two lines run into one.
const APART: f64 = 0.7;
/// From an upright size that has its words outside to where they end, without them.
const SHORT: f64 = 7.5;
/// What is narrower than this on paper is drawn as one line.
const NARROW: f64 = 1.6;
/// How low the words under the name of a view get.
const LEAST: f64 = 1.2;

/// From the sheet of a view to the paper.
#[derive(Clone, Copy)]
pub(super) struct OnPaper {
    /// Where the view stands.
    pub(super) at: Rect,
    /// Up to where there is room over the sizes on its left.
    top: f64,
    /// Its upper left corner on its own sheet.
    from: [Length; 2],
    /// Paper to box, 1 to this.
    pub(super) ratio: f64,
}

impl OnPaper {
    pub(super) fn u(&self, u: Length) -> f64 {
        self.at.x + (u - self.from[0]).as_mm() / self.ratio
    }

    pub(super) fn v(&self, v: Length) -> f64 {
        self.at.high()[1] - (v - self.from[1]).as_mm() / self.ratio
    }

    pub(super) fn point(&self, [u, v]: [Length; 2]) -> Point {
        [self.u(u), self.v(v)]
    }

    /// What is hidden: its outline, or its middle line where it is narrow.
    pub(super) fn dashed(&self, own: &drawing::Rect) -> Item {
        let seen = Rect::between(self.point([own.u0, own.v1]), self.point([own.u1, own.v0]));
        let [middle, centre] = seen.middle();
        // By its own size: where it lies on the paper would decide for pieces that are just so wide.
        let is_narrow = |across: Length| across.as_mm() / self.ratio < NARROW;
        if is_narrow(own.height()) && own.height() <= own.width() {
            Item::line([seen.x, centre], [seen.high()[0], centre], BEHIND)
        } else if is_narrow(own.width()) {
            Item::line([middle, seen.y], [middle, seen.high()[1]], BEHIND)
        } else {
            Item::rect(seen, BEHIND)
        }
    }
}

impl Sheets<'_> {
    /// Where the views stand in `room`, clear of `block`.
    pub(super) fn stand(&self, room: Rect, block: Rect) -> Stand {
        let told = self.told();
        let rows = |side: Side, along: Direction| {
            let of = told.iter().filter(|told| told.side == side && told.along == along);
            let deepest = of.map(|told| told.row).max().unwrap_or(0);
            if deepest == 0 {
                1.0
            } else {
                f64::from(deepest) * ROW + 5.0
            }
        };
        let needs = Needs {
            sizes: Side::ALL.map(|side| {
                let rect = self.assembly.rect(side);
                [rect.width(), rect.height()].map(Length::as_mm)
            }),
            beside: Side::ALL
                .map(|side| rows(side, Direction::V))
                .into_iter()
                .fold(BESIDE, f64::max),
            below: Side::ALL.map(|side| rows(side, Direction::U)),
            welds: self.assembly.seams.len(),
        };
        stand::stand(&needs, room, block, self.evaluation.sheet.projection)
    }

    /// From the sheet of a view to where it stands.
    pub(super) fn on_paper(&self, stand: &Stand, side: Side) -> OnPaper {
        let whole = self.assembly.rect(side);
        OnPaper {
            at: stand.at[stand::index(side)],
            top: stand.free_over(side),
            from: [whole.u0, whole.v0],
            ratio: f64::from(stand.scale),
        }
    }

    /// The views with their sizes and welds.
    pub(super) fn views(&self, stand: &Stand) -> Vec<Item> {
        let told = self.told();
        let mut items = Vec::new();
        for side in Side::ALL {
            let paper = self.on_paper(stand, side);
            let more = match side {
                Side::Plan => self.hole_words(stand.name_room(side)),
                Side::FromLeft => [self.rise_words(side, &paper, &told), self.high_words()]
                    .into_iter()
                    .filter(|words| !words.is_empty())
                    .collect::<Vec<_>>()
                    .join(", "),
                Side::FromRear => self.rise_words(side, &paper, &told),
            };
            let view = self.view(side, &paper);
            let signs = match stand.welds.filter(|(own, _)| *own == side) {
                Some((_, room)) => self.welds(side, &paper, &view, room),
                None => Vec::new(),
            };
            let name = name(side, &more, stand, &signs);
            items.extend(signs);
            items.extend(name);
            items.extend(view);
            let own = told.iter().filter(|told| told.side == side && has_room(told, &paper));
            items.extend(broken(own.map(|told| size(told, &paper)).collect()));
        }
        items
    }

    /// The edges of the box and its holes.
    pub(super) fn view(&self, side: Side, paper: &OnPaper) -> Vec<Item> {
        let mut items = Vec::new();
        let mut kept: Vec<(Direction, f64, [f64; 2])> = Vec::new();
        let mut edges = self.assembly.edges(side);
        edges.sort_by_key(|edge| edge.hidden);
        for edge in edges {
            let ends = [edge.from, edge.to].map(|along| match edge.along {
                Direction::U => paper.point([along, edge.at]),
                Direction::V => paper.point([edge.at, along]),
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
        // The height of a step is told on the left: a line carries it there from a step on the right.
        if let Some(step) = self
            .step_seen(side)
            .filter(|step| step.u0 > side.rect(&self.assembly.body).u0)
        {
            let from = paper.point([step.u0, step.v0]);
            items.push(Item::line([paper.at.x, from[1]], from, THIN));
        }
        if side == Side::Plan {
            items.extend(self.inside(paper));
            let holes = self.assembly.hole.iter().flat_map(|&hole| {
                let round = move |&[x, y]: &[Length; 2]| {
                    Item::circle(paper.point([x, -y]), hole.as_mm() / 2.0 / paper.ratio, THIN)
                };
                self.assembly.holes.iter().map(round)
            });
            items.extend(holes);
        }
        items.extend(self.openings(side, |at| paper.point(at), paper.ratio));
        items
    }

    /// What is inside, as far as it is not under something else inside.
    fn inside(&self, paper: &OnPaper) -> Vec<Item> {
        let all = self.assembly.added();
        let inside: Vec<_> = all.iter().filter(|item| item.inside).collect();
        let rect = |index: usize| Side::Plan.rect(&inside[index].block);
        let top = |index: usize| inside[index].block.hi()[Axis::Z];
        let mut items = Vec::new();
        for index in 0..inside.len() {
            let own = rect(index);
            let over = |other: usize| {
                let its = rect(other);
                let covers = its.u0 <= own.u0 && own.u1 <= its.u1 && its.v0 <= own.v0 && own.v1 <= its.v1;
                other != index && covers && (top(other), other) > (top(index), index)
            };
            if (0..inside.len()).any(over) {
                continue;
            }
            items.push(paper.dashed(&own));
        }
        items
    }

    /// Whether a size is the height of the step.
    fn is_rise(&self, told: &Told) -> bool {
        let step = self.step_seen(told.side);
        told.along == Direction::V && step.is_some_and(|step| told.ends == [step.v0, step.v1])
    }

    /// The height of the step, where there is no room to tell it beside the view.
    fn rise_words(&self, side: Side, paper: &OnPaper, told: &[Told]) -> String {
        let mut rise = told.iter().filter(|told| told.side == side && self.is_rise(told));
        let left_out = rise.find(|told| !has_room(told, paper));
        left_out.map_or_else(String::new, |rise| format!("step rises {}", rise.words))
    }

    /// How high the box is with screw heads, where they stand higher than all that is drawn.
    fn high_words(&self) -> String {
        let [high, drawn] = [&self.assembly.with_heads, &self.assembly.whole].map(|solid| solid.size()[Axis::Z]);
        if high > drawn {
            format!("height {}", self.room(high))
        } else {
            String::new()
        }
    }

    /// How many holes of which diameter; where the view is too narrow for both units, in the person's own.
    fn hole_words(&self, room: f64) -> String {
        let count = self.assembly.holes.len();
        let hole = self.assembly.hole;
        hole.map_or_else(String::new, |hole| {
            let mark = words::mark(self.evaluation.headline.assumed.cut);
            let words = format!("{count} holes ⌀ {mark}{}", words::drill(self.evaluation, hole));
            match words.split_once(" (") {
                Some((short, _)) if plot::text_width(&words, LEAST) > room => short.to_owned(),
                _ => words,
            }
        })
    }
}

/// Whether a size goes beside its view: the words of an upright one that is short stand over it, where a view at the top
/// of the sheet may have no room. A step's is told in the name of its view then, the others are in the tables of places and holes.
pub(super) fn has_room(told: &Told, paper: &OnPaper) -> bool {
    if told.along == Direction::U {
        return true;
    }
    let ends = paper.v(told.ends[0]) + SHORT + plot::text_width(&told.words, HIGH);
    on_line(told, paper).is_long() || ends <= paper.top
}

/// How far to the left lines come between two heights; infinite where none comes there.
fn leftmost(lines: &[Item], [low, high]: [f64; 2]) -> f64 {
    let pieces = lines.iter().flat_map(|item| match item {
        Item::Stroke { path, .. } => path.pieces().collect::<Vec<_>>(),
        _ => Vec::new(),
    });
    let between = |piece: Piece| {
        let Piece::Straight([[x0, y0], [x1, y1]]) = piece else {
            return None;
        };
        let (least, most) = (y0.min(y1).max(low), y0.max(y1).min(high));
        let at = |y: f64| {
            if (y1 - y0).abs() > 0.0 {
                x0 + (x1 - x0) * (y - y0) / (y1 - y0)
            } else {
                x0.min(x1)
            }
        };
        (least <= most).then(|| at(least).min(at(most)))
    };
    pieces.filter_map(between).fold(f64::INFINITY, f64::min)
}

/// The name of a view over it, and what is told with it: in one row, else in two. It ends before the arrows of welds that come down
/// past it, for which it begins farther to the left where it has to; of one that comes farther than there is paper the words
/// interrupt it.
pub(super) fn name(side: Side, more: &str, stand: &Stand, signs: &[Item]) -> Vec<Item> {
    let view = stand.at[stand::index(side)];
    let y = view.high()[1];
    let free = view.x + stand.name_room(side);
    let end = free.min(leftmost(signs, [y + UNDER[1] - 0.2, y + 4.0 + HIGH]) - CLEAR);
    let least = plot::text_width(side.words(), HIGH).max(plot::text_width(more, LEAST));
    // One that is moved beside another has the sizes of that one on its left.
    let leftward = if stand.moved {
        view.x
    } else {
        view.x.min(end - least).max(stand.taken[stand::index(side)].x)
    };
    let lowest = plot::text_width(side.words(), LEAST).max(plot::text_width(more, LEAST));
    let interrupts = end < free && end - leftward < lowest;
    let (x, room) = match (end < free, interrupts) {
        (true, false) => (leftward, end - leftward),
        (true, true) | (false, _) => (view.x, free - view.x),
    };
    let moved = if stand.moved && side == Side::FromRear {
        "moved here"
    } else {
        ""
    };
    let text = |words: String, over: f64, high: f64| Text::new(words, [x, y + over], high, TEXT);
    let mut told = vec![side.words(), more];
    told.retain(|words| !words.is_empty());
    let whole = text(told.join(": "), 4.0, HIGH);
    let (first, under) = if whole.width() <= room {
        (whole, vec![moved])
    } else {
        let (words, high) = fitted(side.words(), room, [HIGH, LEAST]);
        (text(words, 4.0, high), vec![moved, more])
    };
    let mut texts = vec![first];
    let under: Vec<&str> = under.into_iter().filter(|words| !words.is_empty()).collect();
    if !under.is_empty() {
        let (words, high) = fitted(&under.join(", "), room, [1.6, LEAST]);
        texts.push(text(words, UNDER[usize::from(end < free)], high));
    }
    let words = |text: Text| {
        let item = Item::from(text);
        let ground = item.bounds().filter(|_| interrupts).map(|space| Item::Filled {
            path: plot::Path::rect(space.grown(0.3)),
            grey: 1.0,
            layer: TEXT,
        });
        ground.into_iter().chain([item])
    };
    texts.into_iter().flat_map(words).collect()
}

/// A size with its lines, on the paper.
pub(super) fn size(told: &Told, paper: &OnPaper) -> Vec<Item> {
    on_line(told, paper).items()
}

fn on_line(told: &Told, paper: &OnPaper) -> Size {
    let away = f64::from(told.row) * ROW;
    match told.along {
        Direction::U => Size {
            axis: 0,
            ends: told.ends.map(|end| paper.u(end)),
            at: paper.at.y - away,
            edge: paper.at.y,
            words: told.words.clone(),
        },
        Direction::V => Size {
            axis: 1,
            ends: [paper.v(told.ends[1]), paper.v(told.ends[0])],
            at: paper.at.x - away,
            edge: paper.at.x,
            words: told.words.clone(),
        },
    }
}
