//! The single-line diagram of a pack: strings, fuses, disconnect, contactors, pre-charge, what hangs on it. Symbols are
//! in the shapes of IEC 60617.

use std::fmt::Write as _;

use job::{Electric, Joined, PackResult};

use crate::svg::escape;

/// The largest number of strings that are drawn one by one.
const MOST_STRINGS: u32 = 3;

/// A diagram as marks on paper: millimetres, origin at the upper left corner, y down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diagram {
    /// What is drawn, in order.
    pub marks: Vec<Mark>,
    /// Its width and height.
    pub size: [f64; 2],
}

/// One mark of a diagram.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A straight line.
    Line {
        /// Its ends.
        ends: [[f64; 2]; 2],
        /// How wide the line is.
        wide: f64,
        /// Dashed: something repeated in between.
        dashed: bool,
    },
    /// A rectangle that covers what is under it.
    Rect {
        /// Its upper left corner.
        at: [f64; 2],
        /// Its sides.
        sides: [f64; 2],
    },
    /// A filled circle where lines join.
    Dot([f64; 2]),
    /// Words, 3 mm high by the size of the font.
    Text {
        /// On the line that letters stand on.
        at: [f64; 2],
        /// `start`, `middle` or `end` of the words is there.
        anchor: &'static str,
        /// What is read.
        words: String,
    },
}

/// The radius of a dot.
pub const DOT: f64 = 0.8;

/// The sheet under way.
struct Sheet {
    marks: Vec<Mark>,
    right: f64,
}

impl Sheet {
    fn line(&mut self, a: [f64; 2], b: [f64; 2], wide: f64) {
        self.marks.push(Mark::Line {
            ends: [a, b],
            wide,
            dashed: false,
        });
        self.right = self.right.max(a[0]).max(b[0]);
    }

    fn thin(&mut self, a: [f64; 2], b: [f64; 2]) {
        self.line(a, b, 0.4);
    }

    fn rect(&mut self, at: [f64; 2], sides: [f64; 2]) {
        self.marks.push(Mark::Rect { at, sides });
        self.right = self.right.max(at[0] + sides[0]);
    }

    fn dot(&mut self, at: [f64; 2]) {
        self.marks.push(Mark::Dot(at));
    }

    fn text(&mut self, [x, y]: [f64; 2], anchor: &'static str, words: &str) {
        self.marks.push(Mark::Text {
            at: [x, y],
            anchor,
            words: words.to_owned(),
        });
        if anchor == "start" {
            #[expect(clippy::cast_precision_loss, reason = "a few dozen characters")]
            let wide = words.chars().count() as f64 * 1.8;
            self.right = self.right.max(x + wide);
        }
    }

    /// A battery upright: long plate plus, short plate minus, plus at the top.
    fn battery(&mut self, [x, y]: [f64; 2]) {
        for (at, half, wide) in [(0.0, 4.0, 0.4), (2.0, 2.0, 0.9), (6.0, 4.0, 0.4), (8.0, 2.0, 0.9)] {
            self.line([x - half, y + at], [x + half, y + at], wide);
        }
        self.marks.push(Mark::Line {
            ends: [[x, y + 2.0], [x, y + 6.0]],
            wide: 0.3,
            dashed: true,
        });
    }

    /// A fuse upright: a rectangle with the line through it.
    fn fuse_up(&mut self, [x, y]: [f64; 2]) {
        self.rect([x - 1.5, y], [3.0, 7.0]);
        self.thin([x, y], [x, y + 7.0]);
    }

    /// A fuse lying.
    fn fuse(&mut self, [x, y]: [f64; 2]) {
        self.rect([x, y - 1.5], [8.0, 3.0]);
        self.thin([x, y], [x + 8.0, y]);
    }

    /// A make contact lying: the line, a gap, the blade.
    fn contact(&mut self, [x, y]: [f64; 2]) {
        self.thin([x, y], [x + 2.0, y]);
        self.thin([x + 2.0, y], [x + 9.0, y - 4.0]);
        self.thin([x + 9.0, y], [x + 11.0, y]);
    }

    /// A disconnector upright: the blade, and the bar across the fixed end.
    fn disconnector(&mut self, [x, y]: [f64; 2]) {
        self.thin([x, y], [x, y + 2.0]);
        self.thin([x - 1.5, y + 2.0], [x + 1.5, y + 2.0]);
        self.thin([x, y + 10.0], [x - 4.0, y + 3.0]);
        self.thin([x, y + 10.0], [x, y + 12.0]);
    }

    /// A resistor lying.
    fn resistor(&mut self, [x, y]: [f64; 2]) {
        self.rect([x, y - 1.5], [9.0, 3.0]);
    }

    /// A block on the middle line.
    fn block(&mut self, x: f64, name: &str, detail: &str) {
        self.rect([x - 11.0, 50.0], [22.0, 14.0]);
        self.text([x, 56.0], "middle", name);
        self.text([x, 61.0], "middle", detail);
    }

