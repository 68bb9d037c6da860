//! What the tables of a drawing say: bends, corners, holes.

use enclosure::cutlist::{Rounded, Rounding};
use enclosure::{BendLine, EndCut, Form, Vertex};
use plot::{Path, Piece};
use tape::{Length, Units};

use super::Subject;
use crate::page::flow::Block;
use crate::{outline, row, words};

impl Subject<'_> {
    /// The tables of a line; those that would be empty are left out.
    pub(super) fn tables(&self) -> Vec<Block> {
        let blocks = [self.ends(), self.bends(), self.notch(), self.holes()];
        blocks.into_iter().filter(|block| !block.rows.is_empty()).collect()
    }

    /// `12.3 mm (1/2")`, the person's own unit first.
    pub(super) fn both(&self, length: Length) -> String {
        words::both(self.evaluation, length)
    }

    /// A place that is folded or notched to: `12.3 mm (1/2")`, for a person who works in inches `0.484" (12.3 mm)`. To a mark of the
    /// tape places a millimetre apart would be one.
    fn exact(&self, length: Length) -> String {
        match self.evaluation.units {
            Units::Millimetre => self.both(length),
            Units::Inch => {
                let mark = words::mark(self.evaluation.headline.assumed.cut);
                format!("{mark}{:.3}\" ({} mm)", length.as_inches(), words::tenth_mm(length))
            }
        }
    }

    /// One figure for millimetres, another for inches.
    fn by_unit<T>(&self, mm: T, inches: T) -> T {
        match self.evaluation.units {
            Units::Millimetre => mm,
            Units::Inch => inches,
        }
    }

    fn ends(&self) -> Block {
        let cut = |end: EndCut| match end {
            EndCut::Square => vec!["square (90°)".to_owned()],
            EndCut::Mitre45 => vec!["mitred at 45°, length to the long point".to_owned()],
            // Too long for one row of words that can be read.
            EndCut::Coped => std::iter::once("90°, coped:".to_owned())
                .chain(
                    row::cope_words(self.evaluation, self.line)
                        .into_iter()
                        .flat_map(|words| {
                            let parts: Vec<String> = words.splitn(2, ", ").map(str::to_owned).collect();
                            parts
                        }),
                )
                .collect(),
        };
        let end = |name: &str, end: EndCut| {
            let names = std::iter::once(name.to_owned()).chain(std::iter::repeat(String::new()));
            names
                .zip(cut(end))
                .map(|(name, words)| vec![name, words])
                .collect::<Vec<_>>()
        };
        let rows = if self.line.form() == Form::Sheet {
            Vec::new()
        } else {
            let [left, right] = self.line.ends;
            [end("left", left), end("right", right)].concat()
        };
        Block {
            title: "ends".to_owned(),
            heads: vec![("", 14.0), ("", 70.0)],
            rows,
        }
    }

    fn bends(&self) -> Block {
        let rows = self.line.bends.iter().enumerate().map(|(index, bend)| {
            let place_from_edge = self.place_from_edge(bend);
            vec![
                outline::bend_name(index),
                bend.fold.name().to_owned(),
                format!("{}°", outline::angle(bend)),
                outline::radius(bend, self.evaluation.units),
                place_from_edge,
            ]
        });
        Block {
            title: format!("bends of {}", self.line.mark),
            heads: self.by_unit(
                vec![
                    ("bend", 10.0),
                    ("fold", 12.0),
                    ("turn", 10.0),
                    ("inside", 12.0),
                    ("bend line from the edge of the sheet", 40.0),
                ],
                vec![
                    ("bend", 10.0),
                    ("fold", 10.0),
                    ("turn", 8.0),
                    ("inside", 21.0),
                    ("bend line from the edge", 35.0),
                ],
            ),
            rows: rows.collect(),
        }
    }

    /// How far a bend line is from the nearer edge that it runs along.
    fn place_from_edge(&self, bend: &BendLine) -> String {
        let (axis, size, edges) = if outline::is_level(bend) {
            (1, self.line.width.exact, ["lower", "upper"])
        } else {
            (0, self.line.length.exact, ["left", "right"])
        };
        let [low, high] = [bend.from[axis], size - bend.from[axis]];
        if low <= high {
            format!("{} {}", edges[0], self.exact(low))
        } else {
            format!("{} {}", edges[1], self.exact(high))
        }
    }

    /// The corners that have a number, in its order, where a piece of sheet is more than a rectangle: all of them, or those
    /// of the lower left quarter when the others mirror it, and whether they do.
    pub(super) fn corners(&self) -> Option<(Vec<&Vertex>, bool)> {
        let line = self.line;
        (line.form() == Form::Sheet && line.outline.len() > 4).then(|| {
            let [length, width] = [line.length.exact, line.width.exact];
            let near = |v: &&Vertex| v.x + v.x < length && v.y + v.y < width;
            let is_like = |v: &Vertex| {
                let has = |x: Length, y: Length| line.outline.iter().any(|other| other.x == x && other.y == y);
                has(length - v.x, v.y) && has(v.x, width - v.y)
            };
            let quarter: Vec<&Vertex> = line.outline.iter().filter(near).collect();
            let alike = quarter.len() * 4 == line.outline.len() && quarter.iter().all(|v| is_like(v));
            if alike {
                (quarter, true)
            } else {
                (line.outline.iter().collect(), false)
            }
        })
    }

    /// The notch of a wall beside a step, along and up: an opening, so rounded up as the cut list has it.
    pub(super) fn notch_size(&self) -> Option<[Rounded; 2]> {
        let fineness = self.evaluation.cut.list.fineness;
        let notch = self.line.notch()?;
        Some(notch.size.map(|side| Rounded::new(side, Rounding::Up, fineness)))
    }

    /// Where a corner is, rounded as the cut list has the sizes that end there: one length has one size on a sheet.
    fn place_of(&self, vertex: &Vertex) -> [String; 2] {
        let line = self.line;
        let sizes = [line.length, line.width];
        let far_end = line.notch().is_some_and(|notch| notch.at_far_end);
        [0, 1].map(|axis| {
            let (at, whole) = ([vertex.x, vertex.y][axis], sizes[axis]);
            let notch = self.notch_size().map(|size| size[axis]);
            let told = match notch {
                _ if at == whole.exact => Some(whole),
                Some(notch) if axis == 0 && far_end && at == whole.exact - notch.exact => Some(Rounded {
                    exact: at,
                    inches: whole.inches - notch.inches,
                    tenth_mm: whole.tenth_mm - notch.tenth_mm,
                    ..whole
                }),
                Some(notch) if !(axis == 0 && far_end) && at == notch.exact => Some(notch),
                _ => None,
            };
            told.map_or_else(|| self.exact(at), |size| self.rounded(size).join(" "))
        })
    }

    /// The corners of a notch, where a piece of sheet is more than a rectangle.
    fn notch(&self) -> Block {
        let line = self.line;
        let mut title = format!("corners of {}", line.mark);
        let mut rows = Vec::new();
        if let Some((shown, alike)) = self.corners() {
            if let Some(size) = self.notch_size() {
                let [along, up] = size.map(|side| self.rounded(side).join(" "));
                rows.push(vec!["notch".to_owned(), along, up]);
            }
            if let Some(cut) = line.cut_corner() {
                let cut = self.both(cut);
                rows.push(vec!["cut, 45°".to_owned(), cut.clone(), cut]);
            }
            if alike {
                let most = |of: fn(&Vertex) -> Length| shown.iter().map(|v| of(v)).max().unwrap_or_default();
                "corner notch, lower left; the others mirror it".clone_into(&mut title);
                rows.push(vec![
                    "notch".to_owned(),
                    self.exact(most(|v| v.x)),
                    self.exact(most(|v| v.y)),
                ]);
            }
            for (index, vertex) in shown.iter().enumerate() {
                let [x, y] = self.place_of(vertex);
                rows.push(vec![corner_name(index), x, y]);
            }
            rows.extend(self.reliefs(alike));
        }
        Block {
            title,
            heads: vec![("point", 16.0), ("x", 34.0), ("y", 34.0)],
            rows,
        }
    }

    /// The arcs in an outline: the first alone when the others are like it.
    fn reliefs(&self, first_only: bool) -> Vec<Vec<String>> {
        let flat = outline::flat(self.line);
        let paths: Vec<Path> = flat.contours.iter().map(plot::Contour::path).collect();
        let arcs = paths.iter().flat_map(Path::pieces).filter_map(|piece| match piece {
            Piece::Round(arc) => Some(arc),
            Piece::Straight(_) => None,
        });
        let count = if first_only { 1 } else { usize::MAX };
        arcs.take(count)
            .map(|arc| {
                let [x, y] = arc.centre.map(Length::from_mm);
                let across = match self.evaluation.units {
                    Units::Millimetre => format!("⌀{:.1}", arc.radius * 2.0),
                    Units::Inch => format!("⌀{:.3}\"", arc.radius * 2.0 / 25.4),
                };
                vec![across, self.exact(x), self.exact(y)]
            })
            .collect()
    }

    fn holes(&self) -> Block {
        let holes = row::hole_table(self.evaluation, self.line);
        let count = holes.rows.len();
        let skipped = (1..=count).any(|number| !super::view::is_numbered(number, count));
        let each = if skipped { "; every 5th numbered" } else { "" };
        let purpose = holes.purpose_words();
        let width = |head: &str| match head {
            "x in" | "y in" => 15.0,
            "x mm" | "y mm" => 12.0,
            "for" => 14.0,
            "⌀ in" => 10.0,
            _ => 8.0,
        };
        // Those of many purposes are told by the person's own unit alone: their names need the room.
        let is_left_out =
            |head: &str| holes.purpose.is_none() && self.evaluation.units == Units::Inch && head == "⌀ mm";
        let kept: Vec<usize> = (0..holes.heads.len())
            .filter(|&at| !is_left_out(holes.heads[at]))
            .collect();
        Block {
            title: format!("holes of {}{purpose}{each}", self.line.mark),
            heads: kept
                .iter()
                .map(|&at| (holes.heads[at], width(holes.heads[at])))
                .collect(),
            rows: holes
                .rows
                .into_iter()
                .map(|row| kept.iter().map(|&at| row[at].clone()).collect())
                .collect(),
        }
    }
}

/// What a corner is called in the view and in the table, counted from 0.
pub(super) fn corner_name(index: usize) -> String {
    format!("P{}", index + 1)
}
