//! Parts list, hole table, list of welds.

use enclosure::Lies;
use enclosure::cutlist::{Line, Table};
use enclosure::weld::Seam;
use geometry::Axis;
use plot::{Item, Rect, Text};
use tape::Units;

use super::Sheets;
use crate::page::flow::Block;
use crate::page::{TEXT, THIN, fitted};
use crate::{row, words};

const HEADS: [(&str, f64); 7] = [
    ("mark", 0.08),
    ("part", 0.18),
    ("off", 0.06),
    ("material, section", 0.28),
    ("length", 0.15),
    ("width", 0.15),
    ("each", 0.1),
];

impl Sheets<'_> {
    /// The lines of the cut list that are of this box.
    pub(super) fn lines(&self) -> impl Iterator<Item = (&Table, &Line)> {
        let tables = self.evaluation.cut.list.tables.iter();
        let lines = tables.flat_map(|table| table.lines.iter().map(move |line| (table, line)));
        lines.filter(|(_, line)| self.assembly.pieces.iter().any(|piece| piece.mark == line.mark))
    }

    /// The parts list at the top of `room`, and how low it reaches.
    pub(super) fn parts_list(&self, room: Rect) -> (Vec<Item>, f64) {
        const ROW: f64 = 4.0;
        let [left, mut y] = [room.x, room.high()[1] - 4.0];
        let mut items = vec![Text::new("parts list", [left, y], 2.5, TEXT).bold().into()];
        let mut rows: Vec<[String; 7]> = self.lines().map(|(table, line)| self.part(table, line)).collect();
        rows.sort_by_key(|row| (row[0].len(), row[0].clone()));
        let mut heads = HEADS.map(|(head, _)| head.to_owned());
        heads[6] = format!("{} each", words::mass_unit(self.evaluation));
        for (index, row) in std::iter::once(heads).chain(rows).enumerate() {
            y -= ROW;
            let mut x = left;
            for (cell, (_, share)) in row.iter().zip(HEADS) {
                let width = room.width * share;
                let (words, high) = fitted(cell, width - 1.5, [2.0, 1.4]);
                items.push(Text::new(words, [x, y + 1.0], high, TEXT).into());
                x += width;
            }
            if index == 0 {
                items.push(Item::line([left, y], [room.high()[0], y], THIN));
            }
        }
        (items, y)
    }

    fn part(&self, table: &Table, line: &Line) -> [String; 7] {
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        let size = |size: enclosure::cutlist::Rounded| {
            let (mm, inches) = (job::Evaluation::cut_mm(size), self.evaluation.cut_inches(size));
            format!("{mark}{}", words::own_first(self.evaluation, &mm, &inches))
        };
        let mass = words::mark(self.evaluation.headline.assumed.mass);
        [
            line.mark.clone(),
            line.name.clone(),
            line.quantity.to_string(),
            format!("{}, {}", line.sheet.material.name(), row::section(table)),
            size(line.length),
            size(line.width),
            format!("{mass}{}", words::mass_cell(self.evaluation, line.grams_each)),
        ]
    }

    /// Welds, places of what was added, fittings, then holes from the front-left corner of the lid; those that would be empty are left out.
    pub(super) fn tables(&self) -> Vec<Block> {
        let [joins, place, size, run] = match self.evaluation.units {
            Units::Millimetre => [24.0, 25.0, 7.0, 13.0],
            Units::Inch => [20.0, 18.0, 11.0, 20.0],
        };
        let welds = Block {
            title: "welds, by their numbers on the weld map".to_owned(),
            heads: vec![
                ("seam", 9.0),
                ("joins", joins),
                ("where", place),
                ("off", 6.0),
                ("size", size),
                ("run", run),
            ],
            rows: self.assembly.seams.iter().map(|seam| self.weld(seam)).collect(),
        };
        [
            welds,
            self.places(),
            self.openings_table(),
            self.gasket_table(),
            self.screws_table(),
        ]
        .into_iter()
        .filter(|block| !block.rows.is_empty())
        .collect()
    }

    /// The holes of the lid's screws from its front-left corner, the person's own unit first.
    fn screws_table(&self) -> Block {
        let datum = self.assembly.lidded.lo();
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        let row = |(index, hole): (usize, &[tape::Length; 2])| {
            let places = [0, 1].map(|axis| hole[axis] - datum.0[axis]);
            let inches = places.map(|place| format!("{mark}{}", self.evaluation.near_inches(place)));
            let mm = places.map(|place| format!("{mark}{}", words::tenth_mm(place)));
            let size = self.assembly.hole.unwrap_or_default();
            let drill = tape::show::hole_mm(size);
            let number = vec![(index + 1).to_string()];
            match self.evaluation.units {
                Units::Inch => {
                    let own = tape::show::hole_inches(size).replace('"', "");
                    [number, inches.to_vec(), vec![own], mm.to_vec(), vec![drill]].concat()
                }
                Units::Millimetre => [number, mm.to_vec(), vec![drill], inches.to_vec()].concat(),
            }
        };
        let inches = [("x in", 15.0), ("y in", 15.0)];
        let mm = [("x mm", 13.0), ("y mm", 13.0)];
        let heads = match self.evaluation.units {
            Units::Inch => [&inches[..], &[("⌀ in", 10.5)], &mm[..], &[("⌀ mm", 9.0)]].concat(),
            Units::Millimetre => [&mm[..], &[("⌀ mm", 13.0)], &inches[..]].concat(),
        };
        Block {
            title: "lid screws: x rearward, y to the right".to_owned(),
            heads: [vec![("hole", 7.5)], heads].concat(),
            rows: self.assembly.holes.iter().enumerate().map(row).collect(),
        }
    }

    /// The gasket under the lid: its size, once round along its middle, and from the edge of the lid to its outer edge.
    fn gasket_table(&self) -> Block {
        let own = self.evaluation.boxes.iter().find(|b| b.name == self.assembly.name);
        let strip = own.and_then(|b| b.built.as_ref()?.gasket);
        let row = |strip: enclosure::Strip| {
            vec![
                self.thin(strip.width),
                self.thin(strip.thick),
                self.both(strip.length),
                match strip.lies {
                    Lies::InCap => "at the skirt".to_owned(),
                    Lies::OnRim => "flush".to_owned(),
                    Lies::InsideScrews => self.both(strip.from_edge),
                },
            ]
        };
        let title = match strip.map(|strip| strip.lies) {
            Some(Lies::InsideScrews) => "gasket, once round inside the screws",
            _ => "gasket, once round over the rim",
        };
        Block {
            title: title.to_owned(),
            heads: [
                ("wide", 19.0),
                ("thick", 18.0),
                ("long", 27.0),
                ("from lid's edge", 20.0),
            ]
            .to_vec(),
            rows: strip.into_iter().map(row).collect(),
        }
    }

    /// What is measured with calipers, in both units, the person's own first: `11.0 (0.433")`.
    pub(super) fn thin(&self, length: tape::Length) -> String {
        words::own_first(
            self.evaluation,
            &words::tenth_mm(length),
            &tape::show::hole_inches(length),
        )
    }

    /// Where each thing that was added goes, to its nearest corner: what is inside from the inside of the sheet, where it is
    /// marked, all else from the outside.
    fn places(&self) -> Block {
        let row = |item: &drawing::AddedPiece<'_>| {
            let (from, told) = if item.inside {
                (self.assembly.inside.lo(), "inside")
            } else {
                (self.assembly.body.lo(), "outside")
            };
            let mut cells = vec![item.piece.mark.clone(), told.to_owned()];
            cells.extend(Axis::ALL.map(|axis| self.both(item.block.lo()[axis] - from[axis])));
            cells
        };
        Block {
            title: "places of added parts, inside or outside".to_owned(),
            heads: [
                ("mark", 8.0),
                ("from the", 10.0),
                ("front", 22.0),
                ("left", 22.0),
                ("floor", 22.0),
            ]
            .to_vec(),
            rows: self.assembly.added().iter().map(row).collect(),
        }
    }

    /// A seam as number, the marks of what it joins, where, number off, size, how much of it.
    fn weld(&self, seam: &Seam) -> Vec<String> {
        vec![
            seam.number.to_string(),
            self.joined(seam).join(" to "),
            seam.at.words().to_owned(),
            seam.count.to_string(),
            super::welds::size(seam, self.evaluation.units),
            super::welds::stitches(seam.run, self.evaluation.units).unwrap_or_else(|| "full".to_owned()),
        ]
    }
}
