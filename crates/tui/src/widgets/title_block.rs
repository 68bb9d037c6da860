//! The title block: the facts of the whole job, on every page.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget;

use super::pen::{Drawn, Edges, Pen, Stroke, cut, width};
use crate::theme::{Meaning, Theme};

/// The facts of the whole job. Texts carry their unit; an unknown one is `-`.
///
/// Three rows high it is a strip of boxes with captions, one row high only the facts.
#[derive(Clone, Copy, Debug)]
pub struct TitleBlock<'a> {
    /// Volts empty, nominal and full, without the unit.
    pub volts: [&'a str; 3],
    /// The energy, such as `14.2 kWh`.
    pub energy: &'a str,
    /// The mass of everything, such as `231 kg`.
    pub mass: &'a str,
    /// The tightest clearance.
    pub tightest: &'a str,
    /// The chance that it fits, told whole or not at all; empty where none is known.
    pub chance: &'a str,
    /// Where it is.
    pub tightest_at: &'a str,
    /// Whether it is under its rule ([`Meaning::Caution`]), an overlap ([`Meaning::Stop`]), or neither.
    pub tightest_is: Meaning,
    /// How many findings stop the job.
    pub stops: usize,
    /// How many findings are cautions.
    pub cautions: usize,
    /// How many values are assumed.
    pub assumed: usize,
    /// What the terminal can show.
    pub theme: Theme,
}

/// One box of the strip.
struct Fact {
    caption: &'static str,
    spans: Vec<(String, Meaning)>,
    /// Columns that it asks for beyond its text.
    grows: bool,
}

impl Fact {
    fn width(&self) -> u16 {
        self.spans.iter().map(|(text, _)| width(text)).sum()
    }
}

impl TitleBlock<'_> {
    fn facts(&self) -> Vec<Fact> {
        let fact = |caption, text: String| Fact {
            caption,
            spans: vec![(text, Meaning::Heading)],
            grows: false,
        };
        let [empty, nominal, full] = self.volts;
        vec![
            fact("volts", format!("{empty} / {nominal} / {full} V")),
            fact("energy", self.energy.to_owned()),
            fact("mass", self.mass.to_owned()),
            Fact {
                caption: "tightest",
                spans: self.tightest_spans(),
                grows: true,
            },
            Fact {
                caption: "findings",
                spans: self.finding_spans(),
                grows: false,
            },
        ]
    }

    fn tightest_spans(&self) -> Vec<(String, Meaning)> {
        let (mark, meaning) = match self.tightest_is {
            Meaning::Stop => ("!! ", Meaning::Stop),
            Meaning::Caution => ("! ", Meaning::Caution),
            _ => ("", Meaning::Heading),
        };
        let mut spans = vec![(format!("{mark}{}", self.tightest), meaning)];
        if !self.chance.is_empty() {
            spans.push((format!(" {},", self.chance), Meaning::Plain));
        }
        if !self.tightest_at.is_empty() {
            spans.push((format!(" {}", self.tightest_at), Meaning::Plain));
        }
        spans
    }

    /// Counts by weight; what there is none of is dim, so that a clean job looks calm.
    fn finding_spans(&self) -> Vec<(String, Meaning)> {
        let count = |mark: Meaning, n: usize| {
            let meaning = if n == 0 { Meaning::Dim } else { mark };
            (format!("{}{n}", mark.mark()), meaning)
        };
        let space = || (" ".to_owned(), Meaning::Plain);
        vec![
            count(Meaning::Stop, self.stops),
            space(),
            count(Meaning::Caution, self.cautions),
            space(),
            count(Meaning::Assumed, self.assumed),
        ]
    }

    fn draw_strip(&self, pen: &mut Pen<'_>, area: Rect, facts: &[Fact], strip: &Strip) {
        let line = self.theme.style(Meaning::Dim);
        let mut left = area.x;
        let mut boxes = Vec::new();
        for wide in &strip.widths {
            let right = left + wide + 1;
            boxes.push(Edges {
                left,
                right,
                top: area.y,
                bottom: area.y + 2,
            });
            left = right;
        }
        for edges in &boxes {
            pen.rect(*edges, Drawn::WHOLE, Stroke::Light, line);
        }
        for (fact, edges) in facts.iter().zip(boxes) {
            let (x, room) = (edges.left + 1 + strip.air, edges.inner_width() - 2 * strip.air);
            pen.text(edges.left + 1, area.y, &cut(fact.caption, edges.inner_width()), line);
            self.draw_fact(pen, fact, x, area.y + 1, room);
        }
    }

    fn draw_fact(&self, pen: &mut Pen<'_>, fact: &Fact, mut x: u16, y: u16, room: u16) {
        let end = x + room;
        let is_cut = fact.width() > room;
        for (i, (text, meaning)) in fact.spans.iter().enumerate() {
            // The place goes before the chance, of which half would be another one.
            let is_between = fact.grows && i > 0 && i + 1 < fact.spans.len();
            if is_cut && is_between && x + width(text) + PLACE > end {
                continue;
            }
            let text = cut(text, end - x);
            pen.text(x, y, &text, self.theme.style(*meaning));
            x += width(&text);
        }
    }

    fn draw_line(&self, pen: &mut Pen<'_>, area: Rect, facts: &[Fact]) {
        // Findings are the last to be pushed out: they go right after the volts.
        let order = [0, 4, 3, 1, 2];
        let (mut x, gap) = (area.x, 2);
        for fact in order.into_iter().filter_map(|i| facts.get(i)) {
            let room = area.right().saturating_sub(x);
            // The place of the tightest clearance may be cut, and the chance left out, but not its number.
            let least = match fact.spans.first() {
                Some((number, _)) if fact.grows => width(number),
                _ => fact.width(),
            };
            if least > room {
                continue;
            }
            self.draw_fact(pen, fact, x, area.y, room);
            x += fact.width().min(room) + gap;
        }
    }
}

