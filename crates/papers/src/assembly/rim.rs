//! The cut through the rim, as large as there is room.

use geometry::Axis;
use plot::{Anchor, Base, Ink, Item, Path, Pen, Point, Rect, Text};
use tape::Length;

use super::Sheets;
use super::apart::MARKS;
use super::views::EDGE;
use crate::page::arrange::SCALES;
use crate::page::{TEXT, THIN, fitted};
use crate::words;

/// How much of the box it shows at least, in millimetres.
const AROUND: f64 = 36.0;
/// Between what it shows and the edge of its window, in millimetres.
const CLEAR: f64 = 3.0;
/// What points at its pieces lies over them.
const POINTER: Ink = Ink::new(THIN.pen, MARKS);
/// The gasket.
const GASKET: Ink = Ink::new(Pen::new(0.18, plot::Line::Continuous), EDGE.layer);
/// Room for what is told beside it.
const LIST: f64 = 62.0;

impl Sheets<'_> {
    /// A cut across the longer side, through the rim on its lower side.
    pub(super) fn rim(&self, room: Rect) -> Vec<Item> {
        let long = self.assembly.long;
        let short = if long == Axis::X { Axis::Y } else { Axis::X };
        let whole = self.assembly.lidded;
        let open = [room.width - LIST - 8.0, room.height - 14.0];
        let around = self.rim_reach(short).max(AROUND);
        let fits = |scale: &u32| (0..2).all(|axis| around / f64::from(*scale) <= open[axis]);
        let Some(scale) = SCALES.into_iter().find(fits) else {
            return Vec::new();
        };
        let ratio = 1.0 / f64::from(scale);
        let side = around * ratio;
        let window = Rect::new(room.x + 4.0, room.high()[1] - 8.0 - side, side, side);
        // The top of the box and its outermost edge lie a little inside the window.
        let origin = [whole.lo()[short], whole.hi()[Axis::Z]];
        let place = |across: Length, up: Length| -> Point {
            [
                window.x + ((across - origin[0]).as_mm() + CLEAR) * ratio,
                window.high()[1] + ((up - origin[1]).as_mm() - CLEAR) * ratio,
            ]
        };
        let name = format!("cut through the rim, 1:{scale}");
        let mut items = vec![
            Text::new(name, [window.x, window.high()[1] + 3.0], 2.5, TEXT).into(),
            Item::rect(window, THIN),
        ];
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        let mut inside = Vec::new();
        let mut told: Vec<(Point, String)> = Vec::new();
        for piece in self.assembly.cut_through(long) {
            let (lo, hi) = (piece.solid.lo(), piece.solid.hi());
            let all = Rect::between(place(lo[short], lo[Axis::Z]), place(hi[short], hi[Axis::Z]));
            let Some(seen) = all.common(window) else { continue };
            inside.push(Item::Filled {
                path: Path::rect(all),
                grey: 0.75,
                layer: EDGE.layer,
            });
            inside.push(Item::rect(all, EDGE));
            let thick = words::gauge(piece.solid.size()[piece.thin], self.evaluation.units);
            let words = format!("{} {} {mark}{thick}", piece.mark, piece.role.name());
            if !told.iter().any(|(_, known)| *known == words) {
                told.push((seen.middle(), words));
            }
        }
        if let Some((gasket, words)) = self.gasket_cut(short) {
            let [lo, hi] = gasket;
            let all = Rect::between(place(lo[0], lo[1]), place(hi[0], hi[1]));
            inside.push(Item::rect(all, GASKET));
            inside.push(Item::lines([all.low(), all.high()], GASKET));
            inside.push(Item::lines([[all.x, all.high()[1]], [all.high()[0], all.y]], GASKET));
            if let Some(seen) = all.common(window) {
                told.push((seen.middle(), words));
            }
        }
        items.push(Item::Clipped {
            rect: window,
            items: inside,
        });
        told.extend(
            self.rim_sizes(short)
                // What lies lower than the cut shows is told at its lower edge.
                .map(|(across, up, words)| (place(across, up), words))
                .map(|([x, y], words)| ([x, y.max(window.y)], words)),
        );
        told.sort_by(|(a, _), (b, _)| b[1].total_cmp(&a[1]));
        let x = window.high()[0] + 6.0;
        for (index, (from, words)) in told.into_iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a handful of pieces")]
            let y = window.high()[1] - 3.0 - 5.0 * index as f64;
            items.push(Item::dot(from, 0.5, MARKS));
            items.push(Item::lines([from, [x - 1.0, y], [x, y]], POINTER));
            let (words, high) = fitted(&words, room.high()[0] - x - 1.0, [2.2, 1.6]);
            items.push(
                Text::new(words, [x + 1.0, y], high, TEXT)
                    .anchored(Anchor::Left, Base::Middle)
                    .into(),
            );
        }
        items
    }

    /// How far the cut goes from the outermost edge inward, with what is free at both ends: past the wall, the liner on it and
    /// the gasket.
    fn rim_reach(&self, short: Axis) -> f64 {
        let whole = &self.assembly.lidded;
        let liner = self.assembly.pieces.iter().filter(|piece| {
            piece.role.is_liner()
                && piece.thin == short
                && piece.solid.lo()[short] < (whole.lo()[short] + whole.hi()[short]).half_down()
        });
        let gasket = self.gasket_cut(short).map(|([_, hi], _)| hi[0]);
        let inner = liner
            .map(|piece| piece.solid.hi()[short])
            .chain(gasket)
            .fold(self.assembly.inside.lo()[short], Length::max);
        (inner - whole.lo()[short]).as_mm() + 2.0 * CLEAR
    }

    /// The gasket squeezed under the lid, from where to where across and up, and what it is; crossed, so that nobody takes it for a
    /// sheet.
    fn gasket_cut(&self, short: Axis) -> Option<([[Length; 2]; 2], String)> {
        let own = self.evaluation.boxes.iter().find(|b| b.name == self.assembly.name)?;
        let strip = own.built.as_ref()?.gasket?;
        let plate = self.assembly.pieces.iter().find(|piece| piece.role.is_lid_plate())?;
        let (under, rim) = (
            plate.solid.hi()[Axis::Z] - plate.solid.size()[plate.thin],
            self.assembly.body.hi()[Axis::Z] - self.assembly.above_rim,
        );
        let skirt = match strip.lies {
            enclosure::Lies::InCap => plate.solid.size()[plate.thin],
            enclosure::Lies::InsideScrews | enclosure::Lies::OnRim => Length::ZERO,
        };
        let outer = self.assembly.lidded.lo()[short] + skirt + strip.from_edge;
        // Both units are in the table; beside the cut there is room for the person's own.
        let [wide, thick] = [strip.width, strip.thick].map(|size| {
            let both = tape::show::caliper(size, self.evaluation.units);
            both.split(" (").next().unwrap_or_default().to_owned()
        });
        let lies = match strip.lies {
            enclosure::Lies::InsideScrews => format!("{} from edge", self.evaluation.near(strip.from_edge)),
            enclosure::Lies::InCap => "at the skirt".to_owned(),
            enclosure::Lies::OnRim => "flush with lid".to_owned(),
        };
        let words = format!("gasket {wide} x {thick}, {lies}");
        Some(([[outer, rim], [outer + strip.width, under]], words))
    }

    /// What the rim measures: where it is told, across and up, and the words.
    fn rim_sizes(&self, short: Axis) -> impl Iterator<Item = (Length, Length, String)> {
        let (whole, body) = (&self.assembly.lidded, &self.assembly.body);
        let top = body.hi()[Axis::Z];
        let rim = (
            body.lo()[short],
            top - self.assembly.above_rim,
            format!("rim to top of lid {}", self.both(self.assembly.above_rim)),
        );
        let out = body.lo()[short] - whole.lo()[short];
        let edge = (out > Length::ZERO).then(|| {
            let words = format!("edge beyond the wall {}", self.both(out));
            (whole.lo()[short], top, words)
        });
        let skirt = self.assembly.skirt_depth().map(|deep| {
            let words = format!("cap hangs down {}", self.both(deep));
            (whole.lo()[short], top - deep, words)
        });
        [Some(rim), edge, skirt].into_iter().flatten()
    }
}
