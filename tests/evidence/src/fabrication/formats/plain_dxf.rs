//! A reader of flat outlines in DXF of release 12: pairs of a group code and a value, and what is wrong with them.

use crate::inputs::{Clear, Unclear};

type Pair = (u16, String);

/// A file that was read.
pub(super) struct PlainDxf {
    pairs: Vec<Pair>,
    pub(super) outlines: Vec<Outline>,
    /// What breaks the format.
    pub(super) errors: Vec<String>,
    /// What a careful reader would leave out or put right.
    pub(super) odd: Vec<String>,
}

/// A polyline.
#[derive(Default)]
pub(super) struct Outline {
    pub(super) closed: bool,
    /// x, y and bulge of each.
    pub(super) corners: Vec<[f64; 3]>,
}

impl Outline {
    /// By the shoelace formula, with the slice between each arc and its chord.
    pub(super) fn area(&self) -> f64 {
        let next = self.corners.iter().cycle().skip(1);
        let of = |([ax, ay, bulge], [bx, by, _]): (&[f64; 3], &[f64; 3])| {
            let turn = 4.0 * bulge.atan();
            let radius = if *bulge == 0.0 {
                0.0
            } else {
                f64::hypot(bx - ax, by - ay) / 2.0 / (turn / 2.0).sin().abs()
            };
            (ax * by - bx * ay) / 2.0 + radius * radius / 2.0 * (turn - turn.sin())
        };
        self.corners.iter().zip(next).map(of).sum::<f64>().abs()
    }
}

impl PlainDxf {
    pub(super) fn read(file: &str) -> Clear<Self> {
        let lines: Vec<&str> = file.lines().collect();
        let (pairs, rest) = lines.as_chunks::<2>();
        if !rest.is_empty() {
            return Err(Unclear("the file ends in the middle of a pair".to_owned()));
        }
        let pair = |[code, value]: &[&str; 2]| {
            let code = code.trim().parse();
            code.map(|code| (code, (*value).to_owned()))
                .map_err(|_| Unclear(format!("{value} has no group code")))
        };
        let mut read = Self {
            pairs: pairs.iter().map(pair).collect::<Clear<_>>()?,
            outlines: Vec::new(),
            errors: Vec::new(),
            odd: Vec::new(),
        };
        read.walk();
        Ok(read)
    }

    /// What stands under `code` after the name of a header variable.
    pub(super) fn header(&self, name: &str, code: u16) -> String {
        let after = self.pairs.iter().skip_while(|(_, value)| value != name).skip(1);
        let mut own = after.take_while(|(code, _)| !matches!(code, 0 | 9));
        let found = own.find(|(found, _)| *found == code);
        found.map(|(_, value)| value.clone()).unwrap_or_default()
    }

    /// The smallest and the largest x and y that the header tells.
    pub(super) fn extents(&self) -> Vec<f64> {
        let figures = ["$EXTMIN", "$EXTMAX"].map(|name| [10, 20].map(|code| self.header(name, code)));
        figures
            .as_flattened()
            .iter()
            .filter_map(|figure| figure.parse().ok())
            .collect()
    }

    /// Whether any value is that word.
    pub(super) fn mentions(&self, word: &str) -> bool {
        self.pairs.iter().any(|(_, value)| value == word)
    }

    /// Whether there are a line of 100 mm and words about millimetres on the layer that is read.
    pub(super) fn has_gauge(&self) -> bool {
        let on_text = |entity: &&[Pair]| text_of(entity, 8) == "TEXT";
        let entities: Vec<&[Pair]> = self.entities().into_iter().filter(on_text).collect();
        let length = |entity: &[Pair]| {
            let [x, y] = [10, 20].map(|code| figure(entity, code + 1) - figure(entity, code));
            f64::hypot(x, y)
        };
        let line = entities
            .iter()
            .any(|entity| entity[0].1 == "LINE" && (length(entity) - 100.0).abs() < 1e-6);
        let words = entities
            .iter()
            .any(|entity| entity[0].1 == "TEXT" && text_of(entity, 1).contains("mm"));
        line && words
    }

    /// What is between one group code 0 and the next.
    fn records(&self) -> Vec<&[Pair]> {
        self.pairs.chunk_by(|_, (code, _)| *code != 0).collect()
    }

    fn entities(&self) -> Vec<&[Pair]> {
        let records = self.records().into_iter();
        let inside = records.skip_while(|record| text_of(record, 2) != "ENTITIES").skip(1);
        inside.take_while(|record| record[0].1 != "ENDSEC").collect()
    }

    fn walk(&mut self) {
        let names = |kind: &str| -> Vec<String> {
            let all = self.records().into_iter().filter(|record| record[0].1 == kind);
            all.map(|record| text_of(record, 2).to_owned()).collect()
        };
        let (layers, linetypes) = (names("LAYER"), names("LTYPE"));
        let (mut errors, mut odd, mut outlines) = (Vec::new(), Vec::new(), Vec::<Outline>::new());
        let begun = names("SECTION");
        if begun != ["HEADER", "TABLES", "BLOCKS", "ENTITIES"] || names("ENDSEC").len() != begun.len() {
            errors.push(format!("sections {begun:?}"));
        }
        if self.pairs.last().is_none_or(|last| *last != (0, "EOF".to_owned())) {
            errors.push("no end of file".to_owned());
        }
        for layer in self.records().iter().filter(|record| record[0].1 == "LAYER") {
            let linetype = text_of(layer, 6).to_owned();
            if !linetypes.contains(&linetype) {
                errors.push(format!("no linetype {linetype}"));
            }
        }
        let mut open = false;
        for entity in self.entities() {
            let kind = entity[0].1.as_str();
            let layer = text_of(entity, 8).to_owned();
            if !layers.contains(&layer) {
                errors.push(format!("{kind} on no layer {layer}"));
            }
            if open != matches!(kind, "VERTEX" | "SEQEND") {
                errors.push(format!("{kind} where it should not be"));
            }
            match kind {
                "POLYLINE" => {
                    open = true;
                    let closed = text_of(entity, 70) == "1";
                    outlines.push(Outline {
                        closed,
                        corners: Vec::new(),
                    });
                }
                "VERTEX" => {
                    let corner = [10, 20, 42].map(|code| figure(entity, code));
                    if let Some(outline) = outlines.last_mut() {
                        outline.corners.push(corner);
                    }
                }
                "SEQEND" => open = false,
                "CIRCLE" | "LINE" | "TEXT" => {}
                other => errors.push(format!("{other} is not of this release")),
            }
        }
        for outline in &outlines {
            let next = outline.corners.iter().cycle().skip(1);
            let twice = |(a, b): (&[f64; 3], &[f64; 3])| f64::hypot(a[0] - b[0], a[1] - b[1]) < 1e-6;
            if outline.corners.iter().zip(next).any(twice) {
                odd.push("a piece of no length".to_owned());
            }
        }
        (self.errors, self.odd, self.outlines) = (errors, odd, outlines);
    }
}

fn text_of(record: &[Pair], code: u16) -> &str {
    let found = record.iter().find(|(found, _)| *found == code);
    found.map(|(_, value)| value.as_str()).unwrap_or_default()
}

/// A number of a record; 0 where there is none, as the format has it.
fn figure(record: &[Pair], code: u16) -> f64 {
    text_of(record, code).parse().unwrap_or(0.0)
}