/// Columns of its place with which the tightest clearance is known, though they may be cut.
const PLACE: u16 = 24;

/// Boxes that fit: their widths, and the columns of air at each side of their text.
struct Strip {
    widths: Vec<u16>,
    air: u16,
}

/// The airiest strip that fits, or `None` when the facts need more columns than there are.
fn strip(facts: &[Fact], room: u16) -> Option<Strip> {
    let lines = u16::try_from(facts.len()).ok()? + 1;
    let growing = facts.iter().position(|fact| fact.grows)?;
    let least = |air: u16, caption: u16| -> (Vec<u16>, u16) {
        let least = |fact: &Fact| (fact.width() + 2 * air).max(width(fact.caption).min(caption));
        let widths: Vec<u16> = facts.iter().map(least).collect();
        let sum = widths.iter().sum::<u16>() + lines;
        (widths, sum)
    };
    for (air, caption) in [(1, u16::MAX), (0, u16::MAX), (0, 6)] {
        let (mut widths, wanted) = least(air, caption);
        if wanted <= room {
            widths[growing] += room - wanted;
            return Some(Strip { widths, air });
        }
    }
    // The place of the tightest clearance may be cut, but not its number.
    let number = facts[growing].spans.first().map_or(0, |(text, _)| width(text));
    let (mut widths, wanted) = least(0, 6);
    let left = widths[growing]
        .checked_sub(wanted - room)
        .filter(|left| *left >= number)?;
    widths[growing] = left;
    Some(Strip { widths, air: 0 })
}

impl Widget for &TitleBlock<'_> {
    fn render(self, area: Rect, buf: &mut Buffer) {
        let facts = self.facts();
        let mut pen = Pen::new(buf, area, self.theme);
        match strip(&facts, area.width) {
            Some(strip) if area.height >= 3 => self.draw_strip(&mut pen, area, &facts, &strip),
            _ if area.height >= 1 => {
                let blank = " ".repeat(usize::from(area.width));
                pen.text(area.x, area.y, &blank, Style::new());
                self.draw_line(&mut pen, area, &facts);
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::widgets::{drawn, shown};

    fn block() -> TitleBlock<'static> {
        TitleBlock {
            volts: ["268.8", "345.6", "403.2"],
            energy: "14.2 kWh",
            mass: "231 kg",
            tightest: "3/8\"",
            chance: "",
            tightest_at: "M08 | right rail",
            tightest_is: Meaning::Stop,
            stops: 1,
            cautions: 12,
            assumed: 3,
            theme: Theme::default(),
        }
    }

    #[rstest]
    #[case("title_block_80", 80, 3)]
    #[case("title_block_120", 120, 3)]
    #[case("title_block_66", 66, 3)]
    #[case("title_block_one_line", 80, 1)]
    fn looks(#[case] name: &str, #[case] width: u16, #[case] height: u16) {
        insta::assert_snapshot!(name, shown(&drawn(&block(), width, height)));
    }

    #[test]
    fn looks_before_anything_is_known() {
        let empty = TitleBlock {
            volts: ["-"; 3],
            energy: "-",
            mass: "-",
            tightest: "-",
            chance: "",
            tightest_at: "",
            tightest_is: Meaning::Plain,
            stops: 0,
            cautions: 0,
            assumed: 0,
            theme: Theme {
                colour: false,
                ascii: true,
            },
        };
        insta::assert_snapshot!("title_block_empty", shown(&drawn(&empty, 80, 3)));
    }

    #[test]
    fn a_chance_is_told_whole_or_not_at_all() {
        let block = TitleBlock {
            chance: ">99.9 % fits",
            tightest_at: "bottom to cavity floor",
            ..block()
        };
        for columns in 20..130 {
            let text = shown(&drawn(&block, columns, 3));
            assert!(
                text.contains(">99.9 % fits") || !text.contains(">9"),
                "{columns}: {text}"
            );
        }
    }

    /// Where the tightest clearance is has a place before the chance, in the strip and in one line.
    #[test]
    fn where_it_is_comes_before_the_chance() {
        let block = TitleBlock {
            volts: ["104", "128", "142"],
            energy: "26.88 kWh 5s2p",
            tightest: "3/16\" +-1/8\"",
            chance: ">99.9 % fits",
            tightest_at: "bottom to cavity floor, left box",
            tightest_is: Meaning::Plain,
            ..block()
        };
        for (columns, rows) in (60..140).flat_map(|columns| [(columns, 3), (columns, 1)]) {
            let text = shown(&drawn(&block, columns, rows));
            assert!(
                !text.contains("fits") || text.contains("fits, bottom to cavity flo"),
                "{columns}: {text}"
            );
        }
        let text = shown(&drawn(&block, 80, 3));
        assert!(text.contains("3/16\" +-1/8\" bottom to "), "{text}");
    }

    #[test]
    fn the_numbers_never_lose_a_digit() {
        for columns in 20..130 {
            let text = shown(&drawn(&block(), columns, 3));
            for (whole, part) in [
                ("14.2 kWh", "14."),
                ("403.2 V", "403"),
                ("231 kg", "231"),
                ("!! 3/8\"", "!! 3"),
            ] {
                assert!(text.contains(whole) || !text.contains(part), "{columns}: {text}");
            }
        }
    }
}
