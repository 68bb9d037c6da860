//! The holes of fittings: in the views, each with its number, and in a table of their own.

use drawing::{Opening, Side};
use enclosure::Wall;
use plot::{Anchor, Base, Item, Point, Rect, Text};
use tape::Length;

use super::Sheets;
use super::views::{BEHIND, EDGE};
use crate::page::flow::Block;
use crate::page::{TEXT, THIN};

const HIGH: f64 = 1.8;
/// How far the cross in a hole reaches beyond it.
const CROSS: f64 = 1.0;

impl Sheets<'_> {
    /// The holes that show from a side, dashed where something covers them.
    pub(super) fn openings(&self, side: Side, place: impl Fn([Length; 2]) -> Point, ratio: f64) -> Vec<Item> {
        let mut items = Vec::new();
        let mut circles: Vec<(String, Rect)> = Vec::new();
        for (index, opening) in self.assembly.openings.iter().enumerate() {
            let Some(seen) = self.assembly.seen(opening, side) else {
                continue;
            };
            let [x, y] = place(seen.at);
            let radius = opening.hole.diameter.as_mm() / 2.0 / ratio;
            let ink = if seen.hidden { BEHIND } else { EDGE };
            let arm = radius + CROSS;
            items.push(Item::circle([x, y], radius, ink));
            items.push(Item::line([x - arm, y], [x + arm, y], THIN));
            items.push(Item::line([x, y - arm], [x, y + arm], THIN));
            circles.push((number(index), Rect::new(x, y, 0.0, 0.0).grown(arm)));
        }
        let mut taken: Vec<Rect> = circles.iter().map(|(_, circle)| *circle).collect();
        for (number, circle) in circles {
            let text = beside(&number, circle, &taken);
            let item = Item::Text(text);
            taken.extend(item.bounds());
            items.push(item);
        }
        items
    }

    /// Fittings with where their holes are, told as they are entered: on the inside of the sheet.
    pub(super) fn openings_table(&self) -> Block {
        let row = |(index, opening): (usize, &Opening)| {
            let hole = &opening.hole;
            let mut cells = vec![
                number(index),
                hole.purpose.name().to_owned(),
                hole.wall.name().to_owned(),
            ];
            cells.extend([hole.along, hole.up].map(|length| self.both(length)));
            cells.push(tape::show::hole_mm(hole.diameter));
            cells
        };
        Block {
            title: "holes of fittings, inside: along and up the wall".to_owned(),
            heads: [
                ("no.", 6.0),
                ("for", 16.0),
                ("wall", 8.0),
                ("along", 22.0),
                ("up", 22.0),
                ("⌀ mm", 10.0),
            ]
            .to_vec(),
            rows: self.assembly.openings.iter().enumerate().map(row).collect(),
        }
    }

    /// From where the places of fittings are told, when there are any.
    pub(super) fn openings_note(&self) -> Option<&'static str> {
        let level = |opening: &Opening| matches!(opening.hole.wall, Wall::Floor | Wall::Lid);
        let openings = &self.assembly.openings;
        if openings.is_empty() {
            None
        } else if openings.iter().any(level) {
            Some(
                "Fittings (H): along is from the left on front and rear, from the front on all others; up is from the floor, on \
                 floor and lid from the left; inside the sheet.",
            )
        } else {
            Some(
                "Fittings (H): along is from the left on front and rear, from the front on left and right; up is from the floor; \
                 inside the sheet.",
            )
        }
    }
}

fn number(index: usize) -> String {
    format!("H{}", index + 1)
}

/// A number at the nearest free place beside its hole.
fn beside(number: &str, circle: Rect, taken: &[Rect]) -> Text {
    const AWAY: [f64; 4] = [0.4, 2.4, 4.6, 7.0];
    let [x, y] = circle.middle();
    let half = [plot::text_width(number, HIGH) / 2.0, HIGH / 2.0];
    let reach = circle.width / 2.0;
    let at = |away: f64, [right, up]: Point| {
        let place = [x + right * (reach + away + half[0]), y + up * (reach + away + half[1])];
        Text::new(number, place, HIGH, TEXT).anchored(Anchor::Middle, Base::Middle)
    };
    let ways = [
        [0.8, 0.8],
        [-0.8, 0.8],
        [0.8, -0.8],
        [-0.8, -0.8],
        [1.0, 0.0],
        [-1.0, 0.0],
        [0.0, 1.0],
        [0.0, -1.0],
    ];
    let free = |text: &Text| {
        let space = Item::Text(text.clone()).bounds().unwrap_or_default();
        taken.iter().all(|other| other.common(space).is_none())
    };
    let mut places = AWAY.iter().flat_map(|&away| ways.map(|way| at(away, way)));
    places.find(free).unwrap_or_else(|| at(AWAY[0], ways[0]))
}