    /// The chassis: a line with three strokes.
    fn chassis(&mut self, [x, y]: [f64; 2]) {
        self.thin([x, y], [x, y + 3.0]);
        self.thin([x - 3.5, y + 3.0], [x + 3.5, y + 3.0]);
        for at in [-3.5, 0.0, 3.5] {
            self.thin([x + at, y + 3.0], [x + at - 1.5, y + 5.5]);
        }
    }
}

/// Heights of the plus and the minus rail.
const PLUS: f64 = 22.0;
const MINUS: f64 = 92.0;

/// The diagram of a pack as laid out, as an SVG picture in millimetres at true size; `None` while nothing is laid out.
pub fn single_line_svg(pack: &PackResult) -> Option<String> {
    single_line(pack).map(|diagram| picture(&diagram))
}

/// The diagram of a pack as laid out; `None` while nothing is laid out.
///
/// What is not entered is drawn without a figure. The order of parts is usual practice, from memory.
pub fn single_line(pack: &PackResult) -> Option<Diagram> {
    let (electric, figures, arrangement) = (pack.electric.as_ref()?, pack.figures.as_ref()?, pack.arrangement?);
    let mut sheet = Sheet {
        marks: Vec::new(),
        right: 0.0,
    };
    let strings = if electric.joined == Joined::Groups {
        1
    } else {
        arrangement.parallel
    };
    let drawn = strings.min(MOST_STRINGS);
    let mut x = 20.0;
    for number in 1..=drawn {
        string(&mut sheet, x, electric, number, strings);
        x += 34.0;
    }
    if strings > drawn {
        sheet.text(
            [x - 20.0, 58.0],
            "start",
            &format!("and {} more strings", strings - drawn),
        );
        x += 24.0;
    }
    monitor(&mut sheet, x + 4.0);
    x += 22.0;
    let each = match electric.joined {
        Joined::Groups if arrangement.parallel > 1 => {
            format!("{} groups of {} in series", arrangement.series, arrangement.parallel)
        }
        _ => format!("{} modules in series each", arrangement.series),
    };
    let title = format!(
        "{}: {}s{}p, {each}",
        pack.name, arrangement.series, arrangement.parallel
    );
    sheet.text([8.0, 8.0], "start", &title);
    let volts = [figures.volts.empty, figures.volts.nominal, figures.volts.full].map(|v| v.shown(1));
    let line = format!("{} / {} / {} V dc empty, nominal, full", volts[0], volts[1], volts[2]);
    sheet.text([8.0, 13.0], "start", &line);
    let from = 20.0;
    let plus_end = plus_rail(&mut sheet, from, x, electric);
    let minus_end = minus_rail(&mut sheet, from, x);
    let both = plus_end.max(minus_end);
    sheet.thin([plus_end, PLUS], [both, PLUS]);
    sheet.thin([minus_end, MINUS], [both, MINUS]);
    loads(&mut sheet, both);
    Some(Diagram {
        size: [sheet.right + 8.0, MINUS + 14.0],
        marks: sheet.marks,
    })
}

/// A rating with its unit, as far as it was entered.
fn rating(value: Option<f64>, unit: &str) -> String {
    value.map_or(String::new(), |v| format!("{v} {unit}"))
}

fn string(sheet: &mut Sheet, x: f64, electric: &Electric, number: u32, strings: u32) {
    let mut y = PLUS;
    if strings > 1 {
        sheet.thin([x, y], [x, y + 5.0]);
        sheet.fuse_up([x, y + 5.0]);
        sheet.text(
            [x + 3.0, y + 9.5],
            "start",
            &format!("F{number} {}", rating(electric.rated.string_fuse_a, "A")),
        );
        y += 12.0;
    }
    sheet.thin([x, y], [x, 42.0]);
    sheet.battery([x, 42.0]);
    sheet.thin([x, 50.0], [x, 52.0]);
    sheet.disconnector([x, 52.0]);
    sheet.thin([x, 64.0], [x, 68.0]);
    sheet.battery([x, 68.0]);
    sheet.thin([x, 76.0], [x, MINUS]);
    if let Some(open) = electric.wiring.as_ref().and_then(|w| w.disconnect.as_ref()) {
        let [low, high] = open.halves.map(|v| v.shown(0));
        sheet.text([x + 5.0, 47.0], "start", &format!("{high} V"));
        sheet.text([x + 5.0, 59.0], "start", "disconnect");
        sheet.text([x + 5.0, 73.0], "start", &format!("{low} V"));
    }
    sheet.dot([x, PLUS]);
    sheet.dot([x, MINUS]);
    sheet.text([x - 2.0, PLUS - 2.0], "end", "+");
    sheet.text([x - 2.0, MINUS + 4.0], "end", "-");
}

