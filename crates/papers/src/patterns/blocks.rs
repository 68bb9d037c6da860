//! What the tables of a drawing say: bends, corners, holes.

use enclosure::{BendLine, EndCut, Form, Vertex};
use plot::{Path, Piece};
use tape::Length;

use super::Subject;
use crate::page::flow::Block;
use crate::{outline, row, words};

impl Subject<'_> {
    /// The tables of a line; those that would be empty are left out.
    pub(super) fn tables(&self) -> Vec<Block> {
        let blocks = [self.ends(), self.bends(), self.notch(), self.holes()];
        blocks.into_iter().filter(|block| !block.rows.is_empty()).collect()
    }

    /// `12.3 mm (1/2")`.
    pub(super) fn both(&self, length: Length) -> String {
        let mark = words::mark(self.evaluation.headline.assumed.cut);
        format!(
            "{mark}{} mm ({})",
            words::tenth_mm(length),
            self.evaluation.near_inches(length)
        )
    }

    fn ends(&self) -> Block {
        let cut = |end: EndCut| match end {
            EndCut::Square => "square (90°)".to_owned(),
            EndCut::Mitre45 => "mitred at 45°, length to the long point".to_owned(),
            EndCut::Coped => "square (90°), foot coped to fit".to_owned(),
        };
        let rows = if self.line.form() == Form::Sheet {
            Vec::new()
        } else {
            let [left, right] = self.line.ends.map(cut);
            vec![vec!["left".to_owned(), left], vec!["right".to_owned(), right]]
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
                format!("B{}", index + 1),
                bend.fold.name().to_owned(),
                format!("{}°", outline::angle(bend)),
                format!("R{}", outline::radius(bend)),
                place_from_edge,
            ]
        });
        Block {
            title: format!("bends of {}", self.line.mark),
            heads: vec![
                ("bend", 10.0),
                ("fold", 12.0),
                ("turn", 10.0),
                ("inside", 12.0),
                ("bend line from the edge of the sheet", 40.0),
            ],
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
            format!("{} {}", edges[0], self.both(low))
        } else {
            format!("{} {}", edges[1], self.both(high))
        }
    }

    /// The corners of a notch, where a piece of sheet is more than a rectangle.
    fn notch(&self) -> Block {
        let line = self.line;
        let mut title = format!("corners of {}", line.mark);
        let mut rows = Vec::new();
        if line.form() == Form::Sheet && line.outline.len() > 4 {
            let [length, width] = [line.length.exact, line.width.exact];
            let near = |v: &&Vertex| v.x + v.x < length && v.y + v.y < width;
            let is_like = |v: &Vertex| {
                let has = |x: Length, y: Length| line.outline.iter().any(|other| other.x == x && other.y == y);
                has(length - v.x, v.y) && has(v.x, width - v.y)
            };
            let quarter: Vec<&Vertex> = line.outline.iter().filter(near).collect();
            let alike = quarter.len() * 4 == line.outline.len() && quarter.iter().all(|v| is_like(v));
            let shown: Vec<&Vertex> = if alike { quarter } else { line.outline.iter().collect() };
            if alike {
                let most = |of: fn(&Vertex) -> Length| shown.iter().map(|v| of(v)).max().unwrap_or_default();
                "corner notch, lower left; the others mirror it".clone_into(&mut title);
                rows.push(vec![
                    "notch".to_owned(),
                    self.both(most(|v| v.x)),
                    self.both(most(|v| v.y)),
                ]);
            }
            for (index, vertex) in shown.iter().enumerate() {
                rows.push(vec![
                    format!("P{}", index + 1),
                    self.both(vertex.x),
                    self.both(vertex.y),
                ]);
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
                vec![format!("⌀{:.1}", arc.radius * 2.0), self.both(x), self.both(y)]
            })
            .collect()
    }

    fn holes(&self) -> Block {
        let widths = [8.0, 16.0, 16.0, 12.0, 12.0, 8.0, 12.0];
        let rows = row::hole_cells(self.evaluation, self.line);
        let skipped = (1..=rows.len()).any(|number| !super::view::is_numbered(number, rows.len()));
        let each = if skipped { "; every 5th numbered" } else { "" };
        Block {
            title: format!("holes of {}{each}", self.line.mark),
            heads: row::HOLE_COLUMNS
                .into_iter()
                .map(|head| if head == "diameter mm" { "⌀ mm" } else { head })
                .zip(widths)
                .collect(),
            rows: rows.into_iter().map(|row| row.to_vec()).collect(),
        }
    }
}
