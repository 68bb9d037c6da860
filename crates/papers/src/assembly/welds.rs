//! Welds by the signs of ISO 2553, system A: arrow, reference line with its dashed twin, sign and size.

use drawing::{Runs, Seam, Weld};
use plot::{Anchor, Base, Ink, Item, Line, Path, Pen, Point, Rect, Text};

use super::Sheets;
use crate::page::{TEXT, THIN};

const STEP: f64 = 9.0;
const HIGH: f64 = 2.0;
const TWIN: Ink = Ink::new(Pen::new(0.18, Line::Dashed), TEXT);

/// A view with free paper on its right.
pub(super) struct Target {
    /// Where it lies.
    pub(super) view: Rect,
    /// Its right wall's outside.
    pub(super) wall: f64,
    /// The underside of the floor.
    pub(super) floor: f64,
    /// The rim.
    pub(super) rim: f64,
}

impl Target {
    /// Where an arrow meets a seam.
    fn seam(&self, runs: Runs) -> Point {
        let [right, top] = self.view.high();
        match runs {
            Runs::RoundFloor | Runs::FootCorners => [self.wall, self.floor],
            Runs::Corners => [self.wall, f64::midpoint(self.floor, self.rim)],
            Runs::Posts => [self.wall, self.floor + (self.rim - self.floor) * 0.3],
            Runs::UnderRim => [self.wall, self.rim - 0.5],
            Runs::RimCorners => [right, self.rim],
            Runs::LidCorners => [right, f64::midpoint(top, self.rim)],
            Runs::RoundLid => [right, top],
        }
    }
}

impl Sheets<'_> {
    /// The sign of each kind of seam, one over the other beside the view.
    pub(super) fn welds(&self, target: &Target) -> Vec<Item> {
        let mut seams: Vec<(Point, &Seam)> = self.assembly.seams.iter().map(|s| (target.seam(s.runs), s)).collect();
        seams.sort_by(|(a, _), (b, _)| a[1].total_cmp(&b[1]));
        // From the top of the view down: under it there is free paper.
        let more = u32::try_from(seams.len().saturating_sub(1)).unwrap_or(0);
        let mut y = target.view.high()[1] - STEP * f64::from(more);
        let mut items = Vec::new();
        for (at, seam) in seams {
            let start = [target.view.high()[0] + 7.0, y];
            items.extend(Item::arrow(start, at, 2.0, THIN));
            items.extend(sign(start, seam));
            y += STEP;
        }
        items
    }
}

/// The sign of a seam, its reference line beginning at a place.
fn sign([x, y]: Point, seam: &Seam) -> Vec<Item> {
    const LONG: f64 = 17.0;
    let mut items = vec![
        Item::line([x, y], [x + LONG, y], THIN),
        Item::line([x, y - 0.9], [x + LONG, y - 0.9], TWIN),
    ];
    if seam.runs.all_round() {
        items.push(Item::circle([x, y], 1.1, THIN));
    }
    let letter = match seam.weld {
        Weld::Fillet => "z",
        Weld::Square => "s",
    };
    let size = tape::show::millimetres_bare(seam.size, 1, tape::show::Rounding::Nearest);
    let size = Text::new(
        format!("{letter}{}", size.trim_end_matches(".0")),
        [x + 2.0, y + 0.7],
        HIGH,
        TEXT,
    );
    let sign = x + 2.5 + size.width();
    items.push(size.into());
    match seam.weld {
        Weld::Fillet => {
            let corners = [[sign, y], [sign, y + 2.6], [sign + 2.6, y]];
            items.push(Item::path(Path::through(corners, true), THIN));
        }
        Weld::Square => {
            for x in [sign + 0.6, sign + 1.8] {
                items.push(Item::line([x, y], [x, y + 2.6], THIN));
            }
        }
    }
    let mut words = seam.runs.words().to_owned();
    if seam.count > 1 {
        words = format!("{} x {words}", seam.count);
    }
    // The fork of the tail, with what is meant.
    items.push(Item::lines(
        [[x + LONG + 1.5, y + 1.5], [x + LONG, y], [x + LONG + 1.5, y - 1.5]],
        THIN,
    ));
    let text = Text::new(words, [x + LONG + 2.5, y], 1.8, TEXT);
    items.push(text.anchored(Anchor::Left, Base::Middle).into());
    items
}