/// Main fuse, contactor and pre-charge beside it; the end of the rail.
fn plus_rail(sheet: &mut Sheet, from: f64, x: f64, electric: &Electric) -> f64 {
    sheet.thin([from, PLUS], [x, PLUS]);
    sheet.fuse([x, PLUS]);
    sheet.text(
        [x, PLUS - 3.0],
        "start",
        &format!("main fuse {}", rating(electric.rated.main_fuse_a, "A")),
    );
    let x = x + 8.0;
    sheet.thin([x, PLUS], [x + 24.0, PLUS]);
    let split = x + 24.0;
    sheet.dot([split, PLUS]);
    sheet.thin([split, PLUS], [split + 8.0, PLUS]);
    sheet.contact([split + 8.0, PLUS]);
    sheet.text(
        [split + 8.0, PLUS - 6.0],
        "start",
        &format!("K+ {}", rating(electric.rated.contactor_a, "A")),
    );
    let join = split + 34.0;
    sheet.thin([split + 19.0, PLUS], [join, PLUS]);
    sheet.thin([split, PLUS], [split, PLUS + 12.0]);
    sheet.thin([split, PLUS + 12.0], [split + 3.0, PLUS + 12.0]);
    sheet.contact([split + 3.0, PLUS + 12.0]);
    sheet.thin([split + 14.0, PLUS + 12.0], [split + 17.0, PLUS + 12.0]);
    sheet.resistor([split + 17.0, PLUS + 12.0]);
    sheet.thin([split + 26.0, PLUS + 12.0], [join, PLUS + 12.0]);
    sheet.thin([join, PLUS + 12.0], [join, PLUS]);
    sheet.dot([join, PLUS]);
    sheet.text(
        [split + 3.0, PLUS + 18.0],
        "start",
        &format!("pre-charge {}", rating(electric.rated.precharge_ohms, "ohm")),
    );
    join
}

/// Current sensor, contactor; the end of the rail.
fn minus_rail(sheet: &mut Sheet, from: f64, x: f64) -> f64 {
    sheet.thin([from, MINUS], [x + 4.0, MINUS]);
    sheet.rect([x + 4.0, MINUS - 3.0], [10.0, 6.0]);
    sheet.text([x + 9.0, MINUS + 1.0], "middle", "A");
    sheet.text([x + 4.0, MINUS + 7.0], "start", "current");
    sheet.thin([x + 14.0, MINUS], [x + 32.0, MINUS]);
    sheet.contact([x + 32.0, MINUS]);
    sheet.text([x + 32.0, MINUS + 5.0], "start", "K-");
    let end = x + 58.0;
    sheet.thin([x + 43.0, MINUS], [end, MINUS]);
    end
}

/// What hangs on the pack.
fn loads(sheet: &mut Sheet, x: f64) {
    let mut at = x;
    for (name, detail) in [("drive", "capacitors"), ("charger", ""), ("12 V", "converter")] {
        let right = at + 26.0;
        sheet.thin([at, PLUS], [right, PLUS]);
        sheet.thin([at, MINUS], [right, MINUS]);
        sheet.dot([right, PLUS]);
        sheet.dot([right, MINUS]);
        sheet.thin([right, PLUS], [right, 50.0]);
        sheet.thin([right, 64.0], [right, MINUS]);
        sheet.block(right, name, detail);
        at = right;
    }
}

/// The watch over the insulation, on the battery's side of fuse and contactors.
fn monitor(sheet: &mut Sheet, x: f64) {
    sheet.dot([x, PLUS]);
    sheet.thin([x, PLUS], [x, 50.0]);
    sheet.block(x, "insulation", "monitor");
    sheet.thin([x, 64.0], [x, 74.0]);
    sheet.chassis([x, 74.0]);
    sheet.text([x, 84.0], "middle", "chassis");
}

/// The diagram as an SVG picture.
fn picture(diagram: &Diagram) -> String {
    let [wide, high] = diagram.size;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {wide} {high}\" \
         font-family=\"DejaVu Sans, Arial, Helvetica, sans-serif\">\n<title>single-line diagram</title>\n\
         <rect width=\"{wide}\" height=\"{high}\" fill=\"#fff\"/>\n"
    );
    for mark in &diagram.marks {
        let _ = match mark {
            Mark::Line {
                ends: [a, b],
                wide,
                dashed,
            } => {
                let dashes = if *dashed { " stroke-dasharray=\"0.8 0.6\"" } else { "" };
                writeln!(
                    out,
                    "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" stroke=\"#000\" stroke-width=\"{wide}\"{dashes}/>",
                    a[0], a[1], b[0], b[1]
                )
            }
            Mark::Rect {
                at: [x, y],
                sides: [w, h],
            } => writeln!(
                out,
                "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"0.4\"/>"
            ),
            Mark::Dot([x, y]) => writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{DOT}\"/>"),
            Mark::Text {
                at: [x, y],
                anchor,
                words,
            } => writeln!(
                out,
                "<text x=\"{x}\" y=\"{y}\" font-size=\"3\" text-anchor=\"{anchor}\">{}</text>",
                escape(words)
            ),
        };
    }
    out + "</svg>\n"
}
